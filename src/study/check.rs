//! One check: loads, places, analyses, findings, verdict.

use super::analysis::{Analysis, Series, analyse};
use super::build::{Built, build_all, first_fault};
use super::consequences::consequences;
use super::equalise::{self, equal_case};
use super::findings::{self, Inputs, Stressed};
use super::flaw::flaws;
use super::hottest::{Placement, place_hottest_rope, roped_groove};
use super::iron::{cast_thickness_mm, hardness_band, section_size};
use super::notch::averaged;
use super::others::{other_cases, variants};
use super::places::places;
use super::refine::{Coarse, judge_first, refine};
use super::result::*;
use super::settle::Settling;
use super::sketch::Sketch;
use super::through_wall::ThroughWall;
use super::turns::turns;
use super::words::place_words;
use super::{CheckFault, rules};
use crate::elastic::{Options, Peak, PeakSearch, growth};
use crate::geometry::Point;
use crate::hoist::{LoadCase, load_cases};
use crate::section::{Kind, Place, Section, State, cut_depth_mm, tags};
use crate::survey::{Cut, Survey};
use crate::verdict::judge;
use rayon::prelude::*;

/// What is asked of a check besides its survey.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// Solve other assumptions about rope creep and contact too.
    pub variants: bool,
    /// Places of the section's surface (r, z in mm) at which surface cracks are looked at besides the peak.
    pub flaw_at: Vec<Point>,
    /// Leave out what decides nothing: other load cases, and what would settle a slot's corner.
    pub judged_only: bool,
    /// Analyse these places alone, by their index in the result; all of them where `None`. Walls are measured at all.
    pub places: Option<Vec<usize>>,
}

/// Runs a check from survey to verdict. `progress` is told in plain words what is being done.
///
/// # Errors
/// When the measurements make no section, a strength is missing, or an analysis fails.
pub fn check(survey: &Survey, asked: &Asked, progress: &dyn Fn(&str)) -> Result<Outcome, CheckFault> {
    let mut told = None;
    loop {
        match checked(survey, asked, progress, told)? {
            Checked::Done(outcome) => return Ok(*outcome),
            Checked::Worse(rope) => told = Some(rope),
        }
        progress("once more, for another groove takes the hottest rope worse");
    }
}

/// A check, or the rope that a finer mesh has found to be worse as the hottest.
enum Checked {
    Done(Box<Outcome>),
    Worse(usize),
}

