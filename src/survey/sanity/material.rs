//! Whether the facts on the metal make one, with the place of the fact that does not fit.

use super::super::form::Form;
use super::super::read::Draft;
use crate::material::MaterialError;

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let Some(Err(fault)) = draft.material.as_ref().map(|facts| facts.metal()) else { return };
    let (code, key, help) = match fault {
        MaterialError::StrengthMissing(_) => (
            "survey/needed",
            "tensile_strength",
            "write tensile_strength = \"414 MPa\" (for instance), from a sample or as the minimum of the grade on drawing or certificate",
        ),
        MaterialError::UnknownClass(_) => (
            "survey/material-class",
            "class",
            "write the class as it stands on the papers, for instance class = 30; without papers leave it \"not measured\"",
        ),
        MaterialError::ClassOfOtherMetal(_) => (
            "survey/material-class",
            "class",
            "leave the class \"not measured\", or write kind = \"gray iron\"",
        ),
        MaterialError::NotPlausible { quantity, .. } => {
            let keys =
                [("tensile", "tensile_strength"), ("yield", "yield_strength"), ("elongation", "elongation")];
            let key =
                keys.iter().find(|(word, _)| quantity.contains(word)).map_or("hardness", |(_, key)| key);
            ("survey/out-of-range", key, "check the number and its unit")
        }
    };
    let text = fault.to_string();
    let message = format!("{}{}.", text[..1].to_uppercase(), &text[1..]);
    form.error(code, &format!("material.{key}"), message, help);
}
