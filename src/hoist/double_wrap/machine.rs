//! Parallel ropes on one drive sheave, moved step by step: rope handed from span to span, and slip.
//!
//! Every span holds an unstrained length N; its tension is EA·(l/N − 1) (Hooke's law). A pass of pitch radius R
//! hands on R·dφ/(1 + T_on/EA) of it, T_on being the tension where the rope comes on (no slip on the idle arc);
//! where the ratio over a pass would exceed e^(fα) rope slides until it does not (Euler–Eytelwein). Car and
//! counterweight hang freely: the sums of the tensions on either side stay what they were. Own derivation from
//! equilibrium, Hooke's law and the conservation of rope; the single rope with one turn of mismatch agrees with
//! EA·π·ΔD/L. Assumptions: no rope is stored on the arcs, its weight does not change the tensions with the travel,
//! every rope's ends move with car and counterweight, bending stiffness and the other pulleys' friction are left out.

use super::{Run, WrapFault, finite};

/// Most sweeps of slip over all passes within a step.
const MOST_SWEEPS: usize = 2000;
/// Ratio over a pass beyond its limit that counts as none.
const SLIP_TOLERANCE: f64 = 1e-10;

/// One rope: spans from car to counterweight, and the passes between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Rope {
    /// EA (N).
    pub stiffness_n: f64,
    /// Free length of each span under its tension (mm), one more than passes.
    pub lengths_mm: Vec<f64>,
    /// Tension of each span at the start (N).
    pub tensions_n: Vec<f64>,
    /// Pitch radius of each pass (mm).
    pub radii_mm: Vec<f64>,
    /// f·α of each pass.
    pub grips: Vec<f64>,
}

/// Work and loss since the start (N·mm).
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Work {
    /// Done by the machine on the drive sheave.
    pub machine_nmm: f64,
    /// Done on car and counterweight.
    pub lifted_nmm: f64,
    /// Lost by creep on the active arcs.
    pub creep_nmm: f64,
    /// Lost by whole passes that slid.
    pub slip_nmm: f64,
    /// Gained by the ropes' own stretch.
    pub stretch_nmm: f64,
}

impl Work {
    /// What the machine's work does not account for, which no exact motion leaves.
    pub fn gap_nmm(&self) -> f64 {
        self.machine_nmm - self.lifted_nmm - self.creep_nmm - self.slip_nmm - self.stretch_nmm
    }
}

/// The ropes on the sheave in one position.
#[derive(Debug, Clone)]
pub struct Machine {
    ropes: Vec<Rope>,
    /// Unstrained length of every span of every rope (mm).
    held_mm: Vec<Vec<f64>>,
    pub tensions_n: Vec<Vec<f64>>,
    /// Sums of the tensions on the car's and the counterweight's side (N).
    weights_n: [f64; 2],
    /// Way of the car upwards and of the counterweight downwards since the start (mm).
    pub way_mm: [f64; 2],
    /// Turn of the sheave since the start, whichever way (rad).
    pub turned_rad: f64,
    pub work: Work,
    start_energy_nmm: f64,
}

impl Machine {
    /// # Errors
    /// When lengths, stiffness, radii, tensions or grips are no usable numbers, or a pass is beyond its grip and no
    /// slip can help.
    pub fn new(ropes: Vec<Rope>) -> Result<Self, WrapFault> {
        let positive = "a positive number";
        for rope in &ropes {
            finite("a rope stiffness in N", rope.stiffness_n, f64::MIN_POSITIVE, positive)?;
            for (what, list) in [
                ("a free length in mm", &rope.lengths_mm),
                ("a tension in N", &rope.tensions_n),
                ("a pitch radius in mm", &rope.radii_mm),
            ] {
                for value in list {
                    finite(what, *value, f64::MIN_POSITIVE, positive)?;
                }
            }
            for grip in &rope.grips {
                finite("the grip of a pass", *grip, 0.0, "zero or more")?;
            }
        }
        let held = |rope: &Rope| {
            let spans = rope.lengths_mm.iter().zip(&rope.tensions_n);
            spans.map(|(length, tension)| length / (1.0 + tension / rope.stiffness_n)).collect()
        };
        let held_mm: Vec<Vec<f64>> = ropes.iter().map(held).collect();
        let tensions_n: Vec<Vec<f64>> = ropes.iter().map(|rope| rope.tensions_n.clone()).collect();
        let weights_n =
            [0, 1].map(|side| tensions_n.iter().map(|spans| spans[outer(side, spans.len())]).sum());
        let mut machine = Self {
            ropes,
            held_mm,
            tensions_n,
            weights_n,
            way_mm: [0.0; 2],
            turned_rad: 0.0,
            work: Work::default(),
            start_energy_nmm: 0.0,
        };
        machine.relieve()?;
        machine.work = Work::default();
        machine.start_energy_nmm = machine.energy_nmm();
        Ok(machine)
    }

