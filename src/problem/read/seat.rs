//! Radii of a rope's seat, as the outline has them.

use crate::geometry::{Outline, Point};

/// The radius of a seat's bottom about a rope's centre: the bottom itself may be cut away by a slot.
pub(in crate::problem) fn bottom_radius(outline: &Outline, tags: &[String], centre: Point) -> Option<f64> {
    let edge = outline.edges().find(|edge| tags.iter().any(|tag| tag == outline.tag_name(edge)))?;
    Some(centre.r - edge.start.distance(centre))
}

/// Smallest and largest radius of the tagged edges.
pub(in crate::problem) fn radii(outline: &Outline, tags: &[String]) -> Option<(f64, f64)> {
    let edges = outline.edges().filter(|edge| tags.iter().any(|tag| tag == outline.tag_name(edge)));
    let all = edges.flat_map(|edge| (0..=32).map(|i| edge.at(f64::from(i) / 32.0).r));
    all.fold(None, |range, r| match range {
        None => Some((r, r)),
        Some((low, high)) => Some((f64::min(low, r), f64::max(high, r))),
    })
}
