//! The rope around the sheave: tension over the wrap, what it does to the wheel, and its resultant.
//!
//! θ = 0 in the middle of the wrap, the heavy side at θ = −wrap/2. A rope element of tension T pushes
//! with T per radian towards the shaft and drags with dT/dθ per radian along θ.

use super::LoadCase;
use crate::elastic::{Around, Law, Stretch};
use crate::geometry::Edge;
use crate::seeded::{Fault, planted};
use crate::survey::{Creep, Survey};
use serde::Serialize;

/// One rope's tension around the wrap.
#[derive(Debug, Clone, PartialEq)]
pub struct RopeWrap {
    pub heavy_n: f64,
    pub light_n: f64,
    pub wrap_rad: f64,
    /// Middle of the wrap; 0 but for the passes of a double wrap.
    pub middle_rad: f64,
    pub stretches: Vec<Stretch>,
    /// False when the stated friction cannot hold the ratio, so that the whole wrap is taken to creep.
    pub friction_holds: bool,
}

impl RopeWrap {
    /// Tension over the wrap: exponential where the rope creeps, constant where it rests
    /// (Euler–Eytelwein; Johnson, Contact Mechanics, section 8.5; Firbank 1970).
    pub fn new(heavy_n: f64, light_n: f64, wrap_rad: f64, creep: Creep) -> Self {
        let creep = match creep {
            Creep::ActiveArcLight { friction } if planted(Fault::CreepAtWrongEnd) => {
                Creep::ActiveArcHeavy { friction }
            }
            creep => creep,
        };
        let log = (heavy_n / light_n).ln();
        let (from, to) = (-0.5 * wrap_rad, 0.5 * wrap_rad);
        let whole = Stretch { from, to, value: heavy_n, decay: log / wrap_rad };
        // A pass of a double wrap may hold back: its tension then rises, and friction acts the other way.
        let creep = match creep {
            Creep::ActiveArcLight { friction } => {
                Creep::ActiveArcLight { friction: if log < 0.0 { -friction } else { friction } }
            }
            Creep::ActiveArcHeavy { friction } => {
                Creep::ActiveArcHeavy { friction: if log < 0.0 { -friction } else { friction } }
            }
            Creep::WholeWrap => Creep::WholeWrap,
        };
        let rest = |from, to, value| Stretch { from, to, value, decay: 0.0 };
        let (stretches, friction_holds) = match creep {
            Creep::WholeWrap => (vec![whole], true),
            Creep::ActiveArcLight { friction } | Creep::ActiveArcHeavy { friction }
                if log / friction > wrap_rad =>
            {
                (vec![whole], false)
            }
            Creep::ActiveArcLight { friction } => {
                let start = to - log / friction;
                let active = Stretch { from: start, to, value: heavy_n, decay: friction };
                (vec![rest(from, start, heavy_n), active], true)
            }
            Creep::ActiveArcHeavy { friction } => {
                let end = from + log / friction;
                let active = Stretch { from, to: end, value: heavy_n, decay: friction };
                (vec![active, rest(end, to, light_n)], true)
            }
        };
        Self { heavy_n, light_n, wrap_rad, middle_rad: 0.0, stretches, friction_holds }
    }

    /// The same wrap with its middle turned to another angle.
    pub fn turned(mut self, middle_rad: f64) -> Self {
        for stretch in &mut self.stretches {
            stretch.from += middle_rad;
            stretch.to += middle_rad;
        }
        Self { middle_rad: self.middle_rad + middle_rad, ..self }
    }

    /// Course of the pressure: the tension itself.
    pub fn bearing(&self, run_in_rad: f64) -> Around {
        Around::Stretches { stretches: self.stretches.clone(), run_in: run_in_rad }
    }

    /// Course of the drag: dT/dθ.
    pub fn drag(&self, run_in_rad: f64) -> Around {
        let sign = if planted(Fault::DragPulledBack) { 1.0 } else { -1.0 };
        let slope = |s: &Stretch| Stretch { value: sign * s.decay * s.value, ..*s };
        Around::Stretches { stretches: self.stretches.iter().map(slope).collect(), run_in: run_in_rad }
    }

