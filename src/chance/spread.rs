//! How a doubtful value is distributed about its middle, and the generator that draws it.

use crate::seeded::{Fault, planted};
use rand::SeedableRng;
use rand::rngs::Xoshiro256PlusPlus;
use rand_distr::{Distribution, StandardNormal, StudentT, Uniform};
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// The generator of all draws: xoshiro256++ of Blackman and Vigna (2021), whose algorithm is fixed.
pub type Stream = Xoshiro256PlusPlus;

/// An independent stream of draws for each purpose of one seed.
#[must_use]
pub fn stream(seed: u32, purpose: u32) -> Stream {
    Stream::seed_from_u64((u64::from(seed) << 32) | u64::from(purpose))
}

/// A distribution about zero; deviations are in the unit of the value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// Not in doubt.
    Known,
    Normal {
        sd: f64,
    },
    /// Student's t, scaled: what a fit with this many spare readings predicts.
    Student {
        scale: f64,
        dof: usize,
    },
    /// Any value within plus or minus this much alike.
    Even {
        half: f64,
    },
    /// The whole numbers from 0 to one less than this, alike.
    OneOf {
        count: usize,
    },
}

impl Spread {
    /// A value that is stated plus or minus: two standard deviations of a normal distribution.
    #[must_use]
    pub fn plus_or_minus(two_sd: f64) -> Self {
        let sd = if planted(Fault::TwoDeviationsAsOne) { two_sd } else { 0.5 * two_sd };
        if sd > 0.0 { Self::Normal { sd } } else { Self::Known }
    }

    /// Whether anything can be drawn but the middle.
    #[must_use]
    pub fn varies(self) -> bool {
        match self {
            Self::Known => false,
            Self::Normal { sd } => sd > 0.0,
            Self::Student { scale, .. } => scale > 0.0,
            Self::Even { half } => half > 0.0,
            Self::OneOf { count } => count > 1,
        }
    }

    /// One deviation.
    pub fn draw(self, stream: &mut Stream) -> f64 {
        match self {
            Self::Known => 0.0,
            Self::Normal { sd } => {
                let unit: f64 = StandardNormal.sample(stream);
                sd * unit
            }
            // A distribution with at least one degree of freedom always exists.
            Self::Student { scale, dof } => {
                StudentT::new(dof.max(1) as f64).map_or(f64::NAN, |t| scale * t.sample(stream))
            }
            Self::Even { half } => {
                Uniform::new_inclusive(-half, half).map_or(f64::NAN, |even| even.sample(stream))
            }
            Self::OneOf { count } => {
                Uniform::new(0, count).map_or(f64::NAN, |which| which.sample(stream) as f64)
            }
        }
    }

    /// The deviation below which this share of all draws lies; not for [`Spread::OneOf`], whose draws have no order.
    #[must_use]
    pub fn quantile(self, share: f64) -> f64 {
        match self {
            Self::Known | Self::OneOf { .. } => 0.0,
            Self::Normal { sd } => Normal::standard().inverse_cdf(share) * sd,
            Self::Student { scale, dof } => {
                StudentsT::new(0.0, scale, dof.max(1) as f64).map_or(f64::NAN, |t| t.inverse_cdf(share))
            }
            Self::Even { half } => half * (2.0 * share - 1.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chance::percentile;

    #[test]
    fn draws_follow_their_quantiles() {
        let spreads = [
            Spread::Normal { sd: 2.0 },
            Spread::Student { scale: 1.5, dof: 3 },
            Spread::Even { half: 0.7 },
            Spread::plus_or_minus(0.5),
        ];
        for spread in spreads {
            let mut stream = stream(7, 0);
            let mut draws: Vec<f64> = (0..20_000).map(|_| spread.draw(&mut stream)).collect();
            draws.sort_by(f64::total_cmp);
            for share in [0.05, 0.5, 0.95] {
                let (found, exact) = (percentile(&draws, share), spread.quantile(share));
                let width = spread.quantile(0.84) - spread.quantile(0.16);
                assert!((found - exact).abs() < 0.04 * width, "{spread:?} {share}: {found} {exact}");
            }
        }
    }

    #[test]
    fn each_of_several_comes_up_alike() {
        let mut stream = stream(7, 0);
        let mut counts = [0usize; 5];
        (0..10_000).for_each(|_| counts[Spread::OneOf { count: 5 }.draw(&mut stream) as usize] += 1);
        // Five standard deviations of a binomial count of 2000.
        assert!(counts.iter().all(|count| count.abs_diff(2000) < 200), "{counts:?}");
    }

    #[test]
    fn streams_of_one_seed_differ_and_come_again() {
        let draw = |seed, purpose| Spread::Normal { sd: 1.0 }.draw(&mut stream(seed, purpose));
        assert_eq!(draw(3, 1).to_bits(), draw(3, 1).to_bits());
        assert!(draw(3, 1) != draw(3, 2) && draw(3, 1) != draw(4, 1) && draw(1, 0) != draw(0, 1));
    }
}
