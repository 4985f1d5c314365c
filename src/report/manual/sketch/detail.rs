//! The enlarged part of a sketch: edges too short to be named where the whole body is seen.

use super::{Frame, body, marks};
use crate::elastic::Model;
use crate::geometry::{Edge, Point};
use crate::report::drawing::{At, Sheet};

/// Size of the detail on the sheet (px), and the part of it that the short edges fill.
pub(super) const SIZE: At = (440.0, 250.0);
const CORE: At = (190.0, 176.0);
/// Where the column of names begins (px).
const COLUMN: f64 = 320.0;
/// An edge shorter than this cannot carry its name (px).
const SHORT: f64 = 17.0;

pub(super) struct Detail {
    pub frame: Frame,
    /// Tags that are named in the detail only.
    pub tags: Vec<usize>,
}

impl Detail {
    /// Nothing where every edge can be seen, or where enlarging helps little.
    pub fn of(model: &Model, whole: &Frame) -> Option<Self> {
        let outline = &model.outline;
        let longest = |tag: usize| {
            outline.edges().filter(|edge| edge.tag == tag).map(|edge| whole.length(edge)).fold(0.0, f64::max)
        };
        let tags: Vec<usize> =
            (0..outline.tags.len()).filter(|tag| (1e-9..SHORT).contains(&longest(*tag))).collect();
        let short: Vec<&Edge> = outline.edges().filter(|edge| tags.contains(&edge.tag)).collect();
        let points = || short.iter().flat_map(|edge| [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| edge.at(t)));
        let (mut low, mut high) =
            (Point::new(f64::INFINITY, f64::INFINITY), Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY));
        for p in points() {
            low = Point::new(low.r.min(p.r), low.z.min(p.z));
            high = Point::new(high.r.max(p.r), high.z.max(p.z));
        }
        let even = (CORE.0 / (high.r - low.r)).min(CORE.1 / (high.z - low.z));
        let useful = even.is_finite() && even > 1.6 * whole.scale.0.max(whole.scale.1);
        if short.is_empty() || !useful {
            return None;
        }
        let core = ((high.r - low.r) * even, (high.z - low.z) * even);
        let corner = (0.5 * (COLUMN - 20.0 - core.0), 0.5 * (SIZE.1 + core.1));
        Some(Self { frame: Frame { low, high, scale: (even, even), corner, broken: false }, tags })
    }

    /// Draws the detail with its upper left corner at `at`, and its frame on the whole section.
    pub fn draw(self, sheet: &mut Sheet, model: &Model, whole: &Frame, at: At) {
        let frame = &self.frame;
        let point = |x: f64, y: f64| {
            let r = frame.low.r + (x - frame.corner.0) / frame.scale.0;
            let z = frame.low.z + (frame.corner.1 - y) / frame.scale.1;
            whole.at(Point::new(r, z))
        };
        sheet.frame(point(0.0, 0.0), point(SIZE.0, SIZE.1));
        let mut own = Sheet::new(SIZE.0, SIZE.1);
        body(&mut own, model, frame);
        marks::supports(&mut own, model, frame);
        marks::loads(&mut own, model, frame);
        marks::names_in_column(&mut own, model, frame, &self.tags, COLUMN);
        sheet.lay(at, own);
    }
}
