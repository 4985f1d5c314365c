//! From the survey of a worn traction sheave to a verdict that can be defended.

pub mod hoist;
pub mod material;
pub mod reference;
pub mod strength;
