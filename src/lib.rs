//! From the survey of a worn traction sheave to a verdict that can be defended.

pub mod diagnostics;
pub mod elastic;
pub mod geometry;
pub mod mesh;
pub mod section;
pub mod survey;
pub mod units;
