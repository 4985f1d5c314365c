//! Friction of a rope in a groove, and the ratio of tensions that it can hold.
//!
//! Owns f, μ and e^(fα) for the three traction cases. Lacks tensions and the judgement on them.
//! Units: rad, m/s. Source: EN 81-50:2020, 5.11 (seen through a secondary copy); the factor of round
//! and undercut seats agrees with Feyrer, Wire Ropes, eq. 3.32.

use super::OutOfRange;
use crate::seeded::{Fault, planted};
use serde::Serialize;
use std::f64::consts::PI;

/// Hardness of a V groove's flanks: only a hardened V keeps its shape and its wedge action.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Flanks {
    Hardened,
    NotHardened,
}

/// Shape of a groove as friction sees it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Grip {
    /// Round seat, with a slot where `undercut_rad` is not zero.
    Seat {
        /// Groove angle γ between the seat's flanks.
        groove_rad: f64,
        /// Undercut angle β of the slot.
        undercut_rad: f64,
    },
    /// V groove of angle γ; a V that is not hardened carries an undercut β, for the time when it has
    /// worn round.
    V { groove_rad: f64, undercut_rad: f64, flanks: Flanks },
}

/// The cases in which traction is judged.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "case", rename_all = "snake_case")]
pub enum TractionCase {
    /// Car with 125 % of the rated load, in the worst position: T1/T2 ≤ e^(fα).
    Loading,
    /// Emergency braking: T1/T2 ≤ e^(fα). The speed is the rope's at rated car speed: twice the car's
    /// for a roping of 2:1.
    Braking { rope_speed_m_s: f64 },
    /// Counterweight on its buffers and the machine turning: T1/T2 ≥ e^(fα), so the ropes must slip.
    Stalled,
}

/// Coefficient of friction μ: 0.1 loading, 0.1/(1 + v/10) braking, 0.2 stalled (EN 81-50, 5.11).
///
/// # Errors
/// When the rope speed is negative or not a finite number.
pub fn coefficient(case: TractionCase) -> Result<f64, OutOfRange> {
    match case {
        TractionCase::Loading => Ok(0.1),
        TractionCase::Stalled => Ok(0.2),
        TractionCase::Braking { rope_speed_m_s: v } => {
            let v = if planted(Fault::BrakingSpeedForgotten) { 0.0 } else { v };
            if v >= 0.0 && v.is_finite() {
                Ok(0.1 / (1.0 + v / 10.0))
            } else {
                Err(OutOfRange::number("the rope speed in m/s", v, "0 m/s and above"))
            }
        }
    }
}

/// Shape part f/μ of the friction factor (EN 81-50, 5.11).
///
/// Seat: 4(cos(γ/2) − sin(β/2))/(π − β − γ − sin β + sin γ) in every case. V, not hardened, loading and
/// braking: 4(1 − sin(β/2))/(π − β − sin β). V, hardened, and any V when stalled: 1/sin(γ/2).
///
/// # Errors
/// When an angle is negative or not finite, when slot and flanks leave no seat (β + γ ≥ 180°), or
/// when a V angle is not between 0 and 180°. What the rules allow is narrower: see
/// [`super::rules::groove_breaches`].
pub fn shape_factor(grip: Grip, case: TractionCase) -> Result<f64, OutOfRange> {
    match grip {
        Grip::Seat { groove_rad: gamma, undercut_rad: beta } => {
            check_undercut(beta)?;
            if !(gamma >= 0.0 && gamma + beta < PI) {
                let allowed = "0° up to 180° less the undercut angle";
                return Err(OutOfRange::angle("the groove angle", gamma, allowed));
            }
            let seat = PI - beta - gamma - beta.sin() + gamma.sin();
            let slot = if planted(Fault::SlotAngleNotHalved) { beta } else { beta / 2.0 };
            Ok(4.0 * ((gamma / 2.0).cos() - slot.sin()) / seat)
        }
        Grip::V { groove_rad: gamma, undercut_rad: beta, flanks } => {
            if !(gamma > 0.0 && gamma < PI) {
                let allowed = "more than 0° and less than 180°";
                return Err(OutOfRange::angle("the V angle", gamma, allowed));
            }
            let worn_round = flanks == Flanks::NotHardened && !matches!(case, TractionCase::Stalled);
            if worn_round {
                check_undercut(beta)?;
                Ok(4.0 * (1.0 - (beta / 2.0).sin()) / (PI - beta - beta.sin()))
            } else {
                let angle = if planted(Fault::GrooveAngleNotHalved) { gamma } else { gamma / 2.0 };
                Ok(angle.sin().recip())
            }
        }
    }
}

