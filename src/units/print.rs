//! Printing quantities in the units a survey itself uses, with SI beside them.
//!
//! Owns the choice of the printed unit and the number of digits. Lacks any reading.
//! Units: every value handed in is in the unit used inside the program.

use super::{Kind, Unit, find};
use serde::Serialize;
use std::collections::HashMap;

/// The unit in which each kind of quantity is printed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PrintUnits {
    pub length: &'static Unit,
    pub mass: &'static Unit,
    pub force: &'static Unit,
    pub speed: &'static Unit,
    pub acceleration: &'static Unit,
    pub stress: &'static Unit,
    pub mass_per_length: &'static Unit,
}

/// Counts the units a survey uses, one vote for each quantity read.
#[derive(Debug, Clone, Default)]
pub struct UnitVotes {
    votes: HashMap<(Kind, &'static str), usize>,
}

impl UnitVotes {
    pub fn add(&mut self, unit: &'static Unit) {
        *self.votes.entry((unit.kind, unit.prints_as)).or_default() += 1;
    }

    /// The unit used most; a draw, or no vote at all, goes to the fall-back.
    fn winner(&self, kind: Kind, fall_back: &str) -> &'static Unit {
        let count = |name: &str| {
            self.votes.iter().filter(|((k, n), _)| *k == kind && *n == name).map(|(_, c)| *c).sum::<usize>()
        };
        let mut best = (fall_back, count(fall_back));
        // The table's order decides between two rivals, so that the same file prints the same units.
        for unit in super::UNITS.iter().filter(|unit| unit.kind == kind) {
            if count(unit.name) > best.1 {
                best = (unit.name, count(unit.name));
            }
        }
        find(kind, best.0).unwrap_or(&super::UNITS[0])
    }

    /// The majority for each kind; a kind without votes follows the unit of length.
    pub fn print_units(&self) -> PrintUnits {
        let length = self.winner(Kind::Length, "mm");
        let inch = length.name == "in";
        let pick = |kind, us, si| self.winner(kind, if inch { us } else { si });
        PrintUnits {
            length,
            mass: pick(Kind::Mass, "lb", "kg"),
            force: pick(Kind::Force, "lbf", "N"),
            speed: pick(Kind::Speed, "ft/min", "m/s"),
            acceleration: pick(Kind::Acceleration, "ft/s2", "m/s2"),
            stress: pick(Kind::Stress, "psi", "MPa"),
            mass_per_length: pick(Kind::MassPerLength, "lb/ft", "kg/m"),
        }
    }
}

impl PrintUnits {
    /// SI throughout.
    pub fn metric() -> Self {
        UnitVotes::default().print_units()
    }

    /// The printed unit of a kind.
    pub fn unit(&self, kind: Kind) -> Option<&'static Unit> {
        match kind {
            Kind::Length => Some(self.length),
            Kind::Mass => Some(self.mass),
            Kind::Force => Some(self.force),
            Kind::Speed => Some(self.speed),
            Kind::Acceleration => Some(self.acceleration),
            Kind::Stress => Some(self.stress),
            Kind::MassPerLength => Some(self.mass_per_length),
            Kind::Angle => find(Kind::Angle, "deg"),
            Kind::Hardness => find(Kind::Hardness, "HB"),
            Kind::Ratio => find(Kind::Ratio, "%"),
        }
    }

    /// Name of the printed unit, for the head of a table's column.
    pub fn name(&self, kind: Kind) -> &'static str {
        self.unit(kind).map_or("", |unit| unit.name)
    }

    /// The number alone, in the printed unit, with a fixed number of decimals for columns.
    pub fn number(&self, kind: Kind, value: f64) -> String {
        self.unit(kind)
            .map_or_else(|| digits(kind, "", value), |u| digits(kind, u.name, u.from_inside(value)))
    }

    /// The number alone in SI, with a fixed number of decimals for columns.
    pub fn number_si(&self, kind: Kind, value: f64) -> String {
        digits(kind, kind.inside(), value)
    }

    /// The number alone, in the printed unit, with the digits that a calculation by hand needs: no fewer than two
    /// decimals of a millimetre, one of a newton or kilogram, three of a megapascal.
    pub fn worked(&self, kind: Kind, value: f64) -> String {
        let decimals = match kind {
            Kind::Length => 2,
            Kind::Stress => 3,
            _ => 1,
        };
        let (own, size) =
            self.unit(kind).map_or((value, 1.0), |unit| (unit.from_inside(value), unit.times / unit.over));
        let decimals = (decimals + size.log10().ceil() as i32).max(0) as usize;
        let text = format!("{own:.decimals$}");
        // Masses are mostly stated as whole numbers.
        if kind == Kind::Mass { trimmed(&text) } else { text }
    }

    /// As [`Self::worked`], with the unit's name.
    pub fn worked_whole(&self, kind: Kind, value: f64) -> String {
        format!("{} {}", self.worked(kind, value), self.name(kind))
    }

    /// The quantity in the printed unit, and in SI in brackets where that differs: `0.67 in (17.02 mm)`.
    pub fn show(&self, kind: Kind, value: f64) -> String {
        let Some(unit) = self.unit(kind) else {
            return trimmed(&digits(kind, "", value));
        };
        let own = with_unit(kind, unit.name, unit.from_inside(value));
        match kind {
            Kind::Angle | Kind::Hardness | Kind::Ratio => own,
            _ if unit.name == kind.inside() => own,
            Kind::Force if unit.name == "kN" => own,
            _ => format!("{own} ({})", with_unit(kind, kind.inside(), value)),
        }
    }

    /// `1720 ± 15 psi`: the bound with the digits of the value, never below the last of them.
    pub fn show_bounded(&self, kind: Kind, value: f64, bound: f64) -> String {
        let number = self.number(kind, value);
        let decimals = number.split_once('.').map_or(0, |(_, digits)| digits.len());
        let own = self.unit(kind).map_or(bound, |unit| unit.from_inside(bound));
        let own = own.max(10f64.powi(-(decimals as i32)));
        format!("{number} ± {own:.decimals$} {}", self.name(kind))
    }
}

