//! A corner without a radius: the stress has no finite value, and the program must say so.

use super::shapes::{body, hold, iron, load, polygon, traction};
use crate::elastic::{Around, Field, Options, PeakSearch, Region, Solution, growth};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source, probe};
use crate::reference::compare::Tolerance;
use crate::reference::corner::{growth_per_halving, symmetric_exponent};

const WILLIAMS: Source = Source::published("Williams, Journal of Applied Mechanics 19 (1952) 526-528");
const EQUILIBRIUM: Source = Source::exact("Equilibrium: force over area");

pub(super) static CASES: &[Case] = &[Case {
    name: "sharp-corner",
    title: "Stepped tube with a sharp re-entrant corner",
    chapter: Chapter::Notches,
    about: "Pulled along its axis, a step without a radius has no finite stress in its corner: what a mesh shows \
            there grows by the same factor with every halving. The program leaves the corner out of its search, by \
            name, and what it gives elsewhere settles.",
    features: &[
        Feature::HarmonicZero,
        Feature::Traction,
        Feature::GuidedEdge,
        Feature::StraightEdges,
        Feature::SharpCorner,
        Feature::PeakSearch,
    ],
    run,
}];

fn run() -> Result<Record, CaseFault> {
    let pull = 10.0;
    let edges = polygon(&[
        (200.0, 0.0, "middle"),
        (240.0, 0.0, "thick side"),
        (240.0, 40.0, "shoulder"),
        (220.0, 40.0, "thin side"),
        (220.0, 120.0, "end"),
        (200.0, 120.0, "bore"),
    ]);
    let mut model = body("stepped tube", edges, iron(110e3, 0.26), 10.0);
    hold(&mut model, "middle", false, false, true);
    let axial = [Field::default(), Field::default(), Field::constant(pull)];
    load(&mut model, traction("end", axial), Around::Constant);
    let bench = Bench::with(model, 4, &Options::default(), |model, mesh| Region::of(model, mesh, 48))?;
    let largest_at_corner = |s: &Solution| {
        let near =
            |node: &&usize| s.mesh.nodes[**node].distance(crate::geometry::Point::new(220.0, 40.0)) < 1e-6;
        let nodes: Vec<usize> = (0..s.mesh.nodes.len()).collect();
        nodes
            .iter()
            .find(near)
            .map_or(f64::NAN, |node| crate::elastic::principal_values(&s.stress(0, *node, 0.0))[0])
    };
    // Steps between meshes: what stays finite at the corner drops out of them.
    let course: Vec<f64> = bench.solutions.iter().map(largest_at_corner).collect();
    let step = |level: usize| course[level] - course[level - 1];
    let exact = growth_per_halving(1.5 * std::f64::consts::PI);
    let williams = symmetric_exponent(1.5 * std::f64::consts::PI);
    let mut rows = Vec::new();
    for level in 3..course.len() {
        let what = format!("growth of the steps in the corner's stress with halving {level}");
        let reason = "the antisymmetric field beside the symmetric one fades with the element size";
        let growth = step(level) / step(level - 1);
        rows.push(Row::new(what, "", WILLIAMS, exact, growth).within(Tolerance::Relative(0.02), reason));
    }
    let searched: Vec<Region> =
        bench.solutions.iter().map(|s| Region::of(&bench.model, &s.mesh, 48)).collect();
    let named =
        |text: &str| searched.iter().filter(|r| r.exclusions.iter().any(|e| e.reason.contains(text))).count();
    let found = named("re-entrant corner of 270° without a radius") as f64;
    let every = searched.len() as f64;
    rows.push(
        Row::new("meshes on which the corner is left out by name", "", EQUILIBRIUM, every, found)
            .within(Tolerance::Absolute(0.0), "all of them"),
    );
    let mean = bench.row("axial stress far from the step", "MPa", EQUILIBRIUM, pull, |s| {
        probe(s, 210.0, 110.0, 0.4).1[2]
    });
    rows.push(mean.within(
        Tolerance::Relative(0.01),
        "bending from the step fades as exp(-βx) cos βx and is not all gone",
    ));
    let highest = |s: &Solution| {
        let region = Region::of(&bench.model, &s.mesh, 48);
        let search = PeakSearch::new(&s.mesh, &s.cases[0], &region);
        let [ranking] = search.rankings(&[&|p: &[f64; 3]| p[0]]);
        ranking.first().map_or(f64::NAN, |hit| hit.score)
    };
    let grown = growth(&bench.model, &Options::default(), |_| true)?;
    let observed = grown.first().and_then(|growth| growth.observed_exponent).unwrap_or(f64::NAN);
    let reason =
        "three meshes near the corner: the antisymmetric field and the elements' own error fade with size";
    rows.push(
        Row::new("exponent λ - 1 that the growth study observes", "", WILLIAMS, williams - 1.0, observed)
            .within(Tolerance::Absolute(0.02), reason),
    );
    let course: Vec<String> = bench.solutions.iter().map(|s| format!("{:.2}", highest(s))).collect();
    let left: Vec<String> = searched.iter().map(|r| format!("{:.2}", r.exclusions[0].distance_mm)).collect();
    let fact = format!(
        "Highest tension outside the part that is left out, mesh by mesh: {} MPa; distance left out: {} mm. It grows \
         as the part shrinks, and so is no peak stress of the corner.",
        course.join(", "),
        left.join(", ")
    );
    Ok(bench.record(rows).fact(fact))
}
