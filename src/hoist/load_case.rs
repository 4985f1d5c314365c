//! A load case: the rope tensions on both ends of every roped groove, and what of a double wrap lies in it.
//!
//! Owns sums, means, the hottest rope and equal sharing. Lacks how the tensions come about. Units: N, rad.

use super::double_wrap::Pass;
use crate::survey::Creep;
use serde::Serialize;

/// What a load case stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CaseKind {
    /// Car at rest with rated load at the lowest landing: the code's factor is stated for this one.
    RatedAtRest,
    /// Car at rest with 125 % of the rated load at the lowest landing.
    StaticTest,
    /// Emergency stop of the loaded car going down.
    Braking,
    /// Empty car at rest at the highest landing.
    EmptyCar,
    /// The engineer's own multiple of the rated case.
    Emergency,
}

impl CaseKind {
    pub fn name(self) -> &'static str {
        match self {
            Self::RatedAtRest => "car at rest with rated load",
            Self::StaticTest => "car at rest with 125 % of the rated load",
            Self::Braking => "emergency stop with rated load",
            Self::EmptyCar => "empty car at rest",
            Self::Emergency => "emergency multiple stated by the engineer",
        }
    }
}

/// Rope tensions of one case, in the order of the roped grooves.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadCase {
    pub kind: CaseKind,
    pub heavy_n: Vec<f64>,
    pub light_n: Vec<f64>,
    /// What each roped groove carries of a double wrap; empty for a single one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub passes: Vec<GroovePass>,
}

/// Which pass of which rope lies in a groove, and where.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GroovePass {
    /// From 0.
    #[serde(rename = "rope_index")]
    pub rope: usize,
    pub pass: Pass,
    pub wrap_rad: f64,
    pub middle_rad: f64,
    /// Whether this pass reaches the heavier outer tension; the other one reaches the lighter.
    pub at_heavy_side: bool,
    #[serde(skip)]
    pub creep: Creep,
}

impl LoadCase {
    /// One tension per rope on either side: a single wrap.
    pub fn single(kind: CaseKind, heavy_n: Vec<f64>, light_n: Vec<f64>) -> Self {
        Self { kind, heavy_n, light_n, passes: Vec::new() }
    }

    /// Ropes of the case; a double wrap puts each into two grooves.
    pub fn ropes(&self) -> usize {
        if self.passes.is_empty() { self.heavy_n.len() } else { self.heavy_n.len() / 2 }
    }

    /// The first roped groove that carries a rope, both counted from 0.
    pub fn groove_of(&self, rope: usize) -> usize {
        self.passes.iter().position(|pass| pass.rope == rope).unwrap_or(rope)
    }

    /// The rope in a roped groove, both counted from 0.
    pub fn rope_in(&self, groove: usize) -> usize {
        self.passes.get(groove).map_or(groove, |pass| pass.rope)
    }

    /// Mean over the grooves that reach the heavy side (or the light one); over all of a single wrap.
    fn mean_at(&self, list: &[f64], heavy_side: bool) -> f64 {
        if self.passes.is_empty() {
            return list.iter().sum::<f64>() / list.len() as f64;
        }
        let at = list.iter().zip(&self.passes).filter(|(_, pass)| pass.at_heavy_side == heavy_side);
        at.map(|(tension, _)| tension).sum::<f64>() / self.ropes() as f64
    }

    /// Mean tension between the passes of a double wrap.
    pub fn mean_between_n(&self) -> Option<f64> {
        (!self.passes.is_empty()).then(|| self.mean_at(&self.light_n, true))
    }

    pub fn mean_heavy_n(&self) -> f64 {
        self.mean_at(&self.heavy_n, true)
    }

    pub fn mean_light_n(&self) -> f64 {
        self.mean_at(&self.light_n, false)
    }

    /// Sum of the heavy side's tensions over the ropes, each counted once.
    pub fn heavy_sum_n(&self) -> f64 {
        if self.passes.is_empty() {
            return self.heavy_n.iter().sum();
        }
        self.mean_heavy_n() * self.ropes() as f64
    }

    /// Ratio of the sums of heavy and light tensions.
    pub fn ratio(&self) -> f64 {
        self.mean_heavy_n() / self.mean_light_n()
    }

    /// The same sums over the ropes, shared equally.
    pub fn equalised(&self) -> Self {
        let even = |list: &[f64]| {
            let heavy_side = |groove: usize| self.passes.get(groove).is_none_or(|pass| pass.at_heavy_side);
            (0..list.len()).map(|groove| self.mean_at(list, heavy_side(groove))).collect()
        };
        Self { heavy_n: even(&self.heavy_n), light_n: even(&self.light_n), ..self.clone() }
    }

    /// The same case with `spread` (highest minus lowest, over the mean) put on one rope while the sum
    /// over the ropes is kept.
    pub fn with_hottest(&self, rope: usize, spread: f64) -> Self {
        let n = self.ropes() as f64;
        let share = |groove: usize| {
            if self.rope_in(groove) == rope { 1.0 + spread * (n - 1.0) / n } else { 1.0 - spread / n }
        };
        let scaled = |list: &[f64]| list.iter().enumerate().map(|(i, t)| t * share(i)).collect();
        Self { heavy_n: scaled(&self.heavy_n), light_n: scaled(&self.light_n), ..self.clone() }
    }
}
