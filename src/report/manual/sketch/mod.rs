//! The section of a model as a dimensioned sketch: body, axis, dimensions, names of edges, loads, supports.
//!
//! r runs to the right and z upwards, both to scale unless the section is too slender to be seen; far from
//! the axis the distance to it is broken. What is not to scale is said in the caption.

mod detail;
mod dimensions;
mod marks;

use crate::elastic::Model;
use crate::geometry::{Curve, Edge, Point};
use crate::report::drawing::{At, BODY, GREY, INK, Pen, Sheet, Tie};

/// Largest room for the body (px), and the least that its narrow side gets.
const ROOM: At = (340.0, 230.0);
const LEAST: f64 = 56.0;
/// Room around the body (px).
const TOP: f64 = 62.0;
const LEFT: f64 = 118.0;
/// From a broken axis to the body (px).
const BROKEN: f64 = 74.0;

/// A finished sketch and what its caption must say.
pub(super) struct Sketch {
    pub svg: String,
    pub caption: String,
}

/// From mm to pixels.
struct Frame {
    low: Point,
    high: Point,
    /// Pixels per mm along r and z.
    scale: At,
    /// Where `low` is drawn.
    corner: At,
    /// The axis is drawn nearer than it is.
    broken: bool,
}

impl Frame {
    fn of(model: &Model) -> Self {
        let (low, high) = model.outline.bounds();
        let (wide, tall) = (high.r - low.r, high.z - low.z);
        let broken = low.r > 0.8 * wide;
        let from = if broken { low.r } else { 0.0 };
        let even = (ROOM.0 / (high.r - from)).min(ROOM.1 / tall);
        let stretched = |length: f64, room: f64, span: f64| {
            if even * length < LEAST { (LEAST / length).min(room / span) } else { even }
        };
        let scale = (stretched(wide, ROOM.0, high.r - from), stretched(tall, ROOM.1, tall));
        let corner = (LEFT + (low.r - from) * scale.0, TOP + tall * scale.1);
        Self { low, high, scale, corner, broken }
    }

    fn x(&self, r: f64) -> f64 {
        self.corner.0 + (r - self.low.r) * self.scale.0
    }

    fn y(&self, z: f64) -> f64 {
        self.corner.1 - (z - self.low.z) * self.scale.1
    }

    fn at(&self, p: Point) -> At {
        (self.x(p.r), self.y(p.z))
    }

    fn axis(&self) -> f64 {
        if self.broken { self.corner.0 - BROKEN } else { self.x(0.0) }
    }

    fn right(&self) -> f64 {
        self.x(self.high.r)
    }

    /// Unit normal out of the body at the share `t` of an edge, on the screen.
    fn outward(&self, edge: &Edge, t: f64) -> At {
        let tangent = edge.tangent(t);
        let (x, y) = (tangent.r * self.scale.0, -tangent.z * self.scale.1);
        let length = x.hypot(y);
        if length == 0.0 { (0.0, -1.0) } else { (-y / length, x / length) }
    }

    /// Length of an edge on the screen.
    fn length(&self, edge: &Edge) -> f64 {
        let points = self.points(edge);
        points.windows(2).map(|pair| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1)).sum()
    }

    /// Points of an edge, its ends included.
    fn points(&self, edge: &Edge) -> Vec<At> {
        let steps = match edge.curve {
            Curve::Line => 1,
            Curve::Arc { sweep, .. } => (sweep.abs().to_degrees() / 4.0).ceil().max(4.0) as usize,
        };
        (0..=steps).map(|i| self.at(edge.at(i as f64 / steps as f64))).collect()
    }
}

fn moved(from: At, along: At, by: f64) -> At {
    (from.0 + along.0 * by, from.1 + along.1 * by)
}

/// Words already on the sheet, so that others keep clear of them.
#[derive(Default)]
struct Taken {
    boxes: Vec<[f64; 4]>,
}

impl Taken {
    /// Left, top, right and bottom of a text.
    fn around(at: At, text: &str, tie: Tie) -> [f64; 4] {
        let width = 5.7 * text.chars().count() as f64;
        let left = match tie {
            Tie::Start => at.0,
            Tie::Middle => at.0 - 0.5 * width,
            Tie::End => at.0 - width,
        };
        [left, at.1 - 9.0, left + width, at.1 + 3.0]
    }

    fn is_free(&self, own: &[f64; 4]) -> bool {
        self.boxes.iter().all(|b| own[2] < b[0] || b[2] < own[0] || own[3] < b[1] || b[3] < own[1])
    }

