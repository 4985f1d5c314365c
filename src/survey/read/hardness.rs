//! The hardness readings of a survey: a plain list, and readings with their depth.
//!
//! Owns their keys. Units inside: HB and mm.

use super::super::form::Bounds::{Between, NotNegative};
use super::super::form::{Field, Form, Section, field, is_not_measured};
use super::super::schema::HardnessReading;
use crate::units::Kind;

pub(super) const DEPTH_KEYS: &[&str] = &["depth", "hardness"];

const HARDNESS: Field =
    field("hardness", Kind::Hardness, Between(30.0, 750.0, "from 30 to 750 HB"), "a hardness");
/// As narrow as the material's own bounds, so that a slip is found where it stands.
const DEEP: Field =
    field("hardness", Kind::Hardness, Between(50.0, 700.0, "from 50 to 700 HB"), "a hardness");
const DEPTH: Field = field("depth", Kind::Length, NotNegative, "the depth of the reading below the rim edge");

pub(super) fn hardness(form: &mut Form, sec: &Section<'_>) -> Option<Vec<f64>> {
    let list = form.entries(sec, "hardness").unwrap_or_default();
    let measured: Vec<_> =
        list.iter().filter(|(_, value)| !value.get_ref().as_str().is_some_and(is_not_measured)).collect();
    if measured.is_empty() {
        form.missing("material.hardness", "The hardness of the grooves is not measured.");
    }
    let read: Vec<Option<f64>> =
        measured.into_iter().map(|(path, value)| form.read_quantity(value, path, HARDNESS)).collect();
    read.into_iter().collect()
}

/// Readings with depth and hardness both; a table in which neither is measured is a blank one.
pub(super) fn hardness_by_depth(form: &mut Form, sec: &Section<'_>) -> Option<Vec<HardnessReading>> {
    let mut read = Vec::new();
    for table in form.sections(sec, "hardness_by_depth", DEPTH_KEYS) {
        if DEPTH_KEYS.iter().all(|key| form.get(&table, key).is_none()) {
            continue;
        }
        let (depth, hardness) = (form.need(&table, DEPTH), form.need(&table, DEEP));
        read.push(
            depth.zip(hardness).map(|(depth_mm, hardness_hb)| HardnessReading { depth_mm, hardness_hb }),
        );
    }
    read.into_iter().collect()
}
