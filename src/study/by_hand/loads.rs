//! Tensions, diameters, pressure, traction and allowable by hand.

use super::{HandRow, stress_factor, weight};
use crate::hoist::GRAVITY_M_S2;
use crate::hoist::double_wrap::Pass;
use crate::section::shape_of;
use crate::study::CheckResult;
use crate::survey::{Given, GrooveShape, Masses, Role, Survey};
use crate::units::Kind;
use crate::verdict::Amount;
use std::f64::consts::PI;

pub(super) fn rows(survey: &Survey, result: &CheckResult) -> Vec<HandRow> {
    let mut rows = Vec::new();
    tensions(survey, result, &mut rows);
    shaft(survey, result, &mut rows);
    diameters(survey, result, &mut rows);
    pressure(survey, result, &mut rows);
    traction(survey, result, &mut rows);
    let (strength, factor) = (result.metal.tensile_mpa, result.safety_factor);
    rows.push(HandRow {
        what: "allowable stress",
        how: format!("{} / {factor}", survey.print.worked_whole(Kind::Stress, strength)),
        by_hand: Amount::of(Kind::Stress, strength / factor),
        program: Amount::of(Kind::Stress, result.allowable_mpa),
    });
    rows
}

/// Car side and counterweight side per rope, car at the lowest landing, in N.
fn sides(survey: &Survey, masses: &Masses, load_kg: f64) -> [(f64, String); 2] {
    let (n, i, g) = (survey.roping.ropes as f64, f64::from(survey.roping.ratio), GRAVITY_M_S2);
    let travel = masses.travel_m.unwrap_or(0.0);
    let rope = masses.rope_kg_m.unwrap_or(0.0) * travel;
    let compensation = masses.compensation_kg_m.unwrap_or(0.0) * travel;
    let mass = |kg: f64| survey.print.worked(Kind::Mass, kg);
    let (unit, pull) = (survey.print.name(Kind::Mass), weight(&survey.print));
    let below = if i > 1.0 { format!("({n:.0} × {i:.0})") } else { format!("{n:.0}") };
    let hanging = if rope > 0.0 { format!(" + {} {unit} × {pull}", mass(rope)) } else { String::new() };
    let chains = if compensation > 0.0 { format!(" + {}", mass(compensation)) } else { String::new() };
    let car = (masses.car_kg + load_kg) * g / (i * n) + rope * g;
    let counter = (masses.counterweight_kg + compensation) * g / (i * n);
    [
        (car, format!("({} + {}) {unit} × {pull} / {below}{hanging}", mass(masses.car_kg), mass(load_kg))),
        (counter, format!("({}{chains}) {unit} × {pull} / {below}", mass(masses.counterweight_kg))),
    ]
}

fn tensions(survey: &Survey, result: &CheckResult, rows: &mut Vec<HandRow>) {
    let judged = &result.loads.judged;
    let force = |newton: f64| Amount::of(Kind::Force, newton);
    let mut mean = judged.mean_heavy_n();
    if let (Given::Masses, Some(masses)) = (&survey.load.given, &survey.load.masses) {
        let [car, weight] = sides(survey, masses, masses.rated_kg);
        let (heavy, light) = if car.0 >= weight.0 { (car, weight) } else { (weight, car) };
        mean = heavy.0;
        rows.push(HandRow {
            what: "tension of one rope, heavy side",
            how: heavy.1,
            by_hand: force(heavy.0),
            program: force(judged.mean_heavy_n()),
        });
        if survey.roping.role == Role::Drive {
            rows.push(HandRow {
                what: "tension of one rope, light side",
                how: light.1,
                by_hand: force(light.0),
                program: force(judged.mean_light_n()),
            });
        }
    }
    // Between the passes a rope may be tighter than on the heavy side.
    mean = judged.mean_between_n().map_or(mean, |between| mean.max(between));
    if result.loads.hottest_groove.is_some() {
        let (n, spread) = (survey.roping.ropes as f64, survey.load.tension_spread);
        let found = judged.heavy_n.iter().copied().fold(0.0, f64::max);
        rows.push(HandRow {
            what: "tension of the hottest rope",
            how: format!(
                "{} × (1 + {spread} × {:.0}/{n:.0})",
                survey.print.worked_whole(Kind::Force, mean),
                n - 1.0
            ),
            by_hand: force(mean * (1.0 + spread * (n - 1.0) / n)),
            program: force(found),
        });
    }
}

