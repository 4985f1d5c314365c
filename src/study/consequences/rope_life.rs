//! The rope-life factor of a survey's ropes in a state of the grooves (EN 81-50:2020, 5.12).

use crate::hoist::rope_life::{
    Edition, Pulleys, TractionGroove, pulley_bends, safety_factor, traction_bends,
};
use crate::hoist::rules::diameter_ratio;
use crate::section::{State, shape_of};
use crate::survey::{GrooveShape, Role, RopeFacts, Survey};
use serde::Serialize;

/// The factor that the bends ask of the ropes, in the groove that asks most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RopeLife {
    pub groove: usize,
    pub diameter_ratio: f64,
    /// N, with the pulleys.
    pub equivalent_bends: f64,
    /// Of them, those of the traction sheave.
    pub traction_bends: f64,
    /// S_f.
    pub required_rope_factor: f64,
}

/// Evaluates every groove with its own shape and diameter; the severest counts.
pub(super) fn rope_life(
    survey: &Survey,
    state: State,
    pitch: impl Fn(f64) -> f64,
) -> Result<RopeLife, String> {
    if survey.roping.role != Role::Drive {
        return Err("it belongs to sheaves that drive the ropes".into());
    }
    let pulleys = survey.roping.rope_facts;
    // A double wrap bends the rope over the traction sheave twice; the secondary sheave is one of the pulleys.
    let passes = if survey.double_wrap.is_some() { 2.0 } else { 1.0 };
    let mut worst: Option<RopeLife> = None;
    for groove in 0..survey.grooves.count() {
        let (shape, depth) = shape_of(survey, state, groove);
        let rope_mm = survey.roping.rope_diameter_mm;
        let life = of_groove(groove + 1, &shape, pitch(depth), rope_mm, (&pulleys, passes))?;
        if worst.as_ref().is_none_or(|other| life.required_rope_factor > other.required_rope_factor) {
            worst = Some(life);
        }
    }
    worst.ok_or_else(|| "there is no groove".into())
}

fn of_groove(
    groove: usize,
    shape: &GrooveShape,
    pitch_mm: f64,
    rope_mm: f64,
    (facts, passes): (&RopeFacts, f64),
) -> Result<RopeLife, String> {
    let kind = match shape {
        GrooveShape::Round { .. } => TractionGroove::Round,
        GrooveShape::Undercut { slot_angle_rad, .. } => {
            TractionGroove::Undercut { undercut_rad: *slot_angle_rad }
        }
        GrooveShape::V { angle_rad, .. } => TractionGroove::V { groove_rad: *angle_rad },
        GrooveShape::Measured { .. } => {
            return Err("the standard's table of equivalent bends knows no grooves as measured".into());
        }
    };
    let of_pulleys = match (facts.simple_bends, facts.reversed_bends, facts.pulley_diameter_mm) {
        (Some(0), Some(0), _) => 0.0,
        (Some(simple), Some(reversed), Some(mean_diameter_mm)) => {
            let pulleys = Pulleys {
                simple_bends: f64::from(simple),
                reversed_bends: f64::from(reversed),
                mean_diameter_mm,
            };
            pulley_bends(pitch_mm, pulleys).map_err(|fault| fault.to_string())?
        }
        _ => return Err("the pulleys that bend the ropes were not measured".into()),
    };
    let of_sheave = passes * traction_bends(kind, Edition::En81_50).map_err(|fault| fault.to_string())?;
    let ratio = diameter_ratio(pitch_mm, rope_mm);
    let bends = of_sheave + of_pulleys;
    let required = safety_factor(ratio, bends).map_err(|fault| fault.to_string())?;
    Ok(RopeLife {
        groove,
        diameter_ratio: ratio,
        equivalent_bends: bends,
        traction_bends: of_sheave,
        required_rope_factor: required,
    })
}
