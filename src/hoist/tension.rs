//! From suspended masses to the tension of every rope on both sides of the sheave, case by case.
//!
//! T = g·(suspended mass)/(roping ratio × ropes) + the rope's own weight hanging on that side.
//! g = 9.81 m/s² (the value lift standards use, EN 81-20:2020 clause 4). Forces in N, masses in kg.

use crate::survey::{Given, Masses, Role, Survey};
use serde::Serialize;

pub const GRAVITY_M_S2: f64 = 9.81;

/// What a load case stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CaseKind {
    /// Car at rest with rated load at the lowest landing: the code's factor is stated for this one.
    RatedAtRest,
    /// Car at rest with 125 % of the rated load at the lowest landing.
    StaticTest,
    /// Emergency stop of the loaded car going down.
    Braking,
    /// Empty car at rest at the highest landing.
    EmptyCar,
    /// The engineer's own multiple of the rated case.
    Emergency,
}

impl CaseKind {
    pub fn name(self) -> &'static str {
        match self {
            Self::RatedAtRest => "car at rest with rated load",
            Self::StaticTest => "car at rest with 125 % of the rated load",
            Self::Braking => "emergency stop with rated load",
            Self::EmptyCar => "empty car at rest",
            Self::Emergency => "emergency multiple stated by the engineer",
        }
    }
}

/// Rope tensions of one case, in the order of the roped grooves.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadCase {
    pub kind: CaseKind,
    pub heavy_n: Vec<f64>,
    pub light_n: Vec<f64>,
}

impl LoadCase {
    pub fn mean_heavy_n(&self) -> f64 {
        self.heavy_n.iter().sum::<f64>() / self.heavy_n.len() as f64
    }

    pub fn mean_light_n(&self) -> f64 {
        self.light_n.iter().sum::<f64>() / self.light_n.len() as f64
    }

    /// Ratio of the sums of heavy and light tensions.
    pub fn ratio(&self) -> f64 {
        self.mean_heavy_n() / self.mean_light_n()
    }

    /// The same case with `spread` (highest minus lowest, over the mean) put on one rope while the sum
    /// over the ropes is kept.
    pub fn with_hottest(&self, rope: usize, spread: f64) -> Self {
        let n = self.heavy_n.len() as f64;
        let share =
            |index: usize| if index == rope { 1.0 + spread * (n - 1.0) / n } else { 1.0 - spread / n };
        let scaled = |list: &[f64]| list.iter().enumerate().map(|(i, t)| t * share(i)).collect();
        Self { kind: self.kind, heavy_n: scaled(&self.heavy_n), light_n: scaled(&self.light_n) }
    }
}

/// Masses on the two sides of the sheave for one position and state of the car.
#[derive(Debug, Clone, Copy)]
struct Hanging {
    /// Suspended behind the roping (kg).
    suspended: f64,
    /// One rope's own hanging length times its mass per metre (kg).
    rope: f64,
}

impl Hanging {
    /// Tension per rope at the sheave; `acceleration` upwards makes it heavier.
    fn tension(self, survey: &Survey, acceleration: f64) -> f64 {
        let i = f64::from(survey.roping.ratio);
        let n = survey.roping.ropes as f64;
        // The rope at the sheave moves i times as fast as the car, and so is stopped i times as hard.
        self.suspended * (GRAVITY_M_S2 + acceleration) / (i * n)
            + self.rope * (GRAVITY_M_S2 + i * acceleration)
    }
}

/// Car side and counterweight side with the car at the lowest (or highest) landing.
fn sides(masses: &Masses, load_kg: f64, lowest: bool) -> [Hanging; 2] {
    let travel = masses.travel_m.unwrap_or(0.0);
    let rope = masses.rope_kg_m.unwrap_or(0.0) * travel;
    let compensation = masses.compensation_kg_m.unwrap_or(0.0) * travel;
    // Half of the travelling cable hangs from the car when it is up.
    let cable = masses.cable_kg_m.unwrap_or(0.0) * travel / 2.0;
    let car = masses.car_kg + load_kg;
    if lowest {
        [
            Hanging { suspended: car, rope },
            Hanging { suspended: masses.counterweight_kg + compensation, rope: 0.0 },
        ]
    } else {
        [
            Hanging { suspended: car + compensation + cable, rope: 0.0 },
            Hanging { suspended: masses.counterweight_kg, rope },
        ]
    }
}

/// Mean tension per rope (car side, counterweight side) for a load in the car at a landing, with the
/// car accelerated upwards by `acceleration` m/s² (a descending car that brakes).
pub fn side_tensions_n(
    survey: &Survey,
    masses: &Masses,
    load_kg: f64,
    lowest: bool,
    acceleration: f64,
) -> [f64; 2] {
    let [car, counterweight] = sides(masses, load_kg, lowest);
    [car.tension(survey, acceleration), counterweight.tension(survey, -acceleration)]
}

/// All load cases that the survey allows; the first is the car at rest with rated load.
///
/// On a deflector or secondary sheave both sides carry the heavier side's tension.
pub fn load_cases(survey: &Survey) -> Vec<LoadCase> {
    let n = survey.roping.ropes;
    let pulley = survey.roping.role != Role::Drive;
    let even = |kind: CaseKind, pair: [f64; 2]| {
        let (heavy, light) = (pair[0].max(pair[1]), pair[0].min(pair[1]));
        let light = if pulley { heavy } else { light };
        LoadCase { kind, heavy_n: vec![heavy; n], light_n: vec![light; n] }
    };
    let masses = survey.load.masses.as_ref();
    let at_rest = |m: &Masses, load: f64, lowest: bool| side_tensions_n(survey, m, load, lowest, 0.0);
    let mut cases = Vec::new();
    let rated = match &survey.load.given {
        Given::Masses => masses.map(|m| even(CaseKind::RatedAtRest, at_rest(m, m.rated_kg, true))),
        Given::Tensions { heavy_n, light_n } => Some(even(CaseKind::RatedAtRest, [*heavy_n, *light_n])),
        Given::PerRope { heavy_n, light_n } => {
            let ratio = masses.map_or(1.0, |m| {
                let [car, counterweight] = at_rest(m, m.rated_kg, true);
                car.max(counterweight) / car.min(counterweight)
            });
            let light = match light_n {
                _ if pulley => heavy_n.clone(),
                Some(light) => light.clone(),
                None => heavy_n.iter().map(|t| t / ratio).collect(),
            };
            Some(LoadCase { kind: CaseKind::RatedAtRest, heavy_n: heavy_n.clone(), light_n: light })
        }
    };
    cases.extend(rated);
    if let Some(m) = masses {
        cases.push(even(CaseKind::StaticTest, at_rest(m, 1.25 * m.rated_kg, true)));
        if let Some(a) = survey.roping.retardation_m_s2 {
            cases.push(even(CaseKind::Braking, side_tensions_n(survey, m, m.rated_kg, true, a)));
        }
        cases.push(even(CaseKind::EmptyCar, at_rest(m, 0.0, false)));
    }
    if let (Some(multiple), Some(rated)) = (survey.load.emergency_multiple, cases.first().cloned()) {
        let scaled = |list: &[f64]| list.iter().map(|t| t * multiple).collect();
        cases.push(LoadCase {
            kind: CaseKind::Emergency,
            heavy_n: scaled(&rated.heavy_n),
            light_n: scaled(&rated.light_n),
        });
    }
    cases
}
