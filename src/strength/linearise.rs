//! Section stress: membrane and bending parts of the stress along a path through a wall.
//!
//! Owns the integrals along one straight path. Components are linearised first and principal values
//! taken afterwards, never the other way round: principal values do not add. Units: mm, MPa.
//! Source: the usual definitions of membrane and bending stress, as in ASME Boiler and Pressure
//! Vessel Code, Section VIII Division 2, Annex 5-A (number from memory).

use super::Stress;
use serde::Serialize;

/// Parts of the stress along a path, six components each, MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Linearised {
    /// Mean along the path.
    pub membrane: Stress,
    /// Bending part at the start of the path; it is the opposite at the end.
    pub bending: Stress,
    /// Membrane plus bending: the section stress at the start.
    pub start: Stress,
    /// Membrane minus bending: the section stress at the end.
    pub end: Stress,
}

/// Linearises stresses sampled at the abscissae `s_mm` along a path of length t, exactly for stresses
/// that run straight between the samples: membrane (1/t)∫σ ds, bending (6/t²)∫σ·(t/2 − s) ds.
///
/// # Panics
/// When there are fewer than two samples, when the two slices differ in length, or when the
/// abscissae do not rise: the path then has no length to divide by.
#[must_use]
pub fn linearise(s_mm: &[f64], stress: &[Stress]) -> Linearised {
    assert_eq!(s_mm.len(), stress.len(), "a path needs one stress per abscissa");
    assert!(s_mm.len() >= 2, "a path needs two samples at least");
    let origin = s_mm[0];
    let length = s_mm[s_mm.len() - 1] - origin;
    let middle = origin + length / 2.0;
    let mut force = [0.0; 6];
    let mut moment = [0.0; 6];
    for (s, sigma) in s_mm.windows(2).zip(stress.windows(2)) {
        let step = s[1] - s[0];
        assert!(step > 0.0, "the abscissae of a path must rise");
        let (left, right) = (middle - s[0], middle - s[1]);
        for i in 0..6 {
            let (a, b) = (sigma[0][i], sigma[1][i]);
            force[i] += step * (a + b) / 2.0;
            // Exact integral of the product of two straight lines.
            moment[i] += step * (a * (2.0 * left + right) + b * (left + 2.0 * right)) / 6.0;
        }
    }
    let membrane = force.map(|f| f / length);
    let bending = moment.map(|m| 6.0 * m / length.powi(2));
    Linearised {
        membrane,
        bending,
        start: std::array::from_fn(|i| membrane[i] + bending[i]),
        end: std::array::from_fn(|i| membrane[i] - bending[i]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const ROUNDING: &str = "exact for straight runs between samples, rounding only";

    fn assert_same(what: &str, computed: &Stress, reference: &Stress) {
        for (c, r) in computed.iter().zip(reference) {
            assert_close(what, *c, *r, Tolerance::Absolute(1e-12), ROUNDING);
        }
    }

    #[test]
    fn a_straight_run_is_its_own_section_stress() {
        let start = [10.0, -4.0, 7.0, 1.0, -2.0, 3.0];
        let end = [-2.0, 6.0, 8.0, -1.0, 5.0, 0.5];
        let s = [2.0, 2.5, 4.0, 7.0, 9.5];
        let at = |x: f64| -> Stress {
            let f = (x - 2.0) / 7.5;
            std::array::from_fn(|i| start[i] + f * (end[i] - start[i]))
        };
        let found = linearise(&s, &s.map(at));
        assert_same("start", &found.start, &start);
        assert_same("end", &found.end, &end);
        let mean: Stress = std::array::from_fn(|i| f64::midpoint(start[i], end[i]));
        assert_same("membrane", &found.membrane, &mean);
        let half: Stress = std::array::from_fn(|i| (start[i] - end[i]) / 2.0);
        assert_same("bending", &found.bending, &half);
    }

    #[test]
    fn a_kinked_run_is_exact() {
        // σ falls from 12 to 0 over the first third of t = 9 and stays: ∫σ = 18,
        // ∫σ·(4.5 − s) = 18·(4.5 − 1) = 63, so bending is 6·63/81.
        let s = [0.0, 3.0, 9.0];
        let stress = [12.0, 0.0, 0.0].map(|value| [0.0, 0.0, value, 0.0, -value, 0.0]);
        let found = linearise(&s, &stress);
        let membrane = 2.0;
        let bending = 6.0 * 63.0 / 81.0;
        assert_same("membrane", &found.membrane, &[0.0, 0.0, membrane, 0.0, -membrane, 0.0]);
        assert_same("bending", &found.bending, &[0.0, 0.0, bending, 0.0, -bending, 0.0]);
        // More samples on the same straight runs change nothing.
        let s = [0.0, 1.0, 3.0, 3.5, 9.0];
        let stress = [12.0, 8.0, 0.0, 0.0, 0.0].map(|value| [0.0, 0.0, value, 0.0, -value, 0.0]);
        assert_same("bending", &linearise(&s, &stress).bending, &found.bending);
    }

    #[test]
    #[should_panic(expected = "must rise")]
    fn a_path_that_turns_back_is_refused() {
        let _ = linearise(&[0.0, 2.0, 1.0], &[[1.0; 6]; 3]);
    }

    #[test]
    #[should_panic(expected = "must rise")]
    fn a_path_that_is_not_a_number_is_refused() {
        let _ = linearise(&[0.0, f64::NAN], &[[1.0; 6]; 2]);
    }
}
