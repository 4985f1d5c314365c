//! cos nθ and sin nθ of one angle, harmonic after harmonic.

/// Turns on from one harmonic to the next by the sum formulas: two products each in place of a sine and a cosine.
/// Rounding adds up to about n times that of one number.
pub(super) struct Waves {
    turn: (f64, f64),
    n: usize,
    at: (f64, f64),
}

impl Waves {
    pub fn of(theta: f64) -> Self {
        let (sin, cos) = theta.sin_cos();
        Self { turn: (cos, sin), n: 0, at: (1.0, 0.0) }
    }

    /// cos nθ and sin nθ; n must not fall from call to call.
    pub fn to(&mut self, n: usize) -> (f64, f64) {
        debug_assert!(n >= self.n);
        let (turn_cos, turn_sin) = self.turn;
        while self.n < n {
            let (cos, sin) = self.at;
            self.at = (cos * turn_cos - sin * turn_sin, sin * turn_cos + cos * turn_sin);
            self.n += 1;
        }
        self.at
    }
}

#[cfg(test)]
mod tests {
    use super::Waves;

    #[test]
    fn stay_with_the_library_to_harmonic_400() {
        for theta in [-3.1, -0.4, 1e-3, 0.7, 2.9] {
            let mut waves = Waves::of(theta);
            for n in [0, 1, 2, 2, 7, 48, 400] {
                let ((sin, cos), found) = ((n as f64 * theta).sin_cos(), waves.to(n));
                assert!((found.0 - cos).abs() < 1e-12 && (found.1 - sin).abs() < 1e-12, "{n} {theta}");
            }
        }
    }
}
