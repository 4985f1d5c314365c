//! Solid discs and thick tubes in their own plane, through the harmonics.

use super::shapes::{field, further_case, hold, iron, load, load_in, pattern, pressure, tube};
use crate::elastic::{Around, Model, Options, Region};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::annulus::{Annulus, Elastic};
use crate::reference::compare::Tolerance;
use crate::reference::disc::{point_load_across_mpa, point_load_along_factor, strip_on_diameter};
use crate::reference::tube::{fourier_stress, sideways_displacement_mm, sideways_stress};
use std::f64::consts::PI;

const HONDROS: Source = Source::published(
    "Hondros, Australian Journal of Applied Science 10 (1959) 243-268, strips on a disc (from memory)",
);
const POINTS: Source = Source::from_memory("Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 41");
const MICHELL: Source =
    Source::exact("Michell 1899 (Timoshenko & Goodier, Theory of Elasticity, art. 43), constants derived");

const STRESS: &str = "recovered stresses of the finest mesh: a few thousandths of the pressure";

pub(super) static CASES: &[Case] = &[
    Case {
        name: "disc-between-strips",
        title: "Solid disc between two opposite pressure strips",
        chapter: Chapter::Harmonics,
        about: "Strips of three widths press a disc across its diameter. Stresses on the loaded diameter, along and across it, in the centre and on the way out.",
        features: &[
            Feature::HarmonicZero,
            Feature::HarmonicOne,
            Feature::HigherHarmonics,
            Feature::ArcLoad,
            Feature::Pressure,
            Feature::SolidBody,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: between_strips,
    },
    Case {
        name: "disc-between-points",
        title: "Solid disc between two opposite point loads",
        chapter: Chapter::Harmonics,
        about: "The points are narrow strips. Across the loaded diameter the tension is the same everywhere, along it the compression grows towards the loads.",
        features: &[
            Feature::HarmonicZero,
            Feature::HarmonicOne,
            Feature::HigherHarmonics,
            Feature::ArcLoad,
            Feature::Pressure,
            Feature::SolidBody,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: between_points,
    },
    Case {
        name: "tube-pressed-sideways",
        title: "Thick tube pressed sideways, outside against inside",
        chapter: Chapter::Harmonics,
        about: "Pressure that goes with the cosine of the angle outside is balanced by such a pressure in the bore; nothing holds the tube sideways. The direction of the push is turned away from the zero angle, so that both families take part.",
        features: &[
            Feature::HarmonicOne,
            Feature::BothFamilies,
            Feature::Pressure,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: pressed_sideways,
    },
    Case {
        name: "tube-under-waves",
        title: "Thick tube under waves of pressure",
        chapter: Chapter::Harmonics,
        about: "Pressure outside that goes with a single harmonic, from the second upwards, on a thick tube.",
        features: &[Feature::HigherHarmonics, Feature::Pressure, Feature::GuidedEdge, Feature::StraightEdges],
        run: under_waves,
    },
];

const RADIUS: f64 = 50.0;
/// Middle of the disc's thickness.
const MIDDLE: f64 = 4.5;

fn disc(half_angles_deg: &[f64]) -> Model {
    let mut model = tube("disc", 0.0, RADIUS, 3.0, iron(110e3, 0.26), 4.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    let push = pattern(&mut model, pressure("outside", 1.0));
    for (index, degrees) in half_angles_deg.iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "strips") };
        model.cases[case].name = format!("strips over ±{degrees}°");
        let alpha = degrees.to_radians();
        for middle in [0.0, PI] {
            load_in(&mut model, case, push, Around::Arc { from: middle - alpha, to: middle + alpha });
        }
    }
    model
}

fn solved(half_angles_deg: &[f64], options: &Options) -> Result<Bench, CaseFault> {
    // What is compared lies inside; the strips' own ends would ask for harmonics without end.
    Bench::with(disc(half_angles_deg), 2, options, |_, mesh| {
        let mut region = Region::everything(mesh);
        region.nodes.iter_mut().zip(&mesh.nodes).for_each(|(kept, p)| *kept &= p.r < 0.85 * RADIUS);
        region
    })
}

fn between_strips() -> Result<Record, CaseFault> {
    let angles = [5.0, 10.0, 15.0];
    let bench = solved(&angles, &Options::default())?;
    let mut rows = Vec::new();
    for (case, degrees) in angles.into_iter().enumerate() {
        for rho in [0.0, 0.5, 0.75] {
            let exact = strip_on_diameter(f64::to_radians(degrees), rho);
            for (name, index, value) in [("across", 1, exact.hoop_mpa), ("along", 0, exact.radial_mpa)] {
                let what = format!("±{degrees}°: stress {name} at r/R {rho}");
                let read = |s: &_| field(s, case, (rho * RADIUS, MIDDLE), 0.0).1[index];
                let row = bench.row(what, "MPa", HONDROS, value, read);
                rows.push(row.within(Tolerance::Absolute(2e-3), STRESS));
            }
        }
    }
    Ok(bench.record(rows))
}

fn between_points() -> Result<Record, CaseFault> {
    let half_angle = 1.0f64;
    let bench = solved(&[half_angle], &Options::default())?;
    let alpha = half_angle.to_radians();
    let across = point_load_across_mpa(2.0 * alpha * RADIUS, 2.0 * RADIUS, 1.0);
    let mut rows = Vec::new();
    for fraction in [0.0, 0.2, 0.4] {
        let r = 2.0 * fraction * RADIUS;
        // From a load's distance away a strip differs from a point by the square of its half-angle over it.
        let width = (alpha / (1.0 - 2.0 * fraction)).powi(2);
        let reason = "square of the strip's half-angle over the distance, and two thousandths for the mesh";
        let along = across * point_load_along_factor(fraction);
        for (name, index, value) in [("across", 1, across), ("along", 0, along)] {
            let what = format!("stress {name} at y/D {fraction}, over the uniform tension across");
            let read = |s: &_| field(s, 0, (r, MIDDLE), 0.0).1[index] / across;
            let row = bench.row(what, "", POINTS, value / across, read);
            let allowed = (width + 2e-3) * (along / across).abs().max(1.0);
            rows.push(row.within(Tolerance::Absolute(allowed), reason));
        }
    }
    let width = format!("Each load is a strip over ±{half_angle}°.");
    Ok(bench.record(rows).fact(width))
}

fn pressed_sideways() -> Result<Record, CaseFault> {
    let ring = Annulus { inner_mm: 60.0, outer_mm: 90.0 };
    let elastic = Elastic { young_mpa: 110e3, poisson: 0.26 };
    let (push, phase) = (3.0, 0.7f64);
    let mut model = tube("tube", 60.0, 90.0, 12.0, iron(elastic.young_mpa, elastic.poisson), 8.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    for (tag, size) in [("outside", push), ("bore", push * 90.0 / 60.0)] {
        load(&mut model, pressure(tag, size * phase.cos()), Around::Cos(1));
        load(&mut model, pressure(tag, size * phase.sin()), Around::Sin(1));
    }
    let bench = Bench::solve(model, 3)?;
    let theta = 1.9f64;
    let (sin, cos) = (theta - phase).sin_cos();
    let mut rows: Vec<Row> = Vec::new();
    for r in [60.0, 75.0, 90.0] {
        let exact = sideways_stress(ring, push, elastic.poisson, r);
        for (name, index, value) in [
            ("radial", 0, exact.radial_mpa * cos),
            ("hoop", 1, exact.hoop_mpa * cos),
            ("shear", 3, exact.shear_mpa * sin),
        ] {
            let read = |s: &_| field(s, 0, (r, 8.0), theta).1[index];
            let row = bench.row(format!("{name} stress at r {r}"), "MPa", MICHELL, value, read);
            rows.push(row.within(Tolerance::Absolute(2e-3 * push), STRESS));
        }
    }
    // The difference between two radii is free of the tube's motion as a whole.
    let moved = |r| sideways_displacement_mm(ring, push, elastic, r).0;
    let exact = (moved(90.0) - moved(60.0)) * cos;
    let read = |s: &_| field(s, 0, (90.0, 8.0), theta).0[0] - field(s, 0, (60.0, 8.0), theta).0[0];
    let reason = "displacements converge one order faster than stresses";
    rows.push(
        bench
            .row("growth of the wall, outside less bore", "mm", MICHELL, exact, read)
            .within(Tolerance::Relative(1e-4), reason),
    );
    Ok(bench.record(rows))
}

fn under_waves() -> Result<Record, CaseFault> {
    let ring = Annulus { inner_mm: 60.0, outer_mm: 90.0 };
    let mut model = tube("tube", 60.0, 90.0, 8.0, iron(110e3, 0.3), 8.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    let push = pattern(&mut model, pressure("outside", 1.0));
    let waves = [2u32, 3, 7];
    for (index, n) in waves.into_iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "wave") };
        model.cases[case].name = format!("harmonic {n}");
        load_in(&mut model, case, push, Around::Cos(n as usize));
    }
    let bench = Bench::solve(model, 3)?;
    let mut rows = Vec::new();
    for (case, n) in waves.into_iter().enumerate() {
        for r in [60.0, 75.0, 90.0] {
            let exact = fourier_stress(ring, n, 1.0, r).ok_or_else(|| CaseFault::of("no solution"))?;
            let theta = 0.4;
            let (sin, cos) = (f64::from(n) * theta).sin_cos();
            for (name, index, value) in [
                ("radial", 0, exact.radial_mpa * cos),
                ("hoop", 1, exact.hoop_mpa * cos),
                ("shear", 3, exact.shear_mpa * sin),
            ] {
                let read = |s: &_| field(s, case, (r, 8.0), theta).1[index];
                let row = bench.row(format!("n {n}: {name} stress at r {r}"), "MPa", MICHELL, value, read);
                // The bore's hoop stress is the highest of the harmonic.
                let bore = fourier_stress(ring, n, 1.0, 60.0).map_or(1.0, |s| s.hoop_mpa.abs().max(1.0));
                let reason = "recovered stresses of the finest mesh: a few thousandths of the highest stress";
                rows.push(row.within(Tolerance::Absolute(2e-3 * bore), reason));
            }
        }
    }
    Ok(bench.record(rows))
}
