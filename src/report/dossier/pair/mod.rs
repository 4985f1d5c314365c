//! The report of a double wrap: one word for both sheaves on one page, then what lies between the passes, then each
//! sheave as its own report has it, under the tension that governs it.
//!
//! Parts and sections are numbered here, and ids told apart, so that nothing of one sheave is taken for the other's.

mod between;
mod first_page;
mod sheave;

use super::{Dossier, ReportBasis, live};
use crate::report::double_wrap::Words;
use crate::report::paper::{Block, Document, Paper, PdfFault, contents, html, pdf, short};
use crate::study::double_wrap::{Combination, DoubleResult, Wheel};
use crate::survey::Change;

/// A finished check of both sheaves of a double wrap with everything its report tells.
pub struct CheckedPair<'a> {
    /// Its survey and outcome are those under the tension that governs it.
    pub drive: ReportBasis<'a>,
    /// The same; `None` where the secondary sheave has no survey.
    pub secondary: Option<ReportBasis<'a>>,
    pub double: &'a DoubleResult,
}

/// The report as one page of HTML that needs nothing else.
#[must_use]
pub fn pair_html(checked: &CheckedPair<'_>, paper: Paper) -> String {
    let mut document = Pair::of(checked).document(paper);
    document.script = Some(live::SCRIPT.to_owned());
    html::page(&document, paper)
}

/// The report as a PDF.
///
/// # Errors
/// When a drawing or the file cannot be put together, which is a fault of the program.
pub fn pair_pdf(checked: &CheckedPair<'_>, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    pdf::bytes(&Pair::of(checked).document(paper), paper)
}

struct Pair<'a> {
    drive: Dossier<'a>,
    secondary: Option<Dossier<'a>>,
    double: &'a DoubleResult,
}

impl<'a> Pair<'a> {
    fn of(checked: &CheckedPair<'a>) -> Self {
        let one = |checked: &ReportBasis<'a>, prefix, wheel: Wheel| {
            let mut dossier = Dossier::of(checked);
            (dossier.prefix, dossier.wheel) = (prefix, Some(wheel.name()));
            dossier
        };
        Self {
            drive: one(&checked.drive, "drive-", Wheel::Drive),
            secondary: checked.secondary.as_ref().map(|own| one(own, "secondary-", Wheel::Secondary)),
            double: checked.double,
        }
    }

    /// The sheave that decides, and the other one where it has a survey.
    fn deciding(&self) -> (&Dossier<'a>, Option<&Dossier<'a>>) {
        match (&self.secondary, self.double.governing.wheel) {
            (Some(secondary), Wheel::Secondary) => (secondary, Some(&self.drive)),
            (secondary, _) => (&self.drive, secondary.as_ref()),
        }
    }

    /// What governs one of the sheaves.
    fn governing(&self, wheel: Wheel) -> &Combination {
        let governing = &self.double.governing;
        let index = match wheel {
            Wheel::Drive => governing.drive,
            Wheel::Secondary => governing.secondary.unwrap_or(governing.drive),
        };
        &self.double.combinations[index]
    }

    fn words(&self) -> Words<'_> {
        Words { survey: self.drive.survey, result: self.double }
    }

    fn document(&self, paper: Paper) -> Document {
        let mut body = Part::new(1, "double-wrap-").set(self.between());
        body.push(Block::PageBreak);
        body.extend(Part::new(2, "drive-").set(self.sheave(Wheel::Drive)));
        body.push(Block::PageBreak);
        body.extend(Part::new(3, "secondary-").set(self.sheave(Wheel::Secondary)));
        let mut blocks = self.first_page(paper);
        blocks.push(Block::PageBreak);
        blocks.push(Block::heading(2, "Appendix", "appendix"));
        blocks.push(contents(&body, 3));
        blocks.push(Block::PageBreak);
        blocks.extend(body);
        let job = &self.drive.survey.job;
        let input = self.drive.input;
        let hashes = || [Some(input), input.secondary.as_deref()].into_iter().flatten().map(|i| &i.sha256);
        let short_hashes: Vec<&str> = hashes().map(|hash| &hash[..12.min(hash.len())]).collect();
        let set =
            |change: &Change| format!(" {}={}", change.path, change.after.as_deref().unwrap_or_default());
        let (name, sheave) = (short(&job.name, 36), short(&job.sheave, 30));
        Document {
            title: format!("{name} · {sheave}"),
            foot: format!(
                "{}{name} · {sheave} · sha256 {} · rimproof {} · no certificate",
                if input.set.is_empty() { "" } else { "WHAT IF · " },
                short_hashes.join(" + "),
                env!("CARGO_PKG_VERSION")
            ),
            id: hashes().cloned().collect::<Vec<_>>().join(" ")
                + &input.set.iter().map(set).collect::<String>(),
            blocks,
            script: None,
        }
    }
}

/// The place of a part in the whole: its number, and what stands in front of its ids.
struct Part {
    number: usize,
    prefix: &'static str,
    section: usize,
}

impl Part {
    fn new(number: usize, prefix: &'static str) -> Self {
        Self { number, prefix, section: 0 }
    }

    /// Numbers the part's title and its sections. The first heading is the title; all others go a level down.
    fn set(mut self, blocks: Vec<Block>) -> Vec<Block> {
        let mut titled = false;
        let mut one = |block: Block| match block {
            Block::Heading { text, anchor, .. } if !std::mem::replace(&mut titled, true) => {
                Block::heading(2, format!("{} {text}", self.number), anchor)
            }
            Block::Heading { level, text, anchor } => {
                let text = match level {
                    2 => {
                        self.section += 1;
                        format!("{}.{} {text}", self.number, self.section)
                    }
                    _ => text,
                };
                let anchor = if anchor.is_empty() { anchor } else { format!("{}{anchor}", self.prefix) };
                Block::heading(level + 1, text, anchor)
            }
            other => other,
        };
        blocks.into_iter().map(&mut one).collect()
    }
}

/// Cells of a page in a terminal as those of paper.
fn on_paper(rows: Vec<Vec<String>>) -> Vec<Vec<String>> {
    let cell = |cell: String| if cell == "-" { "–".to_owned() } else { cell.replace(" .. ", " to ") };
    rows.into_iter().map(|row| row.into_iter().map(cell).collect()).collect()
}

#[cfg(test)]
mod tests;
