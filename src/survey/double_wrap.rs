//! The double wrap of a survey as values: its two passes, its ropes, and the survey of its secondary sheave.
//!
//! Units inside: mm, N, rad. `None` means "not measured".

use super::schema::{Creep, Survey};
use serde::Serialize;

/// Two passes of every rope over the drive sheave.
#[derive(Debug, Clone, Serialize)]
pub struct DoubleWrap {
    /// Wrap of the pass from the car, and of the one to the counterweight.
    pub wrap_rad: [f64; 2],
    /// Middle of each pass, counted from θ = 0 towards the counterweight's side.
    pub middle_rad: [f64; 2],
    pub layout: PassLayout,
    /// Friction factor f of the ropes in the grooves, for the tension between the passes.
    pub friction: Option<f64>,
    pub secondary_wrap_rad: Option<f64>,
    /// Name of the secondary sheave's survey, as the file states it.
    pub secondary_file: Option<String>,
    pub secondary: Option<Box<Survey>>,
    /// EA of every rope.
    pub stiffness_n: Option<Vec<f64>>,
    /// Free lengths of every rope with the car at the lowest landing, and between the wheels.
    pub car_length_mm: Option<Vec<f64>>,
    pub between_length_mm: Option<Vec<f64>>,
    pub counterweight_length_mm: Option<Vec<f64>>,
    /// Measured tension of every rope between the passes.
    pub between_tensions_n: Option<Vec<f64>>,
    /// Tension between the passes over √(T1·T2), per rope, with which loads are formed; 1 for all when empty.
    pub between_over_equal_ratio: Vec<f64>,
    /// How each pass creeps, where a study says it better than the roping's own creep.
    #[serde(skip)]
    pub pass_creep: Option<[Creep; 2]>,
}

/// Which grooves belong to which pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PassLayout {
    /// First and second pass of rope 1, then of rope 2, and so on.
    Alternating,
    /// All first passes, then all second ones.
    SideBySide,
}

impl PassLayout {
    /// Rope (from 0) and whether it is its second pass, for the roped groove with this index.
    pub fn rope_in(self, index: usize, ropes: usize) -> (usize, bool) {
        match self {
            Self::Alternating => (index / 2, index % 2 == 1),
            Self::SideBySide => (index % ropes, index >= ropes),
        }
    }
}

impl DoubleWrap {
    pub fn wrap_sum_rad(&self) -> f64 {
        self.wrap_rad[0] + self.wrap_rad[1]
    }

    /// The part √(T1·T2) is multiplied by for a rope.
    pub fn share(&self, rope: usize) -> f64 {
        self.between_over_equal_ratio.get(rope).copied().unwrap_or(1.0)
    }
}
