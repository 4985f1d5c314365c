//! The depth at which one shape has the most stress reserve, by analyses on one coarse mesh drawn over to each depth.
//!
//! A coarse mesh errs alike at all depths of a shape: where a full check of the shape at one depth is known, its
//! error there corrects all others. Owns the estimate and its doubt; the result is confirmed elsewhere. Units: mm.

use super::depths::{Range, Worn};
use super::judged::{Start, with_cut};
use super::shapes::Proposal;
use crate::material::Metal;
use crate::study::CheckFault;
use crate::study::analysis::{Series, analyse};
use crate::study::sketch::Sketch;
use serde::Serialize;

/// What an estimate from the same shape's full check may be off: 5.6 % was the most on the demos, for a depth 3.5 mm
/// beyond the checked one.
const SAME_SHAPE: f64 = 0.08;
/// What a coarse mesh may be off by itself.
const COARSE: f64 = 0.12;
/// How much more reserve another depth may bring than the shallowest, before a shape counts as hopeless.
const HOPE: f64 = 1.5;
/// Shares of the range that are looked at first.
const SCAN: [f64; 4] = [0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0];
/// Further rounds, each halving the steps beside the best depth.
const ROUNDS: usize = 2;

/// One shape's depths and what was found on them.
#[derive(Debug, Clone, Serialize)]
pub struct Ranked {
    pub name: String,
    pub range: Option<Range>,
    /// Why the shape is out.
    pub out: Option<String>,
    pub tried: Vec<TriedDepth>,
    /// Depth of the most stress reserve.
    pub depth_mm: Option<f64>,
    /// Its estimated stress reserve.
    pub estimated_stress_reserve: Option<f64>,
    /// What the estimate may be off, relative.
    pub relative_doubt: f64,
    pub traction_reserve: Option<f64>,
    /// Whether a full check of that depth stands beside the estimate.
    pub confirmed: bool,
}

/// A depth with its estimated stress reserve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TriedDepth {
    pub depth_mm: f64,
    pub stress_reserve: f64,
}

/// What stays the same through one shape's search.
pub(super) struct DepthSearch<'a> {
    pub worn: &'a Worn<'a>,
    pub metal: &'a Metal,
    pub safety_factor: f64,
    /// Governing place and tensions; of this very shape where `own`.
    pub start: &'a Start,
    pub own: bool,
    /// Whether nothing known beats this stress reserve, so that looking further is worth it.
    pub worth: &'a dyn Fn(f64) -> bool,
}

impl DepthSearch<'_> {
    /// The most stress reserve over a range of depths; `None` where nothing can be analysed.
    ///
    /// # Errors
    /// When an analysis fails that should not.
    pub fn best(&self, proposal: &Proposal, range: &Range) -> Result<Option<Estimate>, CheckFault> {
        let place = self.start.place;
        let at = if self.own { self.start.depth_mm } else { range.from_mm };
        let Some(section) = self.worn.section(&proposal.form, at, place) else { return Ok(None) };
        let survey = with_cut(self.worn.survey, &proposal.form, at);
        let sketch = Sketch::new(&survey, &section, self.metal, &self.start.judged)?;
        let reserve = |depth: f64| -> Result<Option<f64>, CheckFault> {
            let survey = with_cut(self.worn.survey, &proposal.form, depth);
            let Some(section) = self.worn.section(&proposal.form, depth, place) else { return Ok(None) };
            let (case, grid) = (std::slice::from_ref(&self.start.judged), sketch.grid(&section));
            let analysis = analyse(&survey, &section, self.metal, case, grid, Series::Compare)?;
            Ok(Some(analysis.worst[0].1 / self.safety_factor))
        };
        let correction = if self.own {
            reserve(at)?.map_or(1.0, |coarse| self.start.stress_reserve / coarse)
        } else {
            1.0
        };
        let mut tried: Vec<TriedDepth> = Vec::new();
        let grain = self.worn.grain_mm;
        let look = |tried: &mut Vec<TriedDepth>, depth: f64| -> Result<(), CheckFault> {
            if tried.iter().all(|other| (other.depth_mm - depth).abs() > 0.5 * grain)
                && let Some(found) = reserve(depth)?
            {
                tried.push(TriedDepth { depth_mm: depth, stress_reserve: correction * found });
                tried.sort_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
            }
            Ok(())
        };
        for share in SCAN {
            look(&mut tried, self.grained(range, range.from_mm + share * (range.to_mm - range.from_mm)))?;
            if tried.first().is_some_and(|first| !(self.worth)(HOPE * first.stress_reserve)) {
                break;
            }
        }
        for _ in 0..ROUNDS {
            let Some(best) = best_of(&tried) else { return Ok(None) };
            // Where the reserve falls all the way from the shallowest cut there is nothing in between to find.
            if tried.windows(2).all(|pair| pair[0].stress_reserve > pair[1].stress_reserve) {
                break;
            }
            let beside = [best.checked_sub(1), Some(best + 1)].into_iter().flatten();
            let beside: Vec<f64> = beside.filter_map(|i| Some(tried.get(i)?.depth_mm)).collect();
            let own = tried[best].depth_mm;
            for other in beside {
                look(&mut tried, self.grained(range, f64::midpoint(own, other)))?;
            }
        }
        let doubt = if self.own { SAME_SHAPE } else { COARSE };
        Ok(best_of(&tried).map(|best| Estimate { best: tried[best], tried, doubt }))
    }

    /// The nearest whole multiple of the grain within the range; its ends stay as they are.
    fn grained(&self, range: &Range, depth: f64) -> f64 {
        let grain = self.worn.grain_mm;
        ((depth / grain).round() * grain).clamp(range.from_mm, range.to_mm)
    }
}

/// What a search over depth found.
pub(super) struct Estimate {
    pub best: TriedDepth,
    pub tried: Vec<TriedDepth>,
    pub doubt: f64,
}

fn best_of(tried: &[TriedDepth]) -> Option<usize> {
    (0..tried.len()).max_by(|a, b| tried[*a].stress_reserve.total_cmp(&tried[*b].stress_reserve))
}
