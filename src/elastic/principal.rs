//! Principal stresses of a symmetric stress state in closed form.
//!
//! Owns eigenvalues of a symmetric 3×3 matrix and the direction of the largest. No allocation, no
//! iteration. Units: MPa. Components in the order rr, θθ, zz, rθ, θz, rz.
//! Source: Scherzinger & Dohrmann, Computer Methods in Applied Mechanics and Engineering 197 (2008)
//! 4007–4015 (pages from memory): the root that lies farthest from the others comes from the cosine
//! formula, which is accurate there; the other two come from the plane square to its direction. The
//! plain cosine formula loses half of the digits where two roots are nearly equal, which at an
//! unloaded surface is the usual case.

use super::Stress;

/// Principal stresses, largest first, and the unit direction of the largest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Principal {
    /// σ1 ≥ σ2 ≥ σ3, MPa.
    pub values: [f64; 3],
    /// Unit vector (r, θ, z) along σ1; its sign is arbitrary. Where σ1 is a repeated value it is any
    /// one of the directions that belong to it.
    pub direction: [f64; 3],
}

type Vector = [f64; 3];

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn scaled(a: Vector, factor: f64) -> Vector {
    a.map(|component| component * factor)
}

fn unit(a: Vector) -> Vector {
    scaled(a, dot(a, a).sqrt().recip())
}

/// The deviator split into its most distinct direction and the plane square to it.
struct Split {
    mean: f64,
    /// Largest magnitude in the deviator, by which the following are divided.
    scale: f64,
    /// Principal value that lies farthest from the other two.
    distinct: f64,
    distinct_is_largest: bool,
    axis: Vector,
    /// Two unit vectors that span the plane of the other two values.
    plane: [Vector; 2],
    /// Half difference and shear in that plane.
    half: f64,
    shear: f64,
    middle: f64,
}

fn largest_magnitude(values: &[f64; 6]) -> f64 {
    // f64::max would swallow a NaN.
    values.iter().fold(0.0, |largest: f64, value| if value.abs() <= largest { largest } else { value.abs() })
}

/// `None` when all three principal values are equal; NaN in the stress goes through to the result.
fn split(stress: &Stress) -> Option<Split> {
    let rounded_mean = (stress[0] + stress[1] + stress[2]) / 3.0;
    let [rr, tt, zz] = [0, 1, 2].map(|i| stress[i] - rounded_mean);
    // Where the values are equal up to rounding, what is left of the mean is as large as the rest.
    let rest = (rr + tt + zz) / 3.0;
    let mut s = [rr - rest, tt - rest, zz - rest, stress[3], stress[4], stress[5]];
    let mean = rounded_mean + rest;
    let scale = largest_magnitude(&s);
    if scale == 0.0 {
        return None;
    }
    // Division rather than a reciprocal: the reciprocal of a subnormal scale is infinite.
    s = s.map(|component| component / scale);
    let [rr, tt, zz, rt, tz, rz] = s;
    let rows = [[rr, rt, rz], [rt, tt, tz], [rz, tz, zz]];
    let j2 = 0.5 * (rr * rr + tt * tt + zz * zz) + rt * rt + tz * tz + rz * rz;
    let j3 = dot(rows[0], cross(rows[1], rows[2]));
    let radius = (j2 / 3.0).sqrt();
    let cosine = (j3 / (2.0 * radius.powi(3))).clamp(-1.0, 1.0);
    let distinct_is_largest = cosine >= 0.0;
    let root = 2.0 * radius * (cosine.abs().acos() / 3.0).cos();
    let root = if distinct_is_largest { root } else { -root };

    // The rows of S − λI span the plane square to the eigenvector; the longest of their cross
    // products is far from cancelling, because λ is far from the other roots.
    let shifted = [[rr - root, rt, rz], [rt, tt - root, tz], [rz, tz, zz - root]];
    let mut axis = cross(shifted[0], shifted[1]);
    for candidate in [cross(shifted[1], shifted[2]), cross(shifted[2], shifted[0])] {
        if dot(candidate, candidate) > dot(axis, axis) {
            axis = candidate;
        }
    }
    let axis = unit(axis);
    let first = if axis[0].abs() > axis[2].abs() {
        unit([-axis[1], axis[0], 0.0])
    } else {
        unit([0.0, -axis[2], axis[1]])
    };
    let second = cross(axis, first);

    let apply = |v: Vector| rows.map(|row| dot(row, v));
    let (on_first, on_second) = (apply(first), apply(second));
    let (a, b, c) = (dot(first, on_first), dot(second, on_first), dot(second, on_second));
    Some(Split {
        mean,
        scale,
        distinct: dot(axis, apply(axis)),
        distinct_is_largest,
        axis,
        plane: [first, second],
        half: 0.5 * (a - c),
        shear: b,
        middle: 0.5 * (a + c),
    })
}

