//! Load cases, rope tensions, traction, and what other assumptions about the ropes would bring.

use super::file::{Cell, Table};
use crate::study::{CheckResult, TractionFact};
use crate::survey::Survey;

pub(super) fn cases(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "load_cases",
        &[
            "case",
            "judged",
            "mean tension of the heavy side (N)",
            "mean tension of the light side (N)",
            "highest tension (MPa)",
            "least factor on ultimate",
            "where",
        ],
    );
    let judged = &result.loads.judged;
    table.row([
        Cell::text(judged.kind.name()),
        Cell::yes(true),
        judged.mean_heavy_n().into(),
        judged.mean_light_n().into(),
        result.governing.peak.principal_mpa[0].into(),
        result.governing.least_factor.into(),
        Cell::text(&result.governing.peak_words),
    ]);
    for case in &result.cases {
        table.row([
            Cell::text(&case.name),
            Cell::yes(false),
            case.heavy_n.into(),
            case.light_n.into(),
            case.peak_mpa.into(),
            case.least_factor.into(),
            Cell::text(&case.peak_words),
        ]);
    }
    table
}

pub(super) fn tensions(survey: &Survey, result: &CheckResult) -> Table {
    let mut table = Table::new(
        "rope_tensions",
        &["case", "judged", "rope", "groove", "heavy side (N)", "light side (N)"],
    );
    let grooves: Vec<usize> = (0..survey.grooves.count())
        .filter(|index| survey.grooves.roped[*index])
        .map(|index| index + 1)
        .collect();
    let judged = std::iter::once((&result.loads.judged, true));
    for (case, judged) in judged.chain(result.loads.cases.iter().map(|case| (case, false))) {
        for (rope, (heavy, light)) in case.heavy_n.iter().zip(&case.light_n).enumerate() {
            table.row([
                Cell::text(case.kind.name()),
                Cell::yes(judged),
                Cell::Count(case.rope_in(rope) + 1),
                grooves.get(rope).map_or(Cell::Empty, |groove| Cell::Count(*groove)),
                (*heavy).into(),
                (*light).into(),
            ]);
        }
    }
    table
}

pub(super) fn traction(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "traction",
        &["grooves", "case", "tension ratio", "sense", "limit ratio", "friction factor"],
    );
    let mut rows = |state: &str, facts: &[TractionFact]| {
        for fact in facts {
            let sense = if fact.at_most { "at most" } else { "at least" };
            table.row([
                Cell::text(state),
                Cell::text(&fact.case),
                fact.ratio.into(),
                Cell::text(sense),
                fact.limit.into(),
                fact.friction.into(),
            ]);
        }
    };
    rows("now", &result.consequences.now.traction);
    if let Some(after) = &result.consequences.after {
        rows("after the cut", &after.traction);
    }
    table
}

pub(super) fn equal_ropes(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "equal_ropes",
        &[
            "tensions measured",
            "groove of the hottest rope",
            "its tension (N)",
            "mean tension (N)",
            "highest tension now (MPa)",
            "with equal ropes (MPa)",
            "least factor now",
            "with equal ropes",
            "where, with equal ropes",
            "change of the highest tension (share)",
        ],
    );
    if let Some(equal) = &result.equalised {
        table.row([
            Cell::yes(equal.measured),
            Cell::Count(equal.hottest_groove),
            equal.hottest_n.into(),
            equal.mean_n.into(),
            equal.peak_mpa.into(),
            equal.equal_peak_mpa.into(),
            equal.least_factor.into(),
            equal.equal_least_factor.into(),
            Cell::text(&equal.equal_peak_words),
            equal.relative_change.into(),
        ]);
    }
    table
}

pub(super) fn assumptions(result: &CheckResult) -> Table {
    let heads = ["assumption about the ropes", "highest tension (MPa)", "change (share)"];
    let mut table = Table::new("rope_assumptions", &heads);
    for variant in &result.variants {
        table.row([Cell::text(&variant.name), variant.peak_mpa.into(), variant.change.into()]);
    }
    table
}
