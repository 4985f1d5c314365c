//! What a machine shop must know to make the cut that a check allows: sizes with what they may be off, walls at which
//! to stop, hardness.
//!
//! Every number follows from the survey and the check; tolerances say what they rest on. Owns no words for the sheet
//! beyond those reasons, and makes none where the verdict allows no cut. Units: mm, rad, HB.

use super::Outcome;
use super::findings::EQUAL_MM;
use crate::hoist::rules::SEAT_HARDNESS_HB;
use crate::section::{Groove, Kind, Section, State, WallLeft, groove_place_mm, tags};
use crate::survey::{GrooveShape, Survey, WallFrom, WallReading};
use crate::units::Kind as Quantity;
use crate::verdict::Word;

/// Taken for the reading error of a wall gauge where the survey states none, as in the fit around the rim (mm).
const READING_ERROR_MM: f64 = 0.5;
const PRACTICE: &str = "common practice, no source";

/// The cut in numbers.
#[derive(Debug, Clone)]
pub struct Machining {
    /// Over the rim's edge: the datum of all depths.
    pub edge_diameter_mm: f64,
    pub rim_width_mm: f64,
    pub rope_diameter_mm: f64,
    pub depth_mm: f64,
    /// Over the finished seats' bottoms, and over the rope's centre line.
    pub seat_diameter_mm: f64,
    pub pitch_diameter_mm: f64,
    /// Of the lowest iron below the rim edge: slot, root or seat.
    pub tool_depth_mm: f64,
    pub shape: GrooveShape,
    /// Of the ridges between grooves that meet, below the rim edge; `None` where lands are left there.
    pub ridge_depth_mm: Option<f64>,
    pub grooves: Vec<GrooveCut>,
    pub sizes: Vec<Size>,
    pub limits: Vec<Limit>,
    pub walls: WallWatch,
    pub hardness: Hardness,
}

/// One groove before the cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GrooveCut {
    pub number: usize,
    pub roped: bool,
    /// Its middle from the side of the rim that is nearest to groove 1.
    pub from_side_mm: f64,
    pub depth_now_mm: f64,
    /// What the cut takes off its seat.
    pub take_off_mm: f64,
}

/// A size of the finished groove, and how far it may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    pub key: &'static str,
    pub name: &'static str,
    pub kind: Quantity,
    pub nominal: f64,
    pub above: f64,
    pub below: f64,
    pub reason: &'static str,
}

/// A limit of form or position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    pub name: &'static str,
    pub most_mm: f64,
    pub reason: &'static str,
}

/// Walls to be read while the cut is made.
#[derive(Debug, Clone)]
pub struct WallWatch {
    pub reading: WallReading,
    pub from: WallFrom,
    pub reading_error_mm: f64,
    pub error_is_stated: bool,
    /// Places with a wall under at least one groove; empty for a wheel that is solid below its grooves.
    pub places: Vec<WatchedPlace>,
}

