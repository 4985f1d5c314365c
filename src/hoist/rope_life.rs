//! Least safety factor of suspension ropes from their bends: the rope-life factor S_f.
//!
//! Owns S_f and the equivalent number of sheaves N. A cut lowers the sheave's diameter and so
//! raises S_f: it must be computed again after every cut. Units: mm, rad.
//! Source: EN 81-50:2020, 5.12 (seen through a secondary copy); the older V column EN 81-1:1998
//! table N.1 (from memory).

use super::{OutOfRange, positive};
use crate::seeded::{Fault, planted};
use serde::Serialize;

/// Range of D_t/d_r over which the standard's chart is drawn.
const CHART: std::ops::RangeInclusive<f64> = 34.0..=80.0;

/// Whose numbers of equivalent bends are used for V grooves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Edition {
    /// EN 81-1:1998, annex N; its V column is from memory.
    En81_1Of1998,
    /// EN 81-50, 5.12.
    En81_50,
}

/// Groove of the traction sheave as the equivalent bends see it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "groove", rename_all = "snake_case")]
pub enum TractionGroove {
    /// Round seat without an undercut.
    Round,
    /// Undercut seat with its undercut angle β.
    Undercut { undercut_rad: f64 },
    /// V groove with its angle γ.
    V { groove_rad: f64 },
}

/// Angle in degrees and equivalent bends.
type Table = &'static [(f64, f64)];

const UNDERCUT: Table =
    &[(75.0, 2.5), (80.0, 3.0), (85.0, 3.8), (90.0, 5.0), (95.0, 6.7), (100.0, 10.0), (105.0, 15.2)];
const V_EN81_50: Table =
    &[(35.0, 18.5), (36.0, 16.0), (38.0, 12.0), (40.0, 10.0), (42.0, 8.0), (45.0, 6.5), (50.0, 5.0)];
const V_EN81_1: Table = &[(35.0, 18.5), (36.0, 15.2), (38.0, 10.5), (40.0, 7.1), (42.0, 5.6), (45.0, 4.0)];

/// Straight line between neighbouring entries.
fn look_up(quantity: &'static str, table: Table, angle_rad: f64) -> Result<f64, OutOfRange> {
    // A rounding in the conversion must not push the table's own end out of the table.
    let angle = (angle_rad.to_degrees() * 1e9).round() / 1e9;
    for pair in table.windows(2) {
        let ((low, at_low), (high, at_high)) = (pair[0], pair[1]);
        if (low..=high).contains(&angle) {
            return Ok(at_low + (at_high - at_low) * (angle - low) / (high - low));
        }
    }
    let allowed = format!("{}° to {}°", table[0].0, table[table.len() - 1].0);
    Err(OutOfRange::angle(quantity, angle_rad, &allowed))
}

/// Equivalent bends N(t) of one passage over the traction sheave.
///
/// # Errors
/// When the angle lies outside the edition's table, which must not be extended.
pub fn traction_bends(groove: TractionGroove, edition: Edition) -> Result<f64, OutOfRange> {
    match (groove, edition) {
        (TractionGroove::Round, _) => Ok(1.0),
        (TractionGroove::Undercut { undercut_rad }, _) => {
            look_up("the undercut angle", UNDERCUT, undercut_rad)
        }
        (TractionGroove::V { groove_rad }, Edition::En81_50) => look_up("the V angle", V_EN81_50, groove_rad),
        (TractionGroove::V { groove_rad }, Edition::En81_1Of1998) => {
            look_up("the V angle", V_EN81_1, groove_rad)
        }
    }
}

/// The deflecting sheaves that the ropes run over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Pulleys {
    /// Sheaves that bend the rope in the same sense as their neighbour, N_ps.
    pub simple_bends: f64,
    /// Sheaves that bend it back, N_pr.
    pub reversed_bends: f64,
    /// Their mean diameter D_p, mm.
    pub mean_diameter_mm: f64,
}

/// Equivalent bends of the pulleys: K_p·(N_ps + 4·N_pr) with K_p = (D_t/D_p)⁴.
///
/// # Errors
/// When a diameter is not a positive number.
pub fn pulley_bends(sheave_diameter_mm: f64, pulleys: Pulleys) -> Result<f64, OutOfRange> {
    let sheave = positive("the sheave diameter in mm", sheave_diameter_mm)?;
    let pulley = positive("the mean pulley diameter in mm", pulleys.mean_diameter_mm)?;
    let weight = (sheave / pulley).powi(4);
    let reversed = if planted(Fault::ReversedBendsOnce) { 1.0 } else { 4.0 };
    Ok(weight * (pulleys.simple_bends + reversed * pulleys.reversed_bends))
}

