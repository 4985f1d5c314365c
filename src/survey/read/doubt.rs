//! How far the survey's values may be off: the optional table `[doubt]`.
//!
//! Owns its keys and what of them belongs to this sheave. Lacks stand-ins: what is not stated stays so, and
//! the study of the doubt names its own.

use super::super::form::Bounds::{Between, NotNegative};
use super::super::form::{Bounds, Form, Section, field};
use super::super::schema::*;
use super::Draft;
use super::loads::MOST_GROOVES;
use crate::units::Kind;

pub(super) const DOUBT_KEYS: &[&str] = &[
    "wall",
    "seat_depth",
    "cut_depth",
    "strength_from",
    "strength",
    "masses",
    "tensions",
    "tension_spread",
    "hottest_groove",
];

const PART: Bounds = Between(0.0, 0.5, "from 0 % to 50 %");

pub(super) fn doubt(form: &mut Form, root: &Section<'_>, draft: &Draft) -> Doubt {
    let sec = form.section(root, "doubt", DOUBT_KEYS);
    let mut length = |key, what| form.quantity(&sec, field(key, Kind::Length, NotNegative, what));
    let wall_mm = length("wall", "what the thinnest wall may be off, plus or minus");
    let seat_depth_mm = length("seat_depth", "what a seat depth may be off, plus or minus");
    let cut_depth_mm = length("cut_depth", "what the cut's depth may be off, plus or minus");
    let mut part = |key, what| form.quantity(&sec, field(key, Kind::Ratio, PART, what));
    let strength = part("strength", "what the strength may be off, plus or minus");
    let masses = part("masses", "what the masses may be off, plus or minus");
    let tensions = part("tensions", "what the tensions may be off, plus or minus");
    let tension_spread = part("tension_spread", "what the spread of the tensions may be off, plus or minus");
    let kinds = [("strength in use", StrengthDoubt::InUse), ("hardness band", StrengthDoubt::HardnessBand)];
    let strength_from = form.choice(&sec, "strength_from", &kinds).unwrap_or_default();
    let hottest = form.whole(&sec, "hottest_groove", 1, MOST_GROOVES).map(|groove| groove as usize);
    let doubt = Doubt {
        wall_mm,
        seat_depth_mm,
        cut_depth_mm,
        strength_from,
        strength,
        masses,
        tensions,
        tension_spread,
        hottest_groove: hottest,
    };
    fits(form, draft, &doubt);
    unused(form, &sec, draft, strength_from);
    doubt
}

/// Statements that contradict the rest of the survey.
fn fits(form: &mut Form, draft: &Draft, doubt: &Doubt) {
    if let (Some(groove), Some(grooves)) = (doubt.hottest_groove, &draft.grooves)
        && grooves.roped.get(groove - 1) != Some(&true)
    {
        let message = format!("doubt.hottest_groove is {groove}, and no rope runs in such a groove.");
        form.error("survey/conflict", "doubt.hottest_groove", message, "write the number of a roped groove");
    }
    if let (StrengthDoubt::HardnessBand, Some(metal)) = (doubt.strength_from, &draft.material) {
        let iron = matches!(metal.kind, MetalKind::GrayIron | MetalKind::Unknown);
        if !iron || metal.hardness_hb.is_empty() {
            let why = if iron { "no hardness is measured" } else { "the metal is not gray iron" };
            form.error(
                "survey/conflict",
                "doubt.strength_from",
                format!("doubt.strength_from is \"hardness band\", and {why}."),
                "the band belongs to gray iron with a measured hardness; write \"strength in use\"",
            );
        }
    }
}

/// Warns of statements from which nothing can be formed here.
fn unused(form: &mut Form, sec: &Section<'_>, draft: &Draft, strength: StrengthDoubt) {
    let mut without = |keys: &[&str], by: &str| {
        let used: Vec<&str> = DOUBT_KEYS.iter().copied().filter(|key| !keys.contains(key)).collect();
        form.unused(sec, DOUBT_KEYS, &used, by);
    };
    match draft.load.as_ref().map(|load| &load.given) {
        Some(Given::Masses) => without(&["tensions"], "load.given = \"masses\""),
        Some(Given::Tensions { .. }) => without(&["masses"], "load.given = \"tensions\""),
        Some(Given::PerRope { .. }) => {
            without(&["masses", "tension_spread", "hottest_groove"], "load.given = \"tensions per rope\"");
        }
        Some(Given::DriveSheave) | None => {}
    }
    if draft.ropes.count == Some(1) {
        without(&["tension_spread", "hottest_groove"], "a sheave with one rope");
    }
    if draft.cut == Some(Cut::None) {
        without(&["cut_depth"], "cut.plan = \"none\"");
    }
    if draft.walls.as_ref().is_some_and(|walls| matches!(walls.underside, Underside::Solid)) {
        without(&["wall", "seat_depth"], "walls.by = \"solid\"");
    }
    if strength == StrengthDoubt::HardnessBand {
        without(&["strength"], "doubt.strength_from = \"hardness band\"");
    }
}
