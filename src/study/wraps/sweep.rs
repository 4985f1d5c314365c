//! Sweeps of a double wrap over friction, mismatch of the passes' diameters, or the wrap of a pass.
//!
//! One value is varied, all others stay as surveyed. Tensions come from closed forms; stress from the governing
//! sections' answers to their load patterns, so no mesh changes: a mismatch moves the tension between the passes
//! and not the section. Units: N, mm, MPa, rad.

use super::super::analysis::{Analysis, Grid, Series, analyse};
use super::super::double_wrap::{Rule, Ruled, Tensions, rules_without_history};
use super::super::ready::{Answers, Ready};
use super::super::{CheckFault, Outcome};
use super::Arrangement;
use crate::elastic::Connectivity;
use crate::hoist::double_wrap::{Pass, drive_pull_n, secondary_pull_n};
use crate::hoist::{LoadCase, load_cases};
use crate::section::State;
use crate::survey::{Cut, DoubleWrap, Survey};
use serde::Serialize;

/// What is varied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Swept {
    /// Friction factor of both passes.
    Friction,
    /// Pitch diameter of the second pass less that of the first, every rope alike.
    Mismatch,
    FirstWrap,
    SecondWrap,
}

impl Swept {
    pub const ALL: [Self; 4] = [Self::Friction, Self::Mismatch, Self::FirstWrap, Self::SecondWrap];

    pub fn name(self) -> &'static str {
        match self {
            Self::Friction => "friction",
            Self::Mismatch => "mismatch",
            Self::FirstWrap => "first_wrap",
            Self::SecondWrap => "second_wrap",
        }
    }
}

/// A sweep that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    pub swept: Swept,
    /// Values in mm, rad or plain.
    pub values: Vec<f64>,
}

/// One value of a sweep: the survey it makes, and its row.
pub struct Step {
    pub survey: Survey,
    /// The drive sheave's case under the rule that governs it, for fields.
    pub governing_case: LoadCase,
    pub row: Row,
}

/// Inputs and outcomes of one value; rope 1 stands for all where they are alike, the mean where not.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
    /// The survey's file.
    pub arrangement: String,
    pub swept: Swept,
    #[serde(rename = "first_friction_factor")]
    pub first_friction: f64,
    #[serde(rename = "second_friction_factor")]
    pub second_friction: f64,
    pub first_wrap_rad: f64,
    pub second_wrap_rad: f64,
    #[serde(rename = "first_pitch_diameter_mm")]
    pub first_diameter_mm: f64,
    #[serde(rename = "second_pitch_diameter_mm")]
    pub second_diameter_mm: f64,
    pub rope_stiffness_n: Option<f64>,
    pub car_n: f64,
    pub counterweight_n: f64,
    /// Pass that slips in a long run up, and in one down, counted from 1.
    pub slipping_pass_up: Option<usize>,
    pub slipping_pass_down: Option<usize>,
    /// Friction left over both passes: e^(Σfα) over the tension ratio, less one.
    pub relative_slip_reserve: f64,
    pub rules: Vec<RowWheel>,
}

/// Both wheels under one rule.
#[derive(Debug, Clone, Serialize)]
pub struct RowWheel {
    pub rule: Rule,
    /// Mean over the ropes.
    pub between_n: f64,
    pub drive_pull_n: f64,
    pub secondary_pull_n: Option<f64>,
    pub drive_peak_mpa: f64,
    pub drive_least_factor: f64,
    pub secondary_peak_mpa: Option<f64>,
    pub secondary_least_factor: Option<f64>,
}

