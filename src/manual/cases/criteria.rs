//! Failure criteria, fatigue and the stress through a whole wall.

use crate::elastic::principal_values;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::annulus::{Annulus, Pressure};
use crate::reference::compare::Tolerance;
use crate::reference::shaft;
use crate::strength::criteria::{
    coulomb_mohr_factor, governing_brittle_factor, modified_mohr_factor, von_mises_factor, von_mises_mpa,
};
use crate::strength::fatigue::smith_dolan_amplitude_mpa;
use crate::strength::{BrittleStrength, Cycle, FatigueStrength, Stress, linearise};

const EXAMPLE_5_5: Source =
    Source::from_memory("Shigley, Mechanical Engineering Design, example 5-5 (class 30 bar)");
const MOHR: Source = Source::published("Shigley, Mechanical Engineering Design, eq. 5-32");
const COULOMB: Source = Source::published("Shigley, Mechanical Engineering Design, eq. 5-31");
const EXAMPLE_6_13: Source = Source::from_memory("Shigley, Mechanical Engineering Design, example 6-13(b)");
const DOLAN: Source =
    Source::from_memory("Shigley, Mechanical Engineering Design, section 6-13 (Smith–Dolan locus)");
const MISES: Source = Source::exact("definition of the equivalent stress of von Mises");
const MEMBRANE: Source = Source::exact(
    "definitions of membrane and bending stress, on the thick ring of Lamé: p·a/t, and the integral of its 1/r² part",
);
const STRAIGHT: Source = Source::exact("a straight run is its own membrane and bending stress");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "modified-mohr",
        title: "Modified Mohr and Coulomb–Mohr factors",
        chapter: Chapter::Strength,
        about: "Factors of gray iron at principal stresses in each part of the diagram, and the handbook's bar under \
                bending and torsion, whose stresses per unit force make the factor the force at failure.",
        features: &[Feature::ModifiedMohr],
        run: mohr,
    },
    Case {
        name: "smith-dolan",
        title: "Fatigue of a brittle metal by the Smith–Dolan locus",
        chapter: Chapter::Strength,
        about: "The handbook's example, and amplitudes on the locus for three ratios of amplitude to mean.",
        features: &[Feature::Fatigue],
        run: smith_dolan,
    },
    Case {
        name: "equivalent-stress",
        title: "Equivalent stress of simple states",
        chapter: Chapter::Strength,
        about: "States whose equivalent stress follows from the definition by mental arithmetic.",
        features: &[Feature::EquivalentStress],
        run: equivalent,
    },
    Case {
        name: "section-stress",
        title: "Membrane and bending stress through a wall",
        chapter: Chapter::Strength,
        about: "A straight run at uneven stations, and the hoop and radial stress of a thick ring under pressure \
                inside, sampled along a radius from the bore outwards.",
        features: &[Feature::SectionStress],
        run: section_stress,
    },
];

