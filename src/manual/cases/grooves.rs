//! Pressure of ropes on grooves, the slots of undercut seats, and the plain rules about diameters.

use super::sheet::{Sheet, seat, v_groove};
use crate::hoist::friction::Grip;
use crate::hoist::load_cases;
use crate::hoist::pressure::{
    CosineLaw, lapsed_limit_mpa, seat_factor, undercut_width_mm, v_factor, v_flank_ratio,
};
use crate::hoist::rules::{
    COMPENSATION_RATIO, LARGEST_TENSION_RATIO, LARGEST_UNDERCUT_RAD, LEAST_ROPE_MM, LEAST_SEAT_ANGLE_RAD,
    LEAST_V_ANGLE_RAD, SUSPENSION_RATIO, diameter_ratio, groove_breaches, least_rope_safety,
    radial_cut_left_mm,
};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::section::{Kind, Place, Section, State, cut_depth_mm, tags};
use crate::study::facts;

const FEYRER: Source = Source::published("Feyrer, Wire Ropes, eq. 3.31 and example 3.4");
const NOTE: Source = Source::from_memory("EN 81-1:1985, note to clause 9.3");
const LAPSED: Source =
    Source::published("EN 81-1 of 1977 and 1985, 9.3, lapsed in 1999 (seen through a secondary copy)");
const FLANKS: Source = Source::exact("equilibrium of a rope on two flanks without friction: q/(2·sin(γ/2))");
const CHORD: Source = Source::exact("chord of the slot angle: d·sin(β/2)");
const CODE_RATIO: Source = Source::published(
    "ASME A17.1/CSA B44, 40 rope diameters (clause 2.24.2, number from memory): (D − 40·d)/2",
);
const EN_81_20: Source = Source::published("EN 81-20:2020, 5.5.2 (seen through a secondary copy)");
const EN_81_50: Source = Source::published("EN 81-50:2020, 5.11 (seen through a secondary copy)");
const SEAT_ANGLE: Source = Source::from_memory("EN 81-50:2020, 5.11");
const EQUAL: Source =
    Source::published("tension equality: highest within 10 % of lowest (rope makers' rule)");
const RECUT: Source =
    Source::published("re-grooving practice: worst pitch diameter plus 1/16 in depth, all grooves alike");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "pressure-factors",
        title: "Factors of the specific pressure",
        chapter: Chapter::Grooves,
        about: "The factor k in p = k·T/(d·D) of seats with contact up to 90°, of V grooves, and of the cosine law \
                between other limits, whose published figures are half of k.",
        features: &[Feature::SeatPressure, Feature::VPressure],
        run: factors,
    },
    Case {
        name: "pressure-of-a-lift",
        title: "Pressure of a lift's ropes in five grooves",
        chapter: Chapter::Grooves,
        about: "Surveys of one lift with five kinds of grooves, from their text to pressure, yardstick and diameters.",
        features: &[
            Feature::SeatPressure,
            Feature::VPressure,
            Feature::PressureYardstick,
            Feature::DiameterRatio,
            Feature::MassesToTensions,
        ],
        run: of_a_lift,
    },
    Case {
        name: "pressure-yardstick",
        title: "Lapsed limit on the specific pressure",
        chapter: Chapter::Grooves,
        about: "A yardstick by rope speed; no requirement in force.",
        features: &[Feature::PressureYardstick],
        run: yardstick,
    },
    Case {
        name: "flanks-and-slots",
        title: "Force on V flanks and width of slots",
        chapter: Chapter::Grooves,
        about: "By the program's formulas, and measured on the outlines that it builds from surveys with these \
                grooves, whose seats have the rope's own radius.",
        features: &[Feature::VPressure, Feature::VGrooves, Feature::UndercutSeats],
        run: flanks_and_slots,
    },
    Case {
        name: "diameter-rules",
        title: "Ratio of diameters and other plain rules",
        chapter: Chapter::Grooves,
        about: "The cut that the least ratio of diameters leaves, limits on groove angles, and the depth of a clean-up cut \
                read from a survey. The largest undercut is also printed in radians, which tells which degree is meant.",
        features: &[Feature::DiameterRatio],
        run: rules,
    },
];

