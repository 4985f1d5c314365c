//! Friction of ropes in grooves and the ratio of tensions it can hold.

use crate::hoist::friction::{
    Flanks, Grip, TractionCase, coefficient, friction_factor, limit_ratio, shape_factor,
};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};

const EN_81_50: Source = Source::published("EN 81-50:2020, 5.11.2.3 (seen through a secondary copy)");
const FEYRER: Source = Source::published("Feyrer, Wire Ropes, example 3.4 (eq. 3.32)");
const FEYRER_PLAIN: Source = Source::published("Feyrer, Wire Ropes, eq. 3.32, plain seat");

/// Undercut angles of the tables in degrees.
const BETA: [f64; 8] = [0.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0];

pub(super) static CASES: &[Case] = &[
    Case {
        name: "seat-friction",
        title: "Friction factor of round and undercut seats",
        chapter: Chapter::Ropes,
        about: "The factor f over the coefficient of friction, for groove angles γ and undercut angles β. Feyrer \
                derives it independently of the standard.",
        features: &[Feature::SeatFriction],
        run: seat_friction,
    },
    Case {
        name: "v-friction",
        title: "Friction factor of V grooves",
        chapter: Chapter::Ropes,
        about: "A V that is not hardened is taken as worn round, with its undercut, while loading and braking; a \
                hardened one wedges the rope. Stalled, every V counts with its wedge.",
        features: &[Feature::VFriction],
        run: v_friction,
    },
    Case {
        name: "friction-coefficients",
        title: "Coefficient of friction in the three traction cases",
        chapter: Chapter::Ropes,
        about: "The speed is the rope's at rated car speed, twice the car's for a roping of 2:1.",
        features: &[Feature::TractionLimit],
        run: coefficients,
    },
    Case {
        name: "traction-limits",
        title: "Ratio of tensions that a wrap can hold",
        chapter: Chapter::Ropes,
        about: "e^(fα) of seats and of hardened V grooves.",
        features: &[Feature::TractionLimit, Feature::SeatFriction, Feature::VFriction],
        run: limits,
    },
    Case {
        name: "double-wrap-friction",
        title: "Ratio of tensions over two wraps",
        chapter: Chapter::Ropes,
        about: "The friction law alone, which acts over the sum of both wraps. Plain seats, while loading.",
        features: &[Feature::TractionLimit, Feature::SeatFriction],
        run: double_wrap,
    },
];

fn seat(gamma: f64, beta: f64) -> Grip {
    Grip::Seat { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians() }
}

fn v(gamma: f64, beta: f64, flanks: Flanks) -> Grip {
    Grip::V { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians(), flanks }
}

fn braking(rope_speed_m_s: f64) -> TractionCase {
    TractionCase::Braking { rope_speed_m_s }
}

fn seat_friction() -> Result<Record, CaseFault> {
    let factor =
        |gamma: f64, beta: f64| shape_factor(seat(gamma, beta), TractionCase::Loading).map_err(CaseFault::of);
    let mut rows = vec![
        Row::new("f/μ, γ 20°, β 95°", "", FEYRER, 2.062, factor(20.0, 95.0)?).printed(3),
        Row::new("f/μ, γ 60°, β 0°", "", FEYRER_PLAIN, 1.170, factor(60.0, 0.0)?).printed(3),
    ];
    for (gamma, values) in [
        (25.0, [1.2485, 1.7236, 1.7863, 1.8558, 1.9329, 2.0186, 2.1145, 2.2218]),
        (30.0, [1.2392, 1.6946, 1.7540, 1.8195, 1.8920, 1.9722, 2.0614, 2.1607]),
        (40.0, [1.2179, 1.6316, 1.6841, 1.7417, 1.8049, 1.8743, 1.9505, 2.0344]),
        (50.0, [1.1945, 1.5659, 1.6120, 1.6621, 1.7166, 1.7759, 1.8405, 1.9108]),
        (60.0, [1.1701, 1.5012, 1.5413, 1.5847, 1.6315, 1.6821, 1.7367, 1.7955]),
    ] {
        for (beta, value) in BETA.into_iter().zip(values) {
            let what = format!("f/μ, γ {gamma}°, β {beta}°");
            rows.push(Row::new(what, "", EN_81_50, value, factor(gamma, beta)?).printed(4));
        }
    }
    Ok(Record::of_rows(rows))
}

