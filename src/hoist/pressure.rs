//! Pressure of a rope on its groove, and the lapsed limit on it.
//!
//! Owns the cosine law across a seat, the factor k of the specific pressure, and the force on V
//! flanks. Tension T is of one rope. Units: mm, N, MPa, rad; rope speed in m/s.
//! Sources: Feyrer, Wire Ropes, eq. 3.31 (cosine law between contact limits); EN 81-1:1985, note to
//! clause 9.3 (the factors; from memory).

use super::{OutOfRange, positive};
use serde::Serialize;
use std::f64::consts::{FRAC_PI_2, PI};

/// Normal pressure p = p0·cos φ on a seat, between two angles from the groove's bottom, both sides.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CosineLaw {
    from_rad: f64,
    to_rad: f64,
}

impl CosineLaw {
    /// Contact from `from_rad` (half the undercut angle; 0 for a plain seat) to `to_rad`.
    ///
    /// # Errors
    /// Unless 0 ≤ from < to ≤ 90°.
    pub fn new(from_rad: f64, to_rad: f64) -> Result<Self, OutOfRange> {
        if !(0.0..FRAC_PI_2).contains(&from_rad) {
            let allowed = "0° up to less than 90°";
            return Err(OutOfRange::angle("the start of contact", from_rad, allowed));
        }
        // Degrees turned into radians may exceed a right angle by a rounding.
        if !(to_rad > from_rad && to_rad <= FRAC_PI_2 * (1.0 + 1e-12)) {
            let allowed = "more than the start of contact, up to 90°";
            return Err(OutOfRange::angle("the end of contact", to_rad, allowed));
        }
        Ok(Self { from_rad, to_rad })
    }

    /// A rope bedded in a groove of opening angle γ with an undercut β: contact from β/2 to
    /// (π − γ)/2, the limits that the friction factor integrates over (EN 81-50, 5.11).
    ///
    /// # Errors
    /// As [`CosineLaw::new`].
    pub fn bedded(groove_rad: f64, undercut_rad: f64) -> Result<Self, OutOfRange> {
        Self::new(undercut_rad / 2.0, (PI - groove_rad) / 2.0)
    }

    /// 2φ₂ + sin 2φ₂ − 2φ₁ − sin 2φ₁, twice the integral of 2cos²φ over one side.
    fn span(self) -> f64 {
        let (lower, upper) = (2.0 * self.from_rad, 2.0 * self.to_rad);
        upper + upper.sin() - lower - lower.sin()
    }

    /// p0 in MPa from the radial line load q (N per mm of seat) and the radius ρ of the seat's arc:
    /// p0 = 2q/(ρ·(2φ₂ + sin 2φ₂ − 2φ₁ − sin 2φ₁)), so that the pressures carry q.
    ///
    /// # Errors
    /// When the arc's radius is not a positive number.
    pub fn crest_mpa(self, line_load_n_mm: f64, arc_radius_mm: f64) -> Result<f64, OutOfRange> {
        let radius = positive("the seat's arc radius in mm", arc_radius_mm)?;
        Ok(2.0 * line_load_n_mm / (radius * self.span()))
    }

    /// Largest pressure over p0: cos φ₁, at the start of contact.
    #[must_use]
    pub fn largest_over_crest(self) -> f64 {
        self.from_rad.cos()
    }

    /// Factor k of the specific pressure for these contact limits, in p = k·T/(d·D):
    /// k = 8 cos φ₁/(2φ₂ + sin 2φ₂ − 2φ₁ − sin 2φ₁) (Feyrer eq. 3.31, whose own figures are k/2,
    /// multiples of 2T/(dD)).
    #[must_use]
    pub fn factor(self) -> f64 {
        8.0 * self.largest_over_crest() / self.span()
    }
}

/// Factor k of a round or undercut seat with contact up to 90°: 8 cos(β/2)/(π − β − sin β)
/// (EN 81-1:1985, note to clause 9.3, from memory; equal to Feyrer eq. 3.31 with φ₂ = 90°).
///
/// # Errors
/// Unless 0 ≤ β < 180°.
pub fn seat_factor(undercut_rad: f64) -> Result<f64, OutOfRange> {
    CosineLaw::new(undercut_rad / 2.0, FRAC_PI_2).map(CosineLaw::factor)
}

/// Factor k of a V groove: 4.5/sin(γ/2) (EN 81-1:1985, note to clause 9.3, from memory).
///
/// # Errors
/// Unless 0 < γ < 180°.
pub fn v_factor(groove_rad: f64) -> Result<f64, OutOfRange> {
    Ok(4.5 / half_angle_sine(groove_rad)?)
}

