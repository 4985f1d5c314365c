//! Every estimator that could have made the bar, judged by the same true errors.

use crate::study::CheckResult;

/// What one wheel's check said of its mesh, beside what it was truly off by. All in MPa.
pub(super) struct Judged {
    peak_mpa: f64,
    true_mpa: f64,
    bar_mpa: f64,
    unknowns: usize,
    /// One value for each of [`CANDIDATES`].
    candidates_mpa: [f64; 8],
}

/// The estimators, each with the series' part added.
const CANDIDATES: [&str; 8] = [
    "the whole step between the last two meshes",
    "that step, scaled by the square of the sides' ratio (Richardson)",
    "the elements' largest disagreement at the peak",
    "a third of that disagreement",
    "the larger of the scaled step and a third of the disagreement",
    "the scaled step and a third of the disagreement added",
    "the scaled step added to the larger of a third of the disagreement and the stress across a surface without load",
    "what the errors away from the peak may move, by the error in energy, added to that, which is what the program prints",
];

impl Judged {
    pub fn new(result: &CheckResult, reference_mpa: f64) -> Self {
        let (governing, meshes) = (&result.governing, &result.convergence.meshes);
        let series = governing.series_bound_mpa;
        let (mut whole, mut scaled, mut third, mut near, mut sum) = (0.0, 0.0, 0.0, 0.0, 0.0);
        if let [.., before, last] = meshes.as_slice() {
            whole = (last.peak_mpa - before.peak_mpa).abs();
            scaled = last.step_error_mpa.unwrap_or(whole);
            third = last.disagreement_error_mpa;
            sum = last.error_mpa;
            near = sum - last.energy_error_mpa;
        }
        Self {
            peak_mpa: governing.peak.principal_mpa[0],
            unknowns: meshes.last().map_or(0, |mesh| mesh.unknowns),
            true_mpa: (governing.peak.principal_mpa[0] - reference_mpa).abs(),
            bar_mpa: governing.bound_mpa,
            candidates_mpa: [whole, scaled, 3.0 * third, third, scaled.max(third), scaled + third, near, sum]
                .map(|mesh| mesh + series),
        }
    }

    /// The bar over the true error.
    pub fn width(&self) -> f64 {
        self.bar_mpa / self.true_mpa
    }
}

/// One sentence for each estimator.
pub(super) fn facts(judged: &[Judged]) -> Vec<String> {
    let one = |(index, name): (usize, &&str)| {
        let widths = || judged.iter().map(|wheel| wheel.candidates_mpa[index] / wheel.true_mpa);
        let covered = widths().filter(|width| *width >= 1.0).count();
        let least = widths().fold(f64::INFINITY, f64::min);
        format!(
            "Estimator: {name}. It covers the true error on {covered} of {} wheels; over the true error it is {:.1} in \
             the median and {least:.1} at the least.",
            judged.len(),
            median(widths().collect())
        )
    };
    CANDIDATES.iter().enumerate().map(one).collect()
}

/// The bar may be this many times the true error, in the median.
const WIDEST: f64 = 5.0;

/// How large bars, errors and meshes are, and whether the bar is as narrow as is asked. A bar too wide is on the
/// careful side, so it is told and not counted as a miss.
pub(super) fn size_facts(judged: &[Judged]) -> [String; 2] {
    let middle = median(judged.iter().map(Judged::width).collect());
    let met = if middle <= WIDEST { "met" } else { "not met" };
    let most = |get: fn(&Judged) -> f64| {
        100.0 * judged.iter().map(|wheel| get(wheel) / wheel.peak_mpa).fold(0.0, f64::max)
    };
    let unknowns = || judged.iter().map(|wheel| wheel.unknowns);
    [
        format!(
            "The bar is {middle:.1} times the true error in the median; at most {WIDEST:.0} times are asked: {met}."
        ),
        format!(
            "{} wheels; the widest bar is {:.2} % of its peak, the largest true error {:.2} %; judged with {} to {} \
             unknowns.",
            judged.len(),
            most(|wheel| wheel.bar_mpa),
            most(|wheel| wheel.true_mpa),
            unknowns().min().unwrap_or(0),
            unknowns().max().unwrap_or(0),
        ),
    ]
}

/// The middle value, of two the mean; not a number of nothing.
pub(super) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    match values.len() {
        0 => f64::NAN,
        n if n % 2 == 1 => values[middle],
        _ => 0.5 * (values[middle - 1] + values[middle]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_estimator_below_the_error_is_not_counted_as_cover() {
        let wheel = |true_mpa| Judged {
            peak_mpa: 10.0,
            true_mpa,
            bar_mpa: 0.2,
            unknowns: 9000,
            candidates_mpa: [1.0, 0.05, 0.6, 0.2, 0.2, 0.2, 0.2, 0.2],
        };
        let told = facts(&[wheel(0.1), wheel(0.3), wheel(0.1)]);
        assert!(told[0].contains("on 3 of 3 wheels"), "{}", told[0]);
        assert!(told[1].contains("on 0 of 3 wheels"), "{}", told[1]);
        assert!(told[5].contains("on 2 of 3 wheels") && told[5].contains("2.0 in the median"), "{}", told[5]);
        assert!(told[5].contains("0.7 at the least"), "{}", told[5]);
        assert!(size_facts(&[wheel(0.1)])[0].ends_with("asked: met."));
        assert!(size_facts(&[wheel(0.03)])[0].ends_with("asked: not met."));
        assert!(
            size_facts(&[wheel(0.3)])[1]
                .contains("widest bar is 2.00 % of its peak, the largest true error 3.00 %")
        );
        assert_eq!(median(vec![4.0, 1.0, 2.0, 3.0]), 2.5);
    }
}
