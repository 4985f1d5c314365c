//! Cracks and notches of a brittle metal.

use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::material::gray_iron::{class_tensile_mpa, toughness_n_mm15};
use crate::strength::fracture::{
    N_MM15_PER_MPA_M05, critical_depth_mm, critical_distance_mm, edge_crack_intensity_n_mm15, within_range,
};

const EDGE_CRACK: Source = Source::common_practice(
    "edge crack in tension, K = 1.12·σ·√(πa), limit of a shallow crack (any fracture handbook)",
);
const TAYLOR: Source =
    Source::from_memory("Taylor, The Theory of Critical Distances, 2007: L = (K_Ic/σ_u)²/π");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "critical-cracks",
        title: "Depth at which an edge crack becomes critical",
        chapter: Chapter::Strength,
        about: "At the tensions that a code's factor leaves, the depths are larger than half of any rim's wall, so \
                they only show that small flaws are not critical under a steady load; the program says so.",
        features: &[Feature::CrackSize],
        run: cracks,
    },
    Case {
        name: "critical-distance",
        title: "Critical distance of gray iron",
        chapter: Chapter::Strength,
        about: "The distance over which a notch's stress is averaged, for the weakest class with the toughness of \
                the standard, and for the grades of EN 1561 with their own strength and toughness.",
        features: &[Feature::CriticalDistance],
        run: distances,
    },
];

fn cracks() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let stresses = [20.0, 25.0, 30.0, 50.0, 100.0];
    for (toughness, depths) in [
        (10.0, [63.4, 40.6, 28.2, 10.2, 2.54]),
        (12.0, [91.4, 58.5, 40.6, 14.6, 3.65]),
        (15.0, [142.7, 91.4, 63.4, 22.8, 5.71]),
    ] {
        for (stress, depth) in stresses.into_iter().zip(depths) {
            let what = format!("critical depth, K_Ic {toughness} MPa√m, tension {stress} MPa");
            let computed = critical_depth_mm(toughness * N_MM15_PER_MPA_M05, stress);
            let decimals = if stress == 100.0 { 2 } else { 1 };
            rows.push(Row::new(what, "mm", EDGE_CRACK, depth, computed).printed(decimals));
        }
    }
    let intensity = edge_crack_intensity_n_mm15(25.0, 3.0) / N_MM15_PER_MPA_M05;
    let what = "intensity K of a crack 3 mm deep, tension 25 MPa";
    rows.push(Row::new(what, "MPa√m", EDGE_CRACK, 2.72, intensity).printed(2));
    for (depth, holds) in [(15.0, 1.0), (15.1, 0.0)] {
        let what =
            format!("formula in range (1) or not (0): depth {depth} mm in a wall of 30 mm, limit a/t 0.5");
        let computed = f64::from(u8::from(within_range(depth, 30.0)));
        rows.push(Row::new(what, "", EDGE_CRACK, holds, computed).printed(0));
    }
    Ok(Record::of_rows(rows))
}

fn distances() -> Result<Record, CaseFault> {
    let class_20 = class_tensile_mpa(20).map_err(CaseFault::of)?;
    let distance = critical_distance_mm(320.0, class_20);
    let mut rows =
        vec![Row::new("L, class 20 and K_Ic 320 N/mm^1.5", "mm", TAYLOR, 1.7, distance).printed(1)];
    for (grade, value) in [(150.0, 1.449), (200.0, 1.273), (250.0, 1.173), (300.0, 1.109), (350.0, 1.098)] {
        let distance = critical_distance_mm(toughness_n_mm15(grade).0, grade);
        rows.push(Row::new(format!("L, grade GJL-{grade}"), "mm", TAYLOR, value, distance).printed(3));
    }
    Ok(Record::of_rows(rows))
}
