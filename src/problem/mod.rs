//! The explicit model file: an elastic problem of a body of revolution, as a person or a program writes it.
//!
//! Owns the format of `model.toml`, its reading with all faults at once, its writing, and the answer to
//! it as one value. Lacks surveys, verdicts and the opening of files. It takes rope loads from the
//! hoist, so it stands above that room.
//! Numbers in the file are plain; their unit stands in the key. Units inside: mm, N, MPa, rad, t.

mod answer;
mod read;
mod write;

pub use answer::{Answer, CaseAnswer, NamedStress, PeakAnswer, ProbeAnswer};
pub use read::{Reading, read};
pub use write::{WriteFault, write};

use crate::elastic::{Model, Options, Region};
use crate::geometry::Point;
use crate::mesh::Mesh;

/// A model with what is asked about it.
#[derive(Debug, Clone)]
pub struct Problem {
    pub model: Model,
    pub extras: Extras,
}

/// What a model file holds besides the model.
#[derive(Debug, Clone, Default)]
pub struct Extras {
    pub series: Options,
    pub search: Search,
    pub probes: Vec<Probe>,
}

/// Limits of the search for the highest tension.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Search {
    /// Nothing below this radius is searched (mm).
    pub below_r_mm: Option<f64>,
    /// Only edges with these tags are searched; the whole body when empty.
    pub tags: Vec<String>,
}

/// A place at which displacement and stress are asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    pub name: String,
    pub at: Point,
    pub theta_rad: Vec<f64>,
    /// Name of the case; every case when there is none.
    pub case: Option<String>,
}

impl Problem {
    /// Whether a place lies above the radius below which nothing is searched.
    pub fn counts(&self, p: Point) -> bool {
        self.extras.search.below_r_mm.is_none_or(|radius| p.r >= radius)
    }

    /// Where the highest tension counts when the series ends with harmonic `last`.
    pub fn region(&self, mesh: &Mesh, last: usize) -> Region {
        let mut region = Region::of(&self.model, mesh, last);
        if let Some(radius) = self.extras.search.below_r_mm {
            region.fence(mesh, radius);
        }
        if !self.extras.search.tags.is_empty() {
            region.only_on(mesh, &self.extras.search.tags);
        }
        region
    }
}
