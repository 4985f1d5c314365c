//! Solid shafts in bending, twist and shear, whose fields are exact.

use super::shapes::{axial, field, hold, iron, load, pressure, traction, tube};
use crate::elastic::{Around, Field, Model, PeakSearch, Region, Solution, principal_values};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::reference::shaft::{bending_mpa, torsion_mpa};

const BEAM: Source = Source::exact("beam theory, exact for these end tractions (Saint-Venant)");
const SHIGLEY: Source =
    Source::from_memory("Shigley, Mechanical Engineering Design, example 5-5: per lbf of its force, in psi");
const EQUILIBRIUM: Source = Source::exact("uniform shear, from equilibrium alone");

const MICHELL: Source = Source::from_memory(
    "Michell's stress function r³ cos θ (Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 43)",
);

const EXACT: &str = "the exact displacements are quadratic, as the elements are: rounding only";

pub(super) static CASES: &[Case] = &[
    Case {
        name: "shaft-bending",
        title: "Solid shaft in bending",
        chapter: Chapter::Harmonics,
        about: "Tractions on both ends that grow with the distance from the bending axis; nothing holds the shaft. The plane of bending is turned away from the zero angle, so that both families take part. The search over all angles must find the tension and its direction.",
        features: &[
            Feature::HarmonicOne,
            Feature::BothFamilies,
            Feature::Traction,
            Feature::SolidBody,
            Feature::PeakSearch,
            Feature::StraightEdges,
        ],
        run: bending,
    },
    Case {
        name: "shaft-bending-and-twist",
        title: "Solid shaft in bending and twist",
        chapter: Chapter::Harmonics,
        about: "A handbook's example of a shaft that is bent and twisted at once, per unit of its force: bending and shear at the surface, and the two principal stresses.",
        features: &[
            Feature::Torsion,
            Feature::HarmonicOne,
            Feature::Traction,
            Feature::SolidBody,
            Feature::PeakSearch,
            Feature::StraightEdges,
        ],
        run: bending_and_twist,
    },
    Case {
        name: "cylinder-pressed-by-cosine",
        title: "Solid cylinder under cosine pressure",
        chapter: Chapter::Harmonics,
        about: "A solid cylinder between guided faces under a pressure that goes with the cosine of the angle. Its sideways force is taken up by a circumferential traction that goes with the sine, and the field inside is Michell's r³ cos θ: linear in the distance from the axis, and so exact for the elements.",
        features: &[
            Feature::HarmonicOne,
            Feature::Pressure,
            Feature::Traction,
            Feature::GuidedEdge,
            Feature::SolidBody,
            Feature::StraightEdges,
        ],
        run: cosine_pressure,
    },
    Case {
        name: "tube-in-shear",
        title: "Tube in uniform shear",
        chapter: Chapter::Harmonics,
        about: "Tractions on all four faces that put every point into the same shear, along the axis and a direction turned away from the zero angle. Radial and circumferential tractions belong to opposite families, so a wrong sign of either shows.",
        features: &[Feature::HarmonicOne, Feature::BothFamilies, Feature::Traction, Feature::StraightEdges],
        run: in_shear,
    },
];

/// End tractions s·(r/R)·cos(θ − φ), outwards on the top and the opposite at the bottom.
pub(super) fn bend(model: &mut Model, radius: f64, stress: f64, phase: f64) {
    for (tag, sign) in [("top", 1.0), ("bottom", -1.0)] {
        let by_r = sign * stress / radius;
        load(model, axial(tag, 0.0, by_r * phase.cos()), Around::Cos(1));
        if phase != 0.0 {
            load(model, axial(tag, 0.0, by_r * phase.sin()), Around::Sin(1));
        }
    }
}

/// End tractions τ·r/R that twist the top towards growing θ against the bottom.
fn twist(model: &mut Model, radius: f64, stress: f64) {
    for (tag, sign) in [("top", 1.0), ("bottom", -1.0)] {
        let around = Field { at: 0.0, by_r: sign * stress / radius, by_z: 0.0 };
        load(model, traction(tag, [Field::default(), around, Field::default()]), Around::Constant);
    }
}

