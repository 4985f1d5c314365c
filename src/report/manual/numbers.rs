//! Numbers as the manual prints them: few digits, and no rounding noise of one machine or another.

use crate::manual::Row;

/// Errors below this share of the reference's size are rounding noise and are printed as "less than".
pub(super) const NOISE: f64 = 1e-8;

/// Significant digits of compared values.
const DIGITS: i32 = 6;

/// What stands for a number that does not exist.
pub(super) const NONE: &str = "–";

/// The size against which an error of `row` is small: its reference, or for references that are zero the
/// largest reference of the same unit in the case, or what is allowed; 1 for plain numbers.
pub(super) fn size_of(row: &Row, rows: &[Row]) -> f64 {
    let largest = rows
        .iter()
        .filter(|other| other.unit == row.unit)
        .map(|other| other.reference.abs())
        .filter(|size| size.is_finite())
        .fold(0.0, f64::max);
    let own = row.reference.abs();
    if own > NOISE * largest {
        own
    } else if row.unit.is_empty() {
        // Plain numbers are of no one kind.
        1.0
    } else if largest > 0.0 {
        largest
    } else {
        row.tolerance.allowed(row.reference).abs()
    }
}

fn exponent(size: f64) -> i32 {
    if size > 0.0 && size.is_finite() { size.log10().floor() as i32 } else { 0 }
}

/// A value with six digits of `size`, so that values of one size line up; large and tiny sizes get powers
/// of ten.
pub(super) fn value(value: f64, size: f64) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    let power = exponent(size.max(value.abs()));
    if (-4..=6).contains(&power) {
        let decimals = (DIGITS - 1 - power).max(0) as usize;
        return unsigned_zero(format!("{value:.decimals$}"));
    }
    let decimals = (DIGITS - 1) as usize;
    // Digits far below the size are noise, as they are in the other form.
    let last = 10f64.powi(power - DIGITS + 1);
    let kept = (value / last).round();
    if kept == 0.0 {
        return "0".to_owned();
    }
    format!("{:.decimals$e}", kept * last)
}

/// The computed value of a row; beside a reference of zero it is an error and is printed as one.
pub(super) fn computed(row: &Row, size: f64) -> String {
    if row.reference.abs() > NOISE * size { value(row.computed, size) } else { small(row.computed, size) }
}

/// A reference without the zeros that nobody wrote.
pub(super) fn reference(number: f64, size: f64) -> String {
    let text = value(number, size);
    match text.split_once('e') {
        Some((digits, power)) => format!("{}e{power}", trimmed(digits)),
        None => trimmed(&text).to_owned(),
    }
}

fn trimmed(text: &str) -> &str {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text }
}

/// "-0.000" says no more than "0.000".
fn unsigned_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    }
}

/// Two digits of an error, an estimate or a tolerance: nothing below the noise of `size` is shown.
pub(super) fn small(error: f64, size: f64) -> String {
    if !error.is_finite() {
        return "not a number".to_owned();
    }
    let noise = NOISE * size.abs();
    if error.abs() <= noise {
        return format!("< {}", plain(noise, 1));
    }
    // The last printed digit is never finer than the noise.
    let digits = 2.min(exponent(error.abs()) - exponent(noise) + 1).max(1);
    plain(error, digits)
}

/// A number with this many significant digits, as a decimal fraction where that is short.
pub(super) fn plain(number: f64, digits: i32) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let power = exponent(number.abs());
    if (-3..=4).contains(&power) {
        let decimals = (digits - 1 - power).max(0) as usize;
        return format!("{number:.decimals$}");
    }
    let decimals = (digits - 1) as usize;
    format!("{number:.decimals$e}")
}

/// An error as a share of the reference in per cent; nothing where the reference is zero beside its like.
pub(super) fn percent(row: &Row, size: f64) -> String {
    let own = row.reference.abs();
    if own <= NOISE * size || size == 0.0 {
        return NONE.to_owned();
    }
    small(100.0 * row.error() / own, 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_of_one_size_line_up_and_hide_their_noise() {
        assert_eq!(value(99.996_277, 100.0), "99.996");
        assert_eq!(value(-1e-13, 60.0), "0.0000");
        assert_eq!(value(1.234_567_8e9, 1e9), "1.23457e9");
        assert_eq!(value(3e-20, 1e-7), "0");
        assert_eq!(value(f64::NAN, 1.0), "not a number");
        assert_eq!(reference(2.5, 2.5), "2.5");
        assert_eq!(reference(200.0, 200.0), "200");
        assert_eq!(reference(2.5e-8, 2.5e-8), "2.5e-8");
    }

    #[test]
    fn errors_end_where_rounding_begins() {
        assert_eq!(small(6.87e-3, 60.0), "0.0069");
        assert_eq!(small(-3.2e-14, 60.0), "< 6e-7");
        assert_eq!(small(1.44e-8, 1.0), "1e-8");
        assert_eq!(small(-1.44e-6, 1.0), "-1.4e-6");
        assert_eq!(small(f64::INFINITY, 1.0), "not a number");
    }
}
