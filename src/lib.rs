//! From the survey of a worn traction sheave to a verdict that can be defended.

pub mod diagnostics;
pub mod elastic;
pub mod geometry;
pub mod hoist;
pub mod mesh;
pub mod section;
pub mod study;
pub mod survey;
pub mod units;
