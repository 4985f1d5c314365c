//! The survey as values: what a person measured and knows about one sheave.
//!
//! Owns the shape of the data only; reading the file lives in `read`, judging it in `sanity`.
//! Units inside: mm, N, MPa, rad, kg, m/s, m/s². `None` means "not measured".
//! Axial positions are measured along the shaft from the middle of the rim; grooves count from the
//! side of negative positions, groove 1 first. Depths are measured from the rim edge towards the shaft.

pub use super::double_wrap::{DoubleWrap, PassLayout};
pub use super::doubt::{Doubt, StrengthDoubt};
pub use super::metal::{HardnessReading, StrengthFrom};
pub use super::ropes::RopeFacts;
pub use crate::material::MetalKind;
use crate::units::PrintUnits;
use serde::Serialize;

/// One sheave as surveyed, after reading and sanity checks.
#[derive(Debug, Clone, Serialize)]
pub struct Survey {
    pub job: Job,
    pub roping: Roping,
    /// The two passes over the drive sheave; `None` for a single wrap.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub double_wrap: Option<DoubleWrap>,
    pub load: Load,
    pub rim: Rim,
    pub grooves: Grooves,
    pub walls: Walls,
    pub wheel: Wheel,
    pub material: MaterialFacts,
    pub cut: Cut,
    pub judgement: Judgement,
    /// How far the values may be off; nothing but the doubt of the answer is formed from it.
    pub doubt: Doubt,
    /// Units in which results are printed: the ones the survey itself uses most.
    pub print: PrintUnits,
    /// What the answer goes on without, in the order of the file.
    pub notes: Vec<SurveyNote>,
}

/// A value that was not measured, and what stands in for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SurveyNote {
    /// Dotted path of the field, for instance `load.rope_mass`.
    pub field: String,
    /// A complete sentence for the report.
    pub text: String,
    pub kind: NoteKind,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NoteKind {
    /// A stated value stands in for the missing one.
    Assumed,
    /// Nothing stands in: some part of the answer stays open.
    Missing,
    /// The value is legal but unusual and deserves a second look.
    Unusual,
}

#[derive(Debug, Clone, Default, Serialize)]
pub struct Job {
    pub name: String,
    pub sheave: String,
    pub location: Option<String>,
    pub surveyor: Option<String>,
    pub date: Option<String>,
    pub instruments: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Traction sheave: heavy and light side differ.
    Drive,
    /// Deflector sheave: both sides carry the same tension.
    Deflector,
    /// Secondary sheave: both sides carry the same tension.
    Secondary,
}

#[derive(Debug, Clone, Serialize)]
pub struct Roping {
    pub role: Role,
    /// Roping ratio: 1 for 1:1, 2 for 2:1.
    #[serde(rename = "roping_ratio")]
    pub ratio: u32,
    /// The wrap of a single wrap; the first pass's of a double wrap.
    pub wrap_rad: f64,
    pub ropes: usize,
    pub rope_diameter_mm: f64,
    /// Rated speed of the car.
    pub car_speed_m_s: Option<f64>,
    /// Retardation of an emergency stop.
    pub retardation_m_s2: Option<f64>,
    pub creep: Creep,
    pub rope_facts: RopeFacts,
}

/// How the tension falls from the heavy to the light side around the wrap.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Creep {
    /// The rope creeps over the whole wrap.
    WholeWrap,
    /// The rope creeps over an active arc at the light side, and rests on the remaining idle arc.
    ActiveArcLight { friction: f64 },
    /// The rope creeps over an active arc at the heavy side.
    ActiveArcHeavy { friction: f64 },
}

#[derive(Debug, Clone, Serialize)]
pub struct Load {
    pub given: Given,
    /// Suspended masses, where known; the further load cases need them.
    pub masses: Option<Masses>,
    /// Highest minus lowest rope tension over the mean one; used when tensions per rope are not measured.
    pub tension_spread: f64,
    /// The engineer's own multiple of the rated load case for an emergency.
    pub emergency_multiple: Option<f64>,
    /// Runs of the car in a day, and how far the longest goes: for the turns of the wheel.
    pub trips_per_day: Option<f64>,
    pub travel_m: Option<f64>,
}

