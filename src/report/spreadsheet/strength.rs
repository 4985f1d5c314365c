//! Stresses at the governing place, what the iron may bear, one turn of the wheel, cracks.

use super::file::{Cell, Table};
use crate::elastic::principal_values;
use crate::strength::surface_crack::Shape;
use crate::study::{CheckResult, Lever, Outcome};
use std::f64::consts::PI;

/// Angles of the course around the wheel: every second degree, and the turn closes.
const ANGLES: i32 = 180;

pub(super) fn stresses(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "stress",
        &["stress", "found (MPa)", "error bar (MPa)", "allowed (MPa)", "factor on ultimate"],
    );
    let governing = &result.governing;
    let mut row = |name: &str, found: f64, bar: f64| {
        table.row([
            Cell::text(name),
            found.into(),
            bar.into(),
            result.allowable_mpa.into(),
            (result.metal.tensile_mpa / found).into(),
        ]);
    };
    row("peak", governing.peak.principal_mpa[0], governing.bound_mpa);
    if let Some(notch) = &governing.notch {
        row("averaged at the iron's own distance", notch.notch_mpa, notch.bound_mpa);
    }
    if let Some(wall) = &governing.wall {
        row("through the wall", wall.section_mpa, wall.section_bound_mpa);
    }
    table
}

pub(super) fn parts(result: &CheckResult) -> Table {
    let mut table = Table::new("parts", &["part of the section", "highest tension (MPa)"]);
    for part in &result.governing.parts {
        table.row([Cell::text(&part.part), part.peak_mpa.into()]);
    }
    table
}

pub(super) fn hardness_band(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "hardness_band",
        &[
            "level",
            "lowest hardness read (HB)",
            "relative hardness",
            "tensile strength (MPa)",
            "allowable (MPa)",
            "least factor on ultimate",
            "answer at this strength",
            "may accept",
        ],
    );
    let band = result.hardness_band.iter();
    for (band, level) in band.flat_map(|band| band.levels.iter().map(move |level| (band, level))) {
        table.row([
            Cell::text(level.name),
            band.lowest_hardness_hb.into(),
            level.relative_hardness.into(),
            level.tensile_mpa.into(),
            level.allowable_mpa.into(),
            level.least_factor.into(),
            Cell::text(level.word.text().to_lowercase()),
            Cell::yes(level.may_accept),
        ]);
    }
    table
}

pub(super) fn settling(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "slot_corner",
        &[
            "what is changed",
            "stated (mm)",
            "furthest possible (mm)",
            "settles it from (mm)",
            "analysed at (mm)",
            "highest tension there (MPa)",
            "error bar (MPa)",
        ],
    );
    for settled in &result.governing.settle {
        let lever = match settled.lever {
            Lever::CornerRadius => "radius of the slot's corners",
            Lever::CutDepth => "depth of the cut",
        };
        table.row([
            Cell::text(lever),
            settled.stated_mm.into(),
            settled.furthest_mm.into(),
            settled.proposed_mm.into(),
            settled.analysed_mm.into(),
            settled.peak_mpa.into(),
            settled.bound_mpa.into(),
        ]);
    }
    table
}

/// The stress that the place of the highest tension goes through.
pub(super) fn one_turn(outcome: &Outcome) -> Table {
    let mut table = Table::new(
        "one_turn",
        &[
            "angle from the middle of the wrap (deg)",
            "radial stress (MPa)",
            "hoop stress (MPa)",
            "axial stress (MPa)",
            "shear r-theta (MPa)",
            "shear theta-z (MPa)",
            "shear r-z (MPa)",
            "first principal stress (MPa)",
            "second principal stress (MPa)",
            "third principal stress (MPa)",
        ],
    );
    let (solution, node) = (&outcome.analysis.solution, outcome.result.governing.peak.node);
    for step in 0..=ANGLES {
        let theta = PI * (2.0 * f64::from(step) / f64::from(ANGLES) - 1.0);
        let stress = solution.stress(0, node, theta);
        let [a, b, c] = principal_values(&stress);
        let mut row = vec![Cell::Number(360.0 * f64::from(step) / f64::from(ANGLES) - 180.0)];
        row.extend(stress.iter().chain(&[a, b, c]).map(|mpa| Cell::Number(*mpa)));
        table.rows.push(row);
    }
    table
}

pub(super) fn fatigue(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "stress_cycle",
        &[
            "least factor on the endurance limit",
            "error bar of the factor",
            "where",
            "amplitude (MPa)",
            "mean (MPa)",
            "highest at (deg)",
            "lowest at (deg)",
            "endurance limit used (MPa)",
            "endurance limit of a machined bar (MPa)",
            "factor without credit for compression",
            "where, without credit",
            "turns in a year, at most",
        ],
    );
    if let Some(turns) = &result.turns {
        table.row([
            turns.least_factor.into(),
            turns.factor_bound.into(),
            Cell::text(&turns.words),
            turns.amplitude_mpa.into(),
            turns.mean_mpa.into(),
            turns.highest_at_rad.to_degrees().into(),
            turns.lowest_at_rad.to_degrees().into(),
            turns.endurance_mpa.into(),
            turns.bar_endurance_mpa.into(),
            turns.uncredited_factor.into(),
            Cell::text(&turns.uncredited_words),
            turns.turns_per_year.into(),
        ]);
    }
    table
}

pub(super) fn cracks(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "cracks",
        &[
            "where",
            "chosen",
            "r (mm)",
            "z (mm)",
            "wall (mm)",
            "surface stress (MPa)",
            "membrane stress (MPa)",
            "bending stress (MPa)",
            "crack",
            "toughness (N/mm^1.5)",
            "depth that reaches it (mm)",
            "share of the wall",
            "published solution covers up to this share",
        ],
    );
    let flaws = result.flaws.iter();
    for (flaw, crack) in flaws.flat_map(|flaw| flaw.cracks.iter().map(move |crack| (flaw, crack))) {
        let shape = match crack.shape {
            Shape::Long => "long along the surface",
            Shape::HalfRound => "half-round",
        };
        table.row([
            Cell::text(&flaw.words),
            Cell::yes(flaw.chosen),
            flaw.at.r.into(),
            flaw.at.z.into(),
            flaw.wall_mm.into(),
            flaw.surface_mpa.into(),
            flaw.membrane_mpa.into(),
            flaw.bending_mpa.into(),
            Cell::text(shape),
            crack.toughness_n_mm15.into(),
            crack.depth_mm.into(),
            crack.wall_share.into(),
            crack.covered_wall_share.into(),
        ]);
    }
    table
}
