//! Units of the survey against their definitions.

use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::units::{Kind, parse};
use std::f64::consts::PI;

const SP_811: Source = Source::published("NIST SP 811 (2008), appendix B.8, exact factors");
const DERIVED: Source = Source::exact(
    "from the exact pound 0.453 592 37 kg, inch 25.4 mm and g 9.806 65 m/s² of NIST SP 811 (2008)",
);
const PRINTED: Source = Source::published("NIST SP 811 (2008), appendix B.8, factors of seven digits");
const INCHES: Source = Source::exact("25.4 mm times the fraction");

const PLAIN: Source = Source::exact("a hundredth, and a number as it stands");

pub(super) static CASES: &[Case] = &[Case {
    name: "units",
    title: "Quantities as people write them",
    chapter: Chapter::Measurements,
    about: "Texts as they may stand in a survey, read into the units used inside the program.",
    features: &[Feature::Units],
    run: units,
}];

fn units() -> Result<Record, CaseFault> {
    let read = |text: &str, kind| {
        parse(text, kind).map(|quantity| quantity.value).map_err(|fault| CaseFault::Other(fault.found))
    };
    let mut rows = Vec::new();
    for (text, kind, source, value) in [
        ("1 in", Kind::Length, SP_811, 25.4),
        ("1 ft", Kind::Length, SP_811, 304.8),
        ("2.1 cm", Kind::Length, SP_811, 21.0),
        ("1.2 m", Kind::Length, SP_811, 1200.0),
        ("1 1/2 in", Kind::Length, INCHES, 38.1),
        ("1½ in", Kind::Length, INCHES, 38.1),
        ("9/16 in", Kind::Length, INCHES, 14.2875),
        ("5/8\"", Kind::Length, INCHES, 15.875),
        ("0.625 in", Kind::Length, INCHES, 15.875),
        ("2 ft 6 in", Kind::Length, INCHES, 762.0),
        ("2' 6 1/2\"", Kind::Length, INCHES, 774.7),
        ("1 lb", Kind::Mass, SP_811, 0.453_592_37),
        ("1 t", Kind::Mass, SP_811, 1000.0),
        ("1 lbf", Kind::Force, SP_811, 4.448_221_615_260_5),
        ("1 kgf", Kind::Force, SP_811, 9.806_65),
        ("24.5 kN", Kind::Force, SP_811, 24_500.0),
        ("1 ft/min", Kind::Speed, SP_811, 0.005_08),
        ("350 fpm", Kind::Speed, SP_811, 1.778),
        ("1 ft/s2", Kind::Acceleration, SP_811, 0.3048),
        ("1 g", Kind::Acceleration, SP_811, 9.806_65),
        ("1 psi", Kind::Stress, DERIVED, 0.453_592_37 * 9.806_65 / (25.4 * 25.4)),
        ("1 ksi", Kind::Stress, DERIVED, 453.592_37 * 9.806_65 / (25.4 * 25.4)),
        ("1 GPa", Kind::Stress, SP_811, 1000.0),
        ("1 N/mm2", Kind::Stress, SP_811, 1.0),
        ("1 lb/ft", Kind::MassPerLength, DERIVED, 0.453_592_37 / 0.3048),
        ("165 deg", Kind::Angle, SP_811, 165.0 * PI / 180.0),
        ("180°", Kind::Angle, SP_811, PI),
        ("45 %", Kind::Ratio, PLAIN, 0.45),
        ("195 HB", Kind::Hardness, PLAIN, 195.0),
    ] {
        let row = Row::new(format!("'{text}'"), kind.inside(), source, value, read(text, kind)?);
        rows.push(row.within(Tolerance::Relative(4.0 * f64::EPSILON), "two roundings of the last bit"));
    }
    for (text, kind, value, decimals) in [
        ("1 lbf", Kind::Force, 4.448_222, 6),
        ("1000 psi", Kind::Stress, 6.894_757, 6),
        ("1 ksi", Kind::Stress, 6.894_757, 6),
        ("1 lb/ft", Kind::MassPerLength, 1.488_164, 6),
        ("1 deg", Kind::Angle, 0.017_453_29, 8),
        ("1 lb", Kind::Mass, 0.453_592_4, 7),
    ] {
        let what = format!("'{text}', as printed");
        rows.push(Row::new(what, kind.inside(), PRINTED, value, read(text, kind)?).printed(decimals));
    }
    Ok(Record::of_rows(rows))
}
