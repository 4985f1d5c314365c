//! Bodies under loads that are the same all round.

use super::shapes::{hold, iron, load, pressure, tube};
use crate::elastic::Around;
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Source, probe};
use crate::reference::annulus::{Annulus, Elastic, Plane, Pressure};
use crate::reference::compare::Tolerance;

const LAME: Source =
    Source::from_memory("Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 28 (Lamé)");

pub(super) static CASES: &[Case] = &[Case {
    name: "thick-ring-inside",
    title: "Thick ring under pressure inside",
    chapter: Chapter::EvenLoads,
    about: "Plane strain: the faces are guided. Three values of Poisson's ratio, the last nearly incompressible.",
    features: &[Feature::HarmonicZero, Feature::Pressure, Feature::GuidedEdge, Feature::StraightEdges],
    run: thick_ring_inside,
}];

fn thick_ring_inside() -> Result<Record, CaseFault> {
    let (a, b, inside, young) = (100.0, 200.0, 60.0, 200e3);
    let ring = Annulus { inner_mm: a, outer_mm: b };
    let load_mpa = Pressure { inside_mpa: inside, outside_mpa: 0.0 };
    let mut all = Vec::new();
    let mut last = None;
    for nu in [0.26, 0.49, 0.3] {
        let mut model = tube("ring", a, b, 30.0, iron(young, nu), 30.0);
        hold(&mut model, "bottom", false, false, true);
        hold(&mut model, "top", false, false, true);
        load(&mut model, pressure("bore", inside), Around::Constant);
        let bench = Bench::solve(model, 4)?;
        let elastic = Elastic { young_mpa: young, poisson: nu };
        for r in [a, 0.5 * (a + b), b] {
            let exact = ring.pressure_stress(load_mpa, r);
            let reason = "recovered stresses of the finest mesh, a few ten-thousandths of the pressure";
            let tolerance = Tolerance::Absolute(1e-3 * inside);
            for (name, index, value) in [("radial", 0, exact.radial_mpa), ("hoop", 1, exact.hoop_mpa)] {
                let what = format!("ν {nu}: {name} stress at r {r}");
                all.push(
                    bench
                        .row(what, "MPa", LAME, value, |s| probe(s, r, 14.0, 0.3).1[index])
                        .within(tolerance, reason),
                );
            }
            let exact = ring.pressure_displacement_mm(load_mpa, elastic, Plane::Strain, r);
            let what = format!("ν {nu}: radial displacement at r {r}");
            let reason = "displacements converge one order faster than stresses";
            all.push(
                bench
                    .row(what, "mm", LAME, exact, |s| probe(s, r, 14.0, 0.3).0[0])
                    .within(Tolerance::Relative(1e-5), reason),
            );
        }
        last = Some(bench);
    }
    let Some(bench) = last else { return Err(CaseFault::of("no ring was solved")) };
    Ok(bench.record(all))
}
