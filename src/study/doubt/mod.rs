//! The doubt of a check's factor: doubtful values drawn together, many times over, and how often what is required
//! is still reached.
//!
//! The factor of one sample comes from response surfaces that are fitted to coarse analyses of the governing place,
//! one surface for every groove that may carry the hottest rope, and checked against full analyses at values drawn
//! at random. What they miss, and the error bar of the stress, are drawn too. Stress is linear in the tensions and
//! the factor in the strength: only walls, depth, ratio and spread of the tensions need a surface.
//!
//! The verdict of the check is shown beside the answer and never changed by it. Deviations count from the survey's
//! own values; mm, and parts of one.

mod advice;
mod fault;
mod inputs;
mod proof;
mod response;
mod result;
mod sample;
mod wheel;

pub use fault::DoubtFault;
pub use inputs::{Doubtful, Quantity};
pub use proof::{DoubtProof, prove_doubt};
pub use result::{Band, CheckBeside, DoubtResult, Remedy, SharedDoubt, SurfaceFacts, Tested};

use super::places::places;
use super::{Asked, check};
use crate::chance::indices;
use crate::hoist::load_cases;
use crate::survey::Survey;
use inputs::doubtful;
use response::{Misfit, Response};
use sample::{Samples, purposes};
use wheel::Wheel;

/// What is asked besides the survey.
#[derive(Debug, Clone, Copy)]
pub struct DoubtAsked {
    pub samples: usize,
    pub seed: u32,
    /// Full analyses that the response surface is checked against.
    pub full_analyses: usize,
}

/// Samples for the shares of variance: their own error falls with the root of it.
const SHARE_SAMPLES: usize = 50_000;
/// Largest root mean square that the surfaces may be off before nothing is answered.
const LARGEST_MISFIT: f64 = 0.1;

/// Forms the doubt of a survey's factor. `progress` is told in plain words what is being done.
///
/// # Errors
/// When the check itself gives no answer, when nothing is in doubt, or when the response surfaces do not follow the
/// full analyses.
pub fn doubt(survey: &Survey, asked: DoubtAsked, progress: &dyn Fn(&str)) -> Result<DoubtResult, DoubtFault> {
    super::CheckFault::unless_single(survey)?;
    // Nothing of the advice that belongs to the verdict is needed here.
    let outcome = check(survey, &Asked { judged_only: true, ..Asked::default() }, progress)?;
    let checked = &outcome.result;
    let around = places(survey)?;
    let rated = load_cases(survey).into_iter().next().ok_or(super::CheckFault::NoTensions)?;
    let place = around.places[checked.governing.place].clone();
    let mut list = doubtful(survey, checked)?;
    if !list.iter().any(|one| one.spread.varies() && !one.quantity.is_own()) {
        return Err(DoubtFault::NothingToVary);
    }
    let wheel = Wheel::new(survey, checked, &outcome.section, place, rated);
    progress("response surfaces: coarse analyses at designed values");
    let response = Response::fit(&wheel, &list)?;
    let calibrated = response.calibrated(&wheel, checked.governing.least_factor)?;
    progress(&format!("response surfaces: {} full analyses beside them", asked.full_analyses));
    let tested = proof::tested(&wheel, &calibrated, &list, asked)?;
    let misfit = Misfit::of(&tested, response.left_out());
    if misfit.rms > LARGEST_MISFIT || !misfit.rms.is_finite() {
        return Err(DoubtFault::Misfit { rms: misfit.rms });
    }
    let own = &mut list[Quantity::Surface as usize];
    own.spread = misfit.spread();
    own.taken_as = format!(
        "± {:.1} % (Student's t, {} full analyses)",
        100.0 * inputs::half_width(own.spread),
        tested.len()
    );

    progress("samples");
    let samples = Samples::draw(&list, asked.samples, asked.seed);
    let factors = samples.factors(&calibrated, &wheel);
    let required = checked.safety_factor;
    let share = factors.share(required);
    let spreads: Vec<_> = list.iter().map(|one| one.spread).collect();
    let of_variance = indices(
        &spreads,
        &|row: &[f64]| calibrated.log_factor(&wheel, row),
        SHARE_SAMPLES,
        &mut crate::chance::stream(asked.seed, purposes::SHARES),
    );
    let advice = advice::Advice::new(&list, &samples, &calibrated, &wheel, survey, &around.thin_spots);
    let band = factors.band();
    let remedies = advice.remedies(band);
    Ok(DoubtResult {
        check: CheckBeside::of(checked),
        required_factor: required,
        share,
        sampling: share.wilson(0.95),
        samples_without_section: factors.without_section,
        band,
        strength_times_needed: required / band.p05,
        strength_middle_mpa: wheel.strength_middle_mpa,
        conclusion: advice.conclusion(band, &remedies),
        remedies,
        surface: SurfaceFacts {
            coarse_analyses: response.analyses,
            coarse_cases: response.cases,
            surfaces: response.surfaces(),
            left_out_rms: response.left_out(),
            misfit_rms: misfit.rms,
            least_wall_mm: response.least_wall_mm(&wheel),
            tested,
        },
        quantities: list
            .into_iter()
            .zip(of_variance)
            .filter(|(one, _)| one.spread.varies())
            .map(|(doubtful, share)| SharedDoubt { doubtful, share })
            .collect(),
        seed: asked.seed,
        cautions: result::cautions(survey, checked),
    })
}
