//! Dimension lines: lengths, radii, diameters, angles, each with a number or with the letter that asks for it.

use super::{At, Drawing, Pen, WORDS, arc, around, width_of};
use crate::report::drawing::{ACCENT, INK, Tie};

/// From the dimension line to the foot of its number, and how far extension lines reach beyond it (mm).
const ABOVE: f64 = 0.8;
const BEYOND: f64 = 1.5;
/// Between the drawn edge and its extension line (mm).
const GAP: f64 = 0.6;
/// Below this length arrow heads stand outside (mm).
const TIGHT: f64 = 7.0;

/// What stands at a dimension.
#[derive(Debug, Clone)]
pub(in crate::report) enum Note {
    Number(String),
    /// The dimension is asked for.
    Letter(&'static str),
}

/// Where the dimension line of a length stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::report) enum Place {
    /// Horizontal, at this height on the paper.
    Level(f64),
    /// Vertical, at this place on the paper.
    Upright(f64),
}

impl Note {
    fn pen(&self) -> Pen {
        match self {
            Self::Number(_) => Pen::THIN,
            Self::Letter(_) => Pen::ASKED,
        }
    }

    fn width(&self) -> f64 {
        match self {
            Self::Number(text) => width_of(text),
            Self::Letter(_) => 4.6,
        }
    }
}

impl Drawing {
    /// A length between two points, horizontal or vertical as its place says.
    pub fn length(&mut self, a: At, b: At, place: Place, note: &Note) {
        let foot = |p: At| match place {
            Place::Level(y) => (p.0, y),
            Place::Upright(x) => (x, p.1),
        };
        let (from, to) = (foot(a), foot(b));
        let pen = note.pen();
        for (point, foot) in [(a, from), (b, to)] {
            self.extension(point, foot);
        }
        let length = (to.0 - from.0).hypot(to.1 - from.1);
        if length == 0.0 {
            return;
        }
        let along = ((to.0 - from.0) / length, (to.1 - from.1) / length);
        let moved = |p: At, by: f64| (p.0 + by * along.0, p.1 + by * along.1);
        let fits = length > note.width() + 6.0;
        if length < TIGHT || !fits && matches!(note, Note::Number(_)) && length < TIGHT + 2.0 {
            self.arrow(moved(from, -6.0), from, pen);
            self.arrow(moved(to, 6.0), to, pen);
            self.line(from, to, pen);
            // Beyond the second arrow, where there is room.
            let half = 0.5 * note.width();
            let at = match place {
                Place::Level(_) => moved(to, 7.0 + half),
                Place::Upright(_) => moved(to, 8.5 + half),
            };
            self.note_over(at, place, note, false);
            return;
        }
        self.line(from, to, pen);
        self.head(from, to, pen.colour);
        self.head(to, from, pen.colour);
        self.note_over((0.5 * (from.0 + to.0), 0.5 * (from.1 + to.1)), place, note, true);
    }

    /// A thin line from a drawn point to its dimension line and a little beyond.
    fn extension(&mut self, point: At, foot: At) {
        let (dx, dy) = (foot.0 - point.0, foot.1 - point.1);
        let length = dx.hypot(dy);
        if length < GAP {
            return;
        }
        let unit = (dx / length, dy / length);
        let start = (point.0 + GAP * unit.0, point.1 + GAP * unit.1);
        let end = (foot.0 + BEYOND * unit.0, foot.1 + BEYOND * unit.1);
        self.line(start, end, Pen::THIN);
    }

    fn note_over(&mut self, at: At, place: Place, note: &Note, on_line: bool) {
        match (note, place) {
            (Note::Letter(letter), _) => self.mark(at, letter),
            (Note::Number(text), Place::Level(_)) => {
                let drop = if on_line { -ABOVE } else { 0.36 * WORDS };
                self.words((at.0, at.1 + drop), text, Tie::Middle, INK, 0.0);
            }
            // Read from the right: the number stands left of its line, turned a quarter.
            (Note::Number(text), Place::Upright(_)) => {
                let drop = if on_line { -ABOVE } else { 0.36 * WORDS };
                self.words((at.0 + drop, at.1), text, Tie::Middle, INK, 90.0);
            }
        }
    }

