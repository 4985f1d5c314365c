//! Double wrap: every rope passes over the drive sheave twice, with a secondary sheave between.
//!
//! Owns the tension between the passes: what friction lets it be, what elastic creep makes of it, and its
//! history over the turns, alone or with unequal parallel ropes. Lacks survey files and stress.
//! Spans of a rope count from the car: car side, between the passes, counterweight side; pass 1 joins the
//! first two, pass 2 the last two. A single wrap is the case of one pass.
//! Units: N, mm, rad; the grip of a pass is f·α, a plain number.
//! The secondary sheave turns freely: both its sides carry the tension between the passes.

mod bounds;
mod creep;
mod machine;
mod march;
mod resultant;

pub use bounds::{Between, TensionRange, between_by};
pub use creep::{ActiveArc, Steady, steady};
pub use machine::{Machine, Rope, Work};
pub use march::{Cycle, FirstSlip, History, Sample, march};
pub use resultant::{drive_pull_n, secondary_pull_n};

use serde::Serialize;

/// Which way the car goes, and so on which side the rope comes on the drive sheave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Run {
    /// The rope comes on at the car's side: pass 1 first.
    CarUp,
    /// The rope comes on at the counterweight's side: pass 2 first.
    CarDown,
}

/// One of the two passes over the drive sheave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pass {
    /// The one from the car.
    First,
    /// The one to the counterweight.
    Second,
}

impl Pass {
    pub const BOTH: [Self; 2] = [Self::First, Self::Second];

    /// Counted from 1.
    pub fn number(self) -> usize {
        match self {
            Self::First => 1,
            Self::Second => 2,
        }
    }
}

/// Why the tensions of a double wrap have no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WrapFault {
    #[error("{quantity} is {found}; it must be {allowed}")]
    Value { quantity: &'static str, found: f64, allowed: &'static str },
    #[error(
        "the ropes slide over the drive sheave: a tension ratio of {ratio:.3} is more than e^(fα) = {limit:.3} over both passes"
    )]
    Slides { ratio: f64, limit: f64 },
    #[error("rope {rope} goes slack after {turns:.2} turns: lengths, stiffness or diameters cannot be right")]
    Slack { rope: usize, turns: f64 },
    #[error("the car moves no further after {turns:.2} turns: the ropes slide over the drive sheave")]
    Stuck { turns: f64 },
    #[error(
        "the slips of the ropes do not settle after {turns:.2} turns: too many ropes are at the end of their grip"
    )]
    Unsettled { turns: f64 },
}

fn finite(quantity: &'static str, value: f64, least: f64, allowed: &'static str) -> Result<f64, WrapFault> {
    if value.is_finite() && value >= least {
        Ok(value)
    } else {
        Err(WrapFault::Value { quantity, found: value, allowed })
    }
}
