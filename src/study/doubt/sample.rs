//! The samples: a column of draws for every quantity, and the factors that they give.

use super::inputs::{Doubtful, Quantity};
use super::response::Calibrated;
use super::result::Band;
use super::wheel::Wheel;
use crate::chance::{Share, Spread, percentile, stream};

/// Streams of draws, so that one purpose never shifts another's.
pub(super) mod purposes {
    pub const FULL: u32 = 1;
    pub const SHARES: u32 = 2;
    /// Every quantity has its own, from here on.
    pub const QUANTITIES: u32 = 16;
}

#[derive(Clone)]
pub(super) struct Samples {
    columns: Vec<Vec<f64>>,
    count: usize,
    seed: u32,
}

impl Samples {
    pub fn draw(list: &[Doubtful], count: usize, seed: u32) -> Self {
        let mut samples = Self { columns: vec![Vec::new(); list.len()], count, seed };
        list.iter().for_each(|one| samples.spread(one.quantity, one.spread));
        samples
    }

    fn spread(&mut self, quantity: Quantity, spread: Spread) {
        let mut stream = stream(self.seed, purposes::QUANTITIES + quantity as u32);
        self.columns[quantity as usize] = (0..self.count).map(|_| spread.draw(&mut stream)).collect();
    }

    /// The same samples with one quantity spread otherwise: all others keep their draws.
    pub fn with(&self, quantity: Quantity, spread: Spread) -> Self {
        let mut other = self.clone();
        other.spread(quantity, spread);
        other
    }

    /// The same samples with one quantity known.
    pub fn known(&self, quantity: Quantity, value: f64) -> Self {
        let mut other = self.clone();
        other.columns[quantity as usize].fill(value);
        other
    }

    pub fn row(&self, sample: usize) -> [f64; Quantity::COUNT] {
        std::array::from_fn(|quantity| self.columns[quantity][sample])
    }

    /// The factor of every sample; nothing where the wall is thinner than can be analysed.
    pub fn factors(&self, surfaces: &Calibrated<'_>, wheel: &Wheel<'_>) -> Factors {
        let mut without_section = 0;
        let mut sorted: Vec<f64> = (0..self.count)
            .map(|sample| {
                let row = self.row(sample);
                if surfaces.is_below(wheel, &row) {
                    without_section += 1;
                    return 0.0;
                }
                surfaces.log_factor(wheel, &row).exp()
            })
            .collect();
        sorted.sort_by(f64::total_cmp);
        Factors { sorted, without_section }
    }
}

/// The factors of all samples, the smallest first.
pub(super) struct Factors {
    sorted: Vec<f64>,
    pub without_section: usize,
}

impl Factors {
    /// How many reach what is required.
    pub fn share(&self, required: f64) -> Share {
        let below = self.sorted.partition_point(|factor| *factor < required);
        Share { count: self.sorted.len() - below, samples: self.sorted.len() }
    }

    /// The factor that this share of the samples reaches.
    pub fn reached_by(&self, share: f64) -> f64 {
        percentile(&self.sorted, 1.0 - share)
    }

    pub fn band(&self) -> Band {
        let at = |share: f64| percentile(&self.sorted, share);
        Band { p05: at(0.05), p50: at(0.5), p95: at(0.95) }
    }
}
