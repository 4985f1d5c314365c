//! What the tension between two passes may be, and its course over the travel; every axis begins at zero or says where.

use super::axes::{Field, label, round_step};
use crate::hoist::double_wrap::{History, Run, Sample};
use crate::report::double_wrap::{run_of_ropes, way};
use crate::report::drawing::{ACCENT, At, GREY, INK, Pen, Sheet, Tie, text_width};
use crate::study::double_wrap::{DoubleResult, RopeTensions, Tensions, WheelUnder};
use crate::units::{Kind as Quantity, PrintUnits};

const WIDE: f64 = 640.0;
const ROW: f64 = 46.0;
const WEAK: &str = "#d8d4ca";
const STRONG: &str = "#a9c4ce";
const RED: &str = "#8c2d04";

/// Marks on the bars; shapes tell them apart without colour.
#[derive(Clone, Copy)]
enum Shape {
    Outer,
    Equal,
    Up,
    Down,
    Measured,
}

fn own(print: &PrintUnits, n: f64) -> f64 {
    print.unit(Quantity::Force).map_or(n, |unit| unit.from_inside(n))
}

fn mark(sheet: &mut Sheet, shape: Shape, (x, y): At) {
    let pen = Pen::new(INK, 1.2);
    match shape {
        Shape::Outer => sheet.line((x, y - 13.0), (x, y + 13.0), Pen::dashed(INK, 1.3, "3 2")),
        Shape::Equal => sheet.circle((x, y), 4.5, "#ffffff", pen),
        Shape::Up => {
            sheet.area(&[vec![(x - 5.0, y + 4.5), (x + 5.0, y + 4.5), (x, y - 5.0)]], ACCENT, Pen::NONE)
        }
        Shape::Down => {
            sheet.area(&[vec![(x - 5.0, y - 4.5), (x + 5.0, y - 4.5), (x, y + 5.0)]], RED, Pen::NONE)
        }
        Shape::Measured => {
            sheet.area(&[vec![(x, y - 6.0), (x + 6.0, y), (x, y + 6.0), (x - 6.0, y)]], "#ffffff", pen)
        }
    }
}

/// Ropes that are alike in a row, with their number from 1.
fn alike(tensions: &Tensions) -> Vec<(String, &RopeTensions)> {
    let same = |a: &RopeTensions, b: &RopeTensions| {
        let facts = |rope: &RopeTensions| {
            let creep = rope.creep.map(|creep| creep.map(|run| run.between_n));
            (rope.outer_n, rope.bounds, creep, rope.measured_n)
        };
        facts(a) == facts(b)
    };
    let mut runs: Vec<(usize, usize, &RopeTensions)> = Vec::new();
    for (index, rope) in tensions.ropes.iter().enumerate() {
        match runs.last_mut() {
            Some((_, last, before)) if same(before, rope) => *last = index + 1,
            _ => runs.push((index + 1, index + 1, rope)),
        }
    }
    let name = |(first, last, rope): (usize, usize, _)| {
        let word = if first == last { "rope" } else { "ropes" };
        (format!("{word} {}", run_of_ropes(first, last)), rope)
    };
    runs.into_iter().map(name).collect()
}

