//! Circular plates and annular webs against plate theory with shear deformation.

use super::shapes::{axial, body, field, hold, iron, load, polygon, pressure, through_wall, tube};
use crate::elastic::{Around, Model, Solution};
use crate::geometry::Point;
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::mesh::PointSize;
use crate::reference::compare::Tolerance;
use crate::reference::plate::{
    ShearDeflection, central_patch_clamped, uniform_clamped, uniform_clamped_moment,
    uniform_simply_supported, web_rim_load,
};
use std::f64::consts::PI;

const ROARK: Source = Source::from_memory(
    "Roark's Formulas for Stress and Strain, table 11.2, with the shear deflection of Timoshenko & Woinowsky-Krieger art. 39",
);
const WEB: Source = Source::exact("plate equation, with the shear deflection from equilibrium");

const SQUARE: &str = "beyond shear, plate theory leaves out terms of the square of thickness over span";
const FIRST: &str =
    "a solid that is held on its whole edge gives a little there: of the order of thickness over span";

const FEATURES: &[Feature] = &[
    Feature::HarmonicZero,
    Feature::Pressure,
    Feature::Traction,
    Feature::SolidBody,
    Feature::StraightEdges,
];

pub(super) static CASES: &[Case] = &[
    Case {
        name: "supported-plate",
        title: "Circular plate on its rim under even pressure",
        chapter: Chapter::ShellsAndPlates,
        about: "The support of the rim is an even shear traction that balances the pressure, so nothing holds the plate and its rim turns freely. Shear deformation is added to plate theory's deflection.",
        features: FEATURES,
        run: supported,
    },
    Case {
        name: "clamped-plate",
        title: "Clamped circular plate under even pressure and under a central load",
        chapter: Chapter::ShellsAndPlates,
        about: "The rim cannot move radially at any height, so it does not turn, and is carried by an even shear traction. The same plate with its whole rim held is compared more coarsely: a solid gives a little at such a clamp. The central load is spread over a small patch.",
        features: &[
            Feature::HarmonicZero,
            Feature::Pressure,
            Feature::Traction,
            Feature::SolidBody,
            Feature::GuidedEdge,
            Feature::FixedEdge,
            Feature::StraightEdges,
        ],
        run: clamped,
    },
    Case {
        name: "web-under-rim-load",
        title: "Annular web with a line load on its rim",
        chapter: Chapter::ShellsAndPlates,
        about: "A flat web clamped at the hub and pushed sideways at its free rim, for four ratios of hub to rim: displacement of the rim and bending moment at the hub.",
        features: &[Feature::HarmonicZero, Feature::Traction, Feature::GuidedEdge, Feature::StraightEdges],
        run: web,
    },
];

const YOUNG: f64 = 110e3;

/// Plate stiffness D (N·mm).
fn stiffness(thickness: f64, poisson: f64) -> f64 {
    YOUNG * thickness.powi(3) / (12.0 * (1.0 - poisson * poisson))
}

/// How far the middle plane at one radius sinks against another (mm).
fn sinks(solution: &Solution, height: f64, at: f64, against: f64) -> f64 {
    field(solution, 0, (against, height), 0.3).0[2] - field(solution, 0, (at, height), 0.3).0[2]
}

const RADIUS: f64 = 100.0;
const THICKNESS: f64 = 4.0;
const MIDDLE: f64 = 3.0 + 0.5 * THICKNESS;

/// Radial bending moment through the plate at a radius, positive when the bottom is in tension.
fn radial_moment(solution: &Solution, r: f64, thickness: f64) -> f64 {
    through_wall(solution, 0, [(r, 3.0 + thickness), (r, 3.0)], 0.3, 0).moment
}

