//! Gray iron: typical properties by class, and the metal made of a class, a strength or nothing.
//!
//! Lacks tempering of iron by alloys. Units: MPa, N/mm^1.5.
//! Sources: ASTM A48 (class = minimum tensile strength of a test bar in ksi; there is no exact tie
//! from bar to casting); Shigley, Mechanical Engineering Design, table A-24 (from memory; class 20
//! and parts of class 35 agree with a public property table); EN 1561:1997, annex A.

use super::{
    Facts, MPA_PER_KSI, MaterialError, Metal, MetalKind, code_factor, code_factor_source, hardness,
    interpolate, section_size,
};

/// Class taken when nothing is known: the weakest in common use (common practice, no source).
pub const ASSUMED_CLASS: u32 = 20;

/// Classes of ASTM A48 in ksi (from memory).
pub const CLASSES: [u32; 9] = [20, 25, 30, 35, 40, 45, 50, 55, 60];

/// Typical properties of a class, for ratios and elastic constants; they are means, never minima.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TypicalIron {
    pub tensile_mpa: f64,
    pub compressive_mpa: f64,
    /// Range of Young's modulus, MPa.
    pub young_mpa: (f64, f64),
    /// Endurance limit of a polished or machined bar, MPa.
    pub endurance_mpa: f64,
    /// Fatigue notch factor.
    pub notch_factor: f64,
}

/// Class in ksi; tensile and compressive strength, modulus from and to (GPa), endurance limit, K_f.
const TABLE_A24: [(f64, [f64; 6]); 7] = [
    (20.0, [152.0, 572.0, 66.0, 97.0, 69.0, 1.00]),
    (25.0, [179.0, 669.0, 79.0, 102.0, 79.0, 1.05]),
    (30.0, [214.0, 752.0, 90.0, 113.0, 97.0, 1.10]),
    (35.0, [252.0, 855.0, 100.0, 119.0, 110.0, 1.15]),
    (40.0, [293.0, 965.0, 110.0, 138.0, 128.0, 1.25]),
    (50.0, [362.0, 1131.0, 130.0, 157.0, 148.0, 1.35]),
    (60.0, [431.0, 1293.0, 141.0, 162.0, 169.0, 1.50]),
];

/// Minimum tensile strength in MPa; compressive strength (MPa) and K_Ic (N/mm^1.5) of EN 1561, annex A.
/// Some property pages print the toughness as MPa√m, which is 31.6 times too much.
const EN_1561: [(f64, [f64; 2]); 5] = [
    (150.0, [600.0, 320.0]),
    (200.0, [720.0, 400.0]),
    (250.0, [840.0, 480.0]),
    (300.0, [960.0, 560.0]),
    (350.0, [1080.0, 650.0]),
];

/// A real casting is usually stronger than its minimum; the upper toughness is read one grade up.
const GRADE_STEP_MPA: f64 = 50.0;

/// Minimum tensile strength of a class in MPa (ASTM A48: class in ksi).
///
/// # Errors
/// [`MaterialError::UnknownClass`] outside 20 to 60.
pub fn class_tensile_mpa(class: u32) -> Result<f64, MaterialError> {
    if (20..=60).contains(&class) {
        Ok(f64::from(class) * MPA_PER_KSI)
    } else {
        Err(MaterialError::UnknownClass(class))
    }
}

/// Typical properties at a minimum tensile strength in MPa, on straight lines between the classes of
/// Shigley table A-24; below class 20 and above class 60 those classes' own.
#[must_use]
pub fn typical(minimum_tensile_mpa: f64) -> TypicalIron {
    let class = minimum_tensile_mpa / MPA_PER_KSI;
    let [tensile, compressive, low, high, endurance, notch_factor] = interpolate(&TABLE_A24, class);
    TypicalIron {
        tensile_mpa: tensile,
        compressive_mpa: compressive,
        young_mpa: (low * 1e3, high * 1e3),
        endurance_mpa: endurance,
        notch_factor,
    }
}

/// Compressive strength in MPa that goes with a minimum tensile strength: the typical ratio of the
/// class, applied to the minimum (Shigley table A-24).
#[must_use]
pub fn compressive_mpa(minimum_tensile_mpa: f64) -> f64 {
    let iron = typical(minimum_tensile_mpa);
    minimum_tensile_mpa * iron.compressive_mpa / iron.tensile_mpa
}

/// Compressive strength in MPa by EN 1561, annex A, scaled below grade 150, for comparison.
#[must_use]
pub fn compressive_en1561_mpa(minimum_tensile_mpa: f64) -> f64 {
    let [compressive, _] = interpolate(&EN_1561, minimum_tensile_mpa);
    let grade = minimum_tensile_mpa.clamp(EN_1561[0].0, EN_1561[4].0);
    compressive * minimum_tensile_mpa / grade
}

/// Endurance limit in MPa of a machined bar that goes with a minimum tensile strength: the typical
/// ratio of the class, applied to the minimum (Shigley table A-24). Knock-downs are not included.
#[must_use]
pub fn endurance_mpa(minimum_tensile_mpa: f64) -> f64 {
    let iron = typical(minimum_tensile_mpa);
    minimum_tensile_mpa * iron.endurance_mpa / iron.tensile_mpa
}

