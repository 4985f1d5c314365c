//! Static failure criteria: factors against first failure at one stress state.
//!
//! Owns maximum principal stress, modified Mohr, brittle Coulomb–Mohr and the equivalent stress. A
//! factor is strength over demand; it is infinite where nothing demands it and NaN where the stress
//! is NaN. Units: MPa. Principal stresses are σ1 ≥ σ2 ≥ σ3; in three dimensions σ1 stands for the
//! handbook's σA and σ3 for its σB.
//! Source: Shigley, Mechanical Engineering Design, section 5-9 and eq. 5-31, 5-32 (section number
//! from memory).

use super::Stress;
use crate::seeded::{Fault, planted};
use serde::Serialize;

/// Tensile and compressive ultimate strength, both positive, MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BrittleStrength {
    pub tensile_mpa: f64,
    pub compressive_mpa: f64,
}

/// Which criterion gives the smaller factor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Criterion {
    MaxPrincipal,
    ModifiedMohr,
}

/// The governing factor of a brittle metal and the criterion it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Governing {
    pub factor: f64,
    pub criterion: Criterion,
}

/// Strength over demand, where `demand` is the demand over the strength.
fn factor_from_demand(demand: f64) -> f64 {
    // A demand of zero (or −0) needs no strength; NaN goes through.
    if demand <= 0.0 { f64::INFINITY } else { demand.recip() }
}

/// Factor on tensile strength by the largest principal stress: n = S_ut/σ1; infinite without tension.
#[must_use]
pub fn max_principal_factor(principal: &[f64; 3], tensile_mpa: f64) -> f64 {
    factor_from_demand(principal[0] / tensile_mpa)
}

/// Modified Mohr factor (Shigley eq. 5-32 with σA = σ1, σB = σ3).
///
/// n = S_ut/σA where σB ≥ 0 or |σB/σA| ≤ 1; 1/n = (S_uc − S_ut)·σA/(S_uc·S_ut) − σB/S_uc where
/// σA ≥ 0 ≥ σB and |σB/σA| > 1; n = −S_uc/σB where both are negative.
#[must_use]
pub fn modified_mohr_factor(principal: &[f64; 3], strength: BrittleStrength) -> f64 {
    let (a, b) = (principal[0], principal[2]);
    let (sut, suc) = (strength.tensile_mpa, strength.compressive_mpa);
    let demand = if planted(Fault::MohrByTensionOnly) {
        a / sut
    } else if a < 0.0 {
        -b / suc
    } else if -b > a {
        (suc - sut) * a / (suc * sut) - b / suc
    } else {
        // Also taken when b is NaN, which must not vanish from the result.
        a / sut + 0.0 * b
    };
    factor_from_demand(demand)
}

/// Brittle Coulomb–Mohr factor, for comparison (Shigley eq. 5-31): 1/n = σA/S_ut − σB/S_uc where
/// σA ≥ 0 ≥ σB, else as [`modified_mohr_factor`]. It is never the larger of the two.
#[must_use]
pub fn coulomb_mohr_factor(principal: &[f64; 3], strength: BrittleStrength) -> f64 {
    let (a, b) = (principal[0], principal[2]);
    // Only tension demands tensile strength and only compression compressive strength.
    let demand = if a < 0.0 {
        -b / strength.compressive_mpa
    } else if b > 0.0 {
        a / strength.tensile_mpa
    } else {
        a / strength.tensile_mpa - b / strength.compressive_mpa
    };
    factor_from_demand(demand)
}

/// Governing factor of gray iron: the smaller of maximum principal stress and modified Mohr.
#[must_use]
pub fn governing_brittle_factor(principal: &[f64; 3], strength: BrittleStrength) -> Governing {
    let tension = max_principal_factor(principal, strength.tensile_mpa);
    let mohr = modified_mohr_factor(principal, strength);
    // Written so that a NaN in the second governs; a NaN in σ1 makes both NaN.
    if tension <= mohr {
        Governing { factor: tension, criterion: Criterion::MaxPrincipal }
    } else {
        Governing { factor: mohr, criterion: Criterion::ModifiedMohr }
    }
}

/// Equivalent stress of von Mises, MPa: √(½[(σrr−σθθ)² + (σθθ−σzz)² + (σzz−σrr)²] + 3(τrθ² + τθz² + τrz²))
/// (Shigley eq. 5-14, number from memory).
#[must_use]
pub fn von_mises_mpa(stress: &Stress) -> f64 {
    let [rr, tt, zz, rt, tz, rz] = *stress;
    let normal = (rr - tt).powi(2) + (tt - zz).powi(2) + (zz - rr).powi(2);
    let shear = rt.powi(2) + tz.powi(2) + rz.powi(2);
    (0.5 * normal + 3.0 * shear).sqrt()
}

