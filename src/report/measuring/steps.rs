//! What is asked on the measuring sheet, in the order in which a person measures.
//!
//! Every field of a survey has exactly one place here; a test holds both lists to each other. What is to be measured,
//! and how, is said by the blank survey's own remarks.

use super::sketch;
use crate::report::drafting::Drawing;
use crate::units::Kind;

/// One step with its sketch.
pub(super) struct Step {
    pub title: &'static str,
    pub sketch: Option<fn() -> Drawing>,
    pub parts: &'static [Part],
}

/// A group of fields that are written in one table.
pub(super) enum Part {
    /// One line for each field.
    Fields(&'static [Asked]),
    /// Fields of a groove's shape, as found and to be cut, side by side.
    Shapes(&'static [Asked]),
    /// Fields of both webs side by side.
    Webs(&'static [Asked]),
    /// A row for each groove: what is written there is listed by field.
    Grooves(&'static [Asked]),
    /// A row for each rope.
    Ropes(&'static [Asked]),
    /// A row for each groove and a column for each station, and what belongs to the station above and below.
    Stations { angle: Asked, wall: Asked, files: &'static [Asked] },
    /// Some rows, each with all of these fields.
    Rows(&'static [Asked], usize),
}

/// One field: its letter on the sketch, its path in the survey, and how it is answered.
#[derive(Clone, Copy)]
pub(super) struct Asked {
    pub mark: &'static str,
    pub path: &'static str,
    pub answer: Answer,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum Answer {
    Text,
    Quantity(Kind),
    /// A length of many metres.
    Long,
    /// A number without unit, or a count.
    Number,
    Choice(&'static [&'static str]),
    /// Numbers of grooves.
    Numbers,
    /// Several readings in one field.
    Readings(Kind),
    /// Name of a file beside the survey.
    File,
}

use Answer::{Choice, File, Long, Number, Numbers, Quantity, Readings, Text};
use Kind::{Acceleration, Angle, Force, Hardness, Length, Mass, MassPerLength, Ratio, Speed, Stress};

const fn asked(mark: &'static str, path: &'static str, answer: Answer) -> Asked {
    Asked { mark, path, answer }
}

pub(super) const SHAPES: &[&str] = &["round", "undercut", "V", "as measured"];
const FLAGS: &[&str] = &["true", "false"];

pub(super) const STEPS: &[Step] = &[
    Step {
        title: "Job and sheave",
        sketch: None,
        parts: &[Part::Fields(&[
            asked("", "job.name", Text),
            asked("", "job.sheave", Text),
            asked("", "job.location", Text),
        ])],
    },
    Step {
        title: "Roping and wrap",
        sketch: Some(sketch::roping),
        parts: &[Part::Fields(&[
            asked("", "roping.arrangement", Choice(&["single wrap", "double wrap"])),
            asked("", "roping.role", Choice(&["drive", "deflector", "secondary"])),
            asked("A", "roping.ratio", Choice(&["1:1", "2:1"])),
            asked("B", "roping.wrap", Quantity(Angle)),
            asked("C", "roping.simple_bends", Number),
            asked("D", "roping.reversed_bends", Number),
            asked("E", "roping.pulley_diameter", Quantity(Length)),
        ])],
    },
    Step {
        title: "Double wrap",
        sketch: Some(sketch::double_wrap),
        parts: &[Part::Fields(&[
            asked("A", "double_wrap.first_wrap", Quantity(Angle)),
            asked("B", "double_wrap.second_wrap", Quantity(Angle)),
            asked("C", "double_wrap.secondary_wrap", Quantity(Angle)),
            asked("D", "double_wrap.car_length", Long),
            asked("E", "double_wrap.between_length", Long),
            asked("F", "double_wrap.counterweight_length", Long),
            asked("", "double_wrap.grooves", Choice(&["alternating", "side by side"])),
            asked("", "double_wrap.secondary", File),
            asked("", "double_wrap.rope_stiffness", Quantity(Force)),
            asked("", "double_wrap.rope_modulus", Quantity(Stress)),
            asked("", "double_wrap.fill_factor", Number),
            asked("", "double_wrap.between_tensions", Readings(Force)),
        ])],
    },
    Step {
        title: "Loads and speed",
        sketch: Some(sketch::loads),
        parts: &[Part::Fields(&[
            asked(
                "",
                "load.given",
                Choice(&["masses", "tensions", "tensions per rope", "from the drive sheave"]),
            ),
            asked("A", "load.car", Quantity(Mass)),
            asked("B", "load.rated_load", Quantity(Mass)),
            asked("C", "load.counterweight", Quantity(Mass)),
            asked("", "load.balance", Quantity(Ratio)),
            asked("D", "load.compensation_mass", Quantity(MassPerLength)),
            asked("E", "load.cable_mass", Quantity(MassPerLength)),
            asked("F", "load.travel", Long),
            asked("G", "roping.car_speed", Quantity(Speed)),
            asked("", "roping.retardation", Quantity(Acceleration)),
            asked("", "load.trips_per_day", Number),
        ])],
    },
    Step {
        title: "Ropes",
        sketch: Some(sketch::rope),
        parts: &[Part::Fields(&[
            asked("A", "roping.ropes", Number),
            asked("B", "roping.rope_diameter", Quantity(Length)),
            asked("", "load.rope_mass", Quantity(MassPerLength)),
            asked("", "roping.breaking_force", Quantity(Force)),
        ])],
    },
    Step {
        title: "Kind of wheel",
        sketch: Some(sketch::wheels),
        parts: &[
            Part::Fields(&[
                asked("", "wheel.kind", Choice(&["solid disc", "one web", "two webs", "bolted rim"])),
                asked("A", "wheel.bore", Quantity(Length)),
                asked("B", "wheel.hub_diameter", Quantity(Length)),
                asked("C", "wheel.hub_length", Quantity(Length)),
                asked("D", "wheel.hub_place", Quantity(Length)),
            ]),
            Part::Webs(&[
                asked("E", "wheel.web.place", Quantity(Length)),
                asked("F", "wheel.web.thickness", Quantity(Length)),
                asked("G", "wheel.web.rim_fillet", Quantity(Length)),
                asked("H", "wheel.web.hub_fillet", Quantity(Length)),
            ]),
            Part::Fields(&[
                asked("I", "wheel.flange.place", Quantity(Length)),
                asked("J", "wheel.flange.thickness", Quantity(Length)),
                asked("K", "wheel.flange.rim_fillet", Quantity(Length)),
                asked("L", "wheel.flange.inner_diameter", Quantity(Length)),
                asked("M", "wheel.flange.seating_diameter", Quantity(Length)),
                asked("N", "wheel.flange.seating_side", Choice(&["groove 1", "last groove"])),
            ]),
        ],
    },
    Step {
        title: "Rim",
        sketch: Some(sketch::rim),
        parts: &[Part::Fields(&[
            asked("A", "rim.width", Quantity(Length)),
            asked("B", "rim.edge_diameter", Quantity(Length)),
            asked("", "rim.nominal_pitch_diameter", Quantity(Length)),
            asked("C", "grooves.count", Number),
            asked("D", "grooves.pitch", Quantity(Length)),
            asked("E", "grooves.offset", Quantity(Length)),
            asked("F", "grooves.mouth_radius", Quantity(Length)),
        ])],
    },
    Step {
        title: "Groove by groove",
        sketch: Some(sketch::depth),
        parts: &[Part::Grooves(&[
            asked("A", "grooves.seat_depth", Quantity(Length)),
            asked("", "grooves.roped", Numbers),
            asked("", super::tables::WORN, Text),
        ])],
    },
    Step {
        title: "Shape of the grooves, as found and to be cut",
        sketch: Some(sketch::shapes),
        parts: &[Part::Shapes(&[
            asked("", "shape", Choice(SHAPES)),
            asked("A", "seat_radius", Quantity(Length)),
            asked("B", "opening_angle", Quantity(Angle)),
            asked("C", "support_angle", Quantity(Angle)),
            asked("D", "slot_angle", Quantity(Angle)),
            asked("E", "slot_depth", Quantity(Length)),
            asked("F", "slot_corner_radius", Quantity(Length)),
            asked("G", "angle", Quantity(Angle)),
            asked("H", "root_depth", Quantity(Length)),
            asked("I", "root_radius", Quantity(Length)),
            asked("J", "band_width", Quantity(Length)),
            asked("", "hardened", Choice(FLAGS)),
            asked("K", "profile", File),
            asked("L", "contact_from", Quantity(Angle)),
            asked("M", "contact_to", Quantity(Angle)),
            asked("N", "corner_radius", Quantity(Length)),
        ])],
    },
    Step {
        title: "Walls below the grooves",
        sketch: Some(sketch::walls),
        parts: &[
            Part::Fields(&[
                asked("", "walls.by", Choice(&["stations", "profiles", "draft and wall", "solid"])),
                asked("A", "walls.reading", Choice(&["radial", "least distance"])),
                asked("B", "walls.from", Choice(&["seat", "slot bottom"])),
                asked("", "walls.reading_error", Quantity(Length)),
                asked("", "walls.thin_spot", Choice(&["found by scan", "estimate"])),
                asked("C", "walls.draft", Quantity(Angle)),
                asked("", "walls.wall", Quantity(Length)),
                asked("", "walls.at_groove", Number),
                asked("", "walls.profile_corner_radius", Quantity(Length)),
            ]),
            Part::Stations {
                angle: asked("D", "walls.station.angle", Quantity(Angle)),
                wall: asked("", "walls.station.wall", Quantity(Length)),
                files: &[
                    asked("", "walls.station.groove_profile", File),
                    asked("", "walls.station.wall_profile", File),
                ],
            },
        ],
    },
    Step {
        title: "Iron and hardness",
        sketch: Some(sketch::hardness),
        parts: &[
            Part::Fields(&[
                asked(
                    "",
                    "material.kind",
                    Choice(&["gray iron", "ductile iron", "cast steel", "steel", "bronze", "unknown"]),
                ),
                asked("", "material.class", Number),
                asked("", "material.tensile_strength", Quantity(Stress)),
                asked(
                    "",
                    "material.strength_from",
                    Choice(&["sample of this casting", "separately cast bar"]),
                ),
                asked("", "material.yield_strength", Quantity(Stress)),
                asked("", "material.elongation", Quantity(Ratio)),
                asked("A", "material.hardness", Readings(Hardness)),
            ]),
            Part::Rows(
                &[
                    asked("B", "material.hardness_by_depth.depth", Quantity(Length)),
                    asked("C", "material.hardness_by_depth.hardness", Quantity(Hardness)),
                ],
                4,
            ),
        ],
    },
    Step {
        title: "Rope tensions",
        sketch: Some(sketch::tensions),
        parts: &[
            Part::Fields(&[
                asked("A", "load.heavy_tension", Quantity(Force)),
                asked("B", "load.light_tension", Quantity(Force)),
                asked("", "load.tension_spread", Quantity(Ratio)),
            ]),
            Part::Ropes(&[
                asked("A", "load.heavy_tensions", Quantity(Force)),
                asked("B", "load.light_tensions", Quantity(Force)),
            ]),
        ],
    },
    Step {
        title: "What is asked, and by whom it was measured",
        sketch: None,
        parts: &[Part::Fields(&[
            asked("", "cut.plan", Choice(&["clean up", "to depth", "none"])),
            asked("", "cut.clean_up", Quantity(Length)),
            asked("", "cut.depth", Quantity(Length)),
            asked("", "job.surveyor", Text),
            asked("", "job.date", Text),
            asked("", "job.instruments", Text),
        ])],
    },
    Step {
        title: "For the engineer",
        sketch: None,
        parts: &[Part::Fields(&[
            asked("", "judgement.safety_factor", Number),
            asked(
                "",
                "roping.creep",
                Choice(&["whole wrap", "active arc at light side", "active arc at heavy side"]),
            ),
            asked("", "roping.friction", Number),
            asked("", "double_wrap.first_middle", Quantity(Angle)),
            asked("", "double_wrap.second_middle", Quantity(Angle)),
            asked("", "double_wrap.friction", Number),
            asked("", "load.emergency_multiple", Number),
            asked("", "doubt.wall", Quantity(Length)),
            asked("", "doubt.seat_depth", Quantity(Length)),
            asked("", "doubt.cut_depth", Quantity(Length)),
            asked("", "doubt.strength_from", Choice(&["strength in use", "hardness band"])),
            asked("", "doubt.strength", Quantity(Ratio)),
            asked("", "doubt.masses", Quantity(Ratio)),
            asked("", "doubt.tensions", Quantity(Ratio)),
            asked("", "doubt.tension_spread", Quantity(Ratio)),
            asked("", "doubt.hottest_groove", Number),
        ])],
    },
];
