//! One turn as one stress cycle: exact histories, the worst plane, turns in a year.

use super::shafts::bend;
use super::shapes::{hold, iron, load, pressure, tube};
use crate::elastic::{Around, PeakSearch, Region, Solution, Turn};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::annulus::{Annulus, Pressure};
use crate::reference::compare::Tolerance;
use crate::reference::tube::fourier_stress;
use crate::strength::{CompressiveMean, Cycle, FatigueStrength, Plane, worst_plane};
use crate::study::{turns_in, worst_cycle};
use std::f64::consts::{PI, TAU};

const ROTATING: Source = Source::exact(
    "rotating bending: σ·cos θ at the surface, so amplitude σ, mean 0, factor S_e/σ (beam theory, exact here)",
);
const RING: Source = Source::exact(
    "Lamé under even pressure and Michell's function of harmonic 2: A + B·cos 2θ at the bore, so amplitude B, mean A",
);
const ALL_NODES: Source = Source::itself("every node without any bound");
const BRUTE: Source = Source::independent(
    "brute force in numpy: 32 000 planes, then three grids down to 0.0005°, at 720 angles, the locus written anew",
);
const LINE: Source = Source::from_memory(
    "Shigley, Mechanical Engineering Design, section 6-13: line for cast iron under a compressive mean",
);
const ARITHMETIC: Source = Source::exact("trips × travel × roping over π × pitch diameter");

/// Class 30 of Shigley table A-24, its endurance limit times 0.9.
const CLASS_30: FatigueStrength = FatigueStrength { tensile_mpa: 214.0, endurance_mpa: 87.3 };

pub(super) static CASES: &[Case] = &[
    Case {
        name: "rotating-bending",
        title: "Shaft that turns under a bending load fixed in space",
        chapter: Chapter::Strength,
        about: "The solid shaft in bending, solved by the program; the search over all its nodes and planes must find the surface, the plane square to the axis, and a fully reversed cycle.",
        features: &[
            Feature::TurnCycle,
            Feature::Fatigue,
            Feature::HarmonicOne,
            Feature::BothFamilies,
            Feature::Traction,
            Feature::SolidBody,
            Feature::StraightEdges,
        ],
        run: rotating,
    },
    Case {
        name: "pulsing-ring",
        title: "Ring that turns under an even pull and a wave of pressure",
        chapter: Chapter::Strength,
        about: "A thick ring between guided faces, pulled evenly from outside and pressed by a wave of two crests. Its bore goes through two waves about a mean tension in every turn.",
        features: &[
            Feature::TurnCycle,
            Feature::Fatigue,
            Feature::HarmonicZero,
            Feature::HigherHarmonics,
            Feature::Pressure,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: pulsing,
    },
    Case {
        name: "worst-plane",
        title: "Worst plane of an invented history of six components",
        chapter: Chapter::Strength,
        about: "Three harmonics in every component, so that the principal directions turn: about a tension, and about a pressure all round, with and without credit for the compressive mean. Points of the handbook's line beside it.",
        features: &[Feature::TurnCycle, Feature::Fatigue],
        run: planes,
    },
    Case {
        name: "turns-in-a-year",
        title: "Turns of a sheave from trips, travel and roping",
        chapter: Chapter::Strength,
        about: "Every trip over the whole travel.",
        features: &[Feature::TurnCycle],
        run: yearly,
    },
];

/// The worst plane of the whole body, with its node's radius.
fn worst(solution: &Solution) -> Option<(Plane, f64)> {
    let region = Region::everything(&solution.mesh);
    let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &region);
    let worst = worst_cycle(&search, 0, CLASS_30)?.worst[0];
    Some((worst.plane, solution.mesh.nodes[worst.node].r))
}

fn read(solution: &Solution, value: impl Fn(&Plane, f64) -> f64) -> f64 {
    worst(solution).map_or(f64::NAN, |(plane, radius)| value(&plane, radius))
}