fn with_unit(kind: Kind, name: &str, value: f64) -> String {
    // Large forces read better in kilonewtons.
    if name == "N" && value.abs() >= 10_000.0 {
        return format!("{} kN", trimmed(&digits(kind, "kN", value / 1000.0)));
    }
    let name = match name {
        "m/s2" => "m/s²",
        "ft/s2" => "ft/s²",
        other => other,
    };
    format!("{} {name}", trimmed(&digits(kind, name, value)))
}

/// A number with the digits that its unit deserves.
fn digits(kind: Kind, unit: &str, value: f64) -> String {
    if !value.is_finite() {
        return "not known".into();
    }
    let text = match (kind, unit) {
        (Kind::Length, "in") => format!("{value:.3}"),
        (Kind::Length, _) => format!("{value:.2}"),
        (Kind::Angle, "rad") => format!("{value:.4}"),
        (Kind::Angle | Kind::Ratio, _) => format!("{value:.1}"),
        (Kind::Hardness, _) => format!("{value:.0}"),
        (Kind::Stress | Kind::Acceleration | Kind::MassPerLength | Kind::Speed, _) => significant(value, 3),
        (Kind::Mass | Kind::Force, _) => significant(value, 4),
    };
    // A value that rounds to nothing carries no sign.
    match text.strip_prefix('-') {
        Some(rest) if !rest.contains(|c: char| ('1'..='9').contains(&c)) => rest.to_string(),
        _ => text,
    }
}

fn significant(value: f64, count: i32) -> String {
    if value == 0.0 {
        return "0".into();
    }
    // Rounding first keeps 9.996 from being printed with one digit too many.
    let first = value.abs().log10().floor() as i32;
    let scale = 10f64.powi(first - count + 1);
    let rounded = (value / scale).round() * scale;
    let places = (count - 1 - rounded.abs().log10().floor() as i32).max(0) as usize;
    format!("{rounded:.places$}")
}

fn trimmed(text: &str) -> String {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse;

    fn votes(quantities: &[(&str, Kind)]) -> PrintUnits {
        let mut votes = UnitVotes::default();
        for (text, kind) in quantities {
            votes.add(parse(text, *kind).unwrap().unit.unwrap());
        }
        votes.print_units()
    }

    #[test]
    fn inches_bring_their_companions() {
        let print = votes(&[("1/2 in", Kind::Length), ("2 ft", Kind::Length), ("3 mm", Kind::Length)]);
        assert_eq!((print.stress.name, print.force.name, print.speed.name), ("psi", "lbf", "ft/min"));
        assert_eq!(print.show(Kind::Length, 17.018), "0.67 in (17.02 mm)");
        assert_eq!(print.show(Kind::Stress, 11.7), "1700 psi (11.7 MPa)");
    }

    #[test]
    fn a_vote_outweighs_the_companion() {
        let print = votes(&[("1/2 in", Kind::Length), ("900 kg", Kind::Mass), ("1 m/s", Kind::Speed)]);
        assert_eq!((print.length.name, print.mass.name, print.speed.name), ("in", "kg", "m/s"));
        assert_eq!(print.show(Kind::Mass, 1542.0), "1542 kg");
    }

    #[test]
    fn hand_calculations_have_digits_enough() {
        let metric = PrintUnits::metric();
        assert_eq!(metric.worked_whole(Kind::Length, 17.018), "17.02 mm");
        assert_eq!(metric.worked_whole(Kind::Force, 5250.44), "5250.4 N");
        let inch = votes(&[("1/2 in", Kind::Length)]);
        assert_eq!(inch.worked_whole(Kind::Length, 17.018), "0.6700 in");
        assert_eq!(inch.worked_whole(Kind::Stress, 137.895_146), "20000.0 psi");
        assert_eq!(inch.worked_whole(Kind::Force, 4.448_221_6), "1.00 lbf");
    }

    #[test]
    fn digits_are_sensible() {
        let print = PrintUnits::metric();
        for (kind, value, text) in [
            (Kind::Length, 17.0, "17 mm"),
            (Kind::Length, -0.001, "0 mm"),
            (Kind::Force, 5250.4, "5250 N"),
            (Kind::Force, 24_516.0, "24.52 kN"),
            (Kind::Stress, 9.996, "10 MPa"),
            (Kind::Stress, 137.895, "138 MPa"),
            (Kind::Angle, std::f64::consts::PI, "180 deg"),
            (Kind::Ratio, 0.45, "45 %"),
            (Kind::Acceleration, 0.5, "0.5 m/s²"),
            (Kind::Stress, f64::NAN, "not known MPa"),
        ] {
            assert_eq!(print.show(kind, value), text);
        }
        assert_eq!(print.number(Kind::Length, 17.0), "17.00");
    }
}
