//! A double wrap: drive and secondary sheave judged under every tension between the passes, and one word for both.
//!
//! The two outermost tensions that friction holds are bounds: a sheave that holds under them holds. One that fails
//! under them alone is left undecided, because nothing says that they are ever reached, and so is one that fails at
//! the end of a grip whose friction was not measured. One that fails under the equal ratio, the settled creep, the
//! measured tensions or the tightest moment of the travel fails.

mod combine;
mod either;
mod rules;
mod tensions;

pub use combine::{Governing, Wheel};
pub use either::{Checked, Double, check_any};
pub(in crate::study) use rules::all as rules_without_history;
pub use rules::{Rule, Ruled};
pub use tensions::{RopeTensions, Tensions};

use super::check::{Asked, check};
use super::{CheckFault, CheckResult, Outcome};
use crate::hoist::double_wrap::secondary_pull_n;
use crate::section::State;
use crate::survey::{Cut, DoubleWrap, Survey};
use crate::verdict::{Verdict, Word};
use rayon::prelude::*;
use serde::Serialize;

/// Both wheels under one tension between the passes.
#[derive(Debug, Clone, Serialize)]
pub struct Combination {
    #[serde(flatten)]
    pub tensions: Ruled,
    pub name: &'static str,
    pub drive: WheelUnder,
    /// `None` where the secondary sheave has no survey.
    pub secondary: Option<WheelUnder>,
    /// Pull on the secondary sheave's shaft by 2·Ti·sin(α/2), where its wrap is known (N).
    pub secondary_pull_n: Option<f64>,
    /// T1 + 2·Ti + T2 over all ropes: the drive sheave's pull if both passes were half turns (N).
    pub plain_sum_n: f64,
}

/// One wheel under one combination.
#[derive(Debug, Clone, Serialize)]
pub struct WheelUnder {
    pub word: Word,
    pub deciding: Vec<&'static str>,
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub allowable_mpa: f64,
    pub least_factor: f64,
    pub safety_factor: f64,
    pub peak_words: String,
    pub pressure_mpa: Option<f64>,
    /// Vector sum of the rope pulls, and the shaft's reaction of the elastic solution (N).
    pub pulls_n: f64,
    pub reaction_n: f64,
    /// Moment about the shaft (N·mm).
    pub moment_nmm: f64,
    /// Gap between the tractions as applied and the rope pulls, relative.
    pub relative_resultant_gap: f64,
    #[serde(skip)]
    pub reason: String,
    #[serde(skip)]
    pub settle: Vec<String>,
}

impl WheelUnder {
    fn of(result: &CheckResult) -> Self {
        let governing = &result.governing;
        Self {
            word: result.verdict.word,
            deciding: result.verdict.deciding.clone(),
            peak_mpa: governing.peak.principal_mpa[0],
            bound_mpa: governing.bound_mpa,
            allowable_mpa: result.allowable_mpa,
            least_factor: governing.least_factor,
            safety_factor: result.safety_factor,
            peak_words: governing.peak_words.clone(),
            pressure_mpa: result.facts.pressure_mpa,
            pulls_n: result.loads.pulls_n,
            reaction_n: result.loads.reaction_n,
            moment_nmm: result.loads.moment_nmm,
            relative_resultant_gap: result.convergence.resultant_gap,
            reason: result.verdict.reason.clone(),
            settle: result.verdict.settle.clone(),
        }
    }

    /// Factor over the factor asked for.
    pub fn reserve(&self) -> f64 {
        self.least_factor / self.safety_factor
    }
}

/// The answer for both wheels.
#[derive(Debug, Clone, Serialize)]
pub struct DoubleResult {
    pub verdict: Verdict,
    pub tensions: Tensions,
    /// The same for the grooves as found, where a cut is judged; nothing is decided by it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_found: Option<Tensions>,
    pub combinations: Vec<Combination>,
    pub governing: Governing,
}

/// Both wheels, each in full under the combination that governs it.
pub struct DoubleOutcome {
    pub result: DoubleResult,
    pub drive: Outcome,
    /// The drive sheave's survey under its governing combination.
    pub drive_survey: Survey,
    pub secondary: Option<(Survey, Outcome)>,
}

/// Judges both wheels of a double wrap. `asked` holds for the governing combinations.
///
/// # Errors
/// As a check of either wheel; and when the ropes slide, or lengths and stiffness make no history.
pub fn check_double(
    survey: &Survey,
    wrap: &DoubleWrap,
    asked: &Asked,
    progress: &dyn Fn(&str),
) -> Result<DoubleOutcome, CheckFault> {
    let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
    progress("tensions between the passes");
    let tensions = Tensions::of(survey, wrap, state)?;
    if tensions.ropes.is_empty() {
        return Err(CheckFault::NoTensions);
    }
    // Worn passes may pull the ropes beyond what the model can follow; that is no fault of the cut.
    let as_found = (state == State::Cut).then(|| Tensions::of(survey, wrap, State::Now).ok()).flatten();
    let ruled = rules::all(&tensions);
    progress(&format!("both sheaves under {} tensions between the passes", ruled.len()));
    let judged: Vec<_> = ruled.into_par_iter().map(|ruled| combination(survey, wrap, ruled)).collect();
    let combinations = judged.into_iter().collect::<Result<Vec<_>, CheckFault>>()?;
    let governing = combine::governing(&combinations);
    let drive_ruled = &combinations[governing.drive].tensions;
    let drive_survey = drive_ruled.drive(survey);
    let name = drive_ruled.rule.name();
    let drive = check(&drive_survey, asked, &|doing| progress(&format!("drive sheave, {name}: {doing}")))?;
    let secondary = match (governing.secondary, &wrap.secondary) {
        (Some(index), Some(other)) => {
            let other = combinations[index].tensions.secondary(survey, other);
            let asked = Asked { flaw_at: Vec::new(), ..asked.clone() };
            let told = |doing: &str| progress(&format!("secondary sheave: {doing}"));
            let outcome = check(&other, &asked, &told).map_err(secondary_fault)?;
            Some((other, outcome))
        }
        _ => None,
    };
    let verdict = combine::verdict(&combinations, governing);
    let result = DoubleResult { verdict, tensions, as_found, combinations, governing };
    Ok(DoubleOutcome { result, drive, drive_survey, secondary })
}

fn combination(survey: &Survey, wrap: &DoubleWrap, ruled: Ruled) -> Result<Combination, CheckFault> {
    let asked = Asked { judged_only: true, ..Asked::default() };
    let name = ruled.rule.name();
    let drive = check(&ruled.drive(survey), &asked, &|_| ())?;
    let secondary = match &wrap.secondary {
        Some(other) => {
            let other = ruled.secondary(survey, other);
            Some(check(&other, &asked, &|_| ()).map_err(secondary_fault)?)
        }
        None => None,
    };
    let pull = |alpha: f64| ruled.ropes_n.iter().map(|rope| secondary_pull_n(rope[1], alpha)).sum();
    Ok(Combination {
        name,
        drive: WheelUnder::of(&drive.result),
        secondary: secondary.as_ref().map(|outcome| WheelUnder::of(&outcome.result)),
        secondary_pull_n: wrap.secondary_wrap_rad.map(pull),
        plain_sum_n: ruled.ropes_n.iter().map(|rope| rope[0] + 2.0 * rope[1] + rope[2]).sum(),
        tensions: ruled,
    })
}

fn secondary_fault(fault: CheckFault) -> CheckFault {
    CheckFault::Secondary(Box::new(fault))
}