fn rotating() -> Result<Record, CaseFault> {
    let (radius, stress) = (40.0, 18.0);
    let mut model = tube("shaft", 0.0, radius, 50.0, iron(110e3, 0.26), 25.0);
    bend(&mut model, radius, stress, 0.7);
    let bench = Bench::solve(model, 1)?;
    let reason = "1440 angles: the crest lies up to 0.125° beside one, cos 0.125° at worst";
    let close = Tolerance::Relative(3e-6);
    let rows = vec![
        bench
            .row("amplitude of the normal stress", "MPa", ROTATING, stress, |s| {
                read(s, |p, _| p.cycle.amplitude_mpa)
            })
            .within(close, reason),
        bench
            .row("its mean", "MPa", ROTATING, 0.0, |s| read(s, |p, _| p.cycle.mean_mpa))
            .within(Tolerance::Absolute(1e-4), reason),
        bench
            .row("fatigue factor, endurance limit 87.3 MPa", "", ROTATING, 87.3 / stress, |s| {
                read(s, |p, _| p.share.recip())
            })
            .within(Tolerance::Relative(2e-5), reason),
        bench
            .row("radius at which it is found", "mm", ROTATING, radius, |s| read(s, |_, r| r))
            .within(Tolerance::Absolute(1e-6), "a node of the surface"),
        bench
            .row("axial part of the plane's normal", "", ROTATING, 1.0, |s| read(s, |p, _| p.normal[2].abs()))
            .within(Tolerance::Absolute(1e-9), "the only stress is axial"),
    ];
    Ok(bench.record(rows))
}

fn pulsing() -> Result<Record, CaseFault> {
    let ring = Annulus { inner_mm: 100.0, outer_mm: 160.0 };
    let (pull, wave) = (12.0, 4.0);
    let mut model = tube("ring", ring.inner_mm, ring.outer_mm, 20.0, iron(110e3, 0.26), 12.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    load(&mut model, pressure("outside", -pull), Around::Constant);
    load(&mut model, pressure("outside", wave), Around::Cos(2));
    let bench = Bench::solve(model, 2)?;
    let even = Pressure { inside_mpa: 0.0, outside_mpa: -pull };
    let mean = ring.pressure_stress(even, ring.inner_mm).hoop_mpa;
    let bore = fourier_stress(ring, 2, wave, ring.inner_mm).map_or(f64::NAN, |stress| stress.hoop_mpa);
    let amplitude = bore.abs();
    let factor = Cycle { amplitude_mpa: amplitude, mean_mpa: mean }.smith_dolan_factor(CLASS_30);
    let reason = "quadratic elements on the finest mesh";
    let near = Tolerance::Relative(2e-3);
    let rows = vec![
        bench
            .row("amplitude of the normal stress", "MPa", RING, amplitude, |s| {
                read(s, |p, _| p.cycle.amplitude_mpa)
            })
            .within(near, reason),
        bench.row("its mean", "MPa", RING, mean, |s| read(s, |p, _| p.cycle.mean_mpa)).within(near, reason),
        bench
            .row("fatigue factor", "", RING, factor, |s| read(s, |p, _| p.share.recip()))
            .within(near, reason),
        bench
            .row("radius at which it is found", "mm", RING, ring.inner_mm, |s| read(s, |_, r| r))
            .within(Tolerance::Absolute(1e-6), "a node of the bore"),
        one_by_one(&bench.solutions[0]),
    ];
    Ok(bench.record(rows))
}

/// What the search finds by its bounds against every node's worst plane, on the coarsest mesh.
fn one_by_one(solution: &Solution) -> Row {
    let region = Region::everything(&solution.mesh);
    let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &region);
    let turn = Turn::new(&solution.cases[0], search.angles());
    let share =
        |node: usize| worst_plane(turn.courses(&[node]).of(0), CLASS_30, CompressiveMean::Handbook).share;
    let most = search.searched().map(share).fold(0.0, f64::max);
    let found = worst_cycle(&search, 0, CLASS_30).map_or(f64::NAN, |found| share(found.worst[0].node));
    let row =
        Row::new("share of the endurance used, all nodes looked at one by one", "", ALL_NODES, most, found);
    row.within(Tolerance::Relative(1e-9), "nodes that are alike by symmetry differ by rounding")
}

