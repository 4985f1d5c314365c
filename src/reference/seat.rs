//! Pressure of a rope on the turned arc of its seat.
//!
//! Lacks the line-load form of handbooks, which takes one radius for the whole arc. Units: mm, N, MPa, rad.
//! Source: cosine law of Feyrer, Wire Ropes, section 3.4, with the arc's own radii in its force.

/// Pressure p0 in p = p0·cos φ that carries a radial force T per radian of wrap, MPa.
///
/// On an arc of radius ρ about a centre at radius C = R_s + ρ the seat lies at r = C − ρ·cos φ, and both sides
/// together carry p0·∫ cos²φ·r·ρ dφ: T = p0·ρ·(C·(Δφ + ½Δ(sin 2φ)) − 2ρ·Δ(sin φ − ⅓ sin³φ)), differences
/// from the start to the end of contact.
#[must_use]
pub fn crest_mpa(
    force_n_per_rad: f64,
    seat_radius_mm: f64,
    arc_radius_mm: f64,
    from_rad: f64,
    to_rad: f64,
) -> f64 {
    let between = |f: fn(f64) -> f64| f(to_rad) - f(from_rad);
    let square = between(|phi| phi + 0.5 * (2.0 * phi).sin());
    let cube = between(|phi| phi.sin() - phi.sin().powi(3) / 3.0);
    let centre = seat_radius_mm + arc_radius_mm;
    force_n_per_rad / (arc_radius_mm * (centre * square - 2.0 * arc_radius_mm * cube))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    #[test]
    fn the_pressure_carries_the_force() {
        let (seat, arc, from, to, steps) = (40.0, 7.3, 0.6, 1.2, 2000);
        let crest = crest_mpa(900.0, seat, arc, from, to);
        let step = (to - from) / f64::from(steps);
        let carried: f64 = (0..steps)
            .map(|i| from + (f64::from(i) + 0.5) * step)
            .map(|phi| 2.0 * crest * phi.cos().powi(2) * (seat + arc - arc * phi.cos()) * arc * step)
            .sum();
        let reason = "the midpoint rule is exact to the square of 3e-4 rad";
        assert_close("T", carried, 900.0, Tolerance::Relative(1e-7), reason);
    }

    #[test]
    fn on_a_large_wheel_it_is_the_line_load_form() {
        // 2q/(ρ(2φ2 + sin 2φ2)) with q = T/R_s.
        let (seat, to) = (1e7, 1.3f64);
        let line = 2.0 / (7.0 * (2.0 * to + (2.0 * to).sin()));
        let reason = "the arc's depth over the wheel's radius is 7e-7";
        assert_close("p0", crest_mpa(seat, seat, 7.0, 0.0, to), line, Tolerance::Relative(7e-7), reason);
    }
}
