//! Every estimator of the error bar, judged by the same true errors on wheels that go through the whole check.
//!
//! Owns the study: every wheel is checked as a user would, then its governing section is solved again with all
//! sides halved, those at the hot places quartered, and twice the harmonics and more. Stresses in MPa.

mod candidates;
mod sheets;
mod wheels;

use crate::elastic::{Exclusion, Options, PeakSearch, Region, solve};
use crate::geometry::Point;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::mesh::{Mesh, PointSize};
use crate::reference::compare::Tolerance;
use crate::study::{Asked, Outcome, check};
use crate::survey::Survey;
use candidates::Judged;
use rayon::prelude::*;

const FINER: Source = Source::itself(
    "This program itself, elements halved everywhere and quartered at the peak, twice the harmonics and more",
);
pub(super) static CASES: &[Case] = &[Case {
    name: "error-bar",
    title: "The error bar of a check's highest tension, on twenty-two wheels",
    chapter: Chapter::Convergence,
    about: "Twenty-two invented wheels are checked as any survey is. The governing section of each is then solved \
            again on a much finer mesh and with many more harmonics: the highest tension found there must lie inside \
            the bar that the check prints. How much wider than the error the bar is, against what is asked, is told \
            below, and the same errors judge every estimator by itself.",
    features: &[Feature::PeakSearch],
    run,
}];

/// The series of the reference may still move by this share over its last block.
const SETTLED: f64 = 2e-4;

fn run() -> Result<Record, CaseFault> {
    let mut surveys: Vec<(&str, Survey)> = Vec::new();
    for (name, sheet) in sheets::sheets() {
        surveys.push((name, sheet.read()?));
    }
    for wheel in wheels::wheels() {
        surveys.push((wheel.name, wheel.survey()?));
    }
    let one = |(name, survey): &(&'static str, Survey)| {
        let outcome = check(survey, &Asked::default(), &|_: &str| ()).map_err(CaseFault::of)?;
        let reference = carried_further(&outcome)?;
        let governing = &outcome.result.governing;
        let peak_mpa = governing.peak.principal_mpa[0];
        let row = Row {
            estimate: Some(governing.bound_mpa),
            ..Row::new(format!("{name}: peak"), "MPa", FINER, reference.peak_mpa, peak_mpa)
        };
        let allowed = Tolerance::Absolute(governing.bound_mpa);
        let row = row.doubt(reference.doubt_mpa).within(allowed, "the bar that the check prints");
        Ok((row, Judged::new(&outcome.result, reference.peak_mpa)))
    };
    let found = surveys.par_iter().map(one).collect::<Result<Vec<_>, CaseFault>>()?;
    let (rows, judged): (Vec<_>, Vec<_>) = found.into_iter().unzip();
    let facts = candidates::facts(&judged).into_iter().chain(candidates::size_facts(&judged));
    Ok(facts.fold(Record::of_rows(rows), Record::fact))
}

/// The highest tension by an analysis carried far beyond need.
struct Reference {
    peak_mpa: f64,
    /// What it may itself be off by: what its elements disagree about, and its last block.
    doubt_mpa: f64,
}

fn carried_further(outcome: &Outcome) -> Result<Reference, CaseFault> {
    let (section, analysis) = (&outcome.section, &outcome.analysis);
    let mut model = analysis.model.clone();
    let sizing = &mut model.sizing;
    // Halving everything quarters the sides at points whose size is halved here. The size grows more slowly away
    // from them, too, so that the fine patch is wider.
    sizing.at_points.iter_mut().for_each(|point| point.size_mm *= 0.5);
    let side_mm = outcome.result.convergence.meshes.last().map_or(f64::INFINITY, |mesh| mesh.side_mm);
    sizing.at_points.push(PointSize { at: analysis.tension[0].at, size_mm: 0.5 * side_mm });
    sizing.growth *= 0.8;
    sizing.halvings = 1;
    let fence = section.fence_radius_mm;
    let region = |mesh: &Mesh| {
        let mut region = Region::of(&model, mesh, analysis.solution.last_harmonic());
        let exclusion = Exclusion { reason: section.fence_reason.clone(), distance_mm: 0.0 };
        region.exclude(mesh, exclusion, |p: Point| p.r < fence);
        region
    };
    let least = 2 * (analysis.solution.last_harmonic() + 1);
    let options = Options { block: 16, least, tolerance: SETTLED, ..Options::default() };
    let solution = solve(&model, region, &options)?;
    let region = region(&solution.mesh);
    let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &region);
    let [ranking] = search.rankings(&[&|p: &[f64; 3]| p[0]]);
    let hit = ranking.first().ok_or_else(|| CaseFault::Other("nothing was searched".to_owned()))?;
    let peak = search.peak(hit);
    let peak_mpa = peak.principal_mpa[0];
    let last_block = solution.blocks.last().map_or(0.0, |block| block.change * block.peak_mpa);
    let doubt_mpa = solution.resolution(0, &peak, &[]).disagreement_mpa / 3.0 + last_block;
    Ok(Reference { peak_mpa, doubt_mpa })
}
