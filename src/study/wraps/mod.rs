//! Arrangements of ropes side by side: single wrap, double wrap, 2:1, each judged as `check` judges it.
//!
//! Owns the row of every arrangement and the sweeps of a double wrap. Lacks any judgement of its own.
//! Units: mm, N, MPa, rad.

mod sweep;
mod wall;

pub use sweep::{Fields, Row, RowWheel, Step, Sweep, Swept, sweep};
pub use wall::WallNeed;

use super::double_wrap::{Checked, Rule, Wheel, WheelUnder, check_any};
use super::{Asked, CheckFault, CheckResult, Outcome, TractionFact};
use crate::survey::Survey;
use crate::verdict::Verdict;
use serde::Serialize;

/// One arrangement, judged.
pub struct Arrangement {
    /// The survey as read.
    pub survey: Survey,
    pub checked: Checked,
    pub row: ArrangementRow,
}

/// What is set side by side.
#[derive(Debug, Clone, Serialize)]
pub struct ArrangementRow {
    pub name: String,
    /// The survey's file.
    pub file: String,
    /// For instance "double wrap, 2:1, 6 ropes".
    pub arrangement: String,
    pub verdict: Verdict,
    pub tension: TensionRow,
    pub traction: Vec<TractionReserve>,
    pub wheels: Vec<WheelRow>,
}

/// Mean tension per rope, car at rest with rated load (N).
#[derive(Debug, Clone, Copy, Serialize)]
pub struct TensionRow {
    pub heavy_n: f64,
    pub light_n: f64,
    /// Lowest and highest between the passes that friction holds.
    pub between_friction_n: Option<[f64; 2]>,
    pub between_equal_ratio_n: Option<f64>,
    /// Settled by creep, car going up and going down.
    pub between_creep_n: Option<[f64; 2]>,
}

/// How much of the tension ratio that friction holds is left.
#[derive(Debug, Clone, Serialize)]
pub struct TractionReserve {
    pub case: String,
    /// Negative where the rule is broken.
    pub relative_reserve: f64,
}

/// One sheave of an arrangement, under the tensions that govern it.
#[derive(Debug, Clone, Serialize)]
pub struct WheelRow {
    pub wheel: Wheel,
    /// What the tension between the passes is taken as; `None` for a single wrap.
    pub between: Option<&'static str>,
    pub shaft_load_n: f64,
    /// Shaft load and factor at the equal ratio, for a double wrap.
    pub equal_ratio_shaft_load_n: Option<f64>,
    pub equal_ratio_least_factor: Option<f64>,
    pub pressure_mpa: Option<f64>,
    pub pressure_limit_mpa: Option<f64>,
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub allowable_mpa: f64,
    pub least_factor: f64,
    pub safety_factor: f64,
    pub peak_words: String,
    pub wall: WallNeed,
}

/// Judges one arrangement.
///
/// # Errors
/// As a check of either of its sheaves.
pub fn arrangement(
    survey: &Survey,
    file: String,
    progress: &dyn Fn(&str),
) -> Result<Arrangement, CheckFault> {
    let asked = Asked { judged_only: true, ..Asked::default() };
    let checked = check_any(survey, &asked, progress)?;
    let mut wheels = vec![wheel_row(Wheel::Drive, &checked.survey, &checked.outcome, progress)?];
    if let Some(double) = &checked.double {
        let of = |index: usize| double.result.combinations[index].name;
        wheels[0].between = Some(of(double.result.governing.drive));
        let equal = double.result.combinations.iter().find(|c| c.tensions.rule == Rule::EqualRatio);
        wheels[0].at_equal_ratio(equal.map(|combination| &combination.drive));
        if let (Some((survey, outcome)), Some(index)) = (&double.secondary, double.result.governing.secondary)
        {
            let row = wheel_row(Wheel::Secondary, survey, outcome, progress)
                .map_err(|fault| CheckFault::Secondary(Box::new(fault)))?;
            let mut row = WheelRow { between: Some(of(index)), ..row };
            row.at_equal_ratio(equal.and_then(|combination| combination.secondary.as_ref()));
            wheels.push(row);
        }
    }
    let row = ArrangementRow {
        name: survey.job.sheave.clone(),
        file,
        arrangement: words(survey),
        verdict: checked.verdict().clone(),
        tension: tension(&checked),
        traction: checked.outcome.result.facts.traction.iter().map(reserve).collect(),
        wheels,
    };
    Ok(Arrangement { survey: survey.clone(), checked, row })
}

