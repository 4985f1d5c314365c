//! Friction of ropes in grooves and the ratio of tensions it can hold.

use crate::hoist::friction::{Grip, TractionCase, shape_factor};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};

const EN_81_50: Source = Source::published("EN 81-50:2020, 5.11.2.3 (seen through a secondary copy)");
const FEYRER: Source = Source::published("Feyrer, Wire Ropes, example 3.4 (eq. 3.32)");

pub(super) static CASES: &[Case] = &[Case {
    name: "seat-friction",
    title: "Friction factor of round and undercut seats",
    chapter: Chapter::Ropes,
    about: "The factor f over the coefficient of friction, for groove angles γ and undercut angles β.",
    features: &[Feature::SeatFriction],
    run: seat_friction,
}];

fn seat_friction() -> Result<Record, CaseFault> {
    let factor = |gamma: f64, beta: f64| {
        let grip = Grip::Seat { groove_rad: gamma.to_radians(), undercut_rad: beta.to_radians() };
        shape_factor(grip, TractionCase::Loading).map_err(CaseFault::of)
    };
    let mut rows = vec![Row::new("f/μ, γ 20°, β 95°", "", FEYRER, 2.062, factor(20.0, 95.0)?).printed(3)];
    for (gamma, beta, value) in [(25.0, 0.0, 1.2485), (30.0, 90.0, 1.8920)] {
        let what = format!("f/μ, γ {gamma}°, β {beta}°");
        rows.push(Row::new(what, "", EN_81_50, value, factor(gamma, beta)?).printed(4));
    }
    Ok(Record::of_rows(rows))
}
