//! How checks combine into one word.

use super::{Check, Standing, Status, Verdict, Word};

/// Combines the checks.
///
/// A failing check of strength, code or geometry rejects. A failing rule of common practice, or an open
/// check, leaves the matter undecided. Only when nothing fails and nothing is open is the answer
/// favourable: may be cut when a cut is asked, may stay otherwise.
pub fn judge(checks: &[Check], cut_asked: bool) -> Verdict {
    let rejects = |check: &&Check| {
        check.status == Status::Fails
            && matches!(check.standing, Standing::Strength | Standing::Code | Standing::Geometry)
    };
    let doubts = |check: &&Check| {
        check.status == Status::Open || check.status == Status::Fails && check.standing == Standing::Practice
    };
    let failing: Vec<&Check> = checks.iter().filter(rejects).collect();
    let open: Vec<&Check> = checks.iter().filter(doubts).collect();
    let (word, deciding) = match (failing.is_empty(), open.is_empty()) {
        (false, _) => (Word::Reject, failing),
        (true, false) => (Word::Undecided, open),
        (true, true) if cut_asked => (Word::MayBeCut, Vec::new()),
        (true, true) => (Word::MayStay, Vec::new()),
    };
    let sentence = |check: &&Check| check.remark.clone().unwrap_or_else(|| format!("{} fails.", check.name));
    let reason = if deciding.is_empty() {
        closest(checks)
    } else {
        deciding.iter().map(sentence).collect::<Vec<_>>().join(" ")
    };
    let mut settle: Vec<String> = Vec::new();
    for advice in deciding.iter().filter_map(|check| check.settle.as_ref()) {
        if !settle.contains(advice) {
            settle.push(advice.clone());
        }
    }
    let deciding = deciding.iter().map(|check| check.key).collect();
    Verdict { word, reason, deciding, settle, heads: Vec::new() }
}

/// The sentence of a favourable answer: the check with the least room.
fn closest(checks: &[Check]) -> String {
    let tightest = checks
        .iter()
        .filter(|check| check.status == Status::Holds && check.key != "stations")
        .filter_map(|check| Some((check.margin()?, check)))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match tightest {
        Some((margin, check)) => {
            format!(
                "Every check holds; the closest is \"{}\", with {:.0} % to spare.",
                check.name,
                100.0 * margin
            )
        }
        None => "Every check holds.".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Amount, Sense};
    use super::*;

    fn check(standing: Standing, found: f64) -> Check {
        let amounts = (Amount::plain(found), Amount::plain(10.0));
        Check::compare("peak", "peak tension", standing, Sense::AtMost, amounts.0, amounts.1)
    }

    #[test]
    fn strength_and_code_reject_whatever_practice_says() {
        for standing in [Standing::Strength, Standing::Code, Standing::Geometry] {
            let verdict = judge(&[check(standing, 12.0), check(Standing::Practice, 5.0)], true);
            assert_eq!(verdict.word, Word::Reject);
        }
    }

    #[test]
    fn practice_alone_leaves_it_undecided_and_a_yardstick_decides_nothing() {
        let practice = judge(&[check(Standing::Practice, 12.0), check(Standing::Strength, 5.0)], true);
        assert_eq!(practice.word, Word::Undecided);
        let yardstick = judge(&[check(Standing::Yardstick, 12.0), check(Standing::Strength, 5.0)], true);
        assert_eq!(yardstick.word, Word::MayBeCut);
    }

    #[test]
    fn a_number_that_is_none_never_passes() {
        let verdict = judge(&[check(Standing::Strength, f64::NAN)], false);
        assert_eq!(verdict.word, Word::Reject);
    }

    #[test]
    fn favourable_answers_name_the_closest_check() {
        let verdict = judge(&[check(Standing::Strength, 9.0), check(Standing::Code, 5.0)], false);
        assert_eq!(verdict.word, Word::MayStay);
        assert!(verdict.reason.contains("10 % to spare"), "{}", verdict.reason);
    }
}
