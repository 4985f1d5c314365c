//! The rope's pull on a whole wheel: what the supports give back.

use super::shapes::{hold, iron, tube};
use crate::elastic::{Case as LoadCase, Law, Options, Pattern, Region, Term};
use crate::hoist::{self, RopeWrap, expected};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::reference::rope::{drag_resultant_n, resultant_n};
use crate::survey::Creep;

const TRIANGLE: Source = Source::exact("law of cosines: √(T1² + T2² − 2·T1·T2·cos α)");
const DRAGGED: Source = Source::exact(
    "vector sum of the rope's pulls and of its drag times what the drag exceeds dT/dθ by, drag in closed form",
);
const MOMENT: Source = Source::exact("moment of two tensions at one radius: (T1 − T2)·R");

pub(super) static CASES: &[Case] = &[Case {
    name: "shaft-load-of-a-wheel",
    title: "Support force and moment of a wheel under a rope",
    chapter: Chapter::Ropes,
    about: "A plain wheel, its bore fixed, under pressure and drag of a rope over three wraps. Where the drag's moment \
            is stated at the surface itself, the support force is the law of cosines. Where it is stated at the rope's \
            middle, as in every check of a sheave, the moment is kept and the drag's force is larger in proportion.",
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
        Feature::ShaftLoad,
        Feature::WholeWrapCreep,
    ],
    run: shaft_load,
}];

fn shaft_load() -> Result<Record, CaseFault> {
    let (heavy, light, surface, pitch) = (8000.0, 5500.0, 250.0, 256.5);
    let wraps = [120.0f64, 165.0, 180.0];
    let mut model = tube("wheel", 100.0, surface, 40.0, iron(110e3, 0.26), 40.0);
    hold(&mut model, "bore", true, true, true);
    let tags = || vec!["outside".to_owned()];
    model.patterns = vec![Pattern::Bearing { tags: tags(), law: Law::Uniform }];
    for moment_radius_mm in [surface, pitch] {
        model.patterns.push(Pattern::Drag { tags: tags(), law: Law::Uniform, moment_radius_mm });
    }
    let rope = |degrees: f64| RopeWrap::new(heavy, light, degrees.to_radians(), Creep::WholeWrap);
    let run_in = 13.0 / pitch;
    let course = |degrees: f64, drag: usize| {
        let wrap = rope(degrees);
        vec![
            Term { pattern: 0, around: wrap.bearing(run_in) },
            Term { pattern: drag, around: wrap.drag(run_in) },
        ]
    };
    model.cases = wraps
        .iter()
        .flat_map(|degrees| [(degrees, 1, "surface"), (degrees, 2, "rope's middle")])
        .map(|(degrees, drag, name)| LoadCase {
            name: format!("wrap {degrees}°, moment at the {name}"),
            terms: course(*degrees, drag),
        })
        .collect();
    // Forces and moments live in the first two harmonics, so the series need not settle.
    let series = Options { block: 4, least: 4, tolerance: 10.0, ..Options::default() };
    let bench = Bench::with(model, 0, &series, |_, mesh| Region::everything(mesh))?;
    let balance = &bench.finest().balance;
    let kept = "the bound on the balance that every analysis must keep";
    let bound = Tolerance::Relative(1e-6);
    let excess = pitch / surface - 1.0;
    let mut rows = Vec::new();
    for (index, degrees) in wraps.into_iter().enumerate() {
        let alpha = degrees.to_radians();
        let triangle = resultant_n(heavy, light, alpha);
        let [at_surface, at_middle] = [2 * index, 2 * index + 1].map(|case| &balance[case].reaction);
        let name = format!("wrap {degrees}°");
        let what = format!("{name}: support force, moment stated at the surface");
        rows.push(Row::new(what, "N", TRIANGLE, triangle, at_surface.force()).within(bound, kept));
        let (sin, cos) = (0.5 * alpha).sin_cos();
        let within = Tolerance::Absolute(1e-6 * triangle);
        let across = Row::new(
            format!("{name}: support force in the middle of the wrap's direction"),
            "N",
            TRIANGLE,
            (heavy + light) * sin,
            at_surface.force_n[0],
        );
        rows.push(across.within(within, kept));
        let along = Row::new(
            format!("{name}: support force square to it, towards the light side"),
            "N",
            TRIANGLE,
            (heavy - light) * cos,
            at_surface.force_n[1],
        );
        rows.push(along.within(within, kept));
        let what = format!("{name}: support moment, stated at the surface");
        let moment = (heavy - light) * surface;
        rows.push(Row::new(what, "N·mm", MOMENT, moment, at_surface.moment_nmm[2]).within(bound, kept));
        let what = format!("{name}: support force, moment stated at the rope's middle");
        let reason =
            "T1 − T2 times what the rope's middle exceeds the surface by: the most that the drag can add";
        let row = Row::new(what, "N", TRIANGLE, triangle, at_middle.force());
        rows.push(row.within(Tolerance::Absolute(excess * (heavy - light)), reason));
        // Both ropes pull along their tangents; the drag adds its own excess.
        let drag = drag_resultant_n(heavy, light, alpha);
        let pulls = [-(heavy + light) * sin, (light - heavy) * cos];
        let exact = (pulls[0] + excess * drag[0]).hypot(pulls[1] + excess * drag[1]);
        let what = format!("{name}: the same with the drag's excess");
        rows.push(Row::new(what, "N", DRAGGED, exact, at_middle.force()).within(bound, kept));
        let case = hoist::LoadCase::single(hoist::CaseKind::RatedAtRest, vec![heavy], vec![light]);
        let sum = expected(&case, &[rope(degrees)], &[[pitch, surface]]);
        let what = format!("{name}: the sum that a check holds its tractions to");
        let computed = sum.applied_n[0].hypot(sum.applied_n[1]);
        rows.push(Row::new(what, "N", DRAGGED, exact, computed).within(bound, kept));
        let what = format!("{name}: support moment, stated at the rope's middle");
        let moment = (heavy - light) * pitch;
        rows.push(Row::new(what, "N·mm", MOMENT, moment, at_middle.moment_nmm[2]).within(bound, kept));
    }
    let fact = format!("Tensions {heavy} and {light} N, surface {surface} mm, rope's middle {pitch} mm.");
    Ok(bench.record(rows).fact(fact))
}
