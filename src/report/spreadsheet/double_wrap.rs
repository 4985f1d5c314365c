//! What both sheaves of a double wrap have in common: verdict, combinations, tensions between the passes, history.

use super::file::{Cell, Table};
use crate::hoist::double_wrap::{History, Pass, Run};
use crate::report::CheckedPair;
use crate::report::double_wrap::{mean_between_n, way};
use crate::study::double_wrap::{DoubleResult, Tensions, Wheel};

pub(super) fn tables(checked: &CheckedPair<'_>) -> [Table; 6] {
    let double = checked.double;
    let judged = if double.as_found.is_some() { "as cut" } else { "as found" };
    let mut states = vec![(judged, &double.tensions)];
    states.extend(double.as_found.as_ref().map(|found| ("as found", found)));
    [
        verdict(checked),
        combinations(double),
        combination_ropes(double),
        tensions(&states),
        history(&states),
        range(&states),
    ]
}

fn verdict(checked: &CheckedPair<'_>) -> Table {
    let double = checked.double;
    let mut table = Table::new("verdict", &["what", "text"]);
    let mut row = |what: &str, text: &str| table.row([Cell::text(what), Cell::text(text)]);
    let verdict = &double.verdict;
    row("verdict on both sheaves", verdict.word.text());
    row("reason", &verdict.reason);
    verdict.heads.iter().for_each(|head| row("to be read first", head));
    verdict.settle.iter().for_each(|text| row("to settle it", text));
    let governing = double.governing;
    row("sheave that decides", governing.wheel.name());
    row("tension that governs the drive sheave", double.combinations[governing.drive].name);
    if let Some(index) = governing.secondary {
        row("tension that governs the secondary sheave", double.combinations[index].name);
    }
    let input = checked.drive.input;
    row("survey file of the drive sheave", &input.file);
    row("sha256 of the survey", &input.sha256);
    if let Some(other) = &input.secondary {
        row("survey file of the secondary sheave", &other.file);
        row("sha256 of the secondary sheave's survey", &other.sha256);
    }
    row("program", concat!("rimproof ", env!("CARGO_PKG_VERSION")));
    table
}

fn combinations(double: &DoubleResult) -> Table {
    let mut table = Table::new(
        "combinations",
        &[
            "tension between the passes",
            "known to be reached",
            "mean between the passes (N)",
            "sheave",
            "governs its sheave",
            "verdict under this tension",
            "highest tension (MPa)",
            "error bar (MPa)",
            "allowable (MPa)",
            "least factor on ultimate",
            "factor asked for",
            "groove pressure (MPa)",
            "pull of the ropes (N)",
            "shaft's reaction (N)",
            "moment about the shaft (N mm)",
            "where",
            "checks that decide",
            "reason",
        ],
    );
    let governing = double.governing;
    for (index, combination) in double.combinations.iter().enumerate() {
        let wheels = [
            (Wheel::Drive, Some(&combination.drive), governing.drive == index),
            (Wheel::Secondary, combination.secondary.as_ref(), governing.secondary == Some(index)),
        ];
        for (wheel, under, governs) in wheels {
            let Some(under) = under else { continue };
            table.row([
                Cell::text(combination.name),
                Cell::yes(combination.tensions.reached),
                mean_between_n(combination).into(),
                Cell::text(wheel.name()),
                Cell::yes(governs),
                Cell::text(under.word.text()),
                under.peak_mpa.into(),
                under.bound_mpa.into(),
                under.allowable_mpa.into(),
                under.least_factor.into(),
                under.safety_factor.into(),
                under.pressure_mpa.into(),
                under.pulls_n.into(),
                under.reaction_n.into(),
                under.moment_nmm.into(),
                Cell::text(&under.peak_words),
                Cell::text(under.deciding.join(", ")),
                Cell::text(&under.reason),
            ]);
        }
    }
    table
}

fn combination_ropes(double: &DoubleResult) -> Table {
    let mut table = Table::new(
        "combination_ropes",
        &[
            "tension between the passes",
            "rope",
            "car's side (N)",
            "between the passes (N)",
            "counterweight's side (N)",
        ],
    );
    for combination in &double.combinations {
        for (rope, [car, between, counterweight]) in combination.tensions.ropes_n.iter().enumerate() {
            table.row([
                Cell::text(combination.name),
                Cell::Count(rope + 1),
                (*car).into(),
                (*between).into(),
                (*counterweight).into(),
            ]);
        }
    }
    table
}

fn slips(pass: Option<Pass>) -> Cell {
    match pass {
        None => Cell::Empty,
        Some(Pass::First) => Cell::text("first pass"),
        Some(Pass::Second) => Cell::text("second pass"),
    }
}

