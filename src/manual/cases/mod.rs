//! The catalogue, a file per chapter or part of one. Every value names its source beside it.

use super::Case;

mod consequences;
mod corner;
mod cracks;
mod criteria;
mod deepest;
mod discs;
mod double_wrap;
mod doubt;
mod error_bar;
mod even_loads;
mod friction;
mod groove_shapes;
mod grooves;
mod half_plane;
mod irons;
mod manufactured;
mod measurements;
mod metals;
mod notches;
mod plates;
mod rings;
mod rope_life;
mod ropes;
mod seats;
mod series;
mod shafts;
pub(crate) mod shapes;
mod sheet;
mod shells;
mod tunnel;
mod turns;
mod units;
mod wall_cracks;
mod walls;
mod what_if;
mod wraps;

/// All cases by chapter, in the order of the manual.
pub static ALL: &[&[Case]] = &[
    even_loads::CASES,
    half_plane::CASES,
    shells::CASES,
    plates::CASES,
    tunnel::CASES,
    notches::CASES,
    corner::CASES,
    shafts::CASES,
    discs::CASES,
    error_bar::CASES,
    rings::CASES,
    manufactured::CASES,
    series::CASES,
    friction::CASES,
    ropes::CASES,
    wraps::CASES,
    double_wrap::CASES,
    grooves::CASES,
    groove_shapes::CASES,
    seats::CASES,
    rope_life::CASES,
    consequences::CASES,
    irons::CASES,
    metals::CASES,
    criteria::CASES,
    turns::CASES,
    cracks::CASES,
    wall_cracks::CASES,
    measurements::CASES,
    walls::CASES,
    deepest::CASES,
    what_if::CASES,
    units::CASES,
    doubt::CASES,
];
