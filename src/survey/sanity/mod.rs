//! Rules between the fields of a survey, each with the place of the offending value.
//!
//! Owns what is impossible (an error) and what is unusual (a warning and a note). Lacks mechanics: no
//! rule here needs a stress. A rule whose part of the survey could not be read is skipped, all
//! others are still checked, so that one reading shows everything.
//! Units: mm, N, kg and rad.

mod grooves;
mod loads;
mod material;
mod over_web;
mod profiles;
mod shape;
mod walls;
mod wheel;

use super::form::Form;
use super::read::Draft;
use super::schema::{Cut, Grooves, NoteKind};

/// Lengths closer than this are the same number written in two units.
const SAME_MM: f64 = 0.02;

/// Checks all rules.
pub(super) fn check(draft: &Draft, form: &mut Form) {
    loads::check(draft, form);
    grooves::check(draft, form);
    walls::check(draft, form);
    wheel::check(draft, form);
    material::check(draft, form);
    over_web::check(draft, form);
}

/// A legal but unusual value: a warning at its place, and a note that goes into the report.
fn unusual(form: &mut Form, code: &'static str, path: &str, text: String, help: &str) {
    form.note(path, NoteKind::Unusual, &text);
    let place = form.places.of(path);
    form.diagnostics.warning(code, text, help, place);
}

/// The seat depth that the plan asks for.
fn planned_depth(cut: Option<Cut>, grooves: &Grooves) -> Option<f64> {
    let deepest = grooves.seat_depth_mm.iter().copied().fold(0.0, f64::max);
    match cut? {
        Cut::CleanUp { allowance_mm } => Some(deepest + allowance_mm),
        Cut::ToDepth { depth_mm } => Some(depth_mm),
        Cut::None => None,
    }
}

/// A length for messages, in the unit the survey uses.
fn length(form: &Form, mm: f64) -> String {
    form.votes.print_units().show(crate::units::Kind::Length, mm)
}
