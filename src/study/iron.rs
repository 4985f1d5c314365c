//! What the iron may bear: the strengths that its hardness leaves open, and what its own thickness takes away.
//!
//! The stress does not depend on the strength, so every strength of the band is judged on the analysis that is
//! there. Only the lowest of them may serve for an acceptance (see [`crate::material::hardness`]).

use super::analysis::{Analysis, factor};
use super::findings::{self, Inputs, Stressed};
use super::notch::averaged;
use super::places::Around;
use super::result::{Governing, PlaceResult};
use crate::elastic::{Along, Peak, PeakSearch};
use crate::material::Metal;
use crate::material::gray_iron::{ASSUMED_CLASS, at_strength, class_tensile_mpa};
use crate::material::hardness::strength_band;
use crate::material::section_size::{SOURCE, expected_mpa};
use crate::section::{Section, State};
use crate::survey::{StrengthFrom, Survey, Wheel};
use crate::verdict::{Standing, Status, Word, judge};
use rayon::prelude::*;
use serde::Serialize;

/// Strengths below this are no strengths; the relation by hardness has nothing to say there (MPa).
const LEAST_MPA: f64 = 1.0;

/// The band of strengths by hardness, each with what it would mean.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HardnessBand {
    pub lowest_hardness_hb: f64,
    /// Whether the judged strength is an assumption, which the band's low end may veto.
    pub strength_assumed: bool,
    /// Low, likely and high.
    pub levels: [StrengthLevel; 3],
}

/// One strength of the band.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StrengthLevel {
    pub name: &'static str,
    pub relative_hardness: f64,
    pub tensile_mpa: f64,
    pub allowable_mpa: f64,
    /// Least factor anywhere by the criterion for gray iron of this strength.
    pub least_factor: f64,
    /// The word that the whole check would give.
    pub word: Word,
    /// Whether all checks of strength hold.
    pub strength_holds: bool,
    /// Only the lowest strength may serve for an acceptance.
    pub may_accept: bool,
}

/// What the section's thickness takes away from the strength of a test bar.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SectionSize {
    /// Thickest section of the rim as cast: seat depth and wall as found together.
    pub section_mm: f64,
    pub bar_mpa: f64,
    pub expected_mpa: f64,
    /// Loss over the bar's strength.
    pub relative_loss: f64,
    /// Whether it is judged; an assumed class is taken for the casting itself.
    pub applied: bool,
    pub source: &'static str,
}

/// Thickness of the rim as it was cast (mm): what cooled together, before any groove was cut.
///
/// From the rim edge to the underside where it is thickest; of a solid disc the lesser of its width and depth.
/// A rim over its web is thicker still, which the table does not know.
pub(super) fn cast_thickness_mm(survey: &Survey, around: &Around) -> Option<f64> {
    if let Wheel::SolidDisc { bore_radius_mm } = survey.wheel {
        return Some(survey.rim.width_mm.min(survey.rim.edge_radius_mm - bore_radius_mm));
    }
    let sections =
        around.places.par_iter().filter_map(|place| Section::build(survey, State::Now, place).ok());
    let thickness = |section: Section| {
        let walls = section
            .walls
            .iter()
            .filter_map(|wall| Some(wall.radial_mm? + survey.grooves.seat_depth_mm.get(wall.groove - 1)?));
        walls.fold(0.0, f64::max)
    };
    Some(sections.map(thickness).reduce(|| 0.0, f64::max)).filter(|mm| *mm > 0.0)
}

