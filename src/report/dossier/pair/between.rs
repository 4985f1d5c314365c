//! The part on the double wrap itself: combinations, tensions between the passes, creep, history, and their basis.

use super::{Pair, on_paper};
use crate::hoist::double_wrap::History;
use crate::report::double_wrap::{GOVERNS, TENSION_HEADS};
use crate::report::paper::{Block, Figure, isolated};
use crate::report::pictures;
use crate::study::double_wrap::Tensions;

impl Pair<'_> {
    /// The title first; [`super::Part`] numbers it.
    pub(super) fn between(&self) -> Vec<Block> {
        let mut body = vec![
            Block::heading(2, "The double wrap", "double-wrap"),
            Block::text(
                "Every rope passes over the drive sheave twice, and over the secondary sheave between. The masses fix the tensions on both outer sides; the tension between the passes they leave open. Both sheaves are judged in full under every tension that can be told, and the worse word is the answer.",
            ),
        ];
        self.combinations(&mut body);
        self.tensions(&mut body);
        self.creep(&mut body);
        let judged = if self.double.as_found.is_some() { ", as cut" } else { "" };
        self.history(&self.double.tensions, judged, &mut body);
        if let Some(found) = &self.double.as_found {
            self.history(found, ", as found", &mut body);
        }
        self.basis(&mut body);
        body
    }

    fn combinations(&self, body: &mut Vec<Block>) {
        let words = self.words();
        body.push(Block::heading(2, "Both sheaves under every tension between the passes", "combinations"));
        let heads = words.combination_heads();
        let numbers = [false, true, false, true, true, true, false];
        let heads: Vec<(&str, bool)> = heads.iter().map(String::as_str).zip(numbers).collect();
        body.push(Block::table(&heads, on_paper(words.combination_rows())));
        body.push(Block::note(GOVERNS));
        let caption = "Least factor on ultimate strength over the factor asked for, of both sheaves under every tension between the passes. Left of the line a sheave fails by strength; other checks may still say no to its right. Filled: what governs its sheave.".to_owned();
        let svg = pictures::combinations(self.double, &caption);
        body.push(Block::Figure(Figure { name: "combinations".into(), caption, svg }));
        let reached: Vec<&str> =
            self.double.combinations.iter().filter(|c| !c.tensions.reached).map(|c| c.name).collect();
        if !reached.is_empty() {
            body.push(Block::text(format!(
                "Nothing says that these are ever reached, and a refusal under them alone is a doubt, not a no: {}.",
                reached.join("; ")
            )));
        }
        body.push(Block::text(words.equilibrium()));
    }

    fn tensions(&self, body: &mut Vec<Block>) {
        let words = self.words();
        body.push(Block::heading(2, "Tension between the passes", "tensions"));
        body.push(Block::note(format!(
            "Car at rest with rated load, per rope, in {}. By friction: neither pass slips, whichever way it drives. Both passes driving: the tension falls over both. Creep: what a long run up or down settles to.",
            words.unit()
        )));
        let heads: Vec<(&str, bool)> =
            TENSION_HEADS.iter().enumerate().map(|(index, head)| (*head, index > 0)).collect();
        body.push(Block::table(&heads, on_paper(words.tension_rows(&self.double.tensions))));
        let caption = "Tension between the passes, rope by rope: the wide bar is what friction lets it be, the dark one where both passes drive; marks as named below the axis.".to_owned();
        let svg = pictures::between(&self.double.tensions, &self.drive.survey.print, &caption);
        body.push(Block::Figure(Figure { name: "between".into(), caption, svg }));
    }

    fn creep(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "Creep of the ropes", "creep"));
        let mut said = self.words().creep();
        if self.double.tensions.ropes.iter().all(|rope| rope.creep.is_none()) {
            said.push("What a long run settles to is not told: the survey has no stiffness of the ropes (rope_stiffness, or rope_modulus with fill_factor).".to_owned());
        }
        body.extend(said.into_iter().map(Block::text));
    }

    fn history(&self, tensions: &Tensions, state: &str, body: &mut Vec<Block>) {
        let words = self.words();
        let anchor = if state.ends_with("found") { "history-as-found" } else { "history" };
        body.push(Block::heading(2, format!("Ropes over the travel{state}"), anchor));
        let Some(history) = &tensions.history else {
            body.push(Block::text("Not marched: that needs the ropes' stiffness, the free lengths of all three spans, and the travel."));
            return;
        };
        if state.ends_with("found") {
            body.push(Block::note(
                "For the grooves as they are now; nothing is decided by it where a cut is judged.",
            ));
        }
        body.push(Block::text(words.history(history)));
        body.push(Block::note(format!("Lowest and highest tension in the last cycle, in {}.", words.unit())));
        let heads = [
            ("rope", true),
            ("car's side", true),
            ("between the passes", true),
            ("counterweight's side", true),
        ];
        body.push(Block::table(&heads, on_paper(words.range_rows(history))));
        self.cycle(history, body);
    }

    fn cycle(&self, history: &History, body: &mut Vec<Block>) {
        let Some(rope) = history.widest_rope() else { return };
        let words = self.words();
        let number = rope + 1;
        let caption = format!(
            "The last cycle of rope {number}, whose tension between the passes moves most: up in the left half, down in the right. Thin: the same span of the other ropes."
        );
        let svg = pictures::history(history, rope, &self.drive.survey.print, &caption);
        body.push(Block::Figure(Figure { name: "history".into(), caption, svg }));
        let heads = words.cycle_heads();
        let numbers = [true, false, true, true, true, false];
        let heads: Vec<(&str, bool)> = heads.iter().map(String::as_str).zip(numbers).collect();
        body.push(Block::table(&heads, on_paper(words.cycle_rows(history, rope))));
    }

    fn basis(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "What the tensions between the passes rest on", "basis"));
        body.push(Block::List(self.words().basis()));
        body.push(Block::heading(2, "What this report was made from", "identity"));
        let input = self.drive.input;
        let mut pairs = vec![
            ("Survey of the drive sheave".to_owned(), isolated(&input.file)),
            ("SHA-256 of its bytes".to_owned(), input.sha256.clone()),
        ];
        match &input.secondary {
            Some(other) => pairs.extend([
                ("Survey of the secondary sheave".to_owned(), isolated(&other.file)),
                ("SHA-256 of its bytes".to_owned(), other.sha256.clone()),
            ]),
            None => pairs.push(("Survey of the secondary sheave".to_owned(), "none".to_owned())),
        }
        pairs.push(("Program".to_owned(), format!("rimproof {}", env!("CARGO_PKG_VERSION"))));
        body.push(Block::Pairs(pairs));
        body.push(Block::note("The same two surveys and the same version of the program give this report again, byte for byte on one machine."));
    }
}
