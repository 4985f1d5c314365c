//! The part of one sheave: what it answers under the tension that governs it, and its own report behind it.

use super::super::Dossier;
use super::Pair;
use crate::report::paper::{Block, Tone, short};
use crate::report::pictures;
use crate::study::double_wrap::Wheel;
use crate::verdict::Word;

impl<'a> Pair<'a> {
    fn dossier(&self, wheel: Wheel) -> Option<&Dossier<'a>> {
        match wheel {
            Wheel::Drive => Some(&self.drive),
            Wheel::Secondary => self.secondary.as_ref(),
        }
    }

    /// The title first; [`super::Part`] numbers it.
    pub(super) fn sheave(&self, wheel: Wheel) -> Vec<Block> {
        let (title, anchor) = match wheel {
            Wheel::Drive => ("Drive sheave", "drive"),
            Wheel::Secondary => ("Secondary sheave", "secondary"),
        };
        let Some(dossier) = self.dossier(wheel) else { return self.unjudged(title, anchor) };
        let result = dossier.result;
        let combination = self.governing(wheel);
        let words = self.words();
        let mut said = vec![
            Block::Strong(format!(
                "Judged here under the tension between the passes that governs this sheave: {}, {} per rope in the mean.",
                combination.name,
                words.force(crate::report::double_wrap::mean_between_n(combination))
            )),
            Block::text(format!("Under this tension alone: {}.", result.verdict.word.text())),
            Block::note(dossier.asked()),
        ];
        said.extend(result.verdict.heads.iter().map(|head| Block::text(format!("Read first: {head}"))));
        said.push(Block::text(format!("Why: {}", result.verdict.reason)));
        if result.verdict.word == Word::Reject && !combination.tensions.reached {
            said.push(Block::text(
                "Nothing says that this tension is ever reached: the refusal under it counts as a doubt in the word for both sheaves.",
            ));
        }
        let both = self.double.verdict.word.text();
        said.push(Block::note(format!("The word for both sheaves is {both}, and stands on the first page.")));
        let mut part = vec![
            Block::heading(2, format!("{title}: {}", short(&dossier.survey.job.sheave, 60)), anchor),
            Block::Boxed { tone: dossier.tone(), blocks: said },
            Block::Figure(pictures::section(dossier.survey, dossier.outcome, dossier.found.as_ref())),
            Block::Numbers(dossier.numbers()),
            Block::note(dossier.measured_by()),
        ];
        part.extend(dossier.appendix());
        part
    }

    fn unjudged(&self, title: &str, anchor: &str) -> Vec<Block> {
        let mut said = vec![Block::text(
            "It has no survey: its wall, its stress and its grooves are not judged, and no word is given for it.",
        )];
        if let Some(pull) = self.governing(Wheel::Drive).secondary_pull_n {
            said.push(Block::text(format!(
                "Its shaft takes {} by 2·Ti·sin(α/2), summed over the ropes, under the tension that governs the drive sheave.",
                self.words().force(pull)
            )));
        }
        said.push(Block::text(
            "To settle it: survey the secondary sheave and name its file under [double_wrap].",
        ));
        vec![Block::heading(2, title, anchor), Block::Boxed { tone: Tone::Open, blocks: said }]
    }
}
