//! Which input the scatter of a result comes from: shares of variance (Sobol indices).
//!
//! First-order shares by Saltelli et al., Computer Physics Communications 181 (2010) 259, table 2 (b); whole shares by
//! Jansen, Computer Physics Communications 117 (1999) 35. Both need inputs that are independent of each other.

use super::{Spread, Stream};
use serde::Serialize;

/// What one input contributes to the variance of the result.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Index {
    /// Share that would go if this input alone were known.
    #[serde(rename = "first_order_share")]
    pub first: f64,
    #[serde(rename = "first_order_share_error")]
    pub first_error: f64,
    /// Share that this input takes part in, together with others too.
    #[serde(rename = "total_share")]
    pub total: f64,
    #[serde(rename = "total_share_error")]
    pub total_error: f64,
}

/// Shares of the variance of `response` for every input; errors are standard errors of the sampling. A response that
/// does not vary gives no share.
pub fn indices(
    inputs: &[Spread],
    response: &impl Fn(&[f64]) -> f64,
    samples: usize,
    stream: &mut Stream,
) -> Vec<Index> {
    let mut rows = || -> Vec<Vec<f64>> {
        (0..samples).map(|_| inputs.iter().map(|input| input.draw(stream)).collect()).collect()
    };
    let (a, b) = (rows(), rows());
    let of = |rows: &[Vec<f64>]| -> Vec<f64> { rows.iter().map(|row| response(row)).collect() };
    let (at_a, at_b) = (of(&a), of(&b));
    let all = || at_a.iter().chain(&at_b);
    let (mean, variance) = mean_and_variance(all().copied());
    let mut list = Vec::new();
    for input in 0..inputs.len() {
        if variance <= f64::MIN_POSITIVE {
            list.push(Index { first: 0.0, first_error: 0.0, total: 0.0, total_error: 0.0 });
            continue;
        }
        let (mut first, mut total) = (Vec::with_capacity(samples), Vec::with_capacity(samples));
        let mut row = vec![0.0; inputs.len()];
        for j in 0..samples {
            row.copy_from_slice(&a[j]);
            row[input] = b[j][input];
            let step = response(&row) - at_a[j];
            // The product's mean is the same about any point; about the mean it scatters least.
            first.push((at_b[j] - mean) * step / variance);
            total.push(0.5 * step * step / variance);
        }
        let [(first, first_of), (total, total_of)] =
            [first, total].map(|values| mean_and_variance(values.into_iter()));
        let error = |variance: f64| (variance / samples as f64).sqrt();
        list.push(Index { first, first_error: error(first_of), total, total_error: error(total_of) });
    }
    list
}

fn mean_and_variance(values: impl Iterator<Item = f64> + Clone) -> (f64, f64) {
    let count = values.clone().count().max(1) as f64;
    let mean = values.clone().sum::<f64>() / count;
    (mean, values.map(|value| (value - mean).powi(2)).sum::<f64>() / count)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chance::stream;

    #[test]
    fn a_sum_shares_its_variance_as_its_parts_have_it() {
        let inputs = [Spread::Normal { sd: 3.0 }, Spread::Normal { sd: 4.0 }, Spread::Known];
        let found = indices(&inputs, &|row: &[f64]| row.iter().sum(), 20_000, &mut stream(1, 0));
        for (index, share) in found.iter().zip([0.36, 0.64, 0.0]) {
            assert!((index.first - share).abs() <= 4.0 * index.first_error, "{index:?} {share}");
            assert!((index.total - share).abs() <= 4.0 * index.total_error, "{index:?} {share}");
        }
        assert_eq!((found[2].first, found[2].total), (0.0, 0.0));
    }

    #[test]
    fn a_product_of_two_has_no_first_order() {
        let inputs = [Spread::Normal { sd: 1.0 }; 2];
        let found = indices(&inputs, &|row: &[f64]| row[0] * row[1], 20_000, &mut stream(1, 0));
        for index in found {
            assert!(index.first.abs() < 4.0 * index.first_error, "{index:?}");
            assert!((index.total - 1.0).abs() < 4.0 * index.total_error, "{index:?}");
        }
    }

    #[test]
    fn nothing_varies_and_nothing_is_shared() {
        let found = indices(&[Spread::Known], &|_: &[f64]| 2.0, 10, &mut stream(1, 0));
        assert_eq!(found[0].first, 0.0);
    }
}
