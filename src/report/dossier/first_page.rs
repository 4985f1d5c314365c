//! The page a shop hands out: verdict, reason, picture, three numbers, who measured, what is assumed, cautions.

use super::Dossier;
use crate::report::paper::{Block, Number, short};
use crate::report::pictures;
use crate::study::Outcome;
use crate::survey::Change;
use crate::verdict::{Check, Status};

/// Checks whose numbers matter most where nothing else decides; the one with the least room follows.
const USUAL: [&str; 2] = ["peak_tension", "wall"];
/// Assumptions that find room on the page, and beside a long reason.
const MOST: [usize; 2] = [4, 2];
/// Letters of a name in the title.
const TITLE: usize = 48;
/// Letters of reason and advice that leave room, and the most of any one text; all of it stands in the appendix.
const ROOMY: usize = 420;
const LONGEST: usize = 520;

impl Dossier<'_> {
    pub(super) fn first_page(&self) -> Vec<Block> {
        let verdict = &self.result.verdict;
        let job = &self.survey.job;
        let mut said = vec![Block::Loud(verdict.word.text().to_owned()), Block::note(self.asked())];
        said.extend(self.what_if());
        said.extend(verdict.heads.iter().map(|head| Block::text(format!("Read first: {head}"))));
        said.push(Block::text(format!("Why: {}", short(&verdict.reason, LONGEST))));
        let outcome: &Outcome = self.outcome;
        let to_do: Vec<String> = self.to_do().iter().map(|text| short(text, LONGEST)).collect();
        let said_more =
            verdict.reason.chars().count() + to_do.iter().map(|t| t.chars().count()).sum::<usize>();
        let most = MOST[usize::from(said_more > ROOMY)];
        let mut page = vec![
            Block::heading(1, format!("{} · {}", short(&job.name, TITLE), short(&job.sheave, TITLE)), "top"),
            Block::Boxed { tone: self.tone(), blocks: said },
            Block::List(to_do),
            Block::Figure(pictures::section(self.survey, outcome, self.found.as_ref())),
            Block::Numbers(self.numbers()),
            Block::note(self.measured_by()),
        ];
        page.extend(self.assumed(most));
        page.extend([
            Block::note(self.cautions()),
            Block::Beside {
                share: 0.62,
                left: vec![Block::Lines(vec!["Responsible engineer, name and signature".into()])],
                right: vec![Block::Lines(vec!["Date".into()])],
            },
        ]);
        page
    }

    /// What decided first, then what usually matters.
    pub(super) fn numbers(&self) -> Vec<Number> {
        let checks = &self.result.checks;
        let usual = |key: &&str| checks.iter().find(|check| check.key == *key);
        let deciding = || checks.iter().filter(|check| self.result.verdict.deciding.contains(&check.key));
        // Of several checks of one name, as those of traction, the one that says no.
        let said_no = |check: &&Check| matches!(check.status, Status::Fails | Status::Open);
        let mut chosen: Vec<&Check> = Vec::new();
        let holding = |check: &&Check| check.status == Status::Holds && check.key != "stations";
        let room = |check: &&Check| check.margin().unwrap_or(f64::INFINITY);
        let closest = checks.iter().filter(holding).min_by(|a, b| room(a).total_cmp(&room(b)));
        let spare = checks.iter().find(|check| check.key == "diameter_ratio");
        let decided = deciding().filter(said_no).chain(deciding());
        for check in decided.chain(USUAL.iter().filter_map(usual)).chain(closest).chain(spare) {
            if check.found.is_some() && check.limit.is_some() && chosen.iter().all(|c| c.key != check.key) {
                chosen.push(check);
            }
        }
        chosen.into_iter().take(3).map(|check| self.number(check)).collect()
    }

    fn number(&self, check: &Check) -> Number {
        let word = match check.status {
            Status::Holds => "holds",
            Status::Fails => "fails",
            Status::Open => "open",
            Status::Noted => "noted",
        };
        let value = check.found.map_or(String::new(), |found| match found.kind {
            Some(kind) => self.own(kind, found.value),
            None => super::plain(found.value),
        });
        Number { value, label: capital(&check.name), note: format!("wanted: {}; {word}", self.limit(check)) }
    }

    /// Values that were set for this run: a reader must not take the answer for one about the sheave as surveyed.
    pub(super) fn what_if(&self) -> Vec<Block> {
        const SHOWN: usize = 3;
        let set = &self.input.set;
        let one = |change: &Change| {
            let [before, after] =
                [&change.before, &change.after].map(|v| short(v.as_deref().unwrap_or("nothing"), 40));
            let path = short(&change.path, 60);
            Block::Strong(format!(
                "What if, and not as surveyed: {path} is taken as {after}; the survey says {before}."
            ))
        };
        let mut told: Vec<Block> = set.iter().take(SHOWN).map(one).collect();
        if set.len() > SHOWN {
            told.push(Block::Strong(format!(
                "And {} more values are set; see the appendix.",
                set.len() - SHOWN
            )));
        }
        told
    }

    pub(super) fn measured_by(&self) -> String {
        let job = &self.survey.job;
        let known = |value: &Option<String>| value.as_deref().map_or("(not stated)".into(), |v| short(v, 90));
        format!(
            "Measured by {} on {} with {}. Place: {}.",
            known(&job.surveyor),
            known(&job.date),
            known(&job.instruments),
            known(&job.location)
        )
    }

    fn assumed(&self, most: usize) -> Vec<Block> {
        let all = &self.result.assumptions;
        let mut blocks = vec![Block::note(if all.is_empty() {
            "Nothing is assumed.".to_owned()
        } else {
            format!("Assumed, not measured ({} in all, every one in the appendix):", all.len())
        })];
        blocks.extend(all.iter().take(most).map(|text| Block::note(format!("– {}", short(text, 190)))));
        if !self.result.missing.is_empty() {
            let missing = self.result.missing.len();
            blocks.push(Block::note(format!(
                "Left out of the judgement for want of measurements: {missing}; see the appendix."
            )));
        }
        blocks
    }

    pub(super) fn cautions(&self) -> String {
        let told: Vec<&str> = [0, 2, 5]
            .iter()
            .filter_map(|index| self.result.cautions.get(*index).map(String::as_str))
            .collect();
        format!("Cautions. {} This page certifies nothing.", told.join(" "))
    }
}

/// Words with their first letter large.
pub(super) fn capital(name: &str) -> String {
    // A symbol keeps its own case: n is not N.
    if !name.chars().nth(1).is_some_and(char::is_lowercase) {
        return name.to_owned();
    }
    let mut letters = name.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
