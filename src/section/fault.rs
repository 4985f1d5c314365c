//! Why measurements make no valid section: in the trade's words, with the survey's field and what to do.
//!
//! Units: mm and rad.

use super::{State, tags};
use crate::geometry::{FilletFault, OutlineFault, Point};
use std::fmt;

#[derive(Debug, Clone, PartialEq)]
pub enum SectionFault {
    /// A fault of the grooves as found, met while the cut was built.
    AsFound(Box<SectionFault>),
    /// A part of a groove whose own sizes contradict each other; `key` is the survey's field.
    Groove {
        number: usize,
        part: &'static str,
        key: &'static str,
        reason: String,
    },
    /// The sides of a seat end above the rim's edge.
    Shallow {
        number: usize,
        above_mm: f64,
    },
    /// A slot shallower below its upper edge than its corner's radius.
    SlotShallow {
        number: usize,
        deep_mm: f64,
        corner_mm: f64,
    },
    /// A corner of a groove's line that its radius does not fit into.
    GrooveCorner {
        number: usize,
        key: &'static str,
        fault: FilletFault,
    },
    /// The two grooves that overlap most, and how many other pairs do.
    Overlap {
        left: usize,
        right: usize,
        below_mm: f64,
        others: usize,
    },
    RunsOut {
        number: usize,
        need_mm: f64,
        have_mm: f64,
    },
    NoWall {
        number: usize,
        wall_mm: f64,
    },
    NoReading {
        side: &'static str,
        web: &'static str,
    },
    /// A fillet, or a corner of a measured line, that its radius does not fit into.
    Fillet {
        part: &'static str,
        fault: FilletFault,
    },
    /// Parts of the wheel that contradict each other; `key` is the survey's field.
    Wheel {
        key: &'static str,
        reason: &'static str,
    },
    Outline {
        fault: OutlineFault,
        kind: Meeting,
    },
}

/// Which measurement may be wrong where two surfaces meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meeting {
    /// A groove and what lies below it.
    Groove(usize),
    /// Parts of the wheel below the rim.
    Wheel,
}

impl SectionFault {
    /// Two surfaces of an outline that should not meet, or an outline that does not close.
    pub(super) fn outline(fault: OutlineFault) -> Self {
        let number = |tag: &str| tag.rsplit_once(' ').and_then(|(_, number)| number.parse().ok());
        let kind = match &fault {
            OutlineFault::Crossing { first, second, .. } => {
                number(first).or_else(|| number(second)).map_or(Meeting::Wheel, Meeting::Groove)
            }
            _ => Meeting::Wheel,
        };
        Self::Outline { fault, kind }
    }

    /// The survey's field that most likely is at fault, at station `station` (from 1) where there is one.
    pub fn field(&self, state: State, station: Option<usize>) -> String {
        let shape = if state == State::Cut { "grooves.cut_to" } else { "grooves.now" };
        let depth = |number: &usize| match state {
            State::Cut => "cut.depth".to_owned(),
            State::Now => format!("grooves.seat_depth[{number}]"),
        };
        let wall = |number: &usize| {
            station.map_or("walls.wall".to_owned(), |s| format!("walls.station[{s}].wall[{number}]"))
        };
        match self {
            Self::AsFound(fault) => fault.field(State::Now, station),
            Self::Groove { key, .. } | Self::GrooveCorner { key, .. } => format!("{shape}.{key}"),
            Self::SlotShallow { .. } => format!("{shape}.slot_depth"),
            Self::Shallow { number, .. } => depth(number),
            Self::Overlap { .. } => "grooves.pitch".into(),
            Self::RunsOut { .. } => "rim.width".into(),
            Self::NoWall { number, .. } => wall(number),
            Self::NoReading { .. } => wall(&1),
            Self::Fillet { part, .. } => match *part {
                parts::RIM_FILLET => "wheel.web[1].rim_fillet",
                parts::HUB_FILLET => "wheel.web[1].hub_fillet",
                parts::FLANGE_FILLET => "wheel.flange.rim_fillet",
                _ => "walls.profile_corner_radius",
            }
            .into(),
            Self::Wheel { key, .. } => format!("wheel.{key}"),
            Self::Outline { kind: Meeting::Groove(number), .. } => wall(number),
            Self::Outline { kind: Meeting::Wheel, .. } => "wheel".into(),
        }
    }