fn tensions(states: &[(&str, &Tensions)]) -> Table {
    let mut table = Table::new(
        "tensions_between_passes",
        &[
            "grooves",
            "rope",
            "groove of the first pass",
            "groove of the second pass",
            "pitch radius of the first pass (mm)",
            "pitch radius of the second pass (mm)",
            "friction factor of the first pass",
            "friction factor of the second pass",
            "wrap of the first pass (rad)",
            "wrap of the second pass (rad)",
            "car's side (N)",
            "counterweight's side (N)",
            "lowest by friction (N)",
            "highest by friction (N)",
            "lowest with both passes driving (N)",
            "highest with both passes driving (N)",
            "equal ratio (N)",
            "creep with the car going up (N)",
            "slips then",
            "creep with the car going down (N)",
            "slips then too",
            "measured (N)",
        ],
    );
    for (state, tensions) in states {
        for (index, rope) in tensions.ropes.iter().enumerate() {
            let (friction, driving) = (rope.bounds.friction, rope.bounds.driving);
            let creep = |run: usize| rope.creep.map(|creep| creep[run]);
            table.row([
                Cell::text(state),
                Cell::Count(index + 1),
                Cell::Count(rope.grooves[0]),
                Cell::Count(rope.grooves[1]),
                rope.radii_mm[0].into(),
                rope.radii_mm[1].into(),
                rope.friction[0].into(),
                rope.friction[1].into(),
                rope.wrap_rad[0].into(),
                rope.wrap_rad[1].into(),
                rope.outer_n[0].into(),
                rope.outer_n[1].into(),
                friction.low_n.into(),
                friction.high_n.into(),
                driving.low_n.into(),
                driving.high_n.into(),
                rope.bounds.equal_ratio_n.into(),
                creep(0).map(|run| run.between_n).into(),
                slips(creep(0).and_then(|run| run.slipping)),
                creep(1).map(|run| run.between_n).into(),
                slips(creep(1).and_then(|run| run.slipping)),
                rope.measured_n.into(),
            ]);
        }
    }
    table
}

fn marched<'a>(states: &'a [(&'a str, &'a Tensions)]) -> impl Iterator<Item = (&'a str, &'a History)> {
    states.iter().filter_map(|(state, tensions)| Some((*state, tensions.history.as_ref()?)))
}

fn history(states: &[(&str, &Tensions)]) -> Table {
    let mut table = Table::new(
        "history",
        &[
            "grooves",
            "turns since the start",
            "car above its start (mm)",
            "car goes",
            "rope",
            "car's side (N)",
            "between the passes (N)",
            "counterweight's side (N)",
            "slips",
        ],
    );
    for (state, history) in marched(states) {
        for sample in &history.samples {
            for (rope, spans) in sample.tensions_n.iter().enumerate() {
                let mut slipping = sample.slipping.iter().filter(|[own, _]| *own == rope + 1);
                let first =
                    slipping.next().map(|[_, pass]| if *pass == 1 { Pass::First } else { Pass::Second });
                table.row([
                    Cell::text(state),
                    sample.turns.into(),
                    sample.car_mm.into(),
                    Cell::text(way(sample.run)),
                    Cell::Count(rope + 1),
                    spans[0].into(),
                    spans[1].into(),
                    spans[2].into(),
                    if slipping.next().is_some() { Cell::text("both passes") } else { slips(first) },
                ]);
            }
        }
    }
    table
}

fn range(states: &[(&str, &Tensions)]) -> Table {
    let mut table = Table::new(
        "last_cycle",
        &["grooves", "rope", "span", "lowest (N)", "highest (N)", "cycles marched", "settled", "first slip"],
    );
    for (state, history) in marched(states) {
        let first = history.first_slip.map(|slip| {
            let run = if slip.run == Run::CarUp { "up" } else { "down" };
            format!("rope {}, pass {}, after {:.2} turns, car going {run}", slip.rope, slip.pass, slip.turns)
        });
        for (rope, cycle) in history.last_cycle.iter().enumerate() {
            for (span, [low, high]) in
                ["car's side", "between the passes", "counterweight's side"].into_iter().zip(&cycle.range_n)
            {
                table.row([
                    Cell::text(state),
                    Cell::Count(rope + 1),
                    Cell::text(span),
                    (*low).into(),
                    (*high).into(),
                    Cell::Count(history.cycles),
                    Cell::yes(history.settled),
                    Cell::maybe(first.as_ref()),
                ]);
            }
        }
    }
    table
}
