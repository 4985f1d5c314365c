//! One check: loads, places, analyses, findings, verdict.

use super::analysis::{Analysis, analyse, hot_places};
use super::build::{Built, build_all, first_fault};
use super::findings::{self, Inputs};
use super::places::places;
use super::result::*;
use super::through_wall::ThroughWall;
use super::words::place_words;
use super::{CheckFault, rules};
use crate::elastic::Peak;
use crate::hoist::{LoadCase, load_cases};
use crate::material::Metal;
use crate::section::{Kind, Place, Section, State, cut_depth_mm};
use crate::strength::fracture::critical_distance_mm;
use crate::survey::{Creep, Cut, Given, Survey};
use crate::verdict::judge;

/// What is asked of a check besides its survey.
#[derive(Debug, Clone, Copy, Default)]
pub struct Asked {
    /// Solve other assumptions about rope creep and contact too.
    pub variants: bool,
}

/// The peak may still move by this share between the last two meshes.
const MESH_TOLERANCE: f64 = 0.01;
/// Most refinements of the governing section beyond the second mesh.
const REFINEMENTS: usize = 2;

/// Runs a check from survey to verdict. `progress` is told in plain words what is being done.
///
/// # Errors
/// When the measurements make no section, a strength is missing, or an analysis fails.
pub fn check(survey: &Survey, asked: Asked, progress: &dyn Fn(&str)) -> Result<Outcome, CheckFault> {
    let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
    let metal = survey.material.metal()?;
    let cases = load_cases(survey);
    let Some(rated) = cases.first().cloned() else { return Err(CheckFault::NoTensions) };
    let around = places(survey)?;
    let built = build_all(survey, state, &around)?;
    let (judged, hottest) = place_hottest_rope(survey, &metal, &rated, &built, progress)?;

    let mut results = Vec::new();
    let mut analyses: Vec<Option<Analysis>> = Vec::new();
    for (place, section) in around.places.iter().zip(&built) {
        progress(&format!("{}: stress", place.name()));
        let analysis = match section {
            Ok(section) => Some(analyse(survey, section, &metal, std::slice::from_ref(&judged), Vec::new())?),
            Err(_) => None,
        };
        results.push(place_result(survey, place, section, analysis.as_ref()));
        analyses.push(analysis);
    }
    progress("governing place: finer meshes");
    let mut best: Option<(usize, Analysis, Analysis)> = None;
    for index in contenders(&around.places, &analyses) {
        let (Ok(section), Some(first)) = (&built[index], analyses[index].take()) else { continue };
        let hot = hot_places(&first, 0.5);
        let next = analyse(survey, section, &metal, std::slice::from_ref(&judged), hot)?;
        if best.as_ref().is_none_or(|(_, _, worst)| next.worst[0].1 < worst.worst[0].1) {
            best = Some((index, first, next));
        }
    }
    let Some((governing, first, second)) = best else { return Err(first_fault(&built, &around, state)) };
    let section = built[governing].clone().map_err(|_| first_fault(&built, &around, state))?;
    let refined = refine(survey, &section, &metal, &judged, first, second)?;
    progress("governing place: other load cases");
    let others = other_cases(survey, &section, &metal, &cases[1..], hottest)?;
    let variants = if asked.variants {
        progress("governing place: other assumptions about the ropes");
        variants(survey, &section, &metal, &judged)?
    } else {
        Vec::new()
    };

    let analysis = refined.analysis;
    let peak = analysis.tension[0];
    let (worst, least_factor) = analysis.worst[0];
    let wall = ThroughWall::at(&analysis.solution, &section, 0, &peak);
    let critical = metal
        .toughness_n_mm15
        .filter(|_| metal.brittle)
        .map(|(low, _)| critical_distance_mm(low, metal.tensile_mpa));
    let governing_facts = Governing {
        place: governing,
        peak,
        peak_words: place_words(survey, &section, peak.at, peak.theta_rad),
        bound_mpa: refined.bound_mpa,
        tension_factor: metal.tensile_mpa / peak.principal_mpa[0],
        least_factor,
        least_factor_peak: worst,
        least_factor_words: place_words(survey, &section, worst.at, worst.theta_rad),
        equivalent_mpa: super::analysis::equivalent_mpa(&worst.principal_mpa),
        notch_mpa: wall.as_ref().zip(critical).and_then(|(wall, l)| wall.notch_mpa(l)),
        critical_distance_mm: critical,
        wall,
        parts: parts(&section, &analysis),
    };
    let unclean = unclean(survey, state, &around.places[governing], &section);
    let facts = rules::facts(survey, state, &section, &cases, &judged);
    let safety_factor = survey.judgement.safety_factor.unwrap_or(metal.safety_factor);
    let checks = findings::checks(&Inputs {
        survey,
        state,
        metal: &metal,
        safety_factor,
        around: &around,
        places: &results,
        governing: &governing_facts,
        facts: &facts,
        unclean: &unclean,
        section: &section,
    });
    let mut verdict = judge(&checks, state == State::Cut);
    verdict.heads = findings::heads(survey, &metal, safety_factor);
    let balance = analysis.solution.balance[0];
    let pulls = analysis.expected[0].pulls_n;
    let loads = Loads {
        hottest_groove: hottest.map(|rope| roped_groove(survey, rope)),
        tension_spread: survey.load.tension_spread,
        pulls_n: pulls[0].hypot(pulls[1]),
        applied_n: balance.applied.force(),
        reaction_n: balance.reaction.force(),
        moment_nmm: balance.applied.moment_nmm[2],
        run_in_mm: analysis.run_in_mm,
        judged,
        cases,
    };
    let convergence = Convergence {
        meshes: refined.meshes,
        blocks: analysis.solution.blocks.clone(),
        balance,
        resultant_gap: analysis.resultant_gap,
        residual: analysis.solution.cost.residual,
        exclusions: analysis.region.exclusions.clone(),
    };
    let (assumptions, missing) = findings::notes(survey, &metal, &section, &loads);
    let result = CheckResult {
        verdict,
        checks,
        state,
        cut_depth_mm: cut_depth_mm(survey),
        allowable_mpa: metal.tensile_mpa / safety_factor,
        safety_factor,
        loads,
        metal,
        places: results,
        thin_spots: around.thin_spots,
        governing: governing_facts,
        cases: others,
        variants,
        facts,
        unclean,
        convergence,
        assumptions,
        missing,
        cautions: findings::CAUTIONS.map(str::to_owned).to_vec(),
    };
    Ok(Outcome { result, section, analysis })
}

