//! The catalogue, a file per chapter or part of one. Every value names its source beside it.

use super::Case;

mod discs;
mod even_loads;
mod friction;
mod half_plane;
mod notches;
mod plates;
mod rings;
mod shafts;
pub(crate) mod shapes;
mod shells;

/// All cases by chapter, in the order of the manual.
pub static ALL: &[&[Case]] = &[
    even_loads::CASES,
    half_plane::CASES,
    shells::CASES,
    plates::CASES,
    notches::CASES,
    shafts::CASES,
    discs::CASES,
    rings::CASES,
    friction::CASES,
];
