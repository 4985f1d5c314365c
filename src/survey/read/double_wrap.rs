//! The double wrap of a survey: the table `[double_wrap]`, and the survey of the secondary sheave that it names.
//!
//! Owns its keys and stand-ins. Units inside: mm, N, MPa, rad.

use super::super::form::Bounds::{self, Between, Positive};
use super::super::form::{Field, Form, Section, field};
use super::super::schema::*;
use super::Folder;
use super::grooves::entries;
use super::loads::Ropes;
use crate::document::Places;
use crate::units::Kind;
use std::f64::consts::PI;

pub(super) const DOUBLE_WRAP_KEYS: &[&str] = &[
    "first_wrap",
    "second_wrap",
    "first_middle",
    "second_middle",
    "grooves",
    "friction",
    "secondary",
    "secondary_wrap",
    "rope_stiffness",
    "rope_modulus",
    "fill_factor",
    "car_length",
    "between_length",
    "counterweight_length",
    "between_tensions",
];

const FIRST: Field =
    field("first_wrap", Kind::Angle, Positive, "the angle of the ropes' pass from the car over this sheave")
        .such_as("\"175 deg\"");
const SECOND: Field =
    field("second_wrap", Kind::Angle, Positive, "the angle of their pass to the counterweight")
        .such_as("\"170 deg\"");
const STIFFNESS: Bounds = Between(1e4, 1e9, "from 10 kN to 1000 MN");
const LENGTH: Bounds = Between(100.0, 2e6, "from 100 mm to 2000 m");

/// Wraps of both passes, as the roping of a double wrap needs them.
pub(super) fn wraps(form: &mut Form, root: &Section<'_>) -> Option<[f64; 2]> {
    let sec = super::required(form, root, "double_wrap", DOUBLE_WRAP_KEYS);
    let (first, second) = (form.need(&sec, FIRST), form.need(&sec, SECOND));
    Some([first?, second?])
}

/// Warns of a table that a single wrap does not use.
pub(super) fn unused(form: &mut Form, root: &Section<'_>) {
    let sec = form.section(root, "double_wrap", DOUBLE_WRAP_KEYS);
    form.unused(&sec, DOUBLE_WRAP_KEYS, &[], "a single wrap");
}

/// The table of a double wrap, and the places of the secondary sheave's survey.
pub(super) fn double_wrap(
    form: &mut Form,
    root: &Section<'_>,
    ropes: &Ropes,
    folder: &Folder<'_>,
) -> (Option<DoubleWrap>, Option<Places>) {
    let wraps = ropes.wraps_rad;
    let sec = form.section(root, "double_wrap", DOUBLE_WRAP_KEYS);
    let middle = |form: &mut Form, key, what| {
        let sentence = "The middle of both passes is taken to lie at the same angle.";
        form.assume(
            &sec,
            field(key, Kind::Angle, Between(-PI, PI, "from -180 to 180 deg"), what),
            0.0,
            sentence,
        )
    };
    let first = middle(form, "first_middle", "the middle of the pass from the car");
    let second = middle(form, "second_middle", "the middle of the pass to the counterweight");
    let layout = form.need_choice(
        &sec,
        "grooves",
        "which grooves belong to which pass",
        &[("alternating", PassLayout::Alternating), ("side by side", PassLayout::SideBySide)],
    );
    let friction = field(
        "friction",
        Kind::Ratio,
        Between(0.01, 2.0, "a plain number from 0.01 to 2"),
        "the friction factor of the ropes in the grooves",
    );
    let friction = form.quantity(&sec, friction);
    if friction.is_none() {
        form.assumed("double_wrap.friction", "The friction factor for the tension between the passes is not measured; the grooves' own with μ = 0.2 stands in, the highest that EN 81-50, 5.11 counts with, because more friction lets that tension be further from the middle.");
    }
    let lengths = |form: &mut Form, key, what| {
        per_rope(form, &sec, field(key, Kind::Length, LENGTH, what), ropes.count)
    };
    let car = lengths(form, "car_length", "the free length from this sheave to the car");
    let between = lengths(form, "between_length", "the free length between the two passes");
    let counterweight = lengths(form, "counterweight_length", "the free length to the counterweight");
    let stiffness = stiffness(form, &sec, ropes);
    if [&car, &between, &counterweight].contains(&&None) || stiffness.is_none() {
        form.missing("double_wrap.between_length", "Rope stiffness and free lengths are not all known, so the tensions' history over the travel, and what unequal grooves do to it, are not computed.");
    }
    let tension = field(
        "between_tensions",
        Kind::Force,
        Between(1.0, 1e6, "from 1 N to 1000 kN"),
        "the tension of each rope between the passes",
    );
    let measured = per_rope(form, &sec, tension, ropes.count);
    if measured.is_none() {
        form.missing(
            "double_wrap.between_tensions",
            "The tensions between the passes are not measured; the bounds of friction stand in for them.",
        );
    }
    let wrap_field = field("secondary_wrap", Kind::Angle, Positive, "the wrap of the secondary sheave");
    let stated_wrap = form.quantity(&sec, wrap_field);
    let (file, secondary, places) = secondary(form, &sec, ropes, folder);
    let surveyed_wrap = secondary.as_ref().map(|survey| survey.roping.wrap_rad);
    if let (Some(stated), Some(surveyed)) = (stated_wrap, surveyed_wrap)
        && (stated - surveyed).abs() > 0.5f64.to_radians()
    {
        let message = format!(
            "The secondary sheave's wrap is {:.1} deg here and {:.1} deg in its own survey.",
            stated.to_degrees(),
            surveyed.to_degrees()
        );
        form.error(
            "survey/conflict",
            "double_wrap.secondary_wrap",
            message,
            "measure again, or write \"not measured\" here",
        );
    }
    let whole = || {
        Some(DoubleWrap {
            wrap_rad: wraps?,
            middle_rad: [first?, second?],
            layout: layout?,
            friction,
            secondary_wrap_rad: surveyed_wrap.or(stated_wrap),
            secondary_file: file,
            secondary: secondary.map(Box::new),
            stiffness_n: stiffness,
            car_length_mm: car,
            between_length_mm: between,
            counterweight_length_mm: counterweight,
            between_tensions_n: measured,
            between_over_equal_ratio: Vec::new(),
            pass_creep: None,
        })
    };
    (whole(), places)
}

