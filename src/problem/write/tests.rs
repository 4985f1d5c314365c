//! What is written reads back as the same problem, and solves to the same numbers.

use super::*;
use crate::elastic::{Hold, Iron, Law, Stretch, Support, Term};
use crate::hoist::RopeWrap;
use crate::problem::{Answer, Probe, Problem, Search, read};
use crate::reference::compare::{Tolerance, assert_close};
use crate::survey::Creep;
use std::path::Path;

/// A rope groove in a tube: an undercut-free seat of radius 5 about r 90, z 15.
fn roped(creep: Creep, run_in: f64, law: Law) -> Problem {
    let p = Point::new;
    let mut outline = Outline { loops: vec![], tags: vec![] };
    let [side, land, seat, bore] = ["side", "land", "groove 1: \"seat\"", "bore"].map(|t| outline.tag(t));
    outline.loops.push(vec![
        Edge::line(p(60.0, 0.0), p(90.0, 0.0), side),
        Edge::line(p(90.0, 0.0), p(90.0, 10.0), land),
        Edge::arc_between(p(90.0, 10.0), p(90.0, 20.0), p(90.0, 15.0), false, seat),
        Edge::line(p(90.0, 20.0), p(90.0, 30.0), land),
        Edge::line(p(90.0, 30.0), p(60.0, 30.0), side),
        Edge::line(p(60.0, 30.0), p(60.0, 0.0), bore),
    ]);
    let tags = vec![outline.tags[seat].clone()];
    let mut rope = RopeWrap::new(5300.0, 4100.0, 2.7, creep);
    for stretch in &mut rope.stretches {
        stretch.from += 0.13;
        stretch.to += 0.13;
    }
    let terms = vec![
        Term { pattern: 0, around: rope.bearing(run_in) },
        Term { pattern: 1, around: rope.drag(run_in) },
        Term { pattern: 2, around: Around::Cos(2) },
    ];
    let pressure = Field { at: 0.7, by_r: 0.0, by_z: 0.01 };
    let model = Model {
        title: "groove \\ \"one\"".into(),
        outline,
        sizing: Sizing { largest_mm: 6.0, fillet_step_rad: 0.5, halvings: 1, ..Sizing::default() },
        iron: Iron { young_mpa: 103e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1.1e-5 },
        supports: vec![Support { tag: "bore".into(), hold: Hold::FIXED }],
        patterns: vec![
            Pattern::Bearing { tags: tags.clone(), law },
            Pattern::Drag { tags, law, moment_radius_mm: 91.5 },
            Pattern::Pressure { tags: vec!["land".into()], value: pressure },
        ],
        cases: vec![Case { name: "loaded car".into(), terms }],
    };
    let probe = Probe { name: "wall".into(), at: p(75.0, 15.0), theta_rad: vec![0.0, 0.4], case: None };
    let search = Search { below_r_mm: Some(64.0), tags: vec![] };
    // Coarse on purpose: the same problem must come back, not a converged one.
    let series = crate::elastic::Options { tolerance: 0.02, ..Default::default() };
    Problem { model, extras: Extras { series, search, probes: vec![probe] } }
}

fn reread(problem: &Problem) -> Problem {
    let text = write(&problem.model, &problem.extras).unwrap();
    let reading = read(text.as_bytes(), Path::new("model.toml"));
    let shown = reading.diagnostics.render(crate::diagnostics::Look::Plain);
    reading.problem.unwrap_or_else(|| panic!("{shown}\n{text}"))
}

const COSINE: Law = Law::Cosine { centre: Point::new(90.0, 15.0) };

#[test]
fn a_roped_groove_reads_back_and_solves_to_the_same_peak() {
    for (creep, run_in, law) in
        [(Creep::ActiveArcLight { friction: 0.21 }, 0.12, COSINE), (Creep::WholeWrap, 0.1, Law::Uniform)]
    {
        let problem = roped(creep, run_in, law);
        let (first, second) = (Answer::new(&problem).unwrap(), Answer::new(&reread(&problem)).unwrap());
        let (a, b) = (&first.cases[0], &second.cases[0]);
        let same = |what, x, y| {
            let reason = "numbers are written so that they read back, but for degrees and radians";
            assert_close(what, x, y, Tolerance::Relative(1e-9), reason);
        };
        same("peak", a.peak.principal_mpa[0], b.peak.principal_mpa[0]);
        same("work", a.half_work_nmm, b.half_work_nmm);
        same("moment", a.applied.moment_nmm[2], b.applied.moment_nmm[2]);
        same("probe", first.probes[1].stress_mpa.tt, second.probes[1].stress_mpa.tt);
        assert_eq!(first.not_searched, second.not_searched);
        // The peak is one of this load: it has a place and a size.
        assert!(a.peak.principal_mpa[0] > 0.1, "{:?}", a.peak);
    }
}

