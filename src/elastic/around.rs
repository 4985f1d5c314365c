//! How a load varies around the body, and its Fourier coefficients in closed form.

use crate::seeded::{Fault, planted};
use std::f64::consts::{PI, TAU};

/// Course of a load around the body, as a factor on its pattern.
#[derive(Debug, Clone, PartialEq)]
pub enum Around {
    /// The same all around.
    Constant,
    /// cos nθ.
    Cos(usize),
    /// sin nθ.
    Sin(usize),
    /// 1 from `from` to `to` (rad, `to` > `from`), 0 elsewhere.
    Arc { from: f64, to: f64 },
    /// Stretches of an exponential course, 0 elsewhere, its jumps spread over `run_in` rad each.
    ///
    /// The run-in leaves harmonics 0 and 1 as they are, so forces and moments stay exact.
    Stretches { stretches: Vec<Stretch>, run_in: f64 },
}

/// value·exp(−decay·(θ − from)) for θ from `from` to `to` (rad).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    pub from: f64,
    pub to: f64,
    pub value: f64,
    pub decay: f64,
}

/// Coefficients of one harmonic: cosine·cos nθ + sine·sin nθ.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Fourier {
    pub cosine: f64,
    pub sine: f64,
}

impl Around {
    /// The factor's Fourier coefficients of harmonic `n`.
    pub fn fourier(&self, n: usize) -> Fourier {
        match self {
            Self::Constant => Fourier { cosine: f64::from(n == 0), sine: 0.0 },
            Self::Cos(m) => Fourier { cosine: f64::from(n == *m), sine: 0.0 },
            Self::Sin(m) => Fourier { cosine: 0.0, sine: f64::from(n == *m && n > 0) },
            Self::Arc { from, to } => {
                integral(&[Stretch { from: *from, to: *to, value: 1.0, decay: 0.0 }], n)
            }
            Self::Stretches { stretches, run_in } => {
                let plain = integral(stretches, n);
                let half = 0.5 * n as f64 * run_in;
                let spread = if n < 2 || half == 0.0 { 1.0 } else { half.sin() / half };
                Fourier { cosine: plain.cosine * spread, sine: plain.sine * spread }
            }
        }
    }

    /// Angles at which the factor jumps; empty where every jump has its run-in.
    pub fn jumps(&self) -> Vec<f64> {
        match self {
            Self::Arc { from, to } => jumps_of(&[Stretch { from: *from, to: *to, value: 1.0, decay: 0.0 }]),
            Self::Stretches { stretches, run_in } if *run_in == 0.0 => jumps_of(stretches),
            _ => Vec::new(),
        }
    }

    /// Highest harmonic that can be other than zero, where there is one.
    pub fn last_harmonic(&self) -> Option<usize> {
        match self {
            Self::Constant => Some(0),
            Self::Cos(n) | Self::Sin(n) => Some(*n),
            Self::Arc { .. } | Self::Stretches { .. } => None,
        }
    }
}

/// Angles where the sum of the stretches differs on the two sides.
fn jumps_of(stretches: &[Stretch]) -> Vec<f64> {
    let size = stretches.iter().map(|s| s.value.abs().max(s.end().abs())).fold(0.0, f64::max);
    let mut ends: Vec<(f64, f64)> = Vec::new();
    for (angle, step) in stretches.iter().flat_map(|s| [(s.from, s.value), (s.to, -s.end())]) {
        // Ends a whole turn apart are one place of the body.
        let same = |known: f64| ((angle - known + PI).rem_euclid(TAU) - PI).abs() < 1e-9;
        match ends.iter_mut().find(|(known, _)| same(*known)) {
            Some((_, sum)) => *sum += step,
            None => ends.push((angle, step)),
        }
    }
    ends.into_iter().filter(|(_, step)| step.abs() > 1e-9 * size).map(|(angle, _)| angle).collect()
}

fn integral(stretches: &[Stretch], n: usize) -> Fourier {
    let scale = if n == 0 { 1.0 / TAU } else { 1.0 / PI };
    let mut sum = Fourier::default();
    for stretch in stretches {
        let part = stretch.integral(n as f64);
        sum.cosine += scale * part.cosine;
        let turned = n == 1 && planted(Fault::FirstHarmonicPhase);
        sum.sine += if turned { -scale } else { scale } * part.sine;
    }
    sum
}

impl Stretch {
    /// The value at its far end.
    fn end(&self) -> f64 {
        self.value * (-self.decay * (self.to - self.from)).exp()
    }

