//! The verification manual: problems with answers from outside, run by the program that is to be trusted.
//!
//! Owns the catalogue of cases, how a case is run and judged, which features of the program each one
//! exercises, and the known limits. Lacks layout: pages are written by `report`.
//! Units: mm, N, MPa, rad; every printed quantity carries its own unit.

mod bench;
pub mod cases;
mod coverage;
mod faults;
mod feature;
mod limits;
mod record;
mod source;
mod words;

pub use bench::{Bench, Level, probe};
pub use coverage::{
    Citation, OUTSIDE, Outside, citations, used_by_check, used_by_doubt, used_by_model, used_by_report,
};
pub use faults::CAUGHT_BY;
pub use feature::{Feature, Group, features_of};
pub use limits::{Limit, limits};
pub use record::{Case, CaseFault, Chapter, Entry, Record, Row, Side, Unmet, run};
pub use source::{Source, Standing};
pub use words::setting;

/// Every case, in the order of the manual.
pub fn catalogue() -> Vec<&'static Case> {
    cases::ALL.iter().flat_map(|chapter| chapter.iter()).collect()
}
