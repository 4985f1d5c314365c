//! Strength at a stress state: principal values, failure criteria, fatigue, flaws, section stress.
//!
//! Owns the step from a stress state and strengths to a factor. It knows no survey, no sheave and no
//! verdict. Units: mm, MPa; toughness in N/mm^1.5. Tension is positive.
//! A stress is six components in the order rr, θθ, zz, rθ, θz, rz, everywhere.

pub mod criteria;
pub mod critical_plane;
pub mod fatigue;
pub mod fracture;
pub mod linearise;
pub mod surface_crack;

pub use crate::elastic::Stress;

pub use criteria::{BrittleStrength, Criterion, Governing};
pub use critical_plane::{Plane, worst_plane};
pub use fatigue::{CompressiveMean, Cycle, FatigueStrength};
pub use linearise::{Linearised, linearise};
