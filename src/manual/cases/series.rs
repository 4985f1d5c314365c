//! How the series around the body settles under a half wrap.

use super::shapes::{body, hold, iron, load, pressure, tube};
use crate::elastic::{Around, Model, Options, Pattern, PeakSearch, Region, Solution};
use crate::hoist::RopeWrap;
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Source, Standing, probe};
use crate::mesh::Mesh;
use crate::reference::compare::Tolerance;
use crate::reference::disc::balanced_strip_series;
use crate::survey::Creep;
use std::f64::consts::{FRAC_PI_2, PI};

const MICHELL: Source = Source::from_memory(
    "Michell's stress function for a disc (Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 43), summed \
     to the stated harmonic",
);
const FINER: Source =
    Source { text: "This program itself, its series carried much further", standing: Standing::Itself };

pub(super) static CASES: &[Case] = &[
    Case {
        name: "half-wrap-disc",
        title: "Disc under pressure over half of its circumference, harmonic by harmonic",
        chapter: Chapter::Convergence,
        about: "A solid disc in plane strain under pressure over one half of its circumference; a pressure that \
                goes with cos θ all round takes up the sideways force. The exact series is known, so the truncated \
                answer can be compared both with the series cut at the same harmonic and with its limit.",
        features: &[
            Feature::HarmonicZero,
            Feature::HarmonicOne,
            Feature::HigherHarmonics,
            Feature::Pressure,
            Feature::ArcLoad,
            Feature::GuidedEdge,
            Feature::StraightEdges,
            Feature::SolidBody,
        ],
        run: half_wrap_disc,
    },
    Case {
        name: "half-wrap-truncation",
        title: "Web wheel under a half wrap: where the program stops its series",
        chapter: Chapter::Convergence,
        about: "A wheel with a thin rim on one web under a rope over half of its circumference. The highest \
                tension that the program accepts by its own rule is compared with the one after many more \
                harmonics: the rule must not stop too early.",
        features: &[
            Feature::HarmonicZero,
            Feature::Torsion,
            Feature::HarmonicOne,
            Feature::HigherHarmonics,
            Feature::BothFamilies,
            Feature::WrapLoad,
            Feature::RunIn,
            Feature::EvenBearing,
            Feature::Drag,
            Feature::FixedEdge,
            Feature::StraightEdges,
            Feature::CurvedEdges,
            Feature::PeakSearch,
            Feature::WholeWrapCreep,
        ],
        run: half_wrap_truncation,
    },
];

