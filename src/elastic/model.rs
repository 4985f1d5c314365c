//! An explicit elastic problem of a body of revolution.

use super::{Around, Polynomial};
use crate::geometry::{Outline, Point};
use crate::mesh::Sizing;
use crate::seeded::{Fault, planted};

/// Isotropic linear elastic material. Density in t/mm³ keeps the units N, mm, MPa, s consistent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Iron {
    pub young_mpa: f64,
    pub poisson: f64,
    pub density_t_mm3: f64,
    pub expansion_per_k: f64,
}

impl Iron {
    /// Strain-stress matrix, the inverse of [`Self::stiffness`].
    pub fn softness(&self) -> [[f64; 6]; 6] {
        let mut s = [[0.0; 6]; 6];
        for (i, row) in s.iter_mut().enumerate() {
            if i < 3 {
                row[..3].fill(-self.poisson / self.young_mpa);
                row[i] = 1.0 / self.young_mpa;
            } else {
                row[i] = 2.0 * (1.0 + self.poisson) / self.young_mpa;
            }
        }
        s
    }

    /// Stress-strain matrix for the order rr, θθ, zz, rθ, θz, rz with engineering shear strains.
    pub fn stiffness(&self) -> [[f64; 6]; 6] {
        let narrowing = if planted(Fault::PlaneStressModulus) { 1.0 } else { 2.0 };
        let lambda =
            self.young_mpa * self.poisson / ((1.0 + self.poisson) * (1.0 - narrowing * self.poisson));
        let shear = self.young_mpa / (2.0 * (1.0 + self.poisson));
        let mut d = [[0.0; 6]; 6];
        for (i, row) in d.iter_mut().enumerate() {
            if i < 3 {
                row[..3].fill(lambda);
                row[i] += 2.0 * shear;
            } else {
                row[i] = shear;
            }
        }
        d
    }
}

/// Which displacement components a support holds at zero: radial, circumferential, axial.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    pub r: bool,
    pub theta: bool,
    pub z: bool,
}

impl Hold {
    pub const FIXED: Self = Self { r: true, theta: true, z: true };

    pub fn flags(self) -> [bool; 3] {
        [self.r, self.theta, self.z]
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    pub tag: String,
    pub hold: Hold,
}

/// A value that may vary over the section: at + by_r·r + by_z·z.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Field {
    pub at: f64,
    pub by_r: f64,
    pub by_z: f64,
}

impl Field {
    pub const fn constant(at: f64) -> Self {
        Self { at, by_r: 0.0, by_z: 0.0 }
    }

    pub fn value(&self, p: Point) -> f64 {
        self.at + self.by_r * p.r + self.by_z * p.z
    }
}

/// How the contact pressure of a rope spreads over its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Law {
    /// p ∝ cos φ, φ at `centre` from the groove's bottom (Feyrer, Wire Ropes, section 3.4).
    Cosine { centre: Point },
    /// The same pressure all over the edges.
    Uniform,
}

/// How a load spreads over the section; its course around the body is an [`Around`].
#[derive(Debug, Clone, PartialEq)]
pub enum Pattern {
    /// Pressure into the body on the tagged edges (MPa).
    Pressure { tags: Vec<String>, value: Field },
    /// Traction components radial, circumferential, axial on the tagged edges (MPa).
    Traction { tags: Vec<String>, value: [Field; 3] },
    /// Traction components radial, circumferential, axial that vary at will on the tagged edges (MPa).
    Spread { tags: Vec<String>, value: Box<[Polynomial; 3]> },
    /// Force through the volume: radial, circumferential, axial (N/mm³).
    Body { force: Box<[Polynomial; 3]> },
    /// Rope pressure that adds up to a radial force of 1 N per radian towards the shaft.
    Bearing { tags: Vec<String>, law: Law },
    /// Rope drag in the direction of growing θ whose moment about the shaft is 1 N times
    /// `moment_radius_mm` per radian, spread like the pressure.
    Drag { tags: Vec<String>, law: Law, moment_radius_mm: f64 },
    /// Temperature above the stress-free state (K).
    Thermal { temperature: Field },
    /// Rotation about the shaft (rad/s).
    Spin { rad_s: f64 },
}

impl Pattern {
    pub fn tags(&self) -> &[String] {
        match self {
            Self::Pressure { tags, .. }
            | Self::Traction { tags, .. }
            | Self::Spread { tags, .. }
            | Self::Bearing { tags, .. }
            | Self::Drag { tags, .. } => tags,
            Self::Body { .. } | Self::Thermal { .. } | Self::Spin { .. } => &[],
        }
    }
}

/// One pattern times its course around the body.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// Index into [`Model::patterns`].
    pub pattern: usize,
    pub around: Around,
}

/// A load case: the sum of its terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    pub name: String,
    pub terms: Vec<Term>,
}

/// The whole problem. The load cases share patterns, so one solution per pattern serves them all.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    pub title: String,
    pub outline: Outline,
    pub sizing: Sizing,
    pub iron: Iron,
    pub supports: Vec<Support>,
    pub patterns: Vec<Pattern>,
    pub cases: Vec<Case>,
}
