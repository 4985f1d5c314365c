//! Why an analysis gives no answer, in an engineer's words.

use crate::mesh::MeshFault;
use thiserror::Error;

#[derive(Debug, Clone, PartialEq, Error)]
pub enum ElasticFault {
    #[error(transparent)]
    Mesh(#[from] MeshFault),
    #[error("the material is not elastic: {0}")]
    Material(String),
    #[error("no edge carries the tag '{tag}' that {user} names; tags of the outline: {known}")]
    UnknownTag { tag: String, user: String, known: String },
    #[error(
        "load '{pattern}' acts on edges that offer no bearing in its direction, so its size cannot be set"
    )]
    NoBearing { pattern: String },
    #[error(
        "the body is free to {motion} and the loads of case '{case}' push it that way: no support holds it"
    )]
    Free { motion: &'static str, case: String },
    #[error(
        "the stiffness matrix of harmonic {n} could not be factored: {reason}. Likely causes: a support is missing, or the outline has a sliver"
    )]
    Factor { n: usize, reason: String },
    #[error("harmonic {n} left a residual of {residual:.1e} of its load; at most {allowed:.0e} is accepted")]
    Residual { n: usize, residual: f64, allowed: f64 },
    #[error("a number of the solution of harmonic {n} is not finite")]
    NotFinite { n: usize },
    #[error(
        "the governing stress still moves by {change:.2} % per block after {harmonics} harmonics; {allowed:.2} % is accepted"
    )]
    Harmonics { harmonics: usize, change: f64, allowed: f64 },
    #[error("{what} do not balance: {left} against {right} (relative gap {gap:.1e}, at most {allowed:.0e})")]
    Imbalance { what: String, left: String, right: String, gap: f64, allowed: f64 },
    #[error("no place is left in which the highest tension may be looked for")]
    NothingToSearch,
}
