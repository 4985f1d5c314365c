//! The tension between the passes that a long run settles to, with the active and idle arc of each pass.
//!
//! Where the rope comes on it rests on the groove and moves with it (idle arc); towards the end where it
//! leaves it creeps (active arc, Euler–Eytelwein). Source of the arcs: Johnson, Contact Mechanics,
//! section 8.5, and Firbank 1970. Source of the settled tension: own derivation from Hooke's law and the
//! conservation of rope: a pass of pitch radius R takes on R/(1 + T_on/EA) of unstrained rope per radian, and
//! in the long run both passes take on the same.
//! Assumptions: one rope stiffness, no bending stiffness, no rope stored on the arcs, free secondary sheave.

use super::{Pass, Run, WrapFault, between_by, finite};
use crate::seeded::{Fault, planted};
use serde::Serialize;

/// What a long run in one direction settles to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Steady {
    pub run: Run,
    pub between_n: f64,
    /// Pass that slips as a whole, where creep alone would ask for more than friction holds.
    pub slipping: Option<Pass>,
    /// Active arc of each pass.
    pub arcs: [ActiveArc; 2],
}

/// How much of a pass creeps.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ActiveArc {
    pub active_rad: f64,
    pub idle_rad: f64,
}

impl ActiveArc {
    /// Arcs of a pass between two tensions, with its friction and wrap: active = |ln(Ta/Tb)|/f.
    pub fn of(before_n: f64, after_n: f64, friction: f64, wrap_rad: f64) -> Self {
        let active_rad = ((before_n / after_n).ln().abs() / friction).min(wrap_rad);
        Self { active_rad, idle_rad: wrap_rad - active_rad }
    }
}

/// The settled state of one rope: outer tensions, friction factor and wrap of each pass, pitch radii of its two
/// grooves, rope stiffness EA.
///
/// Car up: R1/(1 + T1/EA) = R2/(1 + Ti/EA); car down: R2/(1 + T2/EA) = R1/(1 + Ti/EA); then kept within friction.
/// With equal radii Ti is the tension at which the rope comes on: T1 going up, T2 going down.
///
/// # Errors
/// As [`between_by`], and for radii, frictions or a stiffness that are not positive.
pub fn steady(
    run: Run,
    [car_n, counterweight_n]: [f64; 2],
    friction: [f64; 2],
    wrap_rad: [f64; 2],
    [first_mm, second_mm]: [f64; 2],
    stiffness_n: f64,
) -> Result<Steady, WrapFault> {
    let positive = "a positive number";
    for value in [first_mm, second_mm] {
        finite("a pitch radius in mm", value, f64::MIN_POSITIVE, positive)?;
    }
    for value in friction {
        finite("a friction factor", value, f64::MIN_POSITIVE, positive)?;
    }
    finite("the rope stiffness in N", stiffness_n, f64::MIN_POSITIVE, positive)?;
    let grips = [0, 1].map(|i| friction[i] * wrap_rad[i]);
    let range = between_by(car_n, counterweight_n, grips)?.friction;
    let (on_n, on_mm, other_mm) = match run {
        Run::CarUp => (car_n, first_mm, second_mm),
        Run::CarDown => (counterweight_n, second_mm, first_mm),
    };
    let on_n = if planted(Fault::CreepFromWrongEnd) { car_n + counterweight_n - on_n } else { on_n };
    // EA·[(R'/R)(1 + T/EA) − 1], written so that equal radii give T to the last digit.
    let asked = on_n + (stiffness_n + on_n) * (other_mm - on_mm) / on_mm;
    let between_n = asked.clamp(range.low_n, range.high_n);
    let arcs = [
        ActiveArc::of(car_n, between_n, friction[0], wrap_rad[0]),
        ActiveArc::of(between_n, counterweight_n, friction[1], wrap_rad[1]),
    ];
    // The pass without an idle arc is the one that slips.
    let slipping = (asked != between_n)
        .then(|| if arcs[0].idle_rad <= arcs[1].idle_rad { Pass::First } else { Pass::Second });
    Ok(Steady { run, between_n, slipping, arcs })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::reference::rope::active_arc_rad;

    const EXACT: &str = "closed form against closed form, rounding only";
    const ROUNDING: Tolerance = Tolerance::Relative(1e-12);

    fn of(run: Run, radii: [f64; 2], stiffness: f64) -> Steady {
        steady(run, [8000.0, 5500.0], [0.2, 0.2], [2.9, 3.0], radii, stiffness).unwrap()
    }

    #[test]
    fn equal_diameters_leave_the_drop_to_the_pass_where_the_rope_leaves() {
        let up = of(Run::CarUp, [300.0, 300.0], 4.55e6);
        assert_close("up", up.between_n, 8000.0, ROUNDING, EXACT);
        assert_close("pass 1 rests", up.arcs[0].active_rad, 0.0, Tolerance::Absolute(1e-15), EXACT);
        let arc = active_arc_rad(8000.0, 5500.0, 0.2);
        assert_close("pass 2", up.arcs[1].active_rad, arc, ROUNDING, EXACT);
        let down = of(Run::CarDown, [300.0, 300.0], 4.55e6);
        assert_close("down", down.between_n, 5500.0, ROUNDING, EXACT);
        assert_eq!((up.slipping, down.slipping), (None, None));
    }

    #[test]
    fn a_mismatch_moves_the_tension_by_ea_times_its_share() {
        let up = of(Run::CarUp, [300.0, 300.05], 4.55e6);
        let reference = 4.55e6 * (300.05 / 300.0 * (1.0 + 8000.0 / 4.55e6) - 1.0);
        assert_close(
            "Ti",
            up.between_n,
            reference,
            Tolerance::Relative(1e-10),
            "differences of 1 lose six digits",
        );
    }

    #[test]
    fn a_rigid_rope_slips_at_the_smallest_mismatch() {
        let up = of(Run::CarUp, [300.0, 300.001], 1e15);
        assert_close("Ti", up.between_n, 5500.0 * 0.6f64.exp(), ROUNDING, EXACT);
        assert_eq!(up.slipping, Some(Pass::Second));
        let down = of(Run::CarDown, [300.001, 300.0], 1e15);
        let range = between_by(8000.0, 5500.0, [0.58, 0.6]).unwrap().friction;
        assert_close("Ti", down.between_n, range.high_n, ROUNDING, EXACT);
    }
}
