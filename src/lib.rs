//! From the survey of a worn traction sheave to a verdict that can be defended.

pub mod diagnostics;
pub mod survey;
pub mod units;
