//! The hoist: what the ropes do to the sheave.

pub mod tension;
pub mod wrap;

pub use tension::{CaseKind, LoadCase, load_cases, side_tensions_n};
pub use wrap::{Expected, RopeWrap, drag_radius_mm, expected};
