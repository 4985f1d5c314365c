//! Writers of results: what was computed, in the forms that people and programs read.
//!
//! Owns no computation of its own beyond the turn of a field into another frame.

pub mod vtk;
