//! Plain rules about diameters, ropes and groove angles, each with its standing.
//!
//! Owns numbers and comparisons, not the verdict. Units: mm, rad, m/s.
//! Sources stand beside each rule.

use super::friction::Grip;
use serde::Serialize;

/// A limit with where it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Limit {
    pub value: f64,
    pub source: &'static str,
}

/// Least ratio of pitch to rope diameter for a drive sheave under suspension ropes.
pub const SUSPENSION_RATIO: Limit = Limit {
    value: 40.0,
    source: "ASME A17.1/CSA B44 cl. 2.24.2 (clause number from memory); EN 81-20:2020, 5.5.2.1",
};

/// Least ratio of pitch to rope diameter for sheaves of compensation ropes.
pub const COMPENSATION_RATIO: Limit =
    Limit { value: 32.0, source: "ASME A17.1/CSA B44 cl. 2.24.2 (clause number from memory)" };

/// Smallest suspension rope, mm.
pub const LEAST_ROPE_MM: Limit =
    Limit { value: 8.0, source: "EN 81-20:2020, 5.5.1 (clause number from memory)" };

/// Largest undercut angle, rad.
///
/// It is printed as 105°, and as "106° (1.83 rad)"; 1.83 rad is 104.85°, so 105° is meant.
pub const LARGEST_UNDERCUT_RAD: Limit = Limit {
    value: 105.0 * std::f64::consts::PI / 180.0,
    source: "EN 81-50:2020, 5.11 (105°; some copies print 106° beside 1.83 rad)",
};

/// Smallest groove angle of a round or undercut seat, rad.
pub const LEAST_SEAT_ANGLE_RAD: Limit =
    Limit { value: 25.0 * std::f64::consts::PI / 180.0, source: "EN 81-50:2020, 5.11 (25°, from memory)" };

/// Smallest groove angle of a V, rad.
pub const LEAST_V_ANGLE_RAD: Limit =
    Limit { value: 35.0 * std::f64::consts::PI / 180.0, source: "EN 81-50:2020, 5.11 (35°)" };

/// Highest rope tension over the lowest one.
pub const LARGEST_TENSION_RATIO: Limit =
    Limit { value: 1.1, source: "common practice: highest within 10 % of lowest" };

/// Least safety factor of suspension ropes on breaking load: 12 for three and more, 16 for two
/// (EN 81-20:2020, 5.5.2.2); `None` for fewer than two ropes, for which there is no rule here.
#[must_use]
pub fn least_rope_safety(ropes: usize) -> Option<Limit> {
    let source = "EN 81-20:2020, 5.5.2.2";
    match ropes {
        0 | 1 => None,
        2 => Some(Limit { value: 16.0, source }),
        _ => Some(Limit { value: 12.0, source }),
    }
}

/// Safety factor of equally loaded suspension ropes: n·F_min over the static force in all of them together, car
/// at the lowest landing with rated load (EN 81-20:2020, 5.5.2.2).
#[must_use]
pub fn rope_safety(ropes: usize, breaking_force_n: f64, all_ropes_n: f64) -> f64 {
    ropes as f64 * breaking_force_n / all_ropes_n
}

/// Hardness that is wanted in a seat, HB.
pub const SEAT_HARDNESS_HB: (Limit, Limit) = (
    Limit { value: 180.0, source: "common practice, no source: 180 to 240 HB in the seat" },
    Limit { value: 240.0, source: "common practice, no source: 180 to 240 HB in the seat" },
);

/// Least car speed over the rated one.
pub const LEAST_SPEED_RATIO: Limit = Limit {
    value: 0.92,
    source: "EN 81-20:2020, 5.9.2.4, a remark on good practice: no more than 8 % below the rated speed (clause and number from memory)",
};

/// Ratio of pitch to rope diameter, D/d.
#[must_use]
pub fn diameter_ratio(pitch_diameter_mm: f64, rope_diameter_mm: f64) -> f64 {
    pitch_diameter_mm / rope_diameter_mm
}

/// Radial cut that a least diameter ratio leaves open, (D − ratio·d)/2 in mm; negative when the
/// sheave is too small already.
#[must_use]
pub fn radial_cut_left_mm(pitch_diameter_mm: f64, rope_diameter_mm: f64, least_ratio: Limit) -> f64 {
    (pitch_diameter_mm - least_ratio.value * rope_diameter_mm) / 2.0
}

/// Car speed after a change of pitch diameter at the same machine speed, m/s: in proportion.
#[must_use]
pub fn speed_after_cut_m_s(speed_m_s: f64, before_mm: f64, after_mm: f64) -> f64 {
    speed_m_s * after_mm / before_mm
}

/// A groove angle beyond what the traction rules allow.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "breach", rename_all = "snake_case")]
pub enum GrooveBreach {
    UndercutTooLarge { found_rad: f64, limit: Limit },
    SeatAngleTooSmall { found_rad: f64, limit: Limit },
    VAngleTooSmall { found_rad: f64, limit: Limit },
}

