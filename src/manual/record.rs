//! A case of the manual, what running it gives, and how it is judged.

use super::{Feature, Level, Source, features_of};
use crate::elastic::{ElasticFault, Model};
use crate::reference::compare::{Tolerance, check_close};
use thiserror::Error;

/// Parts of the manual.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// Loads that are the same all round, and heat.
    EvenLoads,
    ShellsAndPlates,
    Notches,
    /// Loads that vary around the body.
    Harmonics,
    /// Orders of convergence, truncation of the series, where the program stops being right.
    Convergence,
    Ropes,
    Grooves,
    Strength,
    Measurements,
}

impl Chapter {
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::EvenLoads => "Bodies under even loads and heat",
            Self::ShellsAndPlates => "Shells, plates and webs",
            Self::Notches => "Notches",
            Self::Harmonics => "Loads that vary around the body",
            Self::Convergence => "Convergence",
            Self::Ropes => "Ropes: tensions, friction, shaft load",
            Self::Grooves => "Grooves: pressure and rope life",
            Self::Strength => "Strength",
            Self::Measurements => "Measurements and units",
        }
    }
}

/// One problem of the manual.
pub struct Case {
    /// Short name for the command line: words joined by hyphens.
    pub name: &'static str,
    pub title: &'static str,
    pub chapter: Chapter,
    /// What the case shows and how it is set up, in whole sentences; numbers come from the record.
    pub about: &'static str,
    pub features: &'static [Feature],
    pub run: fn() -> Result<Record, CaseFault>,
}

/// Why a case gave no numbers. It counts as a miss.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CaseFault {
    #[error(transparent)]
    Elastic(#[from] ElasticFault),
    /// Coverage would claim less than the case does, so the two have drifted apart.
    #[error("its model exercises what the case does not list: {0}")]
    Unlisted(String),
    /// Should the program or its reference change, the words about them must change too.
    #[error("it names '{0}' as a reference that is not met, and it is met after all")]
    MetAfterAll(String),
    #[error("{0}")]
    Other(String),
}

impl CaseFault {
    /// A fault of any other room, by its words.
    pub fn of(fault: impl std::fmt::Display) -> Self {
        Self::Other(fault.to_string())
    }
}

/// What a case gave.
#[derive(Debug, Clone, Default)]
pub struct Record {
    /// The elastic problem, where there is one.
    pub model: Option<Model>,
    /// Further facts of the set-up, one sentence each, numbers filled in by the program.
    pub facts: Vec<String>,
    /// The meshes it was solved on, coarse to fine.
    pub levels: Vec<Level>,
    pub rows: Vec<Row>,
    /// References that the program does not meet within their own accuracy, named one by one.
    pub unmet: Vec<Unmet>,
}

/// A reference that is not met, shown and not counted: hiding it would be worse, and a tolerance wide enough
/// to pass it would hold nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmet {
    /// Compared within the reference's own accuracy, which it misses.
    pub row: Row,
    /// Why the reference, and not the program, is thought to be off.
    pub why: &'static str,
}

impl Record {
    /// A record of compared values without an elastic problem.
    #[must_use]
    pub fn of_rows(rows: Vec<Row>) -> Self {
        Self { rows, ..Self::default() }
    }

    #[must_use]
    pub fn fact(mut self, text: impl Into<String>) -> Self {
        self.facts.push(text.into());
        self
    }
}

/// On which sides of the reference a value may not lie too far away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    Both,
    /// The reference is the least that is demanded.
    NotBelow,
    /// The reference is the most that is accepted.
    NotAbove,
}

/// One compared quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub quantity: String,
    /// Empty for a plain number.
    pub unit: &'static str,
    pub source: Source,
    pub reference: f64,
    /// How far the reference itself may be off, in its unit, where the source says so or prints few digits.
    pub reference_doubt: Option<f64>,
    pub computed: f64,
    /// The program's own error estimate, in the same unit; `None` where nothing is discretised.
    pub estimate: Option<f64>,
    pub tolerance: Tolerance,
    pub side: Side,
    /// Why this much is allowed.
    pub reason: &'static str,
    /// The value on every mesh, coarse to fine, the last one being `computed`.
    pub history: Vec<f64>,
}

impl Row {
    /// A computed value beside its reference; both in `unit`.
    #[must_use]
    pub fn new(
        quantity: impl Into<String>,
        unit: &'static str,
        source: Source,
        reference: f64,
        computed: f64,
    ) -> Self {
        Self {
            quantity: quantity.into(),
            unit,
            source,
            reference,
            reference_doubt: None,
            computed,
            estimate: None,
            // Nothing passes before a tolerance with its reason is given.
            tolerance: Tolerance::Absolute(f64::NAN),
            side: Side::Both,
            reason: "",
            history: Vec::new(),
        }
    }

