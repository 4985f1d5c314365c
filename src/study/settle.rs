//! Which slot-corner radius, or which depth of cut, would bring a slot corner under the allowable stress.
//!
//! A safeguarded search at the governing place, with the judged rope tensions, on the check's coarse mesh drawn over
//! to every value tried: the same triangles err alike, so that what the check's finest mesh found at the stated value
//! corrects them all. The proposed value is confirmed by a full analysis with its error bar. Owns stress alone: wall,
//! diameter and whether a shallower cut still cleans the groove are checked when the survey is run again with it.
//! Units: mm, MPa.

use super::analysis::{Series, analyse};
use super::build::Built;
use super::hottest::{Placement, place_hottest_rope};
use super::refine::{Coarse, judge_first, refine};
use super::sketch::Sketch;
use super::{CheckFault, ThroughWall};
use crate::elastic::ElasticFault;
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::section::{Place, Section, State, cut_depth_mm, tags};
use crate::survey::{Cut, GrooveShape, Survey};
use rayon::prelude::*;
use serde::Serialize;

/// Searches stop when the stress is this near under its aim (relative).
const NEAR: f64 = 0.01;
/// Shares of the way from the stated to the furthest value that are scanned for a first bracket.
const SCAN: [f64; 4] = [0.1, 0.3, 0.6, 1.0];
/// Most values tried to narrow the bracket, before each confirmation.
const MOST_TRIES: usize = 4;

/// What is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lever {
    /// Radius of the slot's corners, at the stated depth.
    CornerRadius,
    /// Depth of the cut, at the stated radius.
    CutDepth,
}

/// The answer for one lever.
#[derive(Debug, Clone, Serialize)]
pub struct Settled {
    pub lever: Lever,
    pub stated_mm: f64,
    /// The furthest value that the groove allows: the largest radius, or the depth of the worst seat.
    pub furthest_mm: f64,
    /// The value that settles it; `None` when none up to the furthest does.
    pub proposed_mm: Option<f64>,
    /// The proposed value, or the best of those tried, to which the stresses below belong (MPa).
    pub analysed_mm: f64,
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub section_mpa: Option<f64>,
    /// Values that were analysed, with the highest tension of each as the search estimates it.
    pub tried: Vec<Tried>,
}

#[derive(Debug, Clone, Copy, Serialize)]
pub struct Tried {
    pub value_mm: f64,
    pub peak_mpa: f64,
}

/// What stays the same through a search.
pub(super) struct Settling<'a> {
    pub survey: &'a Survey,
    pub place: &'a Place,
    pub metal: &'a Metal,
    pub judged: &'a LoadCase,
    /// All places around the rim, and the rated load before the hottest rope was placed.
    pub around: &'a [Place],
    pub rated: &'a LoadCase,
    pub allowable_mpa: f64,
    /// The coarse mesh of all places.
    pub sketch: &'a Sketch,
    /// Peak of the judged section, and what the coarse mesh gave for it.
    pub peak_mpa: f64,
    pub coarse_mpa: f64,
}

