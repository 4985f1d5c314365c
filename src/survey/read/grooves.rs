//! The grooves of a survey: how many, where, how deep, and their shapes as found and to be cut.
//!
//! Owns their keys and stand-ins. Units inside: mm and rad.

use super::super::form::Bounds::{self, Between, NotNegative, Positive};
use super::super::form::{Field, Form, Section, field};
use super::super::profile;
use super::super::schema::*;
use super::loads::MOST_GROOVES;
use super::{Folder, file_name, required};
use crate::units::Kind::{Angle, Length};
use std::f64::consts::PI;
use toml::de::DeValue;

pub(super) const GROOVE_KEYS: &[&str] = &[
    "count",
    "pitch",
    "offset",
    "seat_depth",
    "roped",
    "mouth_radius",
    "now",
    "worn",
    "cut_to",
];
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

/// Angles of groove flanks and slots: below a half turn, in words for the fault.
const UNDER_HALF_TURN: Bounds = Between(1e-9, PI - 1e-9, "more than 0 and less than 180 deg");

pub(super) fn grooves(
    form: &mut Form,
    root: &Section<'_>,
    ropes: Option<usize>,
    rope_mm: Option<f64>,
    cut_wanted: bool,
    folder: &Folder<'_>,
) -> Option<Grooves> {
    let sec = required(form, root, "grooves", GROOVE_KEYS);
    let count_read = form
        .whole(&sec, "count", 1, MOST_GROOVES)
        .map(|count| count as usize);
    let count = if form.get(&sec, "count").is_none() {
        ropes
    } else {
        count_read
    };
    if form.get(&sec, "count").is_none() && sec.table.is_some() {
        form.assumed(
            "grooves.count",
            "The sheave is taken to have as many grooves as ropes.",
        );
    }
    let pitch = form.need(
        &sec,
        field(
            "pitch",
            Length,
            Positive,
            "the distance from groove to groove",
        ),
    );
    let offset = form.assume(
        &sec,
        field(
            "offset",
            Length,
            Bounds::Any,
            "the offset of the groove set",
        ),
        0.0,
        "The groove set is taken to lie in the middle of the rim.",
    );
    let depth_field = field(
        "seat_depth",
        Length,
        Positive,
        "the depth of each seat's bottom below the rim edge",
    );
    if form.get(&sec, "seat_depth").is_none() {
        form.needed(
            &sec,
            "seat_depth",
            depth_field.what,
            "[\"0.52 in\", \"0.55 in\"], one entry for each groove",
        );
    }
    let depths = form.quantities(&sec, depth_field);
    let depths_fit = match (&depths, count) {
        (Some(depths), Some(count)) if depths.len() != count => {
            let message = format!(
                "grooves.seat_depth has {} and the sheave has {count} grooves.",
                entries(depths.len())
            );
            form.error(
                "survey/list-length",
                "grooves.seat_depth",
                message,
                "write one depth for each groove, groove 1 first",
            );
            false
        }
        _ => true,
    };
    let roped = count.and_then(|count| roped(form, &sec, count, ropes));
    let mouth = form.assume(
        &sec,
        field(
            "mouth_radius",
            Length,
            Positive,
            "the radius at the groove's mouth",
        ),
        0.5,
        "The radius at the groove's mouth is taken as 0.5 mm.",
    );
    let now_base = form.section(&sec, "now", SHAPE_KEYS);
    if now_base.table.is_none() && sec.table.is_some() {
        form.error(
            "survey/needed",
            "grooves.now",
            "The section [grooves.now] is missing.".into(),
            "add [grooves.now] with the shape of the grooves as found",
        );
    }
    let now = count.and_then(|count| now_shapes(form, &sec, &now_base, count, rope_mm, folder));
    let cut_base = form.section(&sec, "cut_to", SHAPE_KEYS);
    let cut_to = if cut_wanted {
        if cut_base.table.is_none() && sec.table.is_some() {
            form.error(
                "survey/needed",
                "grooves.cut_to",
                "The section [grooves.cut_to] is missing.".into(),
                "add the shape to be cut as [grooves.cut_to], or write plan = \"none\" under [cut]",
            );
        }
        Some(shape(form, &cut_base, None, rope_mm, folder))
    } else {
        None
    };
    let cut_to = match cut_to {
        Some(shape) => Some(shape?),
        None => None,
    };
    Some(Grooves {
        pitch_mm: pitch?,
        offset_mm: offset?,
        roped: roped?,
        seat_depth_mm: depths.filter(|_| depths_fit)?,
        now: now?,
        cut_to,
        mouth_radius_mm: mouth?,
    })
}

pub(super) fn entries(count: usize) -> String {
    if count == 1 {
        "1 entry".into()
    } else {
        format!("{count} entries")
    }
}