fn mohr() -> Result<Record, CaseFault> {
    let sigma = shaft::bending_mpa(14.0, 1.0);
    let tau = shaft::torsion_mpa(15.0, 1.0);
    let principal = principal_values(&[0.0, 0.0, sigma, 0.0, tau, 0.0]);
    let strength = BrittleStrength { tensile_mpa: 31e3, compressive_mpa: 109e3 };
    let (coulomb, modified) =
        (coulomb_mohr_factor(&principal, strength), modified_mohr_factor(&principal, strength));
    let mut rows = vec![
        Row::new("example 5-5: σA per lbf", "psi", EXAMPLE_5_5, 175.8, principal[0]).printed(1),
        Row::new("example 5-5: σB per lbf", "psi", EXAMPLE_5_5, -33.2, principal[2]).printed(1),
        Row::new("example 5-5: force by Coulomb–Mohr", "lbf", EXAMPLE_5_5, 167.0, coulomb).printed(0),
        Row::new("example 5-5: force by modified Mohr", "lbf", EXAMPLE_5_5, 176.0, modified).printed(0),
        Row::new("the same by Coulomb–Mohr, a digit more", "lbf", COULOMB, 167.3, coulomb).printed(1),
        Row::new("the same by modified Mohr, a digit more", "lbf", MOHR, 176.3, modified).printed(1),
    ];
    let class_30 = BrittleStrength { tensile_mpa: 214.0, compressive_mpa: 752.0 };
    let class_35 = BrittleStrength { tensile_mpa: 252.0, compressive_mpa: 855.0 };
    for (strength, a, b, modified, coulomb) in [
        (class_30, 20.0, -10.0, 10.700, 9.367),
        (class_30, 20.0, -20.0, 10.700, 8.330),
        (class_30, 20.0, -40.0, 8.330, 6.819),
        (class_30, 20.0, -80.0, 5.772, 5.004),
        (class_30, 5.0, -100.0, 6.680, 6.396),
        (class_30, -5.0, -100.0, 7.520, 7.520),
        (class_35, 20.0, -80.0, 6.687, 5.783),
    ] {
        let principal = [a, f64::midpoint(a, b), b];
        let of = format!(
            "strengths {}/{} MPa, σA {a}, σB {b} MPa",
            strength.tensile_mpa, strength.compressive_mpa
        );
        let computed = modified_mohr_factor(&principal, strength);
        rows.push(Row::new(format!("modified Mohr, {of}"), "", MOHR, modified, computed).printed(3));
        let computed = coulomb_mohr_factor(&principal, strength);
        rows.push(Row::new(format!("Coulomb–Mohr, {of}"), "", COULOMB, coulomb, computed).printed(3));
        let computed = governing_brittle_factor(&principal, strength).factor;
        rows.push(Row::new(format!("governing factor, {of}"), "", MOHR, modified, computed).printed(3));
    }
    Ok(Record::of_rows(rows))
}

fn smith_dolan() -> Result<Record, CaseFault> {
    let bar = FatigueStrength { tensile_mpa: 31.0, endurance_mpa: 12.6 };
    let amplitude = smith_dolan_amplitude_mpa(1.0, bar);
    let printed = Cycle { amplitude_mpa: 2.29, mean_mpa: 2.29 }.smith_dolan_factor(bar);
    // Amplitude and mean of the example's load without rounding: 1.29 × 500 lbf on 0.28125 in².
    let stress = 1.29 * 0.5 / 0.28125;
    let unrounded = Cycle { amplitude_mpa: stress, mean_mpa: stress }.smith_dolan_factor(bar);
    let mut rows = vec![
        Row::new("example 6-13(b): S_a", "kpsi", EXAMPLE_6_13, 7.63, amplitude).printed(2),
        Row::new("example 6-13(b): factor at the printed 2.29 kpsi", "", EXAMPLE_6_13, 3.33, printed)
            .printed(2),
        Row::new("S_a, a digit more", "kpsi", DOLAN, 7.625, amplitude).printed(3),
        Row::new("factor at the stress before rounding", "", DOLAN, 3.325, unrounded).printed(3),
    ];
    let class_30 = FatigueStrength { tensile_mpa: 214.0, endurance_mpa: 97.0 };
    for (ratio, value) in [(0.5, 42.16), (1.0, 56.49), (2.0, 69.80)] {
        let what = format!("S_a, strengths 214/97 MPa, amplitude over mean {ratio}");
        let computed = smith_dolan_amplitude_mpa(ratio, class_30);
        rows.push(Row::new(what, "MPa", DOLAN, value, computed).printed(2));
    }
    let factor = |amplitude_mpa, mean_mpa| Cycle { amplitude_mpa, mean_mpa }.smith_dolan_factor(class_30);
    let reason = "an end of the locus, rounding only";
    for (what, value, computed) in [
        ("factor without a mean stress, amplitude 10 MPa: 97/10", 9.7, factor(10.0, 0.0)),
        ("factor without amplitude, mean 10 MPa: 214/10", 21.4, factor(0.0, 10.0)),
    ] {
        let row = Row::new(what, "", DOLAN, value, computed);
        rows.push(row.within(Tolerance::Relative(1e-12), reason));
    }
    Ok(Record::of_rows(rows).fact(format!(
        "The example divides two figures that are rounded themselves; from its loads without rounding the factor is \
         {unrounded:.3}."
    )))
}

