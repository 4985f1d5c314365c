//! The doubt of the factor: as a page with bars of plain characters, and as JSON.

use super::Input;
use super::layout::Layout;
use super::page::proof;
use crate::manual::Citation;
use crate::study::doubt::{Band, DoubtResult, SharedDoubt};
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use anstyle::Style;
use comfy_table::CellAlignment;
use serde_json::json;
use std::fmt::Write as _;

/// Columns of a bar that stands for all of the variance.
const BAR: usize = 40;

/// The whole page; `colour` marks titles, `width` is the terminal's.
pub fn doubt_page(
    survey: &Survey,
    result: &DoubtResult,
    citations: &[Citation],
    input: &Input,
    colour: bool,
    width: usize,
) -> String {
    let layout = Layout::new(colour, width);
    let mut out = String::new();
    layout.head(survey, input, &mut out);
    answer(&layout, survey, result, &mut out);
    quantities(&layout, result, &mut out);
    bars(&layout, result, &mut out);
    remedies(&layout, result, &mut out);
    layout.list("How far to trust these numbers", &trust(survey, result), &mut out);
    layout.list(
        "Verified beforehand, case by case (rimproof verify reruns them here)",
        &proof(citations),
        &mut out,
    );
    layout.list("What this page is, and what it is not", &result.cautions, &mut out);
    out
}

fn answer(layout: &Layout, survey: &Survey, result: &DoubtResult, out: &mut String) {
    let required = result.required_factor;
    let first = format!("PROBABILITY THAT THE FACTOR IS AT LEAST {required}: {}", probability(result));
    let _ = writeln!(out, "\n{}", layout.paint(&first, Style::new().bold()));
    let (share, sampling) = (result.share, result.sampling);
    let mut text = format!(
        "{} of {} samples reach it; samples without end would give {} to {} % (95 % confidence, Wilson).",
        share.count,
        share.samples,
        percent(sampling.low),
        percent(sampling.high)
    );
    if result.samples_without_section > 0 {
        let _ = write!(
            text,
            " {} samples have less wall than can be analysed; they count as not reaching it.",
            result.samples_without_section
        );
    }
    layout.paragraph(&text, "", out);
    let Band { p05, p50, p95 } = result.band;
    layout.paragraph(
        &format!(
            "Factor on ultimate strength: 5 % of the samples lie below {p05:.1}, half below {p50:.1}, 95 % below {p95:.1}."
        ),
        "",
        out,
    );
    let times = result.strength_times_needed;
    let needed = if p05 <= 0.0 {
        "No strength makes 95 samples in a hundred reach it: too many have no wall that can be analysed."
            .to_owned()
    } else if times <= 1.0 {
        format!("95 samples in a hundred and more reach {required}.")
    } else {
        format!(
            "For 95 samples in a hundred to reach {required} the strength would have to be {times:.3} times what is taken ({} in its middle), or the stress {:.1} % lower.",
            survey.print.show(Quantity::Stress, times * result.strength_middle_mpa),
            100.0 * (1.0 - 1.0 / times)
        )
    };
    layout.paragraph(&needed, "", out);
    let check = &result.check;
    layout.paragraph(
        &format!(
            "The check at the survey's own values stands as it is: {}, factor {:.1} in the {}; place around the rim: {}. It puts the hottest rope where it is worst; here it may run in any groove that the survey leaves open.",
            check.word.text(),
            check.least_factor,
            check.peak_place,
            check.place
        ),
        "",
        out,
    );
}

/// The probability in words: never all or nothing, which no number of samples can show.
fn probability(result: &DoubtResult) -> String {
    let share = result.share;
    if share.count == share.samples {
        return format!("at least {} %", percent_down(result.sampling.low));
    }
    if share.count == 0 {
        return format!("at most {} %", percent_up(result.sampling.high));
    }
    format!("{} %", percent(share.value()))
}

/// More decimals near the ends, where they tell something.
fn percent(share: f64) -> String {
    let decimals = if share.min(1.0 - share) < 0.01 { 2 } else { 1 };
    format!("{:.decimals$}", 100.0 * share)
}

fn percent_down(share: f64) -> String {
    format!("{:.2}", (1e4 * share).floor() / 100.0)
}

fn percent_up(share: f64) -> String {
    format!("{:.2}", (1e4 * share).ceil() / 100.0)
}

