//! Fatigue of a brittle metal under a repeated stress: the Smith–Dolan locus.
//!
//! Lacks finite life: the factor is against the endurance limit, which for gray iron is known to about 10⁶ to 10⁷
//! cycles. Units: MPa.
//! Source: Shigley, Mechanical Engineering Design, section 6-13, equations 6-50 to 6-53 and example 6-13 (from
//! memory).

use crate::seeded::{Fault, planted};
use serde::Serialize;

/// Ultimate tensile strength and endurance limit (after its knock-downs), MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FatigueStrength {
    pub tensile_mpa: f64,
    pub endurance_mpa: f64,
}

/// The handbook's factor on an iron's endurance limit under a stress that is alike through the section; surface and
/// size of a machined bar are in the table's value already (example 6-13(b): 0.9 × 14 = 12.6 kpsi).
const AXIAL: f64 = 0.9;

impl FatigueStrength {
    /// Strength under the stress normal to a plane, from the endurance limit of a machined bar in bending.
    #[must_use]
    pub fn of_bar(tensile_mpa: f64, bar_endurance_mpa: f64) -> Self {
        Self { tensile_mpa, endurance_mpa: AXIAL * bar_endurance_mpa }
    }
}

/// What a compressive mean stress is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CompressiveMean {
    /// The handbook's line for cast iron: S_a = S_e + (S_e/S_ut − 1)·S_m for −S_ut ≤ S_m ≤ 0.
    Handbook,
    /// Nothing: the amplitude alone counts.
    Nothing,
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
        let half = if planted(Fault::RangeForAmplitude) { 1.0 } else { 0.5 };
        Self {
            amplitude_mpa: half * (one_mpa - other_mpa).abs(),
            mean_mpa: f64::midpoint(one_mpa, other_mpa),
        }
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

impl Cycle {
    /// Share of the endurance that a stress between `highest_mpa` and `lowest_mpa` uses: the inverse of the factor.
    ///
    /// With S_e ≤ S_ut/2, which holds for every class of gray iron, it never falls when the highest stress rises
    /// or when the lowest falls. For a mean σm > 0 that is so because the locus falls by less than one:
    /// dS_a/dS_m ≥ −2·S_e/S_ut ≥ −1, and a lower lowest stress moves the cycle along (1, −1). For σm ≤ 0 the share
    /// is σ_max·(1/S_e − 1/(2·S_ut)) − σ_min/(2·S_ut) by the handbook's line, and σa/S_e without it.
    ///
    /// A plane that is never in tension lies beyond the end of the handbook's line, where S_m = −S_ut: the line is
    /// followed down to zero, for such a plane does not open, and compression has its own criterion.
    #[must_use]
    pub fn use_of(
        highest_mpa: f64,
        lowest_mpa: f64,
        strength: FatigueStrength,
        rule: CompressiveMean,
    ) -> f64 {
        let cycle = Self::between(highest_mpa, lowest_mpa);
        let (sut, se) = (strength.tensile_mpa, strength.endurance_mpa);
        if cycle.mean_mpa <= 0.0 && rule == CompressiveMean::Handbook {
            let share = cycle.amplitude_mpa / se + cycle.mean_mpa * (1.0 / se - 1.0 / sut);
            return if share < 0.0 { 0.0 } else { share };
        }
        cycle.smith_dolan_factor(strength).recip()
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
    fn the_line_of_compressive_means_joins_the_locus_and_ends_where_no_tension_is_left() {
        let share = |high, low| Cycle::use_of(high, low, CLASS_30, CompressiveMean::Handbook);
        let reason = "exact points of the line, rounding only";
        let tolerance = Tolerance::Relative(1e-13);
        assert_close("mean 0", share(10.0, -10.0), 10.0 / 97.0, tolerance, reason);
        // S_m = −S_ut/2 on the line: S_a = S_e + (1 − S_e/S_ut)·S_ut/2.
        let amplitude = 97.0 + (1.0 - 97.0 / 214.0) * 107.0;
        assert_close("on the line", share(amplitude - 107.0, -amplitude - 107.0), 1.0, tolerance, reason);
        assert_close("pulsing compression", share(0.0, -40.0), 20.0 / 214.0, tolerance, reason);
        assert_eq!(share(-30.0, -40.0), 0.0);
        let without = Cycle::use_of(0.0, -40.0, CLASS_30, CompressiveMean::Nothing);
        assert_close("no credit", without, 20.0 / 97.0, tolerance, reason);
        assert!(share(f64::NAN, 1.0).is_nan() && share(1.0, f64::NAN).is_nan());
    }

    #[test]
    fn a_wider_range_never_uses_less() {
        for (sut, se) in [(214.0, 97.0), (138.0, 69.0)] {
            let strength = FatigueStrength { tensile_mpa: sut, endurance_mpa: se };
            for rule in [CompressiveMean::Handbook, CompressiveMean::Nothing] {
                for i in -40..=40 {
                    for j in -40..=i {
                        let (high, low) = (2.5 * f64::from(i), 2.5 * f64::from(j));
                        let here = Cycle::use_of(high, low, strength, rule);
                        assert!(Cycle::use_of(high + 0.5, low, strength, rule) >= here - 1e-12);
                        assert!(Cycle::use_of(high, low - 0.5, strength, rule) >= here - 1e-12);
                    }
                }
            }
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
