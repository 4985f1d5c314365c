//! Cracks in a wall of finite thickness, by the published solutions and what else is known of the same problems.

use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::strength::fracture::N_MM15_PER_MPA_M05;
use crate::strength::surface_crack::{Factors, Shape, critical_share, intensity_n_mm15};
use std::f64::consts::PI;

const RANGE: Source = Source::from_memory(
    "ranges of the solutions: a/t 0.6 (strip, as quoted in Anderson), 0.8 (finite elements behind Newman & Raju)",
);
const FETT_MUNZ: Source = Source::from_memory(
    "Fett & Munz, Stress Intensity Factors and Weight Functions, 1997: edge crack in a long strip, five digits",
);
const COLLOCATION: Source = Source::independent(
    "boundary collocation of Williams's series, up to 320 terms, on a strip 2.4 times as long as wide; left on its edges: 2 % and less of the load",
);
const SHALLOW: Source =
    Source::common_practice("edge crack of a wide plate, K = 1.12·σ·√(πa) (any fracture handbook)");
const RAJU: Source = Source::from_memory(
    "Raju & Newman, Engineering Fracture Mechanics 11 (1979) 817-829, finite elements, a/c = 1, at the surface",
);
const BURIED: Source = Source::from_memory(
    "penny-shaped crack in tension, 2/π (Sneddon 1946), times the 1.04 of Newman & Raju's fit",
);

pub(super) static CASES: &[Case] = &[Case {
    name: "crack-in-a-wall",
    title: "Surface crack in a wall under tension and bending",
    chapter: Chapter::Strength,
    about: "Factors of a long and of a half-round crack against other solutions of the same problems, the limit of a \
            wall that is very thick, and the end of the published range.",
    features: &[Feature::WallCrack, Feature::CrackSize],
    run: in_a_wall,
}];

/// K/(σ·√(πa)) of a crack of depth `share` in a wall of one millimetre.
fn factor(shape: Shape, share: f64, membrane: f64, bending: f64) -> f64 {
    intensity_n_mm15(shape, share, 1.0, membrane, bending).map_or(f64::NAN, |k| k / (PI * share).sqrt())
}

#[expect(clippy::approx_constant, reason = "a printed value of the reference")]
fn in_a_wall() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (share, membrane, bending) in [
        (0.1, 1.1892, 1.0472),
        (0.2, 1.3673, 1.0553),
        (0.3, 1.6599, 1.1241),
        (0.4, 2.1114, 1.2606),
        (0.5, 2.8246, 1.4972),
        (0.6, 4.0332, 1.9140),
    ] {
        let reference = Factors { membrane, bending };
        rows.extend(long(FETT_MUNZ, share, reference, 5e-3, "the polynomials are stated to half a per cent"));
    }
    for (share, membrane, bending) in [(0.4, 2.111, 1.260), (0.5, 2.825, 1.497), (0.6, 4.033, 1.914)] {
        let reference = Factors { membrane, bending };
        let reason = "what the collocation leaves on the strip's edges moves it by less than 1 %";
        rows.extend(long(COLLOCATION, share, reference, 0.01, reason));
    }
    let opening = |stress: f64| move |factors: Factors| stress * factors.membrane;
    for (toughness, stress, depth) in [(10.0, 20.0, 63.4), (12.0, 30.0, 40.6), (15.0, 100.0, 5.71)] {
        let wall = 1e4 * depth;
        let found = critical_share(Shape::Long, wall, toughness * N_MM15_PER_MPA_M05, &opening(stress));
        let what =
            format!("critical depth in a very thick wall, K_Ic {toughness} MPa√m, tension {stress} MPa");
        let row = Row::new(what, "mm", SHALLOW, depth, found.map_or(f64::NAN, |share| share * wall));
        rows.push(
            row.within(
                Tolerance::Relative(6e-3),
                "1.122 against the rounded 1.12, squared, and three digits",
            ),
        );
    }
    let root_q = (1.0f64 + 1.464).sqrt();
    for (share, reference) in [(0.2, 1.174), (0.4, 1.229), (0.6, 1.355), (0.8, 1.464)] {
        let what = format!("half-round crack in tension, a/t {share}, times √Q");
        let computed = root_q * factor(Shape::HalfRound, share, 1.0, 0.0);
        let row = Row::new(what, "", RAJU, reference, computed);
        rows.push(row.within(Tolerance::Relative(0.05), "the equations are stated to 5 % of these"));
    }
    let deepest = Shape::HalfRound.factors(0.0)[0].membrane;
    let row =
        Row::new("half-round crack in a very thick wall, deepest point", "", BURIED, 2.08 / PI, deepest);
    rows.push(row.within(Tolerance::Relative(2e-3), "Q = 2.464 is itself fitted to (π/2)²"));
    let covered = |shape, share| f64::from(u8::from(intensity_n_mm15(shape, share, 1.0, 1.0, 0.0).is_some()));
    for (shape, name, share, holds) in [
        (Shape::Long, "long", 0.6, 1.0),
        (Shape::Long, "long", 0.61, 0.0),
        (Shape::HalfRound, "half-round", 0.8, 1.0),
        (Shape::HalfRound, "half-round", 0.81, 0.0),
    ] {
        let what = format!("{name} crack, a/t {share}: covered (1) or not (0)");
        rows.push(Row::new(what, "", RANGE, holds, covered(shape, share)).printed(0));
    }
    Ok(Record::of_rows(rows))
}

/// Rows of a long crack in tension and in bending.
fn long(source: Source, share: f64, reference: Factors, within: f64, reason: &'static str) -> [Row; 2] {
    [
        ("tension", reference.membrane, factor(Shape::Long, share, 1.0, 0.0)),
        ("bending", reference.bending, factor(Shape::Long, share, 0.0, 1.0)),
    ]
    .map(|(name, reference, computed)| {
        let what = format!("long crack in {name}, a/t {share}");
        Row::new(what, "", source, reference, computed).within(Tolerance::Relative(within), reason)
    })
}