fn roped(
    form: &mut Form,
    sec: &Section<'_>,
    count: usize,
    ropes: Option<usize>,
) -> Option<Vec<bool>> {
    let Some(list) = form.entries(sec, "roped") else {
        let ropes = ropes?;
        if ropes == count {
            return Some(vec![true; count]);
        }
        if ropes < count {
            form.needed(
                sec,
                "roped",
                "which grooves carry a rope, for there are more grooves than ropes",
                "[1, 2, 3]",
            );
        } else {
            let message = format!("There are {ropes} ropes and only {count} grooves.");
            form.error(
                "survey/list-length",
                "grooves.count",
                message,
                "check roping.ropes and grooves.count",
            );
        }
        return None;
    };
    let mut out = vec![false; count];
    let mut whole = true;
    for (path, value) in &list {
        match form.read_whole(value, path, 1, count as u32) {
            Some(number) if out[number as usize - 1] => {
                let message = format!("Groove {number} stands twice in grooves.roped.");
                form.error(
                    "survey/conflict",
                    path,
                    message,
                    "write every roped groove once",
                );
                whole = false;
            }
            Some(number) => out[number as usize - 1] = true,
            None => whole = false,
        }
    }
    if let Some(ropes) = ropes.filter(|ropes| whole && list.len() != *ropes) {
        let message = format!(
            "grooves.roped has {} and there are {ropes} ropes.",
            entries(list.len())
        );
        form.error(
            "survey/list-length",
            "grooves.roped",
            message,
            "write the number of each groove that carries a rope",
        );
        whole = false;
    }
    whole.then_some(out)
}

fn now_shapes(
    form: &mut Form,
    sec: &Section<'_>,
    base: &Section<'_>,
    count: usize,
    rope_mm: Option<f64>,
    folder: &Folder<'_>,
) -> Option<Vec<GrooveShape>> {
    let common = shape(form, base, None, rope_mm, folder);
    let mut out: Vec<Option<GrooveShape>> = vec![common; count];
    let worn_keys: Vec<&str> = SHAPE_KEYS.iter().copied().chain(["groove"]).collect();
    let mut seen = vec![false; count];
    for worn in form.sections(sec, "worn", &worn_keys) {
        if form.get(&worn, "groove").is_none() {
            form.needed(
                &worn,
                "groove",
                "the number of the groove that differs",
                "3",
            );
        }
        let number = form.whole(&worn, "groove", 1, count as u32);
        let worn_shape = shape(form, base, Some(&worn), rope_mm, folder);
        let Some(number) = number else { continue };
        let index = number as usize - 1;
        if std::mem::replace(&mut seen[index], true) {
            let message = format!("Groove {number} has two tables [[grooves.worn]].");
            form.error(
                "survey/conflict",
                &worn.path_of("groove"),
                message,
                "keep one of them",
            );
        }
        form.worn_tables.insert(index + 1, worn.path.clone());
        out[index] = worn_shape;
    }
    out.into_iter().collect()
}

/// One groove's shape: the fields of `over` where it has them, else those of `base`.
fn shape(
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
            field(
                "opening_angle",
                Angle,
                UNDER_HALF_TURN,
                "the angle between the groove's flanks",
            ),
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
                "the angle over which the rope is supported",
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
            field(
                "slot_angle",
                Angle,
                UNDER_HALF_TURN,
                "the angle of the slot, seen from the rope's centre",
            ),
        );
        let depth = need(
            form,
            field(
                "slot_depth",
                Length,
                Positive,
                "the depth of the slot's bottom below the seat's bottom",
            ),
        );
        let corner = form.assume(
            &pick("slot_corner_radius"),
            field(
                "slot_corner_radius",
                Length,
                Positive,
                "the radius of the slot's corners",
            ),
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
        let angle = need(
            form,
            field(
                "angle",
                Angle,
                UNDER_HALF_TURN,
                "the angle between the flanks of the V",
            ),
        );
        let root_depth = form.quantity(
            &pick("root_depth"),
            field(
                "root_depth",
                Length,
                NotNegative,
                "the depth of the root below the rope's lowest point",
            ),
        );
        if root_depth.is_none() {
            form.missing(&pick("root_depth").path_of("root_depth"), "The depth of the V's root is not measured; a full round root between the flanks is drawn.");
        }
        let root = form.assume(
            &pick("root_radius"),
            field(
                "root_radius",
                Length,
                Positive,
                "the radius of the V's root",
            ),
            0.5,
            "The radius of the V's root is taken as 0.5 mm, a small one, on the strict side.",
        );
        let band = form.assume(
            &pick("band_width"),
            field(
                "band_width",
                Length,
                Positive,
                "the width of the contact band on each flank",
            ),
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
    let to_quarter =
        |key, what| field(key, Angle, Between(0.0, PI / 2.0, "from 0 to 90 deg"), what);
    let from = need(
        form,
        to_quarter(
            "contact_from",
            "the start of the band that carries the rope, seen from the rope's centre",
        ),
    );
    let to = need(
        form,
        to_quarter(
            "contact_to",
            "the end of the band that carries the rope, seen from the rope's centre",
        ),
    );
    let corner = form.assume(
        &pick("corner_radius"),
        field(
            "corner_radius",
            Length,
            Positive,
            "the radius of inner corners",
        ),
        0.5,
        "Inner corners of the measured groove are given a radius of 0.5 mm.",
    );
    let section = pick("profile");
    let points = file_name(form, &section, "profile", "the measured line of the groove").and_then(
        |(name, _)| profile::read(form, folder, &name, &section.path_of("profile"), "depth"),
    );
    Some(GrooveShape::Measured {
        points_mm: points?.points,
        contact_from_rad: from?,
        contact_to_rad: to?,
        corner_radius_mm: corner?,
    })
}

fn hardened(form: &mut Form, section: &Section<'_>) -> Option<bool> {
    let Some(value) = form.get(section, "hardened") else {
        form.assumed(
            &section.path_of("hardened"),
            "The V grooves are taken as not hardened.",
        );
        return Some(false);
    };
    match value.get_ref() {
        DeValue::Boolean(flag) => Some(*flag),
        _ => form.choice(
            section,
            "hardened",
            &[
                ("yes", true),
                ("no", false),
                ("true", true),
                ("false", false),
            ],
        ),
    }
}