/// One check; with the hottest rope where it is told, no other is looked at.
fn checked(
    survey: &Survey,
    asked: &Asked,
    progress: &dyn Fn(&str),
    told: Option<usize>,
) -> Result<Checked, CheckFault> {
    let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
    let cases = load_cases(survey);
    let Some(rated) = cases.first().cloned() else { return Err(CheckFault::NoTensions) };
    let around = places(survey)?;
    let thickness = cast_thickness_mm(survey, &around);
    let metal = survey.material.metal_in(thickness)?;
    let built = tracing::info_span!("sections").in_scope(|| build_all(survey, state, &around))?;
    let Some(any) = built.iter().find_map(|section| section.as_ref().ok()) else {
        return Err(first_fault(&built, &around, state));
    };
    let sketch = Sketch::new(survey, any, &metal, &rated)?;
    let placement = match told {
        Some(rope) => Placement::at(survey, &rated, rope),
        None => place_hottest_rope(survey, &metal, &rated, &built, &sketch, progress)?,
    };
    let rivals = placement.rival_cases(survey, &rated);
    let Placement { judged, hottest, rivals: rival_ropes } = placement;

    progress(&format!("stress at {} places around the rim", built.len()));
    let case = std::slice::from_ref(&judged);
    let one = |(index, section): (usize, &Built)| match section {
        Ok(section) if asked.places.as_ref().is_none_or(|list| list.contains(&index)) => {
            let analysis = analyse(survey, section, &metal, case, sketch.grid(section), Series::Compare)?;
            Ok(Some(Coarse::of(&analysis)))
        }
        _ => Ok(None),
    };
    let mut analyses =
        built.par_iter().enumerate().map(one).collect::<Result<Vec<Option<Coarse>>, CheckFault>>()?;
    let mut results: Vec<PlaceResult> = around
        .places
        .iter()
        .zip(&built)
        .zip(&analyses)
        .map(|((place, section), analysis)| place_result(survey, place, section, analysis.as_ref()))
        .collect();
    progress("governing place: finer meshes, other load cases");
    let list = contenders(&around.places, &analyses);
    // Rivals of the hottest rope are looked at where the governing place most likely is, and their fields not kept.
    let judged_first = |index: usize| match (&built[index], &analyses[index]) {
        (Ok(section), Some(coarse)) => {
            let rivals = if list.first() == Some(&index) { &rivals[..] } else { &[] };
            let first = judge_first(survey, section, &metal, &judged, rivals, coarse)?;
            let worst = first.worst_case();
            let worse = worst.checked_sub(1).map(|rival| (rival, first.worst[worst].1));
            Ok(Some((index, worse, first.alone())))
        }
        _ => Ok(None),
    };
    let placed = |case: &LoadCase| match hottest {
        Some(rope) => case.with_hottest(rope, survey.load.tension_spread),
        None => case.clone(),
    };
    let equal = equal_case(&judged);
    let further_cases: Vec<LoadCase> = cases[1..].iter().map(placed).chain(equal.clone()).collect();
    let further = |place: usize| match &built[place] {
        Ok(section) if !asked.judged_only => other_cases(survey, section, &metal, &further_cases, &sketch),
        _ => Ok(Vec::new()),
    };
    // The other load cases of the place that most likely governs keep the second core busy meanwhile.
    let (firsts, others) = rayon::join(
        || list.par_iter().map(|index| judged_first(*index)).collect::<Result<Vec<_>, CheckFault>>(),
        || list.first().map(|place| further(*place)).transpose(),
    );
    let (firsts, others) = (firsts?, others?);
    let mut firsts: Vec<_> = firsts.into_iter().flatten().collect();
    firsts.sort_by(|(_, _, a), (_, _, b)| a.worst[0].1.total_cmp(&b.worst[0].1));
    // A rival must be worse than the judged tensions at any place, not at its own alone.
    let severest = firsts.first().map_or(f64::INFINITY, |(_, _, first)| first.worst[0].1);
    let worse = firsts.iter().find_map(|(_, worse, _)| worse.filter(|(_, factor)| *factor < severest));
    if let Some((rival, _)) = worse {
        return Ok(Checked::Worse(rival_ropes[rival]));
    }
    let severest = firsts.into_iter().next().map(|(index, _, first)| (index, first));
    let (Some((governing, first)), safety_factor) =
        (severest, survey.judgement.safety_factor.unwrap_or(metal.safety_factor))
    else {
        return Err(first_fault(&built, &around, state));
    };
    let (Ok(section), Some(coarse)) = (built[governing].clone(), analyses[governing].take()) else {
        return Err(first_fault(&built, &around, state));
    };
    let allowable_mpa = metal.tensile_mpa / safety_factor;
    let coarse_mpa = coarse.step.peak_mpa;
    let refined = refine(survey, &section, &metal, &judged, (coarse, first), allowable_mpa)?;
    // The coarse mesh errs alike everywhere: what is known of its error at one place helps all others.
    let scale = refined.analysis.peak_mpa() / coarse_mpa;
    results.iter_mut().for_each(|place| place.scale(scale));
    let mut others = match (others, list.first()) {
        (Some(others), Some(first)) if *first == governing => others,
        _ => further(governing)?,
    };
    others.iter_mut().for_each(|case| case.scale(scale));
    let with_equal_ropes = equal.and_then(|_| others.pop());
    let variants = if asked.variants {
        progress("governing place: other assumptions about the ropes");
        variants(survey, state, &around.places[governing], &section, &metal, &judged, &sketch)?
    } else {
        Vec::new()
    };

    let analysis = refined.analysis;
    let peak = analysis.tension[0];
    let (worst, least_factor) = analysis.worst[0];
    let wall = ThroughWall::at(&analysis.solution, &section, 0, &peak);
    progress("governing place: one turn, cracks, stress at the iron's own distance");
    let (turns, (flaws, (notch, notch_missing))) = rayon::join(
        || turns(survey, &metal, &section, &analysis),
        || {
            let flaws = flaws(survey, &metal, &section, &analysis, wall.as_ref(), &asked.flaw_at);
            (flaws, averaged(survey, &metal, &section, &analysis))
        },
    );
    let flaws = flaws?;
    let peak_words = place_words(survey, &section, peak.at, peak.theta_rad);
    let over = peak.principal_mpa[0] + refined.bound_mpa > allowable_mpa;
    let settle = if state == State::Cut && over && !asked.judged_only && on_slot_corner(&section, &peak) {
        progress("governing place: slot radius and depth that would settle it");
        let place = &around.places[governing];
        let peak_mpa = peak.principal_mpa[0];
        let (metal, judged, sketch) = (&metal, &judged, &sketch);
        let (around, rated) = (&around.places, &rated);
        Settling { survey, place, metal, judged, around, rated, allowable_mpa, sketch, peak_mpa, coarse_mpa }
            .advice()?
    } else {
        Vec::new()
    };
    progress("strengths that the hardness leaves open, checks, verdict");
    let governing_facts = Governing {
        place: governing,
        peak,
        peak_words,
        bound_mpa: refined.bound_mpa,
        series_bound_mpa: refined.series_mpa,
        tension_factor: metal.tensile_mpa / peak.principal_mpa[0],
        least_factor,
        least_factor_peak: worst,
        least_factor_words: place_words(survey, &section, worst.at, worst.theta_rad),
        equivalent_mpa: super::analysis::equivalent_mpa(&worst.principal_mpa),
        notch,
        notch_missing,
        settle,
        wall,
        parts: parts(&section, &analysis),
    };
    let equalised =
        with_equal_ropes.map(|equal| equalise::comparison(survey, &judged, &governing_facts, &equal));
    let unclean = unclean(survey, state, &around.places[governing], &section);
    let facts = rules::facts(survey, state, &section, &judged);
    let consequences = consequences(survey, state, &rated, &judged);
    let inputs = Inputs {
        survey,
        state,
        metal: &metal,
        safety_factor,
        around: &around,
        places: &results,
        facts: &facts,
        unclean: &unclean,
        section: &section,
        consequences: &consequences,
    };
    let stressed = Stressed { inputs, governing: &governing_facts, band: None, turns: turns.as_ref() };
    let hardness_band = hardness_band(&stressed, &analysis);
    let checks = findings::checks(&Stressed { band: hardness_band.as_ref(), ..stressed });
    let mut verdict = judge(&checks, state == State::Cut);
    verdict.heads = findings::heads(survey, &metal, safety_factor);
    verdict.heads.extend(findings::failing_as_found(&consequences));
    let balance = analysis.solution.balance[0];
    let pulls = analysis.expected[0].pulls_n;
    let loads = Loads {
        hottest_groove: hottest.map(|rope| roped_groove(survey, judged.groove_of(rope))),
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
        growth: growth(&analysis.model, &Options::default(), |p| p.r >= section.fence_radius_mm)?,
    };
    let (assumptions, missing) = findings::notes(survey, &metal, &section, &loads);
    let result = CheckResult {
        verdict,
        checks,
        state,
        cut_depth_mm: cut_depth_mm(survey),
        allowable_mpa,
        safety_factor,
        loads,
        metal,
        places: results,
        thin_spots: around.thin_spots,
        governing: governing_facts,
        cases: others,
        equalised,
        variants,
        facts,
        consequences,
        hardness_band,
        section_size: section_size(survey, thickness),
        unclean,
        convergence,
        turns,
        flaws,
        assumptions,
        missing,
        cautions: findings::CAUTIONS.map(str::to_owned).to_vec(),
    };
    let place = around.places[governing].clone();
    Ok(Checked::Done(Box::new(Outcome { result, place, section, analysis })))
}

