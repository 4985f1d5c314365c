//! Rope tensions from masses, and what a wrap makes of them, on paper.

use super::sheet::{Sheet, seat};
use crate::elastic::Stretch;
use crate::hoist::friction::{Grip, TractionCase, friction_factor};
use crate::hoist::{CaseKind, LoadCase, RopeWrap, expected, load_cases};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::reference::rope::creeping_tension_n;
use crate::section::{Kind, Place, Section, State};
use crate::study::facts;
use crate::survey::{Creep, GrooveShape, Survey};
use std::f64::consts::TAU;

const STATICS: Source = Source::exact(
    "equilibrium: T = suspended mass × 9.81 m/s² over the roping ratio (EN 81-20:2020, clause 4, for g)",
);
const HANGING: Source = Source::exact(
    "equilibrium: T = suspended mass × (g ± a)/(roping ratio × ropes) + own rope × (g ± ratio × a), g = 9.81 m/s²",
);
const TRIANGLE: Source = Source::exact("law of cosines: √(T1² + T2² − 2·T1·T2·cos α)");
const SPREAD: Source = Source::exact("highest less lowest is the spread, and the sum is kept");
const EULER: Source = Source::from_memory(
    "Euler–Eytelwein, T1·e^(−f(θ − θ_in)); active arc ln(T1/T2)/f: Johnson, Contact Mechanics, section 8.5; Firbank, \
     International Journal of Mechanical Sciences 12 (1970)",
);
const BRAKE: Source = Source::published("EN 81-50:2020, 5.11.2 (seen through a secondary copy)");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "tensions-from-masses",
        title: "Rope tensions and shaft load from suspended masses",
        chapter: Chapter::Ropes,
        about: "Surveys are written as text, read, and their load cases taken; all ropes together, without the \
                ropes' own weight. Half of the rated load is balanced.",
        features: &[Feature::MassesToTensions, Feature::Roping, Feature::ShaftLoad],
        run: tensions,
    },
    Case {
        name: "hanging-ropes",
        title: "Weight of ropes, compensation and cable, and braking",
        chapter: Chapter::Ropes,
        about: "One rope of a lift roped 2:1, with every mass that can hang on it, at the lowest landing with rated \
                load and at the highest one empty, and while the loaded car brakes.",
        features: &[
            Feature::MassesToTensions,
            Feature::Roping,
            Feature::HangingRopes,
            Feature::Retardation,
            Feature::UnequalTensions,
        ],
        run: hanging,
    },
    Case {
        name: "shaft-load",
        title: "Pull of a rope on the shaft",
        chapter: Chapter::Ropes,
        about: "A rope with two unequal tensions over three wraps, whatever way it creeps.",
        features: &[Feature::ShaftLoad, Feature::WholeWrapCreep, Feature::ActiveArc],
        run: shaft_load,
    },
    Case {
        name: "tension-around-the-wrap",
        title: "Tension and active arc around the wrap",
        chapter: Chapter::Ropes,
        about: "Where the rope creeps its tension falls exponentially, where it rests it is constant. The lengths of \
                active arcs are for the friction of an undercut seat while loading.",
        features: &[Feature::WholeWrapCreep, Feature::ActiveArc],
        run: around,
    },
    Case {
        name: "traction-of-a-lift",
        title: "Traction checks of one lift and the sense of each",
        chapter: Chapter::Ropes,
        about: "From the text of a survey to the ratio of tensions, its limit, and whether the limit must not be \
                exceeded (the ropes must hold) or must be exceeded (the ropes must slip). The seats are undercut.",
        features: &[
            Feature::TractionLimit,
            Feature::SeatFriction,
            Feature::MassesToTensions,
            Feature::HangingRopes,
            Feature::Retardation,
        ],
        run: traction,
    },
];

const ROUNDING: &str = "a short sum, rounding only";

fn total(tensions: &[f64]) -> f64 {
    tensions.iter().sum()
}

/// Sum of all ropes' pulls on the shaft for a case of a survey.
fn pull(survey: &Survey, case: &LoadCase) -> f64 {
    let wrap = |(heavy, light): (&f64, &f64)| {
        RopeWrap::new(*heavy, *light, survey.roping.wrap_rad, survey.roping.creep)
    };
    let wraps: Vec<RopeWrap> = case.heavy_n.iter().zip(&case.light_n).map(wrap).collect();
    let [x, y] = expected(case, &wraps, &vec![[280.0, 275.0]; wraps.len()]).pulls_n;
    x.hypot(y)
}