/// Groove number (from 1) that the rope with this index runs in.
fn roped_groove(survey: &Survey, rope: usize) -> usize {
    let roped = survey.grooves.roped.iter().enumerate().filter(|(_, roped)| **roped);
    roped.map(|(index, _)| index + 1).nth(rope).unwrap_or(1)
}

/// Puts the hottest rope where it raises the highest tension most, tried groove by groove at the place
/// with the thinnest wall. Measured tensions stay where they were measured.
fn place_hottest_rope(
    survey: &Survey,
    metal: &Metal,
    rated: &LoadCase,
    built: &[Built],
    progress: &dyn Fn(&str),
) -> Result<(LoadCase, Option<usize>), CheckFault> {
    let spread = survey.load.tension_spread;
    if matches!(survey.load.given, Given::PerRope { .. }) || spread == 0.0 || rated.heavy_n.len() < 2 {
        return Ok((rated.clone(), None));
    }
    let thinnest = |section: &Section| {
        section.walls.iter().filter_map(|wall| wall.least_mm).fold(f64::INFINITY, f64::min)
    };
    let section = built
        .iter()
        .filter_map(|section| section.as_ref().ok())
        .min_by(|a, b| thinnest(a).total_cmp(&thinnest(b)));
    let Some(section) = section else { return Ok((rated.clone(), None)) };
    progress("which groove takes the hottest rope worst");
    let cases: Vec<LoadCase> =
        (0..rated.heavy_n.len()).map(|rope| rated.with_hottest(rope, spread)).collect();
    let analysis = analyse(survey, section, metal, &cases, Vec::new())?;
    let use_of = |rope: usize| 1.0 / analysis.worst[rope].1;
    let worst = (0..cases.len()).max_by(|a, b| use_of(*a).total_cmp(&use_of(*b))).unwrap_or(0);
    Ok((cases[worst].clone(), Some(worst)))
}

