//! Sums of powers of r and z: loads whose exact answer is known in advance.

use crate::geometry::Point;
use std::ops::{Add, Mul};

/// Σ c·rᵃ·zᵇ; the power of r may be negative, so that every derivative in cylindrical coordinates is one too.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Polynomial {
    /// Factor, power of r, power of z.
    terms: Vec<(f64, i32, i32)>,
}

impl Polynomial {
    pub fn constant(value: f64) -> Self {
        Self { terms: vec![(value, 0, 0)] }
    }

    /// The linear function at + by_r·r + by_z·z.
    pub fn linear(at: f64, by_r: f64, by_z: f64) -> Self {
        Self { terms: vec![(at, 0, 0), (by_r, 1, 0), (by_z, 0, 1)] }
    }

    pub fn value(&self, p: Point) -> f64 {
        self.terms.iter().map(|(c, a, b)| c * p.r.powi(*a) * p.z.powi(*b)).sum()
    }

    pub fn by_r(&self) -> Self {
        self.map(|(c, a, b)| (c * f64::from(a), a - 1, b))
    }

    pub fn by_z(&self) -> Self {
        self.map(|(c, a, b)| (c * f64::from(b), a, b - 1))
    }

    pub fn over_r(&self) -> Self {
        self.map(|(c, a, b)| (c, a - 1, b))
    }

    fn map(&self, change: impl Fn((f64, i32, i32)) -> (f64, i32, i32)) -> Self {
        Self { terms: self.terms.iter().copied().map(change).filter(|(c, ..)| *c != 0.0).collect() }
    }
}

impl Add for Polynomial {
    type Output = Self;

    fn add(mut self, other: Self) -> Self {
        for (c, a, b) in other.terms {
            match self.terms.iter_mut().find(|(_, x, y)| (*x, *y) == (a, b)) {
                Some((sum, ..)) => *sum += c,
                None => self.terms.push((c, a, b)),
            }
        }
        self
    }
}

impl Mul<f64> for &Polynomial {
    type Output = Polynomial;

    fn mul(self, factor: f64) -> Polynomial {
        self.map(|(c, a, b)| (c * factor, a, b))
    }
}

impl Mul for &Polynomial {
    type Output = Polynomial;

    fn mul(self, other: Self) -> Polynomial {
        let product = |(c, a, b): &(f64, i32, i32)| other.map(|(d, x, y)| (c * d, a + x, b + y));
        self.terms.iter().map(product).fold(Polynomial::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_and_derivatives_agree_with_differences() {
        let f = &Polynomial::linear(2.0, -0.5, 3.0) * &Polynomial::linear(0.7, 0.0, -1.1).over_r();
        let (p, step) = (Point::new(1.7, 0.6), 1e-5);
        assert!((f.value(p) - (2.0 - 0.85 + 1.8) * (0.7 - 0.66) / 1.7).abs() < 1e-14);
        let slope = |dr: f64, dz: f64| {
            let (ahead, back) = (Point::new(p.r + dr, p.z + dz), Point::new(p.r - dr, p.z - dz));
            (f.value(ahead) - f.value(back)) / (2.0 * step)
        };
        assert!((f.by_r().value(p) - slope(step, 0.0)).abs() < 1e-8);
        assert!((f.by_z().value(p) - slope(0.0, step)).abs() < 1e-8);
        assert!(f.by_r().value(p).abs() > 0.01 && f.by_z().value(p).abs() > 0.01);
    }
}
