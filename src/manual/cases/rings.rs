//! Rings bent in their own plane by loads over arcs and by single harmonics, against ring theory.

use super::shapes::{Wall, field, further_case, iron, load_in, pattern, pressure, through_wall, tube};
use crate::elastic::{Around, Model, Options, Solution};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Source};
use crate::reference::compare::Tolerance;
use crate::reference::ring::{
    curved_beam_factors, equal_loads, fourier_load, opposite_loads_diameters, opposite_loads_moment,
    opposite_patches_moment,
};
use std::f64::consts::{FRAC_PI_2, PI};

const ROARK: Source = Source::from_memory("Roark's Formulas for Stress and Strain, table 9.2 case 1");
const PATCHES: Source =
    Source::from_memory("Roark's Formulas for Stress and Strain, table 9.2 case 1, averaged over the patch");
const EQUAL: Source = Source::from_memory("Roark's Formulas for Stress and Strain, table 9.2 case 7");
const FOURIER: Source =
    Source::from_memory("Timoshenko, Strength of Materials, part II, ring under waves of load");
const WINKLER: Source =
    Source::from_memory("Shigley, Mechanical Engineering Design, section 3-18 (Winkler's curved beam)");

const FEATURES: &[Feature] = &[
    Feature::HarmonicZero,
    Feature::HarmonicOne,
    Feature::HigherHarmonics,
    Feature::ArcLoad,
    Feature::Pressure,
    Feature::StraightEdges,
];

pub(super) static CASES: &[Case] = &[
    Case {
        name: "ring-between-patches",
        title: "Ring between two opposite patches of pressure",
        chapter: Chapter::Harmonics,
        about: "Patches from narrow to a half of the ring each, where nothing bends any more. The moments are integrated through the wall.",
        features: FEATURES,
        run: between_patches,
    },
    Case {
        name: "ring-between-loads",
        title: "Ring between two opposite loads",
        chapter: Chapter::Harmonics,
        about: "The loads are narrow arcs of pressure on rings of two depths. Moments and forces through the wall, and the change of both diameters, with stretching and shear of the ring.",
        features: FEATURES,
        run: between_loads,
    },
    Case {
        name: "ring-under-equal-loads",
        title: "Ring under three to eight equal loads",
        chapter: Chapter::Harmonics,
        about: "Equal loads, evenly spaced around a flat ring, press it from outside and balance each other. Moments and hoop force come from the hoop stress through the wall.",
        features: FEATURES,
        run: under_equal_loads,
    },
    Case {
        name: "ring-under-waves",
        title: "Ring under single waves of pressure",
        chapter: Chapter::Harmonics,
        about: "Each harmonic of the load bends the ring by itself. Equilibrium alone gives the moment; the displacement leaves out stretching and shear.",
        features: &[Feature::HigherHarmonics, Feature::Pressure, Feature::StraightEdges],
        run: under_waves,
    },
    Case {
        name: "curved-beam",
        title: "Curved beams from thin to deep",
        chapter: Chapter::Harmonics,
        about: "The hoop stress at the inside and outside of rings pressed between two arcs, a quarter turn away from them, over that of a straight beam under the same moment.",
        features: FEATURES,
        run: curved_beam,
    },
];

/// Centre radius and depth of a ring, mm.
#[derive(Clone, Copy)]
struct Ring {
    radius: f64,
    depth: f64,
}

impl Ring {
    fn outside(self) -> f64 {
        self.radius + 0.5 * self.depth
    }

    /// Along the axis. A bent bar curves the other way across its breadth, which shifts hoop force from
    /// the middle to the sides by ν·M·(breadth/depth)²/(2·depth·R): little in a ring as flat as this.
    fn breadth(self) -> f64 {
        self.depth / 6.0
    }

    /// Height of the middle.
    fn middle(self) -> f64 {
        3.0 + 0.5 * self.breadth()
    }

    /// A flat ring, its faces free.
    fn model(self) -> Model {
        let half = 0.5 * self.depth;
        let size = self.breadth();
        tube("ring", self.radius - half, self.radius + half, size, iron(110e3, 0.26), size)
    }

    /// What the hoop stress carries through the wall.
    fn carries(self, solution: &Solution, case: usize, theta: f64) -> Wall {
        let half = 0.5 * self.depth;
        let z = self.middle();
        through_wall(solution, case, [(self.radius - half, z), (self.radius + half, z)], theta, 1)
    }

    /// Force W per mm of breadth of a patch over ±α at one MPa on the outside.
    fn force(self, alpha: f64) -> f64 {
        2.0 * alpha * self.outside()
    }

    /// Moment per W·R, positive with tension inside.
    fn moment(self, solution: &Solution, case: usize, theta: f64, force: f64) -> f64 {
        -self.carries(solution, case, theta).moment / (force * self.radius)
    }
}