fn place_result(survey: &Survey, place: &Place, section: &Built, analysis: Option<&Analysis>) -> PlaceResult {
    let peak: Option<&Peak> = analysis.map(|analysis| &analysis.tension[0]);
    let built = section.as_ref().ok();
    PlaceResult {
        kind: place.kind,
        name: place.name(),
        walls: built.map(|section| section.walls.clone()).unwrap_or_default(),
        peak_mpa: peak.map(|peak| peak.principal_mpa[0]),
        factor: analysis.map(|analysis| analysis.worst[0].1),
        peak_place: peak.zip(built).map(|(p, s)| place_words(survey, s, p.at, p.theta_rad)),
        fault: section
            .as_ref()
            .err()
            .map(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")),
    }
}

/// Places that may govern: within the first mesh's own error of the severest, three at the most. The
/// lower bound of an estimate is shown but does not govern.
fn contenders(places: &[Place], analyses: &[Option<Analysis>]) -> Vec<usize> {
    const FIRST_MESH_ERROR: f64 = 0.04;
    let mut factors: Vec<(usize, f64)> = analyses
        .iter()
        .enumerate()
        .filter(|(index, _)| places[*index].kind != Kind::LowerBound)
        .filter_map(|(index, analysis)| Some((index, analysis.as_ref()?.worst[0].1)))
        .collect();
    factors.sort_by(|a, b| a.1.total_cmp(&b.1));
    let severest = factors.first().map_or(f64::NAN, |(_, factor)| *factor);
    factors.retain(|(_, factor)| *factor <= severest * (1.0 + FIRST_MESH_ERROR));
    factors.into_iter().take(3).map(|(index, _)| index).collect()
}

struct Refined {
    analysis: Analysis,
    meshes: Vec<MeshStep>,
    bound_mpa: f64,
}

/// Finer meshes at the hot places until the peak stands still; the last step bounds what is left.
///
/// The stress error of quadratic triangles falls with the square of their size, so the step between two
/// meshes of halved size is about three times what is left; the whole step is taken as the bound.
fn refine(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
    first: Analysis,
    second: Analysis,
) -> Result<Refined, CheckFault> {
    let step = |analysis: &Analysis| MeshStep {
        quality: analysis.solution.mesh.quality,
        unknowns: analysis.solution.cost.unknowns,
        last_harmonic: analysis.solution.last_harmonic(),
        peak_mpa: analysis.peak_mpa(),
    };
    let mut meshes = vec![step(&first), step(&second)];
    let mut bound_mpa = (second.peak_mpa() - first.peak_mpa()).abs();
    let mut analysis = second;
    for _ in 0..REFINEMENTS {
        let places = hot_places(&analysis, 0.5);
        let next = analyse(survey, section, metal, std::slice::from_ref(judged), places)?;
        let change = (next.peak_mpa() - analysis.peak_mpa()).abs();
        // A step that happens to be small must not hide a larger one before it.
        bound_mpa = change.max(bound_mpa / 4.0);
        meshes.push(step(&next));
        analysis = next;
        if bound_mpa < MESH_TOLERANCE * analysis.peak_mpa() {
            break;
        }
    }
    let tail = analysis.solution.blocks.last().map_or(0.0, |block| block.change * block.peak_mpa);
    Ok(Refined { analysis, meshes, bound_mpa: bound_mpa + tail })
}

fn other_cases(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    cases: &[LoadCase],
    hottest: Option<usize>,
) -> Result<Vec<CaseResult>, CheckFault> {
    if cases.is_empty() {
        return Ok(Vec::new());
    }
    let spread = survey.load.tension_spread;
    let placed: Vec<LoadCase> = cases
        .iter()
        .map(|case| hottest.map_or_else(|| case.clone(), |rope| case.with_hottest(rope, spread)))
        .collect();
    let analysis = analyse(survey, section, metal, &placed, Vec::new())?;
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
fn variants(
    survey: &Survey,
    section: &Section,
    metal: &Metal,
    judged: &LoadCase,
) -> Result<Vec<Variant>, CheckFault> {
    let one = |survey: &Survey, section: &Section| -> Result<f64, CheckFault> {
        Ok(analyse(survey, section, metal, std::slice::from_ref(judged), Vec::new())?.peak_mpa())
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
            if creep != survey.roping.creep {
                add(name, one(&other, section)?);
            }
        }
    }
    Ok(list)
}

/// Highest tension on every named part of the section.
fn parts(section: &Section, analysis: &Analysis) -> Vec<PartPeak> {
    let mesh = &analysis.solution.mesh;
    let mut highest: Vec<PartPeak> = Vec::new();
    for (tag, name) in mesh.tags.iter().enumerate() {
        let nodes = mesh.nodes_on(tag);
        let top = analysis
            .ranking
            .iter()
            .filter(|hit| nodes.binary_search(&hit.node).is_ok())
            .map(|hit| hit.score)
            .fold(f64::NEG_INFINITY, f64::max);
        if top.is_finite() && *name != section.support {
            highest.push(PartPeak { part: name.clone(), peak_mpa: top });
        }
    }
    highest.sort_by(|a, b| b.peak_mpa.total_cmp(&a.peak_mpa));
    highest
}

fn unclean(
    survey: &Survey,
    state: State,
    place: &Place,
    section: &Section,
) -> Vec<crate::section::UncleanGroove> {
    // What a template shows as clean; finer marks come off with the tool's own finish.
    const TOLERANCE_MM: f64 = 0.1;
    match (state, Section::build(survey, State::Now, place)) {
        (State::Cut, Ok(now)) => section.unclean(&now, TOLERANCE_MM),
        _ => Vec::new(),
    }
}
