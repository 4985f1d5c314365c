//! Pictures of a checked wheel as SVG: its section, its walls around the rim, its stress.
//!
//! Owns what is drawn and where; `drawing` owns pens and text. Scales are honest: lengths of a section are equal in
//! both directions, axes of plots begin at zero or say where. Labels stand in the survey's own units.
//! Sizes are px of 96 to the inch, so that a drawing on paper has the scale that it states.

mod axes;
mod between;
mod convergence;
mod course;
mod deformed;
mod outline;
mod palette;
mod regions;
mod section;
mod stress;
mod walls;

pub(in crate::report) use between::{between, combinations, history};
pub(in crate::report) use convergence::convergence;
pub(in crate::report) use course::{Course, course};
pub(in crate::report) use deformed::deformed;
pub(in crate::report) use palette::{SIGNED, SOURCE};
pub(in crate::report) use section::{section, section_no_taller};
pub(in crate::report) use stress::{Map, envelope, map, stress_at};
pub(in crate::report) use walls::walls;