/// Factor of a stated strength (MPa) over the equivalent stress; infinite without stress.
#[must_use]
pub fn von_mises_factor(stress: &Stress, strength_mpa: f64) -> f64 {
    factor_from_demand(von_mises_mpa(stress) / strength_mpa)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::principal_values;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::reference::shaft;

    const PRINTED: &str = "the reference is printed to this many digits";

    /// Class 30 of Shigley table A-24.
    const CLASS_30: BrittleStrength = BrittleStrength { tensile_mpa: 214.0, compressive_mpa: 752.0 };

    #[test]
    fn published_torsion_bar() {
        // Shigley example 5-5 (from memory): class 30, 31/109 kpsi, d = 1 in, M = 14F, T = 15F in·lbf.
        let sigma = shaft::bending_mpa(14.0, 1.0);
        let tau = shaft::torsion_mpa(15.0, 1.0);
        let principal = principal_values(&[0.0, 0.0, sigma, 0.0, tau, 0.0]);
        let tolerance = Tolerance::printed(1);
        assert_close("σA", principal[0], 175.8, tolerance, PRINTED);
        assert_close("σB", principal[2], -33.2, tolerance, PRINTED);
        let strength = BrittleStrength { tensile_mpa: 31e3, compressive_mpa: 109e3 };
        // The factor per unit force is the force at failure, in lbf.
        for (what, force, whole, tenth) in [
            ("Coulomb–Mohr", coulomb_mohr_factor(&principal, strength), 167.0, 167.3),
            ("modified Mohr", modified_mohr_factor(&principal, strength), 176.0, 176.3),
        ] {
            assert_close(what, force, whole, Tolerance::printed(0), PRINTED);
            assert_close(what, force, tenth, tolerance, PRINTED);
        }
    }

    #[test]
    fn mohr_criteria_by_quadrant() {
        for (a, b, modified, coulomb) in [
            (20.0, -10.0, 10.700, 9.367),
            (20.0, -20.0, 10.700, 8.330),
            (20.0, -40.0, 8.330, 6.819),
            (20.0, -80.0, 5.772, 5.004),
            (5.0, -100.0, 6.680, 6.396),
            (-5.0, -100.0, 7.520, 7.520),
        ] {
            let principal = [a, f64::midpoint(a, b), b];
            let tolerance = Tolerance::printed(3);
            let factor = modified_mohr_factor(&principal, CLASS_30);
            assert_close("modified Mohr", factor, modified, tolerance, PRINTED);
            let factor = coulomb_mohr_factor(&principal, CLASS_30);
            assert_close("Coulomb–Mohr", factor, coulomb, tolerance, PRINTED);
        }
        let class_35 = BrittleStrength { tensile_mpa: 252.0, compressive_mpa: 855.0 };
        let principal = [20.0, 0.0, -80.0];
        let tolerance = Tolerance::printed(3);
        let factor = modified_mohr_factor(&principal, class_35);
        assert_close("modified Mohr", factor, 6.687, tolerance, PRINTED);
        let factor = coulomb_mohr_factor(&principal, class_35);
        assert_close("Coulomb–Mohr", factor, 5.783, tolerance, PRINTED);
    }

    #[test]
    fn the_smaller_factor_governs() {
        let governing = governing_brittle_factor(&[20.0, 0.0, -10.0], CLASS_30);
        assert_eq!(governing.criterion, Criterion::MaxPrincipal);
        assert_close("factor", governing.factor, 10.7, Tolerance::printed(3), PRINTED);
        let governing = governing_brittle_factor(&[20.0, 0.0, -80.0], CLASS_30);
        assert_eq!(governing.criterion, Criterion::ModifiedMohr);
        assert_close("factor", governing.factor, 5.772, Tolerance::printed(3), PRINTED);
        // All-round compression has no tension at all, and still a finite factor.
        let governing = governing_brittle_factor(&[-5.0, -50.0, -100.0], CLASS_30);
        assert_eq!(governing.criterion, Criterion::ModifiedMohr);
        assert_close("factor", governing.factor, 7.52, Tolerance::printed(3), PRINTED);
    }

    #[test]
    fn factors_have_no_jump_between_the_branches() {
        let reason = "the branches meet, up to the step between the two points";
        let tolerance = Tolerance::Relative(1e-8);
        let near = |a: f64, b: f64| modified_mohr_factor(&[a, 0.0, b], CLASS_30);
        assert_close("equal magnitudes", near(20.0, -20.0 - 1e-8), near(20.0, -20.0), tolerance, reason);
        let factor = |a: f64| modified_mohr_factor(&[a, -50.0, -100.0], CLASS_30);
        assert_close("no tension", factor(1e-9), factor(-1e-9), tolerance, reason);
    }

    #[test]
    fn no_stress_needs_no_strength_and_nan_is_not_safe() {
        let none = [0.0, 0.0, 0.0];
        for zero in [none, [-0.0, -0.0, -0.0]] {
            assert_eq!(modified_mohr_factor(&zero, CLASS_30), f64::INFINITY);
            assert_eq!(coulomb_mohr_factor(&zero, CLASS_30), f64::INFINITY);
            assert_eq!(max_principal_factor(&zero, 214.0), f64::INFINITY);
        }
        assert_eq!(von_mises_factor(&[7.0, 7.0, 7.0, 0.0, 0.0, 0.0], 214.0), f64::INFINITY);
        for spoiled in [[f64::NAN; 3], [f64::NAN, 0.0, -1.0], [1.0, 0.0, f64::NAN]] {
            assert!(governing_brittle_factor(&spoiled, CLASS_30).factor.is_nan());
            assert!(coulomb_mohr_factor(&spoiled, CLASS_30).is_nan());
        }
    }

    #[test]
    fn equivalent_stress() {
        let reason = "exact, rounding only";
        let tolerance = Tolerance::Relative(1e-12);
        for shear in 3..6 {
            let mut stress = [0.0; 6];
            stress[shear] = 10.0;
            let equivalent = von_mises_mpa(&stress);
            assert_close("pure shear", equivalent, 300f64.sqrt(), tolerance, reason);
        }
        let equivalent = von_mises_mpa(&[40.0, -10.0, 15.0, 0.0, 0.0, 0.0]);
        let exact = (0.5f64 * (2500.0 + 625.0 + 625.0)).sqrt();
        assert_close("normal stresses", equivalent, exact, tolerance, reason);
        let factor = von_mises_factor(&[0.0, 50.0, 0.0, 0.0, 0.0, 0.0], 276.0);
        assert_close("factor", factor, 5.52, tolerance, reason);
    }
}