fn quantities(layout: &Layout, result: &DoubtResult, out: &mut String) {
    layout.title("What is in doubt (plus or minus: 95 of 100 values lie within)", out);
    let mut table = layout.table(&["value", "taken as", "on whose word"]);
    table.column_iter_mut().for_each(|column| column.set_cell_alignment(CellAlignment::Left));
    for SharedDoubt { doubtful, .. } in &result.quantities {
        table.add_row(vec![doubtful.name.to_owned(), doubtful.taken_as.clone(), doubtful.standing.clone()]);
    }
    let _ = writeln!(out, "{table}");
}

/// Shares below zero are the estimate's own noise about nothing.
fn bars(layout: &Layout, result: &DoubtResult, out: &mut String) {
    layout.title("Where the doubt comes from (share of the variance of the factor's logarithm)", out);
    let mut list: Vec<&SharedDoubt> = result.quantities.iter().collect();
    list.sort_by(|a, b| b.share.first.total_cmp(&a.share.first));
    let width = list.iter().map(|one| one.doubtful.name.len()).max().unwrap_or(0);
    let room = BAR.min(layout.width.saturating_sub(width + 16)).max(10);
    for SharedDoubt { doubtful, share } in list {
        let first = share.first.clamp(0.0, 1.0);
        let length = (first * room as f64).round() as usize;
        let _ = writeln!(
            out,
            "{:width$}  {}{}  {:.2} ± {:.2}",
            doubtful.name,
            "#".repeat(length),
            ".".repeat(room - length),
            first,
            (2.0 * share.first_error).max(0.005)
        );
    }
    let together: f64 = result.quantities.iter().map(|one| one.share.first.max(0.0)).sum();
    if together < 0.95 {
        layout.paragraph(
            &format!(
                "The remaining {:.2} belong to no value alone: they come from several being off at once.",
                1.0 - together
            ),
            "",
            out,
        );
    }
}

fn remedies(layout: &Layout, result: &DoubtResult, out: &mut String) {
    layout.title("Which measurement would help (factor below which 5 % and 95 % lie)", out);
    layout.paragraph(&result.conclusion, "", out);
    let mut table = layout.table(&["measurement", "factor from", "to", "width left"]);
    let mut row = |words: &str, band: Band, ratio: f64| {
        table.add_row(vec![
            words.to_owned(),
            format!("{:.1}", band.p05),
            format!("{:.1}", band.p95),
            format!("{:.0} %", 100.0 * ratio),
        ]);
    };
    row("as surveyed", result.band, 1.0);
    for remedy in &result.remedies {
        row(&remedy.measurement, remedy.band, remedy.width_ratio);
    }
    let _ = writeln!(out, "{table}");
}

fn trust(survey: &Survey, result: &DoubtResult) -> Vec<String> {
    let surface = &result.surface;
    let percent = |part: f64| format!("{:.1} %", 100.0 * part);
    let differences = || surface.tested.iter().map(|one| one.analysis / one.surface - 1.0);
    let mean = differences().sum::<f64>() / surface.tested.len().max(1) as f64;
    let mut list = vec![
        format!(
            "Every sample's factor comes from a response surface, one for each rope that may be the hottest: {} fitted to {} load cases on {} sections, corrected to the check's refined stress. Leave-out error: {} (root mean square; PRESS, Allen 1974).",
            surface.surfaces,
            surface.coarse_cases,
            surface.coarse_analyses,
            percent(surface.left_out_rms)
        ),
        format!(
            "{} full analyses at values drawn at random differ from its factor by {} at most, and by {:+.1} % on average. {} (root mean square) are drawn as additional scatter of every sample, by Student's t with as many degrees of freedom as analyses; --full N runs more of them.",
            surface.tested.len(),
            percent(differences().map(f64::abs).fold(0.0, f64::max)),
            100.0 * mean,
            percent(surface.misfit_rms)
        ),
        format!(
            "Shares of variance: first order by Saltelli et al. (2010), total in the JSON by Jansen (1999). Seed {}: the same seed gives the same page, whatever the number of threads.",
            result.seed
        ),
    ];
    if let Some(wall) = surface.least_wall_mm {
        list.push(format!(
            "The thinnest wall analysed is {}; thicker walls than analysed count as the thickest analysed.",
            survey.print.show(Quantity::Length, wall)
        ));
    }
    list
}

/// The whole answer as one JSON document.
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn doubt_json(
    survey: &Survey,
    result: &DoubtResult,
    citations: &[Citation],
    input: &Input,
) -> Result<String, serde_json::Error> {
    let document = json!({
        "schema": "rimproof.doubt/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": {
            "units": "unit of every number stands in its key; keys without unit are plain numbers; shares from 0 to 1",
            "plus_or_minus": "two standard deviations"
        },
        "input": input,
        "probability": result.share.value(),
        "result": result,
        "verified_by": citations,
        "survey": survey,
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}
