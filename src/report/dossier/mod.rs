//! The report that leaves the desk: one page that says yes or no and why, and behind it everything it rests on.
//!
//! Gathers a finished check as a document; `paper` writes it as HTML and as PDF, `pictures` draws. The first page
//! cannot be turned off, and certifies nothing. The same survey gives the same bytes.

mod appendix;
mod consequences;
mod first_page;
mod hand;
mod inputs;
mod live;
mod loads;
mod pair;
mod stress;
mod trust;
mod words;

pub use pair::{CheckedPair, pair_html, pair_pdf};

use super::Input;
use super::paper::{Block, Document, Paper, PdfFault, contents, html, pdf, short};
use crate::manual::Citation;
use crate::section::{Section, State};
use crate::study::{ByHand, CheckResult, Outcome, by_hand};
use crate::survey::{Change, Survey};
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense};
use std::collections::BTreeMap;

/// A finished check with everything its report tells.
pub struct ReportBasis<'a> {
    pub survey: &'a Survey,
    pub outcome: &'a Outcome,
    pub citations: &'a [Citation],
    pub input: &'a Input,
    /// Every single value of the survey's file as it is written, by its path.
    pub values: &'a BTreeMap<String, String>,
}

/// The report as one page of HTML that needs nothing else.
#[must_use]
pub fn check_html(basis: &ReportBasis<'_>, paper: Paper) -> String {
    let dossier = Dossier::of(basis);
    let mut document = dossier.document();
    document.script = Some(live::SCRIPT.to_owned());
    html::page(&document, paper)
}

/// The report as a PDF.
///
/// # Errors
/// When a drawing or the file cannot be put together, which is a fault of the program.
pub fn check_pdf(basis: &ReportBasis<'_>, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    pdf::bytes(&Dossier::of(basis).document(), paper)
}

/// The paper that the survey's units go with.
#[must_use]
pub fn usual_paper(survey: &Survey) -> Paper {
    if survey.print.name(Quantity::Length) == "in" { Paper::Letter } else { Paper::A4 }
}

struct Dossier<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    result: &'a CheckResult,
    citations: &'a [Citation],
    input: &'a Input,
    values: &'a BTreeMap<String, String>,
    /// The governing place's section as found, where a cut is judged.
    found: Option<Section>,
    by_hand: ByHand,
    /// In front of every id of the page, and the wheel's name, where there are two of them.
    prefix: &'static str,
    wheel: Option<&'static str>,
}

impl<'a> Dossier<'a> {
    fn of(basis: &ReportBasis<'a>) -> Self {
        let ReportBasis { survey, outcome, citations, input, values } = *basis;
        let cut = outcome.result.state == State::Cut;
        let found = cut.then(|| Section::build(survey, State::Now, &outcome.place).ok()).flatten();
        let by_hand = by_hand(survey, outcome);
        Self {
            survey,
            outcome,
            result: &outcome.result,
            citations,
            input,
            values,
            found,
            by_hand,
            prefix: "",
            wheel: None,
        }
    }

    fn document(&self) -> Document {
        let job = &self.survey.job;
        let (name, sheave) = (short(&job.name, 48), short(&job.sheave, 48));
        let body = self.appendix();
        let mut blocks = self.first_page();
        blocks.push(Block::PageBreak);
        blocks.push(Block::heading(2, "Appendix", "appendix"));
        blocks.push(contents(&body, 2));
        blocks.extend(body);
        let set =
            |change: &Change| format!(" {}={}", change.path, change.after.as_deref().unwrap_or_default());
        let id = self.input.sha256.clone() + &self.input.set.iter().map(set).collect::<String>();
        let hash = &self.input.sha256[..12.min(self.input.sha256.len())];
        Document {
            title: format!("{name} · {sheave}"),
            foot: format!(
                "{}{name} · {sheave} · {} · sha256 {hash} · rimproof {} · no certificate",
                if self.input.set.is_empty() { "" } else { "WHAT IF · " },
                short(&self.input.file, 40),
                env!("CARGO_PKG_VERSION")
            ),
            id,
            blocks,
            script: None,
        }
    }

    fn show(&self, kind: Quantity, value: f64) -> String {
        self.survey.print.show(kind, value)
    }

    /// The survey's own unit alone.
    fn own(&self, kind: Quantity, value: f64) -> String {
        format!("{} {}", self.survey.print.number(kind, value), self.survey.print.name(kind))
    }

    fn amount(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => self.show(kind, amount.value),
            None => plain(amount.value),
        }
    }

    fn limit(&self, check: &Check) -> String {
        let sense = match check.sense {
            Sense::AtMost => "at most",
            Sense::AtLeast => "at least",
        };
        check.limit.map_or("–".into(), |limit| format!("{sense} {}", self.amount(limit)))
    }
}

fn plain(value: f64) -> String {
    if value.fract() == 0.0 && value.abs() < 1e6 { format!("{value:.0}") } else { format!("{value:.2}") }
}

#[cfg(test)]
mod tests;