fn v_friction() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let mut row = |what: String, value, grip, case| {
        let computed = shape_factor(grip, case).map_err(CaseFault::of)?;
        rows.push(Row::new(what, "", EN_81_50, value, computed).printed(4));
        Ok::<(), CaseFault>(())
    };
    let values = [1.2732, 1.8057, 1.8788, 1.9606, 2.0525, 2.1564, 2.2744, 2.4094];
    for (beta, value) in BETA.into_iter().zip(values) {
        let grip = v(38.0, beta, Flanks::NotHardened);
        row(format!("f/μ, not hardened, loading, β {beta}°"), value, grip, TractionCase::Loading)?;
        row(format!("f/μ, not hardened, braking, β {beta}°"), value, grip, braking(1.0))?;
    }
    for (gamma, value) in
        [(35.0, 3.3255), (36.0, 3.2361), (38.0, 3.0716), (40.0, 2.9238), (42.0, 2.7904), (45.0, 2.6131)]
    {
        let hard = v(gamma, 0.0, Flanks::Hardened);
        row(format!("f/μ, hardened, loading, γ {gamma}°"), value, hard, TractionCase::Loading)?;
        row(format!("f/μ, hardened, braking, γ {gamma}°"), value, hard, braking(1.0))?;
        let soft = v(gamma, 95.0, Flanks::NotHardened);
        row(format!("f/μ, hardened, stalled, γ {gamma}°"), value, hard, TractionCase::Stalled)?;
        row(format!("f/μ, not hardened, stalled, γ {gamma}°, β 95°"), value, soft, TractionCase::Stalled)?;
    }
    Ok(Record::of_rows(rows))
}

fn coefficients() -> Result<Record, CaseFault> {
    let mu = |case| coefficient(case).map_err(CaseFault::of);
    let mut rows = vec![
        Row::new("μ, loading", "", EN_81_50, 0.1, mu(TractionCase::Loading)?).printed(5),
        Row::new("μ, stalled", "", EN_81_50, 0.2, mu(TractionCase::Stalled)?).printed(5),
    ];
    for (speed, value) in [
        (1.0, 0.09091),
        (1.6, 0.08621),
        (2.0, 0.08333),
        (2.5, 0.08),
        (4.0, 0.07143),
        (5.0, 0.06667),
        (10.0, 0.05),
    ] {
        let what = format!("μ, braking, rope at {speed} m/s");
        rows.push(Row::new(what, "", EN_81_50, value, mu(braking(speed))?).printed(5));
    }
    Ok(Record::of_rows(rows))
}

/// e^(fα) for a groove, a case and a wrap in degrees.
fn limit(grip: Grip, case: TractionCase, wrap: f64) -> Result<f64, CaseFault> {
    friction_factor(grip, case).map(|f| limit_ratio(f, wrap.to_radians())).map_err(CaseFault::of)
}

fn limits() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let cases = [
        ("loading", TractionCase::Loading),
        ("braking, rope at 1 m/s", braking(1.0)),
        ("braking, rope at 2.5 m/s", braking(2.5)),
        ("stalled", TractionCase::Stalled),
    ];
    for (beta, wrap, values) in [
        (90.0, 180.0, [1.8119, 1.7166, 1.6088, 3.2830]),
        (90.0, 160.0, [1.6961, 1.6166, 1.5260, 2.8768]),
        (95.0, 180.0, [1.8582, 1.7564, 1.6416, 3.4528]),
        (95.0, 160.0, [1.7346, 1.6498, 1.5536, 3.0087]),
        (105.0, 180.0, [1.9715, 1.8535, 1.7212, 3.8869]),
        (0.0, 180.0, [1.4759, 1.4246, 1.3654, 2.1784]),
    ] {
        for ((name, case), value) in cases.into_iter().zip(values) {
            let what = format!("e^(fα), seat, γ 30°, β {beta}°, wrap {wrap}°, {name}");
            rows.push(Row::new(what, "", EN_81_50, value, limit(seat(30.0, beta), case, wrap)?).printed(4));
        }
    }
    for (gamma, loading, stalled) in [(38.0, 2.6247, 6.8889), (35.0, 2.8427, 8.0807), (40.0, 2.5056, 6.2782)]
    {
        let grip = v(gamma, 0.0, Flanks::Hardened);
        for (name, case, value) in
            [("loading", TractionCase::Loading, loading), ("stalled", TractionCase::Stalled, stalled)]
        {
            let what = format!("e^(fα), hardened V, γ {gamma}°, wrap 180°, {name}");
            rows.push(Row::new(what, "", EN_81_50, value, limit(grip, case, 180.0)?).printed(4));
        }
    }
    Ok(Record::of_rows(rows))
}

fn double_wrap() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (wrap, value) in [(300.0, 1.9133), (320.0, 1.9979), (340.0, 2.0862)] {
        let what = format!("e^(fα), plain seat, γ 30°, both wraps together {wrap}°");
        let computed = limit(seat(30.0, 0.0), TractionCase::Loading, wrap)?;
        rows.push(Row::new(what, "", EN_81_50, value, computed).printed(4));
    }
    Ok(Record::of_rows(rows))
}
