//! The number at the start of a quantity: decimals, fractions, mixed numbers.
//!
//! Owns the grammar of numbers and the typographic signs people type. Lacks units.

/// Typographic signs replaced by the plain ones that the grammar knows.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\u{a0}' | '\u{2009}' | '\u{202f}' => out.push(' '),
            '−' | '–' => out.push('-'),
            '⁄' => out.push('/'),
            '′' | '’' => out.push('\''),
            '″' | '”' => out.push('"'),
            '¼' => out.push_str(" 1/4"),
            '½' => out.push_str(" 1/2"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            _ => out.push(c),
        }
    }
    out
}

pub(super) enum NumberFault {
    None,
    Comma,
    ZeroDenominator,
}

/// What is left of the text while it is read.
pub(super) struct Scan<'t> {
    pub(super) rest: &'t str,
}

impl Scan<'_> {
    /// A decimal, a fraction or a mixed number with an optional sign. Whole and fraction are summed
    /// before any scaling, so that a sixteenth of an inch stays exact.
    pub(super) fn number(&mut self) -> Result<f64, NumberFault> {
        self.rest = self.rest.trim_start();
        let negative = self.rest.starts_with('-');
        self.rest = self.rest.strip_prefix(['-', '+']).unwrap_or(self.rest).trim_start();
        let first = self.decimal().ok_or(NumberFault::None)?;
        let mut value = first;
        if let Some(fraction) = self.denominator(first)? {
            value = fraction;
        } else {
            let kept = self.rest;
            let spaced = kept.trim_start();
            let tail = spaced.strip_prefix('-').unwrap_or(spaced);
            self.rest = tail;
            let numerator = if tail.len() < kept.len() { self.decimal() } else { None };
            match numerator.map(|n| self.denominator(n)).transpose()?.flatten() {
                Some(fraction) => value += fraction,
                None => self.rest = kept,
            }
        }
        let after = self.rest.as_bytes();
        if after.first() == Some(&b',') && after.get(1).is_some_and(u8::is_ascii_digit) {
            return Err(NumberFault::Comma);
        }
        Ok(if negative { -value } else { value })
    }

    fn denominator(&mut self, numerator: f64) -> Result<Option<f64>, NumberFault> {
        let Some(tail) = self.rest.trim_start().strip_prefix('/') else {
            return Ok(None);
        };
        let mut scan = Scan { rest: tail.trim_start() };
        let Some(denominator) = scan.decimal() else {
            return Ok(None);
        };
        self.rest = scan.rest;
        if denominator == 0.0 {
            return Err(NumberFault::ZeroDenominator);
        }
        Ok(Some(numerator / denominator))
    }

    fn decimal(&mut self) -> Option<f64> {
        let bytes = self.rest.as_bytes();
        let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
        let whole = digits(0);
        let mut end = whole;
        let mut fraction = 0;
        if bytes.get(end) == Some(&b'.') {
            fraction = digits(end + 1);
            end += 1 + fraction;
        }
        if whole + fraction == 0 {
            return None;
        }
        if matches!(bytes.get(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
            let exponent = bytes.get(end + 1 + sign).map_or(0, |_| digits(end + 1 + sign));
            if exponent > 0 {
                end += 1 + sign + exponent;
            }
        }
        let value = self.rest[..end].parse().ok()?;
        self.rest = &self.rest[end..];
        Some(value)
    }
}
