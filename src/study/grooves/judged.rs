//! One cut with its full check, told in the numbers that groove shapes differ in.
//!
//! Units: mm, MPa, rad, m/s.

use super::front::{Reserves, traction_reserve};
use super::shapes::Proposal;
use crate::elastic::ElasticFault;
use crate::hoist::rope_life::{Edition, TractionGroove, safety_factor, traction_bends};
use crate::hoist::rules::diameter_ratio;
use crate::hoist::{LoadCase, load_cases};
use crate::section::{Kind, State};
use crate::study::check::check;
use crate::study::findings::{self, Inputs, Stressed};
use crate::study::places::places;
use crate::study::result::{Facts, PlaceResult, TractionFact};
use crate::study::{Asked, CheckFault, CheckResult, Consequences, Outcome, consequences, rules};
use crate::survey::{Cut, GrooveShape, Survey};
use crate::units::Kind as Quantity;
use crate::verdict::{Check, Standing, Status, Verdict, Word, judge};
use serde::Serialize;

/// What a check that does not hold is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Concern {
    Stress,
    Traction,
    /// Wall, diameters, and whether the grooves come clean.
    Shape,
    /// What no cut can change, such as too few stations.
    Survey,
}

/// A check that fails or is open.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Doubt {
    pub key: &'static str,
    pub name: String,
    pub status: Status,
    pub concern: Concern,
    /// Why, in a sentence.
    pub why: String,
}

/// The rope-life factor (EN 81-50, 5.12): with the pulleys that the survey states, or of the drive sheave alone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RopeLife {
    pub equivalent_bends: f64,
    /// Least safety factor of the ropes, S_f.
    pub rope_life_factor: f64,
}

/// A shape at a depth, and what its check found.
#[derive(Debug, Clone, Serialize)]
pub struct JudgedCut {
    pub proposal: Proposal,
    /// Depth of the rope's lowest point below the rim edge.
    pub depth_mm: f64,
    pub pitch_diameter_mm: f64,
    pub diameter_ratio: f64,
    /// Whether every place around the rim was analysed, and not only those near the worst of another shape.
    pub all_places: bool,
    pub found: Option<Found>,
    /// Why no section can be cut like this.
    pub fault: Option<String>,
}

/// The numbers of one check.
#[derive(Debug, Clone, Serialize)]
pub struct Found {
    /// Depth of the lowest iron below the rim edge: what the tool reaches.
    pub bottom_depth_mm: f64,
    /// Thinnest wall, the estimate between the stations included; `None` over solid iron.
    pub wall_left_mm: Option<f64>,
    pub peak_mpa: f64,
    pub peak_bound_mpa: f64,
    pub peak_words: String,
    /// Least factor on ultimate strength by the criterion of the metal.
    pub least_factor: f64,
    /// That factor over the one that is asked: 1 just meets it.
    pub stress_reserve: f64,
    /// What the peak's error bar makes of it.
    pub stress_reserve_bound: f64,
    pub traction: Vec<TractionFact>,
    pub traction_reserve: Option<f64>,
    pub pressure_mpa: Option<f64>,
    pub pressure_limit_mpa: Option<f64>,
    pub car_speed_after_m_s: Option<f64>,
    pub rope_life: Option<RopeLife>,
    /// Why there is no rope-life factor.
    pub rope_life_missing: Option<String>,
    pub word: Word,
    pub reason: String,
    /// Checks that fail or are open, in the order of the check.
    pub doubts: Vec<Doubt>,
}

impl Found {
    /// Whether every check holds that a cut can change.
    pub fn holds(&self) -> bool {
        self.doubts.iter().all(|doubt| doubt.concern == Concern::Survey)
    }

    /// Whether only stress and traction stand against it.
    pub fn fits(&self) -> bool {
        self.doubts.iter().all(|doubt| doubt.concern != Concern::Shape)
    }

    pub fn reserves(&self) -> Reserves {
        Reserves { stress: self.stress_reserve, traction: self.traction_reserve }
    }
}

/// Cuts that differ in the hardness of their flanks alone, and what a search over depth starts from.
pub(super) struct Judged {
    pub cuts: Vec<JudgedCut>,
    pub start: Option<Start>,
    /// Places that could be the worst for another shape too.
    pub near: Option<Vec<usize>>,
}

/// Places whose factor is this much above the least for one shape are not the worst for another: the walls, in which
/// places differ, are the same for all shapes.
const NEAR: f64 = 0.03;

/// The governing place of a full check, its rope tensions and its stress reserve.
#[derive(Clone)]
pub(super) struct Start {
    pub place: usize,
    pub judged: LoadCase,
    pub depth_mm: f64,
    pub stress_reserve: f64,
}

