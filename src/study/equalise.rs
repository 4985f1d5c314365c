//! What equal rope tensions would bring: the judged case against the same sum over the ropes, shared equally.

use super::hottest::roped_groove;
use super::result::{CaseResult, Governing};
use crate::hoist::LoadCase;
use crate::survey::{Given, Survey};
use serde::Serialize;

/// Tensions closer than this are equal, as a share of their mean.
const EQUAL: f64 = 1e-9;

/// The judged case beside the one with equal tensions.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Equalised {
    /// Whether the unequal tensions were measured; else they follow from the assumed spread.
    pub measured: bool,
    /// Groove of the hottest rope (counted from 1): its own where measured, else the one where it is worst.
    pub hottest_groove: usize,
    pub hottest_n: f64,
    /// What equalising makes of every rope.
    pub mean_n: f64,
    pub peak_mpa: f64,
    pub least_factor: f64,
    /// With equal tensions: on the coarse mesh, corrected as the other load cases are.
    pub equal_peak_mpa: f64,
    pub equal_least_factor: f64,
    pub equal_peak_words: String,
    /// Change of the peak by equalising.
    pub relative_change: f64,
}

/// The judged case with the sum over its ropes shared equally; `None` when it is so already.
pub(super) fn equal_case(judged: &LoadCase) -> Option<LoadCase> {
    let equal = judged.equalised();
    let unequal = |list: &[f64], means: &[f64]| {
        list.iter().zip(means).any(|(tension, mean)| (tension - mean).abs() > EQUAL * mean)
    };
    let differs = unequal(&judged.heavy_n, &equal.heavy_n) || unequal(&judged.light_n, &equal.light_n);
    differs.then_some(equal)
}

/// The comparison, from the equal case's result.
pub(super) fn comparison(
    survey: &Survey,
    judged: &LoadCase,
    governing: &Governing,
    equal: &CaseResult,
) -> Equalised {
    // Of a double wrap the passes on the heavy side: the others carry what friction leaves of it.
    let outer = |groove: usize| judged.passes.get(groove).is_none_or(|pass| pass.at_heavy_side);
    let ropes = judged.heavy_n.iter().copied().enumerate().filter(|(groove, _)| outer(*groove));
    let (hottest, hottest_n) =
        ropes.fold((0, 0.0), |found, rope| if rope.1 > found.1 { rope } else { found });
    let peak_mpa = governing.peak.principal_mpa[0];
    Equalised {
        measured: matches!(survey.load.given, Given::PerRope { computed: false, .. }),
        hottest_groove: roped_groove(survey, hottest),
        hottest_n,
        mean_n: judged.mean_heavy_n(),
        peak_mpa,
        least_factor: governing.least_factor,
        equal_peak_mpa: equal.peak_mpa,
        equal_least_factor: equal.least_factor,
        equal_peak_words: equal.peak_words.clone(),
        relative_change: equal.peak_mpa / peak_mpa - 1.0,
    }
}
