//! How far the values of a survey may be off.

use serde::Serialize;

/// How far the survey's values may be off, each plus or minus: two standard deviations. `None` where
/// nothing is stated.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Doubt {
    /// Thinnest wall.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wall_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seat_depth_mm: Option<f64>,
    /// Depth of the cut, as finished.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut_depth_mm: Option<f64>,
    pub strength_from: StrengthDoubt,
    /// Tensile strength, as a part of itself.
    #[serde(rename = "relative_strength", skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Masses of car and counterweight, as a part of themselves.
    #[serde(rename = "relative_masses", skip_serializing_if = "Option::is_none")]
    pub masses: Option<f64>,
    /// Stated rope tensions, as a part of themselves.
    #[serde(rename = "relative_tensions", skip_serializing_if = "Option::is_none")]
    pub tensions: Option<f64>,
    /// Spread of the rope tensions: added to it and taken from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tension_spread: Option<f64>,
    /// Groove of the hottest rope, counted from 1; any roped groove alike when `None`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hottest_groove: Option<usize>,
}

/// Around what the strength is spread.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StrengthDoubt {
    /// The strength that the check uses: measured, or the minimum of the class.
    #[default]
    InUse,
    /// The band that the lowest hardness leaves open.
    HardnessBand,
}
