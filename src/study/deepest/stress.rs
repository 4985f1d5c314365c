//! Whole checks along one changed value, and the value at which strength ends to hold.
//!
//! Every value tried is a whole multiple of the grain, so that a survey which states it meets the same check.
//! Units: mm, MPa.

use super::super::check::{Asked, check};
use super::super::{CheckFault, CheckResult};
use crate::elastic::ElasticFault;
use crate::survey::Survey;
use crate::verdict::{Check, Standing, Status, Word};
use serde::Serialize;

/// Most whole checks to narrow one bracket.
const MOST_TRIES: usize = 9;
/// A value is near enough when what it leaves to the allowable is this share of the peak's own error bar.
const NEAR_BARS: f64 = 0.25;

/// Grains by which it is looked further for what ends at a limit.
const FURTHER: [f64; 4] = [1.0, 2.0, 4.0, 8.0];
/// Where strength begins to reject decides nothing beyond the deepest cut, and is found this well (share of the
/// allowable).
const NEAR_REJECTION: f64 = 0.02;

/// One whole check.
#[derive(Debug, Clone, Serialize)]
pub struct Tested {
    /// The changed value: depth of the cut, or what the walls are moved by.
    pub value_mm: f64,
    pub word: Option<Word>,
    /// Checks that decided, by their keys.
    pub deciding: Vec<&'static str>,
    pub peak_mpa: f64,
    pub bound_mpa: f64,
    pub least_factor: f64,
    pub section_mpa: Option<f64>,
    pub notch_mpa: Option<f64>,
    /// Least wall of all judged places.
    pub wall_mm: Option<f64>,
    pub diameter_ratio: f64,
    /// Largest use of the allowed stresses, error bars on top; 1 is the limit.
    pub most_use: f64,
    /// The same for what rejects when the peak alone would be left to the engineer, error bars taken off.
    pub reject_use: f64,
    /// Every check of strength holds.
    pub holds: bool,
    /// A check of strength rejects.
    pub rejects: bool,
    /// What the first check of strength that does not hold says.
    pub reason: Option<String>,
}

impl Tested {
    fn of(value_mm: f64, result: &CheckResult) -> Self {
        let governing = &result.governing;
        let strength: Vec<&Check> =
            result.checks.iter().filter(|check| check.standing == Standing::Strength).collect();
        let allowed = result.allowable_mpa;
        // Where the strength is assumed, the low end of what the hardness leaves open must hold as well.
        let band = result.hardness_band.as_ref().filter(|band| band.strength_assumed);
        let veto = band.map_or(1.0, |band| (allowed / band.levels[0].allowable_mpa).max(1.0));
        let section = governing.wall.as_ref().map(|wall| (wall.section_mpa, wall.section_bound_mpa));
        let notch = governing.notch.as_ref().map(|notch| (notch.notch_mpa, notch.bound_mpa));
        let peak = (governing.peak.principal_mpa[0], governing.bound_mpa);
        let over = |(mpa, bound): (f64, f64)| (mpa + bound) / allowed;
        let under = |(mpa, bound): (f64, f64)| (mpa - bound) / allowed;
        let factors = strength.iter().filter(|check| matches!(check.key, "least_factor" | "bound_factor"));
        let factors =
            factors.filter_map(|check| Some(check.limit?.value / check.found?.value)).fold(0.0, f64::max);
        let averaged = [section, notch].into_iter().flatten().map(under).fold(0.0, f64::max);
        let wall = result.checks.iter().find(|check| check.key == "wall");
        let fails = strength.iter().find(|check| !matches!(check.status, Status::Holds | Status::Noted));
        Self {
            value_mm,
            word: Some(result.verdict.word),
            deciding: result.verdict.deciding.clone(),
            peak_mpa: peak.0,
            bound_mpa: peak.1,
            least_factor: governing.least_factor,
            section_mpa: section.map(|(mpa, _)| mpa),
            notch_mpa: notch.map(|(mpa, _)| mpa),
            wall_mm: wall.and_then(|check| check.found).map(|found| found.value),
            diameter_ratio: result.facts.least_diameter_ratio,
            most_use: veto
                * [Some(peak), section, notch].into_iter().flatten().map(over).fold(factors, f64::max),
            reject_use: if averaged > 0.0 { averaged } else { under(peak) },
            holds: fails.is_none(),
            rejects: strength.iter().any(|check| check.status == Status::Fails),
            reason: fails.and_then(|check| check.remark.clone()),
        }
    }

    /// A value at which no stress can be found, because too little iron is left to draw.
    fn none(value_mm: f64, fault: &CheckFault) -> Self {
        Self {
            value_mm,
            word: None,
            deciding: Vec::new(),
            peak_mpa: f64::NAN,
            bound_mpa: f64::NAN,
            least_factor: f64::NAN,
            section_mpa: None,
            notch_mpa: None,
            wall_mm: None,
            diameter_ratio: f64::NAN,
            most_use: f64::INFINITY,
            reject_use: f64::INFINITY,
            holds: false,
            rejects: true,
            reason: Some(match fault {
                CheckFault::Section { faults, .. } if !faults.is_empty() => {
                    format!("No section can be drawn there: {}.", faults[0].fault)
                }
                other => other.to_string(),
            }),
        }
    }

