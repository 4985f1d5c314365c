//! The shape of one groove: its fields, and what stands in for them.
//!
//! Units inside: mm and rad.

use super::super::form::Bounds::{self, Between, NotNegative, Positive};
use super::super::form::{Field, Form, Section, field};
use super::super::profile;
use super::super::schema::*;
use super::{Folder, file_name};
use crate::units::Kind::{Angle, Length};
use std::f64::consts::PI;
use toml::de::DeValue;

pub(super) const SHAPE_KEYS: &[&str] = &[
    "shape",
    "seat_radius",
    "opening_angle",
    "support_angle",
    "slot_angle",
    "slot_depth",
    "slot_corner_radius",
    "angle",
    "root_depth",
    "root_radius",
    "band_width",
    "hardened",
    "profile",
    "contact_from",
    "contact_to",
    "corner_radius",
];
const SHAPES: [(&str, u8); 4] = [("round", 0), ("undercut", 1), ("V", 2), ("as measured", 3)];

/// The keys that a shape is made of.
pub(super) fn shape_keys(shape: &GrooveShape) -> &'static [&'static str] {
    match shape {
        GrooveShape::Round { .. } => &SHAPE_KEYS[..4],
        GrooveShape::Undercut { .. } => &SHAPE_KEYS[..7],
        GrooveShape::V { .. } => &["shape", "angle", "root_depth", "root_radius", "band_width", "hardened"],
        GrooveShape::Measured { .. } => &["shape", "profile", "contact_from", "contact_to", "corner_radius"],
    }
}

/// The choice of a shape, as it stands in the file.
pub(super) fn shape_words(shape: &GrooveShape) -> String {
    let word = match shape {
        GrooveShape::Round { .. } => "round",
        GrooveShape::Undercut { .. } => "undercut",
        GrooveShape::V { .. } => "V",
        GrooveShape::Measured { .. } => "as measured",
    };
    format!("shape = \"{word}\"")
}

/// Angles of groove flanks and slots: below a half turn, in words for the fault.
const UNDER_HALF_TURN: Bounds = Between(1e-9, PI - 1e-9, "more than 0 and less than 180 deg");

/// One groove's shape: the fields of `over` where it has them, else those of `base`.
pub(super) fn shape(
    form: &mut Form,
    base: &Section<'_>,
    over: Option<&Section<'_>>,
    rope_mm: Option<f64>,
    folder: &Folder<'_>,
) -> Option<GrooveShape> {
    let pick = |key: &str| -> Section<'_> {
        match over {
            Some(over) if over.table.is_some_and(|table| table.contains_key(key)) => over.clone(),
            _ => base.clone(),
        }
    };
    let need = |form: &mut Form, field: Field| form.need(&pick(field.key), field);
    let kind = form.need_choice(&pick("shape"), "shape", "the shape of the groove", &SHAPES)?;
    if kind <= 1 {
        let opening = need(
            form,
            field("opening_angle", Angle, UNDER_HALF_TURN, "the angle between the groove's flanks"),
        );
        let seat = form.assume(
            &pick("seat_radius"),
            field("seat_radius", Length, Positive, "the radius of the seat"),
            rope_mm.unwrap_or(1.0) * 0.53,
            "The seat radius is taken as 0.53 of the rope's diameter.",
        );
        let support = form.quantity(
            &pick("support_angle"),
            field(
                "support_angle",
                Angle,
                UNDER_HALF_TURN,
                "the angle from the groove's bottom at which the rope leaves the seat",
            ),
        );
        if kind == 0 {
            return Some(GrooveShape::Round {
                seat_radius_mm: seat?,
                opening_angle_rad: opening?,
                support_angle_rad: support,
            });
        }
        let angle = need(
            form,
            field("slot_angle", Angle, UNDER_HALF_TURN, "the angle of the slot, seen from the rope's centre"),
        );
        let depth = need(
            form,
            field("slot_depth", Length, Positive, "the depth of the slot's bottom below the seat's bottom"),
        );
        let corner = form.assume(
            &pick("slot_corner_radius"),
            field("slot_corner_radius", Length, Positive, "the radius of the slot's corners"),
            0.5,
            "The radius of the slot's corners is taken as 0.5 mm, a small one, on the strict side.",
        );
        return Some(GrooveShape::Undercut {
            seat_radius_mm: seat?,
            opening_angle_rad: opening?,
            support_angle_rad: support,
            slot_angle_rad: angle?,
            slot_depth_mm: depth?,
            slot_corner_radius_mm: corner?,
        });
    }
    if kind == 2 {
        let angle =
            need(form, field("angle", Angle, UNDER_HALF_TURN, "the angle between the flanks of the V"));
        let root_depth = form.quantity(
            &pick("root_depth"),
            field("root_depth", Length, NotNegative, "the depth of the root below the rope's lowest point"),
        );
        if root_depth.is_none() {
            form.missing(
                &pick("root_depth").path_of("root_depth"),
                "The depth of the V's root is not measured; a full round root between the flanks is drawn.",
            );
        }
        let root = form.assume(
            &pick("root_radius"),
            field("root_radius", Length, Positive, "the radius of the V's root"),
            0.5,
            "The radius of the V's root is taken as 0.5 mm, a small one, on the strict side.",
        );
        let band = form.assume(
            &pick("band_width"),
            field("band_width", Length, Positive, "the width of the contact band on each flank"),
            rope_mm.unwrap_or(1.0) * 0.25,
            "The rope is taken to bear on a band of a quarter of its diameter on each flank.",
        );
        let hardened = hardened(form, &pick("hardened"));
        return Some(GrooveShape::V {
            angle_rad: angle?,
            root_depth_mm: root_depth,
            root_radius_mm: root?,
            band_width_mm: band?,
            hardened: hardened?,
        });
    }
    let to_quarter = |key, what| field(key, Angle, Between(0.0, PI / 2.0, "from 0 to 90 deg"), what);
    let from = need(
        form,
        to_quarter(
            "contact_from",
            "the start of the band that carries the rope, seen from the rope's centre",
        ),
    );
    let to = need(
        form,
        to_quarter("contact_to", "the end of the band that carries the rope, seen from the rope's centre"),
    );
    let corner = form.assume(
        &pick("corner_radius"),
        field("corner_radius", Length, Positive, "the radius of inner corners"),
        0.5,
        "Inner corners of the measured groove are given a radius of 0.5 mm.",
    );
    let section = pick("profile");
    let points = file_name(form, &section, "profile", "the measured line of the groove")
        .and_then(|(name, _)| profile::read(form, folder, &name, &section.path_of("profile"), "depth"));
    Some(GrooveShape::Measured {
        points_mm: points?.points,
        contact_from_rad: from?,
        contact_to_rad: to?,
        corner_radius_mm: corner?,
    })
}

fn hardened(form: &mut Form, section: &Section<'_>) -> Option<bool> {
    let Some(value) = form.get(section, "hardened") else {
        form.assumed(&section.path_of("hardened"), "The V grooves are taken as not hardened.");
        return Some(false);
    };
    match value.get_ref() {
        DeValue::Boolean(flag) => Some(*flag),
        _ => form.choice(
            section,
            "hardened",
            &[("yes", true), ("no", false), ("true", true), ("false", false)],
        ),
    }
}