/// One value for all ropes, or one for each.
fn per_rope(form: &mut Form, sec: &Section<'_>, field: Field, ropes: Option<usize>) -> Option<Vec<f64>> {
    let value = form.get(sec, field.key)?;
    if value.get_ref().as_array().is_none() {
        let one = form.quantity(sec, field)?;
        return Some(vec![one; ropes?]);
    }
    let list = form.quantities(sec, field)?;
    let ropes = ropes?;
    if list.len() == ropes {
        return Some(list);
    }
    let path = sec.path_of(field.key);
    let message = format!("{path} has {} and there are {ropes} ropes.", entries(list.len()));
    form.error(
        "survey/list-length",
        &path,
        message,
        "write one value for all ropes, or one for each, rope 1 first",
    );
    None
}

/// EA of every rope: stated, or from the ropes' modulus and fill factor.
fn stiffness(form: &mut Form, sec: &Section<'_>, ropes: &Ropes) -> Option<Vec<f64>> {
    let stated = field("rope_stiffness", Kind::Force, STIFFNESS, "the stiffness EA of a rope");
    let stated = per_rope(form, sec, stated, ropes.count);
    let modulus =
        field("rope_modulus", Kind::Stress, Between(1e4, 3e5, "from 10 to 300 GPa"), "the ropes' modulus");
    let modulus = form.quantity(sec, modulus);
    let fill =
        field("fill_factor", Kind::Ratio, Between(0.2, 0.9, "from 0.2 to 0.9"), "the ropes' fill factor");
    let fill = form.quantity(sec, fill);
    if stated.is_some() {
        form.unused(sec, &["rope_modulus", "fill_factor"], &[], "a stated rope_stiffness");
        return stated;
    }
    let (modulus, fill, diameter) = (modulus?, fill?, ropes.diameter_mm?);
    Some(vec![modulus * fill * PI * diameter * diameter / 4.0; ropes.count?])
}

/// The secondary sheave's own survey, read into the same messages; its faults are this survey's.
fn secondary(
    form: &mut Form,
    sec: &Section<'_>,
    ropes: &Ropes,
    folder: &Folder<'_>,
) -> (Option<String>, Option<Survey>, Option<Places>) {
    const PATH: &str = "double_wrap.secondary";
    if form.get(sec, "secondary").is_none() {
        form.missing(PATH, "The secondary sheave has no survey, so its wall and stress are not judged.");
        return (None, None, None);
    }
    let Some(name) = form.text(sec, "secondary") else { return (None, None, None) };
    if !folder.may_name {
        // The arrangement's fault is told already; a file that names itself must not be read for ever.
        return (Some(name), None, None);
    }
    let path = folder.path.join(&name);
    let bytes = match folder.files.read(&path) {
        Ok(bytes) => bytes,
        Err(fault) => {
            let message =
                format!("The secondary sheave's survey {} cannot be read: {fault}.", path.display());
            form.error(
                "survey/secondary-file",
                PATH,
                message,
                "check the name; it is looked for beside this survey",
            );
            return (Some(name), None, None);
        }
    };
    let diagnostics = std::mem::take(&mut form.document.diagnostics);
    let reading = super::read_into(diagnostics, &bytes, &path, folder.files, (&[], ""), false);
    form.document.diagnostics = reading.diagnostics;
    if let Some(survey) = &reading.survey {
        fits(form, PATH, survey, ropes);
    }
    (Some(name), reading.survey, reading.places)
}

/// What must be the same on both sheaves, for the same ropes run over them.
fn fits(form: &mut Form, path: &str, survey: &Survey, ropes: &Ropes) {
    let mut conflict = |message: String, help: &str| form.error("survey/conflict", path, message, help);
    if survey.roping.role != Role::Secondary {
        let message = "The survey of the secondary sheave has another role than \"secondary\".".to_owned();
        conflict(message, "name the secondary sheave's own survey here, with role = \"secondary\"");
    }
    if let Some(count) = ropes.count.filter(|count| *count != survey.roping.ropes) {
        let message =
            format!("This sheave carries {count} ropes and the secondary one {}.", survey.roping.ropes);
        conflict(message, "the same ropes run over both; correct one of the two surveys");
    }
    if let Some(ratio) = ropes.ratio.filter(|ratio| *ratio != survey.roping.ratio) {
        let message = format!(
            "The roping is {ratio}:1 here and {}:1 in the secondary sheave's survey.",
            survey.roping.ratio
        );
        conflict(message, "the same ropes run over both; correct one of the two surveys");
    }
    if let Some(diameter) = ropes.diameter_mm.filter(|d| (d - survey.roping.rope_diameter_mm).abs() > 0.02) {
        let other = survey.roping.rope_diameter_mm;
        let message = format!(
            "The ropes are {diameter:.2} mm thick here and {other:.2} mm in the secondary sheave's survey."
        );
        conflict(message, "the same ropes run over both; correct one of the two surveys");
    }
}