    /// An arrow from a note onto a point.
    pub fn pointed(&mut self, tail: At, tip: At, note: &Note) {
        let pen = note.pen();
        self.arrow(tail, tip, pen);
        let rightwards = tail.0 >= tip.0;
        match note {
            Note::Letter(letter) => {
                let (dx, dy) = (tail.0 - tip.0, tail.1 - tip.1);
                let length = dx.hypot(dy).max(1e-9);
                self.mark((tail.0 + 2.3 * dx / length, tail.1 + 2.3 * dy / length), letter);
            }
            Note::Number(text) => {
                let run = if rightwards { width_of(text) + 1.0 } else { -width_of(text) - 1.0 };
                let shelf = (tail.0 + run, tail.1);
                self.line(tail, shelf, pen);
                let tie = if rightwards { Tie::Start } else { Tie::End };
                let inset = if rightwards { 0.5 } else { -0.5 };
                self.words((tail.0 + inset, tail.1 - ABOVE), text, tie, INK, 0.0);
            }
        }
    }

    /// An angle between two directions seen from `centre` (rad, counter-clockwise on paper), with its arc at `radius`.
    pub fn angle(&mut self, centre: At, radius: f64, (from, to): (f64, f64), note: &Note) {
        let pen = note.pen();
        let points = arc(centre, radius, from, to);
        self.path(&points, pen);
        let last = points.len() - 1;
        self.head(points[2.min(last)], points[0], pen.colour);
        self.head(points[last.saturating_sub(2)], points[last], pen.colour);
        let middle = 0.5 * (from + to);
        match note {
            Note::Letter(letter) => self.mark(around(centre, radius, middle), letter),
            Note::Number(text) => {
                let at = around(centre, radius + 2.2, middle);
                let tie = match middle.cos() {
                    c if c > 0.35 => Tie::Start,
                    c if c < -0.35 => Tie::End,
                    _ => Tie::Middle,
                };
                self.words((at.0, at.1 + 0.36 * WORDS), text, tie, INK, 0.0);
            }
        }
    }

    /// A datum: a filled triangle that stands on a level line at `at`, with its letter in a square.
    pub fn datum(&mut self, at: At, upwards: bool, letter: &str) {
        self.datum_towards(at, (0.0, if upwards { -1.0 } else { 1.0 }), letter);
    }

    /// A datum on an upright line, to the left of it.
    pub fn datum_aside(&mut self, at: At, letter: &str) {
        self.datum_towards(at, (-1.0, 0.0), letter);
    }

    fn datum_towards(&mut self, at: At, way: At, letter: &str) {
        const SQUARE: f64 = 2.2;
        let along =
            |by: f64, aside: f64| (at.0 + by * way.0 - aside * way.1, at.1 + by * way.1 + aside * way.0);
        self.area(&[&[at, along(2.0, 1.2), along(2.0, -1.2)]], INK, None);
        self.line(along(2.0, 0.0), along(4.5, 0.0), Pen::THIN);
        let corners = [
            along(4.5, SQUARE),
            along(4.5 + 2.0 * SQUARE, SQUARE),
            along(4.5 + 2.0 * SQUARE, -SQUARE),
            along(4.5, -SQUARE),
        ];
        self.area(&[&corners], "#ffffff", Some(Pen::THIN));
        let middle = along(4.5 + SQUARE, 0.0);
        self.words((middle.0, middle.1 + 0.36 * WORDS), letter, Tie::Middle, INK, 0.0);
    }

    /// A weight or a pull: a stout arrow with its letter.
    pub fn pull(&mut self, tail: At, tip: At, letter: &'static str) {
        self.arrow(tail, tip, Pen { colour: ACCENT, width: 0.6, dashes: "" });
        self.mark((tip.0, tip.1 + 2.6), letter);
    }
}
