//! Assumptions, gaps and departures that a reader must see beside the verdict.

use super::super::result::Loads;
use crate::material::Metal;
use crate::section::Section;
use crate::survey::{Creep, NoteKind, Survey};
use crate::units::Kind as Quantity;

/// Sentences for the first lines of the verdict.
pub(in super::super) fn heads(survey: &Survey, metal: &Metal, safety_factor: f64) -> Vec<String> {
    let mut heads = Vec::new();
    if safety_factor < metal.safety_factor {
        heads.push(format!(
            "The safety factor was lowered from the code's {} to {safety_factor} by whoever filled in the survey.",
            metal.safety_factor
        ));
    }
    if survey.walls.thin_spot_found {
        heads.push(
            "The survey states that the thin spot was searched for and found; no estimate was added.".into(),
        );
    }
    heads
}

/// Assumptions, and what is missing.
pub(in super::super) fn notes(
    survey: &Survey,
    metal: &Metal,
    section: &Section,
    loads: &Loads,
) -> (Vec<String>, Vec<String>) {
    let of = |kind: NoteKind| survey.notes.iter().filter(move |note| note.kind == kind);
    // What stands in for an unknown metal is told by the metal itself, with its strength.
    let metals_own = |field: &str| matches!(field, "material.kind" | "material.class");
    let assumed = of(NoteKind::Assumed).filter(|note| !metals_own(&note.field));
    let mut assumptions: Vec<String> = assumed.map(|note| note.text.clone()).collect();
    assumptions.extend(metal.assumptions.iter().cloned());
    let pass_creep = survey.double_wrap.as_ref().and_then(|wrap| wrap.pass_creep);
    assumptions.push(match survey.roping.creep {
        Creep::WholeWrap if pass_creep.is_some() => "In each pass the rope is taken to rest where it comes on and to creep where it leaves, with the friction of that pass.".into(),
        Creep::WholeWrap => "The rope is taken to creep over the whole wrap, so the tension falls exponentially from the heavy to the light end.".into(),
        Creep::ActiveArcLight { friction } => format!(
            "The rope is taken to creep at the light end only, with a friction of {friction:.3}, and to rest on the remaining arc."
        ),
        Creep::ActiveArcHeavy { friction } => format!(
            "The rope is taken to creep at the heavy end only, with a friction of {friction:.3}, and to rest on the remaining arc."
        ),
    });
    assumptions.push(format!(
        "The pressure's jump at each end of the wrap is spread over one rope diameter ({}); forces and moments are not changed by it.",
        survey.print.show(Quantity::Length, loads.run_in_mm)
    ));
    assumptions.push(format!(
        "The {} is held fast all over; not searched for stress: {}.",
        section.support, section.fence_reason
    ));
    if let Some(groove) = loads.hottest_groove {
        let both = if survey.double_wrap.is_some() { " with its first pass" } else { "" };
        assumptions.push(format!(
            "The hottest rope ({:.0} % above the coolest) is put into groove {groove}{both}, where it raises the stress most; the sum over the ropes is kept.",
            100.0 * loads.tension_spread
        ));
    }
    assumptions.extend(section.remarks.iter().cloned());
    let missing = of(NoteKind::Missing).map(|note| note.text.clone()).collect();
    assumptions.extend(of(NoteKind::Unusual).map(|note| format!("Unusual: {}", note.text)));
    (assumptions, missing)
}