/// The survey with this cut asked.
pub fn with_cut(survey: &Survey, form: &GrooveShape, depth_mm: f64) -> Survey {
    let mut survey = survey.clone();
    survey.cut = Cut::ToDepth { depth_mm };
    survey.grooves.cut_to = Some(form.clone());
    survey
}

/// The least rope safety factor that a groove asks for: drive sheave alone, one passage.
///
/// # Errors
/// In words, when the standard's tables have no entry for the groove or the diameters.
pub fn rope_life(form: &GrooveShape, diameter_ratio: f64) -> Result<RopeLife, String> {
    let groove = match form {
        GrooveShape::Round { .. } => TractionGroove::Round,
        GrooveShape::Undercut { slot_angle_rad, .. } => {
            TractionGroove::Undercut { undercut_rad: *slot_angle_rad }
        }
        GrooveShape::V { angle_rad, .. } => TractionGroove::V { groove_rad: *angle_rad },
        GrooveShape::Measured { .. } => {
            return Err("the standard has no equivalent bends for a measured groove".into());
        }
    };
    let bends = traction_bends(groove, Edition::En81_50).map_err(|fault| fault.to_string())?;
    let factor = safety_factor(diameter_ratio, bends).map_err(|fault| fault.to_string())?;
    Ok(RopeLife { equivalent_bends: bends, rope_life_factor: factor })
}

/// Judges shapes that are cut alike by one full check, to one depth; at the places `at` alone where they are given.
///
/// # Errors
/// When a check fails for another reason than that this shape makes no section.
pub(super) fn judge_alike(
    survey: &Survey,
    group: &[&Proposal],
    depth_mm: f64,
    at: Option<&[usize]>,
) -> Result<Judged, CheckFault> {
    let asked = &Asked { judged_only: true, places: at.map(<[usize]>::to_vec), ..Asked::default() };
    let first = with_cut(survey, &group[0].form, depth_mm);
    let outcome = match check(&first, asked, &|_| {}) {
        Ok(outcome) => outcome,
        Err(fault) => {
            let words = no_section(survey, &fault).ok_or(fault)?;
            let cut = |proposal: &&Proposal| JudgedCut {
                fault: Some(words.clone()),
                ..empty(survey, proposal, depth_mm)
            };
            return Ok(Judged { cuts: group.iter().map(cut).collect(), start: None, near: None });
        }
    };
    let mut cuts = Vec::new();
    for proposal in group {
        let again;
        let result = &outcome.result;
        let checked = if proposal.form == group[0].form {
            let CheckResult { facts, consequences, checks, verdict, .. } = result;
            Checked { facts, consequences, checks, verdict }
        } else {
            again = rechecked(&with_cut(survey, &proposal.form, depth_mm), &outcome)?;
            Checked { facts: &again.0, consequences: &again.1, checks: &again.2, verdict: &again.3 }
        };
        let found = found(proposal, &outcome, &checked);
        let all_places = at.is_none();
        cuts.push(JudgedCut { all_places, found: Some(found), ..empty(survey, proposal, depth_mm) });
    }
    let (result, safety) = (&outcome.result, outcome.result.safety_factor);
    let start = Start {
        place: result.governing.place,
        judged: result.loads.judged.clone(),
        depth_mm,
        stress_reserve: result.governing.least_factor / safety,
    };
    Ok(Judged { cuts, start: Some(start), near: Some(near_worst(&result.places)) })
}

/// Indices of the places near the worst, with the lower bound of the estimate, which has a check of its own.
fn near_worst(places: &[PlaceResult]) -> Vec<usize> {
    let judged = places.iter().filter(|place| place.kind != Kind::LowerBound);
    let least = judged.filter_map(|place| place.factor).fold(f64::INFINITY, f64::min);
    let near = |place: &PlaceResult| {
        place.kind == Kind::LowerBound || place.factor.is_some_and(|factor| factor <= least * (1.0 + NEAR))
    };
    (0..places.len()).filter(|index| near(&places[*index])).collect()
}

/// Why a shape makes no section, where that is the reason for the fault.
pub(super) fn no_section(survey: &Survey, fault: &CheckFault) -> Option<String> {
    let show = |mm: f64| survey.print.show(Quantity::Length, mm);
    match fault {
        CheckFault::Section { faults, .. } => {
            let words =
                faults.iter().map(|placed| format!("{} ({})", placed.fault.text(&show), placed.place));
            Some(words.collect::<Vec<_>>().join("; "))
        }
        CheckFault::Elastic(ElasticFault::Mesh(fault)) => Some(fault.to_string()),
        _ => None,
    }
}

