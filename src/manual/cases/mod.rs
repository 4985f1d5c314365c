//! The catalogue, a file per chapter or part of one. Every value names its source beside it.

use super::Case;

mod cracks;
mod criteria;
mod even_loads;
mod friction;
mod grooves;
mod irons;
mod metals;
mod rope_life;
mod ropes;
pub(crate) mod shapes;
mod sheet;

/// All cases by chapter, in the order of the manual.
pub static ALL: &[&[Case]] = &[
    even_loads::CASES,
    friction::CASES,
    ropes::CASES,
    grooves::CASES,
    rope_life::CASES,
    irons::CASES,
    metals::CASES,
    criteria::CASES,
    cracks::CASES,
];
