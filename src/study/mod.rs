//! Compositions of the whole: one check from a survey to its findings.
//!
//! Knows no file and no screen: it takes a `Survey` and gives values that reports print.

mod analysis;
mod build;
mod check;
mod fault;
mod findings;
pub mod grooves;
mod hottest;
mod loads;
mod notch;
mod others;
mod places;
mod proof;
mod ready;
mod refine;
mod result;
mod rules;
mod settle;
mod sketch;
mod through_wall;
mod words;

pub use analysis::Analysis;
pub use check::{Asked, check};
pub use fault::{CheckFault, PlacedFault};
pub use notch::{BandEnd, Notch, NotchPath};
pub use proof::{BarProof, prove_bar};
pub use ready::{Answers, Ready, Restated};
pub use result::{
    CaseResult, CheckResult, Convergence, Facts, Governing, GrooveFacts, Loads, MeshStep, Outcome, PartPeak,
    PlaceResult, Variant,
};
pub(crate) use rules::facts;
pub use settle::{Lever, Settled, Tried};
pub use through_wall::ThroughWall;