/// Two opposite arcs of pressure over ±α each, about θ = 0 and θ = π, in a case of their own per angle.
fn patched(ring: Ring, half_angles: &[f64]) -> Model {
    let mut model = ring.model();
    let push = pattern(&mut model, pressure("outside", 1.0));
    for (index, alpha) in half_angles.iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "patches") };
        model.cases[case].name = format!("patches over ±{}°", alpha.to_degrees().round());
        for middle in [0.0, PI] {
            load_in(&mut model, case, push, Around::Arc { from: middle - alpha, to: middle + alpha });
        }
    }
    model
}

/// The moments fall with the cube of the harmonic, so that the series needs no care at the arcs' ends.
const SERIES: Options = Options { block: 16, least: 112, most: 160, tolerance: 0.2 };

fn solved(model: Model) -> Result<Bench, CaseFault> {
    Bench::with(model, 2, &SERIES, |_, mesh| crate::elastic::Region::everything(mesh))
}

fn between_patches() -> Result<Record, CaseFault> {
    let ring = Ring { radius: 200.0, depth: 10.0 };
    let degrees = [5.0, 10.0, 15.0, 30.0, 45.0, 60.0, 90.0f64];
    let angles = degrees.map(f64::to_radians);
    let bench = solved(patched(ring, &angles))?;
    let mut rows = Vec::new();
    for (case, (degrees, alpha)) in degrees.into_iter().zip(angles).enumerate() {
        let force = ring.force(alpha);
        let (at_patch, square) = opposite_patches_moment(alpha);
        for (name, theta, value) in [("0°", 0.0, at_patch), ("90°", FRAC_PI_2, square)] {
            let what = format!("±{degrees}°: moment per WR at {name}");
            let read = |s: &_| ring.moment(s, case, theta, force);
            let reason = "ring theory leaves out stretching: of the order of (depth/radius)²";
            let tolerance = Tolerance::Absolute((ring.depth / ring.radius).powi(2));
            rows.push(bench.row(what, "", PATCHES, value, read).within(tolerance, reason));
        }
    }
    Ok(bench.record(rows))
}

fn between_loads() -> Result<Record, CaseFault> {
    let alpha = 1.0f64.to_radians();
    let poisson = 0.26;
    let mut rows = Vec::new();
    let mut record = Record::default();
    for ratio in [10.0, 20.0] {
        let ring = Ring { radius: 200.0, depth: 200.0 / ratio };
        let bench = solved(patched(ring, &[alpha]))?;
        let force = ring.force(alpha);
        let label = format!("R/h {ratio}: ");
        let square = (ring.depth / ring.radius).powi(2);
        let tolerance = Tolerance::Absolute(square);
        let reason = "ring theory leaves out terms of the order of (depth/radius)²";
        for degrees in [30.0, 60.0, 90.0f64] {
            let theta = degrees.to_radians();
            let read = |s: &_| ring.moment(s, 0, theta, force);
            let what = format!("{label}moment per WR at {degrees}°");
            let exact = opposite_loads_moment(theta);
            rows.push(bench.row(what, "", ROARK, exact, read).within(tolerance, reason));
        }
        let read = |s: &_| ring.carries(s, 0, FRAC_PI_2).force / force;
        let row = bench.row(label.clone() + "hoop force per W at 90°", "", ROARK, -0.5, read);
        rows.push(row.within(tolerance, reason));
        let scale = force * ring.radius.powi(3) / (110e3 * ring.depth.powi(3) / 12.0);
        let (along, across) = opposite_loads_diameters(1.0 / ratio, poisson);
        for (name, theta, value) in [("loaded", 0.0, along), ("other", FRAC_PI_2, across)] {
            let what = format!("{label}change of the {name} diameter per WR³/EI");
            let z = ring.middle();
            let read = |s: &_| 2.0 * field(s, 0, (ring.radius, z), theta).0[0] / scale;
            let row = bench.row(what, "", ROARK, value, read);
            rows.push(row.within(Tolerance::Relative(square), reason));
        }
        record = bench.record(Vec::new());
    }
    record.rows = rows;
    Ok(record.fact(format!("Each load is an arc over ±{:.0}°.", alpha.to_degrees())))
}

