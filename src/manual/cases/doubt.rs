//! The doubt of a factor: shares of samples, shares of variance, and response surfaces beside brute force.

use super::sheet::{Sheet, drafted, seat};
use crate::chance::{Share, Spread, indices, stream};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::study::doubt::prove_doubt;
use std::f64::consts::PI;

const LOGNORMAL: Source = Source::exact(
    "Φ(m/s): the logarithm of a product of lognormal values is normal with mean m and the root of the summed squares s",
);
const WILSON: Source = Source::published(
    "Wilson, J. Amer. Statist. Assoc. 22 (1927) 209: 95 intervals of 100 hold the true share",
);
const ISHIGAMI: Source = Source::exact(
    "closed-form variances of the function of Ishigami and Homma (1990), a = 7, b = 0.1, inputs even from −π to π",
);
const BRUTE: Source = Source::itself("This program: every sample solved on the same coarse mesh");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "doubt-share",
        title: "Probability of a factor whose distribution is known",
        chapter: Chapter::Measurements,
        about: "A strength stated ± 20 % over a stress stated ± 10 %, both lognormal. The probability that the factor \
                reaches what is required is known exactly; it must lie within the sampling's own interval, and \
                intervals of many seeds must hold it as often as they say.",
        features: &[Feature::SampledShare],
        run: share,
    },
    Case {
        name: "doubt-variance-shares",
        title: "Shares of variance of a published test function",
        chapter: Chapter::Measurements,
        about: "sin x + 7 sin² y + 0.1 z⁴ sin x: the third value acts only together with the first. First-order \
                shares by Saltelli et al. (2010), total ones by Jansen (1999).",
        features: &[Feature::VarianceShares],
        run: variance,
    },
    Case {
        name: "doubt-surface",
        title: "Response surfaces of the least factor beside brute force",
        chapter: Chapter::Measurements,
        about: "An invented wheel with three ropes and a cut, its doubts as the program states them. Values are drawn \
                and each is solved on the coarse mesh; the surfaces, fitted to designed analyses on that mesh, must \
                give the same shares within the sampling error of the brute force, and the same factors.",
        features: &[Feature::ResponseSurface],
        run: surface,
    },
];

/// Logarithm of strength over stress, each ± two standard deviations.
const STRENGTH: f64 = 0.20;
const STRESS: f64 = 0.10;

/// Samples in which the factor's logarithm, `above` standard deviations over what is required, does not fall below it.
fn sampled(above: f64, samples: usize, seed: u32) -> Share {
    let spreads = [STRENGTH, STRESS].map(Spread::plus_or_minus);
    let margin = above * (0.5 * STRENGTH).hypot(0.5 * STRESS);
    let mut stream = stream(seed, 0);
    let reaches = |_: &usize| {
        let [strength, stress] = spreads.map(|spread| spread.draw(&mut stream));
        margin + strength - stress >= 0.0
    };
    Share { count: (0..samples).filter(reaches).count(), samples }
}

fn share() -> Result<Record, CaseFault> {
    const SAMPLES: usize = 10_000;
    // Φ of 0, 1, 2 and 3 to ten decimals (any statistical table).
    let exact = [0.5, 0.841_344_746_1, 0.977_249_868_1, 0.998_650_102_0];
    let reason = "half the width of the sampling's own interval at 99.9 % confidence";
    let mut rows = Vec::new();
    for (above, exact) in exact.into_iter().enumerate() {
        let found = sampled(above as f64, SAMPLES, 1);
        let interval = found.wilson(0.999);
        let half = 0.5 * (interval.high - interval.low);
        let what = format!("required factor {above} standard deviations below the middle: probability");
        let mut row = Row::new(what, "", LOGNORMAL, exact, found.value());
        row.estimate = Some(half);
        rows.push(row.within(Tolerance::Absolute(half), reason));
    }
    let (seeds, samples, of) = (1000u32, 1000, 2);
    let holds = |seed: &u32| {
        let interval = sampled(f64::from(of), samples, *seed).wilson(0.95);
        (interval.low..=interval.high).contains(&exact[of as usize])
    };
    let held = (0..seeds).filter(holds).count() as f64 / f64::from(seeds);
    rows.push(
        Row::new(
            "share of 1000 seeds whose 95 % interval holds the exact probability",
            "",
            WILSON,
            0.95,
            held,
        )
        .within(
            Tolerance::Absolute(4.0 * (0.95 * 0.05 / f64::from(seeds)).sqrt()),
            "four standard deviations of a share of 0.95 in 1000",
        ),
    );
    Ok(Record::of_rows(rows).fact(format!("{SAMPLES} samples, seed 1.")))
}

