//! The job, the roping and the loads of a survey.
//!
//! Owns their keys, choices and stand-ins. Units inside: mm, N, kg, m/s, rad.

use super::super::form::Bounds::{Between, Positive};
use super::super::form::{Bounds, Field, Form, Section, field};
use super::super::schema::*;
use super::double_wrap::wraps;
use super::masses::masses;
use super::rope_facts::rope_facts;
use super::{Folder, required};
use crate::units::Kind;

pub(super) const JOB_KEYS: &[&str] = &["name", "sheave", "location", "surveyor", "date", "instruments"];
pub(super) const ROPING_KEYS: &[&str] = &[
    "arrangement",
    "role",
    "ratio",
    "wrap",
    "ropes",
    "rope_diameter",
    "car_speed",
    "retardation",
    "creep",
    "friction",
    "simple_bends",
    "reversed_bends",
    "pulley_diameter",
    "breaking_force",
];
pub(super) const LOAD_KEYS: &[&str] = &[
    "given",
    "car",
    "rated_load",
    "counterweight",
    "balance",
    "rope_mass",
    "compensation_mass",
    "cable_mass",
    "travel",
    "heavy_tension",
    "light_tension",
    "heavy_tensions",
    "light_tensions",
    "tension_spread",
    "emergency_multiple",
    "trips_per_day",
];

/// Most ropes, and most grooves, that a file may speak of: beyond it a number is a slip.
pub(super) const MOST_GROOVES: u32 = 64;

/// From none to a full turn; the upper limit is judged as a wrap, not as a number.
const WRAP: Field =
    field("wrap", Kind::Angle, Bounds::Any, "the angle over which the ropes lie on this sheave")
        .such_as("\"165 deg\"");
const DIAMETER: Field = field("rope_diameter", Kind::Length, Positive, "the nominal diameter of the ropes")
    .such_as("\"1/2 in\" or \"13 mm\"");

pub(super) const TRAVEL: Field = field("travel", Kind::Length, Positive, "the travel of the car");
const TRIPS: Field = field(
    "trips_per_day",
    Kind::Ratio,
    Between(1.0, 20e3, "a plain number from 1 to 20 000"),
    "the number of trips of the car in a day",
)
.such_as("800");

pub(super) fn job(form: &mut Form, root: &Section<'_>) -> Job {
    let job = form.section(root, "job", JOB_KEYS);
    let mut named = |key: &str, sentence: &str| {
        form.text(&job, key).unwrap_or_else(|| {
            form.missing(&job.path_of(key), sentence);
            "not stated".into()
        })
    };
    Job {
        name: named("name", "The name of the job is not stated."),
        sheave: named("sheave", "Which sheave this is, is not stated."),
        location: form.text(&job, "location"),
        surveyor: form.text(&job, "surveyor"),
        date: form.text(&job, "date"),
        instruments: form.text(&job, "instruments"),
    }
}

/// The roping, and the facts of it that other parts need even when some of its fields are faulty.
#[derive(Debug, Default, Clone, Copy)]
pub(in crate::survey) struct Ropes {
    pub count: Option<usize>,
    pub diameter_mm: Option<f64>,
    pub wrap_rad: Option<f64>,
    pub role: Option<Role>,
    pub ratio: Option<u32>,
    /// Passes of every rope over the sheave: 1, or 2 for a double wrap.
    pub passes: usize,
    /// Wraps of both passes of a double wrap.
    pub wraps_rad: Option<[f64; 2]>,
}

impl Ropes {
    /// Grooves that carry a rope.
    pub fn roped(&self) -> Option<usize> {
        self.count.map(|count| count * self.passes)
    }
}

