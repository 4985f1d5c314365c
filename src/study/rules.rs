//! Dimensions and ratios that follow from the survey: diameters, pressure, speed, traction.

use super::result::{Facts, GrooveFacts, TractionFact};
use crate::hoist::friction::{Flanks, Grip, TractionCase, friction_factor, limit_ratio};
use crate::hoist::pressure::{CosineLaw, lapsed_limit_mpa, seat_factor, specific_pressure_mpa, v_factor};
use crate::hoist::rules::{SUSPENSION_RATIO, diameter_ratio, radial_cut_left_mm, speed_after_cut_m_s};
use crate::hoist::{GRAVITY_M_S2, LoadCase, side_tensions_n};
use crate::section::{Section, State, shape_of};
use crate::survey::{GrooveShape, Role, Survey};
use std::f64::consts::PI;

pub(crate) fn facts(survey: &Survey, state: State, section: &Section, judged: &LoadCase) -> Facts {
    let rope = survey.roping.rope_diameter_mm;
    let edge = survey.rim.edge_radius_mm;
    let pitch = |depth: f64| 2.0 * (edge - depth) + rope;
    let grooves: Vec<GrooveFacts> = section
        .grooves
        .iter()
        .map(|groove| {
            let depth_now = survey.grooves.seat_depth_mm[groove.number - 1];
            GrooveFacts {
                groove: groove.number,
                depth_now_mm: depth_now,
                depth_judged_mm: groove.seat_depth_mm,
                pitch_diameter_now_mm: pitch(depth_now),
                pitch_diameter_judged_mm: 2.0 * groove.pitch_radius_mm,
            }
        })
        .collect();
    let least_pitch = grooves.iter().map(|g| g.pitch_diameter_judged_mm).fold(f64::INFINITY, f64::min);
    let mean = |get: fn(&GrooveFacts) -> f64| grooves.iter().map(get).sum::<f64>() / grooves.len() as f64;
    let (before, after) = (mean(|g| g.pitch_diameter_now_mm), mean(|g| g.pitch_diameter_judged_mm));
    let rope_speed = survey.roping.car_speed_m_s.map(|v| v * f64::from(survey.roping.ratio));
    Facts {
        least_diameter_ratio: diameter_ratio(least_pitch, rope),
        cut_left_by_diameter_mm: radial_cut_left_mm(least_pitch, rope, SUSPENSION_RATIO),
        pressure_mpa: pressure(survey, state, judged, least_pitch),
        pressure_limit_mpa: rope_speed.and_then(|v| lapsed_limit_mpa(v).ok()),
        rope_speed_m_s: rope_speed,
        car_speed_after_m_s: survey
            .roping
            .car_speed_m_s
            .filter(|_| state == State::Cut)
            .map(|v| speed_after_cut_m_s(v, before, after)),
        traction: traction(survey, state, rope_speed),
        grooves,
    }
}

/// Largest specific pressure of the hottest rope in a state (MPa).
pub(super) fn pressure(survey: &Survey, state: State, judged: &LoadCase, least_pitch_mm: f64) -> Option<f64> {
    let hottest = judged.heavy_n.iter().copied().fold(0.0, f64::max);
    let factors = (0..survey.grooves.count()).filter_map(|g| pressure_factor(&shape_of(survey, state, g).0));
    let rope = survey.roping.rope_diameter_mm;
    factors.reduce(f64::max).and_then(|k| specific_pressure_mpa(k, hottest, rope, least_pitch_mm).ok())
}

/// Factor k of the specific pressure p = k·T/(d·D) for a groove.
fn pressure_factor(shape: &GrooveShape) -> Option<f64> {
    match shape {
        GrooveShape::Round { .. } => seat_factor(0.0).ok(),
        GrooveShape::Undercut { slot_angle_rad, .. } => seat_factor(*slot_angle_rad).ok(),
        GrooveShape::V { angle_rad, .. } => v_factor(*angle_rad).ok(),
        GrooveShape::Measured { contact_from_rad, contact_to_rad, .. } => {
            CosineLaw::new(*contact_from_rad, *contact_to_rad).ok().map(CosineLaw::factor)
        }
    }
}

