//! Metals of sheaves: elastic constants, strengths, toughness and the code's factor, with sources.
//!
//! Owns what is known of a metal from its kind, class or measured strength. It knows no geometry, no
//! stress and no survey file. Units: MPa, kg/m³, 1/K, toughness in N/mm^1.5, elongation as a fraction.
//! Rule of the room: a strength is measured, stated, or a named minimum; nothing is filled in
//! silently, and whatever stands in for a measurement is listed under `assumptions`.

pub mod ductile;
pub mod gray_iron;
pub mod hardness;
pub mod section_size;

#[cfg(test)]
mod tests;

use serde::Serialize;

/// MPa in one ksi (1000 psi), from the exact pound and inch.
pub const MPA_PER_KSI: f64 = 6.894_757_293_168_361;

/// What the wheel is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MetalKind {
    GrayIron,
    DuctileIron,
    CastSteel,
    Steel,
    Bronze,
    /// Judged as the weakest usual gray iron.
    Unknown,
}

/// A metal as the analysis and the checks use it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Metal {
    pub name: String,
    pub young_mpa: f64,
    pub poisson: f64,
    pub density_kg_m3: f64,
    pub expansion_per_k: f64,
    /// Ultimate tensile strength: the one that the code's factor refers to.
    pub tensile_mpa: f64,
    /// Ultimate compressive strength, where it differs from the tensile one.
    pub compressive_mpa: Option<f64>,
    pub yield_mpa: Option<f64>,
    /// Range of fracture toughness K_Ic in N/mm^1.5, low and high.
    pub toughness_n_mm15: Option<(f64, f64)>,
    /// Endurance limit of a machined bar in bending, for gray iron only.
    pub endurance_mpa: Option<f64>,
    /// True where failure is judged by tension and modified Mohr, without yielding first.
    pub brittle: bool,
    /// The code's factor on ultimate strength.
    pub safety_factor: f64,
    /// Where each value comes from, one sentence each.
    pub sources: Vec<String>,
    /// What stands in for measurements, one sentence each.
    pub assumptions: Vec<String>,
}

/// What is known of the metal; `None` means not measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facts {
    pub kind: MetalKind,
    /// Class of gray iron: minimum tensile strength of its test bar in ksi (ASTM A48).
    pub class: Option<u32>,
    /// Tensile strength, MPa.
    pub tensile_mpa: Option<f64>,
    /// Whether that strength is a separately cast bar's or a grade's, not this casting's.
    pub from_bar: bool,
    pub yield_mpa: Option<f64>,
    /// Elongation at fracture, as a fraction.
    pub elongation: Option<f64>,
    /// Lowest Brinell hardness measured.
    pub hardness_hb: Option<f64>,
    /// Thickness of the governing section in mm; it lowers a strength known from a test bar only.
    pub section_mm: Option<f64>,
}

impl Facts {
    /// A metal of which nothing but its kind is known.
    #[must_use]
    pub fn of_kind(kind: MetalKind) -> Self {
        Self {
            kind,
            class: None,
            tensile_mpa: None,
            from_bar: false,
            yield_mpa: None,
            elongation: None,
            hardness_hb: None,
            section_mm: None,
        }
    }
}

