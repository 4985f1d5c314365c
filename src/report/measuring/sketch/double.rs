//! The way of the ropes through a double wrap: twice over this sheave, with the secondary sheave between.

use super::parts::{ROPE, disc};
use super::{WIDTH, under};
use crate::report::drafting::{At, Drawing, arc, around};
use std::f64::consts::PI;

const DRIVE: (At, f64) = ((70.0, 26.0), 14.0);
const SECONDARY: (At, f64) = ((76.0, 53.0), 8.0);
/// The second pass is drawn this far outside the first one, so that both are seen.
const ASIDE: f64 = 1.8;

/// The angle at which a straight rope leaves two circles on their left sides.
fn left_tangent(radii: [f64; 2]) -> f64 {
    let (across, up) = (DRIVE.0.0 - SECONDARY.0.0, SECONDARY.0.1 - DRIVE.0.1);
    let towards = up.atan2(across);
    towards + ((radii[1] - radii[0]) / across.hypot(up)).acos()
}

/// Both passes with their wraps (A, B, C) and free lengths (D, E, F).
pub(in super::super) fn double_wrap() -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 78.0);
    disc(&mut drawing, DRIVE.0, DRIVE.1);
    disc(&mut drawing, SECONDARY.0, SECONDARY.1);
    let left = left_tangent([DRIVE.1 + ASIDE, SECONDARY.1]);
    // Up from the car, over the sheave, straight down to the secondary one and around it.
    let mut rope = vec![(DRIVE.0.0 - DRIVE.1, 72.0)];
    rope.extend(arc(DRIVE.0, DRIVE.1, PI, 0.0));
    rope.extend(arc(SECONDARY.0, SECONDARY.1, 0.0, left - 2.0 * PI));
    // Up again, over the sheave once more, and down to the counterweight.
    rope.extend(arc(DRIVE.0, DRIVE.1 + ASIDE, left, 0.0));
    rope.push((DRIVE.0.0 + DRIVE.1 + ASIDE, 72.0));
    drawing.path(&rope, ROPE);
    for (at, letter) in [
        (around(DRIVE.0, 0.62 * DRIVE.1, 0.75 * PI), "A"),
        (around(DRIVE.0, DRIVE.1 + ASIDE + 4.5, 0.25 * PI), "B"),
        ((SECONDARY.0.0, SECONDARY.0.1 + SECONDARY.1 + 4.0), "C"),
        ((DRIVE.0.0 - DRIVE.1 - 4.0, 64.0), "D"),
        ((DRIVE.0.0 - 0.25 * DRIVE.1, 45.0), "E"),
        ((DRIVE.0.0 + DRIVE.1 + ASIDE + 4.0, 64.0), "F"),
    ] {
        drawing.mark(at, letter);
    }
    under(&mut drawing, DRIVE.0.0 - DRIVE.1, 76.0, "car");
    under(&mut drawing, DRIVE.0.0 + DRIVE.1 + ASIDE, 76.0, "counterweight");
    let beside = "Only where every rope passes this sheave twice, with a secondary sheave between.";
    under(&mut drawing, 134.0, 26.0, "A, B: angles over which a rope touches on its two passes");
    under(&mut drawing, 134.0, 33.0, "C: angle on the secondary sheave");
    under(&mut drawing, 134.0, 40.0, "D, E, F: free lengths of rope");
    under(&mut drawing, 89.0, 4.0, beside);
    drawing
}
