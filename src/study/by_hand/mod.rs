//! What a pocket calculator gives beside what the program found.
//!
//! Every row is worked out anew from the survey by one formula of the trade, with its numbers written out; nothing of
//! the program's own way to the same number is used. Lacks any judgement. Values are in mm, N, MPa, rad; formulas are
//! written in the survey's own units, with a factor wherever these do not fit together by themselves.

mod coherent;
mod loads;
mod rim;

pub use coherent::{stress_factor, weight};

use super::Outcome;
use crate::survey::Survey;
use crate::verdict::Amount;
use serde::Serialize;

/// One number by hand.
#[derive(Debug, Clone, Serialize)]
pub struct HandRow {
    pub what: &'static str,
    /// The formula with its numbers, in the survey's own units.
    pub how: String,
    pub by_hand: Amount,
    /// What the program has for it.
    pub program: Amount,
}

impl HandRow {
    /// By hand over the program's own.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.by_hand.value / self.program.value
    }
}

/// The thin rim's bending beside the web as a handbook would estimate it.
#[derive(Debug, Clone, Serialize)]
pub struct ThinRim {
    /// Grooves that overhang the web on the side that bends more.
    pub grooves: Vec<usize>,
    pub wall_mm: f64,
    /// Of the wall's middle.
    pub radius_mm: f64,
    pub decay_per_mm: f64,
    /// Per mm of circumference, by shell action and without any.
    pub moment_n: f64,
    pub strip_moment_n: f64,
    pub stress_mpa: f64,
    pub strip_stress_mpa: f64,
}

/// All numbers by hand.
#[derive(Debug, Clone, Serialize)]
pub struct ByHand {
    pub rows: Vec<HandRow>,
    /// `None` where no groove overhangs a web.
    pub thin_rim: Option<ThinRim>,
}

/// Works the rows out for a finished check.
#[must_use]
pub fn by_hand(survey: &Survey, outcome: &Outcome) -> ByHand {
    ByHand { rows: loads::rows(survey, &outcome.result), thin_rim: rim::thin_rim(survey, outcome) }
}

#[cfg(test)]
mod tests;
