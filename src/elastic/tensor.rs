//! Principal values of a symmetric tensor in the order rr, θθ, zz, rθ, θz, rz.

use nalgebra::{Matrix3, Vector3};

/// A symmetric stress tensor in MPa: rr, θθ, zz, rθ, θz, rz.
pub type Stress = [f64; 6];

/// Principal stresses, highest first, in MPa.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Principal {
    pub first_mpa: f64,
    pub second_mpa: f64,
    pub third_mpa: f64,
}

/// Principal values by the trigonometric form of the cubic's roots (Smith 1961), highest first.
pub fn principal(s: &Stress) -> Principal {
    let [rr, tt, zz, rt, tz, rz] = *s;
    let mean = (rr + tt + zz) / 3.0;
    let (a, b, c) = (rr - mean, tt - mean, zz - mean);
    let shear = rt * rt + tz * tz + rz * rz;
    let q = (0.5 * (a * a + b * b + c * c) + shear) / 3.0;
    if q <= 0.0 {
        return Principal { first_mpa: mean, second_mpa: mean, third_mpa: mean };
    }
    let root = q.sqrt();
    let det = a * (b * c - tz * tz) - rt * (rt * c - tz * rz) + rz * (rt * tz - b * rz);
    let cosine = (0.5 * det / (q * root)).clamp(-1.0, 1.0);
    let angle = cosine.acos() / 3.0;
    let first = mean + 2.0 * root * angle.cos();
    let third = mean + 2.0 * root * (angle + 2.0 * std::f64::consts::FRAC_PI_3).cos();
    Principal { first_mpa: first, second_mpa: 3.0 * mean - first - third, third_mpa: third }
}

/// Unit vector (r, θ, z) along the highest principal stress.
pub(crate) fn first_direction(s: &Stress) -> [f64; 3] {
    let [rr, tt, zz, rt, tz, rz] = *s;
    let eigen = Matrix3::new(rr, rt, rz, rt, tt, tz, rz, tz, zz).symmetric_eigen();
    let at = eigen.eigenvalues.imax();
    let v: Vector3<f64> = eigen.eigenvectors.column(at).into();
    [v.x, v.y, v.z]
}

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
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn principal_values_agree_with_an_eigenvalue_library(s in prop::array::uniform6(-200.0..200.0f64)) {
            let [rr, tt, zz, rt, tz, rz] = s;
            let matrix = Matrix3::new(rr, rt, rz, rt, tt, tz, rz, tz, zz);
            let mut values: Vec<f64> = matrix.symmetric_eigenvalues().iter().copied().collect();
            values.sort_by(|a, b| b.total_cmp(a));
            let p = principal(&s);
            for (mine, theirs) in [p.first_mpa, p.second_mpa, p.third_mpa].into_iter().zip(values) {
                prop_assert!((mine - theirs).abs() < 1e-5 * 200.0, "{mine} {theirs}");
            }
        }

        #[test]
        fn turning_the_frame_keeps_the_principal_values(
            s in prop::array::uniform6(-200.0..200.0f64),
            theta in -3.0..3.0f64,
        ) {
            let (p, q) = (principal(&s), principal(&to_cartesian(&s, theta)));
            prop_assert!((p.first_mpa - q.first_mpa).abs() < 1e-4);
            prop_assert!((p.third_mpa - q.third_mpa).abs() < 1e-4);
        }
    }

    #[test]
    fn the_first_direction_carries_the_first_value() {
        let s = [30.0, -5.0, 12.0, 8.0, -7.0, 4.0];
        let v = first_direction(&s);
        let [rr, tt, zz, rt, tz, rz] = s;
        let along = rr * v[0] * v[0]
            + tt * v[1] * v[1]
            + zz * v[2] * v[2]
            + 2.0 * (rt * v[0] * v[1] + tz * v[1] * v[2] + rz * v[0] * v[2]);
        assert!((along - principal(&s).first_mpa).abs() < 1e-9);
    }
}
