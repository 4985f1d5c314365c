//! Solved fields as VTK XML unstructured grids, for any viewer that reads them.
//!
//! Owns the section as quadratic triangles, one turn as a series of them, and the whole wheel as quadratic wedges.
//! Knows no files: everything returns bytes. Lacks any judgement; the share of the allowable is the strength room's.
//!
//! Units stand in the names of the arrays: mm, MPa; `use_of_allowable` is a plain ratio. Stress has six
//! components in VTK's own order XX, YY, ZZ, XY, YZ, XZ. The Cartesian frame has x at θ = 0 and z along
//! the shaft; the section lies in the plane y = 0 of the frame that turns with θ, where those
//! components equal rr, θθ, zz, rθ, θz, rz.
//! Files are little-endian, zlib-compressed, of format version 1.0, which every reader understands.
//! Sources: VTK file formats, XML unstructured grid; node orders of vtkQuadraticTriangle and
//! vtkQuadraticWedge.

mod course;
mod grid;
mod series;
mod turn;
mod wheel;

pub use series::collection;
pub use turn::turn_files;
pub use wheel::wheel_vtu;

use crate::elastic::Solution;
use crate::geometry::Point;
use crate::strength::BrittleStrength;
use crate::strength::criteria::{governing_brittle_factor, max_principal_factor};
use grid::{Grid, Precision, Sample};
use thiserror::Error;
use vtkio::model::CellType;

/// What the stress may reach, in MPa, both positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    pub allowable_mpa: f64,
    /// With it the modified Mohr criterion takes part; without it only the highest tension counts.
    pub compressive_allowable_mpa: Option<f64>,
}

/// Why no file can be written.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum VtkFault {
    #[error("there is no load case number {case}: the solution has {count}")]
    Case { case: usize, count: usize },
    #[error("an allowable stress of {value} MPa limits nothing: it must be a number above zero")]
    Allowable { value: f64 },
    #[error("the angle of the section must be a finite number, not {value}")]
    Angle { value: f64 },
    #[error("a wheel of {sectors} sectors cannot be drawn: at least {least} and at most {most} are needed")]
    Sectors { sectors: usize, least: usize, most: usize },
    #[error("a turn of {angles} angles cannot be shown: at least {least} and at most {most} are needed")]
    Angles { angles: usize, least: usize, most: usize },
    #[error("the grid could not be put into the file format: {0}")]
    Encoding(String),
}

impl Limits {
    fn check(&self) -> Result<(), VtkFault> {
        for value in [Some(self.allowable_mpa), self.compressive_allowable_mpa].into_iter().flatten() {
            if !(value.is_finite() && value > 0.0) {
                return Err(VtkFault::Allowable { value });
            }
        }
        Ok(())
    }

    /// Share of the allowable that the governing criterion uses; 0 where nothing is demanded.
    fn used(&self, principal: &[f64; 3]) -> f64 {
        let factor = match self.compressive_allowable_mpa {
            Some(compressive_mpa) => {
                let limits = BrittleStrength { tensile_mpa: self.allowable_mpa, compressive_mpa };
                governing_brittle_factor(principal, limits).factor
            }
            None => max_principal_factor(principal, self.allowable_mpa),
        };
        factor.recip()
    }
}

fn check_case(solution: &Solution, case: usize) -> Result<(), VtkFault> {
    let count = solution.cases.len();
    if case < count { Ok(()) } else { Err(VtkFault::Case { case, count }) }
}

/// The section at `theta_rad` as quadratic triangles (VTK cell type 22) with points (r, 0, z) in mm.
///
/// Point data: `displacement_mm` (radial, circumferential, axial), `stress_MPa` (six components),
/// `principal_MPa` (three, highest first), `use_of_allowable`; all as 64-bit numbers. Points and cells
/// are numbered as in the solution's mesh.
///
/// # Errors
/// When the case does not exist, or the angle or a limit is not a usable number.
pub fn section_vtu(
    solution: &Solution,
    case: usize,
    theta_rad: f64,
    limits: &Limits,
) -> Result<Vec<u8>, VtkFault> {
    check_case(solution, case)?;
    limits.check()?;
    if !theta_rad.is_finite() {
        return Err(VtkFault::Angle { value: theta_rad });
    }
    let mesh = &solution.mesh;
    let sample = |(node, p): (usize, &Point)| Sample {
        at: [p.r, 0.0, p.z],
        displacement: solution.displacement(case, node, theta_rad),
        stress: solution.stress(case, node, theta_rad),
    };
    let samples = mesh.nodes.iter().enumerate().map(sample).collect();
    section_grid(solution, samples, Precision::Double).encode(limits)
}

/// The section's triangles with a sample for every node.
fn section_grid(solution: &Solution, samples: Vec<Sample>, precision: Precision) -> Grid {
    Grid {
        samples,
        cell_type: CellType::QuadraticTriangle,
        cell_size: 6,
        cell_nodes: solution.mesh.triangles.iter().flatten().map(|node| *node as u64).collect(),
        precision,
    }
}

#[cfg(test)]
mod tests;