impl Split {
    fn values(&self) -> [f64; 3] {
        let radius = (self.half * self.half + self.shear * self.shear).sqrt();
        let (upper, lower) = (self.middle + radius, self.middle - radius);
        let sorted = if self.distinct_is_largest {
            [self.distinct, upper, lower]
        } else {
            [upper, lower, self.distinct]
        };
        sorted.map(|value| self.mean + self.scale * value)
    }

    fn direction(&self) -> Vector {
        if self.distinct_is_largest {
            return self.axis;
        }
        let (sin, cos) = (0.5 * self.shear.atan2(self.half)).sin_cos();
        let (first, second) = (scaled(self.plane[0], cos), scaled(self.plane[1], sin));
        [first[0] + second[0], first[1] + second[1], first[2] + second[2]]
    }
}

/// Principal stresses σ1 ≥ σ2 ≥ σ3 in MPa; a NaN component makes all three NaN.
///
/// ```
/// // Torsion of 30 MPa: one equal tension and compression.
/// let [s1, s2, s3] = rimproof::elastic::principal_values(&[0.0, 0.0, 0.0, 0.0, 30.0, 0.0]);
/// assert!((s1 - 30.0).abs() < 1e-12 && s2.abs() < 1e-12 && (s3 + 30.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn principal_values(stress: &Stress) -> [f64; 3] {
    // All three are equal here, and the mean of equal numbers need not be rounded.
    split(stress).map_or([stress[0]; 3], |parts| parts.values())
}

