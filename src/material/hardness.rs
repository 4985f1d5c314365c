//! Strength of gray iron by its Brinell hardness: a band, of which only the lower bound may serve.
//!
//! Owns the relation by relative hardness. Lacks steel: its factor of 3.45 MPa per HB gives two to
//! four times too much on gray iron and must never be used for it. Units: HB, MPa.
//! Source: RH = HB/(100 + 0.44·R_m), usually 0.8 to 1.2 (EN 1561, annex on hardness; the constants from
//! memory). That one hardness bounds the strength from below only is also the finding of ASTM
//! STP 455.

use super::MPA_PER_KSI;
use serde::Serialize;

/// Usual range of relative hardness.
const RELATIVE_HARDNESS: (f64, f64) = (0.8, 1.2);

/// Strengths that one hardness leaves open, MPa.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StrengthBand {
    /// At relative hardness 1.2: the only one that may serve for acceptance.
    pub lower_mpa: f64,
    /// At relative hardness 1.0.
    pub middle_mpa: f64,
    /// At relative hardness 0.8.
    pub upper_mpa: f64,
}

/// Tensile strength at a hardness and a relative hardness: R_m = (HB/RH − 100)/0.44, MPa;
/// zero where the relation gives less.
#[must_use]
pub fn strength_mpa(hb: f64, relative_hardness: f64) -> f64 {
    let strength = (hb / relative_hardness - 100.0) / 0.44;
    // Soft readings fall out of the relation; a negative strength would only confuse.
    if strength < 0.0 { 0.0 } else { strength }
}

/// The band of strengths at one Brinell hardness.
#[must_use]
pub fn strength_band(hb: f64) -> StrengthBand {
    StrengthBand {
        lower_mpa: strength_mpa(hb, RELATIVE_HARDNESS.1),
        middle_mpa: strength_mpa(hb, 1.0),
        upper_mpa: strength_mpa(hb, RELATIVE_HARDNESS.0),
    }
}

/// A sentence on what the hardness says about the strength in use.
pub(super) fn note(hb: f64, tensile_mpa: f64) -> String {
    let band = strength_band(hb);
    let verdict = if band.lower_mpa >= tensile_mpa {
        "its lower bound supports the strength in use"
    } else if band.upper_mpa < tensile_mpa {
        "it contradicts the strength in use, which lies above the whole band"
    } else {
        "it neither proves nor contradicts the strength in use"
    };
    format!(
        "The lowest hardness of {hb:.0} HB leaves {:.0} to {:.0} MPa ({:.1} to {:.1} ksi) open (relative hardness 1.2 \
         to 0.8): {verdict} of {tensile_mpa:.0} MPa ({:.1} ksi).",
        band.lower_mpa,
        band.upper_mpa,
        band.lower_mpa / MPA_PER_KSI,
        band.upper_mpa / MPA_PER_KSI,
        tensile_mpa / MPA_PER_KSI
    )
}