fn cosine_pressure() -> Result<Record, CaseFault> {
    let (radius, p, nu) = (60.0, 25.0, 0.26);
    let mut model = tube("cylinder", 0.0, radius, 40.0, iron(110e3, nu), 20.0);
    hold(&mut model, "bottom", false, false, true);
    hold(&mut model, "top", false, false, true);
    load(&mut model, pressure("outside", p), Around::Cos(1));
    let around = [Field::default(), Field::constant(-p), Field::default()];
    load(&mut model, traction("outside", around), Around::Sin(1));
    let bench = Bench::solve(model, 1)?;
    let mut rows = Vec::new();
    for (r, theta) in [(60.0, 0.0), (45.0, 0.7), (20.0, -2.1)] {
        let (sin, cos) = f64::sin_cos(theta);
        let share = p * r / radius;
        let exact = [-share * cos, -3.0 * share * cos, -4.0 * nu * share * cos, -share * sin];
        for (name, component) in [("radial", 0), ("hoop", 1), ("axial", 2), ("shear rθ", 3)] {
            let what = format!("{name} stress at r {r}, θ {theta} rad");
            let read = |s: &Solution| field(s, 0, (r, 17.0), theta).1[component];
            let row = bench.row(what, "MPa", MICHELL, exact[component], read);
            // The axis ties u to −v by a stiff spring, good to eight digits.
            rows.push(row.within(Tolerance::Absolute(1e-6 * p), EXACT));
        }
    }
    Ok(bench.record(rows))
}

/// Highest tension anywhere: its value and its angle.
fn highest(solution: &Solution) -> (f64, f64) {
    let region = Region::everything(&solution.mesh);
    let [hits] = PeakSearch::new(&solution.mesh, &solution.cases[0], &region).rankings(&[&|p| p[0]]);
    (hits[0].score, hits[0].theta_rad)
}

fn bending() -> Result<Record, CaseFault> {
    let (radius, stress, phase, young) = (40.0, 12.0, 0.7f64, 110e3);
    let mut model = tube("shaft", 0.0, radius, 50.0, iron(young, 0.26), 25.0);
    bend(&mut model, radius, stress, phase);
    let bench = Bench::solve(model, 1)?;
    let tolerance = Tolerance::Absolute(1e-6 * stress);
    let mut rows: Vec<Row> = Vec::new();
    for (r, z, theta) in [(40.0, 20.0, 0.0), (17.0, 41.0, 2.0), (3.0, 9.0, -0.7)] {
        let exact = stress * r / radius * f64::cos(theta - phase);
        let what = format!("axial stress at r {r}, z {z}, θ {theta}");
        rows.push(
            bench.row(what, "MPa", BEAM, exact, |s| field(s, 0, (r, z), theta).1[2]).within(tolerance, EXACT),
        );
        let others = |s: &_| {
            let all = field(s, 0, (r, z), theta).1;
            [0, 1, 3, 4, 5]
                .into_iter()
                .fold(0.0, |most: f64, i| if all[i].abs() <= most { most } else { all[i] })
        };
        let what = format!("largest other stress at r {r}, z {z}, θ {theta}");
        rows.push(bench.row(what, "MPa", BEAM, 0.0, others).within(tolerance, EXACT));
    }
    let deflection = |s: &_, z: f64| field(s, 0, (0.0, z), phase).0[0];
    let curvature =
        |s: &_| -(deflection(s, 41.0) - 2.0 * deflection(s, 28.0) + deflection(s, 15.0)) / (13.0 * 13.0);
    let exact = stress / (young * radius);
    rows.push(
        bench
            .row("curvature of the axis", "1/mm", BEAM, exact, curvature)
            .within(Tolerance::Relative(1e-6), EXACT),
    );
    let found = bench.row("highest tension found", "MPa", BEAM, stress, |s| highest(s).0);
    rows.push(found.within(tolerance, EXACT));
    let found = bench.row("angle at which it is found", "rad", BEAM, phase, |s| highest(s).1);
    let reason = "near its top the cosine is flat: an angle off by x lowers the stress by x²/2 only";
    rows.push(found.within(Tolerance::Absolute(1e-4), reason));
    Ok(bench.record(rows))
}

