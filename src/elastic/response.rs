//! What every load pattern does by itself, kept so that other loads on the same body need no new solution.
//!
//! The body is linear: a pattern that runs around it as C·cos nθ + S·sin nθ raises C times the stress of cos nθ,
//! and S times the same stress turned on by a quarter of a wave. Owns the stresses of cos nθ for every pattern and
//! harmonic at the searched nodes, and the sum of each pattern's forces. Lacks displacements, and other bodies.

use super::loads::coefficients;
use super::{
    Around, Case, Connectivity, ElasticFault, Fourier, Harmonic, Model, Options, Region, Resultant, Term,
    solve_alike,
};
use crate::mesh::{BoundaryEdge, Mesh};
use rayon::prelude::*;

/// A load that every harmonic has a share of, and the sine family none.
const RIDGE: Around = Around::Arc { from: -1e-3, to: 1e-3 };

/// A body's answers to its load patterns, harmonic by harmonic.
pub struct Response {
    /// The searched nodes and the outline between them; no triangles.
    pub mesh: Mesh,
    pub region: Region,
    /// Index of every kept node in the mesh that was solved.
    pub nodes: Vec<usize>,
    patterns: usize,
    waves: Vec<Wave>,
    /// Per pattern the sum of its forces under 1 and cos θ together.
    applied: Vec<Resultant>,
}

/// One harmonic: coefficients of cos nθ and sin nθ of the stress (MPa), node by node, then pattern by pattern.
struct Wave {
    n: usize,
    stress: Vec<[f64; 12]>,
}

impl Response {
    /// Solves harmonics 0 to `last` of every pattern of `model`, whatever its cases are.
    ///
    /// # Errors
    /// As [`super::solve_on`].
    pub fn new(
        model: &Model,
        mesh: Mesh,
        connectivity: &Connectivity,
        region: impl Fn(&Mesh) -> Region,
        last: usize,
    ) -> Result<Self, ElasticFault> {
        let alone = |pattern: usize| Case {
            name: format!("load pattern {}", pattern + 1),
            terms: vec![Term { pattern, around: RIDGE }],
        };
        let patterns = model.patterns.len();
        let units = Model { cases: (0..patterns).map(alone).collect(), ..model.clone() };
        // A ridge's series does not settle soon: how far to go is for the caller to say.
        let options = Options { block: last + 1, least: last + 1, most: last + 1, tolerance: f64::INFINITY };
        let solution = solve_alike(&units, mesh, connectivity, &region, &options)?;
        let region = region(&solution.mesh);
        let nodes: Vec<usize> = (0..solution.mesh.nodes.len()).filter(|node| region.nodes[*node]).collect();
        let wave = |n: usize| {
            let mut stress = vec![[0.0; 12]; nodes.len() * patterns];
            for (pattern, harmonics) in solution.cases.iter().enumerate() {
                let Some(own) = harmonics.iter().find(|harmonic| harmonic.n == n) else { continue };
                let whole = 1.0 / RIDGE.fourier(n).cosine;
                for (index, node) in nodes.iter().enumerate() {
                    stress[index * patterns + pattern] = own.stress[*node].map(|mpa| whole * mpa);
                }
            }
            Wave { n, stress }
        };
        Ok(Self {
            waves: (0..=last).into_par_iter().map(wave).collect(),
            applied: solution.balance.iter().map(|balance| whole(&balance.applied)).collect(),
            region: searched(&region, &nodes),
            mesh: searched_mesh(&solution.mesh, &nodes),
            nodes,
            patterns,
        })
    }

    /// Stresses at the kept nodes under another case of the same patterns, and the sum of its forces.
    pub fn case(&self, case: &Case) -> (Vec<Harmonic>, Resultant) {
        let shares = |n: usize| -> Vec<Fourier> {
            coefficients(case, self.patterns, n).into_iter().map(|(share, _)| share).collect()
        };
        let harmonic = |wave: &Wave| {
            let shares = shares(wave.n);
            let stress = wave.stress.chunks_exact(self.patterns).map(|units| turned(units, &shares));
            Harmonic { n: wave.n, displacement: Vec::new(), stress: stress.collect() }
        };
        let harmonics = self.waves.par_iter().map(harmonic).collect();
        let mut sum = Resultant::default();
        for (unit, (mean, first)) in self.applied.iter().zip(shares(0).iter().zip(shares(1))) {
            // What lies across the shaft turns with the first harmonic, what lies along it is the mean's.
            for (to, own) in [(&mut sum.force_n, &unit.force_n), (&mut sum.moment_nmm, &unit.moment_nmm)] {
                to[0] += first.cosine * own[0] - first.sine * own[1];
                to[1] += first.cosine * own[1] + first.sine * own[0];
                to[2] += mean.cosine * own[2];
            }
        }
        (harmonics, sum)
    }
}

/// The sum of a ridge's forces as those of the unit loads 1 and cos θ.
fn whole(ridge: &Resultant) -> Resultant {
    let [mean, first] = [0, 1].map(|n| 1.0 / RIDGE.fourier(n).cosine);
    let scaled = |[x, y, z]: [f64; 3]| [first * x, first * y, mean * z];
    Resultant { force_n: scaled(ridge.force_n), moment_nmm: scaled(ridge.moment_nmm) }
}

/// Σ over patterns of the cosine's share as it is and the sine's turned on by a quarter of a wave.
fn turned(units: &[[f64; 12]], shares: &[Fourier]) -> [f64; 12] {
    let mut sum = [0.0; 12];
    for (unit, Fourier { cosine, sine }) in units.iter().zip(shares) {
        for c in 0..6 {
            sum[c] += cosine * unit[c] - sine * unit[c + 6];
            sum[c + 6] += cosine * unit[c + 6] + sine * unit[c];
        }
    }
    sum
}

fn searched(region: &Region, nodes: &[usize]) -> Region {
    Region {
        nodes: vec![true; nodes.len()],
        loaded: nodes.iter().map(|node| region.loaded[*node]).collect(),
        ..region.clone()
    }
}

/// The nodes alone, with those outline edges that join them.
fn searched_mesh(mesh: &Mesh, nodes: &[usize]) -> Mesh {
    let place = |node: &usize| nodes.binary_search(node).ok();
    let renumbered = |edge: &BoundaryEdge| {
        let [a, b, c] = edge.nodes.each_ref().map(place);
        Some(BoundaryEdge { nodes: [a?, b?, c?], ..*edge })
    };
    Mesh {
        nodes: nodes.iter().map(|node| mesh.nodes[*node]).collect(),
        vertex_count: 0,
        triangles: Vec::new(),
        boundary: mesh.boundary.iter().filter_map(renumbered).collect(),
        tags: mesh.tags.clone(),
        quality: mesh.quality,
    }
}
