//! What the cut changes besides the stress.

use super::{Dossier, plain};
use crate::report::paper::Block;
use crate::verdict::{Amount, Sense, Standing, Status};

impl Dossier<'_> {
    pub(super) fn consequences(&self, body: &mut Vec<Block>) {
        let found = &self.result.consequences;
        let cut = found.after.is_some();
        let title = if cut { "What the cut changes" } else { "Diameters, traction, ropes" };
        body.push(Block::heading(2, title, "changes"));
        let value =
            |amount: Option<Amount>| amount.map_or("unknown".into(), |amount| self.short_amount(amount));
        let rows = found.rows.iter().map(|row| {
            let mut cells = vec![row.name.clone(), value(row.now)];
            if cut {
                cells.push(value(row.after));
            }
            let sense = if row.sense == Sense::AtLeast { "at least" } else { "at most" };
            cells.push(row.limit.map_or("–".into(), |limit| format!("{sense} {}", self.short_amount(limit))));
            let judged = if cut { row.after_status.or(row.now_status) } else { row.now_status };
            cells.push(match (judged, row.standing) {
                (None, _) => "–".into(),
                (Some(_), Standing::Yardstick) => "noted".into(),
                (Some(status), _) => super::appendix::word(status).to_owned(),
            });
            let mended = row.now_status == Some(Status::Fails) && row.after_status != Some(Status::Fails);
            if let Some(last) = cells.last_mut().filter(|_| cut && mended) {
                *last += " (fails now)";
            }
            cells
        });
        let mut heads = vec![("quantity", false), ("now", true)];
        if cut {
            heads.push(("after the cut", true));
        }
        heads.extend([("limit", true), ("result", false)]);
        body.push(Block::table(&heads, rows.collect()));
        body.push(Block::note(
            "Traction: what friction can hold, e^(fα), must reach the ratio of rope tensions while loading and braking, and must not exceed it with the counterweight on its buffers (EN 81-50:2020, 5.11). The car stands at the worse landing.",
        ));
    }

    /// In the survey's own unit alone: SI beside it would burst the table.
    fn short_amount(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => self.own(kind, amount.value),
            None if amount.value.fract() == 0.0 => plain(amount.value),
            None => format!("{:.3}", amount.value),
        }
    }
}