fn half_angle_sine(groove_rad: f64) -> Result<f64, OutOfRange> {
    if groove_rad > 0.0 && groove_rad < PI {
        Ok((groove_rad / 2.0).sin())
    } else {
        let allowed = "more than 0° and less than 180°";
        Err(OutOfRange::angle("the V angle", groove_rad, allowed))
    }
}

/// Specific pressure p = k·T/(d·D) in MPa, with T of one rope, d the rope's and D the sheave's
/// diameter.
///
/// # Errors
/// When a diameter is not a positive number.
pub fn specific_pressure_mpa(
    factor: f64,
    rope_tension_n: f64,
    rope_diameter_mm: f64,
    sheave_diameter_mm: f64,
) -> Result<f64, OutOfRange> {
    let d = positive("the rope diameter in mm", rope_diameter_mm)?;
    let sheave = positive("the sheave diameter in mm", sheave_diameter_mm)?;
    Ok(factor * rope_tension_n / (d * sheave))
}

/// What the limit of [`lapsed_limit_mpa`] is worth, for printing beside it.
pub const LAPSED_LIMIT_STANDING: &str = "EN 81-1 of 1977 and 1985; lapsed in 1999, when the \
    rope-life factor replaced it. Shown as a yardstick, not as a requirement in force";

/// Lapsed limit on the specific pressure, (12.5 + 4v)/(1 + v) MPa with the rope speed v in m/s, for
/// the static tension with rated load at the lowest floor. See [`LAPSED_LIMIT_STANDING`].
///
/// # Errors
/// When the rope speed is negative or not a finite number.
pub fn lapsed_limit_mpa(rope_speed_m_s: f64) -> Result<f64, OutOfRange> {
    if rope_speed_m_s >= 0.0 && rope_speed_m_s.is_finite() {
        Ok((12.5 + 4.0 * rope_speed_m_s) / (1.0 + rope_speed_m_s))
    } else {
        let allowed = "0 m/s and above";
        Err(OutOfRange::number("the rope speed in m/s", rope_speed_m_s, allowed))
    }
}

/// Force normal to each flank of a V groove per radial load on the rope: 1/(2 sin(γ/2)), from
/// equilibrium without friction. The load may be per mm of rope or per radian of wrap.
///
/// # Errors
/// Unless 0 < γ < 180°.
pub fn v_flank_ratio(groove_rad: f64) -> Result<f64, OutOfRange> {
    Ok(0.5 / half_angle_sine(groove_rad)?)
}

