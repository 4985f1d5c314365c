//! The page that is handed out for both sheaves: one word, what decides it, and what nobody has measured.

use super::super::Dossier;
use super::Pair;
use crate::report::double_wrap::mean_between_n;
use crate::report::paper::pdf::page_count;
use crate::report::paper::{Block, Document, Number, Paper, Tone, short};
use crate::report::pictures;
use crate::section::State;
use crate::study::double_wrap::{Combination, Wheel, WheelUnder};
use crate::units::Kind as Quantity;
use crate::verdict::Word;

/// Letters of a name in the title.
const TITLE: usize = 48;

/// How much the page tells; all of it stands behind it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Detail {
    /// Assumptions of each sheave.
    assumptions: usize,
    /// Letters of any one text.
    longest: usize,
    /// Height of the drawn iron (px).
    tall: f64,
}

/// The first that fits on one page is taken.
const DETAILS: [Detail; 7] = [
    Detail { assumptions: 2, longest: 420, tall: 240.0 },
    Detail { assumptions: 1, longest: 420, tall: 240.0 },
    Detail { assumptions: 0, longest: 420, tall: 240.0 },
    Detail { assumptions: 0, longest: 420, tall: 130.0 },
    Detail { assumptions: 0, longest: 260, tall: 130.0 },
    Detail { assumptions: 0, longest: 180, tall: 80.0 },
    Detail { assumptions: 0, longest: 110, tall: 50.0 },
];