/// What the section's thickness means for gray iron known by its bar, by its class, or not at all.
pub(super) fn section_size(survey: &Survey, section_mm: Option<f64>) -> Option<SectionSize> {
    let facts = &survey.material;
    if !facts.is_gray() {
        return None;
    }
    let (section_mm, class) = (section_mm?, facts.class.unwrap_or(ASSUMED_CLASS));
    let bar_mpa = match (facts.tensile_mpa, facts.strength_from) {
        (Some(_), StrengthFrom::Casting) => return None,
        (Some(bar), StrengthFrom::CastBar) => bar,
        (None, _) => class_tensile_mpa(class).ok()?,
    };
    let expected = expected_mpa(bar_mpa, section_mm);
    Some(SectionSize {
        section_mm,
        bar_mpa,
        expected_mpa: expected,
        relative_loss: 1.0 - expected / bar_mpa,
        applied: !facts.strength_is_assumed(),
        source: SOURCE,
    })
}

/// Judges the whole check at the three strengths that the lowest hardness leaves open; `None` without readings or
/// for other metals.
pub(super) fn hardness_band(inputs: &Stressed, analysis: &Analysis) -> Option<HardnessBand> {
    let facts = &inputs.survey.material;
    let lowest_hardness_hb = facts.lowest_hardness_hb().filter(|_| facts.is_gray())?;
    let band = strength_band(lowest_hardness_hb);
    let steps =
        [("low", 1.2, band.lower_mpa), ("likely", 1.0, band.middle_mpa), ("high", 0.8, band.upper_mpa)];
    let metals = steps.map(|(.., mpa)| at_strength(inputs.metal.name.clone(), mpa.max(LEAST_MPA)));
    let worst = worst_places(analysis, metals.each_ref());
    let level = |index: usize| {
        let (name, relative_hardness, tensile_mpa) = steps[index];
        let level = StrengthLevel {
            name,
            relative_hardness,
            tensile_mpa,
            allowable_mpa: tensile_mpa / inputs.safety_factor,
            least_factor: 0.0,
            word: Word::Reject,
            strength_holds: false,
            may_accept: name == "low",
        };
        if tensile_mpa < LEAST_MPA {
            level
        } else {
            judged(inputs, analysis, level, &metals[index], worst[index])
        }
    };
    let (low, (likely, high)) = rayon::join(|| level(0), || rayon::join(|| level(1), || level(2)));
    let levels = [low, likely, high];
    Some(HardnessBand { lowest_hardness_hb, strength_assumed: facts.strength_is_assumed(), levels })
}

/// Runs all checks with another strength on the same analysis; `worst` is where that strength is used most.
fn judged(
    inputs: &Stressed,
    analysis: &Analysis,
    mut level: StrengthLevel,
    metal: &Metal,
    worst: Peak,
) -> StrengthLevel {
    let least_factor = factor(metal, &worst.principal_mpa);
    let (notch, notch_missing) = averaged(inputs.survey, metal, inputs.section, analysis);
    let governing = Governing {
        tension_factor: level.tensile_mpa / inputs.governing.peak.principal_mpa[0],
        least_factor,
        least_factor_peak: worst,
        notch,
        notch_missing,
        settle: Vec::new(),
        ..inputs.governing.clone()
    };
    let restated = |place: &PlaceResult| {
        let restate = place.worst_mpa.as_ref().map(|principal| factor(metal, principal));
        PlaceResult { factor: restate, ..place.clone() }
    };
    let places: Vec<PlaceResult> = inputs.places.iter().map(restated).collect();
    let restated = Inputs { metal, places: &places, ..inputs.inputs };
    let checks = findings::checks(&Stressed { inputs: restated, governing: &governing, ..*inputs });
    level.least_factor = least_factor;
    level.word = judge(&checks, inputs.state == State::Cut).word;
    level.strength_holds = checks
        .iter()
        .filter(|check| check.standing == Standing::Strength)
        .all(|check| matches!(check.status, Status::Holds | Status::Noted));
    level
}

