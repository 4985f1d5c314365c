//! What a survey knows of its iron, and the metal that these facts make.

use super::schema::MaterialFacts;
use crate::material::{self, Facts, MaterialError, Metal, MetalKind};
use serde::Serialize;

/// One hardness reading with its depth below the rim edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HardnessReading {
    pub depth_mm: f64,
    pub hardness_hb: f64,
}

/// Where a stated tensile strength comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StrengthFrom {
    /// A sample cut from this casting.
    Casting,
    /// A separately cast test bar, or the minimum of a grade, which is one's.
    CastBar,
}

impl MaterialFacts {
    /// The metal of these facts, without regard to the thickness of its section.
    ///
    /// # Errors
    /// When the facts make no metal: a strength that cannot be assumed, an unknown class, a value that is
    /// not plausible.
    pub fn metal(&self) -> Result<Metal, MaterialError> {
        self.metal_in(None)
    }

    /// The metal of these facts in a section of this thickness as cast (mm).
    ///
    /// # Errors
    /// As [`Self::metal`].
    pub fn metal_in(&self, section_mm: Option<f64>) -> Result<Metal, MaterialError> {
        material::from_facts(&Facts {
            kind: self.kind,
            class: self.class,
            tensile_mpa: self.tensile_mpa,
            from_bar: self.strength_from == StrengthFrom::CastBar,
            yield_mpa: self.yield_mpa,
            elongation: self.elongation,
            hardness_hb: self.lowest_hardness_hb(),
            section_mm,
        })
    }

    /// The lowest of all hardness readings, those with a depth included.
    pub fn lowest_hardness_hb(&self) -> Option<f64> {
        let deep = self.hardness_by_depth.iter().map(|reading| reading.hardness_hb);
        self.hardness_hb.iter().copied().chain(deep).reduce(f64::min)
    }

    /// Whether it is judged as gray iron.
    pub fn is_gray(&self) -> bool {
        matches!(self.kind, MetalKind::GrayIron | MetalKind::Unknown)
    }

    /// Whether its strength is an assumption: gray iron of which neither class nor strength is known.
    pub fn strength_is_assumed(&self) -> bool {
        self.is_gray() && self.class.is_none() && self.tensile_mpa.is_none()
    }
}
