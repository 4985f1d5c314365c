//! The one comparison that tests use: two-sided, safe against NaN, and printing both values.
//!
//! Owns nothing but the comparison. It is public so that integration tests share it.

/// How far a computed value may lie from its reference, on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// Fraction of the reference's magnitude.
    Relative(f64),
    /// Same unit as the compared values.
    Absolute(f64),
}

impl Tolerance {
    /// Half a unit in the last of the decimals to which a reference is printed.
    #[must_use]
    pub fn printed(decimals: i32) -> Self {
        // The tiny excess admits values that are printed from an exact tie.
        Self::Absolute(0.5 * 10f64.powi(-decimals) * (1.0 + 1e-9))
    }

    /// Largest difference that is accepted, in the unit of the compared values.
    #[must_use]
    pub fn allowed(self, reference: f64) -> f64 {
        match self {
            Self::Relative(fraction) => fraction * reference.abs(),
            Self::Absolute(distance) => distance,
        }
    }
}

/// Compares a computed value with its reference; both may be in any one unit.
///
/// # Errors
/// A message with both values, the difference and the tolerance's reason when the difference is
/// larger than allowed, or when either value or the tolerance is not a finite number.
pub fn check_close(
    what: &str,
    computed: f64,
    reference: f64,
    tolerance: Tolerance,
    reason: &str,
) -> Result<(), String> {
    let difference = computed - reference;
    let allowed = tolerance.allowed(reference);
    // Infinities must fail too: an infinite tolerance would accept everything.
    let finite = computed.is_finite() && reference.is_finite() && allowed.is_finite();
    if finite && difference.abs() <= allowed {
        return Ok(());
    }
    Err(format!(
        "{what}: computed {computed:e}, reference {reference:e}, difference {difference:e}, \
         allowed {allowed:e} ({tolerance:?}: {reason})"
    ))
}

/// Asserts that a computed value agrees with its reference; see [`check_close`].
///
/// # Panics
/// When [`check_close`] finds a disagreement, with its message.
#[track_caller]
pub fn assert_close(what: &str, computed: f64, reference: f64, tolerance: Tolerance, reason: &str) {
    if let Err(message) = check_close(what, computed, reference, tolerance, reason) {
        panic!("{message}");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn agrees(computed: f64, reference: f64, tolerance: Tolerance) -> bool {
        check_close("value", computed, reference, tolerance, "test").is_ok()
    }

    #[test]
    fn both_sides_are_held() {
        let tolerance = Tolerance::Absolute(0.1);
        assert!(agrees(2.05, 2.0, tolerance) && agrees(1.95, 2.0, tolerance));
        assert!(!agrees(2.2, 2.0, tolerance) && !agrees(1.8, 2.0, tolerance));
        let tolerance = Tolerance::Relative(0.01);
        assert!(agrees(-2.01, -2.0, tolerance) && agrees(-1.99, -2.0, tolerance));
        assert!(!agrees(-2.03, -2.0, tolerance) && !agrees(2.0, -2.0, tolerance));
    }

    #[test]
    fn what_is_not_a_number_never_agrees() {
        for tolerance in [Tolerance::Absolute(1.0), Tolerance::Relative(1.0)] {
            assert!(!agrees(f64::NAN, 1.0, tolerance));
            assert!(!agrees(1.0, f64::NAN, tolerance));
            assert!(!agrees(f64::NAN, f64::NAN, tolerance));
            assert!(!agrees(f64::INFINITY, f64::INFINITY, tolerance));
        }
        assert!(!agrees(1.0, 1.0, Tolerance::Absolute(f64::NAN)));
        assert!(!agrees(1.0, 2.0, Tolerance::Absolute(f64::INFINITY)));
    }

    #[test]
    fn the_message_names_both_values_and_the_reason() {
        let message = check_close("wall", 3.0, 4.0, Tolerance::Absolute(0.5), "gauge reading")
            .expect_err("3 and 4 differ by more than 0.5");
        for part in ["wall", "3e0", "4e0", "gauge reading"] {
            assert!(message.contains(part), "{message}");
        }
    }
}