/// Range of K_Ic in N/mm^1.5 at a minimum tensile strength in MPa: from that grade's value to the one
/// a grade higher (EN 1561, annex A; the width of the range is common practice, no source).
#[must_use]
pub fn toughness_n_mm15(minimum_tensile_mpa: f64) -> (f64, f64) {
    let at = |tensile| interpolate(&EN_1561, tensile)[1];
    (at(minimum_tensile_mpa), at(minimum_tensile_mpa + GRADE_STEP_MPA))
}

/// Gray iron of a class, at the minimum tensile strength of its test bar.
///
/// # Errors
/// [`MaterialError::UnknownClass`] outside 20 to 60.
pub fn gray_iron(class: u32) -> Result<Metal, MaterialError> {
    let mut metal = at_strength(format!("gray iron, class {class}"), class_tensile_mpa(class)?);
    metal.sources.push(format!(
        "Tensile strength: ASTM A48, class {class} (minimum of a test bar; the standard gives no \
         exact tie from bar to casting)."
    ));
    Ok(metal)
}

pub(super) fn from_facts(facts: &Facts) -> Result<Metal, MaterialError> {
    let named = match facts.kind {
        MetalKind::Unknown => "unknown metal, taken as gray iron",
        _ => "gray iron",
    };
    let mut metal = match (facts.tensile_mpa, facts.class) {
        (Some(bar), _) if facts.from_bar => {
            let mut metal = at_strength(named.to_owned(), bar);
            metal.sources.push(
                "Tensile strength: of a separately cast bar, or the minimum of its grade, as stated."
                    .to_owned(),
            );
            reduced_for_section(metal, facts.section_mm)
        }
        (Some(tensile), _) => {
            let mut metal = at_strength(named.to_owned(), tensile);
            metal.sources.push("Tensile strength: measured on this casting.".to_owned());
            metal
        }
        (None, Some(class)) => {
            let mut metal = reduced_for_section(gray_iron(class)?, facts.section_mm);
            metal.name = format!("{named}, class {class}");
            metal
        }
        (None, None) => {
            let mut metal = gray_iron(ASSUMED_CLASS)?;
            metal.name = format!("{named}, class {ASSUMED_CLASS} assumed");
            let unknown = match facts.kind {
                MetalKind::Unknown => "Neither the kind of metal nor its strength is known",
                _ => "Neither class nor tensile strength of the gray iron is known",
            };
            metal.assumptions.push(format!(
                "{unknown}: gray iron of class {ASSUMED_CLASS} ({ASSUMED_CLASS} ksi, {:.1} MPa) is assumed, the weakest in common use (common practice).",
                metal.tensile_mpa
            ));
            metal
        }
    };
    let strength_is_known = facts.tensile_mpa.is_some() || facts.class.is_some();
    if facts.kind == MetalKind::Unknown && strength_is_known {
        metal.assumptions.push("The kind of metal is not known; gray iron is assumed.".to_owned());
    }
    if let Some(hb) = facts.hardness_hb {
        metal.assumptions.push(hardness::note(hb, metal.tensile_mpa));
    }
    metal.yield_mpa = facts.yield_mpa;
    Ok(metal)
}

/// The class is a test bar's; thick walls cool slower and are weaker.
fn reduced_for_section(bar: Metal, section_mm: Option<f64>) -> Metal {
    let Some(section) = section_mm else {
        return bar;
    };
    let strength = section_size::expected_mpa(bar.tensile_mpa, section);
    let mut metal = at_strength(bar.name, strength);
    metal.sources = bar.sources;
    metal.sources.push(section_size::SOURCE.to_owned());
    metal.assumptions.push(format!(
        "In a section of {section:.0} mm, {strength:.0} of the test bar's {:.0} MPa are expected.",
        bar.tensile_mpa
    ));
    metal
}

/// Gray iron of this tensile strength (MPa), with what the tables give beside it.
#[must_use]
pub fn at_strength(name: String, tensile_mpa: f64) -> Metal {
    let iron = typical(tensile_mpa);
    let (low, high) = iron.young_mpa;
    let safety_factor = code_factor(MetalKind::GrayIron, None);
    Metal {
        name,
        young_mpa: f64::midpoint(low, high),
        poisson: 0.26,
        density_kg_m3: 7200.0,
        expansion_per_k: 11.7e-6,
        tensile_mpa,
        compressive_mpa: Some(compressive_mpa(tensile_mpa)),
        yield_mpa: None,
        toughness_n_mm15: Some(toughness_n_mm15(tensile_mpa)),
        endurance_mpa: Some(endurance_mpa(tensile_mpa)),
        brittle: true,
        safety_factor,
        sources: vec![
            format!(
                "Young's modulus: middle of {:.0} to {:.0} GPa, Shigley table A-24 (from memory).",
                low / 1e3,
                high / 1e3
            ),
            "Poisson's ratio 0.26 and density: EN 1561:1997, annex A; expansion from memory.".to_owned(),
            format!(
                "Compressive strength: ratio {:.2} of Shigley table A-24 (from memory); EN 1561, \
                 annex A, would give {:.0} MPa.",
                iron.compressive_mpa / iron.tensile_mpa,
                compressive_en1561_mpa(tensile_mpa)
            ),
            "Toughness: EN 1561:1997, annex A, this grade to one grade higher.".to_owned(),
            format!(
                "Endurance limit of a machined bar: ratio {:.2} of Shigley table A-24 (from memory).",
                iron.endurance_mpa / iron.tensile_mpa
            ),
            code_factor_source(safety_factor),
        ],
        assumptions: Vec::new(),
    }
}
