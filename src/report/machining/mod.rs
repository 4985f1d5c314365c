//! The machining sheet and the drawing for the machine: what a shop cuts from, where a check allows a cut.
//!
//! Owns layout and words. Numbers, tolerances and walls at which to stop are those of [`Machining`].

mod calls;
mod drawings;
mod dxf;
mod profile;
mod words;

#[cfg(test)]
mod tests;

pub use dxf::{DxfFault, machining_dxf};

use super::paper::{Block, Document, Form, Paper, PdfFault, Table, TableKind, Tone, isolated, pdf, short};
use super::{Input, ReportBasis};
use crate::study::{GrooveCut, Machining, Outcome, Size, StopWall, WatchedPlace};
use crate::survey::thin_spot::Method;
use crate::survey::{GrooveShape, Role, Survey, WallFrom, WallReading};
use crate::units::Kind;
use words::{Both, degrees};

/// Longest name of a job that is shown.
const NAME: usize = 90;

/// The sheet as a PDF.
///
/// # Errors
/// When the file cannot be put together, which is a fault of the program.
pub fn machining_pdf(basis: &ReportBasis<'_>, cut: &Machining, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    pdf::bytes(&document(basis, cut), paper)
}

fn document(basis: &ReportBasis<'_>, cut: &Machining) -> Document {
    let ReportBasis { survey, outcome, input, .. } = *basis;
    let sheet = Sheet { survey, outcome, cut, both: Both(&survey.print) };
    let mut blocks = sheet.head(input);
    blocks.push(Block::Figure(drawings::groove(survey, outcome, cut)));
    blocks.extend(sheet.sizes());
    blocks.push(Block::Figure(drawings::rim(survey, outcome, cut)));
    blocks.extend(sheet.grooves());
    blocks.extend(sheet.walls());
    blocks.extend(sheet.hardness());
    // What is used at the machine, and written there, on one page.
    let mut at_the_machine = vec![
        Block::heading(2, "Stop and call", "stop"),
        Block::text("Stop the cut and call the responsible engineer before anything else is done when"),
        Block::List(calls::calls(survey, cut)),
    ];
    at_the_machine.extend(sheet.as_machined());
    blocks.push(Block::Together(at_the_machine));
    Document {
        title: "Machining sheet".into(),
        foot: format!(
            "Machining sheet · {} · rimproof {} · sha256 {}",
            short(&survey.job.sheave, 50),
            env!("CARGO_PKG_VERSION"),
            &input.sha256[..12.min(input.sha256.len())]
        ),
        id: format!("machining-sheet {}", input.sha256),
        blocks,
        script: None,
    }
}

struct Sheet<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    cut: &'a Machining,
    both: Both<'a>,
}

