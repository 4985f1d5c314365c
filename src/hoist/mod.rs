//! The hoist: what the ropes do to the sheave, and the rules about grooves, ropes and traction.
//!
//! Owns friction factors, traction limits, seat pressure, the rope-life factor and the plain rules.
//! It knows no finite elements and no survey file. Units: mm, N, MPa, rad; speeds in m/s.
//! Standards change: each value says in its documentation where it comes from and how it stands,
//! and the edition in force must be consulted before anybody relies on it.

pub mod double_wrap;
pub mod friction;
mod load_case;
pub mod pressure;
pub mod rope_life;
pub mod rules;
pub mod tension;
pub mod wrap;

pub use load_case::{CaseKind, GroovePass, LoadCase};
pub use tension::{GRAVITY_M_S2, heavy_and_light, load_cases, side_tensions_n};
pub use wrap::{Expected, RopeWrap, drag_radius_mm, expected};

/// A value for which a formula of this room has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{quantity} is {found}; the formula holds for {allowed}")]
pub struct OutOfRange {
    /// What was given, in words.
    pub quantity: &'static str,
    /// The value found, with its unit.
    pub found: String,
    /// The range allowed, with its unit.
    pub allowed: String,
}

impl OutOfRange {
    /// For an angle in rad, printed in degrees.
    fn angle(quantity: &'static str, found_rad: f64, allowed: &str) -> Self {
        Self { quantity, found: format!("{:.1}°", found_rad.to_degrees()), allowed: allowed.to_owned() }
    }

    /// For a plain number, or one whose unit stands in `allowed`.
    fn number(quantity: &'static str, found: f64, allowed: &str) -> Self {
        Self { quantity, found: format!("{found}"), allowed: allowed.to_owned() }
    }
}

/// Refuses what is not a positive, finite number.
fn positive(quantity: &'static str, value: f64) -> Result<f64, OutOfRange> {
    if value > 0.0 && value.is_finite() {
        Ok(value)
    } else {
        Err(OutOfRange::number(quantity, value, "positive numbers"))
    }
}