impl Settling<'_> {
    /// Radius and depth that would settle a peak at a slot corner. Empty without a cut: the corner of a
    /// groove that stays cannot be chosen.
    ///
    /// # Errors
    /// When an analysis fails that should not.
    pub fn advice(&self) -> Result<Vec<Settled>, CheckFault> {
        let (Some(depth), Some(radius)) = (cut_depth_mm(self.survey), self.corner_radius()) else {
            return Ok(Vec::new());
        };
        let worst = self.survey.grooves.seat_depth_mm.iter().fold(0.0f64, |a, b| a.max(*b));
        let largest = self.largest_radius(radius);
        let mut levers = vec![(Lever::CornerRadius, radius, largest), (Lever::CutDepth, depth, worst)];
        levers.retain(|(_, stated, furthest)| (furthest - stated).abs() >= self.grain_mm());
        let found =
            levers.into_par_iter().map(|(lever, stated, furthest)| self.search(lever, stated, furthest));
        Ok(found.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
    }

    fn grain_mm(&self) -> f64 {
        super::deepest::grain_mm(&self.survey.print)
    }

    /// Corner radius of the slots as they are cut, where all have the same.
    fn corner_radius(&self) -> Option<f64> {
        let grooves = &self.survey.grooves;
        let radius = |shape: &GrooveShape| match shape {
            GrooveShape::Undercut { slot_corner_radius_mm, .. } => Some(*slot_corner_radius_mm),
            _ => None,
        };
        if let Some(shape) = &grooves.cut_to {
            return radius(shape);
        }
        let all: Vec<Option<f64>> = grooves.now.iter().map(radius).collect();
        let first = *all.first()?;
        all.iter().all(|other| *other == first).then_some(first).flatten()
    }

    fn changed(&self, lever: Lever, value: f64) -> Survey {
        let mut survey = self.survey.clone();
        match lever {
            Lever::CutDepth => survey.cut = Cut::ToDepth { depth_mm: value },
            Lever::CornerRadius => {
                let grooves = &mut survey.grooves;
                for shape in grooves.now.iter_mut().chain(grooves.cut_to.as_mut()) {
                    if let GrooveShape::Undercut { slot_corner_radius_mm, .. } = shape {
                        *slot_corner_radius_mm = value;
                    }
                }
            }
        }
        survey
    }

    /// The largest radius that every slot has room for: asked for more, a section keeps to half its slot's width, at
    /// which the two corners meet.
    fn largest_radius(&self, stated: f64) -> f64 {
        let reach = self.survey.rim.width_mm;
        let Ok(section) = Section::build(&self.changed(Lever::CornerRadius, reach), State::Cut, self.place)
        else {
            return stated;
        };
        let outline = &section.outline;
        let corners = outline.edges().filter(|edge| outline.tag_name(edge).starts_with(tags::SLOT_CORNER));
        corners.filter_map(crate::geometry::Edge::radius).fold(reach, f64::min)
    }

    /// The highest tension that a value would leave, noted; infinite where none can be drawn or meshed.
    fn peak(&self, search: &mut Search, value: f64) -> Result<f64, CheckFault> {
        let survey = self.changed(search.lever, value);
        let Ok(section) = Section::build(&survey, State::Cut, self.place) else { return Ok(f64::INFINITY) };
        let Some(coarse) = meshed(self.coarse(&survey, &section, &search.case))? else {
            return Ok(f64::INFINITY);
        };
        let peak_mpa = coarse.step.peak_mpa * self.peak_mpa / self.coarse_mpa;
        search.tried.push(Tried { value_mm: value, peak_mpa });
        Ok(peak_mpa)
    }

    fn coarse(&self, survey: &Survey, section: &Section, case: &LoadCase) -> Result<Coarse, CheckFault> {
        let (case, grid) = (std::slice::from_ref(case), self.sketch.grid(section));
        Ok(Coarse::of(&analyse(survey, section, self.metal, case, grid, Series::Compare)?))
    }

    /// The judged tensions with the hottest rope where a check of the changed survey would put it.
    fn placed(&self, survey: &Survey) -> Result<Placement, CheckFault> {
        let build = |place: &Place| Section::build(survey, State::Cut, place);
        let built: Vec<Built> = self.around.iter().map(build).collect();
        place_hottest_rope(survey, self.metal, self.rated, &built, self.sketch, &|_| ())
    }

    /// A value with its full analysis: peak, bar, and section stress with its bar.
    fn confirmed(&self, search: &mut Search, value: f64) -> Result<Option<Confirmed>, CheckFault> {
        if let Some((_, known)) = search.confirmed.iter().find(|(confirmed, _)| *confirmed == value) {
            return Ok(Some(*known));
        }
        let survey = self.changed(search.lever, value);
        let Ok(section) = Section::build(&survey, State::Cut, self.place) else { return Ok(None) };
        // Another groove may take the hottest rope worst by now; the search goes on with that one.
        let Some(placement) = meshed(self.placed(&survey))? else { return Ok(None) };
        let mut rivals = placement.rival_cases(&survey, self.rated);
        let mut case = placement.judged;
        let known = loop {
            let Some(coarse) = meshed(self.coarse(&survey, &section, &case))? else { return Ok(None) };
            let first = judge_first(&survey, &section, self.metal, &case, &rivals, &coarse);
            let Some(first) = meshed(first)? else { return Ok(None) };
            match first.worst_case().checked_sub(1) {
                None => break (coarse, first.alone()),
                Some(worse) => case = std::mem::take(&mut rivals).swap_remove(worse),
            }
        };
        let refined = refine(&survey, &section, self.metal, &case, known, self.allowable_mpa)?;
        search.case = case;
        let peak = refined.analysis.tension[0];
        let wall = ThroughWall::at(&refined.analysis.solution, &section, 0, &peak);
        let confirmed = Confirmed {
            peak_mpa: refined.analysis.peak_mpa(),
            bound_mpa: refined.bound_mpa,
            section_mpa: wall.as_ref().map(|wall| wall.section_mpa),
            section_top_mpa: wall.map_or(0.0, |wall| wall.section_mpa + wall.section_bound_mpa),
        };
        search.confirmed.push((value, confirmed));
        Ok(Some(confirmed))
    }

    /// From the stated value towards the furthest: the first bracket in which the stress falls under the
    /// allowable, narrowed by false position. It scans first, for a corner can also be made too round: the
    /// stress may rise again before the furthest value, and the least change is what a shop wants. `None` where no
    /// value can be analysed.
    fn search(&self, lever: Lever, stated: f64, furthest: f64) -> Result<Option<Settled>, CheckFault> {
        let (case, tried, confirmed) = (self.judged.clone(), Vec::new(), Vec::new());
        let mut search = Search { lever, stated, furthest, case, tried, confirmed };
        search.tried.push(Tried { value_mm: stated, peak_mpa: self.peak_mpa });
        // The bar of a first proposal is not known: the aim leaves the tolerance of the refinement.
        let mut aim = (1.0 - NEAR) * self.allowable_mpa;
        let mut over = (stated, self.peak_mpa);
        for share in SCAN {
            let value = search.grained(stated + share * (furthest - stated), self.grain_mm());
            if (value - stated).abs() <= (over.0 - stated).abs() {
                continue;
            }
            let peak = self.peak(&mut search, value)?;
            if peak > aim {
                over = (value, peak);
                continue;
            }
            let mut under = (value, peak);
            let value = self.root(&mut search, aim, &mut over, &mut under)?;
            let Some(found) = self.confirmed(&mut search, value)? else { continue };
            if found.holds(self.allowable_mpa) {
                return Ok(Some(found.settled(search, Some(value), value)));
            }
            // Further on, aiming lower by as much as it missed and a little more.
            aim -= found.miss(self.allowable_mpa) + 0.5 * NEAR * self.allowable_mpa;
            over = (value, found.peak_mpa.max(self.allowable_mpa));
        }
        let mut lowest = search.tried[1..].to_vec();
        lowest.sort_by(|a, b| a.peak_mpa.total_cmp(&b.peak_mpa));
        for best in lowest.iter().map(|tried| tried.value_mm) {
            if let Some(found) = self.confirmed(&mut search, best)? {
                let proposed = found.holds(self.allowable_mpa).then_some(best);
                return Ok(Some(found.settled(search, proposed, best)));
            }
        }
        Ok(None)
    }

    /// Narrows the bracket until its far end lies just under `aim` or next to its near end; the far end
    /// is the answer.
    fn root(
        &self,
        search: &mut Search,
        aim: f64,
        over: &mut (f64, f64),
        under: &mut (f64, f64),
    ) -> Result<f64, CheckFault> {
        let mut stalled = 0;
        let grain = self.grain_mm();
        for _ in 0..MOST_TRIES {
            let near = under.1 >= aim - NEAR * self.allowable_mpa;
            if near || (under.0 - over.0).abs() < 1.5 * grain {
                break;
            }
            // Aimed a little below, because only values under the aim can be the answer.
            let share = (over.1 - aim + 0.3 * NEAR * self.allowable_mpa) / (over.1 - under.1);
            let share = if stalled >= 2 || !share.is_finite() { 0.5 } else { share.clamp(0.05, 0.95) };
            let value = search.grained(over.0 + share * (under.0 - over.0), grain);
            if (value - under.0).abs() < 0.5 * grain {
                break;
            }
            let found = self.peak(search, value)?;
            stalled = if found > aim { stalled + 1 } else { 0 };
            if found > aim { *over = (value, found) } else { *under = (value, found) }
        }
        Ok(under.0)
    }
}

