//! The file a person fills in: its data, its blank form, its reading, its sanity, the thin-spot fit.
//!
//! Owns everything between the bytes of a survey and the value [`schema::Survey`]. Lacks mechanics, and
//! opens no files: profiles come through [`Files`].
//! Units inside: mm, N, MPa, rad, kg, m/s, m/s².

mod differences;
mod double_wrap;
mod doubt;
mod files;
mod form;
mod metal;
mod profile;
mod read;
mod ropes;
mod sanity;
pub mod schema;
mod template;
pub mod thin_spot;

pub use crate::document::{Change, LARGEST_FILE};
pub use differences::{differences, values};
pub(crate) use files::is_not_measured;
pub use read::{Files, Reading, read, read_with};
pub use schema::*;
pub use template::{remarks, template};
