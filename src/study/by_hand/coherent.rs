//! What joins the units of a formula that is written in a survey's own: kilograms to newtons, pounds to pounds-force.

use crate::hoist::GRAVITY_M_S2;
use crate::units::{Kind, PrintUnits};

/// One unit of this kind in the unit used inside.
fn size(print: &PrintUnits, kind: Kind) -> f64 {
    print.unit(kind).map_or(1.0, |unit| unit.to_inside(1.0))
}

/// What one unit of mass weighs (g = 9.81 m/s²), in words: "9.81 N/kg".
#[must_use]
pub fn weight(print: &PrintUnits) -> String {
    let value = GRAVITY_M_S2 * size(print, Kind::Mass) / size(print, Kind::Force);
    // Six digits, so that the formula's answer agrees with what is printed beside it.
    let decimals = (5 - value.log10().floor() as i32).max(0) as usize;
    let text = format!("{value:.decimals$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} {}/{}", print.name(Kind::Force), print.name(Kind::Mass))
}

/// What is to be put behind force over length squared to get the unit of stress: nothing where they fit together.
#[must_use]
pub fn stress_factor(print: &PrintUnits) -> String {
    let value = size(print, Kind::Force) / size(print, Kind::Length).powi(2) / size(print, Kind::Stress);
    if (value - 1.0).abs() < 1e-9 {
        return String::new();
    }
    let text = format!("{value:.6}");
    let factor = text.trim_end_matches('0').trim_end_matches('.');
    format!(
        " × {factor} {} per {}/{}²",
        print.name(Kind::Stress),
        print.name(Kind::Force),
        print.name(Kind::Length)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{UnitVotes, parse};

    #[test]
    fn units_that_fit_need_no_factor() {
        let metric = PrintUnits::metric();
        assert_eq!((weight(&metric).as_str(), stress_factor(&metric).as_str()), ("9.81 N/kg", ""));
        let of = |texts: &[(&str, Kind)]| {
            let mut votes = UnitVotes::default();
            texts.iter().for_each(|(text, kind)| votes.add(parse(text, *kind).unwrap().unit.unwrap()));
            votes.print_units()
        };
        let inch = of(&[("1 in", Kind::Length)]);
        // By hand: 9.81 m/s² over the standard 9.80665 m/s² of the pound-force.
        assert_eq!((weight(&inch).as_str(), stress_factor(&inch).as_str()), ("1.00034 lbf/lb", ""));
        let mixed = of(&[("1 in", Kind::Length), ("1 kg", Kind::Mass), ("1 MPa", Kind::Stress)]);
        // By hand: 9.81 N/kg over 4.448222 N/lbf; one psi is 0.006895 MPa.
        assert_eq!(weight(&mixed), "2.20538 lbf/kg");
        assert_eq!(stress_factor(&mixed), " × 0.006895 MPa per lbf/in²");
        let large = of(&[("1 mm", Kind::Length), ("1 kN", Kind::Force)]);
        assert_eq!(
            (weight(&large).as_str(), stress_factor(&large).as_str()),
            ("0.00981 kN/kg", " × 1000 MPa per kN/mm²")
        );
    }
}
