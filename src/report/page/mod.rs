//! The page a shop reads in its terminal.

mod checks;
mod consequences;
mod iron;
mod loads;
mod notch;
mod proof;
mod spread;
mod turns;
mod walls;

pub(super) use proof::proof;

use super::Input;
use super::layout::Layout;
use crate::manual::Citation;
use crate::section::State;
use crate::study::CheckResult;
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Word};
use anstyle::{AnsiColor, Style};
use std::fmt::Write as _;
use std::ops::Deref;

/// The whole page; `colour` marks the verdict, `width` is the terminal's.
pub fn check_page(
    survey: &Survey,
    result: &CheckResult,
    citations: &[Citation],
    input: &Input,
    colour: bool,
    width: usize,
) -> String {
    let page = Page { survey, result, layout: Layout::new(colour, width) };
    let mut out = String::new();
    page.head(survey, input, &mut out);
    page.verdict(&mut out);
    page.stress(&mut out);
    page.iron(&mut out);
    page.walls(&mut out);
    page.checks(&mut out);
    page.consequences(&mut out);
    page.loads(&mut out);
    page.spread(&mut out);
    page.turns(&mut out);
    page.flaws(&mut out);
    page.trust(&mut out);
    page.list(
        "Verified beforehand, case by case (rimproof verify reruns them here)",
        &proof(citations),
        &mut out,
    );
    page.list("What this answer assumes", &result.assumptions, &mut out);
    page.list("Not measured, and therefore not judged", &result.missing, &mut out);
    page.list("Cautions", &result.cautions, &mut out);
    out
}

struct Page<'a> {
    survey: &'a Survey,
    result: &'a CheckResult,
    layout: Layout,
}

/// A page is a layout with contents, so that titles and tables are called on it directly.
impl Deref for Page<'_> {
    type Target = Layout;

    fn deref(&self) -> &Layout {
        &self.layout
    }
}

impl Page<'_> {
    fn show(&self, kind: Quantity, value: f64) -> String {
        self.survey.print.show(kind, value)
    }

    /// "1720 ± 15 psi (11.9 ± 0.1 MPa)": the bound with the digits of the value.
    fn show_with_bound(&self, kind: Quantity, value: f64, bound: f64) -> String {
        let print = &self.survey.print;
        let like = |number: String, bound: f64| {
            let decimals = number.split_once('.').map_or(0, |(_, digits)| digits.len());
            let least = 10f64.powi(-(decimals as i32));
            format!("{number} ± {:.decimals$}", bound.max(least))
        };
        let own = print.unit(kind).map_or(bound, |unit| unit.from_inside(bound));
        let first = format!("{} {}", like(print.number(kind, value), own), print.name(kind));
        if print.name(kind) == kind.inside() {
            return first;
        }
        format!("{first} ({} {})", like(print.number_si(kind, value), bound), kind.inside())
    }

    fn amount(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => self.show(kind, amount.value),
            None => plain(amount.value),
        }
    }

    fn verdict(&self, out: &mut String) {
        let verdict = &self.result.verdict;
        let colour = match verdict.word {
            Word::MayBeCut | Word::MayStay => AnsiColor::Cyan,
            Word::Reject => AnsiColor::Magenta,
            Word::Undecided => AnsiColor::Yellow,
        };
        let style = Style::new().bold().fg_color(Some(colour.into()));
        let asked = match (self.result.state, self.result.cut_depth_mm) {
            (State::Cut, Some(depth)) => {
                format!("asked: cut all seats to {} below the rim edge", self.show(Quantity::Length, depth))
            }
            _ => "asked: judge the sheave as it is".to_owned(),
        };
        let _ = writeln!(out, "\n{}  ({asked})", self.paint(verdict.word.text(), style));
        for head in &verdict.heads {
            self.paragraph(head, "! ", out);
        }
        self.paragraph(&verdict.reason, "", out);
        for settle in &verdict.settle {
            self.paragraph(&format!("To settle it: {settle}"), "", out);
        }
    }

    fn stress(&self, out: &mut String) {
        let governing = &self.result.governing;
        let stress = |mpa: f64| self.show(Quantity::Stress, mpa);
        self.title("Highest tension", out);
        let place = &self.result.places[governing.place];
        self.paragraph(
            &format!(
                "{} in the {}; place around the rim: {}.",
                self.show_with_bound(Quantity::Stress, governing.peak.principal_mpa[0], governing.bound_mpa),
                governing.peak_words,
                place.name
            ),
            "",
            out,
        );
        let mut table = self.table(&["stress", "found", "allowed", "factor on ultimate"]);
        let ultimate = self.result.metal.tensile_mpa;
        let mut row = |name: &str, mpa: f64, bound: f64| {
            let allowed = self.result.allowable_mpa;
            table.add_row(vec![
                name.to_owned(),
                self.survey.print.show_bounded(Quantity::Stress, mpa, bound),
                stress(allowed),
                format!("{:.1}", ultimate / mpa),
            ]);
        };
        row("peak", governing.peak.principal_mpa[0], governing.bound_mpa);
        if let Some(notch) = &governing.notch {
            row("averaged at the iron's own distance", notch.notch_mpa, notch.bound_mpa);
        }
        if let Some(wall) = &governing.wall {
            row("through the wall (section)", wall.section_mpa, wall.section_bound_mpa);
        }
        let _ = writeln!(out, "{table}");
        self.notch(out);
        self.paragraph(
            &format!(
                "Smallest factor by the criterion for this metal: {:.1} in the {}.",
                governing.least_factor, governing.least_factor_words
            ),
            "",
            out,
        );
        let parts: Vec<String> = governing
            .parts
            .iter()
            .take(5)
            .map(|part| format!("{} {}", part.part, self.short_stress(part.peak_mpa)))
            .collect();
        self.paragraph(&format!("Highest tension by part: {}.", parts.join(", ")), "", out);
    }

    fn short_stress(&self, mpa: f64) -> String {
        let print = &self.survey.print;
        format!("{} {}", print.number(Quantity::Stress, mpa), print.name(Quantity::Stress))
    }
}

fn plain(value: f64) -> String {
    if value.fract() == 0.0 && value.abs() < 1e6 { format!("{value:.0}") } else { format!("{value:.2}") }
}
