//! Why a check gives no answer.

use crate::elastic::ElasticFault;
use crate::material::MaterialError;
use crate::section::SectionFault;
use thiserror::Error;

#[derive(Debug, Clone, PartialEq, Error)]
pub enum CheckFault {
    #[error("{}", .0.iter().map(|f| format!("{}: {f}", .1)).collect::<Vec<_>>().join("\n"))]
    Section(Vec<SectionFault>, String),
    #[error(transparent)]
    Elastic(#[from] ElasticFault),
    #[error(transparent)]
    Material(#[from] MaterialError),
    #[error("no rope tensions can be formed: neither masses nor tensions are stated")]
    NoTensions,
}