/// One psi in MPa.
const PSI: f64 = 4.448_221_615_260_5 / (25.4 * 25.4);

fn bending_and_twist() -> Result<Record, CaseFault> {
    // One inch of diameter, moments of 14 and 15 lbf·in.
    let radius = 12.7;
    let (sigma, tau) = (bending_mpa(14.0, 1.0), torsion_mpa(15.0, 1.0));
    let mut model = tube("shaft", 0.0, radius, 20.0, iron(207e3, 0.29), 8.0);
    bend(&mut model, radius, sigma * PSI, 0.0);
    twist(&mut model, radius, tau * PSI);
    let bench = Bench::solve(model, 1)?;
    let at = |s: &_| field(s, 0, (radius, 11.0), 0.0).1.map(|stress| stress / PSI);
    let principal = |s: &_| principal_values(&at(s));
    let mut rows = vec![
        bench.row("bending stress at the surface", "psi", SHIGLEY, 142.6, |s| at(s)[2]).printed(1),
        bench.row("shear stress at the surface", "psi", SHIGLEY, 76.4, |s| at(s)[4]).printed(1),
        bench.row("highest principal stress", "psi", SHIGLEY, 175.8, |s| principal(s)[0]).printed(1),
        bench.row("lowest principal stress", "psi", SHIGLEY, -33.2, |s| principal(s)[2]).printed(1),
    ];
    let exact = sigma / 2.0 + (sigma / 2.0).hypot(tau);
    rows.push(
        bench
            .row("highest tension found over section and angle", "psi", BEAM, exact, |s| highest(s).0 / PSI)
            .within(Tolerance::Relative(1e-6), EXACT),
    );
    Ok(bench.record(rows))
}

fn in_shear() -> Result<Record, CaseFault> {
    let (tau, phase) = (5.0, 0.4f64);
    let mut model = tube("tube", 35.0, 61.0, 24.0, iron(110e3, 0.31), 12.0);
    let only = |component: usize, value: f64| {
        let mut all = [Field::default(); 3];
        all[component] = Field::constant(value);
        all
    };
    let (sin, cos) = phase.sin_cos();
    for (tag, sign) in [("top", tau), ("bottom", -tau)] {
        load(&mut model, traction(tag, only(0, sign * cos)), Around::Cos(1));
        load(&mut model, traction(tag, only(0, sign * sin)), Around::Sin(1));
        load(&mut model, traction(tag, only(1, -sign * cos)), Around::Sin(1));
        load(&mut model, traction(tag, only(1, sign * sin)), Around::Cos(1));
    }
    for (tag, sign) in [("outside", tau), ("bore", -tau)] {
        load(&mut model, axial(tag, sign * cos, 0.0), Around::Cos(1));
        load(&mut model, axial(tag, sign * sin, 0.0), Around::Sin(1));
    }
    let bench = Bench::solve(model, 1)?;
    let mut rows = Vec::new();
    for (r, z, theta) in [(35.0, 20.0, 0.9f64), (48.0, 7.0, -2.0)] {
        let (sin, cos) = (theta - phase).sin_cos();
        let exact = [0.0, 0.0, 0.0, 0.0, -tau * sin, tau * cos];
        for (name, index) in [("hoop", 1), ("radial-hoop", 3), ("hoop-axial", 4), ("radial-axial", 5)] {
            let what = format!("{name} stress at r {r}, z {z}, θ {theta}");
            let read = |s: &_| field(s, 0, (r, z), theta).1[index];
            let row = bench.row(what, "MPa", EQUILIBRIUM, exact[index], read);
            rows.push(row.within(
                Tolerance::Absolute(1e-6 * tau),
                "the exact displacements are linear: rounding only",
            ));
        }
    }
    Ok(bench.record(rows))
}
