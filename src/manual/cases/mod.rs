//! The catalogue, a file per chapter or part of one. Every value names its source beside it.

use super::Case;

mod corner;
mod cracks;
mod criteria;
mod even_loads;
mod friction;
mod grooves;
mod irons;
mod manufactured;
mod measurements;
mod metals;
mod rope_life;
mod ropes;
mod seats;
mod series;
pub(crate) mod shapes;
mod sheet;
mod tunnel;
mod units;
mod wraps;

/// All cases by chapter, in the order of the manual.
pub static ALL: &[&[Case]] = &[
    even_loads::CASES,
    tunnel::CASES,
    corner::CASES,
    manufactured::CASES,
    series::CASES,
    friction::CASES,
    ropes::CASES,
    wraps::CASES,
    grooves::CASES,
    seats::CASES,
    rope_life::CASES,
    irons::CASES,
    metals::CASES,
    criteria::CASES,
    cracks::CASES,
    measurements::CASES,
    units::CASES,
];