    /// Vector sum of the two rope pulls at the tangent points (x at θ = 0, y at θ = 90°), in N.
    pub fn pulls_n(&self) -> [f64; 2] {
        let half = 0.5 * self.wrap_rad;
        // Both ropes leave along the tangent: the light one along growing θ, the heavy one against it.
        let along = |theta: f64| [-theta.sin(), theta.cos()];
        let (light, heavy) = (along(self.middle_rad + half), along(self.middle_rad - half));
        [0, 1].map(|i| self.light_n * light[i] - self.heavy_n * heavy[i])
    }

    /// ∫ dT/dθ·e_θ dθ over the wrap: the drag's own resultant, by Gauss quadrature.
    fn drag_resultant_n(&self) -> [f64; 2] {
        const NODES: [[f64; 2]; 3] =
            [[-0.774_596_669_241_483_4, 5.0 / 9.0], [0.0, 8.0 / 9.0], [0.774_596_669_241_483_4, 5.0 / 9.0]];
        const PIECES: usize = 64;
        let mut sum = [0.0; 2];
        for stretch in self.stretches.iter().filter(|s| s.decay != 0.0) {
            let half = 0.5 * (stretch.to - stretch.from) / PIECES as f64;
            for piece in 0..PIECES {
                let middle = stretch.from + (2 * piece + 1) as f64 * half;
                for [x, weight] in NODES {
                    let theta = middle + half * x;
                    let tension = stretch.value * (-stretch.decay * (theta - stretch.from)).exp();
                    let drag = -stretch.decay * tension * weight * half;
                    sum[0] -= drag * theta.sin();
                    sum[1] += drag * theta.cos();
                }
            }
        }
        sum
    }
}

impl LoadCase {
    /// The wrap in every roped groove.
    pub fn wraps(&self, survey: &Survey) -> Vec<RopeWrap> {
        let grooves = self.heavy_n.iter().zip(&self.light_n).enumerate();
        let one = |(groove, (heavy, light)): (usize, (&f64, &f64))| match self.passes.get(groove) {
            None => RopeWrap::new(*heavy, *light, survey.roping.wrap_rad, survey.roping.creep),
            Some(pass) => {
                // A pass at rest as a whole has no active arc, not one of no length.
                let creep = if heavy == light { Creep::WholeWrap } else { pass.creep };
                RopeWrap::new(*heavy, *light, pass.wrap_rad, creep).turned(pass.middle_rad)
            }
        };
        grooves.map(one).collect()
    }
}

/// What one groove's rope must add up to on the wheel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Expected {
    /// Vector sum of the rope pulls (N).
    pub pulls_n: [f64; 2],
    /// What tractions on the seat can add up to: the drag acts on the seat, not on the rope's centre.
    pub applied_n: [f64; 2],
    /// Moment about the shaft (N·mm).
    pub moment_nmm: f64,
}

/// Expected resultant of a case: Σ over ropes of the pulls, with the drag scaled so that its moment is
/// (light − heavy) × pitch radius although it acts at the seat.
///
/// `grooves` gives pitch radius and effective drag radius of each roped groove (mm).
pub fn expected(case: &LoadCase, wraps: &[RopeWrap], grooves: &[[f64; 2]]) -> Expected {
    let mut sum = Expected { pulls_n: [0.0; 2], applied_n: [0.0; 2], moment_nmm: 0.0 };
    for ((wrap, [pitch, effective]), (heavy, light)) in
        wraps.iter().zip(grooves).zip(case.heavy_n.iter().zip(&case.light_n))
    {
        let (pulls, drag) = (wrap.pulls_n(), wrap.drag_resultant_n());
        for i in 0..2 {
            sum.pulls_n[i] += pulls[i];
            sum.applied_n[i] += pulls[i] + (pitch / effective - 1.0) * drag[i];
        }
        sum.moment_nmm += (light - heavy) * pitch;
    }
    sum
}