fn tensions() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (car, rated, ropes, [heavy, light], [ratio, test], [straight, at_165]) in [
        (1000.0, 800.0, 4, [17658.0, 13734.0], [1.2857, 1.4286], [31392.0, 31128.0]),
        (1500.0, 1000.0, 5, [24525.0, 19620.0], [1.2500, 1.3750], [44145.0, 43772.0]),
    ] {
        let lift = format!("car {car} kg, load {rated} kg");
        let mut sheet = Sheet::new(car, rated, ropes);
        let survey = sheet.read()?;
        let cases = load_cases(&survey);
        let mut row = |what: String, unit, source, value, computed: f64, decimals| {
            rows.push(Row::new(what, unit, source, value, computed).printed(decimals));
        };
        row(format!("{lift}, 1:1: heavy side"), "N", STATICS, heavy, total(&cases[0].heavy_n), 0);
        row(format!("{lift}, 1:1: light side"), "N", STATICS, light, total(&cases[0].light_n), 0);
        row(format!("{lift}, 1:1: ratio of tensions"), "", STATICS, ratio, cases[0].ratio(), 4);
        row(format!("{lift}, 1:1: ratio with 125 % of the load"), "", STATICS, test, cases[1].ratio(), 4);
        row(
            format!("{lift}, 1:1: shaft load, wrap 180°"),
            "N",
            TRIANGLE,
            straight,
            pull(&survey, &cases[0]),
            0,
        );
        sheet.wrap_deg = 165.0;
        let survey = sheet.read()?;
        let case = &load_cases(&survey)[0];
        row(format!("{lift}, 1:1: shaft load, wrap 165°"), "N", TRIANGLE, at_165, pull(&survey, case), 0);
        sheet.ratio = "2:1";
        let cases = load_cases(&sheet.read()?);
        row(format!("{lift}, 2:1: heavy side"), "N", STATICS, 0.5 * heavy, total(&cases[0].heavy_n), 1);
        row(format!("{lift}, 2:1: light side"), "N", STATICS, 0.5 * light, total(&cases[0].light_n), 1);
        row(format!("{lift}, 2:1: ratio of tensions"), "", STATICS, ratio, cases[0].ratio(), 4);
        row(format!("{lift}, 2:1: ratio with 125 % of the load"), "", STATICS, test, cases[1].ratio(), 4);
    }
    Ok(Record::of_rows(rows))
}

fn hanging() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.ratio = "2:1";
    sheet.roping = "retardation = \"0.5 m/s2\"";
    sheet.load = "rope_mass = \"0.5 kg/m\"\ncompensation_mass = \"2 kg/m\"\ncable_mass = \"1 kg/m\"\ntravel = \"30 m\"";
    let cases = load_cases(&sheet.read()?);
    let find = |kind| {
        let missing = || CaseFault::Other(format!("no load case {kind:?}"));
        cases.iter().find(|case| case.kind == kind).ok_or_else(missing)
    };
    let (rated, test) = (find(CaseKind::RatedAtRest)?, find(CaseKind::StaticTest)?);
    let (braking, empty) = (find(CaseKind::Braking)?, find(CaseKind::EmptyCar)?);
    let hot = rated.with_hottest(2, 0.1);
    let mean = rated.mean_heavy_n();
    let exact = Tolerance::Relative(1e-12);
    let mut rows = Vec::new();
    for (what, source, value, computed) in [
        ("rated load, heavy: 1800·9.81/8 + 15·9.81", HANGING, 2354.4, rated.heavy_n[0]),
        ("rated load, light: (1400 + 60)·9.81/8", HANGING, 1790.325, rated.light_n[0]),
        ("125 % load, heavy: 2000·9.81/8 + 15·9.81", HANGING, 2599.65, test.heavy_n[0]),
        ("braking, heavy: 1800·10.31/8 + 15·10.81", HANGING, 2481.9, braking.heavy_n[0]),
        ("braking, light: (1400 + 60)·9.31/8", HANGING, 1699.075, braking.light_n[0]),
        ("empty car above, heavy: 1400·9.81/8 + 15·9.81", HANGING, 1863.9, empty.heavy_n[0]),
        ("empty car above, light: (1000 + 60 + 15)·9.81/8", HANGING, 1318.21875, empty.light_n[0]),
        ("spread 10 %, hottest of four ropes: 1.075·2354.4", SPREAD, 2530.98, hot.heavy_n[2]),
        ("spread 10 %, the other three: 0.975·2354.4", SPREAD, 2295.54, hot.heavy_n[0]),
        ("spread 10 %, sum of the four ropes", SPREAD, 4.0 * mean, total(&hot.heavy_n)),
    ] {
        rows.push(Row::new(what, "N", source, value, computed).within(exact, ROUNDING));
    }
    Ok(Record::of_rows(rows))
}

