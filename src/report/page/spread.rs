//! Unequal rope tensions against equal ones, and the engineer's own emergency case.

use super::Page;
use crate::hoist::CaseKind;
use crate::survey::Given;
use crate::units::Kind as Quantity;
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn spread(&self, out: &mut String) {
        let Some(spread) = &self.result.equalised else { return };
        let force = |n: f64| self.show(Quantity::Force, n);
        self.title("What equal rope tensions would bring", out);
        let mut table = self.table(&["rope tensions", "hottest rope", "tension", "factor"]);
        let computed = matches!(self.survey.load.given, Given::PerRope { computed: true, .. });
        let as_judged = if computed {
            format!("each rope's own, hottest rope in its own groove {}", spread.hottest_groove)
        } else if spread.measured {
            format!("as measured, hottest rope in its own groove {}", spread.hottest_groove)
        } else {
            format!(
                "assumed spread {:.0} %, hottest rope in groove {}, the worst for it",
                100.0 * self.survey.load.tension_spread,
                spread.hottest_groove
            )
        };
        table.add_row(vec![
            as_judged,
            force(spread.hottest_n),
            self.show(Quantity::Stress, spread.peak_mpa),
            format!("{:.2}", spread.least_factor),
        ]);
        table.add_row(vec![
            "the same sum, equalised".to_owned(),
            force(spread.mean_n),
            self.show(Quantity::Stress, spread.equal_peak_mpa),
            format!("{:.2}", spread.equal_least_factor),
        ]);
        let _ = writeln!(out, "{table}");
        let change = 100.0 * spread.relative_change;
        let does = if change < 0.0 { "lower" } else { "raise" };
        self.paragraph(
            &format!(
                "Equalising would {does} the highest tension by {:.1} %, at this place around the rim; it would lie in the {}. (Coarse mesh, corrected.)",
                change.abs(),
                spread.equal_peak_words
            ),
            "",
            out,
        );
    }

    pub(super) fn emergency(&self, out: &mut String) {
        let result = self.result;
        let case = result.cases.iter().find(|case| case.kind == CaseKind::Emergency);
        let (Some(case), Some(multiple)) = (case, self.survey.load.emergency_multiple) else { return };
        self.paragraph(
            &format!(
                "Emergency: {multiple} times the rated case, as the engineer states it; {} and a factor of {:.2} on ultimate strength in the {}. No code's limit is judged for it.",
                self.show(Quantity::Stress, case.peak_mpa),
                case.least_factor,
                case.peak_words
            ),
            "",
            out,
        );
    }
}
