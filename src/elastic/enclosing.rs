//! Values that surely enclose the principal stresses at many angles, and lie close to them.
//!
//! The deviator's characteristic polynomial x³ − J2 x − J3 is convex beyond its largest root, which is at most
//! 2 √(J2/3): from there Newton's steps come down on it and never pass it. The smallest root is that of the mirrored
//! polynomial. Sums, products and quotients alone, so that the machine's vectors do several angles at once.

use pulp::{Arch, Simd, WithSimd};

/// Newton's steps: four leave a few per mille, but at double roots.
const STEPS: usize = 4;

/// Bounds at every angle of one node (MPa).
pub(super) struct Enclosing {
    pub highest: Vec<f64>,
    mean: Vec<f64>,
    lowest: Vec<f64>,
}

impl Enclosing {
    pub fn new(angles: usize) -> Self {
        Self { highest: vec![0.0; angles], mean: vec![0.0; angles], lowest: vec![0.0; angles] }
    }

    /// Computes the bounds from the courses of the six components.
    pub fn fill(&mut self, course: [&[f64]; 6]) {
        Arch::new().dispatch(Fill { course, bounds: self });
    }

    /// Highest, mean and lowest at one angle.
    pub fn at(&self, row: usize) -> [f64; 3] {
        [self.highest[row], self.mean[row], self.lowest[row]]
    }
}

struct Fill<'a> {
    course: [&'a [f64]; 6],
    bounds: &'a mut Enclosing,
}

impl WithSimd for Fill<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let Enclosing { highest, mean, lowest } = self.bounds;
        let count = highest.len();
        let course = self.course.map(|component| &component[..count]);
        let (mean, lowest) = (&mut mean[..count], &mut lowest[..count]);
        for row in 0..count {
            let [high, middle, low] = enclose(course.map(|component| component[row]));
            highest[row] = high;
            mean[row] = middle;
            lowest[row] = low;
        }
    }
}

#[inline(always)]
fn enclose([rr, tt, zz, rt, tz, rz]: [f64; 6]) -> [f64; 3] {
    let mean = (rr + tt + zz) * (1.0 / 3.0);
    let (a, b, c) = (rr - mean, tt - mean, zz - mean);
    let j2 = 0.5 * (a * a + b * b + c * c) + rt * rt + tz * tz + rz * rz;
    let j3 = a * (b * c - tz * tz) - rt * (rt * c - tz * rz) + rz * (rt * tz - b * rz);
    let reach = 2.0 * (j2 * (1.0 / 3.0)).sqrt();
    let (mut high, mut low) = (reach, reach);
    for _ in 0..STEPS {
        // At a double root the slope vanishes with the value; the least slope keeps the quotient a number.
        let above = (3.0 * high * high - j2).max(f64::MIN_POSITIVE);
        let below = (3.0 * low * low - j2).max(f64::MIN_POSITIVE);
        high -= ((high * high - j2) * high - j3).max(0.0) / above;
        low -= ((low * low - j2) * low + j3).max(0.0) / below;
    }
    // Room for rounding, which near a double root is of half the digits.
    let room = 1e-7 * reach + 1e-12 * mean.abs();
    [mean + high + room, mean, mean - low - room]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::principal_values;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, cases: 4000, ..ProptestConfig::default() })]

        #[test]
        fn no_principal_value_lies_outside(
            stress in prop::array::uniform6(-200.0..200.0f64),
            mask in prop::array::uniform6(prop::bool::ANY),
        ) {
            let mut sparse = stress;
            sparse.iter_mut().zip(mask).for_each(|(c, keep)| *c *= f64::from(u8::from(keep)));
            for stress in [stress, sparse] {
                let [high, _, low] = enclose(stress);
                let [s1, _, s3] = principal_values(&stress);
                prop_assert!(high >= s1 && low <= s3, "{stress:?}: {high} {s1}, {low} {s3}");
                // Close, too: at worst, at a double root, the steps halve the distance.
                let reach = s1 - s3;
                prop_assert!(high - s1 <= 0.1 * reach + 1e-9 && s3 - low <= 0.1 * reach + 1e-9);
            }
        }
    }

    #[test]
    fn what_is_not_a_number_shows() {
        for i in 0..6 {
            let mut stress = [3.0, -1.0, 2.0, 0.5, -4.0, 1.5];
            stress[i] = f64::NAN;
            assert!(enclose(stress)[0].is_nan());
        }
    }
}
