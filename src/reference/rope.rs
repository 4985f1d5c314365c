//! Rope around a sheave: tension along the wrap and the pull on the shaft.
//!
//! Lacks groove shapes: the friction factor f already holds them. Units: N, rad.
//! Sources: Euler–Eytelwein (the rope's equilibrium); Firbank, International Journal of Mechanical
//! Sciences 12 (1970) 1053–1063, and Johnson, Contact Mechanics, section 8.5, for the active arc
//! (volume and section numbers from memory).

/// Tension after an arc over which the rope slips towards the heavy side: T = T1·e^(−fθ), N.
#[must_use]
pub fn creeping_tension_n(heavy_n: f64, friction: f64, arc_rad: f64) -> f64 {
    heavy_n * (-friction * arc_rad).exp()
}

/// Arc that the tension needs to fall from T1 to T2 at full friction: ln(T1/T2)/f, rad. The rest of
/// the wrap is idle and carries constant tension.
#[must_use]
pub fn active_arc_rad(heavy_n: f64, light_n: f64, friction: f64) -> f64 {
    (heavy_n / light_n).ln() / friction
}

/// Pull on the shaft from both rope ends that leave a wrap α: √(T1² + T2² − 2·T1·T2·cos α), N.
#[must_use]
pub fn resultant_n(heavy_n: f64, light_n: f64, wrap_rad: f64) -> f64 {
    // Sum of squares, so that nearly equal tensions and small wraps lose no digits.
    let across = 2.0 * (heavy_n * light_n).sqrt() * (wrap_rad / 2.0).sin();
    (heavy_n - light_n).hypot(across)
}

/// Vector sum of the drag ∫ (dT/dθ)·e_θ dθ over a wrap α on which T falls from T1 to T2 along a single
/// exponential; components at the middle of the wrap and a quarter turn towards the light side, N.
///
/// With T = √(T1·T2)·e^(−fθ), f = ln(T1/T2)/α, s and c the sine and cosine of α/2 and e_θ = i·e^(iθ):
/// −f·(f·(T1 + T2)·s + (T2 − T1)·c)/(1 + f²) and −f·((T1 + T2)·s − f·(T2 − T1)·c)/(1 + f²).
#[must_use]
pub fn drag_resultant_n(heavy_n: f64, light_n: f64, wrap_rad: f64) -> [f64; 2] {
    let friction = (heavy_n / light_n).ln() / wrap_rad;
    let (sin, cos) = (wrap_rad / 2.0).sin_cos();
    let (sum, fall) = ((heavy_n + light_n) * sin, (light_n - heavy_n) * cos);
    let scale = -friction / (1.0 + friction * friction);
    [scale * (friction * sum + fall), scale * (sum - friction * fall)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn pull_on_the_shaft() {
        for (heavy, light, degrees, reference) in [
            (8000.0, 5500.0, 150.0f64, 13056.0),
            (8000.0, 5500.0, 165.0, 13388.0),
            (8000.0, 5500.0, 180.0, 13500.0),
            (17658.0, 13734.0, 165.0, 31128.0),
            (17658.0, 13734.0, 180.0, 31392.0),
            (24525.0, 19620.0, 165.0, 43772.0),
        ] {
            let pull = resultant_n(heavy, light, degrees.to_radians());
            assert_close("resultant", pull, reference, Tolerance::printed(0), PRINTED);
        }
    }

    #[test]
    fn active_arc() {
        // The friction factor 0.1972 is printed to four digits, which moves the arc by 0.035°.
        for (ratio, degrees) in [(1.2, 52.97), (1.4, 97.75), (1.5, 117.79), (1.6, 136.54)] {
            let arc = active_arc_rad(8000.0, 8000.0 / ratio, 0.1972).to_degrees();
            let reason = "the friction factor is printed to four digits";
            assert_close("active arc", arc, degrees, Tolerance::Relative(2.6e-4), reason);
            let end = creeping_tension_n(8000.0, 0.1972, arc.to_radians());
            let reason = "the arc is the inverse of the fall, rounding only";
            assert_close("T2", end, 8000.0 / ratio, Tolerance::Relative(1e-12), reason);
        }
    }

    #[test]
    fn pull_by_summing_the_groove_load() {
        // Per radian the groove takes T along the radius and fT along the rope.
        let (heavy, friction, wrap, steps) = (8000.0, 0.15, 2.8, 20_000);
        let step = wrap / f64::from(steps);
        let (mut x, mut y) = (0.0, 0.0);
        for i in 0..steps {
            let theta = (f64::from(i) + 0.5) * step;
            let tension = creeping_tension_n(heavy, friction, theta) * step;
            let (sin, cos) = theta.sin_cos();
            x += tension * (cos - friction * sin);
            y += tension * (sin + friction * cos);
        }
        let light = creeping_tension_n(heavy, friction, wrap);
        let pull = resultant_n(heavy, light, wrap);
        let reason = "the midpoint rule is exact to the square of 1.4e-4 rad";
        assert_close("resultant", x.hypot(y), pull, Tolerance::Relative(1e-8), reason);
    }

    #[test]
    fn drag_by_summing_the_groove_load() {
        let (heavy, light, wrap, steps) = (8000.0f64, 5500.0, 2.8, 20_000);
        let (friction, step) = ((heavy / light).ln() / wrap, wrap / f64::from(steps));
        let (mut x, mut y) = (0.0, 0.0);
        for i in 0..steps {
            let way = (f64::from(i) + 0.5) * step;
            let drag = -friction * creeping_tension_n(heavy, friction, way) * step;
            let (sin, cos) = (way - 0.5 * wrap).sin_cos();
            x -= drag * sin;
            y += drag * cos;
        }
        let exact = drag_resultant_n(heavy, light, wrap);
        let reason = "the midpoint rule is exact to the square of 1.4e-4 rad, on a sum of T1 − T2";
        assert_close("x", x, exact[0], Tolerance::Absolute(1e-8 * (heavy - light)), reason);
        assert_close("y", y, exact[1], Tolerance::Absolute(1e-8 * (heavy - light)), reason);
    }
}
