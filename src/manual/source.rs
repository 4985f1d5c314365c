//! Where a reference value comes from, and what that is worth.

use serde::Serialize;

/// How far a source can be relied upon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// A book, paper or standard, seen there or in a copy that is named.
    Published,
    /// Recalled; to be confirmed against the edition in force.
    FromMemory,
    /// A habit of the trade without a published source.
    CommonPractice,
    /// Computed outside this program by other means that are named; not published.
    Independent,
    /// This program with a finer mesh or more harmonics: consistency, no proof from outside.
    Itself,
    /// Follows from definitions by arithmetic or by the equations of elasticity alone.
    Exact,
}

impl Standing {
    /// The word that stands beside the source.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "from memory",
            Self::CommonPractice => "common practice, no source",
            Self::Independent => "computed independently",
            Self::Itself => "this program, carried further",
            Self::Exact => "exact",
        }
    }
}

/// A reference's source: book or standard, edition, page or equation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Source {
    pub text: &'static str,
    pub standing: Standing,
}

impl Source {
    pub const fn published(text: &'static str) -> Self {
        Self { text, standing: Standing::Published }
    }

    pub const fn from_memory(text: &'static str) -> Self {
        Self { text, standing: Standing::FromMemory }
    }

    pub const fn common_practice(text: &'static str) -> Self {
        Self { text, standing: Standing::CommonPractice }
    }

    pub const fn independent(text: &'static str) -> Self {
        Self { text, standing: Standing::Independent }
    }

    pub const fn itself(text: &'static str) -> Self {
        Self { text, standing: Standing::Itself }
    }

    pub const fn exact(text: &'static str) -> Self {
        Self { text, standing: Standing::Exact }
    }
}
