//! The table of checks, with basis and source of each.

use super::Page;
use crate::verdict::{Check, Sense, Status};
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn checks(&self, out: &mut String) {
        self.title("Checks", out);
        let mut table = self.table(&["check", "found", "limit", "margin", "result"]);
        for check in &self.result.checks {
            table.add_row(self.check_row(check));
        }
        let _ = writeln!(out, "{table}");
        for check in self.result.checks.iter().filter(|check| check.found.is_none()) {
            if let Some(remark) = &check.remark {
                self.paragraph(&format!("{}: {remark}", check.name), "", out);
            }
        }
        self.title("Basis and source of each check", out);
        for check in self.result.checks.iter().filter(|check| !check.source.is_empty()) {
            self.paragraph(&format!("{}: {}. Source: {}.", check.name, check.basis, check.source), "- ", out);
        }
    }

    fn check_row(&self, check: &Check) -> Vec<String> {
        let word = match check.status {
            Status::Holds => "holds",
            Status::Fails => "FAILS",
            Status::Open => "OPEN",
            Status::Noted => "noted",
        };
        let sense = match check.sense {
            Sense::AtMost => "at most ",
            Sense::AtLeast => "at least ",
        };
        vec![
            check.name.clone(),
            check.found.map_or("-".into(), |found| self.amount(found)),
            check.limit.map_or("-".into(), |limit| format!("{sense}{}", self.amount(limit))),
            check.margin().map_or("-".into(), |margin| format!("{:+.0} %", 100.0 * margin)),
            word.into(),
        ]
    }
}