/// Why no metal can be made of the facts.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MaterialError {
    #[error(
        "the tensile strength of the {0} is not stated; a strength cannot be assumed for this kind: \
         measure it, or state the minimum of the grade on the drawing or certificate"
    )]
    StrengthMissing(&'static str),
    #[error("class {0} of gray iron is not one of ASTM A48; classes run from 20 to 60 (ksi)")]
    UnknownClass(u32),
    #[error("a class is stated for {0}; ASTM A48 classes belong to gray iron")]
    ClassOfOtherMetal(&'static str),
    #[error("{quantity} is {found}; {allowed} is expected")]
    NotPlausible { quantity: &'static str, found: f64, allowed: &'static str },
}

/// Least elongation for the code's lower factor, as a fraction in 2 in.
pub const CODE_ELONGATION: f64 = 0.14;

/// The code's factor on ultimate strength.
///
/// 8 for steel, bronze and other metals with an elongation of at least 14 % in 2 in; 10 for cast iron
/// and for any metal with less. An elongation that is not known takes 10 (ASME A17.1/CSA B44
/// cl. 2.24.3.1, clause number from memory; it refers to the static resultant of the largest rope
/// tensions, car at rest with rated load). Of ASTM A536 only 60-40-18 reaches 14 %.
#[must_use]
pub fn code_factor(kind: MetalKind, elongation: Option<f64>) -> f64 {
    let gray = matches!(kind, MetalKind::GrayIron | MetalKind::Unknown);
    let stretches = elongation.is_some_and(|fraction| fraction >= CODE_ELONGATION);
    if stretches && !gray { 8.0 } else { 10.0 }
}

/// Text for [`Metal::sources`] beside [`code_factor`].
pub(crate) fn code_factor_source(factor: f64) -> String {
    format!(
        "Factor {factor} on ultimate strength: ASME A17.1/CSA B44 cl. 2.24.3.1 (clause number from \
         memory; the edition in force must be consulted)."
    )
}

/// Makes a metal of what is known.
///
/// Gray and unknown iron without a strength is taken as class 20; every other metal without a stated
/// strength is refused, because neither its kind nor one hardness bounds its strength from below.
///
/// # Errors
/// [`MaterialError`] when the strength of a metal other than gray iron is missing, when a class is not
/// one of ASTM A48 or belongs to another metal, or when a value is not plausible.
pub fn from_facts(facts: &Facts) -> Result<Metal, MaterialError> {
    check(facts)?;
    match facts.kind {
        MetalKind::GrayIron | MetalKind::Unknown => gray_iron::from_facts(facts),
        MetalKind::DuctileIron => ductile::from_facts(facts, &ductile::DUCTILE_IRON),
        MetalKind::CastSteel => ductile::from_facts(facts, &ductile::CAST_STEEL),
        MetalKind::Steel => ductile::from_facts(facts, &ductile::STEEL),
        MetalKind::Bronze => ductile::from_facts(facts, &ductile::BRONZE),
    }
}

fn check(facts: &Facts) -> Result<(), MaterialError> {
    let within = |quantity, value: Option<f64>, range: (f64, f64), allowed| match value {
        Some(found) if !(found >= range.0 && found <= range.1) => {
            Err(MaterialError::NotPlausible { quantity, found, allowed })
        }
        _ => Ok(()),
    };
    // The limits only catch slips of the unit: psi or ksi for MPa, percent for a fraction.
    let strength = (20.0, 2500.0);
    let allowed = "20 to 2500 MPa";
    within("the tensile strength in MPa", facts.tensile_mpa, strength, allowed)?;
    within("the yield strength in MPa", facts.yield_mpa, strength, allowed)?;
    within("the elongation, as a fraction,", facts.elongation, (0.0, 0.9), "0 to 0.9")?;
    within("the Brinell hardness", facts.hardness_hb, (50.0, 700.0), "50 to 700")?;
    within("the section thickness in mm", facts.section_mm, (1.0, 1000.0), "1 to 1000 mm")?;
    if let (Some(found), Some(tensile)) = (facts.yield_mpa, facts.tensile_mpa)
        && found > tensile
    {
        return Err(MaterialError::NotPlausible {
            quantity: "the yield strength in MPa",
            found,
            allowed: "no more than the tensile strength",
        });
    }
    Ok(())
}

/// Straight line between the rows of a table with rising first column, its ends kept beyond it.
pub(crate) fn interpolate<const N: usize>(table: &[(f64, [f64; N])], x: f64) -> [f64; N] {
    let (first, last) = (table[0], table[table.len() - 1]);
    if x <= first.0 {
        return first.1;
    }
    for pair in table.windows(2) {
        let ((low, at_low), (high, at_high)) = (pair[0], pair[1]);
        if x <= high {
            let part = (x - low) / (high - low);
            return std::array::from_fn(|i| at_low[i] + part * (at_high[i] - at_low[i]));
        }
    }
    last.1
}
