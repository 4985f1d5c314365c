//! What stands behind the first page, section by section.

use super::Dossier;
use super::first_page::capital;
use crate::report::page::proof;
use crate::report::paper::{Block, isolated};
use crate::report::pictures;
use crate::section::WallLeft;
use crate::units::Kind as Quantity;
use crate::verdict::{Check, Standing, Status};

/// Grooves side by side in one table of walls.
const MOST_GROOVES: usize = 7;

impl Dossier<'_> {
    pub(super) fn appendix(&self) -> Vec<Block> {
        let mut body = Vec::new();
        self.checks(&mut body);
        self.consequences(&mut body);
        self.loads(&mut body);
        self.walls(&mut body);
        self.stress(&mut body);
        self.trust(&mut body);
        self.hand(&mut body);
        self.verified(&mut body);
        self.identity(&mut body);
        self.inputs(&mut body);
        self.closing(&mut body);
        body
    }

    fn checks(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Every check, with its basis and its source", "checks"));
        let row = |check: &Check| {
            vec![
                check.name.clone(),
                check.found.map_or("–".into(), |found| self.amount(found)),
                self.limit(check),
                check.margin().map_or("–".into(), |margin| percent(margin, 0)),
                standing(check.standing).to_owned(),
                word(check.status).to_owned(),
            ]
        };
        let heads = [
            ("check", false),
            ("found", true),
            ("limit", true),
            ("room", true),
            ("rests on", false),
            ("result", false),
        ];
        body.push(Block::table(&heads, self.result.checks.iter().map(row).collect()));
        for check in &self.result.checks {
            let mut text = String::new();
            // A remark says what follows when a check fails, or why it has no numbers.
            let fails = matches!(check.status, Status::Fails | Status::Open);
            if let Some(remark) = check.remark.as_ref().filter(|_| fails || check.found.is_none()) {
                text += remark;
                text.push(' ');
            }
            if !check.source.is_empty() {
                text += &format!("{}. Source: {}.", capital(&check.basis), check.source);
            }
            if let Some(settle) = check.settle.as_ref().filter(|_| fails) {
                text += &format!(" To settle it: {settle}");
            }
            if !text.trim().is_empty() {
                body.push(Block::heading(4, capital(&check.name), ""));
                body.push(Block::note(text.trim().to_owned()));
            }
        }
    }

    fn walls(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Walls around the rim", "walls"));
        let print = &self.survey.print;
        let unit = print.name(Quantity::Length);
        body.push(Block::note(format!(
            "Wall left under each groove as judged (unit: {unit}): least distance, then along the radius from the seat's bottom. Tension ({}) from one coarse mesh drawn over to every place, corrected by what the refined governing place showed of its error.",
            print.name(Quantity::Stress)
        )));
        let number = |mm: f64| print.number(Quantity::Length, mm);
        let cell = |wall: &WallLeft| match (wall.solid, wall.least_mm, wall.radial_mm) {
            (true, ..) => "web".to_owned(),
            (_, Some(least), Some(radial)) => format!("{} / {}", number(least), number(radial)),
            (_, Some(least), None) => number(least),
            _ => "not measured".into(),
        };
        let count = self.result.facts.grooves.len();
        // More columns than these are too narrow for their words.
        let grooves: Vec<usize> = (0..count).collect();
        let tables = count.div_ceil(MOST_GROOVES).max(1);
        for (index, grooves) in grooves.chunks(count.div_ceil(tables).max(1)).enumerate() {
            let names: Vec<String> = grooves.iter().map(|groove| format!("groove {}", groove + 1)).collect();
            let mut heads = vec![("place", false)];
            heads.extend(names.iter().map(|name| (name.as_str(), true)));
            let last = index + 1 == tables;
            if last {
                heads.extend([("tension", true), ("factor", true)]);
            }
            let rows = self.result.places.iter().map(|place| {
                let wall = |groove: &usize| place.walls.get(*groove).map_or("none".into(), cell);
                let mut row = vec![place.name.clone()];
                row.extend(grooves.iter().map(wall));
                if last {
                    row.push(place.peak_mpa.map_or("–".into(), |mpa| print.number(Quantity::Stress, mpa)));
                    row.push(place.factor.map_or("–".into(), |factor| format!("{factor:.1}")));
                }
                row
            });
            body.push(Block::table(&heads, rows.collect()));
        }
        for place in self.result.places.iter().filter(|place| place.fault.is_some()) {
            let fault = place.fault.as_deref().unwrap_or_default();
            body.push(Block::text(format!("{}: no section can be built: {fault}", place.name)));
        }
        if let Some(figure) = pictures::walls(self.survey, self.result) {
            body.push(Block::Figure(figure));
        }
    }

    fn verified(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Verified beforehand", "verified"));
        body.push(Block::note(
            "Cases of the verification manual that exercise what this answer used, by group. `rimproof verify` with their names runs them again on this machine.",
        ));
        body.push(Block::List(proof(self.citations)));
    }

    fn closing(&self, body: &mut Vec<Block>) {
        let result = self.result;
        for (title, anchor, list) in [
            ("What this answer assumes", "assumptions", &result.assumptions),
            ("Not measured, and therefore not judged", "missing", &result.missing),
            ("Cautions", "cautions", &result.cautions),
        ] {
            if !list.is_empty() {
                body.push(Block::heading(2, title, anchor));
                body.push(Block::List(list.clone()));
            }
        }
    }

    fn identity(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "What this report was made from", "identity"));
        let mut pairs = vec![
            ("Survey".to_owned(), isolated(&self.input.file)),
            ("SHA-256 of its bytes".to_owned(), self.input.sha256.clone()),
            ("Program".to_owned(), format!("rimproof {}", env!("CARGO_PKG_VERSION"))),
        ];
        pairs.extend(self.input.set.iter().map(|change| {
            let before = change.before.as_deref().unwrap_or("not there");
            let after = change.after.as_deref().unwrap_or("");
            (
                format!("Set for this run: {}", isolated(&change.path)),
                format!("{} (in the file: {})", isolated(after), isolated(before)),
            )
        }));
        body.push(Block::Pairs(pairs));
        if self.wheel.is_none() {
            body.push(Block::note("The same survey and the same version of the program give this report again, byte for byte on one machine."));
        }
    }
}

/// A share with its sign, as a reader expects it in print.
pub(super) fn percent(share: f64, decimals: usize) -> String {
    format!("{:+.decimals$} %", 100.0 * share).replace('-', "−")
}

pub(super) fn word(status: Status) -> &'static str {
    match status {
        Status::Holds => "holds",
        Status::Fails => "FAILS",
        Status::Open => "OPEN",
        Status::Noted => "noted",
    }
}

fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Strength => "strength",
        Standing::Code => "published code",
        Standing::Geometry => "geometry",
        Standing::Practice => "practice",
        Standing::Yardstick => "yardstick",
    }
}
