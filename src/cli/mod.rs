//! Arguments, files and exit codes: the only room that opens files.

pub mod files;
pub mod solve;
