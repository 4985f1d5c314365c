//! Compositions of the whole: one check from survey to findings.
mod loads;
