//! Technical drawings in mm on paper: outlines, dimension lines, marks that ask for a dimension.
//!
//! Habits of ISO 128 and ISO 129-1 (from memory): thick outlines of 0.5 mm, everything else about 0.25 mm; closed arrow
//! heads; numbers above the dimension line, read from below or from the right. y runs downwards. Owns what stands at a
//! dimension; pens, text and the file format are those of `drawing`. Lacks any subject.

mod dimension;

pub(super) use dimension::{Note, Place};

use super::drawing::{ACCENT, GREY, INK, PX_PER_MM, Sheet, Tie, WORDS as WORDS_PX};
use std::f64::consts::PI;

pub(super) use super::drawing::At;

/// Size of words on paper (mm), and the mean width of a letter as a share of it in the condensed face of the sheets.
const WORDS: f64 = WORDS_PX / PX_PER_MM;
const LETTER: f64 = 0.52;
const PAPER: &str = "#ffffff";
const HATCHING: Pen = Pen { colour: "#9c9a94", width: 0.13, dashes: "" };

/// A line's colour, width (mm) and dashes (px).
#[derive(Debug, Clone, Copy)]
pub(super) struct Pen {
    pub colour: &'static str,
    pub width: f64,
    pub dashes: &'static str,
}

impl Pen {
    /// Visible edges.
    pub const OUTLINE: Self = Self { colour: INK, width: 0.45, dashes: "" };
    /// Dimensions, extension lines, leaders.
    pub const THIN: Self = Self { colour: INK, width: 0.2, dashes: "" };
    /// What lies behind, or is only shown for orientation.
    pub const HIDDEN: Self = Self { colour: INK, width: 0.25, dashes: "7 4" };
    /// Axes and middles.
    pub const CENTRE: Self = Self { colour: GREY, width: 0.2, dashes: "18 4 3 4" };
    pub const FAINT: Self = Self { colour: GREY, width: 0.25, dashes: "" };
    /// What is asked for.
    pub const ASKED: Self = Self { colour: ACCENT, width: 0.35, dashes: "" };

    fn on_sheet(self) -> super::drawing::Pen {
        super::drawing::Pen { colour: self.colour, width: self.width * PX_PER_MM, dashes: self.dashes }
    }
}

pub(super) struct Drawing {
    sheet: Sheet,
    /// Words and letters that were drawn, so that a test can look for them.
    #[cfg(test)]
    pub(super) words: Vec<String>,
}

fn px((x, y): At) -> At {
    (x * PX_PER_MM, y * PX_PER_MM)
}

/// The point at `angle` (rad, counter-clockwise on paper from the right) and `radius` around `centre`.
pub(super) fn around(centre: At, radius: f64, angle: f64) -> At {
    (centre.0 + radius * angle.cos(), centre.1 - radius * angle.sin())
}

/// Points of an arc from one angle to another, its ends included.
pub(super) fn arc(centre: At, radius: f64, from: f64, to: f64) -> Vec<At> {
    let steps = ((to - from).abs() / (PI / 60.0)).ceil().max(6.0) as usize;
    (0..=steps).map(|i| around(centre, radius, from + (to - from) * i as f64 / steps as f64)).collect()
}

/// Width of a text on paper (mm), as far as it can be told without the font.
pub(super) fn width_of(text: &str) -> f64 {
    LETTER * WORDS * text.chars().count() as f64
}

impl Drawing {
    pub fn new(width: f64, height: f64) -> Self {
        Self {
            sheet: Sheet::new(width * PX_PER_MM, height * PX_PER_MM),
            #[cfg(test)]
            words: Vec::new(),
        }
    }

    /// The finished drawing; `title` is read out to those who cannot see it.
    pub fn finish(self, title: &str) -> String {
        self.sheet.finish(title)
    }

    pub fn line(&mut self, a: At, b: At, pen: Pen) {
        self.sheet.line(px(a), px(b), pen.on_sheet());
    }

    /// An open line through the points.
    pub fn path(&mut self, points: &[At], pen: Pen) {
        let points: Vec<At> = points.iter().copied().map(px).collect();
        self.sheet.path(&points, pen.on_sheet());
    }

    /// Closed loops filled together, so that inner ones are holes.
    pub fn area(&mut self, loops: &[&[At]], fill: &str, pen: Option<Pen>) {
        let pen = pen.map_or(super::drawing::Pen::NONE, Pen::on_sheet);
        self.sheet.area(&on_sheet(loops), fill, pen);
    }

    /// A body cut open: hatched at 45°, outlined.
    pub fn cut(&mut self, loops: &[&[At]], spacing: f64) {
        let loops = on_sheet(loops);
        self.sheet.area(&loops, PAPER, super::drawing::Pen::NONE);
        self.sheet.hatch(&loops, spacing * PX_PER_MM * 2f64.sqrt(), HATCHING.on_sheet());
        self.sheet.area(&loops, "none", Pen::OUTLINE.on_sheet());
    }

    /// As [`Self::cut`], with the outline along one line alone: the body goes on beyond the other sides.
    pub fn cut_open(&mut self, loops: &[&[At]], edge: &[At], spacing: f64) {
        let on_sheet = on_sheet(loops);
        self.sheet.area(&on_sheet, PAPER, super::drawing::Pen::NONE);
        self.sheet.hatch(&on_sheet, spacing * PX_PER_MM * 2f64.sqrt(), HATCHING.on_sheet());
        self.path(edge, Pen::OUTLINE);
    }

    pub fn circle(&mut self, at: At, radius: f64, fill: &str, pen: Pen) {
        self.sheet.circle(px(at), radius * PX_PER_MM, fill, pen.on_sheet());
    }

    /// Words on one line, turned by `degrees` counter-clockwise about their point.
    pub fn words(&mut self, at: At, text: &str, tie: Tie, colour: &str, degrees: f64) {
        self.sheet.words(px(at), text, tie, colour, -degrees);
        #[cfg(test)]
        self.words.push(text.to_owned());
    }

    /// A letter in a ring, by which a list beside the drawing names what is meant.
    pub fn mark(&mut self, at: At, letter: &str) {
        self.circle(at, 2.3, PAPER, Pen::ASKED);
        self.sheet.bold(px((at.0, at.1 + 0.36 * WORDS)), letter, Tie::Middle, ACCENT);
        #[cfg(test)]
        self.words.push(letter.to_owned());
    }

    /// A filled arrow head with its tip at `tip`, coming from `tail`.
    pub fn head(&mut self, tail: At, tip: At, colour: &'static str) {
        const LONG: f64 = 2.2;
        const HALF: f64 = 0.4;
        let (dx, dy) = (tip.0 - tail.0, tip.1 - tail.1);
        let length = dx.hypot(dy);
        if length == 0.0 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let base = (tip.0 - LONG * ux, tip.1 - LONG * uy);
        let sides = [tip, (base.0 - HALF * uy, base.1 + HALF * ux), (base.0 + HALF * uy, base.1 - HALF * ux)];
        self.area(&[&sides], colour, None);
    }

    pub fn arrow(&mut self, tail: At, tip: At, pen: Pen) {
        self.line(tail, tip, pen);
        self.head(tail, tip, pen.colour);
    }
}

fn on_sheet(loops: &[&[At]]) -> Vec<Vec<At>> {
    loops.iter().map(|points| points.iter().copied().map(px).collect()).collect()
}
