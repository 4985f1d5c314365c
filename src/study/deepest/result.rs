//! What the search for the deepest cut hands out. Units: mm, MPa; the unit stands in every name.

use super::stress::Tested;
use crate::verdict::{Standing, Status};
use serde::Serialize;

/// How deep the grooves may be cut, and what else would settle the wheel.
#[derive(Debug, Clone, Serialize)]
pub struct Deepest {
    /// Depths are whole multiples of this: what the survey's unit prints.
    pub grain_mm: f64,
    /// Deepest seat as found: no shallower depth is a cut.
    pub worst_seat_mm: f64,
    /// The depth that the survey asks for.
    pub stated_mm: Option<f64>,
    /// Least depth that takes the wear of every groove away, rounded up to the grain.
    pub shallowest_mm: Option<f64>,
    /// Largest depth at which every check holds that depends on it, rounded down to the grain.
    pub deepest_mm: Option<f64>,
    /// Keys of the limits that end there, or that leave no depth between them.
    pub limiting: Vec<&'static str>,
    /// Every check's own limit, in the order of the page of a check.
    pub limits: Vec<DepthLimit>,
    /// Checks that hold at no depth: no cut settles them.
    pub at_no_depth: Vec<Unsettled>,
    /// The whole check at the deepest cut.
    pub confirmed: Option<Tested>,
    pub reserve: Option<Reserve>,
    /// The walls that the load needs; `None` for a wheel that is solid below its grooves.
    pub wall: Option<WallNeeded>,
    pub strength: Option<StrengthNeeded>,
    /// All whole checks that were made at depths.
    pub tested: Vec<Tested>,
}

/// Where one check holds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DepthLimit {
    pub key: &'static str,
    pub name: String,
    pub standing: Standing,
    /// False for a yardstick, which is shown and decides nothing.
    pub decides: bool,
    pub reach: Reach,
    /// What the check says beyond, and the depth at which it says so.
    pub beyond: Option<String>,
    pub beyond_mm: Option<f64>,
}

/// The first run of depths, from the shallow side, in which a check holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "reach", rename_all = "snake_case")]
pub enum Reach {
    /// At every depth at which grooves can be drawn at all, or that was looked at.
    Everywhere {
        looked_to_mm: f64,
    },
    Between {
        from_mm: Option<f64>,
        to_mm: Option<f64>,
        looked_to_mm: f64,
    },
    Nowhere,
}

impl Reach {
    /// The depth beyond which the check does not hold.
    pub fn end_mm(self) -> Option<f64> {
        match self {
            Self::Between { to_mm, .. } => to_mm,
            _ => None,
        }
    }

    /// The least depth at which it holds.
    pub fn begin_mm(self) -> Option<f64> {
        match self {
            Self::Between { from_mm, .. } => from_mm,
            _ => None,
        }
    }
}

/// A check that no depth of cut settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unsettled {
    pub key: &'static str,
    pub name: String,
    pub standing: Standing,
    pub status: Status,
    pub remark: Option<String>,
}

/// What is left for a next cut.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Reserve {
    /// Deepest less stated cut; `None` when none is stated. Negative when the stated cut is too deep.
    pub beyond_stated_mm: Option<f64>,
    /// Deepest less shallowest cut that cleans every groove.
    pub beyond_shallowest_mm: Option<f64>,
    /// What one cleaning takes off the depth.
    pub cleaning_mm: f64,
    /// Whole cleanings that the reserve beyond the stated cut holds, else beyond the shallowest one.
    pub further_cleanings: u32,
}

/// The uniform shift of all walls that takes strength just to its limit.
#[derive(Debug, Clone, Serialize)]
pub struct WallNeeded {
    /// The depth it belongs to; `None` for the grooves as found.
    pub depth_mm: Option<f64>,
    /// Negative: so much could be missing. `None` when no shift up to the furthest does.
    pub shift_mm: Option<f64>,
    pub furthest_shift_mm: f64,
    /// Thinnest wall left in the state that is judged, as surveyed and as needed.
    pub left_mm: Option<f64>,
    pub needed_mm: Option<f64>,
    /// Thinnest reading of the survey, before the cut, and what it would have to be; `None` with profiles.
    pub reading_mm: Option<f64>,
    pub reading_needed_mm: Option<f64>,
    /// The analysis at that shift.
    pub at_limit: Option<Tested>,
    pub tested: Vec<Tested>,
}

/// The strength that the wall of the survey needs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StrengthNeeded {
    pub depth_mm: Option<f64>,
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub safety_factor: f64,
    pub assumed_mpa: f64,
    /// Highest tension with its error bar times the factor, and the same by the criterion for this metal:
    /// the larger.
    pub needed_mpa: f64,
    /// The same for the stress through the wall, below which strength rejects.
    pub through_wall_mpa: Option<f64>,
    /// True for gray iron and metal that is not known, where a class answers.
    pub is_iron: bool,
    /// Least class of gray iron (ASTM A48, ksi) that reaches it.
    #[serde(rename = "class_ksi")]
    pub class: Option<u32>,
}