fn under_equal_loads() -> Result<Record, CaseFault> {
    let ring = Ring { radius: 200.0, depth: 10.0 };
    let alpha = 1.0f64.to_radians();
    let counts = [3u32, 4, 5, 6, 8];
    let mut model = ring.model();
    let push = pattern(&mut model, pressure("outside", 1.0));
    for (index, count) in counts.into_iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "loads") };
        model.cases[case].name = format!("{count} loads");
        for load in 0..count {
            let middle = 2.0 * PI * f64::from(load) / f64::from(count);
            load_in(&mut model, case, push, Around::Arc { from: middle - alpha, to: middle + alpha });
        }
    }
    let bench = solved(model)?;
    let force = ring.force(alpha);
    // The moment has a kink under a load; an arc of ±α takes its mean there, as between opposed patches.
    let rounded = (1.0 - alpha.cos()) / (2.0 * alpha);
    let reason = "ring theory leaves out terms of the order of (depth/radius)²";
    let tolerance = Tolerance::Absolute((ring.depth / ring.radius).powi(2));
    let mut rows = Vec::new();
    for (case, count) in counts.into_iter().enumerate() {
        // The closed form pulls outwards, these loads push inwards.
        let exact = equal_loads(count);
        let midway = PI / f64::from(count);
        for (name, theta, value) in
            [("at a load", 0.0, -exact.moment_at_load - rounded), ("midway", midway, -exact.moment_midway)]
        {
            let read = |s: &_| ring.moment(s, case, theta, force);
            let what = format!("{count} loads: moment per WR {name}");
            rows.push(bench.row(what, "", EQUAL, value, read).within(tolerance, reason));
        }
        let read = |s: &_| ring.carries(s, case, midway).force / force;
        let row = bench.row(
            format!("{count} loads: hoop force per W midway"),
            "",
            EQUAL,
            -exact.normal_midway,
            read,
        );
        rows.push(row.within(tolerance, reason));
    }
    Ok(bench.record(rows).fact(format!("Each load is an arc over ±{:.0}°.", alpha.to_degrees())))
}

fn under_waves() -> Result<Record, CaseFault> {
    let ring = Ring { radius: 200.0, depth: 10.0 };
    let mut model = ring.model();
    let push = pattern(&mut model, pressure("outside", 1.0));
    let waves = [2u32, 3, 5];
    for (index, n) in waves.into_iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "wave") };
        model.cases[case].name = format!("harmonic {n}");
        load_in(&mut model, case, push, Around::Cos(n as usize));
    }
    let bench = Bench::solve(model, 2)?;
    let line = ring.outside() / ring.radius;
    let stiffness = 110e3 * ring.depth.powi(3) / 12.0;
    let mut rows = Vec::new();
    for (case, n) in waves.into_iter().enumerate() {
        let (moment, moved) = fourier_load(n, line, ring.radius, stiffness);
        let read = |s: &_| -ring.carries(s, case, 0.0).moment;
        let row = bench.row(format!("n {n}: moment under the crest"), "N", FOURIER, moment, read);
        let reason = "equilibrium alone; the mesh and the integral through the wall";
        rows.push(row.within(Tolerance::Relative(1e-3), reason));
        let z = ring.middle();
        let read = |s: &_| -field(s, case, (ring.radius, z), 0.0).0[0];
        let row = bench.row(format!("n {n}: inward displacement of the crest"), "mm", FOURIER, moved, read);
        let reason = "stretching and shear are left out: of the order of (n·depth/radius)²";
        let order = (f64::from(n) * ring.depth / ring.radius).powi(2);
        rows.push(row.within(Tolerance::Relative(order), reason));
    }
    Ok(bench.record(rows))
}

fn curved_beam() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let mut record = Record::default();
    for ratio in [3.0, 5.0, 8.0, 10.0] {
        let ring = Ring { radius: 20.0 * ratio, depth: 20.0 };
        let alpha = 10f64.to_radians();
        let bench = solved(patched(ring, &[alpha]))?;
        let (inside, outside) = curved_beam_factors(ratio);
        // Winkler spreads the hoop force evenly; where it is not even the share is about depth over radius.
        let (force, moment) = (alpha.sin() / (2.0 * alpha), opposite_patches_moment(alpha).1.abs());
        let uneven = force / (6.0 * moment * ratio.powi(2));
        for (name, side, value) in [("inside", -0.5, inside), ("outside", 0.5, outside)] {
            let at = (ring.radius + side * ring.depth, ring.middle());
            let read = |s: &_| {
                let wall = ring.carries(s, 0, FRAC_PI_2);
                let bending = 6.0 * wall.moment / ring.depth.powi(2);
                let stress = field(s, 0, at, FRAC_PI_2).1[1];
                (stress - wall.force / ring.depth) / bending * (2.0 * side)
            };
            let what = format!("R/h {ratio}: factor {name}");
            let reason = "the section carries a hoop force too, uneven by the share depth over radius";
            let row = bench.row(what, "", WINKLER, value, read);
            rows.push(row.within(Tolerance::Absolute(uneven), reason));
        }
        record = bench.record(Vec::new());
    }
    record.rows = rows;
    Ok(record)
}