/// Whether the hot spot lies on a slot's corner or, a little beside it, on what the corner joins.
fn on_slot_corner(section: &Section, peak: &Peak) -> bool {
    section.outline.edges().any(|edge| {
        let near = 0.25 * edge.radius().unwrap_or(0.0);
        section.outline.tag_name(edge).starts_with(tags::SLOT_CORNER) && edge.distance(peak.at) <= near
    })
}

pub(super) fn place_result(
    survey: &Survey,
    place: &Place,
    section: &Built,
    coarse: Option<&Coarse>,
) -> PlaceResult {
    let peak: Option<&Peak> = coarse.map(|coarse| &coarse.tension);
    let built = section.as_ref().ok();
    PlaceResult {
        kind: place.kind,
        name: place.name(),
        walls: built.map(|section| section.walls.clone()).unwrap_or_default(),
        peak_mpa: peak.map(|peak| peak.principal_mpa[0]),
        factor: coarse.map(|coarse| coarse.factor),
        worst_mpa: coarse.map(|coarse| coarse.worst.principal_mpa),
        peak_place: peak.zip(built).map(|(p, s)| place_words(survey, s, p.at, p.theta_rad)),
        fault: section
            .as_ref()
            .err()
            .map(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")),
    }
}

/// Places that may govern: as near to the severest as the coarse mesh can err between them, three at the most. The
/// lower bound of an estimate is shown but does not govern.
fn contenders(places: &[Place], analyses: &[Option<Coarse>]) -> Vec<usize> {
    const RANKING_ERROR: f64 = 0.01;
    let mut factors: Vec<(usize, f64)> = analyses
        .iter()
        .enumerate()
        .filter(|(index, _)| places[*index].kind != Kind::LowerBound)
        .filter_map(|(index, coarse)| Some((index, coarse.as_ref()?.factor)))
        .collect();
    factors.sort_by(|a, b| a.1.total_cmp(&b.1));
    let severest = factors.first().map_or(f64::NAN, |(_, factor)| *factor);
    factors.retain(|(_, factor)| *factor <= severest * (1.0 + RANKING_ERROR));
    factors.into_iter().take(3).map(|(index, _)| index).collect()
}

/// Highest tension on every named part of the section.
fn parts(section: &Section, analysis: &Analysis) -> Vec<PartPeak> {
    let mesh = &analysis.solution.mesh;
    let search = PeakSearch::new(mesh, &analysis.solution.cases[0], &analysis.region);
    let nodes: Vec<Vec<usize>> = (0..mesh.tags.len()).map(|tag| mesh.nodes_on(tag)).collect();
    let tops = mesh.tags.iter().zip(search.highest_of_each(&nodes));
    let counted = tops.filter(|(name, top)| *top > 0.0 && **name != section.support);
    let mut highest: Vec<PartPeak> =
        counted.map(|(part, peak_mpa)| PartPeak { part: part.clone(), peak_mpa }).collect();
    highest.sort_by(|a, b| b.peak_mpa.total_cmp(&a.peak_mpa));
    highest
}

/// What a template shows as clean (mm); finer marks come off with the tool's own finish.
pub(super) const CLEAN_MM: f64 = 0.1;

pub(super) fn unclean(
    survey: &Survey,
    state: State,
    place: &Place,
    section: &Section,
) -> Vec<crate::section::UncleanGroove> {
    match (state, Section::build(survey, State::Now, place)) {
        (State::Cut, Ok(now)) => section.unclean(&now, CLEAN_MM),
        _ => Vec::new(),
    }
}
