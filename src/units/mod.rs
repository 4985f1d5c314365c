//! Quantities with units: one table of units, reading quantities from text, printing them again.
//!
//! Owns the names, kinds and factors of units. Lacks any mechanics, and lacks compound dimensions:
//! a kind is only what a survey or a report names.
//! Units inside the program: mm, kg, N, m/s, m/s², rad, MPa, kg/m, HB, and plain fractions.

mod number;
mod parse;
mod print;

pub use parse::{Quantity, UnitFault, UnitFaultKind, bare_number, parse, parse_number};
pub use print::{PrintUnits, UnitVotes};

use crate::seeded::{Fault, planted};
use serde::{Serialize, Serializer};
use std::f64::consts::PI;

/// What a quantity measures. Each kind has one unit inside the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Millimetres inside.
    Length,
    /// Kilograms inside.
    Mass,
    /// Newtons inside.
    Force,
    /// Metres per second inside.
    Speed,
    /// Metres per second squared inside.
    Acceleration,
    /// Radians inside.
    Angle,
    /// Megapascals inside.
    Stress,
    /// Kilograms per metre inside.
    MassPerLength,
    /// Brinell numbers inside.
    Hardness,
    /// A plain fraction inside: 45 % is 0.45.
    Ratio,
}

impl Kind {
    /// The kind with its article, for messages.
    pub fn phrase(self) -> &'static str {
        match self {
            Kind::Length => "a length",
            Kind::Mass => "a mass",
            Kind::Force => "a force",
            Kind::Speed => "a speed",
            Kind::Acceleration => "an acceleration",
            Kind::Angle => "an angle",
            Kind::Stress => "a stress",
            Kind::MassPerLength => "a mass per length",
            Kind::Hardness => "a hardness",
            Kind::Ratio => "a ratio",
        }
    }

    /// Quantities of this kind as a person may write them, for messages.
    pub fn examples(self) -> &'static str {
        match self {
            Kind::Length => "\"14.3 mm\", \"9/16 in\" or \"1 1/2 in\"",
            Kind::Mass => "\"1542 kg\" or \"3400 lb\"",
            Kind::Force => "\"5500 lbf\" or \"24.5 kN\"",
            Kind::Speed => "\"350 ft/min\" or \"1.78 m/s\"",
            Kind::Acceleration => "\"0.5 m/s2\" or \"1.6 ft/s2\"",
            Kind::Angle => "\"35 deg\" or \"165 deg\"",
            Kind::Stress => "\"138 MPa\" or \"20 ksi\"",
            Kind::MassPerLength => "\"0.35 kg/m\" or \"0.23 lb/ft\"",
            Kind::Hardness => "\"195 HB\"",
            Kind::Ratio => "\"45 %\" or \"0.45\"",
        }
    }

    /// Name of the unit used inside the program, which is also the SI unit printed in brackets.
    pub fn inside(self) -> &'static str {
        match self {
            Kind::Length => "mm",
            Kind::Mass => "kg",
            Kind::Force => "N",
            Kind::Speed => "m/s",
            Kind::Acceleration => "m/s2",
            Kind::Angle => "rad",
            Kind::Stress => "MPa",
            Kind::MassPerLength => "kg/m",
            Kind::Hardness => "HB",
            Kind::Ratio => "",
        }
    }
}

/// One unit: inside value = value × `times` / `over`. Two whole numbers such as 127 / 5 for the inch keep
/// a conversion exact to the last bit where one rounded factor would not.
#[derive(Debug, PartialEq)]
pub struct Unit {
    pub name: &'static str,
    pub kind: Kind,
    pub(crate) times: f64,
    pub(crate) over: f64,
    /// Other spellings that are read.
    aliases: &'static [&'static str],
    /// The unit in which results are printed when a survey uses this one.
    prints_as: &'static str,
}

impl Unit {
    /// A value in this unit, converted to the unit used inside.
    pub fn to_inside(&self, value: f64) -> f64 {
        if self.name == "in" && planted(Fault::InchAsMillimetre) {
            return value;
        }
        value * self.times / self.over
    }

    /// A value in the unit used inside, converted to this unit.
    pub fn from_inside(&self, value: f64) -> f64 {
        value * self.over / self.times
    }

    fn is_spelled(&self, text: &str) -> bool {
        self.name.eq_ignore_ascii_case(text)
            || self.aliases.iter().any(|alias| alias.eq_ignore_ascii_case(text))
    }
}

impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name)
    }
}

/// Newtons in one pound-force, exact by definition.
const LBF_N: f64 = 4.4482216152605;
/// Kilograms in one pound, exact by definition.
const LB_KG: f64 = 0.45359237;

const fn unit(
    kind: Kind,
    name: &'static str,
    times: f64,
    over: f64,
    prints_as: &'static str,
    aliases: &'static [&'static str],
) -> Unit {
    Unit { name, kind, times, over, aliases, prints_as }
}

