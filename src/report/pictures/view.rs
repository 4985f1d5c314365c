//! From the section's millimetres to a place on a drawing: z to the right, r upwards, the shaft below.

use crate::geometry::Point;
use crate::report::drawing::{At, SCALES};

/// px per mm at full size: 96 px to the inch.
pub(super) const PX_PER_MM: f64 = 96.0 / 25.4;

/// The part of a section that is drawn, at a scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// Lowest and highest (r, z) that are drawn.
    pub low: Point,
    pub high: Point,
    /// px per mm.
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

/// The largest standard scale at which so many mm take no more than the room (px), and its name.
pub(super) fn standard_scale((wide, tall): At, room: At) -> (f64, &'static str) {
    let fits =
        |(scale, _): &&(f64, &str)| wide * scale * PX_PER_MM <= room.0 && tall * scale * PX_PER_MM <= room.1;
    // A picture of the report is a whole rim or a large part of it: ten times its size is for the workshop's drawing.
    let (scale, name) = SCALES[1..].iter().find(fits).unwrap_or(&SCALES[SCALES.len() - 1]);
    (scale * PX_PER_MM, name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_is_a_standard_one_that_fits() {
        let (scale, name) = standard_scale((114.0, 60.0), (500.0, 300.0));
        assert_eq!(name, "1 : 1");
        assert!((scale * 25.4 - 96.0).abs() < 1e-9);
        assert_eq!(standard_scale((300.0, 60.0), (500.0, 300.0)).1, "1 : 5");
    }
}
