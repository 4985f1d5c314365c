//! The tables of the page: the comparison, traction, the trade-off.

use super::page::Page;
use crate::study::grooves::{Concern, JudgedCut, reserve_of};
use crate::units::Kind as Quantity;
use crate::verdict::{Status, Word};
use comfy_table::{CellAlignment, ColumnConstraint, Table};

impl Page<'_> {
    pub(super) fn comparison(&self) -> Table {
        let print = &self.survey.print;
        let (length, stress) = (print.name(Quantity::Length), print.name(Quantity::Stress));
        let mut table = self.table(&[
            "shape",
            &format!("tool\nto\n({length})"),
            &format!("wall\nleft\n({length})"),
            &format!("peak\ntension\n({stress})"),
            "reserve:\nstress",
            "\ntraction",
            &format!("seat\npress.\n({stress})"),
            "rope\nlife",
            "answer",
        ]);
        for cut in &self.study.compared {
            let name = self.name(cut);
            let Some(found) = &cut.found else {
                let mut row = vec![name];
                row.resize(8, "-".to_owned());
                row.push("cannot be cut".into());
                table.add_row(row);
                continue;
            };
            let number = |kind, value: f64| print.number(kind, value);
            table.add_row(vec![
                name,
                number(Quantity::Length, found.bottom_depth_mm),
                found.wall_left_mm.map_or("solid".into(), |mm| number(Quantity::Length, mm)),
                self.bounded(found.peak_mpa, found.peak_bound_mpa),
                format!("{:.2}", found.stress_reserve),
                found.traction_reserve.map_or("-".into(), |reserve| format!("{reserve:.3}")),
                found.pressure_mpa.map_or("-".into(), |mpa| number(Quantity::Stress, mpa)),
                found.rope_life.map_or("-".into(), |life| format!("{:.1}", life.rope_life_factor)),
                answer(cut),
            ]);
        }
        table
    }

    /// The limit of every case beside the ratio that the ropes have there.
    pub(super) fn traction(&self) -> Option<Table> {
        let cuts = self.study.compared.iter();
        let rows: Vec<_> = cuts.filter_map(|cut| Some((cut, cut.found.as_ref()?))).collect();
        let facts = &rows.iter().find(|(_, found)| !found.traction.is_empty())?.1.traction;
        let mut header = vec!["shape".to_owned()];
        for fact in facts {
            let sense = if fact.at_most { "limit at least" } else { "limit at most" };
            header.push(format!("{}: {sense} {:.3}", fact.case, fact.ratio));
        }
        let mut table = self.layout.table(&header.iter().map(String::as_str).collect::<Vec<_>>());
        for (cut, found) in rows {
            let mut row = vec![self.name(cut)];
            for fact in &found.traction {
                let reserve = reserve_of(fact);
                let word = match (reserve < 1.0, fact.at_most) {
                    (false, _) => String::new(),
                    (true, true) => " SLIPS".into(),
                    (true, false) => " GRIPS".into(),
                };
                // Far from the rule a percentage says less than the multiple.
                let spare = match reserve > 2.0 {
                    true => format!("×{reserve:.1}"),
                    false => format!("{:+.0} %", 100.0 * (reserve - 1.0)),
                };
                row.push(format!("{:.3} ({spare}){word}", fact.limit));
            }
            table.add_row(row);
        }
        Some(table)
    }

    pub(super) fn trade_off(&self) -> Table {
        let print = &self.survey.print;
        let (length, stress) = (print.name(Quantity::Length), print.name(Quantity::Stress));
        let mut table = self.table(&[
            "shape",
            &format!("depth\n({length})"),
            "stress\nreserve",
            "traction\nreserve",
            &format!("wall left\n({length})"),
            &format!("peak tension\n({stress})"),
            "rope\nlife",
            "every check",
        ]);
        let best = self.study.search.best.as_ref().map(|best| (&best.proposal.name, best.depth_mm));
        for cut in &self.study.search.trade_off {
            let Some(found) = &cut.found else { continue };
            let number = |kind, value: f64| print.number(kind, value);
            let word = if best == Some((&cut.proposal.name, cut.depth_mm)) {
                "holds: most reserve".to_owned()
            } else if found.holds() {
                "holds".to_owned()
            } else {
                against(cut)
            };
            table.add_row(vec![
                cut.proposal.name.clone(),
                number(Quantity::Length, cut.depth_mm),
                format!("{:.2} ± {:.2}", found.stress_reserve, found.stress_reserve_bound.max(0.01)),
                found.traction_reserve.map_or("-".into(), |reserve| format!("{reserve:.3}")),
                found.wall_left_mm.map_or("solid".into(), |mm| number(Quantity::Length, mm)),
                self.bounded(found.peak_mpa, found.peak_bound_mpa),
                found.rope_life.map_or("-".into(), |life| format!("{:.1}", life.rope_life_factor)),
                word,
            ]);
        }
        table
    }

    /// The depths of every shape that could be chosen.
    pub(super) fn depths(&self) -> Table {
        let print = &self.survey.print;
        let length = print.name(Quantity::Length);
        let mut table = self.table(&[
            "shape",
            &format!("cleans\nfrom ({length})"),
            &format!("down\nto ({length})"),
            &format!("best\nat ({length})"),
            "stress reserve\nestimated",
            "what stops a deeper cut",
        ]);
        let number = |mm: Option<f64>| mm.map_or("-".into(), |mm| print.number(Quantity::Length, mm));
        for ranked in &self.study.search.ranked {
            let range = ranked.range.as_ref();
            let estimate = ranked.estimated_stress_reserve.map_or("-".into(), |reserve| {
                format!("{reserve:.2} ± {:.2}", reserve * ranked.relative_doubt)
            });
            let words = ranked.out.as_ref().map(|why| format!("out: {why}"));
            table.add_row(vec![
                ranked.name.clone(),
                number(range.map(|range| range.from_mm)),
                number(range.map(|range| range.to_mm)),
                number(ranked.depth_mm),
                estimate,
                words.or_else(|| Some(range?.stops.clone())).unwrap_or_default(),
            ]);
        }
        table
    }

    fn name(&self, cut: &JudgedCut) -> String {
        let mark = if cut.proposal.stated { " *" } else { "" };
        format!("{}{mark}", cut.proposal.name)
    }

    /// Value and bar without the unit, which stands in the head.
    fn bounded(&self, mpa: f64, bound: f64) -> String {
        let shown = self.survey.print.show_bounded(Quantity::Stress, mpa, bound);
        shown.rsplit_once(' ').map_or(shown.clone(), |(number, _)| number.to_owned())
    }

    /// Columns as wide as what they hold; words stand in the last one, which takes what width is left.
    fn table(&self, header: &[&str]) -> Table {
        let mut table = self.layout.table(header);
        for column in table.column_iter_mut() {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        if let Some(last) = table.column_mut(header.len() - 1) {
            last.set_cell_alignment(CellAlignment::Left);
            last.remove_constraint();
        }
        table
    }
}

/// The answer of one check in a word, with what stands against it.
fn answer(cut: &JudgedCut) -> String {
    let Some(found) = &cut.found else { return "cannot be cut".into() };
    match found.word {
        Word::MayBeCut | Word::MayStay => "may be cut".into(),
        Word::Reject => format!("reject: {}", against(cut)),
        Word::Undecided => format!("undecided: {}", against(cut)),
    }
}

/// What fails, else what is open, each once.
fn against(cut: &JudgedCut) -> String {
    let Some(found) = &cut.found else { return String::new() };
    let fails = found.doubts.iter().any(|doubt| doubt.status == Status::Fails);
    let mut words: Vec<&str> = Vec::new();
    for doubt in found.doubts.iter().filter(|doubt| !fails || doubt.status == Status::Fails) {
        let word = match (doubt.concern, doubt.key) {
            (Concern::Stress, _) => "stress",
            (Concern::Traction, _) => "traction",
            (_, "clean_up") => "not clean",
            (_, "wall" | "wall_bound" | "wall_estimate") => "wall",
            (_, "diameter_ratio") => "diameter",
            (_, "bottoming") => "rope bottoms out",
            (_, "stations" | "walls_read") => "walls not read",
            _ => doubt.name.as_str(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words.join(", ")
}