/// A shape that cannot be meshed is no answer, and no reason to give up the check.
fn meshed<T>(found: Result<T, CheckFault>) -> Result<Option<T>, CheckFault> {
    match found {
        Err(CheckFault::Elastic(ElasticFault::Mesh(_))) => Ok(None),
        found => found.map(Some),
    }
}

/// One lever's search with what it has tried.
struct Search {
    lever: Lever,
    stated: f64,
    furthest: f64,
    /// The judged tensions, with the hottest rope where the last confirmation put it.
    case: LoadCase,
    tried: Vec<Tried>,
    confirmed: Vec<(f64, Confirmed)>,
}

impl Search {
    /// The next whole multiple of the grain away from the stated value, so that rounding undoes nothing.
    fn grained(&self, value: f64, grain: f64) -> f64 {
        let steps = value / grain;
        if self.furthest > self.stated {
            ((steps - 1e-6).ceil() * grain).min(self.furthest)
        } else {
            ((steps + 1e-6).floor() * grain).max(self.furthest)
        }
    }
}

/// A full analysis of one value.
#[derive(Debug, Clone, Copy)]
struct Confirmed {
    peak_mpa: f64,
    bound_mpa: f64,
    section_mpa: Option<f64>,
    section_top_mpa: f64,
}

impl Confirmed {
    fn miss(&self, allowable_mpa: f64) -> f64 {
        (self.peak_mpa + self.bound_mpa).max(self.section_top_mpa) - allowable_mpa
    }

    fn holds(&self, allowable_mpa: f64) -> bool {
        self.miss(allowable_mpa) < 0.0
    }

    fn settled(self, search: Search, proposed_mm: Option<f64>, analysed_mm: f64) -> Settled {
        let Self { peak_mpa, bound_mpa, section_mpa, .. } = self;
        let Search { lever, stated: stated_mm, furthest: furthest_mm, tried, .. } = search;
        Settled {
            lever,
            stated_mm,
            furthest_mm,
            proposed_mm,
            analysed_mm,
            peak_mpa,
            bound_mpa,
            section_mpa,
            tried,
        }
    }
}