/// Every unit the program reads or prints.
pub static UNITS: &[Unit] = &[
    unit(Kind::Length, "mm", 1.0, 1.0, "mm", &["millimetre", "millimeter", "millimetres", "millimeters"]),
    unit(Kind::Length, "cm", 10.0, 1.0, "mm", &[]),
    unit(Kind::Length, "m", 1000.0, 1.0, "mm", &["metre", "meter", "metres", "meters"]),
    unit(Kind::Length, "in", 127.0, 5.0, "in", &["\"", "''", "in.", "inch", "inches"]),
    unit(Kind::Length, "ft", 1524.0, 5.0, "in", &["'", "ft.", "foot", "feet"]),
    unit(Kind::Mass, "kg", 1.0, 1.0, "kg", &["kgs"]),
    unit(Kind::Mass, "g", 1.0, 1000.0, "kg", &[]),
    unit(Kind::Mass, "t", 1000.0, 1.0, "kg", &[]),
    unit(Kind::Mass, "lb", LB_KG, 1.0, "lb", &["lbs", "lb.", "lbm", "pound", "pounds"]),
    unit(Kind::Force, "N", 1.0, 1.0, "N", &["newton", "newtons"]),
    unit(Kind::Force, "kN", 1000.0, 1.0, "kN", &[]),
    unit(Kind::Force, "lbf", LBF_N, 1.0, "lbf", &[]),
    unit(Kind::Force, "kgf", 9.80665, 1.0, "N", &["kp"]),
    unit(Kind::Speed, "m/s", 1.0, 1.0, "m/s", &[]),
    unit(Kind::Speed, "mm/s", 1.0, 1000.0, "m/s", &[]),
    unit(Kind::Speed, "ft/min", 0.3048, 60.0, "ft/min", &["fpm"]),
    unit(Kind::Acceleration, "m/s2", 1.0, 1.0, "m/s2", &["m/s²", "m/s^2"]),
    unit(Kind::Acceleration, "ft/s2", 0.3048, 1.0, "ft/s2", &["ft/s²", "ft/s^2"]),
    unit(Kind::Acceleration, "g", 9.80665, 1.0, "m/s2", &[]),
    unit(Kind::Angle, "deg", PI, 180.0, "deg", &["°", "degree", "degrees"]),
    unit(Kind::Angle, "rad", 1.0, 1.0, "deg", &[]),
    unit(Kind::Stress, "MPa", 1.0, 1.0, "MPa", &[]),
    unit(Kind::Stress, "N/mm2", 1.0, 1.0, "MPa", &["N/mm²", "N/mm^2"]),
    unit(Kind::Stress, "GPa", 1000.0, 1.0, "MPa", &[]),
    unit(Kind::Stress, "psi", LBF_N, 645.16, "psi", &["lbf/in2", "lbf/in²"]),
    unit(Kind::Stress, "ksi", 1000.0 * LBF_N, 645.16, "psi", &[]),
    unit(Kind::MassPerLength, "kg/m", 1.0, 1.0, "kg/m", &[]),
    unit(Kind::MassPerLength, "lb/ft", LB_KG, 0.3048, "lb/ft", &["lbs/ft"]),
    unit(Kind::Hardness, "HB", 1.0, 1.0, "HB", &["HBW", "BHN"]),
    unit(Kind::Ratio, "%", 1.0, 100.0, "%", &["percent"]),
];

/// The unit of this kind with this spelling; upper and lower case are not told apart.
pub fn find(kind: Kind, spelling: &str) -> Option<&'static Unit> {
    let spelling: String = spelling.chars().filter(|c| !c.is_whitespace()).collect();
    UNITS.iter().find(|unit| unit.kind == kind && unit.is_spelled(&spelling))
}

/// Names of the units of one kind, for messages.
pub fn names(kind: Kind) -> String {
    let names: Vec<&str> = UNITS.iter().filter(|u| u.kind == kind).map(|u| u.name).collect();
    names.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_the_defined_ones() {
        assert_eq!(find(Kind::Force, "lbf").unwrap().to_inside(1.0), 4.4482216152605);
        assert_eq!(find(Kind::Mass, "lb").unwrap().to_inside(1.0), 0.45359237);
        assert_eq!(find(Kind::Length, "ft").unwrap().to_inside(1.0), 304.8);
        // One pound-force on one square inch, worked out independently of the table.
        let psi = 4.4482216152605 / (25.4 * 25.4);
        assert!((find(Kind::Stress, "psi").unwrap().to_inside(1.0) / psi - 1.0).abs() < 1e-15);
    }

    #[test]
    fn every_printed_unit_is_in_the_table() {
        for unit in UNITS {
            assert!(find(unit.kind, unit.prints_as).is_some(), "{}", unit.name);
        }
    }

    #[test]
    fn no_spelling_is_used_twice_within_a_kind() {
        for unit in UNITS {
            for spelling in unit.aliases.iter().chain([&unit.name]) {
                let hits = UNITS.iter().filter(|u| u.kind == unit.kind && u.is_spelled(spelling));
                assert_eq!(hits.count(), 1, "{spelling}");
            }
        }
    }
}
