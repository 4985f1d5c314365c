//! JSON and CSV: every number with its unit in its key or head.

use crate::report::Input;
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
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut heads: Vec<String> = HEADS.map(str::to_owned).to_vec();
    for case in &cases {
        heads.extend(
            ["friction factor", "limit ratio", "tension ratio"].map(|what| format!("{what}, {case}")),
        );
    }
    writer.write_record(&heads)?;
    let all = study.compared.iter().map(|cut| ("side by side", cut));
    let all = all.chain(study.search.trade_off.iter().map(|cut| ("trade-off", cut)));
    for (list, cut) in all.chain(study.search.set_aside.iter().map(|cut| ("set aside", cut))) {
        let mut row = record(list, cut);
        for case in &cases {
            let facts = cut.found.iter().flat_map(|found| &found.traction);
            let fact = facts.into_iter().find(|fact| fact.case == *case);
            row.extend([
                number(fact.map(|fact| fact.friction)),
                number(fact.map(|fact| fact.limit)),
                number(fact.map(|fact| fact.ratio)),
            ]);
        }
        writer.write_record(&row)?;
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}

fn record(list: &str, cut: &JudgedCut) -> Vec<String> {
    let (proposal, found) = (&cut.proposal, cut.found.as_ref());
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    let family = match proposal.family {
        Family::Round => "round",
        Family::Undercut => "undercut",
        Family::V => "V",
        Family::Measured => "as measured",
    };
    let life = found.and_then(|found| found.rope_life);
    vec![
        list.to_owned(),
        proposal.name.clone(),
        family.to_owned(),
        number(proposal.angle_rad.map(f64::to_degrees)),
        proposal.hardened.map_or(String::new(), yes),
        yes(proposal.stated),
        number(Some(cut.depth_mm)),
        number(found.map(|found| found.bottom_depth_mm)),
        number(Some(cut.pitch_diameter_mm)),
        number(Some(cut.diameter_ratio)),
        number(found.and_then(|found| found.car_speed_after_m_s)),
        number(found.and_then(|found| found.wall_left_mm)),
        number(found.map(|found| found.peak_mpa)),
        number(found.map(|found| found.peak_bound_mpa)),
        number(found.map(|found| found.least_factor)),
        number(found.map(|found| found.stress_reserve)),
        number(found.and_then(|found| found.traction_reserve)),
        number(found.and_then(|found| found.pressure_mpa)),
        number(found.and_then(|found| found.pressure_limit_mpa)),
        number(life.map(|life| life.equivalent_bends)),
        number(life.map(|life| life.rope_life_factor)),
        found.map_or("cannot be cut".into(), |found| found.word.text().to_lowercase()),
        yes(found.is_some_and(crate::study::grooves::Found::holds)),
        found.map_or_else(|| cut.fault.clone().unwrap_or_default(), |found| found.reason.clone()),
    ]
}

/// Six decimals hold every quantity here far beyond what is known of it; empty where there is none.
fn number(value: Option<f64>) -> String {
    value.map_or(String::new(), |value| {
        let text = format!("{value:.6}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    })
}