/// Where the rope tensions of the governing case come from.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Given {
    /// From the suspended masses.
    Masses,
    /// Tension per rope on the heavy and light side, the same in every rope.
    Tensions { heavy_n: f64, light_n: f64 },
    /// Measured on each rope, in the order of the roped grooves. Light side where measured.
    PerRope {
        heavy_n: Vec<f64>,
        light_n: Option<Vec<f64>>,
        /// True where a study formed them in place of a gauge.
        #[serde(skip)]
        computed: bool,
    },
    /// A secondary sheave's: the tension between the passes, which the drive sheave's survey tells.
    DriveSheave,
}

#[derive(Debug, Clone, Serialize)]
pub struct Masses {
    pub car_kg: f64,
    pub rated_kg: f64,
    pub counterweight_kg: f64,
    /// Mass per metre of one suspension rope.
    pub rope_kg_m: Option<f64>,
    /// Mass per metre of all compensation together.
    pub compensation_kg_m: Option<f64>,
    /// Mass per metre of the travelling cable.
    pub cable_kg_m: Option<f64>,
    pub travel_m: Option<f64>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Rim {
    pub width_mm: f64,
    /// Radius of the rim's edge: the datum for seat depths.
    pub edge_radius_mm: f64,
    /// Pitch diameter on the nameplate, a cross-check only.
    pub nominal_pitch_diameter_mm: Option<f64>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Grooves {
    pub pitch_mm: f64,
    /// Middle of the groove set from the middle of the rim.
    pub offset_mm: f64,
    /// For every groove: whether a rope runs in it.
    pub roped: Vec<bool>,
    /// For every groove: depth of the seat's bottom below the rim edge.
    pub seat_depth_mm: Vec<f64>,
    /// For every groove: its shape as found.
    pub now: Vec<GrooveShape>,
    /// The shape to be cut, the same for all grooves.
    pub cut_to: Option<GrooveShape>,
    /// Radius at the groove's mouth, where flank meets land.
    pub mouth_radius_mm: f64,
}

impl Grooves {
    pub fn count(&self) -> usize {
        self.seat_depth_mm.len()
    }
}

/// Shape of one groove. The seat's bottom is the lowest point of the rope lying in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum GrooveShape {
    /// A round seat with straight flanks tangent to it.
    Round { seat_radius_mm: f64, opening_angle_rad: f64, support_angle_rad: Option<f64> },
    /// A round seat with a slot cut through its bottom.
    Undercut {
        seat_radius_mm: f64,
        opening_angle_rad: f64,
        support_angle_rad: Option<f64>,
        slot_angle_rad: f64,
        /// Slot bottom below the seat's bottom (the bottom of the seat circle).
        slot_depth_mm: f64,
        slot_corner_radius_mm: f64,
    },
    /// Two straight flanks. The seat's bottom is the rope's lowest point, not the root.
    V {
        angle_rad: f64,
        /// Root below the seat's bottom; a full round root when not measured.
        root_depth_mm: Option<f64>,
        root_radius_mm: f64,
        /// Width of the contact band on each flank.
        band_width_mm: f64,
        hardened: bool,
    },
    /// A worn groove as measured: axial offset from the groove's middle, depth below the rim edge, both mm.
    Measured {
        points_mm: Vec<[f64; 2]>,
        /// The band that carries the rope, as angles at the rope's centre from the groove's bottom.
        contact_from_rad: f64,
        contact_to_rad: f64,
        /// Radius given to every re-entrant corner of the measured line.
        corner_radius_mm: f64,
    },
}

#[derive(Debug, Clone, Serialize)]
pub struct Walls {
    /// What a wall reading is: the distance along the radius, or the least distance.
    pub reading: WallReading,
    /// Whether readings start at the seat's bottom or at the slot's bottom.
    pub from: WallFrom,
    /// Reading error, plus or minus.
    pub reading_error_mm: Option<f64>,
    /// True when the thin spot was searched for (scan) and is among the stations.
    pub thin_spot_found: bool,
    pub underside: Underside,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WallReading {
    Radial,
    Least,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WallFrom {
    Seat,
    SlotBottom,
}

/// How the underside of the rim is known.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum Underside {
    /// Solid to the shaft: there is no underside.
    Solid,
    /// One wall under one groove, and a draft that thins the wall away from the web.
    Draft { draft_rad: f64, wall_mm: f64, at_groove: usize },
    /// Walls per groove at stations around the rim, and a draft for the rim beyond the outer grooves.
    Stations { draft_rad: f64, stations: Vec<Station> },
    /// Profiles of both sides of the rim at stations around it.
    Profiles { stations: Vec<ProfileStation>, reading_error_mm: f64, corner_radius_mm: f64 },
}

#[derive(Debug, Clone, Serialize)]
pub struct Station {
    pub angle_rad: f64,
    /// One entry per groove.
    pub walls: Vec<WallEntry>,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WallEntry {
    #[serde(rename = "wall_mm")]
    Wall(f64),
    /// Over the web: no thin wall there.
    Solid,
    NotMeasured,
}

/// Measured profiles at one station: (axial from the rim's middle, radius from the shaft's axis) in mm,
/// in order of increasing axial position.
#[derive(Debug, Clone, Serialize)]
pub struct ProfileStation {
    pub angle_rad: f64,
    #[serde(rename = "groove_side_mm")]
    pub groove_side: Vec<[f64; 2]>,
    #[serde(rename = "wall_side_mm")]
    pub wall_side: Vec<[f64; 2]>,
}

#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Wheel {
    SolidDisc {
        bore_radius_mm: f64,
    },
    OneWeb {
        web: Web,
        hub: Hub,
    },
    /// Two webs with the cored cavity between them; the first has the smaller place.
    TwoWebs {
        webs: [Web; 2],
        hub: Hub,
    },
    /// A rim ring bolted on a flange.
    BoltedRim {
        flange: Flange,
    },
}

#[derive(Debug, Clone, Serialize)]
pub struct Web {
    /// Middle of the web from the middle of the rim.
    pub place_mm: f64,
    pub thickness_mm: f64,
    pub rim_fillet_mm: f64,
    pub hub_fillet_mm: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Hub {
    pub bore_radius_mm: f64,
    pub radius_mm: f64,
    pub length_mm: f64,
    /// Middle of the hub from the middle of the rim.
    pub place_mm: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Flange {
    pub place_mm: f64,
    pub thickness_mm: f64,
    pub rim_fillet_mm: f64,
    pub inner_radius_mm: f64,
    /// Outer radius of the face that is bolted down; it starts at the inner radius.
    pub seating_radius_mm: f64,
    pub seating_side: Side,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The side of negative axial positions, where groove 1 is.
    Groove1,
    /// The other side.
    LastGroove,
}

#[derive(Debug, Clone, Serialize)]
pub struct MaterialFacts {
    pub kind: MetalKind,
    /// Class of gray iron: minimum tensile strength in ksi (ASTM A48).
    #[serde(rename = "class_ksi")]
    pub class: Option<u32>,
    /// Tensile strength measured on this casting.
    pub tensile_mpa: Option<f64>,
    pub yield_mpa: Option<f64>,
    /// Elongation at fracture, as a fraction.
    pub elongation: Option<f64>,
    pub hardness_hb: Vec<f64>,
    /// Hardness below the rim edge, for what a cut lays bare.
    pub hardness_by_depth: Vec<HardnessReading>,
    pub strength_from: StrengthFrom,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "plan", rename_all = "snake_case")]
pub enum Cut {
    /// All grooves to the worst groove's seat plus an allowance.
    CleanUp { allowance_mm: f64 },
    /// All grooves to this seat depth below the rim edge.
    ToDepth { depth_mm: f64 },
    /// No cut: judge as it is.
    None,
}

#[derive(Debug, Clone, Serialize)]
pub struct Judgement {
    /// Factor on ultimate strength; the code's factor for the metal when `None`.
    pub safety_factor: Option<f64>,
}