/// Angles that are not known better than this are not judged by less, rad: a millionth of a degree.
const ANGLE_SLACK_RAD: f64 = 1.8e-8;

/// Groove angles that break the traction rules: β ≤ 105°, γ ≥ 25° for a seat, γ ≥ 35° for a V.
/// An angle that is not a number breaks its rule.
#[must_use]
pub fn groove_breaches(grip: Grip) -> Vec<GrooveBreach> {
    let mut breaches = Vec::new();
    let (groove_rad, undercut_rad, least, is_seat) = match grip {
        Grip::Seat { groove_rad, undercut_rad } => (groove_rad, undercut_rad, LEAST_SEAT_ANGLE_RAD, true),
        Grip::V { groove_rad, undercut_rad, .. } => (groove_rad, undercut_rad, LEAST_V_ANGLE_RAD, false),
    };
    let undercut_holds = undercut_rad <= LARGEST_UNDERCUT_RAD.value + ANGLE_SLACK_RAD;
    if !undercut_holds {
        breaches
            .push(GrooveBreach::UndercutTooLarge { found_rad: undercut_rad, limit: LARGEST_UNDERCUT_RAD });
    }
    let angle_holds = groove_rad >= least.value - ANGLE_SLACK_RAD;
    if !angle_holds {
        let found_rad = groove_rad;
        let limit = least;
        breaches.push(if is_seat {
            GrooveBreach::SeatAngleTooSmall { found_rad, limit }
        } else {
            GrooveBreach::VAngleTooSmall { found_rad, limit }
        });
    }
    breaches
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hoist::friction::Flanks;
    use crate::reference::compare::{Tolerance, assert_close};

    const EXACT: &str = "short sums, rounding only";

    #[test]
    fn cut_left_by_the_diameter_ratio() {
        for (pitch, rope, reference) in [
            (560.0, 13.0, 20.0),
            (660.0, 16.0, 10.0),
            (640.0, 16.0, 0.0),
            (508.0, 12.7, 0.0),
            (320.0, 8.0, 0.0),
            (630.0, 16.0, -5.0),
        ] {
            let left = radial_cut_left_mm(pitch, rope, SUSPENSION_RATIO);
            assert_close("cut left", left, reference, Tolerance::Absolute(1e-12), EXACT);
        }
        let left = radial_cut_left_mm(400.0, 11.0, COMPENSATION_RATIO);
        assert_close("cut left", left, 24.0, Tolerance::Absolute(1e-12), EXACT);
        let ratio = diameter_ratio(560.0, 13.0);
        assert_close("D/d", ratio, 43.077, Tolerance::printed(3), "560/13 to three decimals");
    }

    #[test]
    fn ropes_share_the_static_force() {
        let factor = rope_safety(5, 74e3, 5.0 * 5250.1);
        assert_close("rope factor", factor, 14.095, Tolerance::printed(3), "74 kN over 5250.1 N");
    }

    #[test]
    fn speed_follows_the_diameter() {
        let speed = speed_after_cut_m_s(1.78, 660.4, 652.8);
        assert_close("speed", speed, 1.78 * 652.8 / 660.4, Tolerance::Absolute(1e-12), EXACT);
        assert!(speed < 1.78);
    }

    #[test]
    fn two_ropes_need_more_than_three() {
        let value = |ropes| least_rope_safety(ropes).map(|limit| limit.value);
        assert_eq!(value(1), None);
        assert_eq!(value(2), Some(16.0));
        assert_eq!(value(3), Some(12.0));
        assert_eq!(value(8), Some(12.0));
    }

    fn seat(gamma: f64, beta: f64) -> Grip {
        Grip::Seat { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians() }
    }

    fn v(gamma: f64) -> Grip {
        Grip::V { groove_rad: gamma.to_radians(), undercut_rad: 0.0, flanks: Flanks::Hardened }
    }

    #[test]
    fn groove_angles_at_and_beyond_their_limits() {
        for kept in [seat(25.0, 105.0), seat(60.0, 0.0), v(35.0), v(40.0)] {
            assert_eq!(groove_breaches(kept), [], "{kept:?}");
        }
        use GrooveBreach as B;
        assert!(matches!(groove_breaches(seat(30.0, 105.1))[..], [B::UndercutTooLarge { .. }]));
        assert!(matches!(groove_breaches(seat(24.9, 90.0))[..], [B::SeatAngleTooSmall { .. }]));
        assert!(matches!(groove_breaches(v(34.9))[..], [B::VAngleTooSmall { .. }]));
        assert_eq!(groove_breaches(seat(20.0, 110.0)).len(), 2);
        assert_eq!(groove_breaches(seat(f64::NAN, f64::NAN)).len(), 2);
    }

    #[test]
    fn the_undercut_limit_is_the_printed_radian() {
        let reason = "1.83 rad is printed to two decimals";
        let limit = LARGEST_UNDERCUT_RAD.value;
        assert_close("β", limit, 1.83, Tolerance::printed(2), reason);
    }
}
