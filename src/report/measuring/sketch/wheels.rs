//! The kinds of wheel in section above the axis.

use super::parts::{ROUND, outer_side};
use super::{WIDTH, letter, under};
use crate::report::drafting::{At, Drawing, Note, Pen, Place, arc};
use std::f64::consts::PI;

/// Height of the axis, of the rim's edge, of the grooves' bottoms, and of the rim's underside on the paper.
const AXIS: f64 = 70.0;
const EDGE: f64 = 12.0;
const SEATS: f64 = 17.5;
const UNDERSIDE: f64 = 23.0;
const HALF_RIM: f64 = 13.0;

fn middles(middle: f64) -> [f64; 3] {
    [middle - 7.5, middle, middle + 7.5]
}

fn edge_line(middle: f64) -> Vec<At> {
    outer_side((middle - HALF_RIM, middle + HALF_RIM), EDGE, ROUND, &middles(middle), SEATS)
}

/// All kinds side by side.
pub(in super::super) fn wheels() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 92.0);
    solid(&mut drawing, 20.0);
    one_web(&mut drawing, 64.0);
    two_webs(&mut drawing, 112.0);
    bolted(&mut drawing, 156.0);
    drawing.line((2.0, AXIS), (176.0, AXIS), Pen::CENTRE);
    for (x, words) in [(20.0, "solid disc"), (64.0, "one web"), (112.0, "two webs"), (156.0, "bolted rim")] {
        under(&mut drawing, x, 89.0, words);
    }
    drawing
}

/// A diameter in a section that shows half of it: the arrow ends at the axis without a head.
fn diameter(drawing: &mut Drawing, x: f64, y: f64, note: &Note) {
    drawing.line((x, AXIS), (x, y), Pen::ASKED);
    drawing.head((x, AXIS), (x, y), Pen::ASKED.colour);
    if let Note::Letter(letter) = note {
        drawing.mark((x, 0.5 * (AXIS + y)), letter);
    }
}

fn solid(drawing: &mut Drawing, middle: f64) {
    let mut body = edge_line(middle);
    body.extend([(middle + HALF_RIM, 60.0), (middle - HALF_RIM, 60.0)]);
    drawing.cut(&[&body], 2.0);
    diameter(drawing, middle, 60.0, &letter("A"));
}

/// Half a hub's height and length, and the bore.
const HUB: f64 = 50.0;
const BORE: f64 = 60.0;
const HALF_HUB: f64 = 10.0;

fn one_web(drawing: &mut Drawing, middle: f64) {
    let (web, half, hub) = (middle - 2.0, 2.2, middle + 1.5);
    let round = 2.5;
    let mut body = edge_line(middle);
    body.push((middle + HALF_RIM, UNDERSIDE));
    body.extend(arc((web + half + round, UNDERSIDE + round), round, 0.5 * PI, PI));
    body.extend(arc((web + half + round, HUB - round), round, PI, 1.5 * PI));
    body.extend([
        (hub + HALF_HUB, HUB),
        (hub + HALF_HUB, BORE),
        (hub - HALF_HUB, BORE),
        (hub - HALF_HUB, HUB),
    ]);
    body.extend(arc((web - half - round, HUB - round), round, 1.5 * PI, 2.0 * PI));
    body.extend(arc((web - half - round, UNDERSIDE + round), round, 0.0, 0.5 * PI));
    body.push((middle - HALF_RIM, UNDERSIDE));
    drawing.cut(&[&body], 2.0);
    drawing.line((middle, EDGE - 8.0), (middle, AXIS + 12.0), Pen::CENTRE);
    drawing.length((middle, EDGE), (web, EDGE), Place::Level(6.0), &letter("E"));
    drawing.length((web - half, 37.0), (web + half, 37.0), Place::Level(37.0), &letter("F"));
    drawing.pointed((web + 11.0, 28.0), (web + half + 0.8, UNDERSIDE + 1.0), &letter("G"));
    drawing.pointed((web + 11.0, 46.0), (web + half + 0.8, HUB - 1.0), &letter("H"));
    diameter(drawing, hub - 5.0, BORE, &letter("A"));
    diameter(drawing, hub - HALF_HUB - 4.0, HUB, &letter("B"));
    drawing.line((hub - HALF_HUB, HUB), (hub - HALF_HUB - 5.5, HUB), Pen::THIN);
    drawing.length((hub - HALF_HUB, BORE), (hub + HALF_HUB, BORE), Place::Level(77.0), &letter("C"));
    drawing.length((middle, AXIS + 8.0), (hub, AXIS + 8.0), Place::Level(83.5), &letter("D"));
}

