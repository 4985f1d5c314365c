//! What a check hands out: plain values for reports, JSON and further studies.

use super::consequences::Consequences;
use super::equalise::Equalised;
use super::iron::{HardnessBand, SectionSize};
use super::{Flaw, Notch, Settled, ThroughWall, Turns};
use crate::elastic::{Balance, BlockStep, Exclusion, Growth, Peak};
use crate::hoist::{CaseKind, LoadCase};
use crate::material::Metal;
use crate::mesh::Quality;
use crate::section::{Kind, Place, Section, State, UncleanGroove, WallLeft};
use crate::survey::thin_spot::ThinSpot;
use crate::verdict::{Check, Verdict};
use serde::Serialize;

/// The findings together with the fields they come from.
pub struct Outcome {
    pub result: CheckResult,
    /// The governing place and its section.
    pub place: Place,
    pub section: Section,
    /// The finest analysis of the governing place.
    pub analysis: super::Analysis,
}

/// The whole answer of one check.
#[derive(Debug, Clone, Serialize)]
pub struct CheckResult {
    pub verdict: Verdict,
    pub checks: Vec<Check>,
    /// The state that is judged.
    pub state: State,
    pub cut_depth_mm: Option<f64>,
    pub loads: Loads,
    pub metal: Metal,
    pub safety_factor: f64,
    pub allowable_mpa: f64,
    pub places: Vec<PlaceResult>,
    pub thin_spots: Vec<Option<ThinSpot>>,
    pub governing: Governing,
    pub cases: Vec<CaseResult>,
    /// What equal rope tensions would bring; `None` where they are equal.
    pub equalised: Option<Equalised>,
    pub variants: Vec<Variant>,
    pub facts: Facts,
    /// What a cut changes besides the stress.
    pub consequences: Consequences,
    /// Strengths that the hardness leaves open, for gray iron with readings.
    pub hardness_band: Option<HardnessBand>,
    /// What the section's thickness takes away from a test bar's strength, for gray iron.
    pub section_size: Option<SectionSize>,
    pub unclean: Vec<UncleanGroove>,
    pub convergence: Convergence,
    /// The stress cycle of one turn; `None` for metals whose endurance limit is not known.
    pub turns: Option<Turns>,
    /// Surface cracks at the highest tension and at chosen places; empty for metals whose toughness is not known.
    pub flaws: Vec<Flaw>,
    /// What the answer rests on besides measurements.
    pub assumptions: Vec<String>,
    /// What is not known and stays open.
    pub missing: Vec<String>,
    pub cautions: Vec<String>,
}

/// Rope tensions and how they came about.
#[derive(Debug, Clone, Serialize)]
pub struct Loads {
    /// The case that is judged, with its unequal tensions.
    pub judged: LoadCase,
    pub cases: Vec<LoadCase>,
    /// Groove that carries the hottest rope (counted from 1); `None` when tensions are as measured.
    pub hottest_groove: Option<usize>,
    pub tension_spread: f64,
    /// Vector sum of the rope pulls, and what the tractions on the seats add up to (N).
    pub pulls_n: f64,
    pub applied_n: f64,
    pub reaction_n: f64,
    pub moment_nmm: f64,
    pub run_in_mm: f64,
}

/// One place around the rim.
#[derive(Debug, Clone, Serialize)]
pub struct PlaceResult {
    pub kind: Kind,
    pub name: String,
    pub walls: Vec<WallLeft>,
    /// Highest tension there: on the coarse mesh of all places, times what the governing place's refined peak is
    /// to its own on that mesh. `None` when no section can be built.
    pub peak_mpa: Option<f64>,
    pub factor: Option<f64>,
    /// Principal stresses where the strength is used most, for judging another strength.
    #[serde(skip)]
    pub(super) worst_mpa: Option<[f64; 3]>,
    pub peak_place: Option<String>,
    /// Why there is no stress.
    pub fault: Option<String>,
}

impl PlaceResult {
    /// Corrects the coarse mesh's stress by what is known of its error.
    pub(super) fn scale(&mut self, by: f64) {
        self.peak_mpa = self.peak_mpa.map(|mpa| by * mpa);
        self.factor = self.factor.map(|factor| factor / by);
        self.worst_mpa = self.worst_mpa.map(|principal| principal.map(|mpa| by * mpa));
    }
}

/// The governing place in detail.
#[derive(Debug, Clone, Serialize)]
pub struct Governing {
    /// Index into `places`, from 0.
    #[serde(rename = "place_index")]
    pub place: usize,
    pub peak: Peak,
    pub peak_words: String,
    /// Bound on the error of the peak from mesh and series (MPa).
    pub bound_mpa: f64,
    /// The series' part of it.
    pub series_bound_mpa: f64,
    /// Factor on ultimate strength at the highest tension.
    pub tension_factor: f64,
    /// Smallest factor anywhere, by the criterion that fits the metal, and its place.
    pub least_factor: f64,
    pub least_factor_peak: Peak,
    pub least_factor_words: String,
    pub equivalent_mpa: f64,
    pub wall: Option<ThroughWall>,
    /// Stress at the iron's critical distance, for gray iron.
    pub notch: Option<Notch>,
    /// Why gray iron has no such stress here.
    pub notch_missing: Option<String>,
    /// What would settle a slot corner over the allowable; empty where none decides.
    pub settle: Vec<Settled>,
    /// Highest tension on each named part of the section, the highest first.
    pub parts: Vec<PartPeak>,
}