#[test]
fn every_table_reads_back() {
    let mut problem = roped(Creep::ActiveArcHeavy { friction: 0.3 }, 0.0, COSINE);
    let model = &mut problem.model;
    model.sizing.on_tags.push(("bore".into(), 3.0));
    model.sizing.at_points.push(crate::mesh::PointSize { at: Point::new(60.0, 0.0), size_mm: 2.0 });
    let value = [Field::constant(0.1), Field::constant(-0.2), Field { at: 0.0, by_r: 0.3, by_z: 0.0 }];
    model.patterns.push(Pattern::Traction { tags: vec!["side".into(), "land".into()], value });
    model.patterns.push(Pattern::Thermal { temperature: Field { at: 1.0, by_r: 2.0, by_z: 3.0 } });
    model.patterns.push(Pattern::Spin { rad_s: 7.0 });
    let around = Around::Arc { from: -0.5, to: 0.25 };
    model.cases.push(Case {
        name: "rest".into(),
        terms: vec![
            Term { pattern: 3, around },
            Term { pattern: 4, around: Around::Constant },
            Term { pattern: 5, around: Around::Constant },
        ],
    });
    let again = reread(&problem);
    let written = |p: &Problem| write(&p.model, &p.extras).unwrap();
    // Degrees and radians may differ in the last digit once; from then on the text is stable.
    assert_eq!(written(&reread(&again)), written(&again));
    assert_eq!(again.model.outline.tags, problem.model.outline.tags);
    assert_eq!(again.model.supports, problem.model.supports);
    assert_eq!(again.model.title, problem.model.title);
    assert_eq!(again.model.sizing.on_tags, problem.model.sizing.on_tags);
    assert_eq!(again.model.sizing.at_points, problem.model.sizing.at_points);
    assert_eq!(again.extras.search, problem.extras.search);
    assert_eq!(again.model.patterns.len(), problem.model.patterns.len());
    for (term, old) in again.model.cases[1].terms.iter().zip(&problem.model.cases[1].terms) {
        assert_eq!(std::mem::discriminant(&term.around), std::mem::discriminant(&old.around));
    }
}

#[test]
fn equal_tensions_read_back_without_a_drag() {
    let mut problem = roped(Creep::WholeWrap, 0.1, COSINE);
    let even = RopeWrap::new(5000.0, 5000.0, 3.0, Creep::WholeWrap);
    problem.model.cases[0].terms = vec![Term { pattern: 0, around: even.bearing(0.1) }];
    let again = reread(&problem);
    assert!(again.model.patterns.iter().all(|p| !matches!(p, Pattern::Drag { .. })));
    let Around::Stretches { stretches, .. } = &again.model.cases[0].terms[0].around else { panic!() };
    assert_eq!((stretches[0].value, stretches[0].decay), (5000.0, 0.0));
}

#[test]
fn what_the_format_cannot_say_is_a_fault() {
    // A rope whose drag is missing although its tension falls.
    let mut problem = roped(Creep::WholeWrap, 0.1, COSINE);
    problem.model.cases[0].terms.remove(1);
    assert!(matches!(write(&problem.model, &problem.extras), Err(WriteFault::Rope { .. })));
    // A drag that is no rope's.
    let mut problem = roped(Creep::WholeWrap, 0.1, COSINE);
    problem.model.cases[0].terms.remove(0);
    assert!(matches!(write(&problem.model, &problem.extras), Err(WriteFault::Rope { .. })));
    // A pressure with the course of a rope.
    let mut problem = roped(Creep::WholeWrap, 0.1, COSINE);
    let stretch = Stretch { from: 0.0, to: 1.0, value: 2.0, decay: 0.1 };
    let around = Around::Stretches { stretches: vec![stretch], run_in: 0.0 };
    problem.model.cases[0].terms[2].around = around;
    assert!(matches!(write(&problem.model, &problem.extras), Err(WriteFault::Course { .. })));
}