/// Where each metal's strength is used most in the searched part of the first case; one search for all.
fn worst_places(analysis: &Analysis, metals: [&Metal; 3]) -> [Peak; 3] {
    let (mesh, harmonics) = (&analysis.solution.mesh, &analysis.solution.cases[0]);
    let search = PeakSearch::new(mesh, harmonics, &analysis.region);
    let along = Along { mesh, harmonics, region: &analysis.region };
    let uses = metals.map(|metal| move |principal: &[f64; 3]| 1.0 / factor(metal, principal));
    let rankings = search.rankings(&[&uses[0], &uses[1], &uses[2]]);
    std::array::from_fn(|index| match rankings[index].first() {
        Some(first) => along.highest(&rankings[index], search.peak(first), &uses[index]),
        // An analysis without a searched node is refused before it comes here.
        None => analysis.tension[0],
    })
}

#[cfg(test)]
mod tests {
    use crate::section::tests::one_web;
    use crate::study::{Asked, CheckResult, check};
    use crate::survey::{MetalKind, StrengthFrom, Survey};
    use crate::verdict::{Status, Word};

    fn checked(survey: &Survey) -> CheckResult {
        check(survey, &Asked::default(), &|_| {}).expect("the wheel can be checked").result
    }

    fn status(result: &CheckResult, key: &str) -> Status {
        result.checks.iter().find(|check| check.key == key).expect("the check is there").status
    }

    #[test]
    fn soft_iron_is_not_accepted_by_its_assumed_class() {
        let mut survey = one_web();
        let unread = checked(&survey);
        assert_eq!((unread.verdict.word, unread.hardness_band.is_none()), (Word::MayBeCut, true));
        survey.material.hardness_hb = vec![210.0, 150.0];
        let soft = checked(&survey);
        let band = soft.hardness_band.as_ref().expect("a hardness was read");
        // (150/1.2 - 100)/0.44 MPa.
        assert!((band.levels[0].tensile_mpa - 56.818).abs() < 1e-3);
        assert!(band.levels[0].least_factor < 10.0 && band.levels[2].least_factor > 10.0);
        assert_eq!(band.levels[2].word, Word::MayBeCut);
        assert_eq!(
            (soft.verdict.word, &soft.verdict.deciding[..]),
            (Word::Undecided, &["hardness_bound"][..])
        );
        assert_eq!(soft.governing.least_factor, unread.governing.least_factor, "class 20 stays judged");
    }

    #[test]
    fn hard_iron_opens_a_refusal_by_its_assumed_class_and_does_not_accept() {
        let mut survey = one_web();
        let masses = survey.load.masses.as_mut().expect("the wheel has masses");
        for mass in [&mut masses.car_kg, &mut masses.rated_kg, &mut masses.counterweight_kg] {
            *mass *= 4.0;
        }
        assert_eq!(checked(&survey).verdict.word, Word::Reject);
        survey.material.hardness_hb = vec![420.0];
        let hard = checked(&survey);
        assert!(hard.hardness_band.as_ref().is_some_and(|band| band.levels[0].strength_holds));
        assert_eq!(status(&hard, "peak_tension"), Status::Open);
        assert_eq!(hard.verdict.word, Word::Undecided);
    }

    #[test]
    fn a_bar_loses_by_the_section_and_a_sample_does_not() {
        let mut survey = one_web();
        survey.material.kind = MetalKind::GrayIron;
        survey.material.tensile_mpa = Some(200.0);
        let sample = checked(&survey);
        assert_eq!((sample.metal.tensile_mpa, sample.section_size.is_none()), (200.0, true));
        survey.material.strength_from = StrengthFrom::CastBar;
        let bar = checked(&survey);
        let size = bar.section_size.as_ref().expect("a bar's strength");
        // Grade 200 keeps 130 MPa in 40 to 80 mm; the rim is some 44 mm thick under its edge.
        assert!((40.0..80.0).contains(&size.section_mm), "{}", size.section_mm);
        assert!((bar.metal.tensile_mpa - 130.0).abs() < 1e-9, "{}", bar.metal.tensile_mpa);
        assert!(size.applied && (size.relative_loss - 0.35).abs() < 1e-9);
    }
}
