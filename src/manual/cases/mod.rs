//! The catalogue, a file per chapter or part of one. Every value names its source beside it.

use super::Case;

mod corner;
mod even_loads;
mod friction;
mod manufactured;
mod series;
pub(crate) mod shapes;
mod tunnel;

/// All cases by chapter, in the order of the manual.
pub static ALL: &[&[Case]] =
    &[even_loads::CASES, friction::CASES, tunnel::CASES, corner::CASES, manufactured::CASES, series::CASES];