    /// Allowed difference and why.
    #[must_use]
    pub fn within(mut self, tolerance: Tolerance, reason: &'static str) -> Self {
        self.tolerance = tolerance;
        self.reason = reason;
        self
    }

    /// The reference is printed to this many decimals, and the computed value must round to it.
    #[must_use]
    pub fn printed(mut self, decimals: i32) -> Self {
        self.tolerance = Tolerance::printed(decimals);
        self.reason = "half a unit of the last printed digit";
        self.reference_doubt = Some(0.5 * 10f64.powi(-decimals));
        self
    }

    /// The value may lie above the reference by any amount.
    #[must_use]
    pub fn or_above(mut self) -> Self {
        self.side = Side::NotBelow;
        self
    }

    /// The value may lie below the reference by any amount.
    #[must_use]
    pub fn or_below(mut self) -> Self {
        self.side = Side::NotAbove;
        self
    }

    /// What the source says of its own accuracy, in the row's unit.
    #[must_use]
    pub fn doubt(mut self, reference_doubt: f64) -> Self {
        self.reference_doubt = Some(reference_doubt);
        self
    }

    /// Computed less reference.
    #[must_use]
    pub fn error(&self) -> f64 {
        self.computed - self.reference
    }

    /// Whether the difference is within the tolerance; never for what is not a number.
    #[must_use]
    pub fn holds(&self) -> bool {
        let beyond = match self.side {
            Side::Both => false,
            Side::NotBelow => self.computed >= self.reference,
            Side::NotAbove => self.computed <= self.reference,
        };
        (beyond && self.computed.is_finite() && self.reference.is_finite())
            || check_close(&self.quantity, self.computed, self.reference, self.tolerance, self.reason).is_ok()
    }
}

/// A case with what running it gave.
pub struct Entry {
    pub case: &'static Case,
    pub record: Result<Record, CaseFault>,
}

impl Entry {
    /// Whether every row holds; a case without rows proves nothing and fails.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.record.as_ref().is_ok_and(|record| !record.rows.is_empty() && record.rows.iter().all(Row::holds))
    }
}

/// Runs one case, and holds what it says of itself against what it did.
pub fn run(case: &'static Case) -> Entry {
    Entry { case, record: (case.run)().and_then(|record| owned_up(case, record)) }
}

/// The record, unless it exercises features that the case does not list or meets what it calls unmet.
fn owned_up(case: &Case, record: Record) -> Result<Record, CaseFault> {
    if let Some(met) = record.unmet.iter().find(|unmet| unmet.row.holds()) {
        return Err(CaseFault::MetAfterAll(met.row.quantity.clone()));
    }
    let exercised = record.model.as_ref().map(features_of).unwrap_or_default();
    let unlisted = exercised.iter().filter(|feature| !case.features.contains(feature));
    match unlisted.map(|feature| feature.title()).collect::<Vec<_>>() {
        none if none.is_empty() => Ok(record),
        some => Err(CaseFault::Unlisted(some.join(", "))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manual::catalogue;

    fn known(name: &str) -> &'static Case {
        catalogue().into_iter().find(|case| case.name == name).unwrap()
    }

    /// The elastic case with the fewest unknowns that the catalogue has.
    const ELASTIC: &str = "half-wrap-truncation";

    #[test]
    fn a_case_that_lists_less_than_its_model_exercises_gives_no_record() {
        let case = known(ELASTIC);
        assert!(run(case).holds());
        let record = (case.run)().unwrap();
        assert!(record.model.is_some(), "the case solves a model");
        let modest = Case { features: &case.features[1..], ..*case };
        let fault = owned_up(&modest, record).unwrap_err();
        assert_eq!(fault, CaseFault::Unlisted(case.features[0].title().to_owned()));
    }

    #[test]
    fn a_reference_called_unmet_must_not_be_met() {
        let row = |computed| {
            let row = Row::new("wall", "mm", Source::itself("a test"), 1.0, computed);
            row.within(Tolerance::Absolute(0.1), "a test")
        };
        let record = |computed| Record {
            unmet: vec![Unmet { row: row(computed), why: "a test" }],
            ..Record::of_rows(vec![row(1.0)])
        };
        let case = known("seat-friction");
        assert_eq!(owned_up(case, record(1.05)).unwrap_err(), CaseFault::MetAfterAll("wall".to_owned()));
        assert!(owned_up(case, record(1.5)).is_ok());
    }
}
