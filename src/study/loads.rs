//! From a section and rope tensions to an explicit elastic problem.

use crate::elastic::{Around, Case, ElasticFault, Hold, Iron, Law, Model, Pattern, Resultant, Support, Term};
use crate::geometry::Edge;
use crate::hoist::{Expected, LoadCase, drag_radius_mm, expected};
use crate::mesh::Sizing;
use crate::section::Section;
use crate::survey::Survey;

/// Largest relative gap between the applied resultant and the one the rope pulls ask for.
const ALLOWED: f64 = 1e-6;

/// An elastic problem with what its cases must add up to.
pub(crate) struct Loaded {
    pub model: Model,
    pub expected: Vec<Expected>,
    /// Length over which the pressure's jumps at the wrap's ends are spread (mm).
    pub run_in_mm: f64,
}

/// Puts rope loads on a section: every roped groove carries its own rope.
///
/// The bore (or bolted face) is fixed. The pressure's jump at each end of the wrap is spread over one
/// rope diameter, about the length √(EI/T) over which a rope's bending stiffness lets it lift off.
pub(crate) fn loaded(
    survey: &Survey,
    section: &Section,
    cases: &[LoadCase],
    iron: Iron,
    sizing: Sizing,
) -> Loaded {
    let run_in_mm = survey.roping.rope_diameter_mm;
    let roped: Vec<_> = section
        .grooves
        .iter()
        .zip(&survey.grooves.roped)
        .filter(|(_, roped)| **roped)
        .map(|(g, _)| g)
        .collect();
    let mut patterns = Vec::new();
    let mut radii = Vec::new();
    for groove in &roped {
        let (tags, law) = (vec![groove.seat.tag.clone()], groove.seat.law);
        patterns.push(Pattern::Bearing { tags: tags.clone(), law });
        patterns.push(Pattern::Drag { tags, law, moment_radius_mm: groove.pitch_radius_mm });
        radii.push([groove.pitch_radius_mm, seat_drag_radius(section, &groove.seat.tag, law)]);
    }
    let mut model_cases = Vec::new();
    let mut sums = Vec::new();
    for case in cases {
        let wraps = case.wraps(survey);
        let mut terms = Vec::new();
        for (index, (wrap, groove)) in wraps.iter().zip(&roped).enumerate() {
            let run_in = run_in_mm / groove.pitch_radius_mm;
            let drag = wrap.drag(run_in);
            terms.push(Term { pattern: 2 * index, around: wrap.bearing(run_in) });
            if !is_zero(&drag) {
                terms.push(Term { pattern: 2 * index + 1, around: drag });
            }
        }
        model_cases.push(Case { name: case.kind.name().to_owned(), terms });
        sums.push(expected(case, &wraps, &radii));
    }
    let model = Model {
        title: survey.job.name.clone(),
        outline: section.outline.clone(),
        sizing,
        iron,
        supports: vec![Support { tag: section.support.clone(), hold: Hold::FIXED }],
        patterns,
        cases: model_cases,
    };
    Loaded { model, expected: sums, run_in_mm }
}

fn is_zero(around: &Around) -> bool {
    matches!(around, Around::Stretches { stretches, .. } if stretches.iter().all(|s| s.value == 0.0))
}

fn seat_drag_radius(section: &Section, tag: &str, law: Law) -> f64 {
    let seat: Vec<Edge> =
        section.outline.edges().filter(|edge| section.outline.tag_name(edge) == tag).copied().collect();
    drag_radius_mm(&seat, law)
}

/// Compares what one case's tractions add up to with what the rope pulls ask for; returns the gap.
///
/// # Errors
/// When they differ by more than one part in a million of the larger; `reach_mm` is the body's largest radius.
pub(crate) fn verify_resultant(
    applied: &Resultant,
    expected: &Expected,
    (case, reach_mm): (&str, f64),
) -> Result<f64, ElasticFault> {
    let scale = expected.applied_n[0].hypot(expected.applied_n[1]);
    let force =
        (applied.force_n[0] - expected.applied_n[0]).hypot(applied.force_n[1] - expected.applied_n[1]);
    let axial = applied.force_n[2].abs();
    let arm = scale * reach_mm.max(1.0);
    let moment = (applied.moment_nmm[2] - expected.moment_nmm).abs();
    let gap = (force.max(axial) / scale).max(moment / arm);
    if gap <= ALLOWED {
        return Ok(gap);
    }
    Err(ElasticFault::Imbalance {
        what: format!("applied rope load and vector sum of the rope pulls of case '{case}'"),
        left: format!("{:?}", applied),
        right: format!("{:?}", expected),
        gap,
        allowed: ALLOWED,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::Options;
    use crate::section::{Kind, Place, State};

    /// The worn wheel and the cut one, written as model files, read back and solved.
    #[test]
    fn a_wheel_written_as_a_model_file_solves_to_the_same_peak() {
        use crate::problem::{Answer, Extras, Problem, Search, read, write};
        use crate::reference::compare::{Tolerance, assert_close};
        let survey = crate::section::tests::one_web();
        let cases = &crate::hoist::load_cases(&survey)[..1];
        let iron = Iron { young_mpa: 80e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1.1e-5 };
        // Coarse in mesh and series: the same problem must come back, not a converged one.
        let sizing = Sizing { fillet_step_rad: 0.7, through_wall: 1.0, ..Sizing::default() };
        let series = Options { tolerance: 0.1, ..Options::default() };
        for state in [State::Now, State::Cut] {
            let place = Place { kind: Kind::Uniform, walls: vec![], lines: None };
            let section = Section::build(&survey, state, &place).unwrap();
            let model = loaded(&survey, &section, cases, iron, sizing.clone()).model;
            let search = Search { below_r_mm: Some(section.fence_radius_mm), tags: vec![] };
            let extras = Extras { series, search, probes: vec![] };
            let text = write(&model, &extras).unwrap();
            let reading = read(text.as_bytes(), std::path::Path::new("wheel.toml"));
            let shown = reading.diagnostics.render(crate::diagnostics::Look::Plain);
            assert!(reading.diagnostics.is_empty(), "{shown}");
            let again = reading.problem.unwrap();
            assert_eq!(again.model.patterns.len(), model.patterns.len());
            let [first, second] = [Problem { model, extras }, again].map(|p| Answer::new(&p).unwrap());
            let [a, b] = [&first, &second].map(|answer| answer.cases[0].peak.principal_mpa[0]);
            let reason = "numbers read back as they were, but for degrees and radians";
            assert_close("peak", b, a, Tolerance::Relative(1e-6), reason);
        }
    }
}
