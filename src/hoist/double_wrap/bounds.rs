//! What friction lets the tension between the passes be.
//!
//! Source: Euler–Eytelwein on each pass, own combination. Statics alone fix the two outer tensions only.

use super::{WrapFault, finite};
use crate::seeded::{Fault, planted};
use serde::Serialize;

/// A range of the tension between the passes (N).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TensionRange {
    pub low_n: f64,
    pub high_n: f64,
}

/// The tension between the passes by every rule that needs friction and the outer tensions alone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Between {
    /// √(T1·T2): both passes hold the same ratio.
    pub equal_ratio_n: f64,
    /// Both passes drive the same way: T1/e^(fα1) ≤ Ti ≤ T1 and T2 ≤ Ti ≤ T2·e^(fα2), T1 being the larger.
    pub driving: TensionRange,
    /// Neither pass slips, whichever way it drives: one may drive and the other hold back, as a mismatch of
    /// diameters brings about.
    pub friction: TensionRange,
}

/// Tensions between the passes for the car's and the counterweight's side, with the grip f·α of each pass.
///
/// # Errors
/// When a tension is not positive, a grip negative, or the ropes slide as a whole: |ln(T1/T2)| > fα1 + fα2.
pub fn between_by(car_n: f64, counterweight_n: f64, grips: [f64; 2]) -> Result<Between, WrapFault> {
    let positive = "a positive number";
    for (what, value) in [
        ("the tension of the car's side", car_n),
        ("the tension of the counterweight's side", counterweight_n),
    ] {
        finite(what, value, f64::MIN_POSITIVE, positive)?;
    }
    for grip in grips {
        finite("the grip of a pass", grip, 0.0, "zero or more")?;
    }
    let [first, second] = if planted(Fault::GripOfWrongPass) { [grips[1], grips[0]] } else { grips };
    let ratio = car_n.max(counterweight_n) / car_n.min(counterweight_n);
    let limit = (first + second).exp();
    // A tension ratio that is exactly the limit may exceed it by a rounding.
    if ratio > limit * (1.0 + 1e-12) {
        return Err(WrapFault::Slides { ratio, limit });
    }
    let low = (car_n * (-first).exp()).max(counterweight_n * (-second).exp());
    let high = (car_n * first.exp()).min(counterweight_n * second.exp());
    let (least, most) = (car_n.min(counterweight_n), car_n.max(counterweight_n));
    // Rounding may cross the ends where the whole grip is used.
    let range = |low: f64, high: f64| TensionRange { low_n: low.min(high), high_n: high.max(low) };
    Ok(Between {
        equal_ratio_n: (car_n * counterweight_n).sqrt(),
        driving: range(low.max(least), high.min(most)),
        friction: range(low, high),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const ROUNDING: Tolerance = Tolerance::Relative(1e-12);
    const EXACT: &str = "closed form against closed form, rounding only";

    #[test]
    fn every_bound_leaves_one_pass_at_the_end_of_its_grip() {
        let (t1, t2, g1, g2) = (8000.0f64, 5500.0, 0.35, 0.6);
        let between = between_by(t1, t2, [g1, g2]).unwrap();
        assert_close("low", between.friction.low_n, t1 * (-g1).exp(), ROUNDING, EXACT);
        assert_close("high", between.friction.high_n, t2 * g2.exp(), ROUNDING, EXACT);
        assert_close("driving low", between.driving.low_n, t1 * (-g1).exp(), ROUNDING, EXACT);
        assert_close("driving high", between.driving.high_n, t1, ROUNDING, EXACT);
        assert_close("√(T1·T2)", between.equal_ratio_n, 6633.2496, Tolerance::printed(4), "hand calculation");
    }

    #[test]
    fn the_other_way_round_is_the_mirror_image() {
        let one = between_by(8000.0, 5500.0, [0.35, 0.6]).unwrap();
        let other = between_by(5500.0, 8000.0, [0.6, 0.35]).unwrap();
        for (a, b) in [(one.friction, other.friction), (one.driving, other.driving)] {
            assert_close("low", a.low_n, b.low_n, ROUNDING, EXACT);
            assert_close("high", a.high_n, b.high_n, ROUNDING, EXACT);
        }
    }

    #[test]
    fn without_grip_in_one_pass_the_other_is_a_single_wrap() {
        let between = between_by(8000.0, 5500.0, [0.6, 0.0]).unwrap();
        assert_close("low", between.friction.low_n, 5500.0, ROUNDING, EXACT);
        assert_close("high", between.friction.high_n, 5500.0, ROUNDING, EXACT);
        let between = between_by(8000.0, 5500.0, [0.0, 0.6]).unwrap();
        assert_close("low", between.driving.low_n, 8000.0, ROUNDING, EXACT);
        assert_close("high", between.driving.high_n, 8000.0, ROUNDING, EXACT);
    }

    #[test]
    fn the_whole_grip_leaves_one_tension_and_more_slides() {
        let between = between_by(5500.0 * 0.7f64.exp(), 5500.0, [0.3, 0.4]).unwrap();
        let only = 5500.0 * 0.4f64.exp();
        assert_close("low", between.friction.low_n, only, ROUNDING, EXACT);
        assert_close("high", between.friction.high_n, only, ROUNDING, EXACT);
        let fault = between_by(8000.0, 5500.0, [0.1, 0.2]).unwrap_err();
        assert!(fault.to_string().contains("slide"), "{fault}");
        assert!(between_by(0.0, 5500.0, [0.1, 0.2]).is_err());
        assert!(between_by(8000.0, 5500.0, [f64::NAN, 0.2]).is_err());
    }
}
