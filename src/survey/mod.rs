//! The file a person fills in.

pub mod schema;

pub use schema::*;
