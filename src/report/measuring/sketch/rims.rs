//! The rim in section: its size, the depth of a seat, the wall below it, its hardness.

use super::parts::{ROUND, Seat, disc, outer_side};
use super::{WIDTH, letter, under};
use crate::report::drafting::{At, Drawing, Note, Pen, Place, around};
use crate::report::drawing::{ACCENT, GREY, INK, Tie};
use std::f64::consts::PI;

const UNDERCUT: Seat = Seat { radius: 5.6, opening: 0.61, slot: Some((1.4, 4.0, 1.2)) };

/// Size of the rim and where its grooves lie.
pub(in super::super) fn rim() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 70.0);
    let (left, right, top, bottom) = (40.0, 118.0, 26.0, 33.5);
    let seat = Seat { radius: 3.6, ..ROUND };
    let middle = 0.5 * (left + right);
    let first = middle - 2.0 * 14.0 + 3.0;
    let middles: Vec<f64> = (0..5).map(|i| first + 14.0 * f64::from(i)).collect();
    let mut body = outer_side((left, right), top, seat, &middles, bottom);
    body.extend([
        (right, 43.0),
        (middle + 5.0, 45.0),
        (middle + 5.0, 60.0),
        (middle - 5.0, 60.0),
        (middle - 5.0, 45.0),
        (left, 43.0),
    ]);
    drawing.cut(&[&body], 2.2);
    drawing.line((middle, 8.0), (middle, 66.0), Pen::CENTRE);
    let set = middles[2];
    drawing.length((left, 43.0), (right, 43.0), Place::Level(54.0), &letter("A"));
    drawing.length((middles[0], bottom), (middles[1], bottom), Place::Level(18.0), &letter("D"));
    drawing.length((middle, top), (set, top), Place::Level(11.0), &letter("E"));
    drawing.line((set, 8.0), (set, bottom + 3.0), Pen::CENTRE);
    let mouth = middles[4] + seat.half_mouth(bottom, top);
    drawing.pointed((mouth + 9.0, 15.0), (mouth, top), &letter("F"));
    for (index, x) in middles.iter().enumerate() {
        let down = if index == 2 { 39.5 } else { 38.5 };
        drawing.words((*x, down), &(index + 1).to_string(), Tie::Middle, INK, 0.0);
    }
    drawing.mark((left - 8.0, 37.5), "C");
    drawing.line((left - 5.7, 37.5), (middles[0] - 1.5, 37.7), Pen::ASKED);
    // The edge diameter is taken by tape; the axis is far below.
    drawing.line((right + 1.0, top), (right + 18.0, top), Pen::THIN);
    drawing.line((right + 15.0, 66.0), (right + 15.0, top), Pen::ASKED);
    drawing.head((right + 15.0, 66.0), (right + 15.0, top), ACCENT);
    drawing.mark((right + 15.0, 46.0), "B");
    drawing.words((right + 19.0, 60.0), "to the axis and beyond", Tie::Start, GREY, 0.0);
    drawing.words((left - 1.0, top - 2.0), "side of groove 1", Tie::End, GREY, 0.0);
    drawing
}

/// The depth of one seat, by a gauge of the rope's diameter.
pub(in super::super) fn depth() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 60.0);
    let (top, bottom, rope) = (20.0, 44.0, 8.2);
    let seat = Seat { radius: 8.7, ..ROUND };
    let (left, right, middle) = (30.0, 92.0, 56.0);
    let mut body = outer_side((left, right), top, seat, &[middle], bottom);
    body.extend([(right, 54.0), (left, 54.0)]);
    drawing.cut(&[&body], 2.6);
    drawing.circle((middle, bottom - rope), rope, "#ffffff", Pen { colour: ACCENT, width: 0.5, dashes: "" });
    for (y, words) in [(34.0, "gauge of the"), (38.0, "rope's diameter")] {
        drawing.words((2.0, y), words, Tie::Start, GREY, 0.0);
    }
    drawing.line((25.0, 36.0), (middle - rope, bottom - rope), Pen::THIN);
    // A straight edge over the unworn rim edge.
    let ruler = [(left - 6.0, top - 4.0), (right + 6.0, top - 4.0), (right + 6.0, top), (left - 6.0, top)];
    drawing.area(&[&ruler], "#eceae4", Some(Pen::FAINT));
    drawing.words(
        (middle, top - 6.0),
        "straight edge over the rim edge that no rope has worn",
        Tie::Middle,
        GREY,
        0.0,
    );
    drawing.length((right, top), (middle, bottom), Place::Upright(right + 13.0), &letter("A"));
    drawing.line((middle, bottom), (right + 14.5, bottom), Pen::THIN);
    let gauge_top = bottom - 2.0 * rope;
    drawing.length(
        (middle, top),
        (middle, gauge_top),
        Place::Upright(middle + 24.0),
        &Note::Number("m".into()),
    );
    drawing.line((middle, gauge_top), (middle + 25.5, gauge_top), Pen::THIN);
    for (line, words) in ["Read m with a depth gauge;", "the seat depth A is", "m plus the gauge's diameter."]
        .iter()
        .enumerate()
    {
        drawing.words((right + 24.0, 30.0 + 4.4 * line as f64), words, Tie::Start, INK, 0.0);
    }
    drawing
}

