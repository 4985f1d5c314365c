//! Which cases of the verification manual stand behind the answer, and what none covers.

use crate::manual::Citation;

/// Sentences for the page: cases by group of features, then what no case covers.
pub(in crate::report) fn proof(citations: &[Citation]) -> Vec<String> {
    let mut lines = Vec::new();
    let mut groups: Vec<&str> = citations.iter().map(|citation| citation.group).collect();
    groups.dedup();
    for group in groups {
        let mut names: Vec<&str> = Vec::new();
        for citation in citations.iter().filter(|citation| citation.group == group) {
            for name in citation.cases.iter().chain(&citation.outside) {
                if !names.contains(name) {
                    names.push(name);
                }
            }
        }
        if !names.is_empty() {
            lines.push(format!("{group}: {}.", names.join(", ")));
        }
    }
    let open: Vec<&str> = citations.iter().filter(|c| c.is_open()).map(|c| c.feature).collect();
    if !open.is_empty() {
        lines.push(format!(
            "Not covered by any reference from outside, and to be checked by other means: {}.",
            open.join("; ")
        ));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn citation(group: &'static str, feature: &'static str, cases: &[&'static str]) -> Citation {
        Citation { group, feature, cases: cases.to_vec(), outside: Vec::new() }
    }

    #[test]
    fn cases_are_named_once_and_gaps_are_told() {
        let lines = proof(&[
            citation("Stress", "pressure", &["ring", "disc"]),
            citation("Stress", "spin", &["disc", "annulus"]),
            citation("Section", "two webs", &[]),
        ]);
        assert_eq!(lines[0], "Stress: ring, disc, annulus.");
        assert_eq!(lines.len(), 2);
        assert!(lines[1].contains("two webs") && !lines[1].contains("pressure"));
    }
}