fn supported() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let mut record = Record::default();
    for poisson in [0.3, 0.26] {
        let mut model = tube("plate", 0.0, RADIUS, THICKNESS, iron(YOUNG, poisson), THICKNESS);
        load(&mut model, pressure("top", 1.0), Around::Constant);
        load(&mut model, axial("outside", 0.5 * RADIUS / THICKNESS, 0.0), Around::Constant);
        let bench = Bench::solve(model, 2)?;
        let thin = uniform_simply_supported(poisson);
        let shear = ShearDeflection { thickness_mm: THICKNESS, young_mpa: YOUNG, poisson };
        let exact = thin.displacement * RADIUS.powi(4) / stiffness(THICKNESS, poisson)
            + shear.uniform_mm(1.0, RADIUS);
        let label = format!("ν {poisson}: ");
        let tolerance = Tolerance::Relative((THICKNESS / RADIUS).powi(2));
        let row = bench.row(label.clone() + "deflection of the centre", "mm", ROARK, exact, |s| {
            sinks(s, MIDDLE, 0.0, RADIUS)
        });
        rows.push(row.within(tolerance, SQUARE));
        rows.push(moment_row(&bench, &label, "centre", 0.0, thin.centre_moment, tolerance));
        record = bench.record(Vec::new());
    }
    record.rows = rows;
    Ok(record.fact(thin_note()))
}

fn thin_note() -> String {
    format!("Thickness over radius is {}.", THICKNESS / RADIUS)
}

/// Radial moment per q·a² at a radius, integrated through the plate.
fn moment_row(bench: &Bench, label: &str, place: &str, r: f64, exact: f64, tolerance: Tolerance) -> Row {
    let read = |s: &_| radial_moment(s, r, THICKNESS) / RADIUS.powi(2);
    bench
        .row(format!("{label}radial moment per qa², {place}"), "", ROARK, exact, read)
        .within(tolerance, SQUARE)
}

/// A plate whose rim is held radially, or in all directions.
fn held_plate(poisson: f64, patch: f64, whole: bool) -> Model {
    let (low, high) = (3.0, 3.0 + THICKNESS);
    let edges = polygon(&[
        (0.0, low, "bottom"),
        (RADIUS, low, "rim"),
        (RADIUS, high, "top"),
        (patch, high, "patch"),
        (0.0, high, "axis"),
    ]);
    let mut model = body("clamped plate", edges, iron(YOUNG, poisson), THICKNESS);
    hold(&mut model, "rim", true, whole, whole);
    model
}

fn clamped() -> Result<Record, CaseFault> {
    let patch = 0.2 * RADIUS;
    let ratio = THICKNESS / RADIUS;
    let mut rows = Vec::new();
    let mut record = Record::default();
    for (poisson, whole) in [(0.26, true), (0.3, false), (0.26, false)] {
        let mut model = held_plate(poisson, patch, whole);
        load(&mut model, pressure("top", 1.0), Around::Constant);
        load(&mut model, pressure("patch", 1.0), Around::Constant);
        if !whole {
            load(&mut model, axial("rim", 0.5 * RADIUS / THICKNESS, 0.0), Around::Constant);
        }
        let bench = Bench::solve(model, 2)?;
        let thin = uniform_clamped(poisson);
        let shear = ShearDeflection { thickness_mm: THICKNESS, young_mpa: YOUNG, poisson };
        let exact = thin.displacement * RADIUS.powi(4) / stiffness(THICKNESS, poisson)
            + shear.uniform_mm(1.0, RADIUS);
        let label = format!("ν {poisson}, {}: ", if whole { "rim held whole" } else { "rim held radially" });
        let (allowed, reason) = if whole { (ratio, FIRST) } else { (ratio * ratio, SQUARE) };
        let tolerance = Tolerance::Relative(allowed);
        let row = bench.row(label.clone() + "deflection of the centre", "mm", ROARK, exact, |s| {
            sinks(s, MIDDLE, 0.0, RADIUS)
        });
        rows.push(row.within(tolerance, reason));
        rows.push(
            moment_row(&bench, &label, "centre", 0.0, thin.centre_moment, tolerance)
                .within(tolerance, reason),
        );
        if !whole {
            // Close to the rim, but not in the corner where its even shear meets the free faces.
            let exact = uniform_clamped_moment(poisson, 0.9);
            rows.push(moment_row(&bench, &label, "at 0.9 a", 0.9 * RADIUS, exact, tolerance));
        }
        record = bench.record(Vec::new());
    }
    rows.push(central(patch)?);
    record.rows = rows;
    Ok(record.fact(thin_note()).fact(format!("The central load is even over a patch of radius {patch} mm.")))
}

