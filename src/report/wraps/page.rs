//! The page of a comparison: a column for every arrangement, then what differs and why.

use crate::report::Input;
use crate::report::layout::Layout;
use crate::study::double_wrap::Wheel;
use crate::study::wraps::{ArrangementRow, Row, WheelRow};
use crate::units::{Kind, PrintUnits};
use std::fmt::Write as _;

/// The whole page, in the units of the first survey.
pub fn wraps_page(
    arrangements: &[(&Input, &ArrangementRow)],
    sweeps: &[Row],
    print: &PrintUnits,
    colour: bool,
    width: usize,
) -> String {
    let rows: Vec<&ArrangementRow> = arrangements.iter().map(|(_, row)| *row).collect();
    let page = Page { rows: &rows, print, layout: Layout::new(colour, width) };
    let mut out = String::new();
    page.head(arrangements, &mut out);
    page.table(&mut out);
    page.differences(&mut out);
    page.reasons(&mut out);
    page.sweeps(sweeps, &mut out);
    page.layout.list("Cautions", &CAUTIONS.map(str::to_owned), &mut out);
    out
}

const CAUTIONS: [&str; 3] = [
    "This is an engineering aid, not an approval. The code in force, the authority having jurisdiction and a licensed engineer decide.",
    "A visible crack takes a wheel out of service whatever the numbers say.",
    "The wall needed is looked for at the governing place alone, all walls moved alike; another place may govern at another wall. `rimproof check` judges the sheave.",
];

struct Page<'a> {
    rows: &'a [&'a ArrangementRow],
    print: &'a PrintUnits,
    layout: Layout,
}