/// Coefficients of the invented history: harmonic, cosine part, sine part (MPa).
const HISTORY: [(f64, [f64; 6], [f64; 6]); 4] = [
    (0.0, [-3.0, 12.0, 9.0, 1.0, 2.0, -1.0], [0.0; 6]),
    (1.0, [2.0, -14.0, 6.0, 3.0, 5.0, 1.0], [1.0, 4.0, -9.0, -2.0, 3.0, 2.0]),
    (2.0, [-1.0, 5.0, 8.0, 2.0, -6.0, 0.5], [0.5, -3.0, 2.0, 1.0, 4.0, -1.0]),
    (3.0, [1.0, 2.0, -3.0, 0.0, 1.0, 2.0], [-2.0, 1.0, 2.0, -1.0, 0.0, 1.0]),
];

fn planes() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let reason = "the brute force's last grid, and its 720 angles";
    for (shift, rule, factor, amplitude, mean) in [
        (0.0, CompressiveMean::Handbook, 2.79115, 21.82402, 13.64944),
        (-25.0, CompressiveMean::Handbook, 5.77998, 21.81967, -11.34320),
        (-25.0, CompressiveMean::Nothing, 3.90459, 22.35831, -13.48695),
    ] {
        let course: Vec<Vec<f64>> = (0..6)
            .map(|c| {
                let pressed = if c < 3 { shift } else { 0.0 };
                let at = |row: u32| f64::from(row) * TAU / 720.0 - PI;
                let value = |theta: f64| -> f64 {
                    HISTORY
                        .iter()
                        .map(|(n, cos, sin)| cos[c] * (n * theta).cos() + sin[c] * (n * theta).sin())
                        .sum()
                };
                (0..720).map(|row| pressed + value(at(row))).collect()
            })
            .collect();
        let found = worst_plane(std::array::from_fn(|c| course[c].as_slice()), CLASS_30, rule);
        let credit = if rule == CompressiveMean::Nothing { ", compressive mean without credit" } else { "" };
        let of = format!("pressure {} MPa all round{credit}", f64::abs(shift));
        for (what, unit, reference, computed) in [
            ("factor", "", factor, found.share.recip()),
            ("amplitude", "MPa", amplitude, found.cycle.amplitude_mpa),
            ("mean", "MPa", mean, found.cycle.mean_mpa),
        ] {
            // At the worst plane the share is flat, amplitude and mean by themselves are not.
            let tolerance = if unit.is_empty() { 1e-5 } else { 5e-4 };
            let row = Row::new(format!("{what}, {of}"), unit, BRUTE, reference, computed);
            rows.push(row.within(Tolerance::Relative(tolerance), reason));
        }
    }
    let share = |high, low| Cycle::use_of(high, low, CLASS_30, CompressiveMean::Handbook);
    for (what, reference, computed) in [
        ("share at amplitude 40, mean −40 MPa: 40/214", 40.0 / 214.0, share(0.0, -80.0)),
        ("share at amplitude 150.65, mean −107 MPa: on the line", 1.0, share(43.65, -257.65)),
        ("share at amplitude 10, mean −50 MPa: never in tension", 0.0, share(-40.0, -60.0)),
    ] {
        let row = Row::new(what, "", LINE, reference, computed);
        rows.push(row.within(Tolerance::Absolute(1e-9), "a point of the line, rounding only"));
    }
    Ok(Record::of_rows(rows))
}

fn yearly() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (trips, travel_m, ratio, diameter, turns) in
        [(800.0, 40.0, 1, 660.0, 5.633), (800.0, 40.0, 2, 660.0, 11.266), (150.0, 12.0, 1, 320.0, 0.654)]
    {
        let what = format!(
            "{trips} trips a day, travel {travel_m} m, roping {ratio}:1, pitch diameter {diameter} mm"
        );
        let computed = turns_in(365.0 * trips, 1e3 * travel_m, ratio, diameter / 2.0) / 1e6;
        rows.push(Row::new(what, "million turns a year", ARITHMETIC, turns, computed).printed(3));
    }
    Ok(Record::of_rows(rows))
}
