//! What a cut changes besides the stress: diameters, speed, traction, pressure, rope life, hardness.
//!
//! Every quantity is computed for the grooves as found and, when a cut is asked, as cut; one row of the table holds
//! both beside the limit. Judges rows one by one; what a failing row decides stands in `findings`.

mod hardness;
mod rope_life;
mod rows;
mod state;

pub(crate) use hardness::at_depth;
pub use rope_life::RopeLife;
pub use rows::Consequence;
pub use state::StateFacts;

use crate::hoist::LoadCase;
use crate::hoist::rules::{rope_safety, speed_after_cut_m_s};
use crate::section::State;
use crate::survey::{Role, Survey};
use serde::Serialize;
use state::state_facts;

/// The table of consequences, and the numbers behind it.
#[derive(Debug, Clone, Serialize)]
pub struct Consequences {
    pub now: StateFacts,
    /// `None` when no cut is asked.
    pub after: Option<StateFacts>,
    pub car_speed: Option<SpeedChange>,
    /// Safety factor that the ropes have; `None` without their breaking force.
    pub rope_factor: Option<f64>,
    pub rows: Vec<Consequence>,
}

/// Car speed after a cut at the same speed of the machine, in proportion to the mean pitch diameter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SpeedChange {
    pub now_m_s: f64,
    pub after_m_s: f64,
    pub change_m_s: f64,
    pub relative_change: f64,
}

/// Computes both states; `rated` is the car at rest with rated load, `judged` the same with unequal tensions.
pub(crate) fn consequences(
    survey: &Survey,
    state: State,
    rated: &LoadCase,
    judged: &LoadCase,
) -> Consequences {
    let now = state_facts(survey, State::Now, judged);
    let after = (state == State::Cut).then(|| state_facts(survey, State::Cut, judged));
    let car_speed = survey.roping.car_speed_m_s.zip(after.as_ref()).map(|(speed, after)| {
        let new = speed_after_cut_m_s(speed, now.mean_pitch_diameter_mm, after.mean_pitch_diameter_mm);
        SpeedChange {
            now_m_s: speed,
            after_m_s: new,
            change_m_s: new - speed,
            relative_change: new / speed - 1.0,
        }
    });
    // On a deflector nothing tells how many of the ropes' bends lie elsewhere.
    let breaking = survey.roping.rope_facts.breaking_force_n.filter(|_| survey.roping.role == Role::Drive);
    let rope_factor = breaking.map(|force| rope_safety(survey.roping.ropes, force, rated.heavy_sum_n()));
    let rows = rows::rows(survey, &now, after.as_ref(), car_speed, rope_factor);
    Consequences { now, after, car_speed, rope_factor, rows }
}

impl Consequences {
    /// The state that is judged: as cut where a cut is asked.
    pub(crate) fn judged(&self) -> &StateFacts {
        self.after.as_ref().unwrap_or(&self.now)
    }
}