impl WheelRow {
    fn at_equal_ratio(&mut self, under: Option<&WheelUnder>) {
        self.equal_ratio_shaft_load_n = under.map(|under| under.pulls_n);
        self.equal_ratio_least_factor = under.map(|under| under.least_factor);
    }
}

fn words(survey: &Survey) -> String {
    let roping = &survey.roping;
    let wrap = match &survey.double_wrap {
        Some(wrap) => {
            let [first, second] = wrap.wrap_rad.map(f64::to_degrees);
            format!("double wrap {first:.0}° + {second:.0}°")
        }
        None => format!("single wrap {:.0}°", roping.wrap_rad.to_degrees()),
    };
    format!("{wrap}, {}:1, {} ropes", roping.ratio, roping.ropes)
}

fn tension(checked: &Checked) -> TensionRow {
    let rated = &checked.outcome.result.loads.cases[0];
    let ropes =
        checked.double.as_ref().map(|double| double.result.tensions.ropes.as_slice()).unwrap_or_default();
    let mean = |get: &dyn Fn(&super::double_wrap::RopeTensions) -> Option<f64>| {
        let values: Option<Vec<f64>> = ropes.iter().map(get).collect();
        values.filter(|list| !list.is_empty()).map(|list| list.iter().sum::<f64>() / list.len() as f64)
    };
    let pair = |low: Option<f64>, high: Option<f64>| low.zip(high).map(|(low, high)| [low, high]);
    TensionRow {
        heavy_n: rated.mean_heavy_n(),
        light_n: rated.mean_light_n(),
        between_friction_n: pair(
            mean(&|rope| Some(rope.bounds.friction.low_n)),
            mean(&|rope| Some(rope.bounds.friction.high_n)),
        ),
        between_equal_ratio_n: mean(&|rope| Some(rope.bounds.equal_ratio_n)),
        between_creep_n: pair(
            mean(&|rope| rope.creep.map(|creep| creep[0].between_n)),
            mean(&|rope| rope.creep.map(|creep| creep[1].between_n)),
        ),
    }
}

fn reserve(fact: &TractionFact) -> TractionReserve {
    let over = if fact.at_most { fact.limit / fact.ratio } else { fact.ratio / fact.limit };
    TractionReserve { case: fact.case.clone(), relative_reserve: over - 1.0 }
}

fn wheel_row(
    wheel: Wheel,
    survey: &Survey,
    outcome: &Outcome,
    progress: &dyn Fn(&str),
) -> Result<WheelRow, CheckFault> {
    progress(&format!("{}: wall that its load needs", wheel.name()));
    let result: &CheckResult = &outcome.result;
    let governing = &result.governing;
    Ok(WheelRow {
        wheel,
        between: None,
        shaft_load_n: result.loads.pulls_n,
        equal_ratio_shaft_load_n: None,
        equal_ratio_least_factor: None,
        pressure_mpa: result.facts.pressure_mpa,
        pressure_limit_mpa: result.facts.pressure_limit_mpa,
        peak_mpa: governing.peak.principal_mpa[0],
        bound_mpa: governing.bound_mpa,
        allowable_mpa: result.allowable_mpa,
        least_factor: governing.least_factor,
        safety_factor: result.safety_factor,
        peak_words: governing.peak_words.clone(),
        wall: WallNeed::of(survey, outcome)?,
    })
}