impl Sheet<'_> {
    fn head(&self, input: &Input) -> Vec<Block> {
        let (job, cut) = (&self.survey.job, self.cut);
        let mut blocks = vec![
            Block::heading(1, format!("Machining sheet: {}", self.wheel()), "top"),
            Block::Strong(format!("{} · {}", short(&job.name, NAME), short(&job.sheave, NAME))),
        ];
        if !input.set.is_empty() {
            let quoted = |text: &str| format!("\"{}\"", short(text, NAME));
            let set = input.set.iter().map(|change| {
                let before = change.before.as_deref().map_or("does not stand".into(), quoted);
                let after = quoted(change.after.as_deref().unwrap_or(""));
                format!("{} = {after} (in the survey: {before})", isolated(&change.path))
            });
            let set_for_it = vec![
                Block::text("WHAT IF: this is no sheet of the survey as it stands. Set for it alone:"),
                Block::List(set.collect()),
            ];
            blocks.push(Block::Boxed { tone: Tone::Open, blocks: set_for_it });
        }
        let mut told = vec![
            Block::text(format!(
                "{}: cut every groove to {} below the rim edge (datum A), that is to a diameter of {} over the seats' bottoms.",
                self.outcome.result.verdict.word.text(),
                self.both.length(cut.depth_mm),
                self.both.length(cut.seat_diameter_mm)
            )),
            Block::note(
                "The check judged this depth, this shape and these walls, and no others. It is an engineering aid: the code in force, the authority having jurisdiction and a licensed engineer decide. This sheet is to be released by the responsible engineer before the cut.",
            ),
        ];
        if self.survey.double_wrap.is_some() {
            told.push(Block::text("Judged together with the secondary sheave, under every tension between the passes. The grooves of both passes must come out alike: a difference of depth moves that tension."));
        } else if self.survey.roping.role == Role::Secondary {
            told.push(Block::text(
                "Judged together with the drive sheave, under every tension between the passes.",
            ));
        }
        told.extend(self.outcome.result.verdict.heads.iter().map(|head| Block::text(head.clone())));
        blocks.push(Block::Boxed { tone: Tone::Favourable, blocks: told });
        blocks.push(Block::Pairs(vec![
            (
                "Datum A: rim edge".into(),
                format!(
                    "All depths count from it: diameter {} as surveyed, where no rope has worn it.",
                    self.both.length(cut.edge_diameter_mm)
                ),
            ),
            (
                "Datum B: bore or shaft".into(),
                "Axis of all diameters and of both runouts. Clock the wheel to it before the first cut."
                    .into(),
            ),
            (
                "Datum C: side of the rim".into(),
                "The side that is nearest to groove 1. Axial places count from it.".into(),
            ),
            (
                "Rope, pitch diameter".into(),
                format!(
                    "{}, {} when cut",
                    self.both.length(cut.rope_diameter_mm),
                    self.both.length(cut.pitch_diameter_mm)
                ),
            ),
        ]));
        blocks
    }

    fn wheel(&self) -> &'static str {
        match (self.survey.roping.role, &self.survey.double_wrap) {
            (_, Some(_)) => "drive sheave of a double wrap",
            (Role::Secondary, None) => "secondary sheave of a double wrap",
            _ => "traction sheave",
        }
    }

    fn shape(&self) -> String {
        match &self.cut.shape {
            GrooveShape::Round { .. } => "round seat".into(),
            GrooveShape::Undercut { slot_angle_rad, .. } => {
                format!("undercut seat, slot of {} seen from the seat's centre", degrees(*slot_angle_rad))
            }
            GrooveShape::V { hardened, .. } => {
                format!(
                    "V groove{}",
                    if *hardened { ", flanks to be hardened as the engineer says" } else { "" }
                )
            }
            GrooveShape::Measured { .. } => {
                "profile as in the survey's file; the drawing for the machine holds it".into()
            }
        }
    }

    fn sizes(&self) -> Vec<Block> {
        let [own, beside] = self.both.units();
        let row = |size: &Size| {
            let [finished, other] = self.both.numbers(size.nominal);
            let [off, other_off] = self.both.tolerance(size.above, size.below);
            let numbers = match size.kind {
                Kind::Angle => [
                    degrees(size.nominal),
                    String::new(),
                    format!("± {}", degrees(size.above)),
                    String::new(),
                ],
                _ => [finished, other, off, other_off],
            };
            let mut row = vec![size.name.to_owned()];
            row.extend(numbers);
            row.push(size.reason.to_owned());
            row
        };
        let mut rows: Vec<Vec<String>> = self.cut.sizes.iter().map(row).collect();
        rows.extend(self.cut.limits.iter().map(|limit| {
            let [most, other] = self.both.numbers(limit.most_mm);
            let blank = String::new;
            vec![limit.name.to_owned(), blank(), blank(), most, other, limit.reason.to_owned()]
        }));
        let heads = [
            ("size", false),
            (&format!("finished, {own}"), true),
            (beside, true),
            (&format!("may be off, {own}"), true),
            (beside, true),
            ("on what that rests", false),
        ];
        let mut blocks = vec![
            Block::heading(2, format!("Finished groove: {}", self.shape()), "sizes"),
            Block::table(&heads, rows),
        ];
        if let Some(mm) = self.cut.ridge_depth_mm {
            blocks.push(Block::text(format!(
                "The grooves meet below the rim edge: the ridges between them come to stand {} below it.",
                self.both.length(mm)
            )));
        }
        blocks
            .push(Block::note("Break sharp edges lightly; leave no step and no tool mark across the seats."));
        blocks
    }

    fn grooves(&self) -> Vec<Block> {
        let [own, beside] = self.both.units();
        let units = format!("{own} ({beside})");
        let heads = [
            ("groove", false),
            (&format!("middle from datum C, {units}"), true),
            (&format!("seat now below datum A, {units}"), true),
            (&format!("to be taken off, {units}"), true),
            ("carries a rope", false),
        ];
        let row = |groove: &GrooveCut| {
            let lengths = [groove.from_side_mm, groove.depth_now_mm, groove.take_off_mm];
            let mut row = vec![groove.number.to_string()];
            row.extend(lengths.map(|mm| self.both.cell(mm)));
            row.push(if groove.roped { "yes" } else { "no" }.to_owned());
            row
        };
        let rows = self.cut.grooves.iter().map(row).collect();
        vec![Block::heading(2, "Groove by groove", "grooves"), Block::table(&heads, rows)]
    }

    /// How a wall is to be read, so that it means what the survey's readings mean.
    fn reading(&self) -> &'static str {
        match (self.cut.walls.reading, self.cut.walls.from) {
            (WallReading::Least, _) => "the least distance from the groove's lowest iron to the underside",
            (WallReading::Radial, WallFrom::Seat) => {
                "along the radius from the seat's bottom to the underside"
            }
            (WallReading::Radial, WallFrom::SlotBottom) => {
                "along the radius from the slot's bottom to the underside"
            }
        }
    }

    fn walls(&self) -> Vec<Block> {
        let watch = &self.cut.walls;
        let title = Block::heading(2, "Wall at which to stop", "walls");
        if watch.places.is_empty() {
            return vec![
                title,
                Block::text("Every groove stands over solid iron: there is no wall to watch."),
            ];
        }
        let [own, beside] = self.both.units();
        let mut heads = vec![(format!("place, {own} ({beside})"), false)];
        heads.extend(self.cut.grooves.iter().map(|groove| (format!("groove {}", groove.number), true)));
        let row = |place: &WatchedPlace, what: &str, value: &dyn Fn(&StopWall) -> f64| {
            let mut cells = vec![format!("{}, {what}", place.name)];
            cells.extend(place.walls.iter().map(|wall| match wall {
                None => "solid".to_owned(),
                Some(wall) => self.both.cell(value(wall)),
            }));
            cells.resize(heads.len(), "-".to_owned());
            cells
        };
        let mut rows = Vec::new();
        for place in &watch.places {
            rows.push(row(place, "finished", &|wall| wall.finished_mm));
            rows.push(row(place, "STOP below", &|wall| wall.stop_mm));
        }
        let error = self.both.length(watch.reading_error_mm);
        let stated = if watch.error_is_stated {
            "the survey's reading error"
        } else {
            "assumed, none is stated in the survey"
        };
        vec![
            title,
            Block::text(format!(
                "Read every wall {}, with the gauge calibrated on this casting, before the last pass and when the depth is reached. A wall thinner than STOP, at any depth, was not judged. Angles as in the survey, from its chalk mark.",
                self.reading()
            )),
            Block::Table(Table { heads, rows, kind: TableKind::Plain, by: 2 }),
            Block::note(self.thin_spots()),
            Block::note(format!(
                "Finished: what the survey's walls leave under the cut. STOP: that less {error} ({stated}), and never less than the thinnest wall under that groove that was judged anywhere around the rim."
            )),
        ]
    }

    /// Where the once-around fit has the thinnest wall.
    fn thin_spots(&self) -> String {
        let spots = self.outcome.result.thin_spots.iter().enumerate();
        let fitted = spots.filter_map(|(index, spot)| {
            let spot = spot.as_ref().filter(|spot| spot.method != Method::ThinnestReading)?;
            Some(format!("{:.0}° under groove {}", spot.thinnest_angle_rad.to_degrees(), index + 1))
        });
        let fitted: Vec<String> = fitted.collect();
        if fitted.is_empty() || !self.cut.walls.places.iter().any(|place| place.estimated) {
            return "Between the stations the wall is not known.".into();
        }
        format!("By the once-around fit the wall is thinnest at {}: read it there too.", fitted.join(", "))
    }

    fn hardness(&self) -> Vec<Block> {
        let hardness = &self.cut.hardness;
        let (low, high) = hardness.wanted_hb;
        let hb =
            |value: Option<f64>, missing: &str| value.map_or(missing.to_owned(), |hb| format!("{hb:.0} HB"));
        vec![
            Block::heading(2, "Hardness at depth", "hardness"),
            Block::Pairs(vec![
                (
                    "Expected at the finished seats".into(),
                    hb(hardness.expected_hb, "not known: no readings by depth on both sides of the new seat"),
                ),
                ("Wanted".into(), format!("{low:.0} to {high:.0} HB ({})", hardness.wanted_source)),
                ("Lowest that was read and judged".into(), hb(hardness.lowest_read_hb, "none was read")),
                (
                    "Read it".into(),
                    "in every finished seat, at one station at least, and write it down below".into(),
                ),
            ]),
        ]
    }

    fn as_machined(&self) -> Vec<Block> {
        let [own, _] = self.both.units();
        let heads: Vec<(String, bool)> = [
            "groove".to_owned(),
            format!("seat below datum A ({own})"),
            format!("gauge fits: radius {}", if self.is_v() { "of the root" } else { "of the seat" }),
            format!("thinnest wall ({own})"),
            "at station".to_owned(),
            "hardness (HB)".to_owned(),
            "wear cleaned".to_owned(),
        ]
        .into_iter()
        .map(|head| (head, false))
        .collect();
        let row = |number: usize| {
            let mut cells = vec![number.to_string()];
            cells.resize(6, String::new());
            cells.push("☐ yes  ☐ no".to_owned());
            cells
        };
        let rows = self.cut.grooves.iter().map(|groove| row(groove.number)).collect();
        vec![
            Block::heading(2, "As machined", "as-machined"),
            Block::Form(Form { heads, shares: vec![0.08, 0.17, 0.16, 0.16, 0.12, 0.14, 0.17], rows }),
            Block::Lines(vec![
                "Released for the cut by (responsible engineer), date".into(),
                "Machined by, date, machine".into(),
                "Measured by, date, instruments".into(),
            ]),
        ]
    }

    fn is_v(&self) -> bool {
        matches!(self.cut.shape, GrooveShape::V { .. })
    }
}
