//! The suspended masses of a survey. Units inside: kg, m.

use super::super::form::Bounds::Between;
use super::super::form::{Bounds, Field, Form, Section, field};
use super::super::schema::Masses;
use super::loads::TRAVEL;
use crate::units::Kind;

pub(super) fn masses(form: &mut Form, sec: &Section<'_>) -> Option<Masses> {
    let mass = |key, what| field(key, Kind::Mass, Between(1.0, 1e6, "from 1 kg to 1000 t"), what);
    let car = form.need(sec, mass("car", "the mass of the empty car"));
    let rated = form.need(sec, mass("rated_load", "the rated load"));
    let counterweight = form.quantity(sec, mass("counterweight", "the mass of the counterweight"));
    let balance = form.quantity(
        sec,
        field(
            "balance",
            Kind::Ratio,
            Between(0.0, 1.0, "from 0 % to 100 %"),
            "the balanced part of the rated load",
        ),
    );
    match (form.get(sec, "counterweight").is_some(), form.get(sec, "balance").is_some()) {
        (true, true) => form.error(
            "survey/conflict",
            "load.balance",
            "Both load.counterweight and load.balance are given.".into(),
            "keep exactly one of them: the weighed counterweight, or the balance when it was not weighed",
        ),
        (false, false) => form.needed(
            sec,
            "counterweight",
            "the mass of the counterweight, or balance = \"45 %\" in its place",
            Kind::Mass.examples(),
        ),
        _ => {}
    }
    let per_metre = |key, what| field(key, Kind::MassPerLength, Bounds::NotNegative, what);
    let mut counted = |field: Field, sentence: &str| {
        let value = form.quantity(sec, field);
        if value.is_none() {
            form.missing(&sec.path_of(field.key), sentence);
        }
        value
    };
    let rope = counted(
        per_metre("rope_mass", "the mass per length of one rope"),
        "The mass of the suspension ropes is not known and not counted.",
    );
    let compensation = counted(
        per_metre("compensation_mass", "the mass per length of the compensation"),
        "The mass of the compensation is not known and not counted.",
    );
    let cable = counted(
        per_metre("cable_mass", "the mass per length of the travelling cable"),
        "The mass of the travelling cable is not known and not counted.",
    );
    let travel = counted(TRAVEL, "The travel is not known, so the ropes' own weight is not counted.");
    let (car_kg, rated_kg) = (car?, rated?);
    let counterweight_kg = match (counterweight, balance) {
        (Some(mass), None) => mass,
        (None, Some(balance)) => car_kg + balance * rated_kg,
        _ => return None,
    };
    Some(Masses {
        car_kg,
        rated_kg,
        counterweight_kg,
        rope_kg_m: rope,
        compensation_kg_m: compensation,
        cable_kg_m: cable,
        travel_m: travel.map(|mm| mm / 1000.0),
    })
}