fn shaft_load() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (degrees, force) in [(150.0f64, 13056.0), (165.0, 13388.0), (180.0, 13500.0)] {
        for (name, creep) in [
            ("creep over the whole wrap", Creep::WholeWrap),
            ("active arc at the light side", Creep::ActiveArcLight { friction: 0.2 }),
            ("active arc at the heavy side", Creep::ActiveArcHeavy { friction: 0.2 }),
        ] {
            let wrap = RopeWrap::new(8000.0, 5500.0, degrees.to_radians(), creep);
            let [x, y] = wrap.pulls_n();
            let what = format!("8000/5500 N, wrap {degrees}°, {name}: pull at the tangent points");
            rows.push(Row::new(what, "N", TRIANGLE, force, x.hypot(y)).printed(0));
            // The force of pressure and drag together, from their first harmonics.
            let (radial, drag) = (wrap.bearing(0.0).fourier(1), wrap.drag(0.0).fourier(1));
            let sum = [radial.cosine + drag.sine, drag.cosine - radial.sine];
            let computed = 0.5 * TAU * sum[0].hypot(sum[1]);
            let what = format!("8000/5500 N, wrap {degrees}°, {name}: sum of pressure and drag");
            rows.push(Row::new(what, "N", TRIANGLE, force, computed).printed(0));
        }
    }
    Ok(Record::of_rows(rows))
}

/// Tension at an angle, from the stretches that load the wheel.
fn tension_at(stretches: &[Stretch], theta: f64) -> f64 {
    let within = |s: &&Stretch| s.from - 1e-12 <= theta && theta <= s.to + 1e-12;
    let value = |s: &Stretch| s.value * (-s.decay * (theta - s.from)).exp();
    stretches.iter().find(within).map_or(f64::NAN, value)
}

fn around() -> Result<Record, CaseFault> {
    let exact = Tolerance::Relative(1e-12);
    let closed = "the same law in closed form, rounding only";
    let mut rows = Vec::new();
    let grip = Grip::Seat { groove_rad: 30f64.to_radians(), undercut_rad: 95f64.to_radians() };
    let seat_friction = friction_factor(grip, TractionCase::Loading).map_err(CaseFault::of)?;
    for (ratio, degrees) in [(1.2, 52.97), (1.4, 97.75), (1.5, 117.79), (1.6, 136.54)] {
        let light = RopeWrap::new(
            5000.0 * ratio,
            5000.0,
            0.5 * TAU,
            Creep::ActiveArcLight { friction: seat_friction },
        );
        let heavy = RopeWrap::new(
            5000.0 * ratio,
            5000.0,
            0.5 * TAU,
            Creep::ActiveArcHeavy { friction: seat_friction },
        );
        for (side, arc) in [("light", light.stretches[1]), ("heavy", heavy.stretches[0])] {
            let what = format!("T1/T2 {ratio}, wrap 180°: active arc at the {side} side");
            rows.push(Row::new(what, "°", EULER, degrees, (arc.to - arc.from).to_degrees()).printed(2));
        }
    }
    let wrap_rad = 165f64.to_radians();
    let at = |share: f64| (share - 0.5) * wrap_rad;
    let (whole, friction) = ((8000f64 / 5500.0).ln() / wrap_rad, 0.25);
    let arc = (8000f64 / 5500.0).ln() / friction;
    let runs = [
        ("whole wrap", Creep::WholeWrap, whole, 0.0),
        ("active arc at the light side", Creep::ActiveArcLight { friction }, friction, wrap_rad - arc),
        ("active arc at the heavy side", Creep::ActiveArcHeavy { friction }, friction, 0.0),
    ];
    for (name, creep, friction, entry) in runs {
        let wrap = RopeWrap::new(8000.0, 5500.0, wrap_rad, creep);
        for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
            let way = (share * wrap_rad - entry).max(0.0);
            let reference = creeping_tension_n(8000.0, friction, way).max(5500.0);
            let what = format!("8000/5500 N, {name}: tension at {} of the wrap", share);
            let computed = tension_at(&wrap.stretches, at(share));
            rows.push(Row::new(what, "N", EULER, reference, computed).within(exact, closed));
        }
        let moment = TAU * wrap.drag(0.0).fourier(0).cosine;
        let what = format!("8000/5500 N, {name}: drag summed over the wrap, T2 − T1");
        rows.push(Row::new(what, "N", STATICS, -2500.0, moment).within(exact, closed));
    }
    let whole_wrap = RopeWrap::new(8000.0, 5500.0, wrap_rad, Creep::WholeWrap);
    let middle = tension_at(&whole_wrap.stretches, 0.0);
    let what = "8000/5500 N, whole wrap: tension in the middle, √(T1·T2)";
    rows.push(Row::new(what, "N", EULER, 6633.0, middle).printed(0));
    let mean = whole_wrap.bearing(0.0).fourier(0).cosine;
    let what = "8000/5500 N, whole wrap: radial force summed over the wrap, (T1 − T2)/f";
    let summed = TAU * mean;
    rows.push(Row::new(what, "N", EULER, 2500.0 / whole, summed).within(exact, closed));
    let weak = RopeWrap::new(1600.0, 1000.0, 3.1, Creep::ActiveArcLight { friction: 0.05 });
    let holds = f64::from(u8::from(weak.friction_holds));
    let what = "1600/1000 N at f 0.05: whether friction holds the ratio (1) or not (0)";
    rows.push(Row::new(what, "", EULER, 0.0, holds).within(Tolerance::Absolute(0.0), "yes or no"));
    Ok(Record::of_rows(rows)
        .fact(format!("The lengths of active arcs are for γ 30°, β 95°, f = {seat_friction:.5}."))
        .fact(format!(
            "Tensions along the wrap are for {:.0}°, and for f = {friction} on active arcs.",
            wrap_rad.to_degrees()
        )))
}