/// Least safety factor of the ropes,
/// S_f = 10^(2.6834 − lg(695.85·10⁶·N/(D_t/d_r)^8.567)/lg(77.09·(D_t/d_r)^−2.894)).
///
/// # Errors
/// When D_t/d_r lies outside the chart (34 to 80) or N, the sum of all equivalent bends, is less
/// than one.
pub fn safety_factor(diameter_ratio: f64, equivalent_bends: f64) -> Result<f64, OutOfRange> {
    if !CHART.contains(&diameter_ratio) {
        let allowed = "34 to 80, the range of the standard's chart";
        let quantity = "the ratio of sheave to rope diameter";
        return Err(OutOfRange::number(quantity, diameter_ratio, allowed));
    }
    if !(equivalent_bends >= 1.0 && equivalent_bends.is_finite()) {
        let quantity = "the number of equivalent bends";
        return Err(OutOfRange::number(quantity, equivalent_bends, "1 and above"));
    }
    let damage = (695.85e6 * equivalent_bends / diameter_ratio.powf(8.567)).log10();
    let slope = (77.09 * diameter_ratio.powf(-2.894)).log10();
    Ok(10f64.powf(2.6834 - damage / slope))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn check_points_of_the_standard() {
        for (ratio, bends, printed, computed) in
            [(40.0, 10.0, 18.68, 18.677), (34.0, 1.0, 10.06, 10.061), (36.0, 3.0, 14.12, 14.121)]
        {
            let factor = safety_factor(ratio, bends).expect("within the chart");
            assert_close("S_f", factor, printed, Tolerance::printed(2), PRINTED);
            assert_close("S_f", factor, computed, Tolerance::printed(3), PRINTED);
        }
    }

    #[test]
    #[expect(clippy::approx_constant, reason = "6.280 is a factor, not a turn")]
    fn table_of_factors() {
        let bends = [1.0, 2.5, 5.0, 10.0, 15.2, 20.0];
        for (ratio, row) in [
            (40.0, [8.083, 11.281, 14.515, 18.677, 21.750, 24.033]),
            (45.0, [7.032, 9.648, 12.255, 15.567, 17.988, 19.775]),
            (50.0, [6.280, 8.498, 10.682, 13.428, 15.418, 16.880]),
        ] {
            for (n, reference) in bends.into_iter().zip(row) {
                let factor = safety_factor(ratio, n).expect("within the chart");
                assert_close("S_f", factor, reference, Tolerance::printed(3), PRINTED);
            }
        }
    }

    #[test]
    fn a_cut_raises_the_factor() {
        let before = safety_factor(41.0, 6.0).expect("within the chart");
        let after = safety_factor(40.5, 6.0).expect("within the chart");
        assert!(after > before);
    }

    fn undercut(degrees: f64) -> TractionGroove {
        TractionGroove::Undercut { undercut_rad: degrees.to_radians() }
    }

    fn v(degrees: f64) -> TractionGroove {
        TractionGroove::V { groove_rad: degrees.to_radians() }
    }

    #[test]
    fn tables_of_both_editions() {
        let reason = "table entry, rounding of the angle only";
        let tolerance = Tolerance::Absolute(1e-7);
        for edition in [Edition::En81_50, Edition::En81_1Of1998] {
            for &(angle, reference) in UNDERCUT {
                let bends = traction_bends(undercut(angle), edition).expect("in the table");
                assert_close("N(t)", bends, reference, tolerance, reason);
            }
            let bends = traction_bends(TractionGroove::Round, edition).expect("always");
            assert_close("N(t)", bends, 1.0, tolerance, reason);
        }
        for (angle, older, newer) in [
            (35.0, 18.5, 18.5),
            (36.0, 15.2, 16.0),
            (38.0, 10.5, 12.0),
            (40.0, 7.1, 10.0),
            (42.0, 5.6, 8.0),
            (45.0, 4.0, 6.5),
            // Halfway between two entries.
            (37.0, 12.85, 14.0),
        ] {
            let bends = traction_bends(v(angle), Edition::En81_1Of1998).expect("in the table");
            assert_close("N(t) of 1998", bends, older, tolerance, reason);
            let bends = traction_bends(v(angle), Edition::En81_50).expect("in the table");
            assert_close("N(t)", bends, newer, tolerance, reason);
        }
        let bends = traction_bends(v(50.0), Edition::En81_50).expect("in the table");
        assert_close("N(t)", bends, 5.0, tolerance, reason);
        assert!(traction_bends(v(50.0), Edition::En81_1Of1998).is_err());
    }

    #[test]
    fn examples_of_the_standard() {
        // EN 81-50, annex E.
        let total = |groove, passages: f64, sheave, pulley, simple_bends| {
            let traction = traction_bends(groove, Edition::En81_50).expect("in the table");
            let pulleys = Pulleys { simple_bends, reversed_bends: 0.0, mean_diameter_mm: pulley };
            passages * traction + pulley_bends(sheave, pulleys).expect("real diameters")
        };
        let first = total(v(40.0), 1.0, 600.0, 500.0, 2.0);
        assert_close("V 40°", first, 14.147, Tolerance::printed(3), PRINTED);
        let second = total(undercut(90.0), 1.0, 600.0, 400.0, 1.0);
        assert_close("β 90°", second, 10.0625, Tolerance::printed(4), PRINTED);
        // The double wrap is read as two passages over the traction sheave and two over the other.
        let third = total(TractionGroove::Round, 2.0, 400.0, 400.0, 2.0);
        assert_close("double wrap", third, 4.0, Tolerance::printed(3), PRINTED);
    }

    #[test]
    fn reversed_bends_count_four_times() {
        let pulleys = Pulleys { simple_bends: 1.0, reversed_bends: 2.0, mean_diameter_mm: 500.0 };
        let bends = pulley_bends(1000.0, pulleys).expect("real diameters");
        let reason = "whole numbers and a power of two";
        assert_close("N(p)", bends, 16.0 * 9.0, Tolerance::Absolute(0.0), reason);
    }

    #[test]
    fn outside_tables_and_chart_there_is_no_answer() {
        for angle in [74.0, 106.0, f64::NAN] {
            assert!(traction_bends(undercut(angle), Edition::En81_50).is_err());
        }
        for (ratio, bends) in [(33.9, 5.0), (80.1, 5.0), (40.0, 0.9), (f64::NAN, 5.0), (40.0, f64::NAN)] {
            assert!(safety_factor(ratio, bends).is_err());
        }
        let message = traction_bends(v(30.0), Edition::En81_50).expect_err("outside").to_string();
        assert!(message.contains("30.0°") && message.contains("35° to 50°"), "{message}");
    }
}
