//! Loss of gray iron's strength with the thickness of its section.
//!
//! Owns the strength to be expected in a casting whose test bar is known. Lacks shape: a rim under a
//! heavy hub cools slower than its own thickness tells. Units: mm, MPa.
//! Source: EN 1561:1997, table 1 (the reading of its ranges from memory). A later edition is milder
//! (its annex E: 346, 270 and 238 MPa in 10, 40 and 80 mm for grade 300); the stricter one is used.

use super::interpolate;

/// Text for a metal's list of sources.
pub const SOURCE: &str = "Strength by section thickness: EN 1561:1997, table 1 (reading of its \
    ranges from memory; a later edition is milder).";

/// Upper ends of the thickness ranges, mm; a wall on a border counts to the thicker range.
const RANGE_ENDS_MM: [f64; 5] = [10.0, 20.0, 40.0, 80.0, 150.0];

/// Minimum of the separately cast bar; strength expected in each range, MPa. Grade 300 has no value
/// below 10 mm and takes its bar's.
const TABLE: [(f64, [f64; 5]); 4] = [
    (150.0, [155.0, 130.0, 110.0, 95.0, 80.0]),
    (200.0, [205.0, 180.0, 155.0, 130.0, 115.0]),
    (250.0, [250.0, 225.0, 195.0, 170.0, 155.0]),
    (300.0, [300.0, 270.0, 240.0, 210.0, 195.0]),
];

/// Tensile strength in MPa to be expected in a section of a casting whose test bar reaches
/// `bar_mpa`, never more than the bar's own.
///
/// Straight lines between the grades of EN 1561:1997, table 1, in proportion below grade 150 and above
/// grade 300; thicker sections than 150 mm take the last range's.
#[must_use]
pub fn expected_mpa(bar_mpa: f64, section_mm: f64) -> f64 {
    let range = RANGE_ENDS_MM.iter().position(|end| section_mm < *end).unwrap_or(RANGE_ENDS_MM.len() - 1);
    let grade = bar_mpa.clamp(TABLE[0].0, TABLE[TABLE.len() - 1].0);
    let ratio = interpolate(&TABLE, grade)[range] / grade;
    // Thin sections chill and grow stronger than the bar, which is not to be relied on.
    bar_mpa * if ratio > 1.0 { 1.0 } else { ratio }
}
