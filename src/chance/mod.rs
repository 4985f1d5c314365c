//! Chance: distributions, shares of samples with their own error, response surfaces, shares of variance.
//!
//! Owns statistics of plain numbers. Lacks sheaves, units and files. Every draw comes from a seeded generator of a
//! fixed algorithm and in a fixed order, so that one seed gives one answer on every number of threads.

mod sensitivity;
mod share;
mod spread;
mod surface;

pub use sensitivity::{Index, indices};
pub use share::{Interval, Share, percentile};
pub use spread::{Spread, Stream, stream};
pub use surface::{Surface, SurfaceFault, monomials};
