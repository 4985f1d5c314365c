//! Rules of codes and yardsticks: diameters, traction, pressure, rope tensions.

use super::Inputs;
use crate::hoist::pressure::LAPSED_LIMIT_STANDING;
use crate::hoist::rules::{LARGEST_TENSION_RATIO, SUSPENSION_RATIO};
use crate::section::State;
use crate::survey::{Given, Role};
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

pub(super) fn checks(inputs: &Inputs) -> Vec<Check> {
    let mut list = vec![diameter_ratio(inputs)];
    list.extend(traction(inputs));
    list.extend(pressure(inputs));
    list.extend(tensions(inputs));
    list
}

fn diameter_ratio(inputs: &Inputs) -> Check {
    // Dimensions are sums of rounded readings: the last bits must not decide.
    let ratio = (inputs.facts.least_diameter_ratio * 1e9).round() / 1e9;
    let after = if inputs.state == State::Cut { " after the cut" } else { "" };
    Check::compare(
        "diameter_ratio",
        "pitch diameter over rope diameter",
        Standing::Code,
        Sense::AtLeast,
        Amount::plain(ratio),
        Amount::plain(SUSPENSION_RATIO.value),
    )
    .basis(format!("smallest pitch diameter{after} over the nominal rope diameter"))
    .source(SUSPENSION_RATIO.source)
    .remark(format!("D/d is {ratio:.2}{after}; suspension ropes need {:.0}.", SUSPENSION_RATIO.value))
}

fn traction(inputs: &Inputs) -> Vec<Check> {
    if inputs.survey.roping.role != Role::Drive {
        return Vec::new();
    }
    if inputs.facts.traction.is_empty() {
        return vec![Check::without_numbers(
            "traction",
            "traction",
            Standing::Code,
            Status::Noted,
            "Traction is not judged: it needs the masses of car, load and counterweight.",
        )];
    }
    let mut list = Vec::new();
    for fact in &inputs.facts.traction {
        let (sense, key, tail) = if fact.at_most {
            (Sense::AtMost, "traction", "the ropes may slip")
        } else {
            (Sense::AtLeast, "traction_stalled", "the ropes may still lift the car")
        };
        list.push(
            Check::compare(
                key,
                format!("traction, {}", fact.case),
                Standing::Code,
                sense,
                Amount::plain(fact.ratio),
                Amount::plain(fact.limit),
            )
            .basis(format!(
                "ratio of rope tensions against e^(fα), f = {:.4}, wrap {:.0}°",
                fact.friction,
                super::super::rules::holding_wrap_rad(inputs.survey).to_degrees()
            ))
            .source(
                "EN 81-50:2020, 5.11 (through a secondary copy); the local code decides which rule applies",
            )
            .remark(format!(
                "Traction, {}: the tension ratio is {:.3} against {:.3}: {tail}.",
                fact.case, fact.ratio, fact.limit
            ))
            .settle(
                "Another groove shape, a larger wrap or other masses change traction; the wall does not.",
            ),
        );
    }
    if !inputs.facts.traction.iter().any(|fact| !fact.at_most) {
        list.push(Check::without_numbers(
            "traction_stalled",
            "traction, counterweight on its buffers",
            Standing::Code,
            Status::Noted,
            "The stalled case is not judged: it needs the ropes' mass per metre and the travel.",
        ));
    }
    list
}

fn pressure(inputs: &Inputs) -> Option<Check> {
    let found = inputs.facts.pressure_mpa?;
    let Some(limit) = inputs.facts.pressure_limit_mpa else {
        let text = format!(
            "The largest seat pressure is {}; without the speed it has nothing to be held against.",
            inputs.survey.print.show(Quantity::Stress, found)
        );
        return Some(Check::without_numbers(
            "groove_pressure",
            "groove pressure",
            Standing::Yardstick,
            Status::Noted,
            text,
        ));
    };
    let (found, limit) = (Amount::of(Quantity::Stress, found), Amount::of(Quantity::Stress, limit));
    Some(
        Check::compare(
            "groove_pressure",
            "groove pressure",
            Standing::Yardstick,
            Sense::AtMost,
            found,
            limit,
        )
        .basis(
            "hottest rope's tension with rated load over rope and pitch diameter, times the groove's factor",
        )
        .source(LAPSED_LIMIT_STANDING),
    )
}

/// Measured rope tensions should lie within a tenth of each other.
fn tensions(inputs: &Inputs) -> Option<Check> {
    let Given::PerRope { heavy_n, computed, .. } = &inputs.survey.load.given else { return None };
    let most = heavy_n.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = heavy_n.iter().copied().fold(f64::INFINITY, f64::min);
    let mut check = Check::compare(
        "rope_tensions",
        "highest rope tension over the lowest",
        Standing::Practice,
        Sense::AtMost,
        Amount::plain(most / least),
        Amount::plain(LARGEST_TENSION_RATIO.value),
    )
    .basis(if *computed {
        "rope tensions as unequal grooves and ropes make them"
    } else {
        "rope tensions as measured"
    })
    .source(LARGEST_TENSION_RATIO.source)
    .remark("The ropes pull unequally: equalise them, whatever is done with the sheave.");
    if check.status == Status::Fails {
        check.status = Status::Noted;
    }
    Some(check)
}