fn shaft(survey: &Survey, result: &CheckResult, rows: &mut Vec<HandRow>) {
    let sum = |list: &[f64]| list.iter().sum::<f64>();
    let judged = &result.loads.judged;
    if survey.double_wrap.is_some() {
        return both_passes(result, rows);
    }
    let (a, b, wrap) = (sum(&judged.heavy_n), sum(&judged.light_n), survey.roping.wrap_rad);
    let [one, other] = [a, b].map(|newton| survey.print.worked(Kind::Force, newton));
    rows.push(HandRow {
        what: "pull of all ropes on the wheel",
        how: format!("√({one}² + {other}² − 2 × {one} × {other} × cos {:.1}°)", wrap.to_degrees()),
        by_hand: Amount::of(Kind::Force, (a * a + b * b - 2.0 * a * b * wrap.cos()).sqrt()),
        program: Amount::of(Kind::Force, result.loads.pulls_n),
    });
}

/// The ropes' ends of both passes as vectors; an end at θ pulls at a right angle to its radius.
fn both_passes(result: &CheckResult, rows: &mut Vec<HandRow>) {
    let judged = &result.loads.judged;
    let (mut x, mut y, mut how_x, mut how_y) = (0.0, 0.0, Vec::new(), Vec::new());
    for pass in [Pass::First, Pass::Second] {
        let of_pass = || judged.passes.iter().enumerate().filter(|(_, own)| own.pass == pass);
        let sum = |list: &[f64]| of_pass().map(|(groove, _)| list[groove]).sum::<f64>();
        let Some((_, place)) = of_pass().next() else { return };
        for (tension, sign) in [(sum(&judged.heavy_n), -1.0), (sum(&judged.light_n), 1.0)] {
            let theta = place.middle_rad + sign * 0.5 * place.wrap_rad;
            x -= sign * tension * theta.sin();
            y += sign * tension * theta.cos();
            let (minus, plus) = if sign > 0.0 { ("− ", "+ ") } else { ("+ ", "− ") };
            let degrees = format!("{:.1}°", theta.to_degrees()).replace('-', "−");
            how_x.push(format!("{minus}{tension:.0} sin {degrees}"));
            how_y.push(format!("{plus}{tension:.0} cos {degrees}"));
        }
    }
    let joined = |list: &[String]| match list.join(" ") {
        text if text.starts_with("− ") => text.replacen("− ", "−", 1),
        text => text.trim_start_matches("+ ").to_owned(),
    };
    let whole = |value: f64| format!("{value:.0}").replace('-', "−");
    rows.push(HandRow {
        what: "pull of both passes on the wheel",
        how: format!(
            "√(X² + Y²), X = {} = {}, Y = {} = {}",
            joined(&how_x),
            whole(x),
            joined(&how_y),
            whole(y)
        ),
        by_hand: Amount::of(Kind::Force, x.hypot(y)),
        program: Amount::of(Kind::Force, result.loads.pulls_n),
    });
}

fn least_pitch(result: &CheckResult) -> f64 {
    result.facts.grooves.iter().map(|groove| groove.pitch_diameter_judged_mm).fold(f64::INFINITY, f64::min)
}

fn diameters(survey: &Survey, result: &CheckResult, rows: &mut Vec<HandRow>) {
    let rope = survey.roping.rope_diameter_mm;
    let edge = 2.0 * survey.rim.edge_radius_mm;
    let deepest = result.facts.grooves.iter().map(|groove| groove.depth_judged_mm).fold(0.0, f64::max);
    let pitch = edge - 2.0 * deepest + rope;
    let length = |mm: f64| survey.print.worked(Kind::Length, mm);
    let unit = survey.print.name(Kind::Length);
    rows.push(HandRow {
        what: "pitch diameter",
        how: format!("{} − 2 × {} + {} {unit}", length(edge), length(deepest), length(rope)),
        by_hand: Amount::of(Kind::Length, pitch),
        program: Amount::of(Kind::Length, least_pitch(result)),
    });
    rows.push(HandRow {
        what: "ratio of diameters D/d",
        how: format!("{} / {}", length(pitch), length(rope)),
        by_hand: Amount::plain(pitch / rope),
        program: Amount::plain(result.facts.least_diameter_ratio),
    });
}

/// Factor k of the specific pressure with its formula; nothing for a measured groove.
fn pressure_factor(shape: &GrooveShape) -> Option<(f64, String)> {
    match shape {
        GrooveShape::Round { .. } => Some((8.0 / PI, "8/π".to_owned())),
        GrooveShape::Undercut { slot_angle_rad: beta, .. } => Some((
            8.0 * (0.5 * beta).cos() / (PI - beta - beta.sin()),
            format!("8 cos({0:.1}°/2)/(π − {beta:.4} − sin {0:.1}°)", beta.to_degrees()),
        )),
        GrooveShape::V { angle_rad, .. } => {
            Some((4.5 / (0.5 * angle_rad).sin(), format!("4.5/sin({:.1}°/2)", angle_rad.to_degrees())))
        }
        GrooveShape::Measured { .. } => None,
    }
}