/// Bounds, creep, measured and outer tensions of every rope.
pub(in crate::report) fn between(tensions: &Tensions, print: &PrintUnits, title: &str) -> String {
    let ropes = alike(tensions);
    let force = |n: f64| own(print, n);
    let most =
        tensions.ropes.iter().flat_map(|rope| rope.outer_n.into_iter().chain([rope.bounds.friction.high_n]));
    let most = force(most.fold(0.0, f64::max));
    let step = round_step(most, 8.0);
    let (top, left) = (12.0, 92.0);
    let bottom = top + ROW * ropes.len() as f64;
    let field = Field {
        sides: [left, 620.0, top, bottom],
        across: (0.0, step * (most / step + 0.05).ceil()),
        up: (0.0, 1.0),
    };
    let mut sheet = Sheet::new(WIDE, bottom + 100.0);
    let count = (field.across.1 / step).round() as usize;
    let ticks: Vec<(f64, String)> =
        (0..=count).map(|i| i as f64 * step).map(|value| (value, label(value, step))).collect();
    field.marks(&mut sheet, &ticks);
    let mut shown = vec![(Shape::Outer, "car's and counterweight's side"), (Shape::Equal, "equal ratio")];
    for (index, (name, rope)) in ropes.iter().enumerate() {
        let y = top + ROW * (index as f64 + 0.5);
        let bar = |sheet: &mut Sheet, low: f64, high: f64, half: f64, colour: &'static str| {
            let (a, b) = (field.x(force(low)), field.x(force(high)));
            sheet.area(
                &[vec![(a, y - half), (b, y - half), (b, y + half), (a, y + half)]],
                colour,
                Pen::NONE,
            );
        };
        bar(&mut sheet, rope.bounds.friction.low_n, rope.bounds.friction.high_n, 10.0, WEAK);
        bar(&mut sheet, rope.bounds.driving.low_n, rope.bounds.driving.high_n, 10.0, STRONG);
        sheet.text((left - 8.0, y + 4.0), name, Tie::End, INK);
        let at = |n: f64| (field.x(force(n)), y);
        rope.outer_n.iter().for_each(|n| mark(&mut sheet, Shape::Outer, at(*n)));
        mark(&mut sheet, Shape::Equal, at(rope.bounds.equal_ratio_n));
        if let Some([up, down]) = &rope.creep {
            mark(&mut sheet, Shape::Up, at(up.between_n));
            mark(&mut sheet, Shape::Down, at(down.between_n));
        }
        if let Some(n) = rope.measured_n {
            mark(&mut sheet, Shape::Measured, at(n));
        }
    }
    if tensions.ropes.iter().any(|rope| rope.creep.is_some()) {
        shown.extend([(Shape::Up, "creep, car going up"), (Shape::Down, "creep, car going down")]);
    }
    if tensions.ropes.iter().any(|rope| rope.measured_n.is_some()) {
        shown.push((Shape::Measured, "as measured"));
    }
    let words = format!("tension of a rope, {}", print.name(Quantity::Force));
    sheet.text((0.5 * (left + 620.0), bottom + 34.0), &words, Tie::Middle, INK);
    let end = legend(&mut sheet, &shown, bottom + 54.0);
    sheet.cut_at(end);
    sheet.finish(title)
}

/// Marks with their names, on as many lines as they need.
fn legend(sheet: &mut Sheet, shown: &[(Shape, &str)], top: f64) -> f64 {
    let (mut x, mut y) = (20.0, top);
    for (shape, name) in shown {
        let wide = text_width(name) + 34.0;
        if x + wide > WIDE {
            (x, y) = (20.0, y + 26.0);
        }
        mark(sheet, *shape, (x, y));
        sheet.text((x + 11.0, y + 4.0), name, Tie::Start, INK);
        x += wide;
    }
    y + 18.0
}

/// The last cycle of all three spans of one rope (from 0), beside the other ropes' tension between the passes.
pub(in crate::report) fn history(history: &History, rope: usize, print: &PrintUnits, title: &str) -> String {
    let force = |n: f64| own(print, n);
    let samples = history.last_samples();
    let from = history.last_cycle_from();
    let all = samples.iter().flat_map(|sample| sample.tensions_n.iter().flatten()).copied();
    let most = force(all.fold(0.0, f64::max));
    let step = round_step(most, 7.0);
    let whole = 2.0 * history.turns_per_run;
    let field = Field {
        sides: [74.0, 620.0, 34.0, 250.0],
        across: (0.0, whole),
        up: (0.0, step * (most / step + 0.15).ceil()),
    };
    let mut sheet = Sheet::new(WIDE, 330.0);
    field.levels(&mut sheet, step);
    let across = round_step(whole, 10.0);
    let turns: Vec<(f64, String)> = (0..=(whole / across + 1e-9) as usize)
        .map(|i| i as f64 * across)
        .map(|value| (value, label(value, across)))
        .collect();
    field.marks(&mut sheet, &turns);
    let line = |rope: usize, span: usize| -> Vec<At> {
        let at = |sample: &&Sample| field.at((sample.turns - from, force(sample.tensions_n[rope][span])));
        samples.iter().map(at).collect()
    };
    for other in (0..history.last_cycle.len()).filter(|other| *other != rope) {
        sheet.path(&line(other, 1), Pen::new("#9db9c4", 0.7));
    }
    let half = field.x(history.turns_per_run);
    sheet.line((half, 34.0), (half, 250.0), Pen::new(GREY, 1.2));
    for (run, x) in [(Run::CarUp, 0.5 * (74.0 + half)), (Run::CarDown, 0.5 * (half + 620.0))] {
        sheet.text((x, 26.0), &format!("car going {}", way(run)), Tie::Middle, INK);
    }
    let pens = [Pen::dashed(INK, 1.3, "7 3"), Pen::new(ACCENT, 2.0), Pen::dashed(GREY, 1.3, "2 2")];
    for (span, pen) in pens.into_iter().enumerate() {
        sheet.path(&line(rope, span), pen);
    }
    for sample in samples.iter().filter(|sample| sample.slipping.iter().any(|[own, _]| *own == rope + 1)) {
        let (x, y) = field.at((sample.turns - from, force(sample.tensions_n[rope][1])));
        for tilt in [-1.0, 1.0] {
            sheet.line((x - 3.0, y - 3.0 * tilt), (x + 3.0, y + 3.0 * tilt), Pen::new(RED, 1.2));
        }
    }
    sheet.text((347.0, 284.0), "turns of the sheave in the last cycle", Tie::Middle, INK);
    let words = format!("tension, {}", print.name(Quantity::Force));
    sheet.words((16.0, 142.0), &words, Tie::Middle, INK, -90.0);
    let names = ["car's side", "between the passes", "counterweight's side"];
    let mut x = 40.0;
    for (pen, name) in pens.into_iter().zip(names) {
        sheet.line((x, 308.0), (x + 26.0, 308.0), pen);
        sheet.text((x + 32.0, 312.0), name, Tie::Start, INK);
        x += text_width(name) + 56.0;
    }
    for tilt in [-1.0, 1.0] {
        sheet.line((x, 308.0 - 3.0 * tilt), (x + 6.0, 308.0 + 3.0 * tilt), Pen::new(RED, 1.2));
    }
    sheet.text((x + 12.0, 312.0), "a pass slips", Tie::Start, INK);
    sheet.finish(title)
}

