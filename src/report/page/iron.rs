//! What is known of the iron's strength: its section's thickness, and the band by its hardness.

use super::Page;
use crate::survey::Wheel;
use crate::units::Kind as Quantity;
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn iron(&self, out: &mut String) {
        let result = self.result;
        if result.section_size.is_none() && result.hardness_band.is_none() {
            return;
        }
        self.title("Strength of the iron", out);
        self.band(out);
        self.section_size(out);
    }

    fn band(&self, out: &mut String) {
        let result = self.result;
        let Some(band) = &result.hardness_band else { return };
        let mut table = self.table(&["strength", "tensile", "allowable", "factor", "word it would give"]);
        let stress = |mpa: f64| self.show(Quantity::Stress, mpa);
        table.add_row(vec![
            format!("judged: {}", result.metal.name),
            stress(result.metal.tensile_mpa),
            stress(result.allowable_mpa),
            format!("{:.1}", result.governing.least_factor),
            result.verdict.word.text().to_owned(),
        ]);
        for level in &band.levels {
            let shown = if level.may_accept { "" } else { " (shown only)" };
            table.add_row(vec![
                format!(
                    "{} by hardness, {:.0} HB at RH {:.1}",
                    level.name, band.lowest_hardness_hb, level.relative_hardness
                ),
                stress(level.tensile_mpa),
                stress(level.allowable_mpa),
                format!("{:.1}", level.least_factor),
                format!("{}{shown}", level.word.text()),
            ]);
        }
        let _ = writeln!(out, "{table}");
        let role = if band.strength_assumed {
            "The strength judged is assumed. An acceptance must hold at the low end of the band as well; the likely and high strengths accept nothing."
        } else {
            "The strength judged is stated, and the band stands beside it as a cross-check; the likely and high strengths accept nothing."
        };
        let text = format!(
            "Relative hardness RH = HB/(100 + 0.44·R_m) of 1.2 to 0.8, lowest reading (EN 1561, annex on hardness; constants from memory). The factor of 3.45 MPa per HB belongs to steel and is not used. {role}"
        );
        self.paragraph(&text, "", out);
    }

    fn section_size(&self, out: &mut String) {
        let Some(size) = &self.result.section_size else { return };
        let stress = |mpa: f64| self.show(Quantity::Stress, mpa);
        let how = match self.survey.wheel {
            Wheel::SolidDisc { .. } => "the lesser of the disc's width and depth",
            _ => "seat depth and wall as found",
        };
        let what = format!("a section of {} as cast ({how})", self.show(Quantity::Length, size.section_mm));
        let (expected, loss) = (stress(size.expected_mpa), 100.0 * size.relative_loss);
        let text = if size.applied {
            format!(
                "Thickness: of the separately cast bar's {} the table expects {expected} in {what}; it takes away {loss:.0} %. {}",
                stress(size.bar_mpa),
                size.source
            )
        } else {
            format!(
                "Thickness: the assumed class is taken for the casting itself (common practice). Were its {} those of a separately cast bar, {expected} ({loss:.0} % less) would be expected in {what}. {}",
                stress(size.bar_mpa),
                size.source
            )
        };
        self.paragraph(&text, "", out);
    }
}
