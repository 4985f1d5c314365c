//! Checks on what a cut leaves of rope life, hardness and speed, and what fails as found.

use super::Inputs;
use crate::hoist::rules::{LEAST_SPEED_RATIO, SEAT_HARDNESS_HB, least_rope_safety};
use crate::study::consequences::{Consequence, Consequences};
use crate::survey::Role;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

const ROPE_LIFE: &str = "EN 81-50:2020, 5.12 with EN 81-20:2020, 5.5.2.2 (through a secondary copy); the local code decides which rule applies";

pub(super) fn checks(inputs: &Inputs) -> Vec<Check> {
    let mut list = Vec::new();
    list.extend(rope_life(inputs));
    list.extend(rope_factor(inputs));
    list.extend(hardness(inputs));
    list.extend(speed(inputs));
    list
}

/// Rules of published codes that the sheave breaks as found, for the first lines of the verdict.
pub(in super::super) fn failing_as_found(consequences: &Consequences) -> Vec<String> {
    if consequences.after.is_none() {
        return Vec::new();
    }
    let failing: Vec<&str> = consequences
        .rows
        .iter()
        .filter(|row| row.standing == Standing::Code && row.now_status == Some(Status::Fails))
        .map(|row: &Consequence| row.name.as_str())
        .collect();
    if failing.is_empty() {
        return Vec::new();
    }
    vec![format!("As found, before any cut, the sheave breaks a published rule: {}.", failing.join("; "))]
}

fn rope_life(inputs: &Inputs) -> Option<Check> {
    if inputs.survey.roping.role != Role::Drive {
        return None;
    }
    let name = "rope factor against the bends";
    let noted = |text: String| Check::without_numbers("rope_life", name, Standing::Code, Status::Noted, text);
    let state = inputs.consequences.judged();
    let Some(life) = &state.rope_life else {
        let why = state.rope_life_missing.as_deref().unwrap_or("nothing is known of it");
        return Some(noted(format!("The rope-life factor is not judged: {why}.")));
    };
    let asked = life.required_rope_factor;
    let Some(found) = inputs.consequences.rope_factor else {
        return Some(noted(format!(
            "The bends ask a rope factor of {asked:.2}; what factor the ropes have is unknown without their breaking force."
        )));
    };
    Some(
        Check::compare("rope_life", name, Standing::Code, Sense::AtLeast, Amount::plain(found), Amount::plain(asked))
            .basis(format!(
                "n·F_min over the static force with rated load, against S_f with D/d = {:.2} and N = {:.2} equivalent bends ({:.2} of them on this sheave), groove {}",
                life.diameter_ratio, life.equivalent_bends, life.traction_bends, life.groove
            ))
            .source(ROPE_LIFE)
            .remark(format!(
                "The ropes have a factor of {found:.2} on their breaking force; the bends{} ask {asked:.2}.",
                if inputs.consequences.after.is_some() { " over the cut sheave" } else { "" }
            ))
            .settle("Ropes of a higher breaking force, larger pulleys or another groove shape change the rope factor that is asked; the wall does not."),
    )
}

/// The ropes' own factor is no business of a cut, which does not change it.
fn rope_factor(inputs: &Inputs) -> Option<Check> {
    let found = inputs.consequences.rope_factor?;
    let limit = least_rope_safety(inputs.survey.roping.ropes)?;
    Some(
        Check::compare(
            "rope_factor",
            "rope factor by the number of ropes",
            Standing::Yardstick,
            Sense::AtLeast,
            Amount::plain(found),
            Amount::plain(limit.value),
        )
        .basis("n·F_min over the static force with rated load; no cut changes it")
        .source(limit.source),
    )
}

fn hardness(inputs: &Inputs) -> Option<Check> {
    let name = "hardness at the finished seats";
    inputs.consequences.after.as_ref()?;
    let (low, high) = SEAT_HARDNESS_HB;
    let Some(found) = inputs.consequences.judged().hardness_hb else {
        return Some(Check::without_numbers(
            "hardness_at_depth",
            name,
            Standing::Yardstick,
            Status::Noted,
            "The hardness that the cut lays bare is unknown: no readings by depth surround the new seats. Heat-treated castings soften inwards more than alloyed ones (common practice, no source).",
        ));
    };
    let limit = if found > high.value { high } else { low };
    let sense = if found > high.value { Sense::AtMost } else { Sense::AtLeast };
    let amount = |hb: f64| Amount::of(Quantity::Hardness, hb);
    Some(
        Check::compare(
            "hardness_at_depth",
            name,
            Standing::Yardstick,
            sense,
            amount(found),
            amount(limit.value),
        )
        .basis("straight line between the readings above and below the finished seats")
        .source(limit.source),
    )
}

fn speed(inputs: &Inputs) -> Option<Check> {
    let speed = inputs.consequences.car_speed?;
    let amount = |value: f64| Amount::of(Quantity::Speed, value);
    Some(
        Check::compare(
            "car_speed",
            "car speed after the cut",
            Standing::Yardstick,
            Sense::AtLeast,
            amount(speed.after_m_s),
            amount(LEAST_SPEED_RATIO.value * speed.now_m_s),
        )
        .basis("in proportion to the mean pitch diameter, at the same speed of the machine")
        .source(LEAST_SPEED_RATIO.source),
    )
}