/// Highest tension on one named part of the section.
#[derive(Debug, Clone, Serialize)]
pub struct PartPeak {
    pub part: String,
    pub peak_mpa: f64,
}

/// A load case at the governing place: on the coarse mesh, corrected as [`PlaceResult::peak_mpa`] is.
#[derive(Debug, Clone, Serialize)]
pub struct CaseResult {
    pub kind: CaseKind,
    pub name: String,
    pub heavy_n: f64,
    pub light_n: f64,
    pub peak_mpa: f64,
    pub least_factor: f64,
    pub peak_words: String,
}

impl CaseResult {
    /// Corrects the coarse mesh's stress by what is known of its error.
    pub(super) fn scale(&mut self, by: f64) {
        self.peak_mpa *= by;
        self.least_factor /= by;
    }
}

/// The peak under another assumption about the ropes.
#[derive(Debug, Clone, Serialize)]
pub struct Variant {
    pub name: String,
    pub peak_mpa: f64,
    /// Change against the judged case on the same mesh, relative.
    #[serde(rename = "relative_change")]
    pub change: f64,
}

/// Dimensions that follow from the survey.
#[derive(Debug, Clone, Serialize)]
pub struct Facts {
    pub grooves: Vec<GrooveFacts>,
    pub least_diameter_ratio: f64,
    /// Depth that may still be cut before the pitch diameter falls below its rule (mm); negative when it
    /// is below already.
    pub cut_left_by_diameter_mm: f64,
    pub pressure_mpa: Option<f64>,
    pub pressure_limit_mpa: Option<f64>,
    pub rope_speed_m_s: Option<f64>,
    /// Car speed after the cut, in proportion to the pitch diameter.
    pub car_speed_after_m_s: Option<f64>,
    pub traction: Vec<TractionFact>,
}

#[derive(Debug, Clone, Serialize)]
pub struct GrooveFacts {
    pub groove: usize,
    pub depth_now_mm: f64,
    pub depth_judged_mm: f64,
    pub pitch_diameter_now_mm: f64,
    pub pitch_diameter_judged_mm: f64,
}

/// Traction in one case: ratio of tensions against what friction can hold.
#[derive(Debug, Clone, Serialize)]
pub struct TractionFact {
    pub case: String,
    #[serde(rename = "tension_ratio")]
    pub ratio: f64,
    #[serde(rename = "limit_ratio")]
    pub limit: f64,
    #[serde(rename = "friction_factor")]
    pub friction: f64,
    /// True when the ratio must not exceed the limit, false when it must reach it.
    pub at_most: bool,
}

/// How the governing stress settled with mesh and harmonics.
#[derive(Debug, Clone, Serialize)]
pub struct Convergence {
    pub meshes: Vec<MeshStep>,
    pub blocks: Vec<BlockStep>,
    pub balance: Balance,
    /// Largest relative gap between applied and asked-for resultant.
    #[serde(rename = "relative_resultant_gap")]
    pub resultant_gap: f64,
    #[serde(rename = "relative_residual")]
    pub residual: f64,
    pub exclusions: Vec<Exclusion>,
    /// How the stress grows beside corners without a radius in the judged part; empty without any.
    pub growth: Vec<Growth>,
}

#[derive(Debug, Clone, Serialize)]
pub struct MeshStep {
    pub quality: Quality,
    pub unknowns: usize,
    pub last_harmonic: usize,
    pub peak_mpa: f64,
    /// Mean element side at the peak (mm).
    pub side_mm: f64,
    /// The mesh's error by the step from the mesh before (MPa).
    pub step_error_mpa: Option<f64>,
    /// The mesh's error by what the elements at the peak disagree about (MPa).
    pub disagreement_error_mpa: f64,
    /// The stress that the mesh leaves across a surface without load (MPa).
    pub surface_error_mpa: Option<f64>,
    /// Root of the energy of the stress error over that of the stress, in rim and web at the peak's angle.
    #[serde(rename = "energy_error_ratio")]
    pub energy_error: f64,
    /// What the errors away from the peak may move it by, from the square of that ratio (MPa).
    pub energy_error_mpa: f64,
    /// The mesh's share of the bar: the larger of what the elements disagree about and what is left across the
    /// surface, what the errors away from the peak move, and beyond the coarse mesh the step.
    pub error_mpa: f64,
}