/// Walls below the grooves, and stations around the rim.
pub(in super::super) fn walls() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 72.0);
    let (left, right, top, bottom) = (12.0, 92.0, 12.0, 26.0);
    let middles = [26.0, 52.0, 78.0];
    let mut body = outer_side((left, right), top, UNDERCUT, &middles, bottom);
    let web = (47.0, 57.0);
    body.extend([(right, 42.0), (web.1, 50.0), (web.1, 62.0), (web.0, 62.0), (web.0, 50.0), (left, 42.0)]);
    drawing.cut(&[&body], 2.6);
    // The underside falls from the rim's side to the web.
    let under_at = |x: f64| 42.0 + (right - x) * 8.0 / (right - web.1);
    let right_seat = (middles[2], bottom);
    let foot = (middles[2], under_at(middles[2]));
    drawing.length(right_seat, foot, Place::Upright(right + 6.0), &letter("A"));
    for y in [right_seat, foot] {
        drawing.line(y, (right + 7.5, y.1), Pen::THIN);
    }
    drawing.words((66.0, 66.0), "radial, from the seat", Tie::Start, GREY, 0.0);
    // The shortest way through the wall from the slot's bottom.
    let slot = (middles[0], bottom + 4.0);
    let slope = (8.0f64 / (web.0 - left)).atan();
    let away = (under_mirror(slot.0, left, web.0) - slot.1) * slope.cos();
    let near = (slot.0 - away * slope.sin(), slot.1 + away * slope.cos());
    drawing.arrow(slot, near, Pen::ASKED);
    drawing.head(near, slot, ACCENT);
    drawing.mark((slot.0 + 4.5, slot.1 + 5.0), "B");
    drawing.words((left, 57.0), "least distance,", Tie::Start, GREY, 0.0);
    drawing.words((left, 61.0), "from the slot's bottom", Tie::Start, GREY, 0.0);
    // The draft.
    drawing.line((web.1, 50.0), (right + 2.0, 50.0), Pen::CENTRE);
    drawing.mark((right - 6.0, 54.5), "C");
    drawing.line((right - 7.0, 52.4), (right - 10.0, 48.0), Pen::ASKED);
    stations(&mut drawing, (148.0, 32.0));
    drawing
}

/// Height of the left underside below a point of the rim.
fn under_mirror(x: f64, left: f64, web: f64) -> f64 {
    42.0 + (x - left) * 8.0 / (web - left)
}

fn stations(drawing: &mut Drawing, centre: At) {
    let radius = 20.0;
    disc(drawing, centre, radius);
    for index in 0..6 {
        let angle = 0.5 * PI - PI / 3.0 * f64::from(index);
        let (inner, outer) = (around(centre, radius - 2.0, angle), around(centre, radius + 2.0, angle));
        drawing.line(inner, outer, Pen::ASKED);
        let at = around(centre, radius + 5.0, angle);
        drawing.words((at.0, at.1 + 1.0), &(index + 1).to_string(), Tie::Middle, INK, 0.0);
    }
    drawing.angle(centre, 12.0, (0.5 * PI, PI / 6.0), &letter("D"));
    under(drawing, centre.0, 66.0, "stations, counted from a chalk mark");
}

/// Where the hardness is read.
pub(in super::super) fn hardness() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 52.0);
    let (left, right, top, bottom) = (40.0, 118.0, 14.0, 24.0);
    let seat = Seat { radius: 4.6, ..ROUND };
    let middles = [56.0, 79.0, 102.0];
    let mut body = outer_side((left, right), top, seat, &middles, bottom);
    body.extend([(right, 44.0), (left, 44.0)]);
    drawing.cut(&[&body], 2.4);
    drawing.arrow((middles[0], 6.0), (middles[0], bottom), Pen { width: 0.6, ..Pen::ASKED });
    drawing.mark((middles[0] + 5.0, 8.0), "A");
    let deep = 31.0;
    drawing.arrow((right + 14.0, deep), (right, deep), Pen { width: 0.6, ..Pen::ASKED });
    drawing.length((right, top), (right, deep), Place::Upright(right + 28.0), &letter("B"));
    drawing.line((right + 19.5, deep), (right + 29.5, deep), Pen::THIN);
    drawing.line((right + 1.0, top), (right + 29.5, top), Pen::THIN);
    drawing.mark((right + 17.0, deep), "C");
    drawing.words((20.0, 8.0), "in the seats,", Tie::Middle, GREY, 0.0);
    drawing.words((20.0, 12.0), "on cleaned iron", Tie::Middle, GREY, 0.0);
    drawing.words((right + 12.0, 42.0), "on the rim's side,", Tie::Start, GREY, 0.0);
    drawing.words((right + 12.0, 46.0), "at depths below its edge", Tie::Start, GREY, 0.0);
    drawing
}
