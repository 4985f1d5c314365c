//! Forces and moments of a load case on the whole body, and the proof that they balance.

use super::assembly::Assembled;
use super::{ElasticFault, Family};
use crate::mesh::Mesh;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Largest relative gap accepted between things that must be equal.
pub(super) const ALLOWED: f64 = 1e-6;

/// Force (N) and moment about the origin (N·mm) in the Cartesian frame: x at θ = 0, z along the shaft.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Resultant {
    pub force_n: [f64; 3],
    pub moment_nmm: [f64; 3],
}

impl Resultant {
    pub fn force(&self) -> f64 {
        self.force_n.iter().map(|f| f * f).sum::<f64>().sqrt()
    }

    pub fn moment(&self) -> f64 {
        self.moment_nmm.iter().map(|m| m * m).sum::<f64>().sqrt()
    }

    /// Adds the share of one harmonic's nodal forces (per radian) in one family.
    pub(super) fn add(
        &mut self,
        mesh: &Mesh,
        assembled: &Assembled,
        n: usize,
        family: Family,
        force: &[f64],
    ) {
        if n > 1 {
            return;
        }
        let mut axial = [0.0; 2];
        let (mut across, mut tilt) = (0.0, 0.0);
        for (node, p) in mesh.nodes.iter().enumerate() {
            let [fr, ft, fz] = [0, 1, 2].map(|c| force[assembled.unknown(node, c)]);
            axial[0] += fz;
            axial[1] += p.r * ft;
            across += fr - ft;
            tilt += p.z * (fr - ft) - p.r * fz;
        }
        match (n, family) {
            (0, Family::Cosine) => self.force_n[2] += TAU * axial[0],
            // v = −v̄ in the sine family of harmonic 0, so its moment turns the other way.
            (0, Family::Sine) => self.moment_nmm[2] -= TAU * axial[1],
            (_, Family::Cosine) => {
                self.force_n[0] += PI * across;
                self.moment_nmm[1] += PI * tilt;
            }
            (_, Family::Sine) => {
                self.force_n[1] += PI * across;
                self.moment_nmm[0] -= PI * tilt;
            }
        }
    }
}

/// What was applied, what the supports gave back, and the two sides of the energy.
#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct Balance {
    pub applied: Resultant,
    pub reaction: Resultant,
    /// Strain energy ½ uᵀKu (N·mm).
    pub energy_nmm: f64,
    /// Half the work of the loads ½ uᵀf (N·mm).
    pub work_nmm: f64,
    /// Largest relative gap between applied load and reaction, and between energy and work.
    #[serde(rename = "relative_gap")]
    pub gap: f64,
}

impl Balance {
    /// Fills in the gap.
    ///
    /// # Errors
    /// When applied load and reaction, or energy and work, differ by more than one part in a million.
    pub(super) fn verify(&mut self, case: &str, scale: &LoadScale) -> Result<(), ElasticFault> {
        let mut gaps = Vec::new();
        for i in 0..3 {
            let left = self.applied.force_n[i] + self.reaction.force_n[i];
            gaps.push(("applied and support forces", left.abs() / scale.force_n.max(f64::MIN_POSITIVE)));
            let left = self.applied.moment_nmm[i] + self.reaction.moment_nmm[i];
            gaps.push(("applied and support moments", left.abs() / scale.moment_nmm.max(f64::MIN_POSITIVE)));
        }
        let energy = (self.energy_nmm - self.work_nmm).abs();
        gaps.push((
            "strain energy and work of the loads",
            energy / self.work_nmm.abs().max(f64::MIN_POSITIVE),
        ));
        for (what, gap) in gaps {
            self.gap = self.gap.max(gap);
            // A gap that is not a number must fail too.
            if gap.is_nan() || gap > ALLOWED {
                return Err(ElasticFault::Imbalance {
                    what: format!("{what} of case '{case}'"),
                    left: format!("{:?}", self.applied),
                    right: format!("{:?}", self.reaction),
                    gap,
                    allowed: ALLOWED,
                });
            }
        }
        Ok(())
    }
}

/// Sum of the sizes of all nodal forces: what a relative gap is relative to.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct LoadScale {
    pub force_n: f64,
    pub moment_nmm: f64,
}

impl LoadScale {
    pub fn add(&mut self, mesh: &Mesh, assembled: &Assembled, force: &[f64]) {
        for (node, p) in mesh.nodes.iter().enumerate() {
            for component in 0..3 {
                self.add_one(force[assembled.unknown(node, component)], p.r.max(p.z.abs()));
            }
        }
    }

    /// Adds one nodal force (per radian) with the arm of its moments (mm).
    pub fn add_one(&mut self, force: f64, reach_mm: f64) {
        let size = TAU * force.abs();
        self.force_n += size;
        self.moment_nmm += size * reach_mm;
    }
}