fn factors() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (beta, value) in [
        (0.0f64, 2.5465),
        (75.0, 7.3232),
        (80.0, 8.0581),
        (85.0, 8.9115),
        (90.0, 9.9105),
        (95.0, 11.0904),
        (100.0, 12.4978),
        (105.0, 14.1956),
    ] {
        let k = seat_factor(beta.to_radians()).map_err(CaseFault::of)?;
        rows.push(Row::new(format!("k, seat, β {beta}°"), "", NOTE, value, k).printed(4));
    }
    for (gamma, value) in [(35.0f64, 14.965), (38.0, 13.822), (40.0, 13.157), (45.0, 11.759)] {
        let k = v_factor(gamma.to_radians()).map_err(CaseFault::of)?;
        rows.push(Row::new(format!("k, V, γ {gamma}°"), "", NOTE, value, k).printed(3));
    }
    for (from, to, value, decimals) in [
        (47.5f64, 80.0f64, 5.627, 3),
        (47.5, 80.0, 5.6265, 4),
        (0.0, 60.0, 1.351, 3),
        (0.0, 60.0, 1.3512, 4),
        (47.5, 90.0, 5.5452, 4),
    ] {
        let law = CosineLaw::new(from.to_radians(), to.to_radians()).map_err(CaseFault::of)?;
        let what = format!("k/2, contact from {from}° to {to}°, {decimals} decimals");
        rows.push(Row::new(what, "", FEYRER, value, law.factor() / 2.0).printed(decimals));
    }
    let law = CosineLaw::bedded(20f64.to_radians(), 95f64.to_radians()).map_err(CaseFault::of)?;
    let what = "k/2, rope bedded in a groove, γ 20°, β 95°";
    rows.push(Row::new(what, "", FEYRER, 5.6265, law.factor() / 2.0).printed(4));
    Ok(Record::of_rows(rows))
}

fn all_around() -> Place {
    Place { kind: Kind::Uniform, walls: Vec::new(), lines: None }
}

fn built(sheet: &Sheet) -> Result<(crate::survey::Survey, Section), CaseFault> {
    let survey = sheet.read()?;
    let section = Section::build(&survey, State::Now, &all_around())
        .map_err(|faults| CaseFault::Other(format!("{faults:?}")))?;
    Ok((survey, section))
}

fn of_a_lift() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let mut lift = String::new();
    for (name, groove, value) in [
        ("round seat", seat(30.0, 0.0, 6.9), 1.235),
        ("undercut, β 90°", seat(30.0, 90.0, 6.9), 4.808),
        ("undercut, β 95°", seat(30.0, 95.0, 6.9), 5.380),
        ("undercut, β 105°", seat(30.0, 105.0, 6.9), 6.886),
        ("V, γ 40°", v_groove(40.0), 6.383),
    ] {
        let mut sheet = Sheet::new(1000.0, 800.0, 5);
        sheet.roping = "car_speed = \"1 m/s\"";
        sheet.groove = groove;
        let (survey, section) = built(&sheet)?;
        let cases = load_cases(&survey);
        let found = facts(&survey, State::Now, &section, &cases[0]);
        let what = format!("{name}: specific pressure");
        rows.push(Row::new(what, "MPa", NOTE, value, found.pressure_mpa.unwrap_or(f64::NAN)).printed(3));
        if name == "round seat" {
            let limit = found.pressure_limit_mpa.unwrap_or(f64::NAN);
            rows.push(Row::new("yardstick at 1 m/s", "MPa", LAPSED, 8.250, limit).printed(3));
            let (ratio, left) = (found.least_diameter_ratio, found.cut_left_by_diameter_mm);
            rows.push(Row::new("pitch over rope diameter", "", CODE_RATIO, 43.077, ratio).printed(3));
            rows.push(Row::new("radial cut left by 40 diameters", "mm", CODE_RATIO, 20.0, left).printed(1));
            lift = format!(
                "{} ropes of {} mm run on a pitch diameter of {:.0} mm and carry {:.1} N each.",
                survey.roping.ropes,
                survey.roping.rope_diameter_mm,
                2.0 * section.grooves[0].pitch_radius_mm,
                cases[0].heavy_n[0]
            );
            let nominal = cases[0].heavy_n[0] / (13.0 * 560.0);
            rows.push(Row::new("T/(d·D) of one rope", "MPa", NOTE, 0.4851, nominal).printed(4));
        }
    }
    Ok(Record::of_rows(rows).fact(lift))
}

fn yardstick() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (speed, value) in [
        (0.5, 9.667),
        (1.0, 8.250),
        (1.6, 7.269),
        (2.0, 6.833),
        (2.5, 6.429),
        (3.5, 5.889),
        (5.0, 5.417),
        (10.0, 4.773),
    ] {
        let limit = lapsed_limit_mpa(speed).map_err(CaseFault::of)?;
        rows.push(Row::new(format!("limit, rope at {speed} m/s"), "MPa", LAPSED, value, limit).printed(3));
    }
    Ok(Record::of_rows(rows))
}

