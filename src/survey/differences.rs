//! What two surveys say differently: by meaning, not by wording.
//!
//! A quantity written in another unit or as a fraction is the same; a blank and "not measured" are the same
//! as a field that does not stand. Lacks the points of profiles: those are compared by their files' bytes.

use super::files::is_not_measured;
use crate::document::{Change, differences as between, leaves};
use crate::units::{Kind, parse};
use std::collections::BTreeMap;
use std::path::Path;
use toml::de::DeTable;

use super::Files;

/// Kinds whose units tell them apart.
const KINDS: [Kind; 9] = [
    Kind::Length,
    Kind::Mass,
    Kind::Force,
    Kind::Speed,
    Kind::Acceleration,
    Kind::Angle,
    Kind::Stress,
    Kind::MassPerLength,
    Kind::Hardness,
];

/// Every single value of a survey's bytes as it is written, by its path.
#[must_use]
pub fn values(bytes: &[u8]) -> BTreeMap<String, String> {
    let text = String::from_utf8_lossy(bytes).into_owned();
    leaves(DeTable::parse_recoverable(&text).0.get_ref())
}

/// Differences of two surveys that both can be read, in the order of their paths. Each is given with the
/// folder in which its profiles lie.
pub fn differences(before: (&[u8], &Path), after: (&[u8], &Path), files: &dyn Files) -> Vec<Change> {
    let (old, new) = (values(before.0), values(after.0));
    let mut list = between(&old, &new, is_same);
    // A profile of the same name may hold other points.
    for (path, name) in &old {
        let is_profile = path.ends_with("profile") && new.get(path) == Some(name);
        if is_profile && !is_not_measured(name) {
            let read = |folder: &Path| files.read(&folder.join(name)).ok();
            if read(before.1) != read(after.1) {
                let text = |of: &str| Some(format!("{name}, {of} points"));
                list.push(Change { path: path.clone(), before: text("old"), after: text("new") });
            }
        }
    }
    list
}

fn is_same(before: Option<&str>, after: Option<&str>) -> bool {
    let stated =
        |text: Option<&str>| text.map(str::trim).filter(|text| !is_not_measured(text)).map(str::to_owned);
    match (stated(before), stated(after)) {
        (Some(a), Some(b)) => {
            a.eq_ignore_ascii_case(&b) || KINDS.iter().any(|kind| is_same_quantity(&a, &b, *kind))
        }
        (None, None) => true,
        _ => false,
    }
}

fn is_same_quantity(a: &str, b: &str, kind: Kind) -> bool {
    match (parse(a, kind), parse(b, kind)) {
        (Ok(a), Ok(b)) => {
            a.unit.is_some() && b.unit.is_some() && (a.value - b.value).abs() <= 1e-9 * a.value.abs()
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meaning_counts_and_not_wording() {
        for (a, b) in
            [("1/2 in", "12.7 mm"), ("not measured", ""), ("Clean up", "clean up"), ("35 deg", "35°")]
        {
            assert!(is_same(Some(a), Some(b)), "{a} and {b}");
        }
        assert!(is_same(None, Some("not measured")));
        for (a, b) in [("1/2 in", "12.8 mm"), ("1:1", "2:1"), ("5", "6"), ("12 kg", "12 mm"), ("none", "")] {
            assert!(!is_same(Some(a), Some(b)), "{a} and {b}");
        }
    }
}
