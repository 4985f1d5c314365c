//! The verdict in plain words: what to do, and why.

use super::Dossier;
use crate::report::paper::Tone;
use crate::section::State;
use crate::units::Kind as Quantity;
use crate::verdict::Word;

impl Dossier<'_> {
    pub(super) fn tone(&self) -> Tone {
        match self.result.verdict.word {
            Word::MayBeCut | Word::MayStay => Tone::Favourable,
            Word::Reject => Tone::Refusal,
            Word::Undecided => Tone::Open,
        }
    }

    pub(super) fn asked(&self) -> String {
        match (self.result.state, self.result.cut_depth_mm) {
            (State::Cut, Some(depth)) => format!(
                "Asked: may all grooves be cut to {} below the rim's edge?",
                self.show(Quantity::Length, depth)
            ),
            _ => "Asked: may the sheave stay as it is? No cut was planned.".to_owned(),
        }
    }

    /// What an owner does next, one sentence each.
    pub(super) fn to_do(&self) -> Vec<String> {
        let verdict = &self.result.verdict;
        let cut = self.result.state == State::Cut;
        let mut list = Vec::new();
        match verdict.word {
            Word::MayBeCut => {
                if let Some(depth) = self.result.cut_depth_mm {
                    list.push(format!(
                        "Cut every groove to {} below the rim's edge, to the groove shape of the survey, and not deeper.",
                        self.show(Quantity::Length, depth)
                    ));
                }
                list.push("Look for cracks and holes before and after the cut. Stop and ask when one shows, or when a wall measures less than this page says.".into());
            }
            Word::MayStay => {
                list.push("Nothing here asks for a cut or a new sheave as it was measured. Measure again as it wears.".into());
            }
            Word::Reject if cut => {
                list.push("Do not make this cut. A check that is not a matter of opinion says no.".into());
                list.push("Ask the responsible engineer what comes instead: another groove, a shallower cut, or a new sheave.".into());
            }
            Word::Reject => {
                list.push(
                    "Do not go on with the sheave as it is before the responsible engineer has seen this."
                        .into(),
                );
            }
            Word::Undecided => {
                let what = if cut { "Do not cut yet." } else { "Do not rely on the sheave yet." };
                list.push(format!("{what} A measurement, a rule of practice or the engineer's own judgement is still wanted."));
            }
        }
        list.extend(verdict.settle.iter().take(2).map(|settle| format!("To settle it: {settle}")));
        list
    }
}
