//! Reading a quantity from text.
//!
//! Owns the grammar: decimals, fractions, mixed numbers, feet with inches. Lacks files and places:
//! a fault here says what was found, what is allowed and what to do; the caller knows where it stood.
//! Units: the value is returned in the unit used inside the program.

use super::number::{NumberFault, Scan, plain};
use super::{Kind, UNITS, Unit, find, names};
use crate::diagnostics::quoted;

/// Beyond this no quantity of a lift is meant, whatever its unit.
const LARGEST: f64 = 1e12;

/// A quantity as read: its value in the unit used inside, and the unit it was written in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    pub value: f64,
    /// `None` for a ratio written as a plain number.
    pub unit: Option<&'static Unit>,
}

/// Why a text is not a quantity of the kind asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitFaultKind {
    /// A number without a unit.
    Missing,
    /// A unit that is in no table.
    Unknown,
    /// A unit of another kind.
    WrongKind,
    /// A comma in the number.
    Comma,
    /// Not a number, or something after the unit.
    Malformed,
    /// Not finite, or too large to be meant.
    Magnitude,
}

/// A fault in a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitFault {
    pub kind: UnitFaultKind,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
    /// What to do.
    pub advice: String,
}

/// Reads a quantity of the given kind; the value is in the unit used inside the program.
///
/// ```
/// use rimproof::units::{parse, Kind};
/// assert_eq!(parse("9/16 in", Kind::Length).unwrap().value, 14.2875);
/// ```
///
/// # Errors
/// Returns the first fault in the text: no number, no unit, a unit of another kind, a comma, something
/// after the unit, or a value that is not finite or beyond 1e12.
pub fn parse(text: &str, kind: Kind) -> Result<Quantity, UnitFault> {
    let clean = plain(text);
    let mut scan = Scan { rest: clean.trim() };
    let number = scan.number().map_err(|why| number_fault(why, text, kind))?;
    let rest = scan.rest.trim();
    if rest.is_empty() {
        if kind == Kind::Ratio {
            return Ok(Quantity { value: within(number, text, kind)?, unit: None });
        }
        return Err(bare_number(text, number, kind));
    }
    if let Some(unit) = find(kind, rest) {
        return Ok(Quantity { value: within(unit.to_inside(number), text, kind)?, unit: Some(unit) });
    }
    if kind == Kind::Length
        && let Some((inches, unit)) = feet_and_inches(rest, number)
    {
        return Ok(Quantity { value: within(unit.to_inside(inches), text, kind)?, unit: Some(unit) });
    }
    Err(unit_fault(rest, text, kind))
}

/// Reads a plain number from text, for fields that have no unit.
///
/// # Errors
/// Returns a fault when the text is not one finite number of ordinary size.
pub fn parse_number(text: &str) -> Result<f64, UnitFault> {
    parse(text, Kind::Ratio).map(|quantity| quantity.value)
}

/// The fault of a number without a unit; the advice shows the number with its likely unit.
pub fn bare_number(text: &str, value: f64, kind: Kind) -> UnitFault {
    let written = text.trim();
    let (likely, other) = match kind {
        // Rims are measured in tenths of inches or tens of millimetres.
        Kind::Length if written.contains('/') || value.abs() < 6.0 => ("in", Some("mm")),
        Kind::Length => ("mm", Some("in")),
        Kind::Mass => ("kg", Some("lb")),
        Kind::Force => ("N", Some("lbf")),
        Kind::Speed if value.abs() > 20.0 => ("ft/min", Some("m/s")),
        Kind::Speed => ("m/s", Some("ft/min")),
        Kind::Acceleration => ("m/s2", Some("ft/s2")),
        Kind::Angle => ("deg", None),
        Kind::Stress if value.abs() > 1000.0 => ("psi", Some("MPa")),
        Kind::Stress => ("MPa", Some("psi")),
        Kind::MassPerLength => ("kg/m", Some("lb/ft")),
        Kind::Hardness => ("HB", None),
        Kind::Ratio => ("%", None),
    };
    let written = clipped(written);
    let mut advice = format!("write \"{written} {likely}\"");
    if let Some(other) = other {
        advice.push_str(&format!(", or \"{written} {other}\" if that was meant"));
    }
    UnitFault {
        kind: UnitFaultKind::Missing,
        found: format!("{} has no unit", quoted(text)),
        allowed: allowed(kind),
        advice,
    }
}