fn flanks_and_slots() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (gamma, value) in [(35.0, 1.663), (38.0, 1.536), (40.0, 1.462)] {
        let ratio = v_flank_ratio(f64::to_radians(gamma)).map_err(CaseFault::of)?;
        let what = format!("V, γ {gamma}°: force normal to a flank over line load");
        rows.push(Row::new(what, "", FLANKS, value, ratio).printed(3));
        let mut sheet = Sheet::new(1000.0, 800.0, 4);
        sheet.groove = v_groove(gamma);
        let (_, section) = built(&sheet)?;
        // Both flank bands share the load in proportion to the radial part of their normals.
        let band = tags::of(tags::SEAT, 1);
        let normals: Vec<f64> = section
            .outline
            .edges()
            .filter(|edge| section.outline.tag_name(edge) == band)
            .map(|edge| edge.outward(0.5).r)
            .collect();
        let what = format!("V, γ {gamma}°: the same from the normals of the outline's two bands");
        let computed = if normals.len() == 2 { normals.iter().sum::<f64>().recip() } else { f64::NAN };
        rows.push(Row::new(what, "", FLANKS, value, computed).printed(3));
    }
    for (beta, value) in [(90.0, 0.707), (95.0, 0.737), (105.0, 0.793)] {
        let width = undercut_width_mm(13.0, f64::to_radians(beta)) / 13.0;
        let what = format!("slot, β {beta}°: width over rope diameter");
        rows.push(Row::new(what, "", CHORD, value, width).printed(3));
        let mut sheet = Sheet::new(1000.0, 800.0, 4);
        sheet.groove = seat(30.0, beta, 6.5);
        let (_, section) = built(&sheet)?;
        let wall = tags::of(tags::SLOT_WALL, 1);
        let walls: Vec<f64> = section
            .outline
            .edges()
            .filter(|edge| section.outline.tag_name(edge) == wall)
            .map(|edge| edge.start.z)
            .collect();
        let what = format!("slot, β {beta}°: the same between the outline's two slot walls");
        let computed = if walls.len() == 2 { (walls[1] - walls[0]).abs() / 13.0 } else { f64::NAN };
        rows.push(Row::new(what, "", CHORD, value, computed).printed(3));
    }
    Ok(Record::of_rows(rows))
}

fn rules() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (pitch, rope, value) in
        [(560.0, 13.0, 20.0), (660.0, 16.0, 10.0), (640.0, 16.0, 0.0), (508.0, 12.7, 0.0)]
    {
        let what = format!("radial cut left, D {pitch}, d {rope} mm");
        let left = radial_cut_left_mm(pitch, rope, SUSPENSION_RATIO);
        let reason = "a short sum, rounding only";
        rows.push(Row::new(what, "mm", CODE_RATIO, value, left).within(Tolerance::Absolute(1e-12), reason));
    }
    let entry = |what: &str, unit, source, value, computed: f64| {
        Row::new(what, unit, source, value, computed)
            .within(Tolerance::Relative(1e-12), "a single figure of the rule")
    };
    let safety = |ropes| least_rope_safety(ropes).map_or(f64::NAN, |limit| limit.value);
    let ratio = diameter_ratio(508.0, 12.7);
    rows.push(entry("D/d of a 20 in sheave with 1/2 in rope", "", CODE_RATIO, 40.0, ratio));
    rows.push(entry("least D/d, suspension ropes", "", EN_81_20, 40.0, SUSPENSION_RATIO.value));
    rows.push(entry("least D/d, compensation ropes", "", CODE_RATIO, 32.0, COMPENSATION_RATIO.value));
    rows.push(entry("least rope safety factor, two ropes", "", EN_81_20, 16.0, safety(2)));
    rows.push(entry("least rope safety factor, three ropes", "", EN_81_20, 12.0, safety(3)));
    rows.push(entry("smallest suspension rope", "mm", EN_81_20, 8.0, LEAST_ROPE_MM.value));
    rows.push(entry("highest tension over lowest", "", EQUAL, 1.1, LARGEST_TENSION_RATIO.value));
    let undercut = LARGEST_UNDERCUT_RAD.value;
    rows.push(entry("largest undercut angle", "°", EN_81_50, 105.0, undercut.to_degrees()));
    rows.push(Row::new("largest undercut angle", "rad", EN_81_50, 1.83, undercut).printed(2));
    let (seat_angle, v_angle) =
        (LEAST_SEAT_ANGLE_RAD.value.to_degrees(), LEAST_V_ANGLE_RAD.value.to_degrees());
    rows.push(entry("least groove angle of a seat", "°", SEAT_ANGLE, 25.0, seat_angle));
    rows.push(entry("least groove angle of a V", "°", EN_81_50, 35.0, v_angle));
    for (beta, value) in [(105.0f64, 0.0), (106.0, 1.0)] {
        let grip = Grip::Seat { groove_rad: 30f64.to_radians(), undercut_rad: beta.to_radians() };
        let count = groove_breaches(grip).len() as f64;
        let what = format!("rules broken by a seat, γ 30°, β {beta}°");
        rows.push(Row::new(what, "", EN_81_50, value, count).within(Tolerance::Absolute(0.0), "a count"));
    }
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.seat_depth_mm = vec![10.0, 10.4, 9.8, 10.1];
    sheet.cut = "plan = \"clean up\"\nclean_up = \"1/16 in\"".to_owned();
    let depth = cut_depth_mm(&sheet.read()?).unwrap_or(f64::NAN);
    rows.push(entry("clean-up: worst seat depth 10.4 mm plus 1/16 in", "mm", RECUT, 11.9875, depth));
    Ok(Record::of_rows(rows))
}
