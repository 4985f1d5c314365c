//! A place around the rim: where it is and what walls it has.

use crate::geometry::Point;
use crate::survey::WallEntry;
use serde::Serialize;

/// What stands behind the walls of a place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Kind {
    /// Readings at this angle (rad).
    Station { angle_rad: f64 },
    /// The once-around fit's thinnest wall of every groove.
    Thinnest,
    /// The lower bound of that estimate.
    LowerBound,
    /// The same all around: a single reading, or a solid wheel.
    Uniform,
}

/// One place around the rim.
#[derive(Debug, Clone)]
pub struct Place {
    pub kind: Kind,
    /// Walls as read, one entry per groove; empty where profiles tell.
    pub walls: Vec<WallEntry>,
    /// Measured profiles, where they tell.
    pub lines: Option<Lines>,
}

/// Measured lines of both sides of the rim, in order of increasing z.
#[derive(Debug, Clone)]
pub struct Lines {
    pub groove_side: Vec<Point>,
    pub wall_side: Vec<Point>,
    pub reading_error_mm: f64,
    pub corner_radius_mm: f64,
}

impl Place {
    pub fn name(&self) -> String {
        match self.kind {
            Kind::Station { angle_rad } => format!("station {:.0}°", angle_rad.to_degrees()),
            Kind::Thinnest => "thinnest (estimate)".into(),
            Kind::LowerBound => "thinnest (95 % bound)".into(),
            Kind::Uniform => "all around".into(),
        }
    }
}