fn allowed(kind: Kind) -> String {
    match kind {
        Kind::Ratio => "allowed is a plain number, or one in %".into(),
        _ => format!("allowed is {} in {}", kind.phrase(), names(kind)),
    }
}

fn clipped(text: &str) -> String {
    quoted(text).trim_matches('"').to_string()
}

fn number_fault(why: NumberFault, text: &str, kind: Kind) -> UnitFault {
    let (fault, found, advice) = match why {
        NumberFault::Comma => {
            let point = clipped(&text.trim().replacen(',', ".", 1));
            let joined = clipped(&text.trim().replace(',', ""));
            (
                UnitFaultKind::Comma,
                format!("{} has a comma in the number", quoted(text)),
                format!(
                    "write a point, \"{point}\"; if the comma parts thousands, leave it out, \"{joined}\""
                ),
            )
        }
        NumberFault::ZeroDenominator => (
            UnitFaultKind::Malformed,
            format!("{} divides by zero", quoted(text)),
            "write the fraction with a denominator such as 2, 4, 8, 16, 32 or 64".to_string(),
        ),
        NumberFault::None => (
            UnitFaultKind::Malformed,
            format!("{} does not begin with a number", quoted(text)),
            format!("write for instance {}", kind.examples()),
        ),
    };
    UnitFault { kind: fault, found, allowed: allowed(kind), advice }
}

fn unit_fault(rest: &str, text: &str, kind: Kind) -> UnitFault {
    let advice = format!("write for instance {}", kind.examples());
    let spelled = clipped(rest);
    if let Some(other) = UNITS.iter().find(|u| find(u.kind, rest) == Some(*u)) {
        return UnitFault {
            kind: UnitFaultKind::WrongKind,
            found: format!("{} is {}, and {} is asked for", quoted(text), other.kind.phrase(), kind.phrase()),
            allowed: allowed(kind),
            advice,
        };
    }
    if let Some((unit, tail)) = leading_unit(rest, kind) {
        return UnitFault {
            kind: UnitFaultKind::Malformed,
            found: format!("{} goes on after the unit {unit} with \"{}\"", quoted(text), clipped(tail)),
            allowed: allowed(kind),
            advice: "write one number and one unit, and put remarks behind a # sign".into(),
        };
    }
    if rest.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '/' || c == '-') {
        return UnitFault {
            kind: UnitFaultKind::Malformed,
            found: format!("{} is not one number with a unit", quoted(text)),
            allowed: allowed(kind),
            advice,
        };
    }
    UnitFault {
        kind: UnitFaultKind::Unknown,
        found: format!("{} has the unit \"{spelled}\", which is not known", quoted(text)),
        allowed: allowed(kind),
        advice,
    }
}

/// A known unit of this kind at the start, and what stands after it.
fn leading_unit(rest: &str, kind: Kind) -> Option<(&'static str, &str)> {
    let (word, tail) = rest.split_once(|c: char| c.is_whitespace() || c == ',' || c == ';')?;
    find(kind, word).map(|unit| (unit.name, tail.trim()))
}

fn within(value: f64, text: &str, kind: Kind) -> Result<f64, UnitFault> {
    if value.is_finite() && value.abs() <= LARGEST {
        return Ok(value);
    }
    Err(UnitFault {
        kind: UnitFaultKind::Magnitude,
        found: format!("{} is too large to be meant", quoted(text)),
        allowed: allowed(kind),
        advice: "check the number and its unit".into(),
    })
}

