//! Axes with round numbers.

use crate::report::drawing::{At, GREY, INK, Pen, Sheet, Tie};

/// A round step (1, 2, 2.5 or 5 times a power of ten) that divides `span` into no more than `most` parts.
pub(super) fn round_step(span: f64, most: f64) -> f64 {
    let least = span / most;
    let power = 10f64.powf(least.log10().floor());
    let step = [1.0, 2.0, 2.5, 5.0, 10.0].into_iter().find(|step| step * power >= least * (1.0 - 1e-9));
    step.unwrap_or(10.0) * power
}

/// A number with the decimals that its step needs.
pub(super) fn label(value: f64, step: f64) -> String {
    let decimals = (0..6).find(|d| {
        let scaled = step * 10f64.powi(*d);
        (scaled - scaled.round()).abs() < 1e-6 * scaled.max(1.0)
    });
    let text = format!("{value:.*}", decimals.unwrap_or(6) as usize);
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text.replace('-', "−"),
    }
}

/// A plot field between two corners, with what its sides stand for.
pub(super) struct Field {
    /// Left, right, top, bottom (px).
    pub sides: [f64; 4],
    /// Values at the left and right, and at the bottom and top.
    pub across: (f64, f64),
    pub up: (f64, f64),
}

impl Field {
    pub fn x(&self, value: f64) -> f64 {
        let [left, right, ..] = self.sides;
        left + (right - left) * (value - self.across.0) / (self.across.1 - self.across.0)
    }

    pub fn y(&self, value: f64) -> f64 {
        let [.., top, bottom] = self.sides;
        bottom - (bottom - top) * (value - self.up.0) / (self.up.1 - self.up.0)
    }

    pub fn at(&self, p: At) -> At {
        (self.x(p.0), self.y(p.1))
    }

    /// Thin lines with their numbers at the left.
    pub fn levels(&self, sheet: &mut Sheet, step: f64) {
        let [left, right, ..] = self.sides;
        let (first, last) = ((self.up.0 / step).ceil() as i64, (self.up.1 / step + 1e-9).floor() as i64);
        for index in first..=last {
            let value = index as f64 * step;
            let y = self.y(value);
            let pen = if index == 0 { Pen::new(GREY, 0.9) } else { Pen::new("#dcdcdc", 0.6) };
            sheet.line((left, y), (right, y), pen);
            sheet.text((left - 6.0, y + 4.0), &label(value, step), Tie::End, INK);
        }
    }

    /// Thin lines upwards with their names below.
    pub fn marks(&self, sheet: &mut Sheet, values: &[(f64, String)]) {
        let [.., top, bottom] = self.sides;
        for (value, name) in values {
            let x = self.x(*value);
            sheet.line((x, top), (x, bottom), Pen::new("#dcdcdc", 0.6));
            sheet.text((x, bottom + 15.0), name, Tie::Middle, INK);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_labels_have_their_decimals() {
        assert!((round_step(1700.0, 10.0) - 200.0).abs() < 1e-9);
        assert!((round_step(0.93, 10.0) - 0.1).abs() < 1e-12);
        assert_eq!(label(0.25, 0.25), "0.25");
        assert_eq!(label(-300.0, 100.0), "−300");
        assert_eq!(label(-0.0, 0.1), "0.0");
    }
}