fn half_wrap_disc() -> Result<Record, CaseFault> {
    let (radius, p) = (50.0, 10.0);
    let mut model = tube("disc", 0.0, radius, 6.0, iron(110e3, 0.26), 6.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    load(&mut model, pressure("outside", p), Around::Arc { from: -FRAC_PI_2, to: FRAC_PI_2 });
    load(&mut model, pressure("outside", -2.0 * p / PI), Around::Cos(1));
    let exactly =
        |harmonics: usize| Options { block: harmonics + 1, least: 1, most: harmonics, tolerance: 1e9 };
    let (rho, theta) = (0.9, 75f64.to_radians());
    let mut rows = Vec::new();
    let mut kept = None;
    for harmonics in [8u32, 16, 32, 64] {
        let bench =
            Bench::with(model.clone(), 2, &exactly(harmonics as usize), |_, mesh| Region::everything(mesh))?;
        let exact = balanced_strip_series(FRAC_PI_2, rho, theta, harmonics);
        let far = balanced_strip_series(FRAC_PI_2, rho, theta, 4000);
        for (name, index, value) in [("radial", 0, exact.radial_mpa), ("hoop", 1, exact.hoop_mpa)] {
            let what = format!("{name} stress at r {}, θ 75°, harmonics to {harmonics}", rho * radius);
            let reason = "recovered stresses of the finest mesh, a thousandth of the pressure";
            let read = |s: &Solution| probe(s, rho * radius, 5.0, theta).1[index];
            rows.push(
                bench
                    .row(what, "MPa", MICHELL, p * value, read)
                    .within(Tolerance::Absolute(1e-3 * p), reason),
            );
        }
        let what = format!("truncation error of the hoop stress, harmonics to {harmonics}");
        let read = |s: &Solution| probe(s, rho * radius, 5.0, theta).1[1] - p * far.hoop_mpa;
        let reason = "as for the stress itself";
        rows.push(
            bench
                .row(what, "MPa", MICHELL, p * (exact.hoop_mpa - far.hoop_mpa), read)
                .within(Tolerance::Absolute(1e-3 * p), reason),
        );
        kept = Some(bench);
    }
    let Some(bench) = kept else { return Err(CaseFault::of("no series was summed")) };
    Ok(bench.record(rows))
}

/// A wheel with a plain rim, one web and a bore, under one rope that lies on the rim.
fn web_wheel() -> Model {
    let p = crate::geometry::Point::new;
    let (r, w) = (crate::geometry::Edge::arc, crate::geometry::Edge::line);
    let edges = vec![
        (w(p(60.0, -8.0), p(230.0, -8.0), 0), "web"),
        (r(p(230.0, -8.0), p(230.0, -16.0), -FRAC_PI_2, 0), "fillet"),
        (w(p(238.0, -16.0), p(238.0, -40.0), 0), "underside"),
        (w(p(238.0, -40.0), p(250.0, -40.0), 0), "side"),
        (w(p(250.0, -40.0), p(250.0, 26.0), 0), "rim"),
        (w(p(250.0, 26.0), p(250.0, 42.0), 0), "seat"),
        (w(p(250.0, 42.0), p(250.0, 46.0), 0), "rim"),
        (w(p(250.0, 46.0), p(238.0, 46.0), 0), "side"),
        (w(p(238.0, 46.0), p(238.0, 16.0), 0), "underside"),
        (r(p(238.0, 16.0), p(230.0, 16.0), -FRAC_PI_2, 0), "fillet"),
        (w(p(230.0, 8.0), p(60.0, 8.0), 0), "web"),
        (w(p(60.0, 8.0), p(60.0, -8.0), 0), "bore"),
    ];
    let mut model = body("web wheel", edges, iron(110e3, 0.26), 8.0);
    hold(&mut model, "bore", true, true, true);
    model
}

fn half_wrap_truncation() -> Result<Record, CaseFault> {
    let (heavy, light, d) = (8000.0, 5500.0, 13.0);
    let mut model = web_wheel();
    let wrap = RopeWrap::new(heavy, light, PI, Creep::WholeWrap);
    let (tags, law) = (vec!["seat".to_owned()], crate::elastic::Law::Uniform);
    let run_in = d / 250.0;
    load(&mut model, Pattern::Bearing { tags: tags.clone(), law }, wrap.bearing(run_in));
    load(&mut model, Pattern::Drag { tags, law, moment_radius_mm: 250.0 + d / 2.0 }, wrap.drag(run_in));
    let region = |model: &Model, mesh: &Mesh| {
        let mut region = Region::of(model, mesh, 48);
        region.only_on(mesh, &["rim".to_owned(), "underside".to_owned()]);
        region
    };
    let own = Bench::with(model.clone(), 1, &Options::default(), region)?;
    let far = Options { block: 100, least: 400, most: 500, tolerance: 1e9 };
    let far = Bench::with(model, 1, &far, region)?;
    let peak = |s: &Solution| {
        let searched = region(&own.model, &s.mesh);
        let search = PeakSearch::new(&s.mesh, &s.cases[0], &searched);
        let [ranking] = search.rankings(&[&|p: &[f64; 3]| p[0]]);
        ranking.first().map_or(f64::NAN, |hit| hit.score)
    };
    let limit = peak(far.finest());
    let rule = Options::default().tolerance;
    let reason = "the share by which the program's own rule lets the last block move the highest tension";
    let row = own.row("highest tension where the series stops", "MPa", FINER, limit, peak);
    let rows = vec![row.within(Tolerance::Relative(rule), reason)];
    let (stopped, carried) = (own.finest().last_harmonic(), far.finest().last_harmonic());
    let off = |step: &crate::elastic::BlockStep| {
        format!("{:.2} % after {}", 100.0 * (step.peak_mpa / limit - 1.0).abs(), step.last_harmonic)
    };
    let steps: Vec<String> = own.finest().blocks.iter().map(off).collect();
    let course =
        format!("Harmonic by harmonic, the highest tension on the surface is off by {}.", steps.join(", "));
    let ends = format!("The program stops after {stopped} harmonics; the comparison goes to {carried}.");
    Ok(own.record(rows).fact(ends).fact(course))
}