    /// What to do about it.
    pub fn advice(&self) -> &'static str {
        match self {
            Self::AsFound(fault) => fault.advice(),
            Self::Groove { .. } => "measure this part of the groove again, or state another shape",
            Self::Shallow { .. } => {
                "check the seat depth, which counts from the rim edge to the seat's bottom, and the seat radius and opening angle; a larger opening angle makes the seat's sides lower"
            }
            Self::SlotShallow { .. } => {
                "check the slot's depth, which counts from the seat's bottom, and the corner's radius"
            }
            Self::Overlap { .. } => {
                "check the pitch; a smaller opening angle or a shallower groove needs less room"
            }
            Self::RunsOut { .. } => {
                "check the rim's width, grooves.pitch, grooves.offset and the number of grooves; a smaller opening angle or a shallower groove needs less room"
            }
            Self::NoWall { .. } => {
                "check the wall, what it is counted from (walls.from) and the slot; with no more iron than this the groove cannot be used"
            }
            Self::NoReading { .. } => {
                "measure the wall under at least one groove there; a groove over the web has no wall of its own"
            }
            Self::Fillet { part, .. } if part.starts_with("measured") => {
                "state a smaller profile_corner_radius, or leave out stray points of the profile"
            }
            Self::GrooveCorner { .. } | Self::Fillet { .. } => {
                "state a smaller radius, or check the thicknesses and places of the parts around it"
            }
            Self::Wheel { .. } => "measure these parts again, each from the middle of the rim",
            Self::Outline { fault: OutlineFault::Crossing { .. }, kind: Meeting::Groove(_) } => {
                "check seat depths, walls, the draft, and the place and thickness of the web"
            }
            Self::Outline { fault: OutlineFault::Crossing { .. }, .. } => {
                "check the walls, the draft, the diameters of hub and bore, and the places and thicknesses of the parts"
            }
            Self::Outline { .. } => {
                "check the diameters and places of rim, web, hub and bore; if they are right, this is a fault of the program"
            }
        }
    }
}

impl SectionFault {
    /// True where other stations, with other walls, may not have the fault.
    pub fn belongs_to_station(&self) -> bool {
        match self {
            Self::AsFound(fault) => fault.belongs_to_station(),
            Self::NoWall { .. } | Self::NoReading { .. } | Self::Fillet { .. } | Self::Outline { .. } => true,
            _ => false,
        }
    }

    /// What was found; `show` writes a length given in mm.
    pub fn text(&self, show: &dyn Fn(f64) -> String) -> String {
        match self {
            Self::AsFound(fault) => fault.text(show),
            Self::Groove { number, part, reason, .. } => format!("groove {number}, {part}: {reason}"),
            Self::Shallow { number, above_mm } => format!(
                "groove {number} is so shallow that the sides of its seat would end {} above the rim edge",
                show(*above_mm)
            ),
            Self::SlotShallow { number, deep_mm, corner_mm } => format!(
                "the slot of groove {number} is {} deep at its sides, less than its corner radius of {}",
                show(*deep_mm),
                show(*corner_mm)
            ),
            Self::GrooveCorner { number, fault, .. } => format!(
                "groove {number}: a radius of {} does not fit into its corner {}",
                show(fault.radius),
                place(fault.at, show)
            ),
            Self::Overlap { left, right, below_mm, others } => {
                let more = match others {
                    0 => String::new(),
                    1 => "; one other pair overlaps too".to_owned(),
                    _ => format!("; {others} other pairs overlap too"),
                };
                format!(
                    "grooves {left} and {right} overlap: their sides meet {} below the upper end of a seat{more}",
                    show(*below_mm)
                )
            }
            Self::RunsOut { number, need_mm, have_mm } => format!(
                "groove {number} runs out of the rim's side: its mouth needs {} beyond its middle, and the rim gives {}",
                show(*need_mm),
                show(*have_mm)
            ),
            Self::NoWall { number, wall_mm } => format!(
                "under groove {number} a wall of {} would be left: nothing that could carry the rope",
                show(*wall_mm)
            ),
            Self::NoReading { side, web } => {
                format!("no wall is known between the {web} and the side of {side}")
            }
            Self::Fillet { part, fault } => format!(
                "the {part}: a radius of {} does not fit {}",
                show(fault.radius),
                place(fault.at, show)
            ),
            Self::Wheel { reason, .. } => (*reason).to_owned(),
            Self::Outline { fault: OutlineFault::Crossing { first, second, at }, .. } if first == second => {
                format!("the {} cuts into itself {}", tags::words(first), place(*at, show))
            }
            Self::Outline { fault: OutlineFault::Crossing { first, second, at }, .. } => format!(
                "the {} and the {} cut into each other {}: no iron is left between them",
                tags::words(first),
                tags::words(second),
                place(*at, show)
            ),
            Self::Outline { fault, .. } => format!("the wheel's outline does not close: {fault}"),
        }
    }
}

impl fmt::Display for SectionFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text(&|mm| format!("{mm:.2} mm")))
    }
}

impl std::error::Error for SectionFault {}

/// A place as a person finds it with calliper and rule.
pub(crate) fn place(at: Point, show: &dyn Fn(f64) -> String) -> String {
    let side = if at.z < 0.0 { "towards groove 1" } else { "towards the last groove" };
    let along = if at.z.abs() < 0.05 {
        "in the middle of the rim".to_owned()
    } else {
        format!("{} from the middle of the rim {side}", show(at.z.abs()))
    };
    format!("at a diameter of {}, {along}", show(2.0 * at.r))
}

/// Names of the parts whose radii may not fit.
pub(super) mod parts {
    pub const RIM_FILLET: &str = "fillet between web and rim";
    pub const HUB_FILLET: &str = "fillet between web and hub";
    pub const FLANGE_FILLET: &str = "fillet between flange and rim";
    pub const UNDERSIDE: &str = "measured underside";
    pub const GROOVE_SIDE: &str = "measured groove side";
}
