//! Lines that several sketches share: grooves, rims, ropes.

use crate::report::drafting::{At, Drawing, Pen, arc};
use crate::report::drawing::ACCENT;
use std::f64::consts::PI;

/// Ropes stand out from everything else.
pub(super) const ROPE: Pen = Pen { colour: ACCENT, width: 0.7, dashes: "" };

/// A groove with a round seat, as it is drawn.
#[derive(Clone, Copy)]
pub(super) struct Seat {
    pub radius: f64,
    /// Whole angle between the flanks (rad).
    pub opening: f64,
    /// Whole angle of the slot (rad), its bottom below the seat, its corners.
    pub slot: Option<(f64, f64, f64)>,
}

pub(super) const ROUND: Seat = Seat { radius: 2.6, opening: 0.61, slot: None };

impl Seat {
    /// Centre of the seat when its bottom lies at `bottom`.
    pub fn centre(&self, x: f64, bottom: f64) -> At {
        (x, bottom - self.radius)
    }

    /// Angle from the bottom at which the flank begins (rad).
    fn end(&self) -> f64 {
        0.5 * (PI - self.opening)
    }

    /// Half of the mouth's width on the line `top`.
    pub fn half_mouth(&self, bottom: f64, top: f64) -> f64 {
        let foot = bottom - self.radius + self.radius * self.end().cos();
        self.radius * self.end().sin() + (foot - top) * (0.5 * self.opening).tan()
    }

    /// From the left mouth to the right one.
    pub fn line(&self, x: f64, bottom: f64, top: f64) -> Vec<At> {
        let centre = self.centre(x, bottom);
        // Angles on paper: the bottom is at −90°.
        let down = -0.5 * PI;
        let half = self.half_mouth(bottom, top);
        let mut points = vec![(x - half, top)];
        match self.slot {
            None => points.extend(arc(centre, self.radius, down - self.end(), down + self.end())),
            Some((angle, deep, corner)) => {
                let inner = 0.5 * angle;
                points.extend(arc(centre, self.radius, down - self.end(), down - inner));
                let (wide, floor) = (self.radius * inner.sin(), bottom + deep);
                points.extend(arc((x - wide + corner, floor - corner), corner, PI, 1.5 * PI));
                points.extend(arc((x + wide - corner, floor - corner), corner, 1.5 * PI, 2.0 * PI));
                points.extend(arc(centre, self.radius, down + inner, down + self.end()));
            }
        }
        points.push((x + half, top));
        points
    }
}

/// The outer side of a rim from left to right, with grooves of one depth at `middles`.
pub(super) fn outer_side(
    (left, right): (f64, f64),
    top: f64,
    seat: Seat,
    middles: &[f64],
    bottom: f64,
) -> Vec<At> {
    let mut points = vec![(left, top)];
    for middle in middles {
        points.extend(seat.line(*middle, bottom, top));
    }
    points.push((right, top));
    points
}

/// A wheel or pulley seen from its side, with its bore.
pub(super) fn disc(drawing: &mut Drawing, centre: At, radius: f64) {
    drawing.circle(centre, radius, "#ffffff", Pen::OUTLINE);
    drawing.circle(centre, 0.16 * radius, "none", Pen::FAINT);
    let reach = radius + 2.0;
    drawing.line((centre.0 - reach, centre.1), (centre.0 + reach, centre.1), Pen::CENTRE);
    drawing.line((centre.0, centre.1 - reach), (centre.0, centre.1 + reach), Pen::CENTRE);
}
