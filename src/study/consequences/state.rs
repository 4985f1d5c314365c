//! What a state of the grooves, as found or as cut, means for ropes and traction.

use super::hardness;
use super::rope_life::{RopeLife, rope_life};
use crate::hoist::LoadCase;
use crate::hoist::rules::diameter_ratio;
use crate::section::{State, shape_of};
use crate::study::TractionFact;
use crate::study::rules::{pressure, traction};
use crate::survey::Survey;
use serde::Serialize;

/// Numbers of one state.
#[derive(Debug, Clone, Serialize)]
pub struct StateFacts {
    /// Mean over all grooves.
    pub mean_pitch_diameter_mm: f64,
    pub least_pitch_diameter_mm: f64,
    pub least_diameter_ratio: f64,
    pub pressure_mpa: Option<f64>,
    pub traction: Vec<TractionFact>,
    /// Rope-life factor; `None` where it cannot be told, with the reason beside it.
    pub rope_life: Option<RopeLife>,
    pub rope_life_missing: Option<String>,
    /// Hardness expected at the seats' bottom; `None` where no readings by depth surround it. As found, the lowest
    /// of the plain readings stands in.
    pub hardness_hb: Option<f64>,
}

pub(super) fn state_facts(survey: &Survey, state: State, judged: &LoadCase) -> StateFacts {
    let rope = survey.roping.rope_diameter_mm;
    let count = survey.grooves.count();
    let depths: Vec<f64> = (0..count).map(|groove| shape_of(survey, state, groove).1).collect();
    let pitch = |depth: f64| 2.0 * (survey.rim.edge_radius_mm - depth) + rope;
    let mean_depth = depths.iter().sum::<f64>() / count as f64;
    let least_pitch = depths.iter().map(|depth| pitch(*depth)).fold(f64::INFINITY, f64::min);
    let rope_speed = survey.roping.car_speed_m_s.map(|v| v * f64::from(survey.roping.ratio));
    let (rope_life, rope_life_missing) = match rope_life(survey, state, pitch) {
        Ok(life) => (Some(life), None),
        Err(why) => (None, Some(why)),
    };
    let plain = survey.material.hardness_hb.iter().copied().reduce(f64::min);
    let as_read = plain.filter(|_| state == State::Now);
    StateFacts {
        mean_pitch_diameter_mm: pitch(mean_depth),
        least_pitch_diameter_mm: least_pitch,
        least_diameter_ratio: diameter_ratio(least_pitch, rope),
        pressure_mpa: pressure(survey, state, judged, least_pitch),
        traction: traction(survey, state, rope_speed),
        rope_life,
        rope_life_missing,
        hardness_hb: hardness::at_depth(&survey.material.hardness_by_depth, mean_depth).or(as_read),
    }
}
