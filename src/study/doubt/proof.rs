//! The response surfaces put to the test: real analyses at values drawn at random.

use super::inputs::{Doubtful, Quantity, doubtful};
use super::response::{Calibrated, Response};
use super::result::Tested;
use super::sample::{Samples, purposes};
use super::wheel::Wheel;
use super::{DoubtAsked, DoubtFault};
use crate::chance::{Share, stream};
use crate::hoist::load_cases;
use crate::study::places::places;
use crate::study::{Asked, CheckFault, check};
use crate::survey::Survey;
use rayon::prelude::*;

/// Draws that lie beyond what can be analysed are replaced so many times at the most.
const REDRAWN: usize = 50;

/// Full analyses at drawn values, each beside the surface's answer there.
pub(super) fn tested(
    wheel: &Wheel<'_>,
    surfaces: &Calibrated<'_>,
    list: &[Doubtful],
    asked: DoubtAsked,
) -> Result<Vec<Tested>, DoubtFault> {
    let mut stream = stream(asked.seed, purposes::FULL);
    let mut draw = || -> Vec<f64> {
        let row =
            list.iter().map(|one| if one.quantity.is_own() { 0.0 } else { one.spread.draw(&mut stream) });
        row.collect()
    };
    let fits = |row: &Vec<f64>| !surfaces.is_below(wheel, row);
    let rows: Vec<Vec<f64>> = (0..asked.full_analyses)
        .map(|_| (0..REDRAWN).map(|_| draw()).find(fits).ok_or(DoubtFault::NoRange))
        .collect::<Result<_, _>>()?;
    let one = |row: &Vec<f64>| -> Result<Tested, DoubtFault> {
        let departure = wheel.departure(row);
        let (survey, section) =
            wheel.built(departure.wall_mm, departure.cut_mm).ok_or(DoubtFault::NoRange)?;
        let factor = wheel.full(&survey, &section, &wheel.case(&departure))?;
        Ok(Tested {
            analysis: factor * wheel.log_strength(row).exp(),
            surface: surfaces.log_factor(wheel, row).exp(),
        })
    };
    rows.par_iter().map(one).collect()
}

/// The surfaces beside brute force: every sample solved on the coarse mesh itself.
#[derive(Debug, Clone)]
pub struct DoubtProof {
    /// Per threshold: the factor asked for, the share of many samples by the surfaces, and of fewer by brute force.
    pub shares: Vec<(f64, Share, Share)>,
    /// Root mean square and largest relative difference between the two at the same values.
    pub rms: f64,
    pub largest: f64,
    pub left_out: f64,
}

/// Compares the surfaces of a survey with brute force on the same coarse mesh, at thresholds that `samples` draws
/// reach with the given shares.
///
/// # Errors
/// As [`doubt`](super::doubt()).
pub fn prove_doubt(
    survey: &Survey,
    samples: usize,
    brute: usize,
    reached: &[f64],
) -> Result<DoubtProof, DoubtFault> {
    const SEED: u32 = 1;
    let outcome = check(survey, &Asked { judged_only: true, ..Asked::default() }, &|_| {})?;
    let checked = &outcome.result;
    let around = places(survey)?;
    let rated = load_cases(survey).into_iter().next().ok_or(CheckFault::NoTensions)?;
    let place = around.places[checked.governing.place].clone();
    let mut list = doubtful(survey, checked)?;
    // Both sides use one mesh and no surface of their own to doubt.
    list.iter_mut()
        .filter(|one| one.quantity.is_own())
        .for_each(|one| one.spread = crate::chance::Spread::Known);
    let wheel = Wheel::new(survey, checked, &outcome.section, place, rated);
    let response = Response::fit(&wheel, &list)?;
    let surfaces = response.uncorrected();
    let many = Samples::draw(&list, samples, SEED).factors(&surfaces, &wheel);
    let few = Samples::draw(&list, brute, SEED + 1);
    let sketch = wheel.sketch()?;
    let one = |sample: usize| -> Result<Tested, DoubtFault> {
        let row: [f64; Quantity::COUNT] = few.row(sample);
        let departure = wheel.departure(&row);
        let (survey, section) =
            wheel.built(departure.wall_mm, departure.cut_mm).ok_or(DoubtFault::NoRange)?;
        let case = [wheel.case(&departure)];
        let factor = wheel.coarse((&survey, &section), &case, sketch.grid(&section))?[0];
        Ok(Tested {
            analysis: factor * wheel.log_strength(&row).exp(),
            surface: surfaces.log_factor(&wheel, &row).exp(),
        })
    };
    let found = (0..brute).into_par_iter().map(one).collect::<Result<Vec<Tested>, DoubtFault>>()?;
    let differences = || found.iter().map(|one| one.log_difference());
    let shares = reached
        .iter()
        .map(|share| {
            let asked = many.reached_by(*share);
            let count = found.iter().filter(|one| one.analysis >= asked).count();
            (asked, many.share(asked), Share { count, samples: found.len() })
        })
        .collect();
    Ok(DoubtProof {
        shares,
        rms: (differences().map(|d| d * d).sum::<f64>() / found.len().max(1) as f64).sqrt(),
        largest: differences().map(f64::abs).fold(0.0, f64::max),
        left_out: response.left_out(),
    })
}
