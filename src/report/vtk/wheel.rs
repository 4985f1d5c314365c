//! The whole wheel as quadratic wedges, revolved from the section.

use super::course::{courses, even};
use super::grid::{Grid, Precision, Sample};
use super::{Limits, VtkFault, check_case};
use crate::elastic::{Solution, Stress, to_cartesian};
use crate::geometry::Point;
use std::ops::Range;
use vtkio::model::CellType;

/// With fewer sectors the wheel no longer looks round: its volume is 0.3 % off at six.
const LEAST: usize = 6;
/// More make files that no viewer opens at ease.
const MOST: usize = 3600;

/// The whole wheel as quadratic wedges (VTK cell type 26) in the Cartesian frame, x at θ = 0, in mm.
///
/// Point data as in [`super::section_vtu`], with displacement and stress in Cartesian components, as
/// 32-bit numbers. The angle from one plane of the section to the next is 2π/`sectors`; the first plane
/// is θ = 0 and the last sector closes on it. The mesh's vertices also have a point halfway between the
/// planes. A vertex on the axis keeps one point per plane.
///
/// # Errors
/// When the case does not exist, a limit is not a usable number, or the wheel has too few or too many
/// sectors.
pub fn wheel_vtu(
    solution: &Solution,
    case: usize,
    sectors: usize,
    limits: &Limits,
) -> Result<Vec<u8>, VtkFault> {
    check_case(solution, case)?;
    limits.check()?;
    if !(LEAST..=MOST).contains(&sectors) {
        return Err(VtkFault::Sectors { sectors, least: LEAST, most: MOST });
    }
    let layout = Layout { vertices: solution.mesh.vertex_count, sectors };
    let course =
        |nodes: Range<usize>, planes: usize| courses(solution, case, nodes, &even(0.0, planes), turned);
    let mut samples = course(0..layout.vertices, 2 * sectors);
    samples.extend(course(layout.vertices..solution.mesh.nodes.len(), sectors));
    let grid = Grid {
        samples,
        cell_type: CellType::QuadraticWedge,
        cell_size: 15,
        cell_nodes: layout.wedges(&solution.mesh.triangles),
        precision: Precision::Single,
    };
    grid.encode(limits)
}

/// Where a node's points stand: every vertex has its points on planes and between them one after the
/// other, then every midside node has its points on planes.
struct Layout {
    vertices: usize,
    sectors: usize,
}

impl Layout {
    fn on_plane(&self, node: usize, plane: usize) -> u64 {
        let plane = plane % self.sectors;
        let place = if node < self.vertices {
            2 * (node * self.sectors + plane)
        } else {
            (self.vertices + node) * self.sectors + plane
        };
        place as u64
    }

    fn after_plane(&self, vertex: usize, plane: usize) -> u64 {
        (2 * (vertex * self.sectors + plane) + 1) as u64
    }

    /// The base lies on the plane of the larger angle: seen with r to the right and z upwards, θ grows
    /// away from the eye, so that a base running counter-clockwise faces the plane of the smaller one.
    fn wedges(&self, triangles: &[[usize; 6]]) -> Vec<u64> {
        let mut nodes = Vec::with_capacity(15 * self.sectors * triangles.len());
        for plane in 0..self.sectors {
            for triangle in triangles {
                let (corners, middles) = triangle.split_at(3);
                for part in [corners, middles] {
                    nodes.extend(part.iter().map(|node| self.on_plane(*node, plane + 1)));
                    nodes.extend(part.iter().map(|node| self.on_plane(*node, plane)));
                }
                nodes.extend(corners.iter().map(|vertex| self.after_plane(*vertex, plane)));
            }
        }
        nodes
    }
}

/// A point of the wheel in the Cartesian frame, from its cylindrical components.
fn turned(p: Point, theta: f64, [u, v, w]: [f64; 3], stress: Stress) -> Sample {
    let (sin, cos) = theta.sin_cos();
    Sample {
        at: [p.r * cos, p.r * sin, p.z],
        displacement: [u * cos - v * sin, u * sin + v * cos, w],
        stress: to_cartesian(&stress, theta),
    }
}