#[derive(Debug, Clone)]
pub struct WatchedPlace {
    pub name: String,
    /// True where no reading was taken: the estimate between the stations.
    pub estimated: bool,
    /// One entry for each groove; `None` over the web, or where no wall is known.
    pub walls: Vec<Option<StopWall>>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StopWall {
    /// The wall that the finished cut leaves by the survey.
    pub finished_mm: f64,
    /// With a thinner reading the survey was wrong, and the verdict holds no more.
    pub stop_mm: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hardness {
    /// At the finished seats, between readings by depth; `None` where none surround it.
    pub expected_hb: Option<f64>,
    /// Softer iron than this was not judged; `None` where no hardness was read.
    pub lowest_read_hb: Option<f64>,
    pub wanted_hb: (f64, f64),
    pub wanted_source: &'static str,
}

/// Why there is nothing to be machined.
#[derive(Debug, Clone, PartialEq)]
pub struct NoCut {
    pub word: Word,
    pub reason: String,
    pub settle: Vec<String>,
}

/// The cut of a checked sheave.
///
/// # Errors
/// When the verdict is any other than that it may be cut.
pub fn machining(survey: &Survey, outcome: &Outcome) -> Result<Machining, NoCut> {
    let result = &outcome.result;
    let (true, State::Cut, Some(depth_mm), Some(first)) = (
        result.verdict.word == Word::MayBeCut,
        result.state,
        result.cut_depth_mm,
        outcome.section.grooves.first(),
    ) else {
        let verdict = &result.verdict;
        let (reason, settle) = (verdict.reason.clone(), verdict.settle.clone());
        return Err(NoCut { word: verdict.word, reason, settle });
    };
    let half = 0.5 * survey.rim.width_mm;
    let grooves = result.facts.grooves.iter().enumerate().map(|(index, groove)| GrooveCut {
        number: groove.groove,
        roped: survey.grooves.roped.get(index) == Some(&true),
        from_side_mm: groove_place_mm(survey, index) + half,
        depth_now_mm: groove.depth_now_mm,
        take_off_mm: depth_mm - groove.depth_now_mm,
    });
    let grooves: Vec<GrooveCut> = grooves.collect();
    Ok(Machining {
        edge_diameter_mm: 2.0 * survey.rim.edge_radius_mm,
        rim_width_mm: survey.rim.width_mm,
        rope_diameter_mm: survey.roping.rope_diameter_mm,
        depth_mm,
        seat_diameter_mm: 2.0 * first.seat_radius_mm,
        pitch_diameter_mm: 2.0 * first.pitch_radius_mm,
        tool_depth_mm: survey.rim.edge_radius_mm - first.lowest_radius_mm,
        shape: first.shape.clone(),
        ridge_depth_mm: ridge_depth_mm(survey, &outcome.section),
        sizes: sizes(survey, first, depth_mm, grooves.first()),
        limits: limits(),
        grooves,
        walls: walls(survey, outcome),
        hardness: Hardness {
            expected_hb: result.consequences.after.as_ref().and_then(|after| after.hardness_hb),
            lowest_read_hb: survey.material.lowest_hardness_hb(),
            wanted_hb: (SEAT_HARDNESS_HB.0.value, SEAT_HARDNESS_HB.1.value),
            wanted_source: SEAT_HARDNESS_HB.0.source,
        },
    })
}

/// The deepest ridge between two neighbours, where their flanks meet below the rim edge.
fn ridge_depth_mm(survey: &Survey, section: &Section) -> Option<f64> {
    let outline = &section.outline;
    let ridge = |pair: &[Groove]| {
        let between = |z: f64| pair[0].z_mm < z && z < pair[1].z_mm;
        let edges = outline.edges().filter(|edge| outline.tag_name(edge) == tags::LAND);
        edges.filter(|edge| between(edge.at(0.5).z)).map(|edge| edge.start.r.max(edge.end.r)).reduce(f64::max)
    };
    let lowest = section.grooves.windows(2).filter_map(ridge).reduce(f64::min)?;
    Some(survey.rim.edge_radius_mm - lowest).filter(|mm| *mm > 0.05)
}

fn sizes(survey: &Survey, groove: &Groove, depth_mm: f64, first: Option<&GrooveCut>) -> Vec<Size> {
    let length = |key, name, nominal, above, below, reason| Size {
        key,
        name,
        kind: Quantity::Length,
        nominal,
        above,
        below,
        reason,
    };
    let angle = |key, name, nominal: f64, degrees: f64| {
        let off = degrees.to_radians();
        Size { key, name, kind: Quantity::Angle, nominal, above: off, below: off, reason: PRACTICE }
    };
    let (below, reason) = match survey.doubt.cut_depth_mm {
        Some(stated) => (stated, "not deeper: no deeper cut was judged; shallower: as the survey states it"),
        None => (EQUAL_MM, "not deeper: no deeper cut was judged; shallower: common practice, no source"),
    };
    let mut list = vec![length("seat_depth", "seat below the rim edge", depth_mm, 0.0, below, reason)];
    let room = groove.seat_radius_mm - groove.lowest_radius_mm;
    let seat = |radius: f64| {
        let more = 0.01 * survey.roping.rope_diameter_mm;
        length(
            "seat_radius",
            "radius of the seat",
            radius,
            more,
            0.0,
            "not smaller: the rope would be pinched; larger: common practice of 0.53 to 0.54 of the rope, no source",
        )
    };
    let corner = |key, name, radius: f64| {
        length(
            key,
            name,
            radius,
            0.2,
            0.0,
            "not smaller: the highest tension was computed for it; larger: common practice, no source",
        )
    };
    let deep = |key, name| {
        length(
            key,
            name,
            room,
            0.0,
            0.2,
            "not deeper: it takes wall that was judged; shallower: common practice, no source",
        )
    };
    match &groove.shape {
        GrooveShape::Round { seat_radius_mm, opening_angle_rad, .. } => {
            list.push(seat(*seat_radius_mm));
            list.push(angle("opening_angle", "angle between the flanks", *opening_angle_rad, 1.0));
        }
        GrooveShape::Undercut {
            seat_radius_mm,
            opening_angle_rad,
            slot_angle_rad,
            slot_corner_radius_mm,
            ..
        } => {
            list.push(seat(*seat_radius_mm));
            list.push(angle("opening_angle", "angle between the flanks", *opening_angle_rad, 1.0));
            let width = 2.0 * seat_radius_mm * (0.5 * slot_angle_rad).sin();
            list.push(length("slot_width", "width of the slot", width, 0.1, 0.1, PRACTICE));
            list.push(deep("slot_depth", "slot's bottom below the seat"));
            list.push(corner("slot_corner_radius", "corners of the slot", *slot_corner_radius_mm));
        }
        GrooveShape::V { angle_rad, root_radius_mm, .. } => {
            list.push(angle("angle", "angle between the flanks", *angle_rad, 0.5));
            list.push(deep("root_depth", "root below the rope's lowest point"));
            list.push(corner("root_radius", "radius of the root", *root_radius_mm));
        }
        GrooveShape::Measured { corner_radius_mm, .. } => {
            list.push(corner("corner_radius", "inner corners of the profile", *corner_radius_mm));
        }
    }
    let mouth = survey.grooves.mouth_radius_mm;
    if mouth > 0.0 {
        list.push(length("mouth_radius", "rounding at the mouth", mouth, 0.2, mouth.min(0.2), PRACTICE));
    }
    list.push(length(
        "pitch",
        "pitch, each groove from the first",
        survey.grooves.pitch_mm,
        0.1,
        0.1,
        PRACTICE,
    ));
    if let Some(first) = first {
        let name = "groove 1 from its side of the rim";
        list.push(length("first_groove", name, first.from_side_mm, 0.2, 0.2, PRACTICE));
    }
    list
}

fn limits() -> Vec<Limit> {
    let limit = |name, most_mm, reason| Limit { name, most_mm, reason };
    vec![
        limit("seat depths from one another", EQUAL_MM, PRACTICE),
        limit("runout of the seats, radial, to the bore's axis (whole reading)", 0.1, PRACTICE),
        limit("runout of the grooves, axial (whole reading)", 0.2, PRACTICE),
    ]
}

fn walls(survey: &Survey, outcome: &Outcome) -> WallWatch {
    let (reading, from) = (survey.walls.reading, survey.walls.from);
    let stated = survey.walls.reading_error_mm;
    let error = stated.unwrap_or(READING_ERROR_MM);
    // The wall as the survey's own way of reading finds it.
    let read = |wall: &WallLeft| {
        let groove = outcome.section.grooves.iter().find(|groove| groove.number == wall.groove)?;
        match (reading, from) {
            (WallReading::Least, _) => wall.least_mm,
            (WallReading::Radial, WallFrom::Seat) => wall.radial_mm,
            (WallReading::Radial, WallFrom::SlotBottom) => {
                Some(wall.radial_mm? - (groove.seat_radius_mm - groove.lowest_radius_mm))
            }
        }
    };
    let places = &outcome.result.places;
    // Nothing thinner than this was judged anywhere around the rim.
    let floor = |number: usize| {
        let walls = places.iter().flat_map(|place| &place.walls).filter(|wall| wall.groove == number);
        walls.filter_map(read).fold(f64::INFINITY, f64::min)
    };
    let stop = |wall: &WallLeft| {
        let finished_mm = read(wall).filter(|_| !wall.solid)?;
        Some(StopWall { finished_mm, stop_mm: (finished_mm - error).max(floor(wall.groove)) })
    };
    let watched = places.iter().filter(|place| place.kind != Kind::LowerBound).map(|place| WatchedPlace {
        name: place.name.clone(),
        estimated: place.kind == Kind::Thinnest,
        walls: place.walls.iter().map(stop).collect(),
    });
    WallWatch {
        reading,
        from,
        reading_error_mm: error,
        error_is_stated: stated.is_some(),
        places: watched.filter(|place| place.walls.iter().any(Option::is_some)).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Asked, check};
    use crate::survey::Cut;

    fn cut() -> (Survey, Outcome) {
        let mut survey = crate::section::tests::one_web();
        survey.cut = Cut::ToDepth { depth_mm: 17.0 };
        let outcome = check(&survey, &Asked { judged_only: true, ..Asked::default() }, &|_| ()).unwrap();
        (survey, outcome)
    }

    #[test]
    fn sizes_are_those_that_were_judged_and_nothing_is_cut_deeper() {
        let (survey, outcome) = cut();
        let plan = machining(&survey, &outcome).unwrap();
        let size = |key: &str| plan.sizes.iter().find(|size| size.key == key).unwrap();
        assert_eq!((size("seat_depth").nominal, size("seat_depth").above), (17.0, 0.0));
        assert_eq!(size("slot_depth").above, 0.0);
        assert_eq!(size("slot_corner_radius").below, 0.0);
        // A slot of 90° in a seat of radius R is R√2 wide.
        let expected = size("seat_radius").nominal * 2f64.sqrt();
        assert!((size("slot_width").nominal - expected).abs() < 1e-9);
        assert!((plan.seat_diameter_mm - (plan.edge_diameter_mm - 34.0)).abs() < 1e-9);
        for (groove, now) in plan.grooves.iter().zip(&survey.grooves.seat_depth_mm) {
            assert!((groove.take_off_mm - (17.0 - now)).abs() < 1e-9);
        }
        for wall in plan.walls.places.iter().flat_map(|place| place.walls.iter().flatten()) {
            assert!(wall.stop_mm <= wall.finished_mm && wall.stop_mm > 0.0, "{wall:?}");
        }
        assert!(!plan.walls.places.is_empty());
    }

    #[test]
    fn no_other_verdict_is_machined() {
        let (survey, mut outcome) = cut();
        for word in [Word::Reject, Word::Undecided, Word::MayStay] {
            outcome.result.verdict.word = word;
            let why = machining(&survey, &outcome).unwrap_err();
            assert!(why.word == word && !why.reason.is_empty());
        }
    }
}
