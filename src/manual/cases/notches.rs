//! Grooves and shoulders in round shafts, pulled and bent, against handbook fits.

use super::shapes::{axial, body, further_case, hold, iron, load_in, pattern};
use crate::elastic::{Around, Model, PeakSearch, Region, Solution};
use crate::geometry::{Edge, Point};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source, Unmet};
use crate::reference::compare::Tolerance;
use crate::reference::notch::{ShaftLoad, ShaftNotch};

const GROOVE: Source = Source::published(
    "Roark's Formulas for Stress and Strain, table 17.1 case 15 (seen through a secondary copy)",
);
const DEEP_GROOVE: Source = Source::from_memory("Roark's Formulas for Stress and Strain, table 17.1 case 15");
const FILLET: Source = Source::published(
    "Tipton, Sorem & Rolovic, Journal of Mechanical Design 118 (1996) 321-327 (coefficients seen through secondary copies)",
);

const OLD_FILLET: Source = Source::published(
    "Roark's Formulas for Stress and Strain, table 17.1 case 17 (seen through a secondary copy, lost signs restored from memory)",
);

/// What the handbook says of its fits, and what such fits reach in general.
const FIT_DOUBT: f64 = 0.05;
const FIT: &str = "fits of such factors are accurate to about five per cent";

/// Values of the groove's table that lie beyond its own accuracy: depth, root radius, load.
const GROOVES_OFF: [(f64, f64, ShaftLoad); 2] =
    [(10.0, 2.0, ShaftLoad::Tension), (5.0, 2.5, ShaftLoad::Tension)];
const GROOVES_OFF_WHY: &str = "The table follows Neuber's rule, which later computations find low by up to about \
    7 % (Nisitani & Noda, Engineering Fracture Mechanics; their abstract was read, not their tables). The \
    program's own estimate is far smaller than the gap.";
/// The same of the shoulder's.
const SHOULDERS_OFF: [(f64, f64, ShaftLoad); 6] = [
    (10.0, 10.0, ShaftLoad::Tension),
    (5.0, 2.5, ShaftLoad::Tension),
    (5.0, 5.0, ShaftLoad::Tension),
    (10.0, 5.0, ShaftLoad::Tension),
    (5.0, 2.5, ShaftLoad::Bending),
    (10.0, 5.0, ShaftLoad::Bending),
];
const SHOULDERS_OFF_WHY: &str = "The table's fits go back to photoelastic tests; the published finite-element fit \
    above, made to replace them, agrees with the program within its accuracy for every one of these shoulders.";

const FEATURES: &[Feature] = &[
    Feature::HarmonicZero,
    Feature::HarmonicOne,
    Feature::Traction,
    Feature::GuidedEdge,
    Feature::SolidBody,
    Feature::NotchStress,
    Feature::PeakSearch,
    Feature::StraightEdges,
    Feature::CurvedEdges,
];

pub(super) static CASES: &[Case] = &[
    Case {
        name: "groove-in-shaft",
        title: "U groove in a shaft, pulled and bent",
        chapter: Chapter::Notches,
        about: "Grooves of several depths and root radii. One half of the shaft is solved: in tension and in bending alike the middle of the groove is a plane of symmetry, which moves neither out of itself nor is sheared. The peak is searched over the whole body and all angles.",
        features: FEATURES,
        run: groove,
    },
    Case {
        name: "shoulder-in-shaft",
        title: "Shoulder fillet in a shaft, pulled and bent",
        chapter: Chapter::Notches,
        about: "A step between two diameters with a fillet, against a fit of published finite-element results; the older handbook fits to photoelastic tests lie well below those in tension. The thick part ends in a plane of symmetry a diameter away from the step. The peak is searched over the whole body and all angles.",
        features: FEATURES,
        run: shoulder,
    },
];

/// The larger diameter's radius.
const RADIUS: f64 = 50.0;
const LOW: f64 = 3.0;

/// One half of a grooved shaft, its guided middle at the bottom.
fn grooved(depth: f64, root: f64) -> Model {
    let p = Point::new;
    let (bottom, centre) = (RADIUS - depth, p(RADIUS - depth + root, LOW));
    let top = LOW + root + 1.6 * RADIUS;
    let mut edges = vec![
        (Edge::line(p(0.0, LOW), p(bottom, LOW), 0), "middle"),
        (Edge::arc_between(p(bottom, LOW), p(centre.r, LOW + root), centre, false, 0), "groove"),
    ];
    if depth > root {
        edges.push((Edge::line(p(centre.r, LOW + root), p(RADIUS, LOW + root), 0), "groove"));
    }
    edges.push((Edge::line(p(RADIUS, LOW + root), p(RADIUS, top), 0), "outside"));
    edges.push((Edge::line(p(RADIUS, top), p(0.0, top), 0), "end"));
    edges.push((Edge::line(p(0.0, top), p(0.0, LOW), 0), "axis"));
    ended("grooved shaft", edges, RADIUS)
}

