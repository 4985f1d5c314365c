//! The rim's cross-section: groove shapes, the cut, the underside, web and hub, as one closed outline.
//!
//! Owns geometry of the sheave only; knows no loads and no stresses. Lengths in mm, angles in rad;
//! (r, z) as in `geometry`, z from the middle of the rim, groove 1 on the side of negative z.

mod fault;
mod groove;
mod groove_side;
mod place;
mod underside;
mod wall;
mod wheel;

pub(crate) use fault::place as place_words;
pub use fault::{Meeting, SectionFault};
pub use groove::{Groove, Seat};
pub use place::{Kind, Lines, Place};
pub use wall::{UncleanGroove, WallLeft};

use crate::geometry::Outline;
use crate::survey::{Cut, GrooveShape, Survey};

/// Which grooves the section shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// As found.
    Now,
    /// After the cut.
    Cut,
}

/// A section of the wheel at one place around the rim.
#[derive(Debug, Clone)]
pub struct Section {
    pub outline: Outline,
    pub state: State,
    pub grooves: Vec<Groove>,
    /// For every groove the wall left under it.
    pub walls: Vec<WallLeft>,
    /// Radius below which stresses are not judged: the hub with its fillets, or the bolted flange.
    pub fence_radius_mm: f64,
    /// Why nothing is judged below that radius.
    pub fence_reason: String,
    /// The tag of the edges that hold the wheel.
    pub support: String,
    /// Thing to tell about the geometry that is no fault.
    pub remarks: Vec<String>,
}

/// Names of the outline's tags; groove parts carry the groove's number behind.
pub mod tags {
    pub const LAND: &str = "land";
    pub const RIM_SIDE: &str = "rim side";
    pub const UNDERSIDE: &str = "underside";
    pub const WEB: &str = "web";
    pub const WEB_FILLET: &str = "web fillet";
    pub const HUB_FILLET: &str = "hub fillet";
    pub const HUB: &str = "hub";
    pub const BORE: &str = "bore";
    pub const BOLTED_FACE: &str = "bolted face";
    pub const SEAT: &str = "seat";
    pub const SHOULDER: &str = "seat shoulder";
    pub const FLANK: &str = "flank";
    pub const SLOT_WALL: &str = "slot wall";
    pub const SLOT_CORNER: &str = "slot corner";
    pub const SLOT_BOTTOM: &str = "slot bottom";
    pub const ROOT: &str = "root";

    /// Tag of a part of groove `number` (counted from 1).
    pub fn of(part: &str, number: usize) -> String {
        format!("{part} {number}")
    }

    /// A tag as people call the part.
    pub fn words(tag: &str) -> String {
        match tag.rsplit_once(' ') {
            Some((part, number)) if number.parse::<usize>().is_ok() => {
                let part = match part {
                    SEAT => "rope seat",
                    SHOULDER => "side of the seat",
                    FLANK => "flank",
                    SLOT_WALL => "side of the slot",
                    SLOT_CORNER => "corner at the slot's bottom",
                    SLOT_BOTTOM => "bottom of the slot",
                    other => other,
                };
                format!("{part} of groove {number}")
            }
            _ => match tag {
                UNDERSIDE => "underside of the rim".into(),
                WEB_FILLET => "fillet between web and rim".into(),
                HUB_FILLET => "fillet between web and hub".into(),
                RIM_SIDE => "side of the rim".into(),
                other => other.to_owned(),
            },
        }
    }
}

/// Seat depth below the rim edge that the cut asks for (mm); `None` without a cut.
pub fn cut_depth_mm(survey: &Survey) -> Option<f64> {
    match survey.cut {
        Cut::CleanUp { allowance_mm } => {
            Some(survey.grooves.seat_depth_mm.iter().fold(0.0f64, |a, b| a.max(*b)) + allowance_mm)
        }
        Cut::ToDepth { depth_mm } => Some(depth_mm),
        Cut::None => None,
    }
}

/// Shape and seat depth of groove `index` in a state.
pub(crate) fn shape_of(survey: &Survey, state: State, index: usize) -> (GrooveShape, f64) {
    let grooves = &survey.grooves;
    match (state, cut_depth_mm(survey)) {
        (State::Cut, Some(depth)) => {
            let shape = grooves.cut_to.clone().unwrap_or_else(|| grooves.now[index].clone());
            (shape, depth)
        }
        _ => (grooves.now[index].clone(), grooves.seat_depth_mm[index]),
    }
}

/// Axial position of groove `index` from the middle of the rim (mm).
pub fn groove_place_mm(survey: &Survey, index: usize) -> f64 {
    let middle = (survey.grooves.count() as f64 - 1.0) / 2.0;
    survey.grooves.offset_mm + (index as f64 - middle) * survey.grooves.pitch_mm
}

impl Section {
    /// Builds the section at `place` in `state`.
    ///
    /// # Errors
    /// Every reason why the measurements make no valid section.
    pub fn build(survey: &Survey, state: State, place: &Place) -> Result<Self, Vec<SectionFault>> {
        wheel::build(survey, state, place)
    }
}

#[cfg(test)]
pub(crate) mod tests;
