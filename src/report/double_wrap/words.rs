//! What is said of the tensions between the passes, sentence by sentence and row by row, for every page.

use crate::hoist::double_wrap::{History, Pass, Run, Steady};
use crate::study::double_wrap::{Combination, DoubleResult, Tensions, WheelUnder};
use crate::survey::Survey;
use crate::units::{Kind, PrintUnits};
use crate::verdict::Word;
use std::f64::consts::TAU;
use std::fmt::Write as _;

/// Rows of the table of a cycle.
const CYCLE_ROWS: usize = 12;

/// Heads of the tensions' table.
pub(in crate::report) const TENSION_HEADS: [&str; 7] = [
    "ropes",
    "car / counterweight",
    "by friction",
    "both passes driving",
    "√(T1·T2)",
    "creep, car up / down",
    "measured",
];

pub(in crate::report) const GOVERNS: &str =
    "* governs its sheave: the worst word, and of equal ones the least factor.";

/// Both sheaves' result in the survey's own units.
pub(in crate::report) struct Words<'a> {
    pub survey: &'a Survey,
    pub result: &'a DoubleResult,
}

impl Words<'_> {
    fn print(&self) -> &PrintUnits {
        &self.survey.print
    }

    pub fn force(&self, n: f64) -> String {
        self.print().show(Kind::Force, n)
    }

    /// A force in the survey's own unit alone, for tables.
    pub fn number(&self, n: f64) -> String {
        self.print().number(Kind::Force, n)
    }

    pub fn unit(&self) -> &'static str {
        self.print().name(Kind::Force)
    }

    pub fn combination_heads(&self) -> [String; 7] {
        [
            "tension between the passes".into(),
            format!("between the passes, mean [{}]", self.unit()),
            "sheave".into(),
            format!("shaft load [{}]", self.unit()),
            format!("tension [{}]", self.print().name(Kind::Stress)),
            "factor".into(),
            "verdict".into(),
        ]
    }

    /// A row for each sheave under each tension; what governs its sheave has an asterisk.
    pub fn combination_rows(&self) -> Vec<Vec<String>> {
        let governing = self.result.governing;
        let mut rows = Vec::new();
        for (index, combination) in self.result.combinations.iter().enumerate() {
            let list = [
                ("drive", Some(&combination.drive), governing.drive == index),
                ("secondary", combination.secondary.as_ref(), governing.secondary == Some(index)),
            ];
            for (sheave, under, governs) in list {
                let Some(under) = under else { continue };
                let first = sheave == "drive";
                rows.push(vec![
                    if first { combination.name.to_owned() } else { String::new() },
                    if first { self.number(mean_between_n(combination)) } else { String::new() },
                    format!("{sheave}{}", if governs { " *" } else { "" }),
                    self.number(under.pulls_n),
                    self.print().number(Kind::Stress, under.peak_mpa),
                    format!("{:.2}", under.least_factor),
                    short_word(under.word).to_owned(),
                ]);
            }
        }
        rows
    }

    pub fn equilibrium(&self) -> String {
        let wheels = |c: &Combination| -> Vec<WheelUnder> {
            [Some(c.drive.clone()), c.secondary.clone()].into_iter().flatten().collect()
        };
        let all: Vec<WheelUnder> = self.result.combinations.iter().flat_map(wheels).collect();
        let gap = all.iter().map(|w| w.relative_resultant_gap).fold(0.0, f64::max);
        let governing = &self.result.combinations[self.result.governing.drive];
        let wrap = self.survey.double_wrap.as_ref().map_or([0.0; 2], |wrap| wrap.wrap_rad);
        let mut text = format!(
            "Equilibrium, {}: T1 + 2·Ti + T2 over all ropes is {}, which the drive sheave's shaft would take from two half turns; wraps of {:.0}° and {:.0}° give {} as a vector sum, and the shaft of the elastic solution answers with {}.",
            governing.name,
            self.force(governing.plain_sum_n),
            wrap[0].to_degrees(),
            wrap[1].to_degrees(),
            self.force(governing.drive.pulls_n),
            self.force(governing.drive.reaction_n),
        );
        if let (Some(pull), Some(under)) = (governing.secondary_pull_n, &governing.secondary) {
            let _ = write!(
                text,
                " Secondary sheave: 2·Ti·sin(α/2) is {}, its shaft answers with {}.",
                self.force(pull),
                self.force(under.reaction_n)
            );
        } else if let Some(pull) = governing.secondary_pull_n {
            let _ = write!(text, " Secondary sheave: 2·Ti·sin(α/2) is {}.", self.force(pull));
        }
        let _ = write!(
            text,
            " Largest gap between tractions and rope pulls in any of these analyses: {gap:.0e}; allowed 1e-6."
        );
        text
    }

    /// A row for every run of ropes that are alike, under [`TENSION_HEADS`].
    pub fn tension_rows(&self, tensions: &Tensions) -> Vec<Vec<String>> {
        let pair = |a: f64, b: f64, with: &str| format!("{} {with} {}", self.number(a), self.number(b));
        let mut rows: Vec<(usize, usize, Vec<String>)> = Vec::new();
        for (index, rope) in tensions.ropes.iter().enumerate() {
            let (bounds, [car, counterweight]) = (&rope.bounds, rope.outer_n);
            let cells = vec![
                pair(car, counterweight, "/"),
                pair(bounds.friction.low_n, bounds.friction.high_n, ".."),
                pair(bounds.driving.low_n, bounds.driving.high_n, ".."),
                self.number(bounds.equal_ratio_n),
                rope.creep.map_or("-".to_owned(), |creep| pair(creep[0].between_n, creep[1].between_n, "/")),
                rope.measured_n.map_or("-".to_owned(), |n| self.number(n)),
            ];
            match rows.last_mut() {
                Some((_, last, same)) if *same == cells => *last = index + 1,
                _ => rows.push((index + 1, index + 1, cells)),
            }
        }
        let named = |(first, last, cells): (usize, usize, Vec<String>)| {
            std::iter::once(run_of_ropes(first, last)).chain(cells).collect()
        };
        rows.into_iter().map(named).collect()
    }

    /// Arcs at the equal ratio, what a long run settles to, and how fast.
    pub fn creep(&self) -> Vec<String> {
        let Some(rope) = self.result.tensions.ropes.first() else { return Vec::new() };
        let arcs = rope.equal_ratio_arcs.map(|arc| (arc.active_rad.to_degrees(), arc.idle_rad.to_degrees()));
        let mut said = vec![format!(
            "Rope 1 at the equal ratio, friction {:.3} and {:.3}: the first pass creeps over {:.0}° and rests on {:.0}°, the second creeps over {:.0}° and rests on {:.0}°.",
            rope.friction[0], rope.friction[1], arcs[0].0, arcs[0].1, arcs[1].0, arcs[1].1
        )];
        let Some(creep) = &rope.creep else { return said };
        said.extend(creep.iter().map(|steady| self.settled(steady)));
        if let Some(span) = self.result.tensions.span {
            let turns = span.between_mm / (TAU * rope.radii_mm[0]);
            let per_tenth = 0.1 * span.stiffness_n / rope.radii_mm[0];
            said.push(format!(
                "Every {} by which the second pass lies deeper than the first lowers the tension it settles to in a run up by {}, and raises that of a run down; shallower the other way, until a pass slips.",
                self.print().show(Kind::Length, 0.1),
                self.force(per_tenth)
            ));
            said.push(format!(
                "It comes nearer to that by a factor of e every {turns:.2} turns of the sheave: free length between the passes over the pitch circle."
            ));
        }
        said
    }

    fn settled(&self, steady: &Steady) -> String {
        let slip = match steady.slipping {
            None => "no pass slips".to_owned(),
            Some(pass) => format!("the {} pass slips as a whole", ordinal(pass)),
        };
        format!(
            "Rope 1 in a long run {}: the tension between the passes settles to {}; active arcs {:.0}° and {:.0}°, {slip}.",
            way(steady.run),
            self.force(steady.between_n),
            steady.arcs[0].active_rad.to_degrees(),
            steady.arcs[1].active_rad.to_degrees()
        )
    }

    /// Rope by rope, the range of each span in the last cycle.
    pub fn range_rows(&self, history: &History) -> Vec<Vec<String>> {
        let range = |[low, high]: &[f64; 2]| format!("{} .. {}", self.number(*low), self.number(*high));
        let row = |(index, cycle): (usize, &crate::hoist::double_wrap::Cycle)| {
            std::iter::once((index + 1).to_string()).chain(cycle.range_n.iter().map(range)).collect()
        };
        history.last_cycle.iter().enumerate().map(row).collect()
    }

    pub fn history(&self, history: &History) -> String {
        let first = match history.first_slip {
            None => "No pass slips.".to_owned(),
            Some(slip) => format!(
                "The first to slip is the {} pass of rope {}, after {:.1} turns, car going {}.",
                if slip.pass == 1 { "first" } else { "second" },
                slip.rope,
                slip.turns,
                way(slip.run)
            ),
        };
        let settled = if history.settled { "repeats itself then" } else { "has not settled yet" };
        let tightest = history.tightest.tensions_n.iter().flatten().copied().fold(0.0, f64::max);
        format!(
            "{:.1} turns up and as many down, {} times; the cycle {settled}. {first} Tightest rope at any moment: {}, after {:.1} turns.",
            history.turns_per_run,
            history.cycles,
            self.force(tightest),
            history.tightest.turns
        )
    }

    pub fn cycle_heads(&self) -> [String; 6] {
        let unit = self.unit();
        [
            "turns".into(),
            "car".into(),
            format!("car's side [{unit}]"),
            format!("between the passes [{unit}]"),
            format!("counterweight's side [{unit}]"),
            "slips".into(),
        ]
    }

    /// The last cycle of a rope (from 0), a row every few steps.
    pub fn cycle_rows(&self, history: &History, rope: usize) -> Vec<Vec<String>> {
        let from = history.last_cycle_from();
        let last = history.last_samples();
        let step = last.len().div_ceil(CYCLE_ROWS).max(1);
        let row = |sample: &&crate::hoist::double_wrap::Sample| {
            let tensions = &sample.tensions_n[rope];
            let slips: Vec<&str> = sample
                .slipping
                .iter()
                .filter(|[slipping, _]| *slipping == rope + 1)
                .map(|[_, pass]| if *pass == 1 { "first pass" } else { "second pass" })
                .collect();
            vec![
                format!("{:.1}", sample.turns - from),
                way(sample.run).to_owned(),
                self.number(tensions[0]),
                self.number(tensions[1]),
                self.number(tensions[2]),
                if slips.is_empty() { "-".to_owned() } else { slips.join(", ") },
            ]
        };
        last.iter().skip(step - 1).step_by(step).map(row).collect()
    }

    pub fn basis(&self) -> Vec<String> {
        let friction = if self.result.tensions.friction_stated {
            "The friction factor is the survey's."
        } else {
            "The friction factor is the grooves' own with μ = 0.2 (EN 81-50, 5.11, the highest it counts with)."
        };
        vec![
            "Bounds: Euler–Eytelwein on each pass. Arcs: Johnson, Contact Mechanics, 8.5. Creep and history: own derivation from equilibrium, Hooke's law and the conservation of rope; the secondary sheave turns freely, no rope is stored on the arcs, car and counterweight hang from rigid ends, and their tensions do not change with the ropes' own weight along the travel.".to_owned(),
            friction.to_owned(),
            "The further load cases of a sheave keep Ti over √(T1·T2) as the rated case has it.".to_owned(),
        ]
    }
}

/// "3", or "1 to 6".
pub(in crate::report) fn run_of_ropes(first: usize, last: usize) -> String {
    if first == last { first.to_string() } else { format!("{first} to {last}") }
}

/// A verdict in a table of both sheaves.
fn short_word(word: Word) -> &'static str {
    match word {
        Word::MayBeCut | Word::MayStay => "holds",
        Word::Undecided => "undecided",
        Word::Reject => "reject",
    }
}

fn ordinal(pass: Pass) -> &'static str {
    match pass {
        Pass::First => "first",
        Pass::Second => "second",
    }
}

/// Way of the car.
pub(in crate::report) fn way(run: Run) -> &'static str {
    match run {
        Run::CarUp => "up",
        Run::CarDown => "down",
    }
}

/// Mean over the ropes.
pub(in crate::report) fn mean_between_n(combination: &Combination) -> f64 {
    let ropes = &combination.tensions.ropes_n;
    ropes.iter().map(|rope| rope[1]).sum::<f64>() / ropes.len() as f64
}
