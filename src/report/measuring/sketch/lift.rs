//! The lift around the sheave: ropes, wrap, pulleys, weights, tensions.

use super::parts::{ROPE, disc};
use super::{WIDTH, letter, under};
use crate::report::drafting::{At, Drawing, Pen, Place, arc, around};
use crate::report::drawing::{ACCENT, GREY, INK, Tie};
use std::f64::consts::PI;

fn block(drawing: &mut Drawing, (left, top): At, (width, height): At) {
    let corners = [(left, top), (left + width, top), (left + width, top + height), (left, top + height)];
    drawing.area(&[&corners], "#ffffff", Some(Pen::OUTLINE));
}

/// Wrap, bends and roping.
pub(in super::super) fn roping() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 68.0);
    wrap(&mut drawing);
    bends(&mut drawing);
    ratios(&mut drawing);
    drawing
}

fn wrap(drawing: &mut Drawing) {
    let (centre, radius, off) = ((32.0, 25.0), 17.0, 15f64.to_radians());
    disc(drawing, centre, radius);
    let mut rope = vec![(centre.0 - radius, 60.0)];
    rope.extend(arc(centre, radius, PI, off));
    // Off the sheave in a straight line, then around the pulley's outer side and down.
    let leaves = around(centre, radius, off);
    let meets = (leaves.0 + 22.0 * off.sin(), leaves.1 + 22.0 * off.cos());
    let pulley_radius = 6.0;
    let pulley = (meets.0 - pulley_radius * off.cos(), meets.1 + pulley_radius * off.sin());
    disc(drawing, pulley, pulley_radius);
    rope.extend(arc(pulley, pulley_radius, off, 0.0));
    rope.push((pulley.0 + pulley_radius, 60.0));
    drawing.path(&rope, ROPE);
    for angle in [off, PI] {
        drawing.line(centre, around(centre, radius + 3.0, angle), Pen::THIN);
    }
    drawing.angle(centre, 10.0, (off, PI), &letter("B"));
    let edges = ((pulley.0 - pulley_radius, pulley.1), (pulley.0 + pulley_radius, pulley.1));
    drawing.length(edges.0, edges.1, Place::Level(58.0), &letter("E"));
    under(drawing, 32.0, 66.0, "angle over which the ropes touch");
}

fn bends(drawing: &mut Drawing) {
    // Over both pulleys: bent in one sense.
    let (left, right, radius) = ((82.0, 18.0), (99.0, 18.0), 6.0);
    disc(drawing, left, radius);
    disc(drawing, right, radius);
    let mut rope = vec![(left.0 - radius, 46.0)];
    rope.extend(arc(left, radius, PI, 0.5 * PI));
    rope.extend(arc(right, radius, 0.5 * PI, 0.0));
    rope.push((right.0 + radius, 46.0));
    drawing.path(&rope, ROPE);
    drawing.mark((right.0, right.1 + 12.0), "C");
    under(drawing, 90.5, 52.0, "same sense");
    // Over one and under the other: bent back.
    let (left, right) = ((120.0, 18.0), (132.0, 36.0));
    disc(drawing, left, radius);
    disc(drawing, right, radius);
    let mut rope = vec![(left.0 - radius, 46.0)];
    rope.extend(arc(left, radius, PI, 0.0));
    rope.extend(arc(right, radius, PI, 2.0 * PI));
    rope.push((right.0 + radius, 8.0));
    drawing.path(&rope, ROPE);
    drawing.mark((left.0, 40.0), "D");
    under(drawing, 126.0, 52.0, "bent back");
}

fn ratios(drawing: &mut Drawing) {
    // 1:1: the ropes end at car and counterweight.
    let (top, radius) = ((148.0, 14.0), 4.0);
    disc(drawing, top, radius);
    let mut rope = vec![(top.0 - radius, 38.0)];
    rope.extend(arc(top, radius, PI, 0.0));
    rope.push((top.0 + radius, 38.0));
    drawing.path(&rope, ROPE);
    block(drawing, (140.5, 38.0), (7.0, 9.0));
    block(drawing, (150.0, 38.0), (4.0, 9.0));
    under(drawing, 148.0, 52.0, "1:1");
    // 2:1: they run around pulleys there and end above.
    let top = (167.0, 14.0);
    disc(drawing, top, radius);
    let low = 30.0;
    let mut rope = vec![(top.0 - radius - 4.0, 8.0)];
    rope.extend(arc((top.0 - radius - 2.0, low), 2.0, PI, 2.0 * PI));
    rope.extend(arc(top, radius, PI, 0.0));
    rope.extend(arc((top.0 + radius + 2.0, low), 2.0, PI, 2.0 * PI));
    rope.push((top.0 + radius + 4.0, 8.0));
    drawing.path(&rope, ROPE);
    for side in [-1.0, 1.0] {
        let x = top.0 + side * (radius + 2.0);
        drawing.circle((x, low), 1.7, "#ffffff", Pen::FAINT);
        drawing.line((x, low), (x, 38.0), Pen::FAINT);
        drawing.line(
            (top.0 + side * (radius + 2.0), 8.0),
            (top.0 + side * (radius + 6.0), 8.0),
            Pen::OUTLINE,
        );
    }
    block(drawing, (157.5, 38.0), (7.0, 9.0));
    block(drawing, (171.0, 38.0), (4.0, 9.0));
    under(drawing, 167.0, 52.0, "2:1");
    drawing.mark((157.0, 58.0), "A");
}

