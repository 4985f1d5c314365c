//! Compositions of the whole: one check from a survey to its findings.
//!
//! Knows no file and no screen: it takes a `Survey` and gives values that reports print.

mod analysis;
mod build;
mod by_hand;
mod check;
mod compare;
mod consequences;
mod deepest;
pub mod double_wrap;
pub mod doubt;
mod energetic;
mod equalise;
mod fault;
mod findings;
mod flaw;
pub mod grooves;
mod hottest;
mod iron;
mod loads;
mod machining;
mod notch;
mod others;
mod places;
mod ready;
mod refine;
mod result;
mod rules;
mod settle;
mod sketch;
mod through_wall;
mod turns;
mod words;
pub mod wraps;

pub use analysis::Analysis;
pub use by_hand::{ByHand, HandRow, ThinRim, by_hand, stress_factor, weight};
pub use check::{Asked, check};
pub use compare::{Compared, Comparison, Found, Pair, compare};
pub use consequences::{Consequence, Consequences, RopeLife, SpeedChange, StateFacts};
pub(crate) use consequences::{at_depth, consequences};
pub use deepest::{
    Deepest, DepthLimit, ROOM, Reach, Reserve, STRENGTH, STRENGTH_REJECTS, StrengthNeeded, Tested, Unsettled,
    WallNeeded, deepest, depth_limits, walls_moved,
};
pub use equalise::Equalised;
pub use fault::{CheckFault, PlacedFault};
pub use flaw::{CrackDepth, Flaw, FlawFault};
pub use iron::{HardnessBand, SectionSize, StrengthLevel};
pub use machining::{
    GrooveCut, Hardness, Limit, Machining, NoCut, Size, StopWall, WallWatch, WatchedPlace, machining,
};
pub use notch::{BandEnd, Notch, NotchPath};
pub use ready::{Answers, Ready, Restated};
pub use result::{
    CaseResult, CheckResult, Convergence, Facts, Governing, GrooveFacts, Loads, MeshStep, Outcome, PartPeak,
    PlaceResult, TractionFact, Variant,
};
pub(crate) use rules::facts;
pub use settle::{Lever, Settled, Tried};
pub use through_wall::ThroughWall;
pub use turns::{Turns, turns_in, worst_cycle};
