//! Energy, work and what is left of the load, lane by lane.

use super::Sums;
use pulp::{Simd, WithSimd};

pub(super) struct Add<'a> {
    pub u: &'a [f64],
    pub inner: &'a [f64],
    pub force: &'a [f64],
    pub held: &'a [bool],
}

impl WithSimd for Add<'_> {
    type Output = [Sums; 2];

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let (u, _) = S::as_simd_f64s(self.u);
        let (inner, _) = S::as_simd_f64s(self.inner);
        let (force, _) = S::as_simd_f64s(self.force);
        let mut added = [Sums::default(), Sums::default()];
        let zero = simd.splat_f64s(0.0);
        for (family, added) in added.iter_mut().enumerate() {
            let (mut energy, mut work, mut rest) = (zero, zero, zero);
            for (i, held) in self.held.iter().enumerate() {
                let (u, inner, force) = (u[2 * i + family], inner[2 * i + family], force[2 * i + family]);
                energy = simd.mul_add_f64s(u, inner, energy);
                work = simd.mul_add_f64s(u, force, work);
                if !held {
                    let gap = simd.sub_f64s(inner, force);
                    rest = simd.mul_add_f64s(gap, gap, rest);
                }
            }
            for (sum, value) in
                [(&mut added.energy, energy), (&mut added.work, work), (&mut added.rest, rest)]
            {
                *sum = pulp::bytemuck::cast_slice(std::slice::from_ref(&value)).to_vec();
            }
        }
        added
    }
}