    /// ∫ value·e^(−decay·x) (cos, sin)(n·(from + x)) dx over the stretch.
    fn integral(&self, n: f64) -> Fourier {
        let length = self.to - self.from;
        // Below this the closed form loses digits to cancellation, while the series is exact.
        if (self.decay * length).abs() < 1e-9 && n == 0.0 {
            let cosine = self.value * length * (1.0 - 0.5 * self.decay * length);
            return Fourier { cosine, sine: 0.0 };
        }
        // The complex integral of e^{(−decay + i n) x}: (e^{(−decay + i n) L} − 1)/(−decay + i n).
        let damped = (-self.decay * length).exp();
        let (re, im) = (damped * (n * length).cos() - 1.0, damped * (n * length).sin());
        let square = self.decay * self.decay + n * n;
        let (qr, qi) = ((-self.decay * re + n * im) / square, (-self.decay * im - n * re) / square);
        let (cos, sin) = ((n * self.from).cos(), (n * self.from).sin());
        Fourier { cosine: self.value * (qr * cos - qi * sin), sine: self.value * (qr * sin + qi * cos) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numeric(f: impl Fn(f64) -> f64, from: f64, to: f64, n: usize) -> Fourier {
        const STEPS: usize = 200_000;
        let h = (to - from) / STEPS as f64;
        let scale = if n == 0 { 1.0 / TAU } else { 1.0 / PI };
        let mut sum = Fourier::default();
        for i in 0..STEPS {
            let x = from + (i as f64 + 0.5) * h;
            sum.cosine += scale * h * f(x) * (n as f64 * x).cos();
            sum.sine += scale * h * f(x) * (n as f64 * x).sin();
        }
        sum
    }

    #[test]
    fn closed_forms_agree_with_quadrature() {
        let stretch = Stretch { from: -1.4, to: 1.2, value: 3.0, decay: 0.21 };
        let around = Around::Stretches { stretches: vec![stretch], run_in: 0.0 };
        for n in [0, 1, 2, 7, 40] {
            let exact = around.fourier(n);
            let check = numeric(|x| 3.0 * (-0.21 * (x + 1.4)).exp(), -1.4, 1.2, n);
            assert!((exact.cosine - check.cosine).abs() < 1e-8, "{n} {exact:?} {check:?}");
            assert!((exact.sine - check.sine).abs() < 1e-8, "{n} {exact:?} {check:?}");
        }
    }

    #[test]
    fn an_undamped_stretch_is_a_plain_arc() {
        let arc = Around::Arc { from: -0.3, to: 0.9 };
        let tiny = Stretch { from: -0.3, to: 0.9, value: 1.0, decay: 1e-13 };
        let same = Around::Stretches { stretches: vec![tiny], run_in: 0.0 };
        for n in 0..5 {
            assert!((arc.fourier(n).cosine - same.fourier(n).cosine).abs() < 1e-10);
            assert!((arc.fourier(n).sine - same.fourier(n).sine).abs() < 1e-10);
        }
    }

    #[test]
    fn the_run_in_is_the_average_over_its_length() {
        let stretch = Stretch { from: -1.0, to: 1.0, value: 1.0, decay: 0.0 };
        let spread = Around::Stretches { stretches: vec![stretch], run_in: 0.2 };
        let ramp = |x: f64| ((1.1 - x.abs()) / 0.2).clamp(0.0, 1.0);
        for n in [2, 5, 20] {
            let check = numeric(ramp, -1.2, 1.2, n);
            assert!((spread.fourier(n).cosine - check.cosine).abs() < 1e-7);
        }
        assert!(spread.jumps().is_empty());
    }

    #[test]
    fn jumps_stand_where_the_course_is_not_continuous() {
        let jumps =
            |stretches: &[Stretch]| Around::Stretches { stretches: stretches.to_vec(), run_in: 0.0 }.jumps();
        let rest = Stretch { from: -1.0, to: 0.2, value: 2.0, decay: 0.0 };
        let creep = Stretch { from: 0.2, to: 1.0, value: 2.0, decay: 0.3 };
        assert_eq!(jumps(&[rest, creep]), [-1.0, 1.0]);
        // The drag of the same rope is none where it rests, so it begins with a jump between them.
        let none = Stretch { value: 0.0, ..rest };
        assert_eq!(jumps(&[none, creep]), [0.2, 1.0]);
        assert!(Around::Arc { from: -PI, to: PI }.jumps().is_empty());
    }
}