impl Page<'_> {
    fn head(&self, arrangements: &[(&Input, &ArrangementRow)], out: &mut String) {
        let _ = writeln!(out, "Arrangements side by side · rimproof {}", env!("CARGO_PKG_VERSION"));
        for (index, (input, row)) in arrangements.iter().enumerate() {
            let hash = &input.sha256[..12.min(input.sha256.len())];
            let _ = writeln!(out, "{}: {} · {} · sha256 {hash}", letter(index), row.name, input.file);
            if let Some(other) = &input.secondary {
                let hash = &other.sha256[..12.min(other.sha256.len())];
                let _ = writeln!(out, "   secondary sheave: {} · sha256 {hash}", other.file);
            }
        }
    }

    fn table(&self, out: &mut String) {
        let (force, stress, length) =
            (self.print.name(Kind::Force), self.print.name(Kind::Stress), self.print.name(Kind::Length));
        let letters: Vec<String> = (0..self.rows.len()).map(letter).collect();
        let mut header = vec!["car at rest with rated load"];
        header.extend(letters.iter().map(String::as_str));
        let mut table = self.layout.table(&header);
        let mut add = |name: String, cells: Vec<String>| {
            if cells.iter().any(|cell| cell != NONE) {
                table.add_row(std::iter::once(name).chain(cells).collect::<Vec<_>>());
            }
        };
        let each = |get: &dyn Fn(&ArrangementRow) -> Option<String>| -> Vec<String> {
            self.rows.iter().map(|row| get(row).unwrap_or_else(|| NONE.to_owned())).collect()
        };
        let f = |n: f64| self.print.number(Kind::Force, n);
        let pair = |[a, b]: [f64; 2]| format!("{} / {}", f(a), f(b));
        add("arrangement".into(), each(&|row| Some(row.arrangement.clone())));
        add("verdict".into(), each(&|row| Some(row.verdict.word.text().to_lowercase())));
        add(
            format!("tension per rope, heavy / light [{force}]"),
            each(&|row| Some(pair([row.tension.heavy_n, row.tension.light_n]))),
        );
        add(
            format!("between passes by friction [{force}]"),
            each(&|row| row.tension.between_friction_n.map(pair)),
        );
        add(
            format!("between passes, √(T1·T2) [{force}]"),
            each(&|row| row.tension.between_equal_ratio_n.map(f)),
        );
        add(
            format!("between passes, creep up / down [{force}]"),
            each(&|row| row.tension.between_creep_n.map(pair)),
        );
        let mut cases: Vec<&str> = Vec::new();
        for case in self.rows.iter().flat_map(|row| &row.traction) {
            if !cases.contains(&case.case.as_str()) {
                cases.push(&case.case);
            }
        }
        for case in cases {
            add(
                format!("traction reserve, {}", short(case)),
                each(&|row| {
                    let found = row.traction.iter().find(|reserve| reserve.case == case);
                    found.map(|reserve| format!("{:+.0} %", 100.0 * reserve.relative_reserve))
                }),
            );
        }
        for wheel in [Wheel::Drive, Wheel::Secondary] {
            let of = |get: &dyn Fn(&WheelRow) -> Option<String>| {
                each(&|row| row.wheels.iter().find(|found| found.wheel == wheel).and_then(get))
            };
            let mpa = |mpa: f64| self.print.number(Kind::Stress, mpa);
            let mm = |mm: f64| self.print.number(Kind::Length, mm);
            let between = |w: &WheelRow| Some(w.between.unwrap_or("one wrap").to_owned());
            add(format!("{}: TENSION BETWEEN", wheel.name().to_uppercase()), of(&between));
            add(format!("  shaft load [{force}]"), of(&|w| Some(f(w.shaft_load_n))));
            add(format!("  the same at √(T1·T2) [{force}]"), of(&|w| w.equal_ratio_shaft_load_n.map(f)));
            let pressure = |w: &WheelRow| {
                let limit = w.pressure_limit_mpa.map_or(NONE.into(), mpa);
                w.pressure_mpa.map(|found| format!("{} / {limit}", mpa(found)))
            };
            add(format!("  groove pressure / yardstick [{stress}]"), of(&pressure));
            let peak = |w: &WheelRow| Some(format!("{} / {}", mpa(w.peak_mpa), mpa(w.allowable_mpa)));
            add(format!("  highest tension / allowed [{stress}]"), of(&peak));
            let factor = |w: &WheelRow| Some(format!("{:.2} / {:.0}", w.least_factor, w.safety_factor));
            add("  factor / asked".into(), of(&factor));
            add(
                "  factor at √(T1·T2)".into(),
                of(&|w| w.equal_ratio_least_factor.map(|x| format!("{x:.2}"))),
            );
            add(format!("  wall left [{length}]"), of(&|w| w.wall.left_mm.map(mm)));
            add(format!("  wall by practice [{length}]"), of(&|w| Some(mm(w.wall.practice_mm))));
            let needed = |w: &WheelRow| {
                let below = if w.wall.at_most { "< " } else { "" };
                w.wall.needed_mm.map(|wall| format!("{below}{}", mm(wall)))
            };
            add(format!("  wall needed by strength [{length}]"), of(&needed));
        }
        let _ = writeln!(out, "\n{table}");
    }

    /// Every further arrangement beside the first, in words.
    fn differences(&self, out: &mut String) {
        let Some((first, others)) = self.rows.split_first() else { return };
        let lines: Vec<String> =
            others.iter().enumerate().map(|(i, row)| self.beside(first, row, i + 1)).collect();
        self.layout.list("Beside A", &lines, out);
    }

    fn beside(&self, first: &ArrangementRow, row: &ArrangementRow, index: usize) -> String {
        let (a, b) = (&first.wheels[0], &row.wheels[0]);
        let mut text = format!(
            "{} loads the drive sheave's shaft {:.2} times as much{}; its highest tension is {:.2} times as high, and the factor {:.2} stands against {:.2}",
            letter(index),
            b.shaft_load_n / a.shaft_load_n,
            b.equal_ratio_shaft_load_n.map_or(String::new(), |load| format!(
                " under the tension between the passes that governs it, and {:.2} times at the equal ratio",
                load / a.shaft_load_n
            )),
            b.peak_mpa / a.peak_mpa,
            b.least_factor,
            a.least_factor,
        );
        if let (Some(one), Some(other)) = (least(first), least(row)) {
            let _ = write!(
                text,
                "; the least traction reserve is {:+.0} % against {:+.0} %",
                100.0 * other.1,
                100.0 * one.1
            );
        }
        if let (Some(one), Some(other)) = (a.pressure_mpa, b.pressure_mpa) {
            let _ = write!(text, "; its ropes press {:.2} times as hard", other / one);
        }
        if let Some(secondary) = row.wheels.iter().find(|wheel| wheel.wheel == Wheel::Secondary) {
            let _ = write!(
                text,
                "; its secondary sheave carries {} on its shaft with a factor of {:.2}",
                self.print.show(Kind::Force, secondary.shaft_load_n),
                secondary.least_factor
            );
        }
        text.push('.');
        text
    }

    fn reasons(&self, out: &mut String) {
        let lines: Vec<String> = self
            .rows
            .iter()
            .enumerate()
            .map(|(i, row)| {
                format!("{}, {}: {}", letter(i), row.verdict.word.text().to_lowercase(), row.verdict.reason)
            })
            .collect();
        self.layout.list("Why", &lines, out);
    }

    fn sweeps(&self, sweeps: &[Row], out: &mut String) {
        let mut lines = Vec::new();
        let mut seen: Vec<(&str, &str)> = Vec::new();
        for row in sweeps {
            let key = (row.arrangement.as_str(), row.swept.name());
            if seen.contains(&key) {
                continue;
            }
            seen.push(key);
            let all = sweeps.iter().filter(|other| (other.arrangement.as_str(), other.swept.name()) == key);
            let peaks: Vec<f64> = all.flat_map(|row| &row.rules).map(|rule| rule.drive_peak_mpa).collect();
            let (low, high) = peaks.iter().fold((f64::INFINITY, 0.0f64), |(l, h), p| (l.min(*p), h.max(*p)));
            lines.push(format!(
                "{} over {}: the drive sheave's highest tension lies between {} and {} over all values and rules.",
                key.0,
                key.1.replace('_', " "),
                self.print.show(Kind::Stress, low),
                self.print.show(Kind::Stress, high)
            ));
        }
        self.layout.list("Sweeps", &lines, out);
    }
}

/// A traction case in few words.
fn short(case: &str) -> &str {
    match case.split_once(", ") {
        Some(("loading", _)) => "loading 125 %",
        Some(("emergency braking", rest)) if rest.starts_with("loaded") => "stop, loaded car",
        Some(("emergency braking", _)) => "stop, empty car",
        Some(("counterweight on its buffers", _)) => "stalled",
        _ => case,
    }
}

const NONE: &str = "-";

fn least(row: &ArrangementRow) -> Option<(&str, f64)> {
    let all = row.traction.iter().map(|reserve| (reserve.case.as_str(), reserve.relative_reserve));
    all.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A, B, C, and so on.
fn letter(index: usize) -> String {
    char::from_u32('A' as u32 + index as u32).map_or_else(|| (index + 1).to_string(), String::from)
}
