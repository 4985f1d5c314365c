//! The checks, each with demand, capacity, basis and source, and the overall word.
//!
//! Owns how checks combine; computes no stress and knows no output format.
//! Values carry their kind of quantity in the program's own units (mm, N, MPa), for printing later.

mod judge;

pub use judge::judge;

use crate::units::Kind;
use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

/// A number with the kind of quantity it is; `None` is a plain number.
///
/// Written out as one entry whose key names the unit, for instance `value_mpa`; a plain number is `value`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    pub value: f64,
    pub kind: Option<Kind>,
}

impl Amount {
    pub const fn of(kind: Kind, value: f64) -> Self {
        Self { value, kind: Some(kind) }
    }

    pub const fn plain(value: f64) -> Self {
        Self { value, kind: None }
    }
}

impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let key = match self.kind {
            None | Some(Kind::Ratio) => "value",
            Some(Kind::Length) => "value_mm",
            Some(Kind::Stress) => "value_mpa",
            Some(Kind::Force) => "value_n",
            Some(Kind::Angle) => "value_rad",
            Some(Kind::Speed) => "value_m_s",
            Some(Kind::Acceleration) => "value_m_s2",
            Some(Kind::Mass) => "value_kg",
            Some(Kind::MassPerLength) => "value_kg_m",
            Some(Kind::Hardness) => "value_hb",
        };
        let mut map = serializer.serialize_map(Some(1))?;
        map.serialize_entry(key, &self.value)?;
        map.end()
    }
}

/// Which way a check runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Sense {
    /// The found value must not exceed the limit.
    AtMost,
    /// The found value must reach the limit.
    AtLeast,
}

/// What stands behind a check, and so what its failing may decide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Strength of the iron: failing rejects.
    Strength,
    /// A published code: failing rejects.
    Code,
    /// The geometry of the cut itself: failing rejects.
    Geometry,
    /// Common practice without a published source: failing leaves the matter undecided.
    Practice,
    /// A number to look at, which decides nothing.
    Yardstick,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    Holds,
    Fails,
    /// The survey does not settle it.
    Open,
    /// Shown, without a say in the verdict.
    Noted,
}

/// One check with everything needed to argue about it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Check {
    /// Stable name for programs.
    pub key: &'static str,
    /// Name for people.
    pub name: String,
    pub found: Option<Amount>,
    pub limit: Option<Amount>,
    pub sense: Sense,
    pub status: Status,
    pub standing: Standing,
    /// How the found value came about.
    pub basis: String,
    /// Where the limit comes from.
    pub source: String,
    /// A sentence that says what follows when the check does not hold.
    pub remark: Option<String>,
    /// What to measure or change to settle it.
    pub settle: Option<String>,
}

impl Check {
    /// A check that compares `found` with `limit`.
    pub fn compare(
        key: &'static str,
        name: impl Into<String>,
        standing: Standing,
        sense: Sense,
        found: Amount,
        limit: Amount,
    ) -> Self {
        let holds = match sense {
            Sense::AtMost => found.value <= limit.value,
            Sense::AtLeast => found.value >= limit.value,
        };
        let status = match (holds, standing) {
            (_, Standing::Yardstick) => Status::Noted,
            (true, _) => Status::Holds,
            (false, _) => Status::Fails,
        };
        Self {
            key,
            name: name.into(),
            found: Some(found),
            limit: Some(limit),
            sense,
            status,
            standing,
            basis: String::new(),
            source: String::new(),
            remark: None,
            settle: None,
        }
    }

    /// A check that the survey leaves without numbers.
    pub fn without_numbers(
        key: &'static str,
        name: impl Into<String>,
        standing: Standing,
        status: Status,
        remark: impl Into<String>,
    ) -> Self {
        Self {
            key,
            name: name.into(),
            found: None,
            limit: None,
            sense: Sense::AtMost,
            status,
            standing,
            basis: String::new(),
            source: String::new(),
            remark: Some(remark.into()),
            settle: None,
        }
    }

    pub fn basis(mut self, text: impl Into<String>) -> Self {
        self.basis = text.into();
        self
    }

    pub fn source(mut self, text: impl Into<String>) -> Self {
        self.source = text.into();
        self
    }

    pub fn remark(mut self, text: impl Into<String>) -> Self {
        self.remark = Some(text.into());
        self
    }

    pub fn settle(mut self, text: impl Into<String>) -> Self {
        self.settle = Some(text.into());
        self
    }

    /// Room left, relative to the limit: positive when the check holds.
    pub fn margin(&self) -> Option<f64> {
        let (found, limit) = (self.found?.value, self.limit?.value);
        match self.sense {
            Sense::AtMost => Some(1.0 - found / limit),
            Sense::AtLeast => Some(found / limit - 1.0),
        }
    }
}

/// The overall word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Word {
    MayBeCut,
    MayStay,
    Reject,
    Undecided,
}

impl Word {
    pub fn text(self) -> &'static str {
        match self {
            Self::MayBeCut => "MAY BE CUT AS STATED",
            Self::MayStay => "MAY STAY AS IT IS",
            Self::Reject => "REJECT",
            Self::Undecided => "UNDECIDED",
        }
    }
}

/// The answer with what decided it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Verdict {
    pub word: Word,
    /// One sentence: why.
    pub reason: String,
    /// Keys of the checks that decided.
    pub deciding: Vec<&'static str>,
    /// What would settle or change it.
    pub settle: Vec<String>,
    /// Departures that must be read first, such as a lowered safety factor.
    pub heads: Vec<String>,
}