fn traction() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.roping = "car_speed = \"1 m/s\"\nretardation = \"0.5 m/s2\"";
    sheet.load = "rope_mass = \"0.5 kg/m\"\ntravel = \"30 m\"";
    sheet.groove = seat(30.0, 90.0, 6.9);
    let survey = sheet.read()?;
    let cases = load_cases(&survey);
    let place = Place { kind: Kind::Uniform, walls: Vec::new(), lines: None };
    let section = Section::build(&survey, State::Now, &place)
        .map_err(|faults| CaseFault::Other(format!("{faults:?}")))?;
    let found = facts(&survey, State::Now, &section, &cases[0]).traction;
    let expected = [
        // 2000·9.81/4 + 15·9.81 over 1400·9.81/4.
        ("loading, 125 % of the load", 5052.15 / 3433.5, 1.8119, 1.0),
        // 1800·10.31/4 + 15·10.31 over 1400·9.31/4.
        ("braking, loaded car going down", 4794.15 / 3258.5, 1.7166, 1.0),
        // 1400·10.31/4 + 15·10.31 over 1000·9.31/4.
        ("braking, empty car going up", 3763.15 / 2327.5, 1.7166, 1.0),
        // 1000·9.81/4 over 15·9.81.
        ("stalled, counterweight on its buffers", 2452.5 / 147.15, 3.2830, 0.0),
    ];
    if found.len() != expected.len() {
        return Err(CaseFault::Other(format!("{} traction cases instead of four", found.len())));
    }
    let mut rows = Vec::new();
    for (fact, (name, ratio, limit, holds)) in found.iter().zip(expected) {
        let row = Row::new(format!("{name}: ratio of tensions"), "", HANGING, ratio, fact.ratio);
        rows.push(row.within(Tolerance::Relative(1e-12), ROUNDING));
        rows.push(Row::new(format!("{name}: e^(fα)"), "", BRAKE, limit, fact.limit).printed(4));
        let what = format!("{name}: the ratio must not exceed it (1) or must exceed it (0)");
        let sense = f64::from(u8::from(fact.at_most));
        rows.push(
            Row::new(what, "", BRAKE, holds, sense).within(Tolerance::Absolute(0.0), "one or the other"),
        );
    }
    let GrooveShape::Undercut { opening_angle_rad, slot_angle_rad, .. } = &survey.grooves.now[0] else {
        return Err(CaseFault::of("the undercut seats were not read"));
    };
    Ok(Record::of_rows(rows).fact(format!(
        "The seats have γ {:.0}° and β {:.0}°, the wrap is {:.0}°.",
        opening_angle_rad.to_degrees(),
        slot_angle_rad.to_degrees(),
        survey.roping.wrap_rad.to_degrees()
    )))
}
