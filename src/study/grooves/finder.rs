//! The shape and depth with the most stress reserve, and what traction reserve it costs.
//!
//! Cheap checks shut shapes out first; coarse analyses rank the depths of the others; every shape that could still be
//! among the best, given the doubt of its estimate, gets a full check. What stays is what no other choice beats in
//! both reserves.

use super::depth_search::{DepthSearch, Ranked};
use super::depths::Worn;
use super::front::{Reserves, front};
use super::judged::{Judged, JudgedCut, Start, judge_alike, with_cut};
use super::shapes::Proposal;
use crate::material::Metal;
use crate::section::State;
use crate::study::{CheckFault, rules};
use crate::units::Kind as Quantity;
use rayon::prelude::*;
use serde::Serialize;

/// What the search found.
#[derive(Debug, Clone, Serialize)]
pub struct Search {
    /// Every shape that may be chosen, in the order of the table.
    pub ranked: Vec<Ranked>,
    /// Cuts with a full check that no other one beats in both reserves, the most stress reserve first.
    pub trade_off: Vec<JudgedCut>,
    /// Of all cuts with a full check the one with the most stress reserve that meets every check which a cut can
    /// change.
    pub best: Option<JudgedCut>,
    /// Others that meet every check and that the error bars cannot tell from the best.
    pub level_with_best: Vec<Level>,
    /// Cuts with a full check that a check of shape, wall or diameter shut out after all.
    pub set_aside: Vec<JudgedCut>,
}

/// A cut by its name and depth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Level {
    pub name: String,
    pub depth_mm: f64,
}

/// What a search starts from.
pub(super) struct Finder<'a> {
    pub worn: &'a Worn<'a>,
    pub metal: &'a Metal,
    pub safety_factor: f64,
    pub proposals: &'a [Proposal],
    /// Cuts of the comparison, and where their searches start, proposal by proposal.
    pub compared: &'a [JudgedCut],
    pub starts: &'a [Option<Start>],
    pub progress: &'a (dyn Fn(&str) + Sync),
}

impl Finder<'_> {
    /// Runs the search.
    ///
    /// # Errors
    /// When an analysis fails that should not.
    pub fn search(&self) -> Result<Search, CheckFault> {
        let eligible: Vec<usize> =
            (0..self.proposals.len()).filter(|index| self.proposals[*index].eligible).collect();
        (self.progress)("depths that each shape can be cut to, and the stress over them");
        let mut ranked =
            eligible.par_iter().map(|index| self.rank(*index)).collect::<Result<Vec<_>, CheckFault>>()?;
        // What the comparison checked in full already takes part.
        let mut confirmed: Vec<JudgedCut> =
            eligible.iter().map(|index| &self.compared[*index]).filter(|cut| fits(cut)).cloned().collect();
        let mut set_aside = Vec::new();
        let grain = self.worn.grain_mm;
        for rank in &mut ranked {
            rank.confirmed = confirmed.iter().any(|cut| {
                cut.proposal.name == rank.name
                    && rank.depth_mm.is_some_and(|depth| (cut.depth_mm - depth).abs() < 0.5 * grain)
            });
        }
        loop {
            let batch = batch(&ranked, &confirmed);
            if batch.is_empty() {
                break;
            }
            let names: Vec<&str> = batch.iter().map(|index| ranked[*index].name.as_str()).collect();
            (self.progress)(&format!("full checks of what may be best: {}", names.join(", ")));
            let cuts = batch
                .par_iter()
                .map(|index| {
                    let depth = ranked[*index].depth_mm.unwrap_or(f64::NAN);
                    judge_alike(self.worn.survey, &[&self.proposals[eligible[*index]]], depth, None)
                })
                .collect::<Result<Vec<Judged>, CheckFault>>()?;
            for (index, judged) in batch.into_iter().zip(cuts) {
                ranked[index].confirmed = true;
                for cut in judged.cuts {
                    if fits(&cut) { confirmed.push(cut) } else { set_aside.push(cut) }
                }
            }
        }
        // The best is judged at every place around the rim.
        loop {
            let search = collected(&ranked, &confirmed, &set_aside);
            let limited = search.best.as_ref().filter(|best| !best.all_places);
            let Some(best) = limited else { return Ok(search) };
            let again = judge_alike(self.worn.survey, &[&best.proposal], best.depth_mm, None)?;
            confirmed.retain(|cut| cut.proposal != best.proposal || cut.depth_mm != best.depth_mm);
            for cut in again.cuts {
                if fits(&cut) { confirmed.push(cut) } else { set_aside.push(cut) }
            }
        }
    }

    /// The depths of one shape and its estimated best.
    fn rank(&self, index: usize) -> Result<Ranked, CheckFault> {
        let proposal = &self.proposals[index];
        let mut ranked = Ranked {
            name: proposal.name.clone(),
            range: None,
            out: None,
            tried: Vec::new(),
            depth_mm: None,
            estimated_stress_reserve: None,
            relative_doubt: 0.0,
            traction_reserve: None,
            confirmed: false,
        };
        let range = match self.worn.range(&proposal.form) {
            Ok(range) => range,
            Err(why) => return Ok(Ranked { out: Some(why), ..ranked }),
        };
        let show = |mm: f64| self.worn.survey.print.show(Quantity::Length, mm);
        // A shape that could not be cut at the common depth starts from another shape's place and tensions.
        let own = self.starts[index].as_ref();
        let Some(start) = own.or_else(|| self.starts.iter().flatten().next()) else {
            return Ok(Ranked { out: Some("no shape could be analysed".into()), ..ranked });
        };
        ranked.traction_reserve = self.traction(proposal, range.from_mm, start);
        let known: Vec<Reserves> = self
            .compared
            .iter()
            .filter(|cut| cut.proposal.eligible && fits(cut))
            .filter_map(reserves)
            .collect();
        let traction = ranked.traction_reserve;
        let worth = |stress: f64| !known.iter().any(|known| known.beats(&Reserves { stress, traction }));
        let search = DepthSearch {
            worn: self.worn,
            metal: self.metal,
            safety_factor: self.safety_factor,
            start,
            own: own.is_some(),
            worth: &worth,
        };
        match search.best(proposal, &range)? {
            Some(found) => {
                ranked.depth_mm = Some(found.best.depth_mm);
                ranked.estimated_stress_reserve = Some(found.best.stress_reserve);
                ranked.tried = found.tried;
                ranked.relative_doubt = found.doubt;
            }
            None => ranked.out = Some(format!("no section can be analysed from {} on", show(range.from_mm))),
        }
        ranked.range = Some(range);
        Ok(ranked)
    }

    /// Traction follows from the shape alone: no depth changes it.
    fn traction(&self, proposal: &Proposal, depth_mm: f64, start: &Start) -> Option<f64> {
        let survey = with_cut(self.worn.survey, &proposal.form, depth_mm);
        let section = self.worn.section(&proposal.form, depth_mm, start.place)?;
        let facts = rules::facts(&survey, State::Cut, &section, &start.judged);
        super::front::traction_reserve(&facts.traction)
    }
}