fn pressure(survey: &Survey, result: &CheckResult, rows: &mut Vec<HandRow>) {
    let Some(program) = result.facts.pressure_mpa else { return };
    let shapes = (0..survey.grooves.count()).map(|groove| shape_of(survey, result.state, groove).0);
    let factors = shapes.map(|shape| pressure_factor(&shape)).collect::<Option<Vec<_>>>();
    let Some(highest) = factors.and_then(|list| list.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))) else {
        return;
    };
    let (k, how) = highest;
    let (rope, pitch) = (survey.roping.rope_diameter_mm, least_pitch(result));
    let tension = result.loads.judged.heavy_n.iter().copied().fold(0.0, f64::max);
    let print = &survey.print;
    let [wide, across] = [rope, pitch].map(|mm| print.worked(Kind::Length, mm));
    rows.push(HandRow {
        what: "groove pressure k·T/(d·D)",
        how: format!(
            "k = {how} = {k:.3}; {k:.3} × {} / ({wide} × {across} {}²){}",
            print.worked_whole(Kind::Force, tension),
            print.name(Kind::Length),
            stress_factor(print)
        ),
        by_hand: Amount::of(Kind::Stress, k * tension / (rope * pitch)),
        program: Amount::of(Kind::Stress, program),
    });
}

/// Shape part of the friction factor while loading, with its formula; nothing for a measured groove.
fn friction(shape: &GrooveShape) -> Option<(f64, String)> {
    let seat = |gamma: f64, beta: f64| {
        let below = PI - beta - gamma - beta.sin() + gamma.sin();
        let f = 0.1 * 4.0 * ((0.5 * gamma).cos() - (0.5 * beta).sin()) / below;
        let (g, b) = (gamma.to_degrees(), beta.to_degrees());
        (
            f,
            format!(
                "0.1 × 4(cos {:.1}° − sin {:.1}°)/(π − {beta:.4} − {gamma:.4} − sin {b:.1}° + sin {g:.1}°)",
                0.5 * g,
                0.5 * b
            ),
        )
    };
    match shape {
        GrooveShape::Round { opening_angle_rad, .. } => Some(seat(*opening_angle_rad, 0.0)),
        GrooveShape::Undercut { opening_angle_rad, slot_angle_rad, .. } => {
            Some(seat(*opening_angle_rad, *slot_angle_rad))
        }
        GrooveShape::V { angle_rad, hardened: true, .. } => {
            Some((0.1 / (0.5 * angle_rad).sin(), format!("0.1/sin {:.1}°", 0.5 * angle_rad.to_degrees())))
        }
        GrooveShape::V { hardened: false, .. } => Some((0.1 * 4.0 / PI, "0.1 × 4/π".to_owned())),
        GrooveShape::Measured { .. } => None,
    }
}

fn traction(survey: &Survey, result: &CheckResult, rows: &mut Vec<HandRow>) {
    let Some(fact) = result.facts.traction.first() else { return };
    let shapes = (0..survey.grooves.count()).map(|groove| shape_of(survey, result.state, groove).0);
    let factors = shapes.map(|shape| friction(&shape)).collect::<Option<Vec<_>>>();
    let Some((f, how)) = factors.and_then(|list| list.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))) else {
        return;
    };
    // Friction holds over both passes of a double wrap.
    let wrap = survey.double_wrap.as_ref().map_or(survey.roping.wrap_rad, |d| d.wrap_rad[0] + d.wrap_rad[1]);
    if let Some(masses) = &survey.load.masses {
        let [car, weight] = sides(survey, masses, 1.25 * masses.rated_kg);
        let (heavy, light) = (car.0.max(weight.0), car.0.min(weight.0));
        // At the highest landing the ropes' weight changes sides; without it both landings are alike.
        if masses.travel_m.is_none() || masses.rope_kg_m.is_none() {
            rows.push(HandRow {
                what: "ratio of tensions, 125 % of the load",
                how: [heavy, light].map(|newton| survey.print.worked(Kind::Force, newton)).join(" / "),
                by_hand: Amount::plain(heavy / light),
                program: Amount::plain(fact.ratio),
            });
        }
    }
    rows.push(HandRow {
        what: "ratio that friction holds, e^(fα)",
        how: format!("f = {how} = {f:.4}; α = {wrap:.4} rad"),
        by_hand: Amount::plain((f * wrap).exp()),
        program: Amount::plain(fact.limit),
    });
}
