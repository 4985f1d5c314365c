//! JSON and CSV: every number with its unit in its key or head.

use crate::report::Input;
use crate::report::spreadsheet::file::{Cell, Table};
use crate::study::grooves::{Family, GrooveStudy, JudgedCut};
use crate::survey::Survey;
use serde_json::json;

/// The whole comparison and search as one JSON document.
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn grooves_json(
    survey: &Survey,
    study: &GrooveStudy,
    input: &Input,
) -> Result<String, serde_json::Error> {
    let document = json!({
        "schema": "rimproof.grooves/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": {
            "depth": "of the rope's lowest point below the rim edge",
            "reserve": "a ratio: 1 just meets the rule, more is better",
            "sign": "tension positive",
            "units": "unit of every number stands in its key; keys without unit are plain numbers"
        },
        "input": input,
        "exit_code": super::grooves_exit_code(study),
        "result": study,
        "survey": survey,
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

/// Heads of the columns that every cut has; the cases of traction follow.
const HEADS: [&str; 24] = [
    "list",
    "shape",
    "family",
    "angle (deg)",
    "flanks hardened",
    "stated in survey",
    "depth (mm)",
    "tool depth (mm)",
    "pitch diameter (mm)",
    "diameter ratio D/d",
    "car speed after (m/s)",
    "wall left (mm)",
    "peak tension (MPa)",
    "error bar (MPa)",
    "least factor on ultimate",
    "stress reserve",
    "traction reserve",
    "seat pressure (MPa)",
    "pressure yardstick (MPa)",
    "equivalent bends",
    "rope-life factor",
    "answer",
    "every check holds that a cut can change",
    "why",
];

/// One row for each cut that was checked in full, first the comparison, then the trade-off.
///
/// # Errors
/// When the text cannot be formed.
pub fn grooves_csv(study: &GrooveStudy) -> Result<Vec<u8>, csv::Error> {
    let cases: Vec<String> = study
        .compared
        .iter()
        .filter_map(|cut| cut.found.as_ref())
        .map(|found| &found.traction)
        .find(|facts| !facts.is_empty())
        .into_iter()
        .flatten()
        .map(|fact| fact.case.clone())
        .collect();
    let mut table = Table::new("grooves", &HEADS);
    for case in &cases {
        table.heads.extend(
            ["friction factor", "limit ratio", "tension ratio"].map(|what| format!("{what}, {case}")),
        );
    }
    let all = study.compared.iter().map(|cut| ("side by side", cut));
    let all = all.chain(study.search.trade_off.iter().map(|cut| ("trade-off", cut)));
    for (list, cut) in all.chain(study.search.set_aside.iter().map(|cut| ("set aside", cut))) {
        let mut row = record(list, cut);
        for case in &cases {
            let facts = cut.found.iter().flat_map(|found| &found.traction);
            let fact = facts.into_iter().find(|fact| fact.case == *case);
            row.extend([
                fact.map(|fact| fact.friction).into(),
                fact.map(|fact| fact.limit).into(),
                fact.map(|fact| fact.ratio).into(),
            ]);
        }
        table.rows.push(row);
    }
    table.bytes()
}

fn record(list: &str, cut: &JudgedCut) -> Vec<Cell> {
    let (proposal, found) = (&cut.proposal, cut.found.as_ref());
    let family = match proposal.family {
        Family::Round => "round",
        Family::Undercut => "undercut",
        Family::V => "V",
        Family::Measured => "as measured",
    };
    let life = found.and_then(|found| found.rope_life);
    vec![
        Cell::text(list),
        Cell::text(&proposal.name),
        Cell::text(family),
        proposal.angle_rad.map(f64::to_degrees).into(),
        proposal.hardened.map_or(Cell::Empty, Cell::yes),
        Cell::yes(proposal.stated),
        cut.depth_mm.into(),
        found.map(|found| found.bottom_depth_mm).into(),
        cut.pitch_diameter_mm.into(),
        cut.diameter_ratio.into(),
        found.and_then(|found| found.car_speed_after_m_s).into(),
        found.and_then(|found| found.wall_left_mm).into(),
        found.map(|found| found.peak_mpa).into(),
        found.map(|found| found.peak_bound_mpa).into(),
        found.map(|found| found.least_factor).into(),
        found.map(|found| found.stress_reserve).into(),
        found.and_then(|found| found.traction_reserve).into(),
        found.and_then(|found| found.pressure_mpa).into(),
        found.and_then(|found| found.pressure_limit_mpa).into(),
        life.map(|life| life.equivalent_bends).into(),
        life.map(|life| life.rope_life_factor).into(),
        Cell::text(found.map_or("cannot be cut".into(), |found| found.word.text().to_lowercase())),
        Cell::yes(found.is_some_and(crate::study::grooves::Found::holds)),
        Cell::maybe(found.map_or(cut.fault.as_ref(), |found| Some(&found.reason))),
    ]
}