/// Principal stresses in MPa with the direction of the largest.
#[must_use]
pub fn principal(stress: &Stress) -> Principal {
    match split(stress) {
        Some(parts) => Principal { values: parts.values(), direction: parts.direction() },
        None => Principal { values: [stress[0]; 3], direction: [1.0, 0.0, 0.0] },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use nalgebra::{Matrix3, Rotation3, SymmetricEigen};
    use proptest::prelude::*;

    fn matrix(s: &Stress) -> Matrix3<f64> {
        Matrix3::new(s[0], s[3], s[5], s[3], s[1], s[4], s[5], s[4], s[2])
    }

    fn components(m: &Matrix3<f64>) -> Stress {
        [m[(0, 0)], m[(1, 1)], m[(2, 2)], m[(0, 1)], m[(1, 2)], m[(0, 2)]]
    }

    fn rotated(values: [f64; 3], angles: [f64; 3]) -> Stress {
        let rotation = Rotation3::from_euler_angles(angles[0], angles[1], angles[2]);
        let turned = rotation.matrix() * Matrix3::from_diagonal(&values.into());
        components(&(turned * rotation.matrix().transpose()))
    }

    fn check(stress: &Stress) {
        let size = largest_magnitude(stress).max(f64::MIN_POSITIVE);
        let reason = "both methods are backward stable: some dozen roundings of the largest component";
        let tolerance = Tolerance::Absolute(2e-14 * size);
        let mut expected: Vec<f64> =
            SymmetricEigen::new(matrix(stress)).eigenvalues.iter().copied().collect();
        expected.sort_by(|a, b| b.total_cmp(a));
        let found = principal(stress);
        assert_eq!(found.values, principal_values(stress));
        assert!(found.values[0] >= found.values[1] && found.values[1] >= found.values[2]);
        for (computed, reference) in found.values.iter().zip(&expected) {
            assert_close("principal stress", *computed, *reference, tolerance, reason);
        }
        let direction = nalgebra::Vector3::from(found.direction);
        let unit = Tolerance::Absolute(1e-14);
        assert_close("length", direction.norm(), 1.0, unit, "a unit vector, rounding only");
        let residual = (matrix(stress) * direction - direction * found.values[0]).norm();
        assert_close("residual", residual, 0.0, tolerance, reason);
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, cases: 2000, ..ProptestConfig::default() })]

        #[test]
        fn agrees_with_an_eigenvalue_solver(stress in prop::array::uniform6(-200.0..200.0f64)) {
            check(&stress);
        }

        #[test]
        fn nearly_equal_values(
            base in -100.0..100.0f64,
            exponents in prop::array::uniform2(-18.0..2.0f64),
            signs in prop::array::uniform2(prop::bool::ANY),
            angles in prop::array::uniform3(-3.1..3.1f64),
        ) {
            let gap = |i: usize| 10f64.powf(exponents[i]) * if signs[i] { 1.0 } else { -1.0 };
            check(&rotated([base, base + gap(0), base + gap(1)], angles));
        }

        #[test]
        fn sparse_states(
            stress in prop::array::uniform6(-50.0..50.0f64),
            mask in prop::array::uniform6(prop::bool::ANY),
        ) {
            let mut sparse = stress;
            for (component, keep) in sparse.iter_mut().zip(mask) {
                if !keep { *component = 0.0; }
            }
            check(&sparse);
        }
    }

    #[test]
    fn repeated_values() {
        let angles = [0.3, -1.1, 2.0];
        for values in
            [[5.0, 5.0, 5.0], [5.0, 5.0, -3.0], [-3.0, 5.0, -3.0], [0.0, 0.0, 7.0], [0.0, 0.0, -7.0]]
        {
            check(&rotated(values, angles));
            check(&rotated(values, [0.0; 3]));
        }
        check(&[0.0; 6]);
        assert_eq!(principal_values(&[0.1, 0.1, 0.1, 0.0, 0.0, 0.0]), [0.1; 3]);
    }

    #[test]
    fn equal_up_to_the_last_bit() {
        let base = -12.950_762_315_888_786f64;
        for steps in [[0, 1, 1], [1, 0, 2], [2, 1, 0], [1, 1, 0]] {
            let [rr, tt, zz] = steps.map(|n| f64::from_bits(base.to_bits() + n));
            check(&[rr, tt, zz, 0.0, 0.0, 0.0]);
            check(&[rr, tt, zz, 0.0, 1e-16, 0.0]);
        }
    }

    #[test]
    fn extreme_sizes() {
        let stress = [3.0, -1.0, 2.0, 0.5, -4.0, 1.5];
        let plain = principal_values(&stress);
        for size in [1e-300, 1e-12, 1e12, 1e300] {
            let large = principal_values(&stress.map(|c| c * size));
            for (computed, reference) in large.iter().zip(plain) {
                let reason = "the values scale with the stress, rounding only";
                assert_close("scaled", *computed / size, reference, Tolerance::Absolute(1e-13), reason);
            }
        }
    }

    #[test]
    fn what_is_not_a_number_stays_so() {
        for i in 0..6 {
            let mut stress = [3.0, -1.0, 2.0, 0.5, -4.0, 1.5];
            stress[i] = f64::NAN;
            assert!(principal_values(&stress).iter().all(|value| value.is_nan()));
        }
    }

    #[test]
    fn each_component_has_its_place() {
        // One shear at a time names the plane in which the direction must lie.
        for (component, absent) in [(3, 2), (4, 0), (5, 1)] {
            let mut stress = [0.0; 6];
            stress[component] = 8.0;
            let found = principal(&stress);
            let reason = "pure shear is exact but for rounding";
            let tolerance = Tolerance::Absolute(1e-14);
            assert_close("σ1", found.values[0], 8.0, Tolerance::Absolute(1e-13), reason);
            assert_close("direction", found.direction[absent], 0.0, tolerance, reason);
        }
    }
}