/// Runs a sweep of an arrangement; empty for a single wrap.
///
/// # Errors
/// When the ropes slide at a value, or an analysis fails.
pub fn sweep(
    arrangement: &Arrangement,
    sweep: &Sweep,
    progress: &dyn Fn(&str),
) -> Result<Vec<Step>, CheckFault> {
    let (Some(wrap), Some(double)) = (&arrangement.survey.double_wrap, &arrangement.checked.double) else {
        return Ok(Vec::new());
    };
    let checked = &arrangement.checked;
    let drive = Answering::new(&checked.survey, &checked.outcome)?;
    let secondary = match &double.secondary {
        Some((survey, outcome)) => Some(Answering::new(survey, outcome)?),
        None => None,
    };
    let governing = double.result.combinations[double.result.governing.drive].tensions.rule;
    let mut steps = Vec::new();
    for (index, value) in sweep.values.iter().enumerate() {
        progress(&format!("sweep of {}, value {} of {}", sweep.swept.name(), index + 1, sweep.values.len()));
        let (survey, tensions) = at(&arrangement.survey, wrap, sweep.swept, *value)?;
        let mut rules = Vec::new();
        let mut fields = None;
        for ruled in rules_without_history(&tensions) {
            let case = drive.case(&ruled.drive(&survey))?;
            rules.push(row_wheel(&survey, wrap, &ruled, &case, (&drive, secondary.as_ref()))?);
            if ruled.rule == governing || fields.is_none() {
                fields = Some(case);
            }
        }
        let Some(governing_case) = fields else { return Err(CheckFault::NoTensions) };
        let row = row(&arrangement.row.file, sweep.swept, wrap, &tensions, rules);
        steps.push(Step { survey, governing_case, row });
    }
    Ok(steps)
}

/// The survey and the tensions at one value.
fn at(
    survey: &Survey,
    wrap: &DoubleWrap,
    swept: Swept,
    value: f64,
) -> Result<(Survey, Tensions), CheckFault> {
    let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
    let mut wrap = wrap.clone();
    let mut mismatch_mm = None;
    match swept {
        Swept::Friction => wrap.friction = Some(value),
        Swept::Mismatch => mismatch_mm = Some(value),
        Swept::FirstWrap => wrap.wrap_rad[0] = value,
        Swept::SecondWrap => wrap.wrap_rad[1] = value,
    }
    let mut changed = survey.clone();
    let tensions = Tensions::at(&changed, &wrap, state, mismatch_mm)?;
    changed.double_wrap = Some(wrap);
    Ok((changed, tensions))
}

/// A judged sheave that answers other tensions.
struct Answering<'a> {
    outcome: &'a Outcome,
    answers: Answers<'a>,
    /// The rope that is the hottest, from 0.
    hottest: Option<usize>,
}

impl<'a> Answering<'a> {
    fn new(survey: &'a Survey, outcome: &'a Outcome) -> Result<Self, CheckFault> {
        let answers = Ready::new(survey, outcome)?.answers()?;
        let loads = &outcome.result.loads;
        let roped = survey.grooves.roped.iter().enumerate().filter(|(_, roped)| **roped);
        let groove = loads
            .hottest_groove
            .and_then(|groove| roped.map(|(i, _)| i + 1).position(|number| number == groove));
        Ok(Self { outcome, answers, hottest: groove.map(|groove| loads.judged.rope_in(groove)) })
    }

    /// The rated case of a survey with the hottest rope where the check put it.
    fn case(&self, survey: &Survey) -> Result<LoadCase, CheckFault> {
        let rated = load_cases(survey).into_iter().next().ok_or(CheckFault::NoTensions)?;
        Ok(match self.hottest {
            Some(rope) => rated.with_hottest(rope, self.outcome.result.loads.tension_spread),
            None => rated,
        })
    }
}

