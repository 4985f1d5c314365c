//! The whole wheel as quadratic wedges, revolved from the section.

use super::grid::{Grid, Precision, Sample};
use super::{Limits, VtkFault, check_case};
use crate::elastic::{Harmonic, Solution, to_cartesian};
use nalgebra::DMatrix;
use rayon::prelude::*;
use std::f64::consts::TAU;
use std::ops::Range;
use vtkio::model::CellType;

/// With fewer sectors the wheel no longer looks round: its volume is 0.3 % off at six.
const LEAST: usize = 6;
/// More make files that no viewer opens at ease.
const MOST: usize = 3600;
/// Nodes whose courses around the wheel are summed at once.
const CHUNK: usize = 64;
/// Components of displacement and stress together.
const COMPONENTS: usize = 9;

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
    let mut samples = courses(solution, case, 0..layout.vertices, 2 * sectors);
    samples.extend(courses(solution, case, layout.vertices..solution.mesh.nodes.len(), sectors));
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

/// Samples of the nodes at `planes` equal angles, node after node.
///
/// The sum over harmonics is one matrix product per component and chunk of nodes.
fn courses(solution: &Solution, case: usize, nodes: Range<usize>, planes: usize) -> Vec<Sample> {
    let harmonics = &solution.cases[case];
    let angle = |plane: usize| TAU * plane as f64 / planes as f64;
    let waves = DMatrix::from_fn(2 * harmonics.len(), planes, |row, plane| {
        let phase = harmonics[row / 2].n as f64 * angle(plane);
        if row % 2 == 0 { phase.cos() } else { phase.sin() }
    });
    let nodes: Vec<usize> = nodes.collect();
    let chunk_samples = |chunk: &[usize]| {
        let sums: Vec<DMatrix<f64>> =
            (0..COMPONENTS).map(|c| amplitudes(harmonics, chunk, c) * &waves).collect();
        let mut samples = Vec::with_capacity(chunk.len() * planes);
        for (row, node) in chunk.iter().enumerate() {
            let p = solution.mesh.nodes[*node];
            for plane in 0..planes {
                let theta = angle(plane);
                let (sin, cos) = theta.sin_cos();
                let value = |c: usize| sums[c][(row, plane)];
                let (u, v) = (value(0), value(1));
                samples.push(Sample {
                    at: [p.r * cos, p.r * sin, p.z],
                    displacement: [u * cos - v * sin, u * sin + v * cos, value(2)],
                    stress: to_cartesian(&std::array::from_fn(|c| value(3 + c)), theta),
                });
            }
        }
        samples
    };
    nodes.par_chunks(CHUNK).flat_map_iter(chunk_samples).collect()
}

/// One component's coefficients: a row per node, a pair of columns (cos, sin) per harmonic.
fn amplitudes(harmonics: &[Harmonic], nodes: &[usize], component: usize) -> DMatrix<f64> {
    DMatrix::from_fn(nodes.len(), 2 * harmonics.len(), |row, column| {
        let (harmonic, node) = (&harmonics[column / 2], nodes[row]);
        if component < 3 {
            harmonic.displacement[node][component + 3 * (column % 2)]
        } else {
            harmonic.stress[node][component - 3 + 6 * (column % 2)]
        }
    })
}