    fn gap_bars(&self) -> f64 {
        (1.0 - self.most_use) * (self.peak_mpa + self.bound_mpa) / (self.most_use * self.bound_mpa)
    }
}

/// Which end of strength is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Some check of strength no longer holds.
    Holding,
    /// Strength rejects.
    Undecided,
}

impl End {
    pub fn is_before(self, tested: &Tested) -> bool {
        match self {
            Self::Holding => tested.holds,
            Self::Undecided => !tested.rejects,
        }
    }

    fn usage(self, tested: &Tested) -> f64 {
        match self {
            Self::Holding => tested.most_use,
            Self::Undecided => tested.reject_use,
        }
    }
}

/// Whole checks along one changed value, each made once.
pub(super) struct Trials<'a> {
    pub changed: &'a dyn Fn(f64) -> Survey,
    /// The changed value in words, for progress.
    pub what: &'a dyn Fn(f64) -> String,
    pub progress: &'a dyn Fn(&str),
    pub grain_mm: f64,
    pub list: Vec<Tested>,
}

impl Trials<'_> {
    /// # Errors
    /// When an analysis fails for another reason than too little iron.
    pub fn at(&mut self, value_mm: f64) -> Result<Tested, CheckFault> {
        let near = |tested: &&Tested| (tested.value_mm - value_mm).abs() < 1e-9;
        if let Some(known) = self.list.iter().find(near) {
            return Ok(known.clone());
        }
        (self.progress)(&format!("stress {} (whole check {})", (self.what)(value_mm), self.list.len() + 1));
        let asked = &Asked { judged_only: true, ..Asked::default() };
        let tested = match check(&(self.changed)(value_mm), asked, &|_| ()) {
            Ok(outcome) => Tested::of(value_mm, &outcome.result),
            Err(fault @ (CheckFault::Section { .. } | CheckFault::Elastic(ElasticFault::Mesh(_)))) => {
                Tested::none(value_mm, &fault)
            }
            Err(fault) => return Err(fault),
        };
        self.list.push(tested.clone());
        Ok(tested)
    }

    /// Between a value before the end and one beyond it: the last one before it, next to one beyond it or so
    /// near the limit that the error bar covers the rest, and the nearest known beyond it. False position on
    /// the logarithm of the use, halving where that stalls.
    ///
    /// # Errors
    /// As [`Trials::at`].
    pub fn narrow(
        &mut self,
        end: End,
        before: Tested,
        beyond: Tested,
    ) -> Result<(Tested, Tested), CheckFault> {
        let (mut before, mut beyond) = (before, beyond);
        let grain = self.grain_mm;
        let mut stalled = 0i32;
        for _ in 0..MOST_TRIES {
            let room = beyond.value_mm - before.value_mm;
            let near = match end {
                End::Holding => before.gap_bars() < NEAR_BARS,
                End::Undecided => end.usage(&before) > 1.0 - NEAR_REJECTION || room.abs() < 5.5 * grain,
            };
            if near || room.abs() < 1.5 * grain {
                break;
            }
            let (low, high) = (end.usage(&before).ln(), end.usage(&beyond).ln());
            // Aimed a little before the limit, because only what lies before it can be the answer.
            let share = (-0.001 - low) / (high - low);
            let usable = stalled.abs() < 2 && share.is_finite();
            let share = if usable { share.clamp(0.03, 0.97) } else { 0.5 };
            let steps = (room.abs() / grain).round();
            let step = (share * steps).round().clamp(1.0, steps - 1.0);
            let value = ((before.value_mm + step * grain * room.signum()) / grain).round() * grain;
            let tested = self.at(value)?;
            if end.is_before(&tested) {
                before = tested;
                stalled = stalled.max(0) + 1;
            } else {
                beyond = tested;
                stalled = stalled.min(0) - 1;
            }
        }
        Ok((before, beyond))
    }

    /// From what [`Trials::narrow`] found a few grains further: the last value before the end, and one beyond it
    /// that lies near enough to say what ends there.
    ///
    /// # Errors
    /// As [`Trials::at`].
    pub fn further(
        &mut self,
        end: End,
        (mut before, mut beyond): (Tested, Tested),
    ) -> Result<(Tested, Tested), CheckFault> {
        let grain = self.grain_mm;
        for grains in FURTHER {
            let step = grains * grain;
            let room = beyond.value_mm - before.value_mm;
            if room.abs() < step + 0.5 * grain {
                break;
            }
            let value = ((before.value_mm + step * room.signum()) / grain).round() * grain;
            let tested = self.at(value)?;
            if !end.is_before(&tested) {
                beyond = tested;
                break;
            }
            before = tested;
        }
        Ok((before, beyond))
    }
}