fn fits(cut: &JudgedCut) -> bool {
    cut.found.as_ref().is_some_and(super::judged::Found::fits)
}

fn reserves(cut: &JudgedCut) -> Option<Reserves> {
    cut.found.as_ref().map(super::judged::Found::reserves)
}

/// The reserves of an estimate, its stress moved by `way` times its doubt.
fn estimated(ranked: &Ranked, way: f64) -> Option<Reserves> {
    let stress = ranked.estimated_stress_reserve? * (1.0 + way * ranked.relative_doubt);
    Some(Reserves { stress, traction: ranked.traction_reserve })
}

/// Shapes without a full check that nothing known beats, even if their estimates are too low.
fn batch(ranked: &[Ranked], confirmed: &[JudgedCut]) -> Vec<usize> {
    let known: Vec<Reserves> = confirmed.iter().filter_map(reserves).collect();
    let open: Vec<usize> = (0..ranked.len())
        .filter(|index| !ranked[*index].confirmed)
        .filter(|index| {
            let hoped = estimated(&ranked[*index], 1.0);
            hoped.is_some_and(|hoped| !known.iter().any(|known| known.beats(&hoped)))
        })
        .collect();
    // Of these, one that another's full check will most likely beat waits for it.
    let waits = |index: usize| {
        let hoped = estimated(&ranked[index], 1.0);
        open.iter().any(|other| {
            let sure = estimated(&ranked[*other], -1.0);
            *other != index && sure.zip(hoped).is_some_and(|(sure, hoped)| sure.beats(&hoped))
        })
    };
    open.iter().copied().filter(|index| !waits(*index)).collect()
}

fn collected(ranked: &[Ranked], confirmed: &[JudgedCut], set_aside: &[JudgedCut]) -> Search {
    let known: Vec<(Reserves, JudgedCut)> =
        confirmed.iter().filter_map(|cut| Some((reserves(cut)?, cut.clone()))).collect();
    let kept = front(&known.iter().map(|(reserves, _)| *reserves).collect::<Vec<_>>());
    let trade_off: Vec<JudgedCut> = kept.into_iter().map(|index| known[index].1.clone()).collect();
    let holding = known.iter().filter(|(_, cut)| cut.found.as_ref().is_some_and(super::judged::Found::holds));
    let best = holding.clone().max_by(|a, b| a.0.stress.total_cmp(&b.0.stress)).map(|(_, cut)| cut.clone());
    let top = best.as_ref().and_then(|best| best.found.as_ref());
    let level = |cut: &JudgedCut| {
        let (Some(top), Some(own)) = (top, cut.found.as_ref()) else { return false };
        let gap = top.stress_reserve - own.stress_reserve;
        gap > 0.0 && gap <= top.stress_reserve_bound + own.stress_reserve_bound
    };
    let level_with_best = holding
        .filter(|(_, cut)| level(cut))
        .map(|(_, cut)| Level { name: cut.proposal.name.clone(), depth_mm: cut.depth_mm })
        .collect();
    let (ranked, set_aside) = (ranked.to_vec(), set_aside.to_vec());
    Search { ranked, best, level_with_best, set_aside, trade_off }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ranked(name: &str, stress: f64, traction: f64, doubt: f64) -> Ranked {
        Ranked {
            name: name.into(),
            range: None,
            out: None,
            tried: Vec::new(),
            depth_mm: Some(10.0),
            estimated_stress_reserve: Some(stress),
            relative_doubt: doubt,
            traction_reserve: Some(traction),
            confirmed: false,
        }
    }

    #[test]
    fn only_what_can_still_be_best_is_checked_in_full() {
        let mut list = vec![
            ranked("best", 1.5, 1.0, 0.03),
            // Within the doubt of the first: it may be better.
            ranked("close", 1.46, 1.0, 0.03),
            // Beaten in both, whatever the doubt makes of it.
            ranked("beaten", 1.2, 0.9, 0.1),
            // Less stress reserve but more traction.
            ranked("other end", 1.1, 1.3, 0.03),
            Ranked { estimated_stress_reserve: None, ..ranked("shut out", 0.0, 2.0, 0.1) },
        ];
        assert_eq!(batch(&list, &[]), [0, 1, 3]);
        for index in [0, 1, 3] {
            list[index].confirmed = true;
        }
        // Should the confirmed ones have been set aside, the beaten one's turn comes.
        assert_eq!(batch(&list, &[]), [2]);
    }
}