fn check_undercut(beta: f64) -> Result<(), OutOfRange> {
    if (0.0..PI).contains(&beta) {
        Ok(())
    } else {
        let allowed = "0° up to less than 180°";
        Err(OutOfRange::angle("the undercut angle", beta, allowed))
    }
}

/// Friction factor f = μ·(shape part).
///
/// # Errors
/// As [`coefficient`] and [`shape_factor`].
pub fn friction_factor(grip: Grip, case: TractionCase) -> Result<f64, OutOfRange> {
    Ok(coefficient(case)? * shape_factor(grip, case)?)
}

/// Ratio of tensions e^(fα) at which the rope begins to slip over a wrap α in rad (Euler–Eytelwein).
#[must_use]
pub fn limit_ratio(friction: f64, wrap_rad: f64) -> f64 {
    (friction * wrap_rad).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    fn seat(gamma: f64, beta: f64) -> Grip {
        Grip::Seat { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians() }
    }

    fn v(gamma: f64, beta: f64, flanks: Flanks) -> Grip {
        Grip::V { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians(), flanks }
    }

    fn braking(rope_speed_m_s: f64) -> TractionCase {
        TractionCase::Braking { rope_speed_m_s }
    }

    const BETA: [f64; 8] = [0.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0];

    #[test]
    fn round_and_undercut_seats() {
        for (gamma, row) in [
            (25.0, [1.2485, 1.7236, 1.7863, 1.8558, 1.9329, 2.0186, 2.1145, 2.2218]),
            (30.0, [1.2392, 1.6946, 1.7540, 1.8195, 1.8920, 1.9722, 2.0614, 2.1607]),
            (40.0, [1.2179, 1.6316, 1.6841, 1.7417, 1.8049, 1.8743, 1.9505, 2.0344]),
            (50.0, [1.1945, 1.5659, 1.6120, 1.6621, 1.7166, 1.7759, 1.8405, 1.9108]),
            (60.0, [1.1701, 1.5012, 1.5413, 1.5847, 1.6315, 1.6821, 1.7367, 1.7955]),
        ] {
            for (beta, reference) in BETA.into_iter().zip(row) {
                for case in [TractionCase::Loading, braking(2.0), TractionCase::Stalled] {
                    let factor = shape_factor(seat(gamma, beta), case).expect("angles in range");
                    let what = format!("f/μ at γ {gamma}°, β {beta}°");
                    assert_close(&what, factor, reference, Tolerance::printed(4), PRINTED);
                }
            }
        }
        // Feyrer, Wire Ropes, example 3.4.
        let factor = shape_factor(seat(20.0, 95.0), TractionCase::Loading).expect("in range");
        assert_close("Feyrer 3.4", factor, 2.0615, Tolerance::printed(4), PRINTED);
        assert_close("Feyrer 3.4", factor, 2.062, Tolerance::printed(3), PRINTED);
    }

    #[test]
    fn v_grooves() {
        let row = [1.2732, 1.8057, 1.8788, 1.9606, 2.0525, 2.1564, 2.2744, 2.4094];
        for (beta, reference) in BETA.into_iter().zip(row) {
            let grip = v(38.0, beta, Flanks::NotHardened);
            for case in [TractionCase::Loading, braking(1.0)] {
                let factor = shape_factor(grip, case).expect("in range");
                assert_close("f/μ", factor, reference, Tolerance::printed(4), PRINTED);
            }
            let stalled = shape_factor(grip, TractionCase::Stalled).expect("in range");
            assert_close("stalled", stalled, 3.0716, Tolerance::printed(4), PRINTED);
        }
        for (gamma, reference) in
            [(35.0, 3.3255), (36.0, 3.2361), (38.0, 3.0716), (40.0, 2.9238), (42.0, 2.7904), (45.0, 2.6131)]
        {
            let grip = v(gamma, 0.0, Flanks::Hardened);
            for case in [TractionCase::Loading, braking(1.0), TractionCase::Stalled] {
                let factor = shape_factor(grip, case).expect("in range");
                assert_close("1/sin(γ/2)", factor, reference, Tolerance::printed(4), PRINTED);
            }
        }
    }

    #[test]
    fn coefficients_while_braking() {
        for (speed, reference) in [
            (0.0, 0.1),
            (1.0, 0.09091),
            (1.6, 0.08621),
            (2.0, 0.08333),
            (2.5, 0.08000),
            (4.0, 0.07143),
            (5.0, 0.06667),
            (10.0, 0.05000),
        ] {
            let mu = coefficient(braking(speed)).expect("a real speed");
            assert_close("μ", mu, reference, Tolerance::printed(5), PRINTED);
        }
    }

    #[test]
    fn limits_of_seats() {
        // β and wrap in degrees at γ = 30°; loading, braking at 1 and 2.5 m/s, stalled.
        for (beta, wrap, row) in [
            (90.0, 180.0f64, [1.8119, 1.7166, 1.6088, 3.2830]),
            (90.0, 160.0, [1.6961, 1.6166, 1.5260, 2.8768]),
            (95.0, 180.0, [1.8582, 1.7564, 1.6416, 3.4528]),
            (95.0, 160.0, [1.7346, 1.6498, 1.5536, 3.0087]),
            (105.0, 180.0, [1.9715, 1.8535, 1.7212, 3.8869]),
            (0.0, 180.0, [1.4759, 1.4246, 1.3654, 2.1784]),
        ] {
            let cases = [TractionCase::Loading, braking(1.0), braking(2.5), TractionCase::Stalled];
            for (case, reference) in cases.into_iter().zip(row) {
                let f = friction_factor(seat(30.0, beta), case).expect("in range");
                let ratio = limit_ratio(f, wrap.to_radians());
                assert_close("e^(fα)", ratio, reference, Tolerance::printed(4), PRINTED);
            }
        }
        // Two wraps over a plain seat, f over their sum.
        for (wrap, reference) in [(300.0f64, 1.9133), (320.0, 1.9979), (340.0, 2.0862)] {
            let f = friction_factor(seat(30.0, 0.0), TractionCase::Loading).expect("in range");
            let ratio = limit_ratio(f, wrap.to_radians());
            assert_close("double wrap", ratio, reference, Tolerance::printed(4), PRINTED);
        }
    }

    #[test]
    fn limits_of_hardened_v() {
        for (gamma, loading, stalled) in
            [(38.0, 2.6247, 6.8889), (35.0, 2.8427, 8.0807), (40.0, 2.5056, 6.2782)]
        {
            let grip = v(gamma, 0.0, Flanks::Hardened);
            for (case, reference) in [(TractionCase::Loading, loading), (TractionCase::Stalled, stalled)] {
                let f = friction_factor(grip, case).expect("in range");
                let ratio = limit_ratio(f, PI);
                assert_close("e^(fα)", ratio, reference, Tolerance::printed(4), PRINTED);
            }
        }
    }

    #[test]
    fn impossible_grooves_are_refused() {
        let loading = TractionCase::Loading;
        for grip in [
            seat(90.0, 95.0),
            seat(-1.0, 0.0),
            seat(30.0, -1.0),
            seat(f64::NAN, 0.0),
            seat(30.0, f64::NAN),
            v(0.0, 0.0, Flanks::Hardened),
            v(180.0, 0.0, Flanks::Hardened),
            v(38.0, 180.0, Flanks::NotHardened),
        ] {
            assert!(shape_factor(grip, loading).is_err(), "{grip:?}");
        }
        assert!(coefficient(braking(-0.1)).is_err());
        assert!(coefficient(braking(f64::NAN)).is_err());
        let message = shape_factor(seat(30.0, 190.0), loading).expect_err("no seat").to_string();
        assert!(message.contains("190.0°") && message.contains("undercut"), "{message}");
    }
}
