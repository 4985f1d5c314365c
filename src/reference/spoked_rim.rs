//! Rim between arms: the centrifugal handbook formula, and a rim on spokes under an inward line load.
//!
//! Lacks loads over part of the rim (a half wrap bends the rim about 3.4 times as much as the same
//! load all round) and the bending of the spokes. Units: mm, N, MPa; speeds in m/s, density in kg/m³.
//! Sources: for the handbook formula a mechanical engineering textbook's chapter on flywheels; for
//! the spokes Timoshenko, Strength of Materials, part II (from memory); moments by Roark table 9.2
//! case 7.

use crate::reference::annulus::thin_ring_spin_mpa;
use crate::reference::ring::equal_loads;
use std::f64::consts::PI;

/// Stresses of a spinning rim between n arms, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpinningRim {
    /// Hoop stress of the free ring, ρv².
    pub hoop_mpa: f64,
    /// Bending of the rim as a beam fixed at the arms, 2π²ρv²R/(n²h).
    pub bending_mpa: f64,
    /// The handbook's mixture, three quarters of the first and one quarter of the second.
    pub combined_mpa: f64,
}

/// Spinning rim of radius R and depth h between n arms (handbook formula; bending from w·l²/12).
#[must_use]
pub fn spinning_rim(
    density_kg_m3: f64,
    speed_m_s: f64,
    arms: u32,
    radius_mm: f64,
    depth_mm: f64,
) -> SpinningRim {
    let hoop = thin_ring_spin_mpa(density_kg_m3, speed_m_s);
    let bending = 2.0 * PI.powi(2) * hoop * radius_mm / (f64::from(arms).powi(2) * depth_mm);
    SpinningRim { hoop_mpa: hoop, bending_mpa: bending, combined_mpa: 0.75 * hoop + 0.25 * bending }
}

/// Flexibility terms of a rim segment between spokes, with θ = π/n:
/// f1 = (sin 2θ/4 + θ/2)/(2 sin²θ) for stretching, f2 = f1 − 1/(2θ) for bending (Timoshenko).
#[must_use]
pub fn spoke_terms(spokes: u32) -> (f64, f64) {
    let theta = PI / f64::from(spokes);
    let stretch = ((2.0 * theta).sin() / 4.0 + theta / 2.0) / (2.0 * theta.sin().powi(2));
    (stretch, stretch - 0.5 / theta)
}

/// A rim of rectangular section on radial spokes, mm and mm².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpokedRim {
    pub spokes: u32,
    /// Radius of the rim's centre line, and the spokes' length.
    pub radius_mm: f64,
    pub width_mm: f64,
    pub depth_mm: f64,
    /// Section of one spoke.
    pub spoke_area_mm2: f64,
}

/// Forces in a rim on spokes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpokedRimForces {
    /// Compression of each spoke, N.
    pub spoke_n: f64,
    /// Magnitude of the moment at a spoke, N·mm.
    pub moment_at_spoke_n_mm: f64,
    /// Magnitude of the moment midway, N·mm.
    pub moment_midway_n_mm: f64,
    /// Normal force of the rim at a spoke, N, tension positive.
    pub normal_at_spoke_n: f64,
    /// Straight-beam bending stress at a spoke, MPa.
    pub bending_mpa: f64,
}

impl SpokedRim {
    /// Under an inward line load q (N/mm) all round: X = qR/(A·R²·f2/I + f1 + A/A₁), the moments of
    /// n equal loads X, and N = −qR + (X/2) cot θ at a spoke (Timoshenko; Roark table 9.2 case 7).
    #[must_use]
    pub fn inward_load(self, load_n_mm: f64) -> SpokedRimForces {
        let area = self.width_mm * self.depth_mm;
        let inertia = self.width_mm * self.depth_mm.powi(3) / 12.0;
        let (stretch, bend) = spoke_terms(self.spokes);
        let hoop_n = load_n_mm * self.radius_mm;
        let flexibility =
            area * self.radius_mm.powi(2) * bend / inertia + stretch + area / self.spoke_area_mm2;
        let spoke = hoop_n / flexibility;
        let ring = equal_loads(self.spokes);
        let moment = |factor: f64| factor.abs() * spoke * self.radius_mm;
        let at_spoke = moment(ring.moment_at_load);
        SpokedRimForces {
            spoke_n: spoke,
            moment_at_spoke_n_mm: at_spoke,
            moment_midway_n_mm: moment(ring.moment_midway),
            normal_at_spoke_n: spoke * ring.normal_at_load - hoop_n,
            bending_mpa: 6.0 * at_spoke / (self.width_mm * self.depth_mm.powi(2)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    #[test]
    fn handbook_rim() {
        for (arms, bending, combined) in [(4, 31.98, 10.15), (6, 14.21, 5.71), (8, 7.99, 4.16)] {
            let rim = spinning_rim(7200.0, 20.0, arms, 900.0, 100.0);
            let tolerance = Tolerance::printed(2);
            assert_close("s1", rim.hoop_mpa, 2.88, tolerance, PRINTED);
            assert_close("s2", rim.bending_mpa, bending, tolerance, PRINTED);
            assert_close("s", rim.combined_mpa, combined, tolerance, PRINTED);
        }
    }

    #[test]
    fn flexibility_terms() {
        for (spokes, stretch, bend) in
            [(4, 0.64270, 0.006079), (5, 0.79875, 0.002976), (6, 0.95661, 0.001682), (8, 1.27393, 0.000693)]
        {
            let (f1, f2) = spoke_terms(spokes);
            assert_close("f1", f1, stretch, Tolerance::printed(5), PRINTED);
            assert_close("f2", f2, bend, Tolerance::printed(6), PRINTED);
        }
    }

    #[test]
    fn rim_on_spokes() {
        for (spokes, force, at_spoke, midway, bending) in [
            (4, 3033.8, 109.8, 56.7, Some(6.10)),
            (5, 4427.3, 126.2, 64.4, None),
            (6, 5373.8, 126.6, 64.2, Some(7.03)),
            (8, 6130.1, 107.4, 54.1, Some(5.97)),
        ] {
            let rim = SpokedRim {
                spokes,
                radius_mm: 265.0,
                width_mm: 120.0,
                depth_mm: 30.0,
                spoke_area_mm2: 1500.0,
            };
            let forces = rim.inward_load(100.0);
            let tolerance = Tolerance::printed(1);
            assert_close("X", forces.spoke_n, force, tolerance, PRINTED);
            let moment = forces.moment_at_spoke_n_mm / 1000.0;
            assert_close("M at a spoke", moment, at_spoke, tolerance, PRINTED);
            let moment = forces.moment_midway_n_mm / 1000.0;
            assert_close("M midway", moment, midway, tolerance, PRINTED);
            if let Some(bending) = bending {
                assert_close("σb", forces.bending_mpa, bending, Tolerance::printed(2), PRINTED);
            }
            let cot = (PI / f64::from(spokes)).tan().recip();
            let normal = forces.spoke_n * cot / 2.0 - 26_500.0;
            let reason = "the same sum, rounding only";
            let tolerance = Tolerance::Relative(1e-12);
            assert_close("N", forces.normal_at_spoke_n, normal, tolerance, reason);
        }
    }
}