fn variance() -> Result<Record, CaseFault> {
    const SAMPLES: usize = 50_000;
    let (a, b) = (7.0, 0.1);
    let response = |x: &[f64]| x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin();
    let found = indices(&[Spread::Even { half: PI }; 3], &response, SAMPLES, &mut stream(1, 0));
    let (p4, p8) = (PI.powi(4), PI.powi(8));
    let first = 0.5 * (1.0 + b * p4 / 5.0).powi(2);
    let second = a * a / 8.0;
    let both = 8.0 * b * b * p8 / 225.0;
    let all = first + second + both;
    let exact = [[first, first + both], [second, second], [0.0, both]];
    let reason = "four standard errors of the sampling, as the program states them";
    let mut rows = Vec::new();
    for ((name, index), [alone, total]) in ["x", "y", "z"].into_iter().zip(found).zip(exact) {
        for (kind, exact, computed, error) in [
            ("first-order", alone, index.first, index.first_error),
            ("total", total, index.total, index.total_error),
        ] {
            let mut row = Row::new(format!("{kind} share of {name}"), "", ISHIGAMI, exact / all, computed);
            row.estimate = Some(2.0 * error);
            rows.push(row.within(Tolerance::Absolute(4.0 * error), reason));
        }
    }
    Ok(Record::of_rows(rows).fact(format!("{SAMPLES} samples, seed 1.")))
}

fn surface() -> Result<Record, CaseFault> {
    const BRUTE_SAMPLES: usize = 60;
    let mut sheet = Sheet::new(1100.0, 900.0, 3);
    sheet.walls = drafted(3.0, 15.0).replace("\"0.2 mm\"", "\"1 mm\"");
    sheet.groove = seat(30.0, 0.0, 6.9);
    sheet.cut = "plan = \"to depth\"\ndepth = \"11.5 mm\"".to_owned();
    let proof = prove_doubt(&sheet.read()?, 10_000, BRUTE_SAMPLES, &[0.5, 0.9])
        .map_err(|fault| CaseFault::Other(format!("{fault:?}")))?;
    let mut rows = Vec::new();
    for (asked, many, few) in &proof.shares {
        let interval = few.wilson(0.99);
        let half = 0.5 * (interval.high - interval.low);
        rows.push(
            Row::new(
                format!("share that reaches a factor of {asked:.2}"),
                "",
                BRUTE,
                few.value(),
                many.value(),
            )
            .doubt(half)
            .within(Tolerance::Absolute(half), "half the width of the brute force's own interval at 99 %"),
        );
    }
    let mut row = Row::new(
        "factor by surface against analysis: root mean square of the differences",
        "%",
        BRUTE,
        0.0,
        100.0 * proof.rms,
    );
    row.estimate = Some(100.0 * proof.left_out);
    rows.push(row.within(Tolerance::Absolute(1.0), "what a check accepts of its own stress"));
    Ok(Record::of_rows(rows).fact(format!(
        "{BRUTE_SAMPLES} samples by brute force, 10 000 by the surfaces; the largest difference of a factor is {:.2} %.",
        100.0 * proof.largest
    )))
}
