//! What a double wrap adds to the page of a check: one word for both sheaves, the tensions, the combinations.

use super::layout::Layout;
use crate::hoist::double_wrap::{History, Pass, Run, Steady};
use crate::study::double_wrap::{Combination, DoubleResult, Tensions, WheelUnder};
use crate::survey::Survey;
use crate::units::Kind;
use crate::verdict::Word;
use anstyle::Style;
use std::f64::consts::TAU;
use std::fmt::Write as _;

/// The part of the page before the two sheaves' own pages.
pub fn double_part(survey: &Survey, result: &DoubleResult, colour: bool, width: usize) -> String {
    let part = Part { survey, result, layout: Layout::new(colour, width) };
    let mut out = String::new();
    part.verdict(&mut out);
    part.combinations(&mut out);
    part.tensions(&mut out);
    part.creep(&mut out);
    let judged = if result.as_found.is_some() { ", as cut" } else { "" };
    if let Some(history) = &result.tensions.history {
        part.history(history, judged, &mut out);
    }
    if let Some(history) = result.as_found.as_ref().and_then(|found| found.history.as_ref()) {
        part.history(history, ", as found", &mut out);
    }
    part.basis(&mut out);
    out
}

/// The line above the page of one of the two sheaves.
pub fn sheave_line(result: &DoubleResult, secondary: bool, colour: bool, width: usize) -> String {
    let layout = Layout::new(colour, width);
    let (name, index) = match (secondary, result.governing.secondary) {
        (true, Some(index)) => ("Secondary sheave", index),
        _ => ("Drive sheave", result.governing.drive),
    };
    let text = format!(
        "{name}, under the tension between the passes that governs it: {}",
        result.combinations[index].name
    );
    let rule = "=".repeat(layout.width);
    format!("\n{rule}\n{}\n{rule}\n", layout.paint(&text, Style::new().bold()))
}

/// Rows of the table of a cycle.
const CYCLE_ROWS: usize = 12;

struct Part<'a> {
    survey: &'a Survey,
    result: &'a DoubleResult,
    layout: Layout,
}