fn empty(survey: &Survey, proposal: &Proposal, depth_mm: f64) -> JudgedCut {
    let rope = survey.roping.rope_diameter_mm;
    let pitch = 2.0 * (survey.rim.edge_radius_mm - depth_mm) + rope;
    JudgedCut {
        proposal: proposal.clone(),
        depth_mm,
        pitch_diameter_mm: pitch,
        diameter_ratio: diameter_ratio(pitch, rope),
        all_places: false,
        found: None,
        fault: None,
    }
}

/// Facts and checks of a survey whose stress was found already: its section differs in nothing that is drawn.
fn rechecked(
    survey: &Survey,
    outcome: &Outcome,
) -> Result<(Facts, Consequences, Vec<Check>, Verdict), CheckFault> {
    let (result, section) = (&outcome.result, &outcome.section);
    let (cases, around) = (load_cases(survey), places(survey)?);
    let rated = cases.first().ok_or(CheckFault::NoTensions)?;
    let facts = rules::facts(survey, State::Cut, section, &result.loads.judged);
    let consequences = consequences(survey, State::Cut, rated, &result.loads.judged);
    let inputs = Inputs {
        survey,
        state: State::Cut,
        metal: &result.metal,
        safety_factor: result.safety_factor,
        around: &around,
        places: &result.places,
        facts: &facts,
        unclean: &result.unclean,
        section,
        consequences: &consequences,
    };
    let checks = findings::checks(&Stressed {
        inputs,
        governing: &result.governing,
        band: result.hardness_band.as_ref(),
        turns: result.turns.as_ref(),
    });
    let verdict = judge(&checks, true);
    Ok((facts, consequences, checks, verdict))
}

/// What a check says of one shape besides its stress.
struct Checked<'a> {
    facts: &'a Facts,
    consequences: &'a Consequences,
    checks: &'a [Check],
    verdict: &'a Verdict,
}

fn found(
    proposal: &Proposal,
    outcome: &Outcome,
    &Checked { facts, consequences, checks, verdict }: &Checked,
) -> Found {
    let (result, section) = (&outcome.result, &outcome.section);
    let governing = &result.governing;
    let (peak_mpa, bound) = (governing.peak.principal_mpa[0], governing.bound_mpa);
    let reserve = governing.least_factor / result.safety_factor;
    let walls = result.places.iter().filter(|place| place.kind != Kind::LowerBound);
    let walls = walls.flat_map(|place| &place.walls).filter_map(|wall| wall.least_mm);
    let bottom = section
        .grooves
        .iter()
        .map(|groove| groove.seat_depth_mm + groove.seat_radius_mm - groove.lowest_radius_mm);
    // With the pulleys where the survey states them.
    let whole = consequences.judged().rope_life.as_ref().map(|life| RopeLife {
        equivalent_bends: life.equivalent_bends,
        rope_life_factor: life.required_rope_factor,
    });
    let alone = || rope_life(&proposal.form, facts.least_diameter_ratio);
    let (life, life_missing) = match whole.map_or_else(alone, Ok) {
        Ok(life) => (Some(life), None),
        Err(why) => (None, Some(why)),
    };
    Found {
        bottom_depth_mm: bottom.fold(0.0, f64::max),
        wall_left_mm: walls.reduce(f64::min),
        peak_mpa,
        peak_bound_mpa: bound,
        peak_words: governing.peak_words.clone(),
        least_factor: governing.least_factor,
        stress_reserve: reserve,
        stress_reserve_bound: reserve * bound / peak_mpa,
        traction: facts.traction.clone(),
        traction_reserve: traction_reserve(&facts.traction),
        pressure_mpa: facts.pressure_mpa,
        pressure_limit_mpa: facts.pressure_limit_mpa,
        car_speed_after_m_s: facts.car_speed_after_m_s,
        rope_life: life,
        rope_life_missing: life_missing,
        word: verdict.word,
        reason: verdict.reason.clone(),
        doubts: checks.iter().filter_map(doubt).collect(),
    }
}

/// A check that stands against the cut.
fn doubt(check: &Check) -> Option<Doubt> {
    let fails = check.status == Status::Fails && check.standing != Standing::Yardstick;
    if !fails && check.status != Status::Open {
        return None;
    }
    let concern = match check.key {
        "peak_tension"
        | "least_factor"
        | "section_stress"
        | "notch_stress"
        | "bound_factor"
        | "hardness_bound"
        | "hardness_contradiction"
        | "fatigue_factor" => Concern::Stress,
        "traction" | "traction_stalled" => Concern::Traction,
        "stations" | "walls_read" | "rope_tensions" => Concern::Survey,
        _ => Concern::Shape,
    };
    let why = check.remark.clone().unwrap_or_else(|| format!("{} does not hold.", check.name));
    Some(Doubt { key: check.key, name: check.name.clone(), status: check.status, concern, why })
}