/// Factor over the factor asked for, of both sheaves under every tension.
pub(in crate::report) fn combinations(result: &DoubleResult, title: &str) -> String {
    const HIGH: f64 = 30.0;
    let list = &result.combinations;
    let wheels = |of: &dyn Fn(&WheelUnder) -> f64| {
        list.iter().flat_map(|c| [Some(&c.drive), c.secondary.as_ref()]).flatten().map(of).fold(1.0, f64::max)
    };
    let most = wheels(&WheelUnder::reserve);
    let step = round_step(most, 8.0);
    let (left, right, top) = (212.0, 620.0, 12.0);
    let bottom = top + HIGH * list.len() as f64;
    let field = Field {
        sides: [left, right, top, bottom],
        across: (0.0, step * (most / step + 0.05).ceil()),
        up: (0.0, 1.0),
    };
    let mut sheet = Sheet::new(WIDE, bottom + 74.0);
    let count = (field.across.1 / step).round() as usize;
    let ticks: Vec<(f64, String)> =
        (0..=count).map(|i| i as f64 * step).map(|value| (value, label(value, step))).collect();
    field.marks(&mut sheet, &ticks);
    let one = field.x(1.0);
    sheet.line((one, top - 6.0), (one, bottom + 2.0), Pen::dashed(RED, 1.4, "7 3"));
    for (index, combination) in list.iter().enumerate() {
        let y = top + HIGH * (index as f64 + 0.5);
        sheet.text((left - 8.0, y + 4.0), combination.name, Tie::End, INK);
        sheet.line((left, y), (right, y), Pen::new("#dcdcdc", 0.6));
        drive_mark(&mut sheet, (field.x(combination.drive.reserve()), y), result.governing.drive == index);
        if let Some(under) = &combination.secondary {
            let governs = result.governing.secondary == Some(index);
            secondary_mark(&mut sheet, (field.x(under.reserve()), y), governs);
        }
    }
    sheet.text((0.5 * (left + right), bottom + 34.0), "factor over the factor asked for", Tie::Middle, INK);
    drive_mark(&mut sheet, (150.0, bottom + 54.0), false);
    sheet.text((162.0, bottom + 58.0), "drive sheave", Tie::Start, INK);
    if list.iter().any(|combination| combination.secondary.is_some()) {
        secondary_mark(&mut sheet, (270.0, bottom + 54.0), false);
        sheet.text((282.0, bottom + 58.0), "secondary sheave", Tie::Start, INK);
    }
    sheet.line((410.0, bottom + 54.0), (436.0, bottom + 54.0), Pen::dashed(RED, 1.4, "7 3"));
    sheet.text((442.0, bottom + 58.0), "as asked for", Tie::Start, INK);
    sheet.finish(title)
}

fn drive_mark(sheet: &mut Sheet, at: At, filled: bool) {
    sheet.circle(at, 5.0, if filled { ACCENT } else { "#ffffff" }, Pen::new(ACCENT, 1.8));
}

fn secondary_mark(sheet: &mut Sheet, (x, y): At, filled: bool) {
    let square = vec![(x - 4.5, y - 4.5), (x + 4.5, y - 4.5), (x + 4.5, y + 4.5), (x - 4.5, y + 4.5)];
    sheet.area(&[square], if filled { INK } else { "#ffffff" }, Pen::new(INK, 1.6));
}