impl Part<'_> {
    fn force(&self, n: f64) -> String {
        self.survey.print.show(Kind::Force, n)
    }

    /// A force in the survey's own unit alone, for tables.
    fn number(&self, n: f64) -> String {
        self.survey.print.number(Kind::Force, n)
    }

    fn unit(&self) -> &'static str {
        self.survey.print.name(Kind::Force)
    }

    fn verdict(&self, out: &mut String) {
        let verdict = &self.result.verdict;
        let text = self.layout.paint(verdict.word.text(), Style::new().bold());
        let _ = writeln!(out, "{text}  (double wrap: drive sheave and secondary sheave together)");
        for head in &verdict.heads {
            self.layout.paragraph(head, "! ", out);
        }
        self.layout.paragraph(&verdict.reason, "", out);
        for settle in &verdict.settle {
            self.layout.paragraph(&format!("To settle it: {settle}"), "", out);
        }
    }

    fn combinations(&self, out: &mut String) {
        self.layout.title("Both sheaves under every tension between the passes", out);
        let between = format!("between the passes, mean [{}]", self.unit());
        let load = format!("shaft load [{}]", self.unit());
        let stress = format!("tension [{}]", self.survey.print.name(Kind::Stress));
        let mut table = self.layout.table(&[
            "tension between the passes",
            &between,
            "sheave",
            &load,
            &stress,
            "factor",
            "verdict",
        ]);
        let governing = self.result.governing;
        for (index, combination) in self.result.combinations.iter().enumerate() {
            let list = [
                ("drive", Some(&combination.drive), governing.drive == index),
                ("secondary", combination.secondary.as_ref(), governing.secondary == Some(index)),
            ];
            for (sheave, under, governs) in list {
                let Some(under) = under else { continue };
                table.add_row(vec![
                    if sheave == "drive" { combination.name.to_owned() } else { String::new() },
                    if sheave == "drive" { self.number(mean_between_n(combination)) } else { String::new() },
                    format!("{sheave}{}", if governs { " *" } else { "" }),
                    self.number(under.pulls_n),
                    self.survey.print.number(Kind::Stress, under.peak_mpa),
                    format!("{:.2}", under.least_factor),
                    short(under.word).to_owned(),
                ]);
            }
        }
        let _ = writeln!(out, "{table}");
        self.layout.paragraph(
            "* governs its sheave: the worst word, and of equal ones the least factor.",
            "",
            out,
        );
        self.equilibrium(out);
    }

    fn equilibrium(&self, out: &mut String) {
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
        self.layout.paragraph(&text, "", out);
    }

    fn tensions(&self, out: &mut String) {
        let title = format!("Tension between the passes, car at rest with rated load [{}]", self.unit());
        self.layout.title(&title, out);
        let mut table = self.layout.table(&[
            "ropes",
            "car / counterweight",
            "by friction",
            "both passes driving",
            "√(T1·T2)",
            "creep, car up / down",
            "measured",
        ]);
        let pair = |a: f64, b: f64, with: &str| format!("{} {with} {}", self.number(a), self.number(b));
        let mut rows: Vec<(usize, usize, Vec<String>)> = Vec::new();
        for (index, rope) in self.result.tensions.ropes.iter().enumerate() {
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
        for (first, last, cells) in rows {
            let ropes = if first == last { first.to_string() } else { format!("{first} to {last}") };
            table.add_row(std::iter::once(ropes).chain(cells).collect::<Vec<_>>());
        }
        let _ = writeln!(out, "{table}");
    }

    fn creep(&self, out: &mut String) {
        let Some(rope) = self.result.tensions.ropes.first() else { return };
        let arcs = rope.equal_ratio_arcs.map(|arc| (arc.active_rad.to_degrees(), arc.idle_rad.to_degrees()));
        self.layout.paragraph(
            &format!(
                "Rope 1 at the equal ratio, friction {:.3} and {:.3}: the first pass creeps over {:.0}° and rests on {:.0}°, the second creeps over {:.0}° and rests on {:.0}°.",
                rope.friction[0], rope.friction[1], arcs[0].0, arcs[0].1, arcs[1].0, arcs[1].1
            ),
            "",
            out,
        );
        let Some(creep) = &rope.creep else { return };
        for steady in creep {
            self.layout.paragraph(&self.settled(steady), "", out);
        }
        if let Some(span) = self.result.tensions.span {
            let turns = span.between_mm / (TAU * rope.radii_mm[0]);
            let per_tenth = 0.1 * span.stiffness_n / rope.radii_mm[0];
            self.layout.paragraph(
                &format!(
                    "Every {} by which the second pass lies deeper than the first lowers the tension it settles to in a run up by {}, and raises that of a run down; shallower the other way, until a pass slips.",
                    self.survey.print.show(Kind::Length, 0.1),
                    self.force(per_tenth)
                ),
                "",
                out,
            );
            self.layout.paragraph(
                &format!(
                    "It comes nearer to that by a factor of e every {turns:.2} turns of the sheave: free length between the passes over the pitch circle."
                ),
                "",
                out,
            );
        }
    }

    fn settled(&self, steady: &Steady) -> String {
        let way = match steady.run {
            Run::CarUp => "up",
            Run::CarDown => "down",
        };
        let slip = match steady.slipping {
            None => "no pass slips".to_owned(),
            Some(pass) => format!("the {} pass slips as a whole", ordinal(pass)),
        };
        format!(
            "Rope 1 in a long run {way}: the tension between the passes settles to {}; active arcs {:.0}° and {:.0}°, {slip}.",
            self.force(steady.between_n),
            steady.arcs[0].active_rad.to_degrees(),
            steady.arcs[1].active_rad.to_degrees()
        )
    }

    fn history(&self, history: &History, state: &str, out: &mut String) {
        let unit = self.unit();
        let title = format!("Ropes over the travel{state}, lowest and highest in the last cycle [{unit}]");
        self.layout.title(&title, out);
        let mut table =
            self.layout.table(&["rope", "car's side", "between the passes", "counterweight's side"]);
        for (index, cycle) in history.last_cycle.iter().enumerate() {
            let mut row = vec![(index + 1).to_string()];
            let range = |[low, high]: &[f64; 2]| format!("{} .. {}", self.number(*low), self.number(*high));
            row.extend(cycle.range_n.iter().map(range));
            table.add_row(row);
        }
        let _ = writeln!(out, "{table}");
        let first = match history.first_slip {
            None => "No pass slips.".to_owned(),
            Some(slip) => format!(
                "The first to slip is the {} pass of rope {}, after {:.1} turns, car going {}.",
                if slip.pass == 1 { "first" } else { "second" },
                slip.rope,
                slip.turns,
                if slip.run == Run::CarUp { "up" } else { "down" }
            ),
        };
        let settled = if history.settled { "repeats itself then" } else { "has not settled yet" };
        let tightest = history.tightest.tensions_n.iter().flatten().copied().fold(0.0, f64::max);
        self.layout.paragraph(
            &format!(
                "{:.1} turns up and as many down, {} times; the cycle {settled}. {first} Tightest rope at any moment: {}, after {:.1} turns.",
                history.turns_per_run,
                history.cycles,
                self.force(tightest),
                history.tightest.turns
            ),
            "",
            out,
        );
        self.cycle(history, out);
    }

    /// The last cycle of the rope whose tension between the passes moves most.
    fn cycle(&self, history: &History, out: &mut String) {
        let spread = |index: &usize| {
            let [low, high] = history.last_cycle[*index].range_n[1];
            high - low
        };
        let widest = (0..history.last_cycle.len()).max_by(|a, b| spread(a).total_cmp(&spread(b)));
        let Some(rope) = widest else { return };
        let unit = self.unit();
        let (car, between, counterweight) = (
            format!("car's side [{unit}]"),
            format!("between the passes [{unit}]"),
            format!("counterweight's side [{unit}]"),
        );
        let header = ["turns", "car", &car, &between, &counterweight, "slips"];
        let mut table = self.layout.table(&header);
        let from = history.samples.last().map_or(0.0, |last| last.turns - 2.0 * history.turns_per_run);
        let last: Vec<_> = history.samples.iter().filter(|sample| sample.turns > from).collect();
        let step = last.len().div_ceil(CYCLE_ROWS).max(1);
        for sample in last.iter().skip(step - 1).step_by(step) {
            let tensions = &sample.tensions_n[rope];
            let slips: Vec<&str> = sample
                .slipping
                .iter()
                .filter(|[slipping, _]| *slipping == rope + 1)
                .map(|[_, pass]| if *pass == 1 { "first pass" } else { "second pass" })
                .collect();
            table.add_row(vec![
                format!("{:.1}", sample.turns - from),
                if sample.run == Run::CarUp { "up" } else { "down" }.to_owned(),
                self.number(tensions[0]),
                self.number(tensions[1]),
                self.number(tensions[2]),
                if slips.is_empty() { "-".to_owned() } else { slips.join(", ") },
            ]);
        }
        let _ = writeln!(
            out,
            "The last cycle of rope {}, whose tension between the passes moves most:\n{table}",
            rope + 1
        );
    }

    fn basis(&self, out: &mut String) {
        let Tensions { friction_stated, .. } = self.result.tensions;
        let friction = if friction_stated {
            "The friction factor is the survey's."
        } else {
            "The friction factor is the grooves' own with μ = 0.2 (EN 81-50, 5.11, the highest it counts with)."
        };
        let lines = [
            "Bounds: Euler–Eytelwein on each pass. Arcs: Johnson, Contact Mechanics, 8.5. Creep and history: own derivation from equilibrium, Hooke's law and the conservation of rope; the secondary sheave turns freely, no rope is stored on the arcs, car and counterweight hang from rigid ends, and their tensions do not change with the ropes' own weight along the travel.".to_owned(),
            friction.to_owned(),
            "The further load cases of a sheave keep Ti over √(T1·T2) as the rated case has it.".to_owned(),
        ];
        self.layout.list("What the tensions between the passes rest on", &lines, out);
    }
}

fn short(word: Word) -> &'static str {
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

/// Mean over the ropes.
pub(super) fn mean_between_n(combination: &Combination) -> f64 {
    let ropes = &combination.tensions.ropes_n;
    ropes.iter().map(|rope| rope[1]).sum::<f64>() / ropes.len() as f64
}