impl Pair<'_> {
    /// The page with as much on it as one page of this paper holds.
    ///
    /// Measured as PDF; a browser takes about as much, and the outside check of reports looks that it fits there.
    pub(super) fn first_page(&self, paper: Paper) -> Vec<Block> {
        let fits = |detail: &&Detail| {
            let blocks = self.told(**detail);
            let page = Document {
                title: String::new(),
                foot: String::new(),
                id: String::new(),
                blocks,
                script: None,
            };
            page_count(&page, paper).is_ok_and(|pages| pages == 1)
        };
        self.told(*DETAILS.iter().find(fits).unwrap_or(&DETAILS[DETAILS.len() - 1]))
    }

    fn told(&self, detail: Detail) -> Vec<Block> {
        let Detail { assumptions, longest, tall } = detail;
        let verdict = &self.double.verdict;
        let job = &self.drive.survey.job;
        let (deciding, _) = self.deciding();
        let mut said = vec![Block::Loud(verdict.word.text().to_owned()), Block::note(self.asked())];
        said.extend(self.drive.what_if());
        said.extend(
            verdict.heads.iter().map(|head| Block::text(format!("Read first: {}", short(head, longest)))),
        );
        said.push(Block::text(format!("Why: {}", short(&verdict.reason, longest))));
        said.push(Block::text(short(&self.decides(), longest)));
        let to_do: Vec<String> = self.to_do().iter().map(|text| short(text, longest)).collect();
        let tone = match verdict.word {
            Word::MayBeCut | Word::MayStay => Tone::Favourable,
            Word::Reject => Tone::Refusal,
            Word::Undecided => Tone::Open,
        };
        let mut figure =
            pictures::section_no_taller(deciding.survey, deciding.outcome, deciding.found.as_ref(), tall);
        figure.caption = format!("{}: {}", capital(name(deciding)), small(&figure.caption));
        let mut page = vec![
            Block::heading(1, format!("{} · {}", short(&job.name, TITLE), short(&job.sheave, TITLE)), "top"),
            Block::Boxed { tone, blocks: said },
            Block::List(to_do),
            Block::Figure(figure),
            Block::Numbers(self.numbers()),
            Block::note(self.measured_by(longest.min(260))),
            Block::note(self.between_known()),
        ];
        page.extend(self.assumed(assumptions));
        page.extend([
            Block::note(self.drive.cautions()),
            Block::Beside {
                share: 0.62,
                left: vec![Block::Lines(vec!["Responsible engineer, name and signature".into()])],
                right: vec![Block::Lines(vec!["Date".into()])],
            },
        ]);
        page
    }

    fn dossiers(&self) -> impl Iterator<Item = &Dossier<'_>> {
        std::iter::once(&self.drive).chain(&self.secondary)
    }

    fn asked(&self) -> String {
        let one = |dossier: &Dossier<'_>| {
            let asked = match (dossier.result.state, dossier.result.cut_depth_mm) {
                (State::Cut, Some(depth)) => {
                    format!("cut to {}", dossier.show(Quantity::Length, depth))
                }
                _ => "as it is, no cut".to_owned(),
            };
            format!("{} {asked}", name(dossier))
        };
        let all: Vec<String> = self.dossiers().map(one).collect();
        let left_out = if self.secondary.is_none() { "; the secondary sheave has no survey" } else { "" };
        format!("Double wrap: one word for both sheaves. Asked: {}{left_out}.", all.join("; "))
    }

    /// Which sheave decides, under which tension, and what the other one says.
    fn decides(&self) -> String {
        let (deciding, other) = self.deciding();
        let combination = self.governing(wheel(deciding));
        let mut text = format!(
            "What decides: the {} under the tension between the passes \"{}\", {} per rope in the mean.",
            name(deciding),
            combination.name,
            self.words().force(mean_between_n(combination))
        );
        let here = |c: &Combination| match wheel(deciding) {
            Wheel::Drive => Some(c.drive.word),
            Wheel::Secondary => c.secondary.as_ref().map(|under| under.word),
        };
        if self.double.combinations.iter().all(|c| here(c) == Some(Word::Reject)) {
            text += " It fails under every other one as well.";
        }
        if let Some(other) = other {
            let own = self.governing(wheel(other));
            let says = match other.result.verdict.word {
                Word::MayBeCut | Word::MayStay => "holds under every one of them",
                Word::Reject if own.tensions.reached => "fails as well",
                _ => "leaves something open as well",
            };
            text += &format!(" The {} {says} (worst: {}).", name(other), own.name);
        }
        let holds = |under: &WheelUnder| holds_all(under.word);
        let both = |c: &&Combination| holds(&c.drive) && c.secondary.as_ref().is_some_and(holds);
        let hold: Vec<&str> = self.double.combinations.iter().filter(both).map(|c| c.name).collect();
        if !holds_all(self.double.verdict.word) && !hold.is_empty() {
            text += &format!(" Both hold under: {}.", hold.join("; "));
        }
        text
    }

    fn to_do(&self) -> Vec<String> {
        let verdict = &self.double.verdict;
        let cut = self.dossiers().any(|dossier| dossier.result.state == State::Cut);
        let mut list = Vec::new();
        match verdict.word {
            Word::MayBeCut => {
                for dossier in self.dossiers() {
                    if let (State::Cut, Some(depth)) = (dossier.result.state, dossier.result.cut_depth_mm) {
                        list.push(format!(
                            "Cut every groove of the {} to {} below its rim's edge, to the groove shape of its survey, and not deeper.",
                            name(dossier),
                            dossier.show(Quantity::Length, depth)
                        ));
                    }
                }
                list.push("Look for cracks and holes before and after the cut. Stop and ask when one shows, or when a wall measures less than this report says.".into());
            }
            Word::MayStay => list.push("Nothing here asks for a cut or a new sheave as both were measured. Measure again as they wear.".into()),
            Word::Reject if cut => list.push("Do not make this cut. A check that is not a matter of opinion says no; ask the responsible engineer what comes instead.".into()),
            Word::Reject => list.push("Do not go on with these sheaves as they are before the responsible engineer has seen this.".into()),
            Word::Undecided => {
                let what = if cut { "Do not cut yet." } else { "Do not rely on these sheaves yet." };
                list.push(format!("{what} A measurement, a rule of practice or the engineer's own judgement is still wanted."));
            }
        }
        list.extend(verdict.settle.iter().take(2).map(|settle| format!("To settle it: {settle}")));
        list
    }

    /// What decides on the sheave that decides, the same of the other one, and the tension between the passes.
    pub(super) fn numbers(&self) -> Vec<Number> {
        let (deciding, other) = self.deciding();
        let named = |dossier: &Dossier<'_>, number: Number| Number {
            label: format!("{}: {}", capital(name(dossier)), small(&number.label)),
            ..number
        };
        let mut own = deciding.numbers().into_iter().map(|number| named(deciding, number));
        let mut numbers: Vec<Number> = own.next().into_iter().collect();
        let others = other.map(|other| (other, other.numbers()));
        let second = others.and_then(|(other, list)| Some(named(other, list.into_iter().next()?)));
        numbers.extend(second.or_else(|| own.next()));
        numbers.push(self.between_number(wheel(deciding)));
        numbers
    }

    fn between_number(&self, wheel: Wheel) -> Number {
        let words = self.words();
        let combination = self.governing(wheel);
        let ropes = &self.double.tensions.ropes;
        let low = ropes.iter().map(|rope| rope.bounds.friction.low_n).fold(f64::INFINITY, f64::min);
        let high = ropes.iter().map(|rope| rope.bounds.friction.high_n).fold(0.0, f64::max);
        Number {
            value: format!("{} {}", words.number(mean_between_n(combination)), words.unit()),
            label: "Between the passes, per rope".into(),
            note: format!(
                "{}; friction lets it be {} to {} {}; {}",
                combination.name,
                words.number(low),
                words.number(high),
                words.unit(),
                if self.is_measured() { "measured" } else { "not measured" }
            ),
        }
    }

    fn is_measured(&self) -> bool {
        self.double.tensions.ropes.iter().all(|rope| rope.measured_n.is_some())
    }

    /// The one thing that statics leave open, in words for an owner.
    fn between_known(&self) -> String {
        let ways: Vec<&str> = self.double.combinations.iter().map(|combination| combination.name).collect();
        let measured = if self.is_measured() {
            "It was measured, and the other ways are judged beside it"
        } else {
            "It was not measured, so both sheaves are judged under every one that can be told"
        };
        let friction = if self.double.tensions.friction_stated {
            "the survey's"
        } else {
            "not measured, the grooves' own with μ = 0.2"
        };
        format!(
            "How tight a rope is between its two passes over the drive sheave does not follow from the masses. {measured}: {}. Friction factor: {friction}.",
            ways.join("; ")
        )
    }

    fn measured_by(&self, longest: usize) -> String {
        let one = |dossier: &Dossier<'_>| short(&small(&dossier.measured_by()), longest);
        match &self.secondary {
            Some(secondary) if secondary.measured_by() == self.drive.measured_by() => {
                format!("Both sheaves: {}", one(&self.drive))
            }
            Some(secondary) => {
                format!("Drive sheave: {} Secondary sheave: {}", one(&self.drive), one(secondary))
            }
            None => capital(&one(&self.drive)),
        }
    }

    fn assumed(&self, most: usize) -> Vec<Block> {
        let mut blocks = Vec::new();
        for dossier in self.dossiers() {
            let (all, missing) = (&dossier.result.assumptions, dossier.result.missing.len());
            let left_out = match missing {
                0 => String::new(),
                count => format!(", {count} left out of the judgement for want of measurements"),
            };
            blocks.push(Block::note(format!(
                "Assumed of the {}, not measured: {} in all{left_out}; every one in its part.",
                name(dossier),
                all.len()
            )));
            blocks.extend(all.iter().take(most).map(|text| Block::note(format!("– {}", short(text, 170)))));
        }
        blocks
    }
}

fn holds_all(word: Word) -> bool {
    matches!(word, Word::MayBeCut | Word::MayStay)
}

fn wheel(dossier: &Dossier<'_>) -> Wheel {
    if dossier.wheel == Some(Wheel::Secondary.name()) { Wheel::Secondary } else { Wheel::Drive }
}

fn name(dossier: &Dossier<'_>) -> &'static str {
    wheel(dossier).name()
}

/// The first letter large, or small.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}