fn two_webs(drawing: &mut Drawing, middle: f64) {
    let (half, aside) = (1.8, 8.0);
    let mut body = edge_line(middle);
    let outer = aside + half;
    body.extend([
        (middle + HALF_RIM, UNDERSIDE),
        (middle + outer, UNDERSIDE + 2.0),
        (middle + outer, HUB - 2.0),
        (middle + HALF_HUB + 2.0, HUB),
        (middle + HALF_HUB + 2.0, BORE),
        (middle - HALF_HUB - 2.0, BORE),
        (middle - HALF_HUB - 2.0, HUB),
        (middle - outer, HUB - 2.0),
        (middle - outer, UNDERSIDE + 2.0),
        (middle - HALF_RIM, UNDERSIDE),
    ]);
    let (inner, round) = (aside - half, 2.5);
    let (low, high) = (HUB, UNDERSIDE);
    let mut cavity = arc((middle - inner + round, high + round), round, PI, 0.5 * PI);
    cavity.extend(arc((middle + inner - round, high + round), round, 0.5 * PI, 0.0));
    cavity.extend(arc((middle + inner - round, low - round), round, 0.0, -0.5 * PI));
    cavity.extend(arc((middle - inner + round, low - round), round, -0.5 * PI, -PI));
    drawing.cut(&[&body, &cavity], 2.0);
    drawing.line((middle, EDGE - 8.0), (middle, AXIS + 4.0), Pen::CENTRE);
    drawing.length((middle, EDGE), (middle - aside, EDGE), Place::Level(6.0), &letter("E"));
    drawing.length(
        (middle + aside - half, 36.0),
        (middle + aside + half, 36.0),
        Place::Level(36.0),
        &letter("F"),
    );
    drawing.pointed((middle, 30.0), (middle + inner - 0.8, high + 0.8), &letter("G"));
    drawing.pointed((middle, 43.5), (middle + inner - 0.8, low - 0.8), &letter("H"));
}

fn bolted(drawing: &mut Drawing, middle: f64) {
    let (flange, half, round, inner) = (middle + 4.0, 2.2, 2.5, 44.0);
    let mut body = edge_line(middle);
    body.push((middle + HALF_RIM, UNDERSIDE));
    body.extend(arc((flange + half + round, UNDERSIDE + round), round, 0.5 * PI, PI));
    body.extend([(flange + half, inner), (flange - half, inner)]);
    body.extend(arc((flange - half - round, UNDERSIDE + round), round, 0.0, 0.5 * PI));
    body.push((middle - HALF_RIM, UNDERSIDE));
    drawing.cut(&[&body], 2.0);
    // What it is bolted to, on the seating side.
    let seating = 30.0;
    let body = [
        (flange - half, seating),
        (flange - half, 52.0),
        (flange - half + 6.0, 52.0),
        (flange - half + 6.0, 58.0),
        (flange - half - 9.0, 58.0),
        (flange - half - 9.0, seating),
    ];
    drawing.area(&[&body], "none", Some(Pen::HIDDEN));
    drawing.line((flange - 14.0, 37.0), (flange + 6.0, 37.0), Pen::CENTRE);
    drawing.line((middle, EDGE - 8.0), (middle, UNDERSIDE + 4.0), Pen::CENTRE);
    drawing.length((middle, EDGE), (flange, EDGE), Place::Level(6.0), &letter("I"));
    drawing.length((flange - half, 40.5), (flange + half, 40.5), Place::Level(40.5), &letter("J"));
    drawing.pointed((flange + 9.0, 31.0), (flange + half + 0.8, UNDERSIDE + 0.8), &letter("K"));
    diameter(drawing, flange + 12.0, inner, &letter("L"));
    drawing.line((flange + half, inner), (flange + 13.5, inner), Pen::THIN);
    diameter(drawing, flange - 16.0, seating, &letter("M"));
    drawing.line((flange - half - 9.0, seating), (flange - 17.5, seating), Pen::THIN);
    drawing.pointed((flange - 12.0, 27.0), (flange - half, 33.5), &letter("N"));
}
