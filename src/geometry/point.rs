//! Points and vectors of the meridian half-plane, in mm.

use serde::Serialize;
use std::ops::{Add, Mul, Neg, Sub};

/// A point or vector (r, z) in mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Point {
    #[serde(rename = "r_mm")]
    pub r: f64,
    #[serde(rename = "z_mm")]
    pub z: f64,
}

impl Point {
    pub const fn new(r: f64, z: f64) -> Self {
        Self { r, z }
    }

    /// Unit vector at `angle`, counted from the r axis towards the z axis.
    pub fn unit(angle: f64) -> Self {
        Self::new(angle.cos(), angle.sin())
    }

    pub fn dot(self, other: Self) -> f64 {
        self.r * other.r + self.z * other.z
    }

    /// Out-of-plane component of the vector product: positive when `other` lies to the left.
    pub fn cross(self, other: Self) -> f64 {
        self.r * other.z - self.z * other.r
    }

    pub fn norm(self) -> f64 {
        self.r.hypot(self.z)
    }

    pub fn distance(self, other: Self) -> f64 {
        (self - other).norm()
    }

    /// The vector of length one along this one; a zero vector stays zero.
    pub fn direction(self) -> Self {
        let norm = self.norm();
        if norm > 0.0 { self * (1.0 / norm) } else { self }
    }

    /// The vector turned by a right angle to the left.
    pub fn left(self) -> Self {
        Self::new(-self.z, self.r)
    }

    pub fn angle(self) -> f64 {
        self.z.atan2(self.r)
    }

    pub fn lerp(self, other: Self, t: f64) -> Self {
        self + (other - self) * t
    }

    pub fn is_finite(self) -> bool {
        self.r.is_finite() && self.z.is_finite()
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.r + other.r, self.z + other.z)
    }
}

impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.r - other.r, self.z - other.z)
    }
}

impl Mul<f64> for Point {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.r * factor, self.z * factor)
    }
}

impl Neg for Point {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.r, -self.z)
    }
}
