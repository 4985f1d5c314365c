//! All checks of one survey, from the numbers that the analyses gave.

mod codes;
mod geometry;
mod notes;
mod strength;
mod turns;
mod walls;

pub(super) use notes::{heads, notes};

use super::Turns;
use super::places::Around;
use super::result::{Facts, Governing, PlaceResult};
use crate::material::Metal;
use crate::section::{Section, State, UncleanGroove};
use crate::survey::Survey;
use crate::verdict::Check;

/// Everything the checks look at.
pub(super) struct Inputs<'a> {
    pub survey: &'a Survey,
    pub state: State,
    pub metal: &'a Metal,
    pub safety_factor: f64,
    pub around: &'a Around,
    pub places: &'a [PlaceResult],
    pub governing: &'a Governing,
    pub facts: &'a Facts,
    pub unclean: &'a [UncleanGroove],
    pub section: &'a Section,
    pub turns: Option<&'a Turns>,
}

impl Inputs<'_> {
    fn allowable_mpa(&self) -> f64 {
        self.metal.tensile_mpa / self.safety_factor
    }
}

/// Checks in the order in which a reader wants them.
pub(super) fn checks(inputs: &Inputs) -> Vec<Check> {
    let mut checks = strength::checks(inputs);
    checks.extend(turns::checks(inputs));
    checks.extend(walls::checks(inputs));
    checks.extend(codes::checks(inputs));
    checks.extend(geometry::checks(inputs));
    checks
}

/// What every result says about itself.
pub(super) const CAUTIONS: [&str; 6] = [
    "This is an engineering aid, not an approval. The code in force, the authority having jurisdiction and a licensed engineer decide.",
    "It judges the rim and web of the stated section only: not shaft, bolts, hub fit, bearings, ropes or brake.",
    "It does not know of cracks, porosity, chill or repairs in this casting. A visible crack takes the wheel out of service whatever the numbers say.",
    "The iron is taken as linear elastic and alike everywhere; the strength stated or assumed must be that of this casting.",
    "The thinnest section is taken all the way round. Independent three-dimensional analyses of a rim whose 14 mm wall was shifted by 3 mm gave a highest tension within 1 % of this model; it carries no hidden margin.",
    "A measurement that is wrong makes the answer wrong: check datum, units and the ultrasonic velocity on this casting.",
];