fn equivalent() -> Result<Record, CaseFault> {
    let reason = "the definition, rounding only";
    let mut rows = Vec::new();
    for (what, stress, value) in [
        ("pure shear rθ of 10 MPa: 10√3", [0.0, 0.0, 0.0, 10.0, 0.0, 0.0], 300f64.sqrt()),
        ("pure shear θz of 10 MPa: 10√3", [0.0, 0.0, 0.0, 0.0, 10.0, 0.0], 300f64.sqrt()),
        ("pure shear rz of 10 MPa: 10√3", [0.0, 0.0, 0.0, 0.0, 0.0, 10.0], 300f64.sqrt()),
        ("one hoop tension of 50 MPa", [0.0, 50.0, 0.0, 0.0, 0.0, 0.0], 50.0),
        ("tension 40 and compression −40 MPa: 40√3", [40.0, -40.0, 0.0, 0.0, 0.0, 0.0], 4800f64.sqrt()),
        ("40, −10, 15 MPa: √1875", [40.0, -10.0, 15.0, 0.0, 0.0, 0.0], 1875f64.sqrt()),
        ("60, −20 MPa and shear 30 MPa: √7900", [60.0, -20.0, 0.0, 30.0, 0.0, 0.0], 7900f64.sqrt()),
        ("the last one under 25 MPa more all round", [85.0, 5.0, 25.0, 30.0, 0.0, 0.0], 7900f64.sqrt()),
    ] {
        let stress: Stress = stress;
        let row = Row::new(format!("equivalent stress: {what}"), "MPa", MISES, value, von_mises_mpa(&stress));
        rows.push(row.within(Tolerance::Relative(1e-12), reason));
    }
    let factor = von_mises_factor(&[0.0, 50.0, 0.0, 0.0, 0.0, 0.0], 276.0);
    let row = Row::new("factor of 276 MPa yield at 50 MPa", "", MISES, 5.52, factor);
    rows.push(row.within(Tolerance::Relative(1e-12), reason));
    Ok(Record::of_rows(rows))
}

fn section_stress() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    // 12 + 8 MPa at one end, 12 − 8 MPa at the other.
    let places = [2.0, 2.5, 4.0, 7.0, 9.5];
    let run: Vec<Stress> =
        places.iter().map(|s| [0.0, 0.0, 20.0 - 16.0 * (s - 2.0) / 7.5, 0.0, 0.0, 0.0]).collect();
    let found = linearise(&places, &run);
    let reason = "exact for a straight run, rounding only";
    for (what, value, computed) in [
        ("straight run from 20 to 4 MPa: membrane", 12.0, found.membrane[2]),
        ("straight run from 20 to 4 MPa: bending", 8.0, found.bending[2]),
        ("straight run from 20 to 4 MPa: start", 20.0, found.start[2]),
        ("straight run from 20 to 4 MPa: end", 4.0, found.end[2]),
    ] {
        let row = Row::new(what, "MPa", STRAIGHT, value, computed);
        rows.push(row.within(Tolerance::Relative(1e-12), reason));
    }
    let ring = Annulus { inner_mm: 100.0, outer_mm: 200.0 };
    let inside = Pressure { inside_mpa: 60.0, outside_mpa: 0.0 };
    let radii: Vec<f64> = (0..=1000).map(|i| 100.0 + 0.1 * f64::from(i)).collect();
    let run: Vec<Stress> = radii
        .iter()
        .map(|r| {
            let stress = ring.pressure_stress(inside, *r);
            [stress.radial_mpa, stress.hoop_mpa, 0.0, 0.0, 0.0, 0.0]
        })
        .collect();
    let found = linearise(&radii, &run);
    for (what, value, computed) in [
        ("thick ring: hoop, membrane", 60.0, found.membrane[1]),
        ("thick ring: hoop, bending at the bore", 27.289, found.bending[1]),
        ("thick ring: hoop, section stress at the bore", 87.289, found.start[1]),
        ("thick ring: hoop, section stress outside", 32.711, found.end[1]),
        ("thick ring: radial, membrane", -20.0, found.membrane[0]),
        ("thick ring: radial, bending at the bore", -27.289, found.bending[0]),
    ] {
        rows.push(Row::new(what, "MPa", MEMBRANE, value, computed).printed(3));
    }
    Ok(Record::of_rows(rows))
}
