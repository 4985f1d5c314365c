//! The section at even angles of one turn, and the collection by which a viewer plays them in their order.

use super::course::{courses, even};
use super::grid::{Precision, Sample};
use super::{Limits, VtkFault, check_case, section_grid};
use crate::elastic::{Solution, Stress};
use crate::geometry::Point;
use std::f64::consts::PI;
use std::fmt::Write as _;

/// One angle is no turn.
const LEAST: usize = 2;
/// Twice a degree: more angles than that show nothing new and fill a disk.
const MOST: usize = 720;
/// Angles whose fields are held at once.
const BLOCK: usize = 8;
/// The collection's own name.
const COLLECTION: &str = "turn.pvd";

/// One turn of the wheel as a time-like series: `turn.pvd`, and the section at `angles` even angles as it names them.
///
/// The loads stand still while the wheel turns under them, so each file shows what the same section of the wheel bears
/// when it stands at its angle. The collection's `timestep` is that angle in degrees, from -180 (opposite to the middle
/// of the wrap) up to one step before 180, where the turn closes. Points, cells and data of each file as in
/// [`super::section_vtu`].
///
/// # Errors
/// When the case does not exist, a limit is not a usable number, or there are too few or too many angles.
pub fn turn_files(
    solution: &Solution,
    case: usize,
    angles: usize,
    limits: &Limits,
) -> Result<Vec<(String, Vec<u8>)>, VtkFault> {
    check_case(solution, case)?;
    limits.check()?;
    if !(LEAST..=MOST).contains(&angles) {
        return Err(VtkFault::Angles { angles, least: LEAST, most: MOST });
    }
    let turn = even(-PI, angles);
    let nodes = solution.mesh.nodes.len();
    let mut files = vec![(COLLECTION.to_owned(), collection(&turn))];
    for block in turn.chunks(BLOCK) {
        let samples = courses(solution, case, 0..nodes, block, flat);
        for index in 0..block.len() {
            let own = samples.iter().skip(index).step_by(block.len()).copied().collect();
            let name = section_name(files.len() - 1);
            files.push((name, section_grid(solution, own, Precision::Single).encode(limits)?));
        }
    }
    Ok(files)
}

/// In the frame that turns with the section the components stay what they are.
fn flat(p: Point, _: f64, displacement: [f64; 3], stress: Stress) -> Sample {
    Sample { at: [p.r, 0.0, p.z], displacement, stress }
}

/// Names sort in the order of the turn.
fn section_name(index: usize) -> String {
    format!("turn_{index:03}.vtu")
}

fn collection(turn: &[f64]) -> Vec<u8> {
    let mut text = String::from(
        "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n  <Collection>\n",
    );
    for (index, theta) in turn.iter().enumerate() {
        let _ = writeln!(
            text,
            "    <DataSet timestep=\"{}\" group=\"\" part=\"0\" file=\"{}\"/>",
            degrees(*theta),
            section_name(index)
        );
    }
    text += "  </Collection>\n</VTKFile>\n";
    text.into_bytes()
}

/// The angle to a millionth of a degree, so that -180 is not -180.00000000000003.
fn degrees(theta: f64) -> f64 {
    (theta.to_degrees() * 1e6).round() / 1e6
}