    pub fn ropes(&self) -> &[Rope] {
        &self.ropes
    }

    /// Unstrained length of one rope over all its spans (mm): it never changes.
    pub fn rope_mm(&self, rope: usize) -> f64 {
        self.held_mm[rope].iter().sum()
    }

    /// Turns the sheave by a small angle; tells which passes slipped, as (rope, pass).
    ///
    /// # Errors
    /// When a rope goes slack or slips do not settle.
    pub fn step(&mut self, run: Run, by_rad: f64) -> Result<Vec<(usize, usize)>, WrapFault> {
        // The midpoint rule: half a step tells the flows of the whole one.
        let before = self.held_mm.clone();
        self.hand_on(run, 0.5 * by_rad);
        self.balance(true)?;
        let middle = self.tensions_n.clone();
        self.held_mm = before;
        let (mut machine, mut creep) = (0.0, 0.0);
        for (rope, tensions) in self.ropes.iter().zip(&middle) {
            for (pass, radius) in rope.radii_mm.iter().enumerate() {
                let (before, after) = (tensions[pass], tensions[pass + 1]);
                let sign = if run == Run::CarUp { 1.0 } else { -1.0 };
                machine += sign * radius * (before - after) * by_rad;
                let flow = radius / (1.0 + on(run, before, after) / rope.stiffness_n);
                creep += flow * by_rad * (before - after).powi(2) / (2.0 * rope.stiffness_n);
            }
        }
        self.work.machine_nmm += machine;
        self.work.creep_nmm += creep;
        self.hand_on(run, by_rad);
        self.turned_rad += by_rad;
        self.balance(false)?;
        let slipped = self.relieve()?;
        self.work.stretch_nmm = self.energy_nmm() - self.start_energy_nmm;
        self.work.lifted_nmm = self.weights_n[0] * self.way_mm[0] - self.weights_n[1] * self.way_mm[1];
        Ok(slipped)
    }

    /// Hands rope from span to span as the present tensions say.
    fn hand_on(&mut self, run: Run, by_rad: f64) {
        for ((rope, held), tensions) in self.ropes.iter().zip(&mut self.held_mm).zip(&self.tensions_n) {
            for (pass, radius) in rope.radii_mm.iter().enumerate() {
                let on = on(run, tensions[pass], tensions[pass + 1]);
                let flow = radius * by_rad / (1.0 + on / rope.stiffness_n);
                let (from, to) = if run == Run::CarUp { (pass, pass + 1) } else { (pass + 1, pass) };
                held[from] -= flow;
                held[to] += flow;
            }
        }
    }

    /// Ways of car and counterweight that keep the sums of the tensions, and every span's tension with them.
    fn balance(&mut self, midway: bool) -> Result<(), WrapFault> {
        let mut way = [0.0; 2];
        for (side, way) in way.iter_mut().enumerate() {
            let (mut stretched, mut stiffness) = (-self.weights_n[side], 0.0);
            for (rope, held) in self.ropes.iter().zip(&self.held_mm) {
                let span = outer(side, held.len());
                stretched += rope.stiffness_n * (rope.lengths_mm[span] / held[span] - 1.0);
                stiffness += rope.stiffness_n / held[span];
            }
            // The car's side grows shorter as the car goes up, the counterweight's longer as it goes down.
            *way = if side == 0 { stretched / stiffness } else { -stretched / stiffness };
        }
        for (index, (rope, held)) in self.ropes.iter().zip(&self.held_mm).enumerate() {
            let last = held.len() - 1;
            for (span, held) in held.iter().enumerate() {
                let moved = if span == 0 {
                    -way[0]
                } else if span == last {
                    way[1]
                } else {
                    0.0
                };
                let tension = rope.stiffness_n * ((rope.lengths_mm[span] + moved) / held - 1.0);
                if !(tension > 0.0 && *held > 0.0) {
                    return Err(WrapFault::Slack { rope: index + 1, turns: self.turns() });
                }
                self.tensions_n[index][span] = tension;
            }
        }
        if !midway {
            self.way_mm = way;
        }
        Ok(())
    }

