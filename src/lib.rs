//! From the survey of a worn traction sheave to a verdict that can be defended.

pub mod chance;
pub mod cli;
pub mod diagnostics;
pub mod document;
pub mod elastic;
pub mod geometry;
pub mod hoist;
pub mod manual;
pub mod material;
pub mod mesh;
pub mod problem;
pub mod reference;
pub mod report;
pub mod section;
pub mod seeded;
pub mod strength;
pub mod study;
pub mod survey;
pub mod units;
pub mod verdict;