/// Deflection under a central load on a patch.
fn central(patch: f64) -> Result<Row, CaseFault> {
    let poisson = 0.26;
    let mut model = held_plate(poisson, patch, false);
    let force = PI * patch * patch;
    load(&mut model, pressure("patch", 1.0), Around::Constant);
    load(&mut model, axial("rim", force / (2.0 * PI * RADIUS * THICKNESS), 0.0), Around::Constant);
    let bench = Bench::solve(model, 2)?;
    let shear = ShearDeflection { thickness_mm: THICKNESS, young_mpa: YOUNG, poisson };
    let ratio = patch / RADIUS;
    let exact = central_patch_clamped(ratio) * force * RADIUS.powi(2) / stiffness(THICKNESS, poisson)
        + shear.patch_mm(force, ratio);
    let tolerance = Tolerance::Relative((THICKNESS / patch).powi(2));
    Ok(bench
        .row("central load: deflection of the centre", "mm", ROARK, exact, |s| sinks(s, MIDDLE, 0.0, RADIUS))
        .within(tolerance, "as before, with the patch as the span that counts under it"))
}

fn web() -> Result<Record, CaseFault> {
    let (rim, thickness, poisson, line) = (250.0, 5.0, 0.3, 10.0);
    let middle = 3.0 + 0.5 * thickness;
    let mut rows = Vec::new();
    let mut record = Record::default();
    for ratio in [0.2, 0.3, 0.5, 0.7] {
        let hub = ratio * rim;
        let mut model = tube("web", hub, rim, thickness, iron(YOUNG, poisson), thickness);
        hold(&mut model, "bore", true, false, false);
        // The hub's even shear meets the free faces in these corners, which the moment there feels.
        for z in [3.0, 3.0 + thickness] {
            model.sizing.at_points.push(PointSize { at: Point::new(hub, z), size_mm: 0.12 * thickness });
        }
        load(&mut model, axial("outside", -line / thickness, 0.0), Around::Constant);
        load(&mut model, axial("bore", line / thickness / ratio, 0.0), Around::Constant);
        let bench = Bench::solve(model, 2)?;
        let (displacement, moment) = web_rim_load(ratio, poisson);
        let shear = ShearDeflection { thickness_mm: thickness, young_mpa: YOUNG, poisson };
        let exact = displacement * line * rim.powi(3) / stiffness(thickness, poisson)
            + shear.web_mm(line, ratio, rim);
        let tolerance = Tolerance::Relative((thickness / (rim - hub)).powi(2).max(1e-3));
        let reason = "square of thickness over the web's length, at least a thousandth for the mesh";
        let read = |s: &_| sinks(s, middle, rim, hub);
        let what = format!("hub over rim {ratio}: displacement of the rim");
        rows.push(bench.row(what, "mm", WEB, exact, read).within(tolerance, reason));
        // The rim is pushed down, so the top is in tension at the hub.
        let read = |s: &_| -radial_moment(s, hub, thickness) / (line * rim);
        let what = format!("hub over rim {ratio}: moment at the hub per wa");
        rows.push(bench.row(what, "", WEB, moment, read).within(tolerance, reason));
        record = bench.record(Vec::new());
    }
    record.rows = rows;
    Ok(record.fact("The hub is held radially, so it does not turn, and carried by an even shear traction."))
}
