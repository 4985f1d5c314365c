//! Ductile iron, cast steel, steel and bronze: metals whose strength must be stated.
//!
//! Owns their elastic constants and the named minima of ductile iron. Units: MPa, kg/m³, 1/K.
//! Sources: Shigley, Mechanical Engineering Design, table A-5 (elastic constants and densities of steel
//! and bronze, from memory); a handbook table for cast steel (30 Mpsi) and ductile iron (23 Mpsi); ASTM A536.

use super::{Facts, MaterialError, Metal, code_factor, code_factor_source};

/// Grade of ductile iron with its minima.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DuctileGrade {
    pub name: &'static str,
    pub tensile_mpa: f64,
    pub yield_mpa: f64,
    /// Elongation in 2 in, as a fraction.
    pub elongation: f64,
}

/// Minima of ASTM A536; the last part of a grade's name is its elongation in percent. The strengths
/// of 65-45-12 are from memory (one public page misprints them).
pub const ASTM_A536: [DuctileGrade; 5] = [
    DuctileGrade { name: "60-40-18", tensile_mpa: 414.0, yield_mpa: 276.0, elongation: 0.18 },
    DuctileGrade { name: "65-45-12", tensile_mpa: 448.0, yield_mpa: 310.0, elongation: 0.12 },
    DuctileGrade { name: "80-55-06", tensile_mpa: 552.0, yield_mpa: 379.0, elongation: 0.06 },
    DuctileGrade { name: "100-70-03", tensile_mpa: 689.0, yield_mpa: 483.0, elongation: 0.03 },
    DuctileGrade { name: "120-90-02", tensile_mpa: 827.0, yield_mpa: 621.0, elongation: 0.02 },
];

/// Elongation below which a metal is judged as brittle (Shigley, section 5-1, from memory).
const BRITTLE_BELOW: f64 = 0.05;

/// What the kind alone tells.
pub(super) struct Constants {
    name: &'static str,
    young_mpa: f64,
    poisson: f64,
    density_kg_m3: f64,
    expansion_per_k: f64,
    source: &'static str,
}

pub(super) const DUCTILE_IRON: Constants = Constants {
    name: "ductile iron",
    young_mpa: 158.6e3,
    poisson: 0.275,
    density_kg_m3: 7100.0,
    expansion_per_k: 12.5e-6,
    source: "Young's modulus 23 Mpsi: handbook table; Poisson's ratio, density and expansion: \
             EN 1563 (from memory).",
};

pub(super) const CAST_STEEL: Constants = Constants {
    name: "cast steel",
    young_mpa: 206.8e3,
    poisson: 0.29,
    density_kg_m3: 7850.0,
    expansion_per_k: 12.0e-6,
    source: "Young's modulus 30 Mpsi: handbook table; other constants from memory.",
};

pub(super) const STEEL: Constants = Constants {
    name: "steel",
    young_mpa: 207.0e3,
    poisson: 0.292,
    density_kg_m3: 7800.0,
    expansion_per_k: 12.0e-6,
    source: "Elastic constants and density of carbon steel: Shigley table A-5 (from memory); \
             expansion from memory.",
};

pub(super) const BRONZE: Constants = Constants {
    name: "bronze",
    young_mpa: 111.0e3,
    poisson: 0.349,
    density_kg_m3: 8160.0,
    expansion_per_k: 18.0e-6,
    source: "Elastic constants and density of phosphor bronze: Shigley table A-5 (from memory); \
             expansion from memory.",
};

pub(super) fn from_facts(facts: &Facts, constants: &Constants) -> Result<Metal, MaterialError> {
    if facts.class.is_some() {
        return Err(MaterialError::ClassOfOtherMetal(constants.name));
    }
    let Some(tensile_mpa) = facts.tensile_mpa else {
        return Err(MaterialError::StrengthMissing(constants.name));
    };
    let safety_factor = code_factor(facts.kind, facts.elongation);
    let mut assumptions = Vec::new();
    if facts.elongation.is_none() {
        assumptions.push(
            "The elongation is not known, so the code's factor of 10 is used; 14 % or more in 2 in \
             would allow 8."
                .to_owned(),
        );
    }
    if facts.yield_mpa.is_none() {
        assumptions.push("The yield strength is not known and yielding is not judged.".to_owned());
    }
    Ok(Metal {
        name: constants.name.to_owned(),
        young_mpa: constants.young_mpa,
        poisson: constants.poisson,
        density_kg_m3: constants.density_kg_m3,
        expansion_per_k: constants.expansion_per_k,
        tensile_mpa,
        compressive_mpa: None,
        yield_mpa: facts.yield_mpa,
        toughness_n_mm15: None,
        endurance_mpa: None,
        brittle: facts.elongation.is_some_and(|e| e < BRITTLE_BELOW),
        safety_factor,
        sources: vec![
            "Tensile strength: as stated in the survey.".to_owned(),
            constants.source.to_owned(),
            code_factor_source(safety_factor),
        ],
        assumptions,
    })
}