/// Radius at which a drag spread like the pressure acts: ∫ w R² ds / ∫ w R ds over the seat's edges (mm).
pub fn drag_radius_mm(seat: &[Edge], law: Law) -> f64 {
    const STEPS: usize = 256;
    let (mut square, mut plain) = (0.0, 0.0);
    for edge in seat {
        for step in 0..STEPS {
            let p = edge.at((step as f64 + 0.5) / STEPS as f64);
            let share = match law {
                Law::Uniform => 1.0,
                Law::Cosine { centre } => (centre.r - p.r) / p.distance(centre),
            };
            let weight = share * edge.length() * p.r;
            square += weight * p.r;
            plain += weight;
        }
    }
    square / plain
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;

    #[test]
    fn the_resultant_of_a_wrap_is_the_law_of_cosines() {
        // Shaft force √(T1² + T2² − 2 T1 T2 cos α): 8000/5500 N at 150°, 165° and 180°.
        for (degrees, force) in [(150.0f64, 13056.0), (165.0, 13388.0), (180.0, 13500.0)] {
            let wrap = RopeWrap::new(8000.0, 5500.0, degrees.to_radians(), Creep::WholeWrap);
            let [x, y] = wrap.pulls_n();
            assert!((x.hypot(y) - force).abs() < 0.6, "{degrees}: {}", x.hypot(y));
            assert!(x < 0.0 && y < 0.0, "towards the wrap's far side and the heavy side");
        }
    }

    #[test]
    fn radial_force_and_drag_add_up_to_the_pulls() {
        for creep in [
            Creep::WholeWrap,
            Creep::ActiveArcLight { friction: 0.2 },
            Creep::ActiveArcHeavy { friction: 0.2 },
        ] {
            let wrap = RopeWrap::new(8000.0, 5500.0, 2.9, creep);
            let (radial, drag) = (wrap.bearing(0.0).fourier(1), wrap.drag(0.0).fourier(1));
            let pi = std::f64::consts::PI;
            let force = [-pi * (radial.cosine + drag.sine), pi * (drag.cosine - radial.sine)];
            let pulls = wrap.pulls_n();
            for i in 0..2 {
                assert!((force[i] - pulls[i]).abs() < 1e-8 * 8000.0, "{creep:?} {force:?} {pulls:?}");
            }
            let numeric = wrap.drag_resultant_n();
            assert!((numeric[0] + pi * drag.sine).abs() < 1e-6, "{numeric:?}");
            assert!((numeric[1] - pi * drag.cosine).abs() < 1e-6, "{numeric:?}");
            let moment = std::f64::consts::TAU * wrap.drag(0.0).fourier(0).cosine;
            assert!((moment - (5500.0 - 8000.0)).abs() < 1e-8 * 8000.0);
        }
    }

    #[test]
    fn active_arcs_follow_eytelwein() {
        // ln(ratio)/f with f = 0.1972: 52.97°, 97.75°, 117.79°, 136.54° for 1.2, 1.4, 1.5, 1.6.
        for (ratio, degrees) in [(1.2, 52.97), (1.4, 97.75), (1.5, 117.79), (1.6, 136.54)] {
            let creep = Creep::ActiveArcLight { friction: 0.1972 };
            let wrap = RopeWrap::new(1000.0 * ratio, 1000.0, std::f64::consts::PI, creep);
            let active = wrap.stretches[1].to - wrap.stretches[1].from;
            // The friction factor is printed to four digits.
            assert!((active.to_degrees() - degrees).abs() < 0.03, "{}", active.to_degrees());
        }
        let weak = Creep::ActiveArcLight { friction: 0.05 };
        assert!(!RopeWrap::new(1600.0, 1000.0, 3.1, weak).friction_holds);
    }

    #[test]
    fn the_drag_acts_where_the_closed_form_says() {
        // R = C − ρ cos φ and w = cos φ make every integral elementary.
        let (centre, rho, from, to) = (326.7, 6.7, 0.785f64, 1.26f64);
        let middle = Point::new(centre, 0.0);
        let on = |phi: f64| middle + Point::new(-phi.cos(), phi.sin()) * rho;
        let seat = [Edge::arc_between(on(from), on(to), middle, false, 0)];
        let between = |f: fn(f64) -> f64| f(to) - f(from);
        let first = between(f64::sin);
        let second = between(|x| 0.5 * x + 0.25 * (2.0 * x).sin());
        let third = between(|x| x.sin() - x.sin().powi(3) / 3.0);
        let square = centre * centre * first - 2.0 * centre * rho * second + rho * rho * third;
        let exact = square / (centre * first - rho * second);
        let radius = drag_radius_mm(&seat, Law::Cosine { centre: middle });
        assert!((radius - exact).abs() < 1e-4, "{radius} {exact}");
    }
}