/// A stepped shaft, its thick part below.
fn stepped(depth: f64, root: f64) -> Model {
    let p = Point::new;
    let (small, step) = (RADIUS - depth, LOW + 2.0 * RADIUS);
    let centre = p(small + root, step + root);
    let top = step + root + 1.6 * RADIUS;
    let mut edges = vec![
        (Edge::line(p(0.0, LOW), p(RADIUS, LOW), 0), "middle"),
        (Edge::line(p(RADIUS, LOW), p(RADIUS, step), 0), "outside"),
    ];
    if depth > root {
        edges.push((Edge::line(p(RADIUS, step), p(centre.r, step), 0), "shoulder"));
    }
    edges.push((Edge::arc_between(p(centre.r, step), p(small, centre.z), centre, false, 0), "fillet"));
    edges.push((Edge::line(p(small, centre.z), p(small, top), 0), "neck"));
    edges.push((Edge::line(p(small, top), p(0.0, top), 0), "end"));
    edges.push((Edge::line(p(0.0, top), p(0.0, LOW), 0), "axis"));
    ended("stepped shaft", edges, small)
}

/// Guided middle, and two load cases: tension and bending with 1 MPa at the end's own radius.
fn ended(title: &str, edges: Vec<(Edge, &str)>, end_radius: f64) -> Model {
    let mut model = body(title, edges, iron(207e3, 0.29), 25.0);
    hold(&mut model, "middle", false, false, true);
    model.cases[0].name = "tension".to_owned();
    let pull = pattern(&mut model, axial("end", 1.0, 0.0));
    load_in(&mut model, 0, pull, Around::Constant);
    let bend = pattern(&mut model, axial("end", 0.0, 1.0 / end_radius));
    let case = further_case(&mut model, "bending");
    load_in(&mut model, case, bend, Around::Cos(1));
    model
}

/// Highest tension of a load case anywhere.
fn highest(solution: &Solution, case: usize) -> f64 {
    let region = Region::everything(&solution.mesh);
    let search = PeakSearch::new(&solution.mesh, &solution.cases[case], &region);
    let [hits] = search.rankings(&[&|p: &[f64; 3]| p[0]]);
    hits[0].score
}

const LOADS: [(&str, ShaftLoad); 2] = [("tension", ShaftLoad::Tension), ("bending", ShaftLoad::Bending)];

fn label(depth: f64, root: f64, load: &str) -> String {
    format!("h {depth}, r {root}: K_t in {load}")
}

/// Puts a row under what holds, or under what is known to lie beyond the reference's accuracy.
fn sort(record: &mut Record, row: Row, off: bool, why: &'static str) {
    let doubt = FIT_DOUBT * row.reference;
    let row = row.doubt(doubt).within(Tolerance::Relative(FIT_DOUBT), FIT);
    if off {
        record.unmet.push(Unmet { row, why });
    } else {
        record.rows.push(row);
    }
}

fn groove() -> Result<Record, CaseFault> {
    let mut all = Record::default();
    for (depth_mm, radius_mm) in [(10.0, 2.0), (20.0, 5.0), (10.0, 10.0), (5.0, 2.5), (5.0, 5.0), (10.0, 5.0)]
    {
        let bench = Bench::solve(grooved(depth_mm, radius_mm), 2)?;
        let notch = ShaftNotch { diameter_mm: 2.0 * RADIUS, depth_mm, radius_mm };
        let net = (RADIUS - depth_mm) / RADIUS;
        for (case, (name, kind)) in LOADS.into_iter().enumerate() {
            let exact = notch.u_groove(kind).ok_or_else(|| CaseFault::of("outside the fit"))?;
            // Nominal stress of the net section: force over area, moment over its modulus.
            let nominal = net.powi(if kind == ShaftLoad::Tension { -2 } else { -3 });
            let source =
                if kind == ShaftLoad::Bending && depth_mm > 2.0 * radius_mm { DEEP_GROOVE } else { GROOVE };
            let what = label(depth_mm, radius_mm, name);
            let row = bench.row(what, "", source, exact, |s| highest(s, case) / nominal);
            let off = GROOVES_OFF.contains(&(depth_mm, radius_mm, kind));
            sort(&mut all, row, off, GROOVES_OFF_WHY);
        }
        let last = bench.record(Vec::new());
        (all.model, all.levels) = (last.model, last.levels);
    }
    Ok(all)
}

fn shoulder() -> Result<Record, CaseFault> {
    let mut all = Record::default();
    for (depth_mm, radius_mm) in [(10.0, 10.0), (5.0, 2.5), (5.0, 5.0), (10.0, 5.0)] {
        let bench = Bench::solve(stepped(depth_mm, radius_mm), 2)?;
        let notch = ShaftNotch { diameter_mm: 2.0 * RADIUS, depth_mm, radius_mm };
        for (case, (name, kind)) in LOADS.into_iter().enumerate() {
            let what = label(depth_mm, radius_mm, name);
            let computed = notch.shoulder_fillet_computed(kind);
            let row = bench.row(what.clone(), "", FILLET, computed, |s| highest(s, case));
            sort(&mut all, row, false, "");
            let table = notch.shoulder_fillet(kind).ok_or_else(|| CaseFault::of("outside the fit"))?;
            let row = bench.row(what + ", older fit", "", OLD_FILLET, table, |s| highest(s, case));
            let off = SHOULDERS_OFF.contains(&(depth_mm, radius_mm, kind));
            sort(&mut all, row, off, SHOULDERS_OFF_WHY);
        }
        let last = bench.record(Vec::new());
        (all.model, all.levels) = (last.model, last.levels);
    }
    Ok(all)
}
