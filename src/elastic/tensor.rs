//! A stress tensor and its turn into the Cartesian frame.

/// A symmetric stress tensor in MPa: rr, θθ, zz, rθ, θz, rz.
pub type Stress = [f64; 6];

/// Stress components in the Cartesian frame whose x axis is at θ = 0: xx, yy, zz, xy, yz, xz.
pub fn to_cartesian(s: &Stress, theta: f64) -> Stress {
    let (sin, cos) = theta.sin_cos();
    let [rr, tt, zz, rt, tz, rz] = *s;
    [
        rr * cos * cos + tt * sin * sin - 2.0 * rt * sin * cos,
        rr * sin * sin + tt * cos * cos + 2.0 * rt * sin * cos,
        zz,
        (rr - tt) * sin * cos + rt * (cos * cos - sin * sin),
        rz * sin + tz * cos,
        rz * cos - tz * sin,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::principal_values;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn turning_the_frame_keeps_the_principal_values(
            s in prop::array::uniform6(-200.0..200.0f64),
            theta in -3.0..3.0f64,
        ) {
            let (p, q) = (principal_values(&s), principal_values(&to_cartesian(&s, theta)));
            for i in 0..3 {
                prop_assert!((p[i] - q[i]).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn pure_radial_tension_at_a_right_angle_is_tension_along_y() {
        let turned = to_cartesian(&[5.0, 0.0, 0.0, 0.0, 0.0, 2.0], std::f64::consts::FRAC_PI_2);
        for (value, exact) in turned.into_iter().zip([0.0, 5.0, 0.0, 0.0, 2.0, 0.0]) {
            assert!((value - exact).abs() < 1e-12);
        }
    }
}