pub(super) fn roping(form: &mut Form, root: &Section<'_>, folder: &Folder<'_>) -> (Option<Roping>, Ropes) {
    let sec = required(form, root, "roping", ROPING_KEYS);
    let arrangement = form.need_choice(
        &sec,
        "arrangement",
        "how often the ropes pass over the sheave",
        &[("single wrap", true), ("double wrap", false)],
    );
    let double = arrangement == Some(false);
    let role = form.need_choice(
        &sec,
        "role",
        "whether it drives the ropes or only leads them",
        &[("drive", Role::Drive), ("deflector", Role::Deflector), ("secondary", Role::Secondary)],
    );
    let ratio = form.need_choice(
        &sec,
        "ratio",
        "whether the ropes end at the car (1:1) or run around a sheave on it (2:1)",
        &[("1:1", 1u32), ("2:1", 2)],
    );
    if double {
        double_wrap_fits(form, role, folder);
        form.unused(&sec, &["wrap"], &[], "roping.arrangement = \"double wrap\"");
    }
    let wraps_rad = if double { wraps(form, root) } else { None };
    let wrap = if double { None } else { form.need(&sec, WRAP) };
    let ropes = form.whole(&sec, "ropes", 1, MOST_GROOVES);
    if form.get(&sec, "ropes").is_none() {
        form.needed(&sec, "ropes", "the number of ropes", "5");
    }
    let diameter = form.need(&sec, DIAMETER);
    let speed = form.quantity(&sec, field("car_speed", Kind::Speed, Positive, "the rated speed of the car"));
    if speed.is_none() {
        form.missing("roping.car_speed", "The car's speed is not measured, so friction while braking and the yardstick of seat pressure are not judged.");
    }
    let braking = form.quantity(
        &sec,
        field("retardation", Kind::Acceleration, Positive, "the retardation of an emergency stop"),
    );
    if braking.is_none() {
        form.missing(
            "roping.retardation",
            "The retardation of an emergency stop is not measured, so the braking case is not judged.",
        );
    }
    let creep = creep(form, &sec);
    let rope_facts = rope_facts(form, &sec, role);
    let facts = Ropes {
        count: ropes.map(|ropes| ropes as usize),
        diameter_mm: diameter,
        wrap_rad: wrap,
        role,
        ratio,
        passes: if double { 2 } else { 1 },
        wraps_rad,
    };
    let whole = || {
        arrangement?;
        Some(Roping {
            role: role?,
            ratio: ratio?,
            wrap_rad: wrap.or(wraps_rad.map(|[first, _]| first))?,
            ropes: facts.count?,
            rope_diameter_mm: diameter?,
            car_speed_m_s: speed,
            retardation_m_s2: braking,
            creep: creep?,
            rope_facts,
        })
    };
    (whole(), facts)
}

/// A double wrap is told from its drive sheave, and by one survey alone.
fn double_wrap_fits(form: &mut Form, role: Option<Role>, folder: &Folder<'_>) {
    if role.is_some_and(|role| role != Role::Drive) {
        let message = "A double wrap is given, and this sheave drives nothing.".to_owned();
        let help = "judge a double wrap from its drive sheave: role = \"drive\" there, and arrangement = \"single wrap\" in the secondary sheave's own survey";
        form.error("survey/conflict", "roping.arrangement", message, help);
    } else if !folder.may_name {
        let message = "The survey of a secondary sheave is itself a double wrap.".to_owned();
        let help = "write arrangement = \"single wrap\" and role = \"secondary\" in the secondary sheave's own survey";
        form.error("survey/conflict", "roping.arrangement", message, help);
    }
}

fn creep(form: &mut Form, sec: &Section<'_>) -> Option<Creep> {
    let friction = form.quantity(
        sec,
        field(
            "friction",
            Kind::Ratio,
            Between(0.01, 2.0, "a plain number from 0.01 to 2"),
            "the friction factor of the rope in its groove",
        ),
    );
    if form.get(sec, "creep").is_none() {
        form.assumed("roping.creep", "The ropes are taken to creep over the whole wrap.");
        return Some(Creep::WholeWrap);
    }
    let kinds = [("whole wrap", 0), ("active arc at light side", 1), ("active arc at heavy side", 2)];
    let kind = form.choice(sec, "creep", &kinds)?;
    if kind == 0 {
        let used: Vec<&str> = ROPING_KEYS.iter().copied().filter(|key| *key != "friction").collect();
        form.unused(sec, ROPING_KEYS, &used, "roping.creep = \"whole wrap\"");
        return Some(Creep::WholeWrap);
    }
    if form.get(sec, "friction").is_none() {
        form.needed(sec, "friction", "an active arc is as long as friction makes it", "0.12");
    }
    let friction = friction?;
    Some(if kind == 1 { Creep::ActiveArcLight { friction } } else { Creep::ActiveArcHeavy { friction } })
}

