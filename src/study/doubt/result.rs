//! What the doubt hands out: plain values for page and JSON.

use super::inputs::Doubtful;
use crate::chance::{Index, Interval, Share};
use crate::study::CheckResult;
use crate::survey::{StrengthDoubt, Survey, Underside};
use crate::verdict::Word;
use serde::Serialize;

/// The whole answer.
#[derive(Debug, Clone, Serialize)]
pub struct DoubtResult {
    pub check: CheckBeside,
    pub required_factor: f64,
    /// Samples whose factor reaches what is required.
    pub share: Share,
    /// Where the share of endless samples lies, 95 % confidence (Wilson).
    pub sampling: Interval,
    /// Samples with less wall than can be analysed: they count as not reaching it.
    pub samples_without_section: usize,
    pub band: Band,
    /// What the strength would have to be multiplied with, so that 95 % of the samples reach what is required.
    pub strength_times_needed: f64,
    pub strength_middle_mpa: f64,
    pub quantities: Vec<SharedDoubt>,
    pub remedies: Vec<Remedy>,
    /// Which measurement would halve the doubt, in words.
    pub conclusion: String,
    pub surface: SurfaceFacts,
    pub seed: u32,
    /// What the answer is and is not, and the cautions of every check.
    pub cautions: Vec<String>,
}

/// The check at the survey's own values, which stands as it is.
#[derive(Debug, Clone, Serialize)]
pub struct CheckBeside {
    pub word: Word,
    pub least_factor: f64,
    pub place: String,
    pub peak_place: String,
}

impl CheckBeside {
    pub(super) fn of(checked: &CheckResult) -> Self {
        let governing = &checked.governing;
        Self {
            word: checked.verdict.word,
            least_factor: governing.least_factor,
            place: checked.places[governing.place].name.clone(),
            peak_place: governing.least_factor_words.clone(),
        }
    }
}

/// Factors below which 5, 50 and 95 % of the samples lie.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Band {
    #[serde(rename = "factor_below_which_5_percent_lie")]
    pub p05: f64,
    #[serde(rename = "factor_below_which_50_percent_lie")]
    pub p50: f64,
    #[serde(rename = "factor_below_which_95_percent_lie")]
    pub p95: f64,
}

impl Band {
    #[must_use]
    pub fn width(self) -> f64 {
        self.p95 - self.p05
    }
}

/// A doubtful value with its shares of the variance of the factor's logarithm.
#[derive(Debug, Clone, Serialize)]
pub struct SharedDoubt {
    #[serde(flatten)]
    pub doubtful: Doubtful,
    pub share: Index,
}

/// What would be left of the doubt after a measurement.
#[derive(Debug, Clone, Serialize)]
pub struct Remedy {
    /// What is done, as the beginning of a sentence.
    pub measurement: String,
    pub band: Band,
    /// Width from 5 to 95 % over that of today.
    pub width_ratio: f64,
    /// Whether it is a measurement of a stated accuracy; otherwise the value is taken as known exactly.
    pub stated_accuracy: bool,
}

/// How the response surfaces were found and how good they are.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceFacts {
    pub coarse_analyses: usize,
    pub coarse_cases: usize,
    pub surfaces: usize,
    /// Root mean squares, as parts of the factor.
    #[serde(rename = "relative_left_out_rms")]
    pub left_out_rms: f64,
    #[serde(rename = "relative_misfit_rms")]
    pub misfit_rms: f64,
    /// The thinnest wall that is analysed; none in a solid wheel.
    pub least_wall_mm: Option<f64>,
    pub tested: Vec<Tested>,
}

/// A full analysis at drawn values beside the surface.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Tested {
    #[serde(rename = "factor_by_analysis")]
    pub analysis: f64,
    #[serde(rename = "factor_by_surface")]
    pub surface: f64,
}

impl Tested {
    #[must_use]
    pub fn log_difference(self) -> f64 {
        (self.analysis / self.surface).ln()
    }
}

/// What the page must say of itself, and what every check says.
pub(super) fn cautions(survey: &Survey, checked: &CheckResult) -> Vec<String> {
    let mut list = vec![
        "This page does not change the verdict of the check, and no verdict follows from it: no code accepts a probability in place of the factor.".to_owned(),
        "The probability rests on the distributions named above. Where the program states one itself, it is a usual size and no knowledge of this wheel, and the probability is worth no more.".to_owned(),
        "Only what is listed above is in doubt. Everything else of the survey (shapes, radii, web, wrap, which metal it is) is taken as exact, the doubtful values as independent of each other, and the walls of all grooves as thin or thick at once.".to_owned(),
        "It weighs the least factor on ultimate strength at the governing place, for the car at rest with rated load. Wall rule, diameters, traction, pressures and all other checks are not in it.".to_owned(),
    ];
    let without_fit = !checked.thin_spots.iter().flatten().any(|spot| spot.lower_bound_mm.is_some());
    if without_fit && !matches!(survey.walls.underside, Underside::Solid) && survey.doubt.wall_mm.is_none() {
        list.push("The wall is known at too few places for a fit around the rim: how thin it is elsewhere is not in the probability. Three stations at least, better eight, tell it.".to_owned());
    }
    if survey.walls.thin_spot_found && survey.doubt.wall_mm.is_none() {
        list.push("The survey states that the thin spot was found: only the reading error of the wall is in doubt, not whether it was found.".to_owned());
    }
    if survey.doubt.strength_from == StrengthDoubt::HardnessBand {
        list.push("One hardness bounds the strength from below only (also the finding of ASTM STP 455): the middle of its band is no measurement of the strength.".to_owned());
    }
    list.extend(checked.cautions.iter().cloned());
    list
}