    /// Lets rope slide over every pass beyond its grip until none is; tells which did.
    fn relieve(&mut self) -> Result<Vec<(usize, usize)>, WrapFault> {
        let mut slipped = Vec::new();
        for _ in 0..MOST_SWEEPS {
            let mut worst = 0.0f64;
            for rope in 0..self.ropes.len() {
                for pass in 0..self.ropes[rope].grips.len() {
                    let (a, b) = (self.tensions_n[rope][pass], self.tensions_n[rope][pass + 1]);
                    let over = (a / b).ln().abs() - self.ropes[rope].grips[pass];
                    if over <= SLIP_TOLERANCE {
                        continue;
                    }
                    worst = worst.max(over);
                    self.slide(rope, pass)?;
                    if !slipped.contains(&(rope, pass)) {
                        slipped.push((rope, pass));
                    }
                }
            }
            if worst == 0.0 {
                return Ok(slipped);
            }
        }
        let ratio = self.weights_n[0].max(self.weights_n[1]) / self.weights_n[0].min(self.weights_n[1]);
        let most = self.ropes.iter().map(|rope| rope.grips.iter().sum::<f64>()).fold(0.0, f64::max);
        if ratio >= most.exp() {
            return Err(WrapFault::Slides { ratio, limit: most.exp() });
        }
        Err(WrapFault::Unsettled { turns: self.turns() })
    }

    /// Slides rope over one pass towards its tighter span, a Newton step that ends at the pass's limit.
    fn slide(&mut self, rope: usize, pass: usize) -> Result<(), WrapFault> {
        let (a, b) = (self.tensions_n[rope][pass], self.tensions_n[rope][pass + 1]);
        let limit = self.ropes[rope].grips[pass].exp();
        let (tight, loose) = if a > b { (pass, pass + 1) } else { (pass + 1, pass) };
        let (high, low) = (a.max(b), a.min(b));
        let yielding = self.slope(rope, tight) + limit * self.slope(rope, loose);
        if yielding <= 0.0 {
            let ratio = high / low;
            return Err(WrapFault::Slides { ratio, limit });
        }
        let by = (high - limit * low) / yielding;
        self.held_mm[rope][tight] += by;
        self.held_mm[rope][loose] -= by;
        let stiffness = self.ropes[rope].stiffness_n;
        self.work.slip_nmm += by * ((high - low) + (high * high - low * low) / (2.0 * stiffness));
        self.balance(false)
    }

    /// How fast a span's tension falls with the rope it is given (N/mm); outer spans share with all ropes.
    fn slope(&self, rope: usize, span: usize) -> f64 {
        let own = |index: usize| {
            let held = self.held_mm[index][span.min(self.held_mm[index].len() - 1)];
            self.ropes[index].stiffness_n / held
        };
        let stretch = 1.0 + self.tensions_n[rope][span] / self.ropes[rope].stiffness_n;
        let last = self.held_mm[rope].len() - 1;
        let share = if span == 0 || span == last {
            // Alone on its side a rope carries the whole weight, whatever its length.
            if self.ropes.len() == 1 {
                return 0.0;
            }
            let all: f64 = (0..self.ropes.len()).map(own).sum();
            1.0 - own(rope) / all
        } else {
            1.0
        };
        share * stretch * own(rope)
    }

    fn energy_nmm(&self) -> f64 {
        let ropes = self.ropes.iter().zip(&self.held_mm).zip(&self.tensions_n);
        ropes
            .flat_map(|((rope, held), tensions)| {
                held.iter().zip(tensions).map(|(held, t)| held * t * t / (2.0 * rope.stiffness_n))
            })
            .sum()
    }

    fn turns(&self) -> f64 {
        self.turned_rad / std::f64::consts::TAU
    }
}

/// Outer span of a side: 0 the car's, 1 the counterweight's.
fn outer(side: usize, spans: usize) -> usize {
    if side == 0 { 0 } else { spans - 1 }
}

/// Tension where the rope comes on a pass.
fn on(run: Run, before: f64, after: f64) -> f64 {
    match run {
        Run::CarUp => before,
        Run::CarDown => after,
    }
}
