//! A cavity in the section: Kirsch's hole as a tunnel around a ring.

use super::shapes::{body, hold, iron, load, polygon, traction};
use crate::elastic::{Along, Around, Field, PeakSearch, Region, Solution};
use crate::geometry::{Edge, Point};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source, probe};
use crate::reference::compare::Tolerance;
use crate::reference::notch::{kirsch_ligament, kirsch_ligament_mean};
use crate::study::NotchPath;
use std::f64::consts::PI;

const KIRSCH: Source =
    Source::from_memory("Kirsch 1898, as in Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 35");

pub(super) static CASES: &[Case] = &[Case {
    name: "tunnel-in-a-ring",
    title: "Round tunnel through a ring that is pulled along its axis",
    chapter: Chapter::Notches,
    about: "A ring so large that its section behaves as a plane has a round hole all the way round. Pulled along the \
            axis, the stress beside the hole is three times the mean one, and falls off by Kirsch's law. The point \
            and the line method at several critical distances start at the hot spot that the program finds.",
    features: &[
        Feature::HarmonicZero,
        Feature::Traction,
        Feature::GuidedEdge,
        Feature::StraightEdges,
        Feature::CurvedEdges,
        Feature::Cavity,
        Feature::NotchStress,
        Feature::PeakSearch,
        Feature::CriticalDistance,
    ],
    run,
}];

fn run() -> Result<Record, CaseFault> {
    let (hole, middle, half, pull) = (5.0, Point::new(20_000.0, 203.0), 200.0, 10.0);
    let (inside, outside, low, high) = (middle.r - half, middle.r + half, middle.z - half, middle.z + half);
    let edges = polygon(&[
        (inside, low, "bottom"),
        (outside, low, "outside"),
        (outside, high, "top"),
        (inside, high, "inside"),
    ]);
    let mut model = body("ring with a tunnel", edges, iron(110e3, 0.26), 60.0);
    let tag = model.outline.tag("tunnel");
    let half_turn = |from: f64| Edge::arc(middle + Point::new(from, 0.0), middle, -PI, tag);
    model.outline.loops.push(vec![half_turn(hole), half_turn(-hole)]);
    hold(&mut model, "bottom", false, false, true);
    let axial = [Field::default(), Field::default(), Field::constant(pull)];
    load(&mut model, traction("top", axial), Around::Constant);
    let bench = Bench::solve(model, 3)?;
    let mut rows = Vec::new();
    for distance in [1.0, 1.25, 1.5, 2.0, 3.0] {
        let at = middle.r + hole * distance;
        let what = format!("axial stress over the mean one at {distance} hole radii from its middle");
        let reason = "a strip of finite width and a ring of finite radius: the square of hole over half width, \
                      three times itself, and hole over radius";
        let allowed = 3.0 * (hole / half).powi(2) + hole / middle.r;
        let read = |s: &crate::elastic::Solution| probe(s, at, middle.z, 0.7).1[2] / pull;
        rows.push(
            bench
                .row(what, "", KIRSCH, kirsch_ligament(distance), read)
                .within(Tolerance::Absolute(allowed), reason),
        );
    }
    rows.extend(averaged(&bench, middle, hole, half, pull));
    Ok(bench.record(rows))
}

/// Point and line method from the hot spot inwards, found by the program's own search.
fn averaged(bench: &Bench, middle: Point, hole: f64, half: f64, pull: f64) -> Vec<Row> {
    let methods = |s: &Solution, distance: f64| {
        let mut region = Region::everything(&s.mesh);
        region.only_on(&s.mesh, &["tunnel".to_owned()]);
        let search = PeakSearch::new(&s.mesh, &s.cases[0], &region);
        let tension = |p: &[f64; 3]| p[0];
        let [ranking] = search.rankings(&[&tension]);
        let along = Along { mesh: &s.mesh, harmonics: &s.cases[0], region: &region };
        let peak = ranking.first().map(|hit| along.highest(&ranking, search.peak(hit), &tension));
        let path = peak.and_then(|peak| NotchPath::at(s, &bench.model.outline, 0, &peak));
        path.and_then(|path| path.methods(distance)).unwrap_or((f64::NAN, f64::NAN))
    };
    let mut rows = Vec::new();
    for share in [0.1, 0.3, 1.0] {
        let distance = share * hole;
        let reason = "as for the stress itself; the search may settle on either side of the hole";
        let allowed = Tolerance::Absolute(3.0 * (hole / half).powi(2) + hole / middle.r);
        let point = kirsch_ligament(1.0 + 0.5 * share);
        let what = format!("point method over the mean stress, L = {share} hole radii");
        let row = bench.row(what, "", KIRSCH, point, |s| methods(s, distance).0 / pull);
        rows.push(row.within(allowed, reason));
        let line = kirsch_ligament_mean(1.0 + 2.0 * share);
        let what = format!("line method over the mean stress, L = {share} hole radii");
        let row = bench.row(what, "", KIRSCH, line, |s| methods(s, distance).1 / pull);
        rows.push(row.within(allowed, reason));
    }
    rows
}
