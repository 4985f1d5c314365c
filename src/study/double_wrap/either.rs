//! A check of whatever arrangement a survey states: one sheave, or the two of a double wrap.

use super::super::check::{Asked, check};
use super::super::compare::{Comparison, compare};
use super::{DoubleResult, check_double};
use crate::study::{CheckFault, Outcome};
use crate::survey::Survey;
use crate::verdict::{Verdict, Word};

/// What was judged, and under which loads.
pub struct Checked {
    /// The survey as judged: of a double wrap, the drive sheave's under its governing tensions.
    pub survey: Survey,
    pub outcome: Outcome,
    pub double: Option<Double>,
}

/// What a double wrap adds.
pub struct Double {
    pub result: DoubleResult,
    /// The secondary sheave under its governing tensions.
    pub secondary: Option<(Survey, Outcome)>,
}

impl Checked {
    /// The verdict on all that was judged.
    pub fn verdict(&self) -> &Verdict {
        self.double.as_ref().map_or(&self.outcome.result.verdict, |double| &double.result.verdict)
    }

    pub fn word(&self) -> Word {
        self.verdict().word
    }

    /// Sets this outcome beside that of another survey: of double wraps their drive sheaves, with both verdicts.
    pub fn compared(before: &Self, after: &Self) -> Comparison {
        let mut comparison = compare(&before.outcome.result, &after.outcome.result);
        (comparison.verdict.before, comparison.verdict.after) = (before.word(), after.word());
        comparison
    }
}

/// Checks a sheave, or both sheaves of a double wrap.
///
/// # Errors
/// As [`check`] and [`check_double`].
pub fn check_any(survey: &Survey, asked: &Asked, progress: &dyn Fn(&str)) -> Result<Checked, CheckFault> {
    let Some(wrap) = &survey.double_wrap else {
        let outcome = check(survey, asked, progress)?;
        return Ok(Checked { survey: survey.clone(), outcome, double: None });
    };
    let found = check_double(survey, wrap, asked, progress)?;
    let double = Double { result: found.result, secondary: found.secondary };
    Ok(Checked { survey: found.drive_survey, outcome: found.drive, double: Some(double) })
}
