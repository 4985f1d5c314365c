//! What the cut changes besides the stress: now, after the cut, the limit and the word.

use super::Page;
use crate::hoist::rules::SEAT_HARDNESS_HB;
use crate::study::Consequence;
use crate::survey::Role;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Sense, Standing, Status};
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn consequences(&self, out: &mut String) {
        let found = &self.result.consequences;
        let cut = found.after.is_some();
        self.title(if cut { "What the cut changes" } else { "Diameters, traction, ropes" }, out);
        let header: &[&str] = if cut {
            &["quantity", "now", "after the cut", "limit", "word"]
        } else {
            &["quantity", "now", "limit", "word"]
        };
        let mut table = self.table(header);
        for row in &found.rows {
            let mut cells = vec![row.name.clone(), self.value(row.now)];
            if cut {
                cells.push(self.value(row.after));
            }
            let sense = if row.sense == Sense::AtLeast { "at least" } else { "at most" };
            cells.push(row.limit.map_or("-".into(), |limit| format!("{sense} {}", self.own(limit))));
            cells.push(word(row, cut));
            table.add_row(cells);
        }
        let _ = writeln!(out, "{table}");
        self.words_on_speed(out);
        self.words_on_diameters(out);
        self.words_on_traction(out);
        self.words_on_ropes(out);
        self.words_on_hardness(out);
    }

    fn value(&self, amount: Option<Amount>) -> String {
        amount.map_or("unknown".into(), |amount| self.own(amount))
    }

    /// The amount in the survey's own unit alone: SI beside it would burst the table.
    fn own(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => {
                format!("{} {}", self.survey.print.number(kind, amount.value), self.survey.print.name(kind))
            }
            None if amount.value.fract() == 0.0 => format!("{:.0}", amount.value),
            None => format!("{:.3}", amount.value),
        }
    }

    fn words_on_speed(&self, out: &mut String) {
        let Some(speed) = self.result.consequences.car_speed else { return };
        let show = |v: f64| self.show(Quantity::Speed, v);
        let text = format!(
            "Car speed {} becomes {} at the same speed of the machine: {} of {} ({:+.2} %).",
            show(speed.now_m_s),
            show(speed.after_m_s),
            if speed.change_m_s < 0.0 { "a loss" } else { "a gain" },
            show(speed.change_m_s.abs()),
            100.0 * speed.relative_change
        );
        self.paragraph(&text, "", out);
    }

    fn words_on_diameters(&self, out: &mut String) {
        let facts = &self.result.facts;
        let length = |mm: f64| self.show(Quantity::Length, mm);
        let range = |get: fn(&crate::study::GrooveFacts) -> f64| {
            let values = facts.grooves.iter().map(get);
            let (low, high) =
                (values.clone().fold(f64::INFINITY, f64::min), values.fold(f64::NEG_INFINITY, f64::max));
            if high - low < 0.005 { length(low) } else { format!("{} to {}", length(low), length(high)) }
        };
        let text = format!(
            "Pitch diameter as found {}, as judged {}.",
            range(|g| g.pitch_diameter_now_mm),
            range(|g| g.pitch_diameter_judged_mm)
        );
        self.paragraph(&text, "", out);
        let left = facts.cut_left_by_diameter_mm;
        let text = if left > 0.005 {
            format!("The pitch diameter leaves room for another cut of {} by its rule.", length(left))
        } else {
            "The pitch diameter leaves no room for a cut by its rule.".to_owned()
        };
        self.paragraph(&text, "", out);
    }

    fn words_on_traction(&self, out: &mut String) {
        if self.result.consequences.rows.iter().any(|row| row.key == "traction") {
            self.paragraph(
                "Traction: what friction can hold, e^(fα), must reach the ratio of rope tensions (the limit column) while loading and braking, and must not exceed it with the counterweight on its buffers, so that the ropes slip (EN 81-50:2020, 5.11). The car stands at the worse landing.",
                "",
                out,
            );
        }
    }

    fn words_on_ropes(&self, out: &mut String) {
        if self.survey.roping.role != Role::Drive {
            return;
        }
        let found = &self.result.consequences;
        let mut states = vec![("now", &found.now)];
        states.extend(found.after.as_ref().map(|after| ("after the cut", after)));
        for (when, state) in states {
            let text = match (&state.rope_life, &state.rope_life_missing) {
                (Some(life), _) => format!(
                    "S_f {when}: N = {:.2} equivalent bends ({:.2} of them on this sheave, groove {}) at D/d = {:.2} ask {:.2} (EN 81-50:2020, 5.12).",
                    life.equivalent_bends,
                    life.traction_bends,
                    life.groove,
                    life.diameter_ratio,
                    life.required_rope_factor
                ),
                (None, Some(why)) => format!("S_f {when} is unknown: {why}."),
                (None, None) => continue,
            };
            self.paragraph(&text, "", out);
        }
        let text = match found.rope_factor {
            Some(factor) => format!(
                "The ropes have a factor of {factor:.2}: {} × {} over the static force in all ropes with rated load.",
                self.survey.roping.ropes,
                self.survey
                    .roping
                    .rope_facts
                    .breaking_force_n
                    .map_or("-".into(), |n| self.show(Quantity::Force, n))
            ),
            None => "The ropes' own factor is unknown: their breaking force was not stated.".to_owned(),
        };
        self.paragraph(&text, "", out);
    }

    fn words_on_hardness(&self, out: &mut String) {
        let Some(after) = &self.result.consequences.after else { return };
        let softer =
            "Heat-treated castings soften inwards more than alloyed ones (common practice, no source).";
        let text = match after.hardness_hb {
            None => format!(
                "Hardness at the finished seats is unknown: no readings by depth surround them. {softer}"
            ),
            Some(hb) if hb > SEAT_HARDNESS_HB.1.value => format!(
                "The finished seats are expected at {hb:.0} HB, harder than the {:.0} HB that practice wants at most: the ropes may wear first.",
                SEAT_HARDNESS_HB.1.value
            ),
            Some(hb) if hb < SEAT_HARDNESS_HB.0.value => format!(
                "The finished seats are expected at {hb:.0} HB, softer than the {:.0} HB that practice wants: they will wear sooner. {softer}",
                SEAT_HARDNESS_HB.0.value
            ),
            Some(hb) => format!(
                "The finished seats are expected at {hb:.0} HB, by the readings above and below them. {softer}"
            ),
        };
        self.paragraph(&text, "", out);
    }
}

