//! Fatigue of a brittle metal under a repeated stress: the Smith–Dolan locus.
//!
//! Lacks finite life: the factor is against unlimited endurance. Units: MPa.
//! Source: Shigley, Mechanical Engineering Design, section 6-13 and example 6-13 (from memory).

use crate::seeded::{Fault, planted};
use serde::Serialize;

/// Ultimate tensile strength and endurance limit (after its knock-downs), MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FatigueStrength {
    pub tensile_mpa: f64,
    pub endurance_mpa: f64,
}

/// One stress cycle, MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Cycle {
    /// Half of the range, not negative.
    pub amplitude_mpa: f64,
    pub mean_mpa: f64,
}

impl Cycle {
    /// The cycle between two stresses in MPa, in either order.
    #[must_use]
    pub fn between(one_mpa: f64, other_mpa: f64) -> Self {
        Self { amplitude_mpa: (one_mpa - other_mpa).abs() / 2.0, mean_mpa: f64::midpoint(one_mpa, other_mpa) }
    }

    /// Smith–Dolan factor n_f: the locus S_a/S_e = (1 − S_m/S_ut)/(1 + S_m/S_ut), met along the line of
    /// constant amplitude over mean.
    ///
    /// With x = σa·S_ut + σm·S_e: n_f = 2·S_ut·S_e/(x·(1 + √(1 + 4σa·σm·S_ut·S_e/x²))), which is the
    /// handbook's S_a/σa written so that it holds for σm = 0 and σa = 0 too. A compressive mean
    /// stress is given no credit, on the safe side of the handbook. Infinite without stress, NaN for
    /// NaN.
    #[must_use]
    pub fn smith_dolan_factor(self, strength: FatigueStrength) -> f64 {
        let (sut, se) = (strength.tensile_mpa, strength.endurance_mpa);
        let amplitude = self.amplitude_mpa;
        let mean = if self.mean_mpa < 0.0 { 0.0 } else { self.mean_mpa };
        let (amplitude, mean) =
            if planted(Fault::MeanForAmplitude) { (mean, amplitude) } else { (amplitude, mean) };
        let sum = amplitude * sut + mean * se;
        if sum == 0.0 {
            return f64::INFINITY;
        }
        // Dividing twice keeps the squares of large stresses out of the formula.
        let product = 4.0 * (amplitude * sut / sum) * (mean * se / sum);
        2.0 * sut * se / (sum * (1.0 + (1.0 + product).sqrt()))
    }
}

/// Amplitude on the Smith–Dolan locus at the ratio r = S_a/S_m, MPa:
/// S_a = ½(r·S_ut + S_e)·(−1 + √(1 + 4r·S_ut·S_e/(r·S_ut + S_e)²)).
#[must_use]
pub fn smith_dolan_amplitude_mpa(ratio: f64, strength: FatigueStrength) -> f64 {
    let cycle = Cycle { amplitude_mpa: ratio, mean_mpa: 1.0 };
    ratio * cycle.smith_dolan_factor(strength)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    const CLASS_30: FatigueStrength = FatigueStrength { tensile_mpa: 214.0, endurance_mpa: 97.0 };

    #[test]
    fn published_example() {
        // Shigley example 6-13(b), kpsi (from memory): load line r = 1, stress 2.29 on both.
        let strength = FatigueStrength { tensile_mpa: 31.0, endurance_mpa: 12.6 };
        let amplitude = smith_dolan_amplitude_mpa(1.0, strength);
        assert_close("S_a", amplitude, 7.625, Tolerance::printed(3), PRINTED);
        // The printed factor 3.33 belongs to a stress that is itself printed to three digits.
        let cycle = Cycle::between(0.0, 2.0 * 7.625 / 3.325);
        let reason = "the example's stress is rebuilt from factor and amplitude of four digits";
        let factor = cycle.smith_dolan_factor(strength);
        assert_close("n_f", factor, 3.325, Tolerance::Relative(2e-4), reason);
    }

    #[test]
    fn amplitudes_in_mpa() {
        for (ratio, reference) in [(0.5, 42.16), (1.0, 56.49), (2.0, 69.80)] {
            let amplitude = smith_dolan_amplitude_mpa(ratio, CLASS_30);
            assert_close("S_a", amplitude, reference, Tolerance::printed(2), PRINTED);
        }
    }

    #[test]
    fn the_point_found_lies_on_the_locus() {
        for (amplitude_mpa, mean_mpa) in [(3.0, 8.0), (12.0, 1.0), (0.01, 40.0)] {
            let cycle = Cycle { amplitude_mpa, mean_mpa };
            let factor = cycle.smith_dolan_factor(CLASS_30);
            let mean = factor * mean_mpa / CLASS_30.tensile_mpa;
            let locus = CLASS_30.endurance_mpa * (1.0 - mean) / (1.0 + mean);
            let reason = "definition of the locus, rounding only";
            let amplitude = factor * amplitude_mpa;
            assert_close("S_a", amplitude, locus, Tolerance::Absolute(1e-11), reason);
        }
    }

    #[test]
    fn the_ends_of_the_locus() {
        let factor = |amplitude_mpa, mean_mpa| Cycle { amplitude_mpa, mean_mpa }.smith_dolan_factor(CLASS_30);
        let reason = "exact ends of the locus, rounding only";
        let tolerance = Tolerance::Relative(1e-14);
        assert_close("reversed", factor(10.0, 0.0), 9.7, tolerance, reason);
        assert_close("steady", factor(0.0, 10.0), 21.4, tolerance, reason);
        assert_close("compressive mean", factor(10.0, -30.0), 9.7, tolerance, reason);
        assert_eq!(factor(0.0, 0.0), f64::INFINITY);
        assert_eq!(factor(0.0, -5.0), f64::INFINITY);
        assert!(factor(f64::NAN, 1.0).is_nan() && factor(1.0, f64::NAN).is_nan());
    }
}
