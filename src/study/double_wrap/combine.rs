//! Which combination governs, and one word for both wheels.

use super::{Combination, WheelUnder};
use crate::verdict::{Verdict, Word};
use serde::Serialize;

/// One of the two wheels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Wheel {
    Drive,
    Secondary,
}

impl Wheel {
    pub fn name(self) -> &'static str {
        match self {
            Self::Drive => "drive sheave",
            Self::Secondary => "secondary sheave",
        }
    }
}

/// Indices into the combinations, from 0: which governs each wheel, and which of the two governs both.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Governing {
    #[serde(rename = "drive_index")]
    pub drive: usize,
    #[serde(rename = "secondary_index")]
    pub secondary: Option<usize>,
    pub wheel: Wheel,
}

/// How bad a word is here: a refusal under tensions that nothing says are reached is a doubt.
fn severity(combination: &Combination, under: &WheelUnder) -> u8 {
    match under.word {
        Word::MayBeCut | Word::MayStay => 0,
        Word::Undecided => 1,
        Word::Reject if !combination.tensions.reached => 1,
        Word::Reject => 2,
    }
}

/// The worst word governs, and of equal ones the least factor over the one asked for.
pub(super) fn governing(combinations: &[Combination]) -> Governing {
    let worst = |get: &dyn Fn(&Combination) -> Option<&WheelUnder>| {
        let all = combinations.iter().enumerate();
        let rated = all.filter_map(|(i, c)| get(c).map(|under| (severity(c, under), under.reserve(), i)));
        rated.min_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)))
    };
    let drive = worst(&|c| Some(&c.drive));
    let secondary = worst(&|c| c.secondary.as_ref());
    let wheel = match (drive, secondary) {
        (Some(d), Some(s)) if (s.0, -s.1) > (d.0, -d.1) => Wheel::Secondary,
        _ => Wheel::Drive,
    };
    Governing { drive: drive.map_or(0, |d| d.2), secondary: secondary.map(|s| s.2), wheel }
}

/// One word for both wheels, with the reason of the combination that governs.
pub(super) fn verdict(combinations: &[Combination], governing: Governing) -> Verdict {
    let drive = &combinations[governing.drive];
    let (combination, under) = match (governing.wheel, governing.secondary) {
        (Wheel::Secondary, Some(index)) => {
            let combination = &combinations[index];
            (combination, combination.secondary.as_ref().unwrap_or(&combination.drive))
        }
        _ => (drive, &drive.drive),
    };
    let wheel = governing.wheel.name();
    let mut settle = under.settle.clone();
    let mut heads = Vec::new();
    let (severity, name) = (severity(combination, under), combination.name);
    let mut reason = format!("{}, tension between the passes {name}: {}", capital(wheel), under.reason);
    let other = governing.secondary.and_then(|index| combinations[index].secondary.as_ref());
    let cut = drive.drive.word == Word::MayBeCut || other.is_some_and(|other| other.word == Word::MayBeCut);
    let mut word = match severity {
        // Where both hold, a cut of either is what was asked.
        0 if cut => Word::MayBeCut,
        0 => drive.drive.word,
        1 => Word::Undecided,
        _ => Word::Reject,
    };
    if under.word == Word::Reject && severity == 1 {
        heads.push("A sheave fails, but only under tensions between the passes of which nothing says that they are ever reached: the bounds of friction, or the end of a grip whose friction was not measured.".to_owned());
        settle.insert(0, "Measured friction of the grooves narrows the bounds; equal pitch diameters of both passes keep the tension between them away from the bounds, and measured tensions between the passes, or stiffness and free lengths of the ropes, show how far.".to_owned());
    }
    if drive.secondary.is_none() {
        heads.push("The secondary sheave has no survey: its wall and stress are not judged.".to_owned());
        if severity == 0 {
            word = Word::Undecided;
            reason = format!("The secondary sheave is not judged. {reason}");
            settle.insert(0, "Survey the secondary sheave and name its file under [double_wrap].".to_owned());
        }
    }
    Verdict { word, reason, deciding: under.deciding.clone(), settle, heads }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