/// What a row comes to: the judged state's word, and the other's where they differ.
fn word(row: &Consequence, cut: bool) -> String {
    let text = |status: Option<Status>| match (status, row.standing) {
        (None, _) => "-",
        (Some(_), Standing::Yardstick) => "noted",
        (Some(Status::Fails), _) => "FAILS",
        (Some(Status::Open), _) => "OPEN",
        (Some(Status::Noted), _) => "noted",
        (Some(Status::Holds), _) => "holds",
    };
    let (now, after) = (text(row.now_status), text(row.after_status));
    match cut {
        false => now.into(),
        true if now == after || now == "-" => after.into(),
        true if after == "-" => format!("{now} now"),
        true => format!("{now} now, {after} after"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(now: Status, after: Status) -> Consequence {
        Consequence {
            key: "traction",
            name: "traction".into(),
            now: None,
            after: None,
            limit: None,
            sense: Sense::AtLeast,
            standing: Standing::Code,
            now_status: Some(now),
            after_status: Some(after),
        }
    }

    #[test]
    fn the_word_tells_what_changes() {
        assert_eq!(word(&row(Status::Holds, Status::Holds), true), "holds");
        assert_eq!(word(&row(Status::Fails, Status::Holds), true), "FAILS now, holds after");
        assert_eq!(word(&row(Status::Fails, Status::Holds), false), "FAILS");
        let yardstick = Consequence { standing: Standing::Yardstick, ..row(Status::Fails, Status::Holds) };
        assert_eq!(word(&yardstick, true), "noted");
    }
}
