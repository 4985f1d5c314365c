//! The history of the ropes' tensions over the travel, up and down, until it repeats or its first slips are seen.
//!
//! Owns the size of the steps, what is kept of them, and when a cycle counts as settled.

use super::{Machine, Run, Work, WrapFault};
use serde::Serialize;
use std::f64::consts::TAU;

/// Steps to a turn at least, and how far one may go along the shortest span.
const STEPS_PER_TURN: f64 = 72.0;
const SHARE_OF_SPAN: f64 = 0.02;
/// Samples kept of one run in one direction.
const SAMPLES: usize = 24;
/// How near to its end a run stops, as a share of its way.
const LEVELLED: f64 = 1e-7;
/// A cycle has settled when no tension at its end moved by more than this share of the largest.
const SETTLED: f64 = 1e-4;

/// Tensions at one moment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sample {
    /// Turns of the sheave since the start, both ways counted.
    pub turns: f64,
    /// Way of the car above its start (mm).
    pub car_mm: f64,
    pub run: Run,
    /// Per rope, per span from car to counterweight (N).
    pub tensions_n: Vec<Vec<f64>>,
    /// (rope, pass) that slip at this moment, counted from 1.
    pub slipping: Vec<[usize; 2]>,
}

/// The first pass that slipped.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FirstSlip {
    pub rope: usize,
    pub pass: usize,
    pub turns: f64,
    pub run: Run,
}

/// One rope over the last cycle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cycle {
    /// Lowest and highest tension of each span (N).
    pub range_n: Vec<[f64; 2]>,
}

/// What a march found.
#[derive(Debug, Clone, Serialize)]
pub struct History {
    /// Every run up or down, the first ones and the last cycle.
    pub samples: Vec<Sample>,
    pub first_slip: Option<FirstSlip>,
    /// Up-and-down cycles marched.
    pub cycles: usize,
    /// Whether the last cycle repeated the one before.
    pub settled: bool,
    pub last_cycle: Vec<Cycle>,
    /// The moment at which a span of a rope was tightest, over all cycles.
    pub tightest: Sample,
    pub turns_per_run: f64,
    #[serde(skip)]
    pub work: Work,
}

/// Marches whole cycles of a run of the car up by `way_mm` and down again, at most `most_cycles`.
///
/// Runs end where the car stands, not at a turn of the sheave: creep lets the car sink a little in every cycle, and
/// the machine levels it again.
///
/// # Errors
/// As [`Machine::step`], or for a way that is no positive number.
pub fn march(machine: &mut Machine, way_mm: f64, most_cycles: usize) -> Result<History, WrapFault> {
    let way_mm = super::finite("the way of a run in mm", way_mm, f64::MIN_POSITIVE, "a positive number")?;
    let radius_mm = mean_radius_mm(machine);
    let (turns_per_run, by) = (way_mm / (TAU * radius_mm), step_rad(machine));
    let steps = (turns_per_run * TAU / by).ceil().max(1.0) as usize;
    let keep = (steps / SAMPLES).max(1);
    let start = sample(machine, Run::CarUp, &[]);
    let mut history = History {
        samples: vec![start.clone()],
        first_slip: None,
        cycles: 0,
        settled: false,
        last_cycle: Vec::new(),
        tightest: start,
        turns_per_run,
        work: Work::default(),
    };
    let mut last_cycle_from = 0;
    while history.cycles < most_cycles && !history.settled {
        // Only the first cycle and the last are of interest.
        if history.cycles >= 2 {
            history.samples.truncate(last_cycle_from);
        }
        last_cycle_from = history.samples.len();
        let begun = machine.tensions_n.clone();
        history.last_cycle = begun.iter().map(|spans| Cycle::new(spans)).collect();
        for run in [Run::CarUp, Run::CarDown] {
            let target = if run == Run::CarUp { way_mm } else { 0.0 };
            let mut step = 0;
            loop {
                let ahead = target - machine.way_mm[0];
                let left = if run == Run::CarUp { ahead } else { -ahead };
                if left <= LEVELLED * way_mm {
                    break;
                }
                if step > 2 * steps {
                    return Err(WrapFault::Stuck { turns: machine.turned_rad / TAU });
                }
                step += 1;
                let slipped = machine.step(run, by.min(left / radius_mm))?;
                if let (None, Some((rope, pass))) = (history.first_slip, slipped.first()) {
                    let turns = machine.turned_rad / TAU;
                    history.first_slip = Some(FirstSlip { rope: rope + 1, pass: pass + 1, turns, run });
                }
                for (cycle, spans) in history.last_cycle.iter_mut().zip(&machine.tensions_n) {
                    cycle.take(spans);
                }
                let now = || sample(machine, run, &slipped);
                if tightest(&machine.tensions_n) > tightest(&history.tightest.tensions_n) {
                    history.tightest = now();
                }
                if step % keep == 0 {
                    history.samples.push(now());
                }
            }
        }
        history.cycles += 1;
        let moved = begun.iter().flatten().zip(machine.tensions_n.iter().flatten());
        let moved = moved.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        history.settled = moved <= SETTLED * tightest(&begun);
    }
    history.work = machine.work;
    Ok(history)
}

impl History {
    /// Turns of the sheave at which the last cycle began.
    pub fn last_cycle_from(&self) -> f64 {
        self.samples.last().map_or(0.0, |last| last.turns - 2.0 * self.turns_per_run)
    }

    /// The samples of the last cycle.
    pub fn last_samples(&self) -> Vec<&Sample> {
        let from = self.last_cycle_from();
        self.samples.iter().filter(|sample| sample.turns > from).collect()
    }

    /// The rope (from 0) whose tension between the passes moves most in the last cycle.
    pub fn widest_rope(&self) -> Option<usize> {
        let spread = |rope: &usize| {
            let [low, high] = self.last_cycle[*rope].range_n[1];
            high - low
        };
        // Of equal ones the first.
        (0..self.last_cycle.len()).rev().max_by(|a, b| spread(a).total_cmp(&spread(b)))
    }
}

impl Cycle {
    fn new(spans: &[f64]) -> Self {
        Self { range_n: spans.iter().map(|t| [*t, *t]).collect() }
    }

    fn take(&mut self, spans: &[f64]) {
        for (range, tension) in self.range_n.iter_mut().zip(spans) {
            *range = [range[0].min(*tension), range[1].max(*tension)];
        }
    }
}

fn tightest(tensions_n: &[Vec<f64>]) -> f64 {
    tensions_n.iter().flatten().copied().fold(0.0, f64::max)
}

fn sample(machine: &Machine, run: Run, slipped: &[(usize, usize)]) -> Sample {
    Sample {
        turns: machine.turned_rad / TAU,
        car_mm: machine.way_mm[0],
        run,
        tensions_n: machine.tensions_n.clone(),
        slipping: slipped.iter().map(|(rope, pass)| [rope + 1, pass + 1]).collect(),
    }
}

fn mean_radius_mm(machine: &Machine) -> f64 {
    let radii = machine.ropes().iter().map(|rope| rope.radii_mm[0]);
    radii.sum::<f64>() / machine.ropes().len() as f64
}

/// A step that neither turns far nor hands on much of the shortest span.
fn step_rad(machine: &Machine) -> f64 {
    let share = machine.ropes().iter().flat_map(|rope| {
        let shortest = rope.lengths_mm.iter().copied().fold(f64::INFINITY, f64::min);
        rope.radii_mm.iter().map(move |radius| SHARE_OF_SPAN * shortest / radius)
    });
    share.fold(TAU / STEPS_PER_TURN, f64::min)
}

#[cfg(test)]
mod tests;