/// Width of the slot that an undercut angle β leaves under a rope: d·sin(β/2), mm.
#[must_use]
pub fn undercut_width_mm(rope_diameter_mm: f64, undercut_rad: f64) -> f64 {
    rope_diameter_mm * (undercut_rad / 2.0).sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn factors_of_seats_and_v() {
        for (beta, reference) in [
            (0.0f64, 2.5465),
            (75.0, 7.3232),
            (80.0, 8.0581),
            (85.0, 8.9115),
            (90.0, 9.9105),
            (95.0, 11.0904),
            (100.0, 12.4978),
            (105.0, 14.1956),
        ] {
            let k = seat_factor(beta.to_radians()).expect("in range");
            assert_close("k of a seat", k, reference, Tolerance::printed(4), PRINTED);
        }
        for (gamma, reference) in [(35.0f64, 14.965), (38.0, 13.822), (40.0, 13.157), (45.0, 11.759)] {
            let k = v_factor(gamma.to_radians()).expect("in range");
            assert_close("k of a V", k, reference, Tolerance::printed(3), PRINTED);
        }
    }

    #[test]
    fn cosine_law_between_limits() {
        // Feyrer, Wire Ropes: example 3.4, the plain seat up to 60°, and up to 90° at β = 95°.
        for (from, to, printed, decimals) in [
            (47.5f64, 80.0f64, 5.6265, 4),
            (47.5, 80.0, 5.627, 3),
            (0.0, 60.0, 1.3512, 4),
            (0.0, 60.0, 1.351, 3),
            (47.5, 90.0, 5.5452, 4),
        ] {
            let law = CosineLaw::new(from.to_radians(), to.to_radians()).expect("in range");
            let half = law.factor() / 2.0;
            assert_close("k/2", half, printed, Tolerance::printed(decimals), PRINTED);
        }
        let law = CosineLaw::bedded(20f64.to_radians(), 95f64.to_radians()).expect("in range");
        let half = law.factor() / 2.0;
        assert_close("bedded", half, 5.6265, Tolerance::printed(4), PRINTED);
    }

    #[test]
    fn pressures_carry_the_rope() {
        // Integrate the radial part of the pressure over both sides of an arc wider than the rope.
        let law = CosineLaw::new(0.6, 1.2).expect("in range");
        let (load, radius, steps) = (37.0, 7.3, 2000);
        let crest = law.crest_mpa(load, radius).expect("a real radius");
        let step = (1.2 - 0.6) / f64::from(steps);
        let carried: f64 = (0..steps)
            .map(|i| 0.6 + (f64::from(i) + 0.5) * step)
            .map(|phi| 2.0 * crest * phi.cos() * phi.cos() * radius * step)
            .sum();
        let reason = "the midpoint rule is exact to the square of 3e-4 rad";
        assert_close("q", carried, load, Tolerance::Relative(1e-7), reason);
        // With ρ = d/2 and q = 2T/D the largest pressure is the specific pressure.
        let (tension, d, sheave) = (4000.0, 13.0, 560.0);
        let crest = law.crest_mpa(2.0 * tension / sheave, d / 2.0).expect("a real radius");
        let p = specific_pressure_mpa(law.factor(), tension, d, sheave).expect("real diameters");
        let reason = "the same formula written twice, rounding only";
        let largest = crest * law.largest_over_crest();
        assert_close("p", largest, p, Tolerance::Relative(1e-13), reason);
    }

    #[test]
    fn example_of_five_ropes() {
        let tension = 1800.0 * 9.81 / 5.0;
        let p = |k: f64| specific_pressure_mpa(k, tension, 13.0, 560.0).expect("real diameters");
        assert_close("T/(dD)", p(1.0), 0.4851, Tolerance::printed(4), PRINTED);
        for (beta, reference) in [(0.0f64, 1.235), (90.0, 4.808), (95.0, 5.380), (105.0, 6.886)] {
            let k = seat_factor(beta.to_radians()).expect("in range");
            assert_close("p", p(k), reference, Tolerance::printed(3), PRINTED);
        }
        let k = v_factor(40f64.to_radians()).expect("in range");
        assert_close("p of V", p(k), 6.383, Tolerance::printed(3), PRINTED);
    }

    #[test]
    fn lapsed_limit() {
        for (speed, reference) in [
            (0.5, 9.667),
            (1.0, 8.250),
            (1.6, 7.269),
            (2.0, 6.833),
            (2.5, 6.429),
            (3.5, 5.889),
            (5.0, 5.417),
            (10.0, 4.773),
        ] {
            let limit = lapsed_limit_mpa(speed).expect("a real speed");
            assert_close("limit", limit, reference, Tolerance::printed(3), PRINTED);
        }
    }

    #[test]
    fn flanks_and_slots() {
        for (gamma, reference) in [(35.0f64, 1.663), (38.0, 1.536), (40.0, 1.462)] {
            let ratio = v_flank_ratio(gamma.to_radians()).expect("in range");
            assert_close("N/q", ratio, reference, Tolerance::printed(3), PRINTED);
        }
        for (beta, reference) in [(90.0f64, 0.707), (95.0, 0.737), (105.0, 0.793)] {
            let width = undercut_width_mm(1.0, beta.to_radians());
            assert_close("width/d", width, reference, Tolerance::printed(3), PRINTED);
        }
    }

    #[test]
    fn impossible_values_are_refused() {
        assert!(CosineLaw::new(0.8, 0.8).is_err());
        assert!(CosineLaw::new(-0.1, 0.8).is_err());
        assert!(CosineLaw::new(0.1, 1.6).is_err());
        assert!(CosineLaw::new(f64::NAN, 1.0).is_err() && CosineLaw::new(0.0, f64::NAN).is_err());
        assert!(seat_factor(PI).is_err() && v_factor(0.0).is_err() && v_factor(PI).is_err());
        assert!(specific_pressure_mpa(2.5, 4000.0, 0.0, 560.0).is_err());
        assert!(specific_pressure_mpa(2.5, 4000.0, 13.0, f64::NAN).is_err());
        assert!(lapsed_limit_mpa(-1.0).is_err() && lapsed_limit_mpa(f64::NAN).is_err());
        assert!(CosineLaw::new(0.0, 1.0).expect("in range").crest_mpa(10.0, 0.0).is_err());
    }
}