fn row_wheel(
    survey: &Survey,
    wrap: &DoubleWrap,
    ruled: &Ruled,
    case: &LoadCase,
    (drive, secondary): (&Answering<'_>, Option<&Answering<'_>>),
) -> Result<RowWheel, CheckFault> {
    let on_drive = drive.answers.under(case)?;
    let on_secondary = match (secondary, &wrap.secondary) {
        (Some(answering), Some(other)) => {
            let case = answering.case(&ruled.secondary(survey, other))?;
            Some(answering.answers.under(&case)?)
        }
        _ => None,
    };
    let even = load_cases(&ruled.drive(survey)).into_iter().next().ok_or(CheckFault::NoTensions)?;
    let pull = drive_pull_n(&even.wraps(survey));
    let ropes = &ruled.ropes_n;
    let of_secondary = |alpha: f64| ropes.iter().map(|rope| secondary_pull_n(rope[1], alpha)).sum();
    Ok(RowWheel {
        rule: ruled.rule,
        between_n: ropes.iter().map(|rope| rope[1]).sum::<f64>() / ropes.len() as f64,
        drive_pull_n: pull[0].hypot(pull[1]),
        secondary_pull_n: wrap.secondary_wrap_rad.map(of_secondary),
        drive_peak_mpa: on_drive.tension.principal_mpa[0],
        drive_least_factor: on_drive.least_factor,
        secondary_peak_mpa: on_secondary.as_ref().map(|found| found.tension.principal_mpa[0]),
        secondary_least_factor: on_secondary.as_ref().map(|found| found.least_factor),
    })
}

fn row(name: &str, swept: Swept, wrap: &DoubleWrap, tensions: &Tensions, rules: Vec<RowWheel>) -> Row {
    let ropes = &tensions.ropes;
    let mean = |get: &dyn Fn(usize) -> f64| (0..ropes.len()).map(get).sum::<f64>() / ropes.len() as f64;
    let slips = |run: usize| {
        let all = ropes.iter().filter_map(|rope| rope.creep?[run].slipping.map(Pass::number));
        all.min()
    };
    let reserve = ropes.iter().map(|rope| {
        let grip: f64 = (0..2).map(|pass| rope.friction[pass] * rope.wrap_rad[pass]).sum();
        let [a, b] = rope.outer_n;
        grip.exp() / (a.max(b) / a.min(b)) - 1.0
    });
    Row {
        arrangement: name.to_owned(),
        swept,
        first_friction: mean(&|i| ropes[i].friction[0]),
        second_friction: mean(&|i| ropes[i].friction[1]),
        first_wrap_rad: ropes[0].wrap_rad[0],
        second_wrap_rad: ropes[0].wrap_rad[1],
        first_diameter_mm: 2.0 * mean(&|i| ropes[i].radii_mm[0]),
        second_diameter_mm: 2.0 * mean(&|i| ropes[i].radii_mm[1]),
        rope_stiffness_n: wrap.stiffness_n.as_ref().map(|list| list.iter().sum::<f64>() / list.len() as f64),
        car_n: mean(&|i| ropes[i].outer_n[0]),
        counterweight_n: mean(&|i| ropes[i].outer_n[1]),
        slipping_pass_up: slips(0),
        slipping_pass_down: slips(1),
        relative_slip_reserve: reserve.fold(f64::INFINITY, f64::min),
        rules,
    }
}

/// The governing section of an arrangement's drive sheave, solved again for the steps of its sweeps.
pub struct Fields<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    connectivity: Connectivity,
}

impl<'a> Fields<'a> {
    /// # Errors
    /// When the mesh is too large to be ordered again.
    pub fn new(arrangement: &'a Arrangement) -> Result<Self, CheckFault> {
        let outcome = &arrangement.checked.outcome;
        let connectivity = Connectivity::new(&outcome.analysis.solution.mesh)?;
        Ok(Self { survey: &arrangement.checked.survey, outcome, connectivity })
    }

    /// The fields of one step, under the rule that governs the arrangement.
    ///
    /// # Errors
    /// As an analysis of the section.
    pub fn of(&self, step: &Step) -> Result<Analysis, CheckFault> {
        let Outcome { section, analysis, result, .. } = self.outcome;
        let mesh = analysis.solution.mesh.clone();
        let grid = Grid::Given { mesh, connectivity: &self.connectivity };
        let series = Series::UpTo(analysis.solution.last_harmonic());
        let case = std::slice::from_ref(&step.governing_case);
        analyse(self.survey, section, &result.metal, case, grid, series)
    }
}
