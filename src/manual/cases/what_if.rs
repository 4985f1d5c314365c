//! Values set from outside a survey, and the outcomes of two checks side by side.

use super::sheet::{NoFiles, Sheet, drafted, seat};
use crate::diagnostics::Look;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::study::{Asked, CheckResult, Comparison, check, compare};
use crate::survey::{Survey, read_with};
use std::path::Path;

const HAND: Source = Source::exact("Arithmetic on the two surveys by hand");
const FRICTION: Source = Source::published(
    "EN 81-50:2020, 5.11 (through a secondary copy): e^(fα) of a round seat, from the stated wraps by hand",
);
const ROUNDING: (Tolerance, &str) = (Tolerance::Absolute(1e-9), "sums of a few numbers, rounding only");

pub(super) static CASES: &[Case] = &[Case {
    name: "what-if",
    title: "A survey with values set from the command line, beside the survey itself",
    chapter: Chapter::Measurements,
    about: "A cut is made deeper by setting the depth in inches, and the wrap is made smaller. What moves in wall, \
            diameters and traction follows by hand from the two values alone.",
    features: &[Feature::WhatIf, Feature::WallLeft, Feature::DiameterRatio, Feature::TractionLimit],
    run: what_if,
}];

fn what_if() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(700.0, 500.0, 3);
    sheet.groove = seat(30.0, 0.0, 6.9);
    sheet.load = "tension_spread = \"0 %\"\n";
    sheet.walls = drafted(0.0, 24.0);
    sheet.cut = "plan = \"to depth\"\ndepth = \"12 mm\"".to_owned();
    let text = sheet.text();
    let read = |set: &[String]| -> Result<Survey, CaseFault> {
        let reading = read_with(text.as_bytes(), Path::new("survey.toml"), &NoFiles, set, "--set");
        let diagnostics = reading.diagnostics;
        reading.survey.ok_or_else(|| CaseFault::Other(diagnostics.render(Look::Plain)))
    };
    let found = |survey: &Survey| -> Result<CheckResult, CaseFault> {
        let asked = &Asked { judged_only: true, ..Asked::default() };
        Ok(check(survey, asked, &|_| ()).map_err(CaseFault::of)?.result)
    };
    let set = ["cut.depth=0.6 in".to_owned(), "roping.wrap=165 deg".to_owned()];
    let compared = compare(&found(&read(&[])?)?, &found(&read(&set)?)?);
    let deeper = 0.6 * 25.4 - 12.0;
    let mut rows = Vec::new();
    let mut row = |what: &str, unit, source, reference: f64, computed: f64| {
        rows.push(Row::new(what, unit, source, reference, computed).within(ROUNDING.0, ROUNDING.1));
    };
    row("depth of the cut: difference", "mm", HAND, deeper, moved(&compared, "cut_depth"));
    row("wall left: difference", "mm", HAND, -deeper, moved(&compared, "wall"));
    row("D/d: difference", "", HAND, -2.0 * deeper / 13.0, moved(&compared, "diameter_ratio"));
    // f = mu 4 (cos(gamma/2))/(pi - gamma + sin gamma) with mu = 0.1 for loading.
    let gamma = 30f64.to_radians();
    let friction = 0.1 * 4.0 * (gamma / 2.0).cos() / (std::f64::consts::PI - gamma + gamma.sin());
    let limit = |wrap_deg: f64| (friction * wrap_deg.to_radians()).exp();
    let difference = limit(165.0) - limit(180.0);
    row(
        "traction, loading: difference of the limit",
        "",
        FRICTION,
        difference,
        moved(&compared, "traction_limit"),
    );
    Ok(Record::of_rows(rows))
}

/// After less before of one number; no number where it is missing, so that nothing can hold.
fn moved(compared: &Comparison, key: &str) -> f64 {
    let row = compared.rows.iter().find(|row| row.key == key);
    row.and_then(|row| row.difference).map_or(f64::NAN, |difference| difference.value)
}
