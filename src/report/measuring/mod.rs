//! The blank measuring sheet: what a person measures beside the wheel, in that order, with room to write.
//!
//! Every field of a survey has its place and its name here, and nothing else is asked. Owns the order, the sketches
//! and the tables to write in; the words are the blank survey's own remarks.

mod remark;
mod sketch;
mod steps;
mod tables;

#[cfg(test)]
mod tests;

use super::paper::{Block, Document, Figure, Paper, PdfFault, Tone, pdf};
use crate::units::Kind;
use steps::{Answer, STEPS, Step};

/// Units that are printed beside the room for a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetUnits {
    Inch,
    Metric,
}

/// What the sheet is printed for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetAsked {
    /// Rows of the tables by groove and by rope.
    pub ropes: usize,
    /// Columns of the wall map.
    pub stations: usize,
    pub units: SheetUnits,
}

impl SheetUnits {
    /// The unit that is printed for an answer; none for counts and words.
    fn of(self, answer: Answer) -> &'static str {
        let (inch, metric) = match answer {
            Answer::Long => ("ft", "m"),
            Answer::Quantity(kind) | Answer::Readings(kind) => match kind {
                Kind::Length => ("in", "mm"),
                Kind::Mass => ("lb", "kg"),
                Kind::Force => ("lbf", "N"),
                Kind::Speed => ("ft/min", "m/s"),
                Kind::Acceleration => ("ft/s2", "m/s2"),
                Kind::Angle => ("deg", "deg"),
                Kind::Stress => ("ksi", "MPa"),
                Kind::MassPerLength => ("lb/ft", "kg/m"),
                Kind::Hardness => ("HB", "HB"),
                Kind::Ratio => ("%", "%"),
            },
            _ => ("", ""),
        };
        if self == Self::Inch { inch } else { metric }
    }
}

/// The sheet as a PDF.
///
/// # Errors
/// When the file cannot be put together, which is a fault of the program.
pub fn measuring_pdf(asked: &SheetAsked, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    pdf::bytes(&document(asked), paper)
}

fn document(asked: &SheetAsked) -> Document {
    let system = if asked.units == SheetUnits::Inch { "inches" } else { "metric" };
    let mut blocks = vec![
        Block::heading(1, "Measuring sheet for a traction sheave", "top"),
        Block::text(
            "Go through the steps beside the wheel and write with the unit that is printed, or strike it out and write another. Where nothing was measured, tick \"not measured\": that widens the answer, and nothing is filled in silently. The last column names the field of the survey (survey = 1) into which a value is typed afterwards: rimproof survey > my-sheave.toml prints it. Letters are those of the sketch above the table.",
        ),
        Block::Boxed {
            tone: Tone::Refusal,
            blocks: vec![Block::text(
                "Secure car and counterweight and lock the machine as the local rules ask before a hand goes near ropes or wheel. A visible crack takes the wheel out of service, whatever is measured: stop and report it.",
            )],
        },
    ];
    for (index, step) in STEPS.iter().enumerate() {
        blocks.extend(of_step(index + 1, step, asked));
    }
    blocks.push(Block::note(
        "Depths count from the rim edge, where no rope has worn it. Axial places count from the middle of the rim, negative towards groove 1; groove 1 is on the side that you choose, keep to it in every table.",
    ));
    Document {
        title: "Measuring sheet for a traction sheave".into(),
        foot: format!(
            "Measuring sheet, {system}, {} ropes, {} stations · rimproof {} · Sheave:",
            asked.ropes,
            asked.stations,
            env!("CARGO_PKG_VERSION")
        ),
        id: format!("measuring-sheet {system} {} {}", asked.ropes, asked.stations),
        blocks,
        script: None,
    }
}

fn of_step(number: usize, step: &Step, asked: &SheetAsked) -> Vec<Block> {
    let title = format!("{number}  {}", step.title);
    let mut blocks = vec![Block::heading(2, title, format!("step-{number}"))];
    if let Some(sketch) = step.sketch {
        blocks.push(Block::Figure(Figure {
            name: format!("step-{number}"),
            caption: String::new(),
            svg: sketch().finish(step.title),
        }));
    }
    for part in step.parts {
        blocks.extend(tables::blocks(part, asked));
    }
    blocks
}
