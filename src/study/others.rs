//! The governing section under other load cases and other assumptions about the ropes.

use super::CheckFault;
use super::analysis::{Series, analyse};
use super::result::{CaseResult, Variant};
use super::sketch::Sketch;
use super::words::place_words;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::section::{Place, Section, State};
use crate::survey::{Creep, GrooveShape, Survey};

/// Peaks of further load cases as they are placed, on the coarse mesh of all places.
pub(super) fn other_cases(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    cases: &[LoadCase],
    sketch: &Sketch,
) -> Result<Vec<CaseResult>, CheckFault> {
    if cases.is_empty() {
        return Ok(Vec::new());
    }
    let analysis = analyse(survey, section, metal, cases, sketch.grid(section), Series::Compare)?;
    let mut results = Vec::new();
    for (index, case) in cases.iter().enumerate() {
        let peak = analysis.tension[index];
        results.push(CaseResult {
            kind: case.kind,
            name: case.kind.name().to_owned(),
            heavy_n: case.mean_heavy_n(),
            light_n: case.mean_light_n(),
            peak_mpa: peak.principal_mpa[0],
            least_factor: analysis.worst[index].1,
            peak_words: place_words(survey, section, peak.at, peak.theta_rad),
        });
    }
    Ok(results)
}

/// The judged case under other assumptions about creep and about the ropes' support.
pub(super) fn variants(
    survey: &Survey,
    state: State,
    place: &Place,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    sketch: &Sketch,
) -> Result<Vec<Variant>, CheckFault> {
    let one = |survey: &Survey, section: &Section| -> Result<f64, CheckFault> {
        let (case, grid) = (std::slice::from_ref(judged), sketch.grid(section));
        Ok(analyse(survey, section, metal, case, grid, Series::Compare)?.peak_mpa())
    };
    let base = one(survey, section)?;
    let friction = match survey.roping.creep {
        Creep::ActiveArcHeavy { friction } | Creep::ActiveArcLight { friction } => friction,
        // Twice what the whole wrap would need, so that half of it rests.
        Creep::WholeWrap => 2.0 * judged.ratio().ln() / survey.roping.wrap_rad,
    };
    let mut list = Vec::new();
    let mut add = |name: String, peak_mpa: f64| {
        list.push(Variant { name, peak_mpa, change: peak_mpa / base - 1.0 });
    };
    if friction > 0.0 {
        for (creep, name) in [
            (Creep::WholeWrap, "rope creeps over the whole wrap".to_owned()),
            (
                Creep::ActiveArcLight { friction },
                format!("rope creeps at the light side only, friction {friction:.3}"),
            ),
            (
                Creep::ActiveArcHeavy { friction },
                format!("rope creeps at the heavy side only, friction {friction:.3}"),
            ),
        ] {
            let mut other = survey.clone();
            other.roping.creep = creep;
            if let Some(wrap) = &mut other.double_wrap {
                wrap.pass_creep = None;
            }
            if creep != survey.roping.creep {
                add(name, one(&other, section)?);
            }
        }
    }
    if let Some(bedded) = bedded(survey)
        && let Ok(section) = Section::build(&bedded, state, place)
    {
        add("ropes bed into the whole seat".to_owned(), one(&bedded, &section)?);
    }
    Ok(list)
}

/// The survey without its stated support angles, when it states any: the ropes then touch the whole seat.
fn bedded(survey: &Survey) -> Option<Survey> {
    let mut other = survey.clone();
    let mut stated = false;
    for shape in other.grooves.now.iter_mut().chain(other.grooves.cut_to.as_mut()) {
        if let GrooveShape::Round { support_angle_rad, .. }
        | GrooveShape::Undercut { support_angle_rad, .. } = shape
        {
            stated |= support_angle_rad.take().is_some();
        }
    }
    stated.then_some(other)
}