/// What hangs on the ropes, and how far it goes.
pub(in super::super) fn loads() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 73.0);
    let (top, radius) = ((88.0, 11.0), 8.0);
    disc(&mut drawing, top, radius);
    let (car, weight) = (top.0 - radius, top.0 + radius);
    let mut rope = vec![(car, 42.0)];
    rope.extend(arc(top, radius, PI, 0.0));
    rope.push((weight, 28.0));
    drawing.path(&rope, ROPE);
    block(&mut drawing, (car - 10.0, 42.0), (20.0, 18.0));
    block(&mut drawing, (weight - 3.0, 28.0), (8.0, 16.0));
    // The load stands in the car.
    let load = [(car - 6.0, 52.0), (car + 6.0, 52.0), (car + 6.0, 60.0), (car - 6.0, 60.0)];
    drawing.area(&[&load], "#eceae4", Some(Pen::FAINT));
    drawing.mark((car - 5.5, 47.0), "A");
    drawing.mark((car, 56.0), "B");
    drawing.mark((weight + 1.0, 36.0), "C");
    // Compensation below, travelling cable to the wall.
    let mut loop_below = vec![(car + 4.0, 60.0)];
    loop_below.extend(arc((0.5 * (car + weight) + 2.0, 64.0), 0.5 * (weight - car) - 2.0, PI, 2.0 * PI));
    loop_below.push((weight, 44.0));
    drawing.path(&loop_below, Pen::FAINT);
    drawing.mark((weight + 5.5, 60.0), "D");
    let mut cable = vec![(car - 8.0, 60.0)];
    cable.extend(arc((car - 14.0, 64.0), 6.0, 2.0 * PI, PI));
    cable.push((car - 20.0, 30.0));
    drawing.path(&cable, Pen::FAINT);
    drawing.mark((car - 24.0, 48.0), "E");
    // Landings and travel.
    for (y, words) in [(60.0, "lowest landing"), (28.0, "highest landing")] {
        drawing.line((26.0, y), (car - 21.5, y), Pen::HIDDEN);
        drawing.words((25.0, y - 1.0), words, Tie::Start, GREY, 0.0);
    }
    drawing.length((30.0, 28.0), (30.0, 60.0), Place::Upright(20.0), &letter("F"));
    drawing.arrow((car - 14.5, 58.0), (car - 14.5, 46.0), Pen::ASKED);
    drawing.mark((car - 14.5, 42.5), "G");
    drawing
}

/// How many ropes, and how thick.
pub(in super::super) fn rope() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 34.0);
    let places: Vec<f64> = (0..5).map(|i| 34.0 + 8.0 * f64::from(i)).collect();
    for (index, x) in places.iter().enumerate() {
        for side in [-1.5, 1.5] {
            drawing.line((x + side, 5.0), (x + side, 22.0), Pen::OUTLINE);
        }
        for step in 0..6 {
            let y = 6.5 + 2.8 * f64::from(step);
            drawing.line((x - 1.5, y + 1.3), (x + 1.5, y - 1.0), Pen::THIN);
        }
        drawing.words((*x, 26.5), &(index + 1).to_string(), Tie::Middle, INK, 0.0);
    }
    drawing.length((places[0], 26.0), (places[4], 26.0), Place::Level(30.5), &letter("A"));
    // Six outer strands: the nominal diameter goes over their crowns.
    let (centre, strand) = ((120.0, 15.0), 3.2);
    drawing.circle(centre, strand, "#ffffff", Pen::THIN);
    for index in 0..6 {
        let at = around(centre, 2.0 * strand, PI * f64::from(index) / 3.0);
        drawing.circle(at, strand, "#ffffff", Pen::OUTLINE);
    }
    let reach = 3.0 * strand;
    drawing.length((centre.0 - reach, 15.0), (centre.0 + reach, 15.0), Place::Level(30.0), &letter("B"));
    drawing
}

/// Tension of every rope on both sides.
pub(in super::super) fn tensions() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 46.0);
    let (centre, radius) = ((50.0, 16.0), 11.0);
    disc(&mut drawing, centre, radius);
    let mut rope = vec![(centre.0 - radius, 34.0)];
    rope.extend(arc(centre, radius, PI, 0.0));
    rope.push((centre.0 + radius, 34.0));
    drawing.path(&rope, ROPE);
    drawing.pull((centre.0 - radius, 30.0), (centre.0 - radius, 41.0), "A");
    drawing.pull((centre.0 + radius, 30.0), (centre.0 + radius, 38.0), "B");
    drawing.words((centre.0 - radius - 3.0, 32.0), "heavy side", Tie::End, GREY, 0.0);
    drawing.words((centre.0 + radius + 3.0, 32.0), "light side", Tie::Start, GREY, 0.0);
    // Seen along the lift: ropes counted as grooves are.
    for index in 0..5 {
        let x = 112.0 + 9.0 * f64::from(index);
        drawing.line((x, 6.0), (x, 30.0), ROPE);
        drawing.words((x, 35.0), &(index + 1).to_string(), Tie::Middle, INK, 0.0);
    }
    drawing.line((106.0, 6.0), (154.0, 6.0), Pen::OUTLINE);
    drawing.words((130.0, 41.0), "rope 1 runs in the first groove with a rope", Tie::Middle, ACCENT, 0.0);
    drawing
}