/// `2 ft 6 in` and `2' 6"`: the feet are read already, the rest begins with their unit.
fn feet_and_inches(rest: &str, feet: f64) -> Option<(f64, &'static Unit)> {
    let tail = ["feet", "foot", "ft.", "ft", "'"].iter().find_map(|mark| rest.strip_prefix(mark))?;
    let mut scan = Scan { rest: tail.trim_start_matches([' ', '-']) };
    let inches = scan.number().ok()?;
    let unit = find(Kind::Length, scan.rest.trim()).filter(|unit| unit.name == "in")?;
    (0.0..12.0).contains(&inches).then(|| (feet * 12.0 + inches.copysign(feet), unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str, kind: Kind) -> f64 {
        parse(text, kind).unwrap_or_else(|fault| panic!("{text}: {fault:?}")).value
    }

    fn fault(text: &str, kind: Kind) -> UnitFaultKind {
        parse(text, kind).expect_err(text).kind
    }

    #[test]
    fn lengths_are_exact() {
        for (text, mm) in [
            ("9/16 in", 14.2875),
            ("1 1/2 in", 38.1),
            ("1-1/2 in", 38.1),
            ("1½ in", 38.1),
            ("0.625 in", 15.875),
            (".62 in", 15.748),
            ("2 ft 6 in", 762.0),
            ("2' 6\"", 762.0),
            ("2'6 1/2\"", 774.7),
            ("2'-6\"", 762.0),
            ("5/8\"", 15.875),
            ("14.3 mm", 14.3),
            ("14.3mm", 14.3),
            ("2.1 cm", 21.0),
            ("1.2 m", 1200.0),
            ("-3/4 in", -19.05),
        ] {
            assert_eq!(value(text, Kind::Length), mm, "{text}");
        }
    }

    #[test]
    fn other_kinds() {
        assert_eq!(value("5500 lbf", Kind::Force), 5500.0 * 4.4482216152605);
        assert_eq!(value("350 fpm", Kind::Speed), 350.0 * 0.3048 / 60.0);
        assert_eq!(value("0.1 g", Kind::Acceleration), 0.980665);
        assert_eq!(value("500 g", Kind::Mass), 0.5);
        assert_eq!(value("180°", Kind::Angle), std::f64::consts::PI);
        assert_eq!(value("45 %", Kind::Ratio), 0.45);
        assert_eq!(value("0.45", Kind::Ratio), 0.45);
        assert_eq!(value("195 HB", Kind::Hardness), 195.0);
        assert_eq!(value("0.5 m/s²", Kind::Acceleration), 0.5);
        assert_eq!(value("138 N / mm2", Kind::Stress), 138.0);
    }

    #[test]
    fn faults_are_told_apart() {
        use UnitFaultKind as F;
        for (text, kind) in [
            ("14.3", F::Missing),
            ("", F::Malformed),
            ("NaN mm", F::Malformed),
            ("inf mm", F::Malformed),
            ("1/0 in", F::Malformed),
            ("1e308 mm", F::Magnitude),
            ("1e999 mm", F::Magnitude),
            ("14.3 mm or so", F::Malformed),
            ("14.3 mm 2", F::Malformed),
            ("14,3 mm", F::Comma),
            ("14.3 kg", F::WrongKind),
            ("14.3 furlong", F::Unknown),
            ("1.2.3 mm", F::Malformed),
            ("2 ft 14 in", F::Malformed),
            ("1 2 3 mm", F::Malformed),
        ] {
            assert_eq!(fault(text, Kind::Length), kind, "{text}");
        }
    }

    #[test]
    fn advice_shows_the_fix() {
        let fault = parse("14.3", Kind::Length).unwrap_err();
        assert!(fault.advice.starts_with("write \"14.3 mm\""), "{}", fault.advice);
        let fault = parse("14,3 mm", Kind::Length).unwrap_err();
        assert!(fault.advice.contains("\"14.3 mm\""), "{}", fault.advice);
        let fault = parse("14 kg", Kind::Length).unwrap_err();
        assert!(fault.found.contains("a mass") && fault.found.contains("a length"));
        assert!(parse(&"9".repeat(100_000), Kind::Length).unwrap_err().found.len() < 200);
    }
}