pub(super) fn load(form: &mut Form, root: &Section<'_>, ropes: &Ropes) -> Option<Load> {
    let sec = required(form, root, "load", LOAD_KEYS);
    let given = form.need_choice(
        &sec,
        "given",
        "whether rope tensions follow from masses or were measured",
        &[("masses", 0), ("tensions", 1), ("tensions per rope", 2), ("from the drive sheave", 3)],
    );
    if given == Some(3) && ropes.role.is_some_and(|role| role != Role::Secondary) {
        let message = "The tensions are said to come from the drive sheave, and this is no secondary sheave.";
        let help = "write \"masses\", \"tensions\" or \"tensions per rope\"";
        form.error("survey/conflict", "load.given", message.into(), help);
    }
    let any_mass =
        ["car", "rated_load", "counterweight", "balance"].iter().any(|key| form.get(&sec, key).is_some());
    let wants_masses = given == Some(0) || any_mass;
    unused_loads(form, &sec, given, wants_masses, ropes.passes == 2);
    let masses = if wants_masses { masses(form, &sec) } else { None };
    let tension = |key, what| field(key, Kind::Force, Between(1.0, 1e6, "from 1 N to 1000 kN"), what);
    let (heavy, light) = (
        tension("heavy_tension", "the tension of one rope on the heavy side"),
        tension("light_tension", "the tension of one rope on the light side"),
    );
    let given = match given {
        Some(0) => Some(Given::Masses),
        Some(3) => Some(Given::DriveSheave),
        Some(1) => {
            let (heavy, light) = (form.need(&sec, heavy), form.need(&sec, light));
            heavy.zip(light).map(|(heavy_n, light_n)| Given::Tensions { heavy_n, light_n })
        }
        Some(_) => {
            if form.get(&sec, "heavy_tensions").is_none() {
                form.needed(
                    &sec,
                    "heavy_tensions",
                    "the tension of each rope on the heavy side",
                    "[\"5200 N\", \"5300 N\"]",
                );
            }
            let heavy = form
                .quantities(&sec, tension("heavy_tensions", "the tension of each rope on the heavy side"));
            let light = form
                .quantities(&sec, tension("light_tensions", "the tension of each rope on the light side"));
            if light.is_none() {
                form.missing(
                    "load.light_tensions",
                    "The tensions on the light side are not measured rope by rope.",
                );
            }
            heavy.map(|heavy_n| Given::PerRope { heavy_n, light_n: light, computed: false })
        }
        None => None,
    };
    let spread_field = field(
        "tension_spread",
        Kind::Ratio,
        Between(0.0, 1.0, "from 0 % to 100 %"),
        "the spread of the rope tensions",
    );
    let spread = match given {
        // Measured tensions carry their own spread.
        Some(Given::PerRope { .. } | Given::DriveSheave) => {
            Some(form.quantity(&sec, spread_field).unwrap_or(0.1))
        }
        _ => form.assume(
            &sec,
            spread_field,
            0.1,
            "The highest rope tension is taken 10 % of the mean above the lowest (common practice).",
        ),
    };
    let emergency = form.quantity(
        &sec,
        field(
            "emergency_multiple",
            Kind::Ratio,
            Between(1.0, 20.0, "a plain number from 1 to 20"),
            "the multiple of the rated load case",
        ),
    );
    let trips_per_day = form.quantity(&sec, TRIPS);
    if trips_per_day.is_none() {
        form.missing(
            "load.trips_per_day",
            "The trips per day are not measured, so the turns of the wheel in a year are not told.",
        );
    }
    if wants_masses && masses.is_none() {
        return None;
    }
    // With masses the travel was read among them; the turns of the wheel need it whatever gives the tensions.
    let travel_m = match &masses {
        Some(masses) => masses.travel_m,
        None => form.quantity(&sec, TRAVEL).map(|mm| mm / 1000.0),
    };
    Some(Load {
        given: given?,
        masses,
        tension_spread: spread?,
        emergency_multiple: emergency,
        trips_per_day,
        travel_m,
    })
}

/// Warns of loads that the stated source of the tensions leaves aside.
fn unused_loads(
    form: &mut Form,
    sec: &Section<'_>,
    given: Option<i32>,
    with_masses: bool,
    with_travel: bool,
) {
    const MASSES: &[&str] = &[
        "car",
        "rated_load",
        "counterweight",
        "balance",
        "rope_mass",
        "compensation_mass",
        "cable_mass",
        "travel",
    ];
    let (own, by): (&[&str], _) = match given {
        Some(0) => (&["tension_spread"], "load.given = \"masses\""),
        Some(1) => (&["heavy_tension", "light_tension", "tension_spread"], "load.given = \"tensions\""),
        Some(3) => (&[], "load.given = \"from the drive sheave\""),
        Some(_) => (&["heavy_tensions", "light_tensions"], "load.given = \"tensions per rope\""),
        None => return,
    };
    let mut used = [&["given", "emergency_multiple", "trips_per_day"], own].concat();
    if with_travel || form.get(sec, "trips_per_day").is_some() {
        used.push("travel");
    }
    if with_masses {
        used.extend(MASSES);
    }
    form.unused(sec, LOAD_KEYS, &used, by);
}
