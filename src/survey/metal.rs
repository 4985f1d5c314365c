//! The metal that a survey's facts make.

use super::schema::MaterialFacts;
use crate::material::{self, Facts, MaterialError, Metal};

impl MaterialFacts {
    /// The metal of these facts; of several hardness readings the lowest counts.
    ///
    /// # Errors
    /// When the facts make no metal: a strength that cannot be assumed, an unknown class, a value that is
    /// not plausible.
    pub fn metal(&self) -> Result<Metal, MaterialError> {
        material::from_facts(&Facts {
            kind: self.kind,
            class: self.class,
            tensile_mpa: self.tensile_mpa,
            yield_mpa: self.yield_mpa,
            elongation: self.elongation,
            hardness_hb: self.hardness_hb.iter().copied().reduce(f64::min),
            section_mm: None,
        })
    }
}
