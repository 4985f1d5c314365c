//! The share of samples that fulfil something, with its own error, and percentiles.

use serde::Serialize;
use statrs::distribution::{ContinuousCDF, Normal};

/// So many of so many samples.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Share {
    pub count: usize,
    pub samples: usize,
}

/// Where the true share lies with a stated confidence.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Interval {
    pub low: f64,
    pub high: f64,
}

impl Share {
    #[must_use]
    pub fn value(self) -> f64 {
        self.count as f64 / self.samples as f64
    }

    /// Interval for the true share: Wilson, J. Amer. Statist. Assoc. 22 (1927) 209, which keeps its meaning where
    /// nearly all samples, or nearly none, fulfil it. `confidence` is that of both ends together.
    #[must_use]
    pub fn wilson(self, confidence: f64) -> Interval {
        let z = Normal::standard().inverse_cdf(0.5 + 0.5 * confidence);
        let (n, p) = (self.samples as f64, self.value());
        let middle = p + z * z / (2.0 * n);
        let half = z * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt();
        let scale = 1.0 + z * z / n;
        Interval { low: ((middle - half) / scale).max(0.0), high: ((middle + half) / scale).min(1.0) }
    }
}

/// The value below which a share of the sorted values lies, straight between neighbours; not a number without values.
#[must_use]
pub fn percentile(sorted: &[f64], share: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else { return f64::NAN };
    let at = share.clamp(0.0, 1.0) * last as f64;
    let below = at.floor() as usize;
    let above = (below + 1).min(last);
    sorted[below] + (at - below as f64) * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3: 81 of 263, 15 of 148, 0 of 20, 1 of 29.
    #[test]
    fn intervals_agree_with_published_ones() {
        let published = [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0000, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ];
        for (count, samples, low, high) in published {
            let found = Share { count, samples }.wilson(0.95);
            assert!((found.low - low).abs() < 6e-5 && (found.high - high).abs() < 6e-5, "{found:?}");
        }
    }

    #[test]
    fn all_of_them_is_never_certain() {
        let found = Share { count: 10_000, samples: 10_000 }.wilson(0.95);
        assert!(found.low > 0.999 && found.low < 0.9999 && found.high == 1.0, "{found:?}");
    }

    #[test]
    fn percentiles_lie_between_neighbours() {
        let values = [1.0, 2.0, 4.0, 8.0, 16.0];
        assert_eq!(percentile(&values, 0.5), 4.0);
        assert_eq!(percentile(&values, 0.625), 6.0);
        assert_eq!((percentile(&values, 0.0), percentile(&values, 1.0)), (1.0, 16.0));
        assert!(percentile(&[], 0.5).is_nan());
    }
}