    fn right(&self, above: f64) -> f64 {
        self.boxes.iter().filter(|b| b[1] < above).map(|b| b[2]).fold(0.0, f64::max)
    }
}

/// Draws the section; nothing for an outline without size.
pub(super) fn sketch(model: &Model) -> Option<Sketch> {
    let frame = Frame::of(model);
    let (wide, tall) = (frame.high.r - frame.low.r, frame.high.z - frame.low.z);
    if !(wide > 0.0 && tall > 0.0 && wide.is_finite() && tall.is_finite()) {
        return None;
    }
    let mut lines = dimensions::Lines::of(model, &frame);
    let mut taken = Taken::default();
    let detail = detail::Detail::of(model, &frame);
    let shown = |tag: usize| detail.as_ref().is_none_or(|detail| !detail.tags.contains(&tag));
    let names = marks::names(model, &frame, &mut taken, &shown);
    lines.keep_below(taken.boxes.iter().map(|b| b[3]).fold(0.0, f64::max), &frame);
    let columns = taken.right(frame.corner.1 + 30.0).max(frame.right() + 14.0) + 14.0;
    let bottom = lines.bottom(&frame) + 14.0;
    let (more, least) =
        if detail.is_some() { (detail::SIZE.1 + 24.0, detail::SIZE.0 + 20.0) } else { (0.0, 420.0) };
    let mut sheet = Sheet::new((columns + lines.columns_width() + 16.0).max(least), bottom + more);
    lines.draw(&mut sheet, &frame, columns);
    body(&mut sheet, model, &frame);
    axis(&mut sheet, &frame, bottom - 14.0);
    marks::supports(&mut sheet, model, &frame);
    marks::loads(&mut sheet, model, &frame);
    dimensions::radii(&mut sheet, model, &frame, &mut taken, &shown);
    for name in names {
        sheet.text(name.at, &name.text, name.tie, INK);
    }
    let mut caption = caption(model, &frame);
    if let Some(detail) = detail {
        caption += " Below: the framed part";
        caption += &if frame.scale.0 == frame.scale.1 {
            format!(", {} times as large.", super::numbers::plain(detail.frame.scale.0 / frame.scale.0, 2))
        } else {
            ", larger and to scale.".to_owned()
        };
        detail.draw(&mut sheet, model, &frame, (10.0, bottom + 14.0));
    }
    Some(Sketch { svg: sheet.finish(&caption), caption })
}

fn body(sheet: &mut Sheet, model: &Model, frame: &Frame) {
    // An edge's last point is the next one's first.
    let open = |edge: &Edge| {
        let mut points = frame.points(edge);
        points.pop();
        points
    };
    let loops: Vec<Vec<At>> =
        model.outline.loops.iter().map(|edges| edges.iter().flat_map(open).collect()).collect();
    sheet.area(&loops, BODY, Pen::new(INK, 1.5));
}

fn axis(sheet: &mut Sheet, frame: &Frame, bottom: f64) {
    let x = frame.axis();
    sheet.line((x, 26.0), (x, bottom), Pen::dashed(GREY, 1.0, "14 3 2 3"));
    sheet.text((x, 18.0), "axis", Tie::Middle, GREY);
    // Directions, in the corner.
    let (from, pen) = ((18.0, 46.0), Pen::new(GREY, 1.0));
    sheet.arrow(from, (from.0 + 22.0, from.1), pen);
    sheet.arrow(from, (from.0, from.1 - 22.0), pen);
    sheet.text((from.0 + 25.0, from.1 + 3.5), "r", Tie::Start, GREY);
    sheet.text((from.0, from.1 - 26.0), "z", Tie::Middle, GREY);
}

fn caption(model: &Model, frame: &Frame) -> String {
    let mut text = "Section with dimensions in mm.".to_owned();
    let ratio = frame.scale.0 / frame.scale.1;
    if ratio > 1.01 {
        text +=
            &format!(" Not to scale: r is drawn {} times as large as z.", super::numbers::plain(ratio, 2));
    } else if ratio < 0.99 {
        text += &format!(
            " Not to scale: z is drawn {} times as large as r.",
            super::numbers::plain(1.0 / ratio, 2)
        );
    }
    if frame.broken {
        text += " The distance to the axis is shortened.";
    }
    if let Some(notes) = marks::everywhere(model) {
        text += &format!(" In the whole body: {notes}.");
    }
    text
}

#[cfg(test)]
mod tests;
