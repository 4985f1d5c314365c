//! From a section's millimetres to a place on a drawing: z to the right, r upwards, the shaft below.
//!
//! A drawing counts in px or in mm on paper; the scale says how many of them a millimetre of the section takes.

use super::drawing::{At, SCALES};
use crate::geometry::Point;

/// The part of a section that is drawn, at a scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// Lowest and highest (r, z) that are drawn.
    pub low: Point,
    pub high: Point,
    /// Lengths on the drawing per mm of the section.
    pub scale: f64,
    /// Where `low.z` and `high.r` meet: the upper left corner.
    pub corner: At,
}

impl View {
    pub fn at(&self, p: Point) -> At {
        (self.x(p.z), self.y(p.r))
    }

    pub fn x(&self, z: f64) -> f64 {
        self.corner.0 + (z - self.low.z) * self.scale
    }

    pub fn y(&self, r: f64) -> f64 {
        self.corner.1 + (self.high.r - r) * self.scale
    }

    pub fn width(&self) -> f64 {
        (self.high.z - self.low.z) * self.scale
    }

    pub fn height(&self) -> f64 {
        (self.high.r - self.low.r) * self.scale
    }
}

/// The largest of these standard scales at which so many mm take no more than the room (mm on paper), and its name;
/// the smallest where none does.
pub(super) fn standard_scale(
    scales: &[(f64, &'static str)],
    (wide, tall): At,
    room: At,
) -> (f64, &'static str) {
    let fits = |(scale, _): &&(f64, &str)| wide * scale <= room.0 && tall * scale <= room.1;
    *scales.iter().find(fits).unwrap_or(&SCALES[SCALES.len() - 1])
}

/// A closed loop's part with r at or above `least` (Sutherland and Hodgman's way).
pub(super) fn above(points: &[Point], least: f64) -> Vec<Point> {
    let mut kept = Vec::new();
    for (index, b) in points.iter().enumerate() {
        let a = points[(index + points.len() - 1) % points.len()];
        if (a.r >= least) != (b.r >= least) {
            kept.push(a.lerp(*b, (least - a.r) / (b.r - a.r)));
        }
        if b.r >= least {
            kept.push(*b);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_is_a_standard_one_that_fits() {
        assert_eq!(standard_scale(&SCALES, (114.0, 60.0), (130.0, 80.0)), (1.0, "1 : 1"));
        assert_eq!(standard_scale(&SCALES, (300.0, 60.0), (130.0, 80.0)).1, "1 : 5");
        assert_eq!(standard_scale(&SCALES[1..], (1.0, 1.0), (130.0, 80.0)).1, "5 : 1");
        assert_eq!(standard_scale(&SCALES, (1e6, 60.0), (130.0, 80.0)).1, "1 : 20");
    }

    #[test]
    fn a_loop_is_cut_off_at_a_radius() {
        let corners = [(1.0, 0.0), (3.0, 0.0), (3.0, 4.0), (1.0, 4.0)].map(|(r, z)| Point::new(r, z));
        let kept = above(&corners, 2.0);
        assert_eq!(kept.len(), 4);
        assert!(kept.iter().all(|p| p.r >= 2.0), "{kept:?}");
    }
}
