//! All checks of one survey, from the numbers that the analyses gave.

mod codes;
mod consequences;
mod geometry;
mod hardness;
mod notes;
mod strength;
mod turns;
mod walls;

pub(super) use consequences::failing_as_found;
pub(super) use geometry::EQUAL_MM;
pub(super) use notes::{heads, notes};

use super::Turns;
use super::consequences::Consequences;
use super::iron::HardnessBand;
use super::places::Around;
use super::result::{Facts, Governing, PlaceResult};
use crate::material::Metal;
use crate::section::{Section, State, UncleanGroove};
use crate::survey::Survey;
use crate::verdict::Check;
use std::ops::Deref;

/// What the checks without a stress look at.
#[derive(Clone, Copy)]
pub(super) struct Inputs<'a> {
    pub survey: &'a Survey,
    pub state: State,
    pub metal: &'a Metal,
    pub safety_factor: f64,
    pub around: &'a Around,
    pub places: &'a [PlaceResult],
    pub facts: &'a Facts,
    pub unclean: &'a [UncleanGroove],
    pub section: &'a Section,
    pub consequences: &'a Consequences,
}

impl Inputs<'_> {
    fn allowable_mpa(&self) -> f64 {
        self.metal.tensile_mpa / self.safety_factor
    }
}

/// The same with the stress found, for the checks of strength.
#[derive(Clone, Copy)]
pub(super) struct Stressed<'a> {
    pub inputs: Inputs<'a>,
    pub governing: &'a Governing,
    /// What the hardness leaves open; `None` where it tells nothing, and while its own levels are judged.
    pub band: Option<&'a HardnessBand>,
    pub turns: Option<&'a Turns>,
}

impl<'a> Deref for Stressed<'a> {
    type Target = Inputs<'a>;

    fn deref(&self) -> &Inputs<'a> {
        &self.inputs
    }
}

/// Checks in the order in which a reader wants them.
pub(super) fn checks(stressed: &Stressed) -> Vec<Check> {
    let mut checks = strength::checks(stressed);
    if let Some(band) = stressed.band {
        hardness::apply(&mut checks, stressed, band);
    }
    checks.extend(turns::checks(stressed));
    checks.extend(without_stress(stressed));
    checks
}

/// The checks that need no stress.
pub(super) fn without_stress(inputs: &Inputs) -> Vec<Check> {
    let mut checks = walls::checks(inputs);
    checks.extend(codes::checks(inputs));
    checks.extend(consequences::checks(inputs));
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
