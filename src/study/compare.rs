//! Two checks side by side: what was found, check by check, and how far it moved.
//!
//! Units: every amount carries its own (mm, N, MPa, m/s).

use super::CheckResult;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Status, Word};
use serde::Serialize;

/// Outcomes of two checks.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    pub verdict: Pair<Word>,
    /// Where the highest tension lies, in words, with the place around the rim.
    pub governing: Pair<String>,
    pub rows: Vec<Compared>,
}

/// The same thing in both checks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Pair<T> {
    pub before: T,
    pub after: T,
}

/// One number in both checks; `None` where a check does not have it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Compared {
    pub key: String,
    pub name: String,
    pub before: Option<Found>,
    pub after: Option<Found>,
    /// After less before; `None` unless both have the number.
    pub difference: Option<Amount>,
    /// True where the difference is no more than the two error bars together, and so may be none.
    pub within_bars: bool,
}

/// A number with its error bar and, where it belongs to a check, that check's status.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Found {
    pub amount: Amount,
    pub bound: Option<Amount>,
    pub status: Option<Status>,
}

impl Found {
    fn of(amount: Amount) -> Self {
        Self { amount, bound: None, status: None }
    }
}

impl Compared {
    fn new(
        key: impl Into<String>,
        name: impl Into<String>,
        before: Option<Found>,
        after: Option<Found>,
    ) -> Self {
        let difference = before.zip(after).map(|(before, after)| Amount {
            value: after.amount.value - before.amount.value,
            kind: after.amount.kind,
        });
        let bars: f64 =
            [before, after].iter().flatten().filter_map(|f| f.bound).map(|bound| bound.value).sum();
        let within_bars = bars > 0.0 && difference.is_some_and(|difference| difference.value.abs() <= bars);
        Self { key: key.into(), name: name.into(), before, after, difference, within_bars }
    }

    /// Whether both checks have the number, and the same one up to rounding.
    pub fn is_same(&self) -> bool {
        match (self.before, self.after) {
            (Some(before), Some(after)) => {
                let scale = before.amount.value.abs().max(after.amount.value.abs());
                let moved = self.difference.map_or(0.0, |difference| difference.value.abs());
                moved <= 1e-9 * scale && before.status == after.status
            }
            (None, None) => true,
            _ => false,
        }
    }
}

/// Sets the outcome of `after` beside that of `before`.
pub fn compare(before: &CheckResult, after: &CheckResult) -> Comparison {
    let both = |get: &dyn Fn(&CheckResult) -> Option<Found>| (get(before), get(after));
    let row = |key: &str, name: &str, get: &dyn Fn(&CheckResult) -> Option<Found>| {
        let (before, after) = both(get);
        Compared::new(key, name, before, after)
    };
    let stress = |mpa: f64| Amount::of(Quantity::Stress, mpa);
    let mut rows = vec![
        row("cut_depth", "depth of the cut", &|r| {
            Some(Found::of(Amount::of(Quantity::Length, r.cut_depth_mm?)))
        }),
        row("allowable", "allowed tension", &|r| Some(Found::of(stress(r.allowable_mpa)))),
        row("tension_factor", "factor on ultimate at the highest tension", &|r| {
            Some(Found::of(Amount::plain(r.governing.tension_factor)))
        }),
    ];
    let identity = |check: &Check| (check.key, check.name.clone());
    let mut seen: Vec<(&str, String)> = Vec::new();
    for check in before.checks.iter().chain(&after.checks) {
        let id = identity(check);
        if seen.contains(&id) {
            continue;
        }
        let of = |result: &CheckResult| result.checks.iter().find(|other| identity(other) == id).cloned();
        let (old, new) = (of(before), of(after));
        let found = |result: &CheckResult, check: &Option<Check>| {
            let check = check.as_ref()?;
            let bound = bound_mpa(result, check.key).map(stress);
            Some(Found { amount: check.found?, bound, status: Some(check.status) })
        };
        let pair = (found(before, &old), found(after, &new));
        if pair.0.is_some() || pair.1.is_some() {
            rows.push(Compared::new(check.key, check.name.clone(), pair.0, pair.1));
            // A limit that moved is as much a reason as the number held against it; the allowed tension
            // stands above for all stresses.
            let limit = |check: &Option<Check>| check.as_ref().and_then(|check| check.limit).map(Found::of);
            let name = format!("limit: {}", check.name);
            let limit = Compared::new(format!("{}_limit", check.key), name, limit(&old), limit(&new));
            let is_stress = check.limit.and_then(|limit| limit.kind) == Some(Quantity::Stress);
            let both_have = limit.before.is_some() && limit.after.is_some();
            if both_have && !limit.is_same() && (!is_stress || check.key == "groove_pressure") {
                rows.push(limit);
            }
        }
        seen.push(id);
    }
    rows.retain(|row| row.before.is_some() || row.after.is_some());
    let governing = |result: &CheckResult| {
        format!("{} ({})", result.governing.peak_words, result.places[result.governing.place].name)
    };
    Comparison {
        verdict: Pair { before: before.verdict.word, after: after.verdict.word },
        governing: Pair { before: governing(before), after: governing(after) },
        rows,
    }
}

/// Error bar of a check's stress, where it has one.
fn bound_mpa(result: &CheckResult, key: &str) -> Option<f64> {
    let governing = &result.governing;
    match key {
        "peak_tension" => Some(governing.bound_mpa),
        "section_stress" => governing.wall.as_ref().map(|wall| wall.section_bound_mpa),
        "notch_stress" => governing.notch.as_ref().map(|notch| notch.bound_mpa),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(value: f64, bound: Option<f64>) -> Option<Found> {
        let stress = |mpa| Amount::of(Quantity::Stress, mpa);
        Some(Found { amount: stress(value), bound: bound.map(stress), status: None })
    }

    #[test]
    fn a_difference_inside_the_bars_is_told() {
        let near = Compared::new("a", "a", found(10.0, Some(0.1)), found(10.15, Some(0.1)));
        assert!(near.within_bars && !near.is_same());
        let far = Compared::new("a", "a", found(10.0, Some(0.1)), found(10.3, Some(0.1)));
        assert!(!far.within_bars);
        assert!((far.difference.unwrap().value - 0.3).abs() < 1e-12);
        let plain = Compared::new("a", "a", found(10.0, None), found(10.0, None));
        assert!(!plain.within_bars && plain.is_same());
        assert!(!Compared::new("a", "a", found(10.0, None), None).is_same());
    }
}