/// The groove as friction sees it.
pub(super) fn grip(shape: &GrooveShape) -> Grip {
    match shape {
        GrooveShape::Round { opening_angle_rad, .. } => {
            Grip::Seat { groove_rad: *opening_angle_rad, undercut_rad: 0.0 }
        }
        GrooveShape::Undercut { opening_angle_rad, slot_angle_rad, .. } => {
            Grip::Seat { groove_rad: *opening_angle_rad, undercut_rad: *slot_angle_rad }
        }
        GrooveShape::V { angle_rad, hardened, .. } => Grip::V {
            groove_rad: *angle_rad,
            undercut_rad: 0.0,
            flanks: if *hardened { Flanks::Hardened } else { Flanks::NotHardened },
        },
        GrooveShape::Measured { contact_from_rad, contact_to_rad, .. } => {
            Grip::Seat { groove_rad: PI - 2.0 * contact_to_rad, undercut_rad: 2.0 * contact_from_rad }
        }
    }
}

/// Wrap over which friction holds the ropes: both passes of a double wrap together.
pub(super) fn holding_wrap_rad(survey: &Survey) -> f64 {
    survey.double_wrap.as_ref().map_or(survey.roping.wrap_rad, |wrap| wrap.wrap_sum_rad())
}

/// Traction in loading, braking and stalled cases (EN 81-50:2020, 5.11); empty on sheaves that drive
/// nothing or where masses are not known.
///
/// The car stands, or brakes, where the tensions differ most: at the lowest or the highest landing.
pub(super) fn traction(survey: &Survey, state: State, rope_speed: Option<f64>) -> Vec<TractionFact> {
    let (Role::Drive, Some(masses)) = (survey.roping.role, survey.load.masses.as_ref()) else {
        return Vec::new();
    };
    let grips: Vec<Grip> =
        (0..survey.grooves.count()).map(|groove| grip(&shape_of(survey, state, groove).0)).collect();
    let mut list = Vec::new();
    let mut add = |name: &str, case: TractionCase, ratio: f64, at_most: bool| {
        // All ropes move together: the groove that grips least holds them, the one that grips most drags.
        let frictions = grips.iter().filter_map(|grip| friction_factor(*grip, case).ok());
        let friction = if at_most { frictions.reduce(f64::min) } else { frictions.reduce(f64::max) };
        if let Some(friction) = friction {
            let limit = limit_ratio(friction, holding_wrap_rad(survey));
            list.push(TractionFact { case: name.to_owned(), ratio, limit, friction, at_most });
        }
    };
    let ratio = |pair: [f64; 2]| pair[0].max(pair[1]) / pair[0].min(pair[1]);
    let worst = |load_kg: f64, acceleration: f64| {
        let at = |lowest| ratio(side_tensions_n(survey, masses, load_kg, lowest, acceleration));
        at(true).max(at(false))
    };
    add("loading, 125 % of the rated load", TractionCase::Loading, worst(1.25 * masses.rated_kg, 0.0), true);
    if let (Some(a), Some(v)) = (survey.roping.retardation_m_s2, rope_speed) {
        let (loaded, empty) = (worst(masses.rated_kg, a), worst(0.0, -a));
        let braking = TractionCase::Braking { rope_speed_m_s: v };
        add("emergency braking, loaded car going down", braking, loaded, true);
        add("emergency braking, empty car going up", braking, empty, true);
    }
    if let (Some(rope), Some(travel)) = (masses.rope_kg_m, masses.travel_m) {
        // The counterweight rests on its buffers: only the ropes' own weight is left on that side.
        let [car, _] = side_tensions_n(survey, masses, 0.0, false, 0.0);
        let light = rope * travel * GRAVITY_M_S2;
        if light > 0.0 {
            add("counterweight on its buffers, machine turning", TractionCase::Stalled, car / light, false);
        }
    }
    list
}
