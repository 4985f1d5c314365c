//! Wall left under each groove, and whether a cut takes all the wear away.

use super::groove::Groove;
use super::{Section, tags};
use crate::geometry::{Edge, Outline};
use serde::Serialize;

/// The wall under one groove.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WallLeft {
    pub groove: usize,
    /// Over the web: no thin wall there.
    pub solid: bool,
    /// Least distance from the groove's lowest iron to the underside (mm).
    pub least_mm: Option<f64>,
    /// Along the radius from the seat's bottom (mm).
    pub radial_mm: Option<f64>,
}

/// Measures the wall under `groove` in a finished outline.
pub(super) fn measure(outline: &Outline, groove: &Groove, solid: bool) -> WallLeft {
    let none = WallLeft { groove: groove.number, solid: true, least_mm: None, radial_mm: None };
    if solid {
        return none;
    }
    let under = |name: &str| name == tags::UNDERSIDE || name == tags::WEB_FILLET;
    let undersides: Vec<&Edge> = outline.edges().filter(|e| under(outline.tag_name(e))).collect();
    let own = |edge: &Edge| {
        let (part, number) = outline.tag_name(edge).rsplit_once(' ').unwrap_or(("", ""));
        number.parse() == Ok(groove.number) && part != tags::FLANK
            || outline.tag_name(edge) == groove.seat.tag
    };
    let low = groove.lowest_radius_mm + 0.05 * groove.seat_depth_mm.abs();
    let mut least = f64::INFINITY;
    for edge in outline.edges().filter(|e| own(e)) {
        for step in 0..=32 {
            let p = edge.at(f64::from(step) / 32.0);
            if p.r <= low {
                least = undersides.iter().map(|e| e.distance(p)).fold(least, f64::min);
            }
        }
    }
    let radial = undersides
        .iter()
        .filter_map(|edge| radius_at(edge, groove.z_mm))
        .map(|r| groove.seat_radius_mm - r)
        .fold(f64::INFINITY, f64::min);
    let finite = |x: f64| x.is_finite().then_some(x);
    WallLeft { groove: groove.number, solid: false, least_mm: finite(least), radial_mm: finite(radial) }
}

/// Radius at which an edge crosses the plane of `z`.
fn radius_at(edge: &Edge, z: f64) -> Option<f64> {
    let over = |t: f64| edge.at(t).z - z;
    if over(0.0) * over(1.0) > 0.0 {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if over(low) * over(middle) <= 0.0 { high = middle } else { low = middle }
    }
    Some(edge.at(low).r)
}

/// A groove whose wear reaches beyond the finished shape.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct UncleanGroove {
    pub groove: usize,
    /// How far the worn surface lies beyond the finished one (mm).
    pub beyond_mm: f64,
}

impl Section {
    /// Grooves of `worn` whose surface lies inside the iron of this finished section by more than
    /// `tolerance_mm`: the cut would not clean them up.
    pub fn unclean(&self, worn: &Self, tolerance_mm: f64) -> Vec<UncleanGroove> {
        let mut unclean = Vec::new();
        for groove in &worn.grooves {
            let suffix = format!(" {}", groove.number);
            let mut beyond = 0.0f64;
            for edge in worn.outline.edges().filter(|e| worn.outline.tag_name(e).ends_with(&suffix)) {
                for step in 1..16 {
                    let p = edge.at(f64::from(step) / 16.0);
                    if self.outline.contains(p) {
                        let depth = self.outline.edges().map(|e| e.distance(p)).fold(f64::INFINITY, f64::min);
                        beyond = beyond.max(depth);
                    }
                }
            }
            if beyond > tolerance_mm {
                unclean.push(UncleanGroove { groove: groove.number, beyond_mm: beyond });
            }
        }
        unclean
    }
}
