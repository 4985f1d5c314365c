//! What the rope-life factor needs of a survey: the pulleys and the ropes' breaking force.
//!
//! Owns their keys and what stays open without them. Units inside: mm and N.

use super::super::form::Bounds::{Between, Positive};
use super::super::form::{Form, Section, field};
use super::super::schema::{Role, RopeFacts};
use crate::units::Kind;

/// Most pulleys that a file may speak of: beyond it a number is a slip.
const MOST_PULLEYS: u32 = 20;
const PULLEY_KEYS: [&str; 3] = ["simple_bends", "reversed_bends", "pulley_diameter"];

pub(super) fn rope_facts(form: &mut Form, sec: &Section<'_>, role: Option<Role>) -> RopeFacts {
    let breaking = field(
        "breaking_force",
        Kind::Force,
        Between(1e3, 2e6, "from 1 to 2000 kN"),
        "the minimum breaking force of one rope",
    );
    let diameter = field("pulley_diameter", Kind::Length, Positive, "the mean pitch diameter of the pulleys");
    let facts = RopeFacts {
        simple_bends: form.whole(sec, "simple_bends", 0, MOST_PULLEYS),
        reversed_bends: form.whole(sec, "reversed_bends", 0, MOST_PULLEYS),
        pulley_diameter_mm: form.quantity(sec, diameter),
        breaking_force_n: form.quantity(sec, breaking),
    };
    if role.is_some_and(|role| role != Role::Drive) {
        let keys = [&PULLEY_KEYS[..], &["breaking_force"]].concat();
        form.unused(sec, &keys, &[], "a sheave that drives nothing");
        return facts;
    }
    let bends = [facts.simple_bends, facts.reversed_bends];
    let no_pulleys = bends == [Some(0), Some(0)];
    if no_pulleys {
        form.unused(sec, &["pulley_diameter"], &[], "a roping without pulleys");
    }
    if bends.contains(&None) || (facts.pulley_diameter_mm.is_none() && !no_pulleys) {
        form.missing(
            "roping.simple_bends",
            "The pulleys that bend the ropes, and their diameter, are not measured, so the rope-life factor is not judged.",
        );
    }
    if facts.breaking_force_n.is_none() {
        form.missing(
            "roping.breaking_force",
            "The minimum breaking force of a rope is not known, so the ropes' own safety factor is not.",
        );
    }
    facts
}
