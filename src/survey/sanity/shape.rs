//! Rules on the shape of one groove by itself and with its rope.

use super::super::form::Form;
use super::super::schema::*;
use super::{SAME_MM, length, unusual};
use std::f64::consts::PI;

/// Least seat radius over half the rope that a worn rope explains: a rope is discarded at 0.9 of its
/// nominal diameter or before.
const TIGHTEST: f64 = 0.9;

pub(super) fn shape_rules(form: &mut Form, shape: &GrooveShape, rope: Option<f64>, table: &str) {
    match shape {
        GrooveShape::Round { seat_radius_mm, opening_angle_rad, .. } => {
            seat(form, *seat_radius_mm, *opening_angle_rad, rope, table);
        }
        GrooveShape::Undercut {
            seat_radius_mm,
            opening_angle_rad,
            slot_angle_rad,
            slot_corner_radius_mm,
            ..
        } => {
            seat(form, *seat_radius_mm, *opening_angle_rad, rope, table);
            let path = form.shape_path(table, "slot_angle");
            if slot_angle_rad.to_degrees() > 105.0 + 1e-9 {
                let text = format!(
                    "A slot of {:.0} deg is wider than the 105 deg that published codes allow.",
                    slot_angle_rad.to_degrees()
                );
                unusual(
                    form,
                    "survey/slot-angle",
                    &path,
                    text,
                    "usual are 75 to 105 deg; check the angle, seen from the rope's centre",
                );
            }
            if slot_angle_rad + opening_angle_rad >= PI {
                let message = format!(
                    "A slot of {:.0} deg and an opening angle of {:.0} deg leave no seat for the rope.",
                    slot_angle_rad.to_degrees(),
                    opening_angle_rad.to_degrees()
                );
                form.error(
                    "survey/slot-angle",
                    &path,
                    message,
                    "the two angles together stay well below 180 deg; check which is which",
                );
            }
            let half = seat_radius_mm * (slot_angle_rad / 2.0).sin();
            if *slot_corner_radius_mm > half {
                let message = format!(
                    "A corner radius of {} does not fit into a slot {} wide.",
                    length(form, *slot_corner_radius_mm),
                    length(form, 2.0 * half)
                );
                let path = form.shape_path(table, "slot_corner_radius");
                form.error(
                    "survey/fillet-too-large",
                    &path,
                    message,
                    "the corner radius is at most half the slot's width",
                );
            }
        }
        GrooveShape::V { root_radius_mm, root_depth_mm, angle_rad, band_width_mm, .. } => {
            v_rules(form, table, rope, (*angle_rad, *root_radius_mm, *root_depth_mm, *band_width_mm));
        }
        GrooveShape::Measured { contact_from_rad, contact_to_rad, .. } => {
            if contact_to_rad <= contact_from_rad {
                let path = form.shape_path(table, "contact_to");
                form.error(
                    "survey/contact-band",
                    &path,
                    "The contact band ends before it begins.".into(),
                    "contact_to is the larger angle, both seen from the rope's centre",
                );
            }
        }
    }
}

fn seat(form: &mut Form, radius: f64, opening: f64, rope: Option<f64>, table: &str) {
    if opening.to_degrees() < 25.0 - 1e-9 {
        let text = format!(
            "An opening angle of {:.0} deg is below the 25 deg that published codes allow.",
            opening.to_degrees()
        );
        let path = form.shape_path(table, "opening_angle");
        unusual(
            form,
            "survey/opening-angle",
            &path,
            text,
            "usual are 25 to 40 deg; check the whole angle between the flanks, not half of it",
        );
    }
    let Some(rope) = rope.filter(|rope| radius < rope / 2.0 - SAME_MM) else {
        return;
    };
    let path = form.shape_path(table, "seat_radius");
    let text = format!(
        "A seat radius of {} is less than half the rope of {}.",
        length(form, radius),
        length(form, rope)
    );
    if too_tight(radius, rope, table == "grooves.cut_to") {
        form.error("survey/rope-too-large", &path, text, "a seat has 0.53 to 0.54 of the rope's diameter as radius; check whether a metric rope runs in an inch groove (13 mm is not 1/2 in), and whether the radius is the seat's own");
    } else {
        unusual(
            form,
            "survey/tight-seat",
            &path,
            text,
            "a worn, thinner rope wears such a seat; a new rope of the nominal diameter is pinched in it until the groove is cut",
        );
    }
}

/// Ropes get thinner with age and wear a seat of their own radius, so a groove as found may be a little
/// tight for a new rope. A tool that cuts such a groove is the wrong tool.
fn too_tight(radius: f64, rope: f64, to_be_cut: bool) -> bool {
    let least = if to_be_cut { rope / 2.0 - SAME_MM } else { TIGHTEST * rope / 2.0 };
    radius < least
}

/// Whether a groove has a seat that the rope does not fit into.
pub(super) fn pinches(shape: &GrooveShape, rope: f64, to_be_cut: bool) -> bool {
    match shape {
        GrooveShape::Round { seat_radius_mm: radius, .. }
        | GrooveShape::Undercut { seat_radius_mm: radius, .. } => too_tight(*radius, rope, to_be_cut),
        GrooveShape::V { .. } | GrooveShape::Measured { .. } => false,
    }
}

fn v_rules(
    form: &mut Form,
    table: &str,
    rope: Option<f64>,
    (angle, root, depth, band): (f64, f64, Option<f64>, f64),
) {
    if angle.to_degrees() < 25.0 - 1e-9 {
        let text = format!("A V of {:.0} deg is unusually narrow.", angle.to_degrees());
        let path = form.shape_path(table, "angle");
        unusual(
            form,
            "survey/opening-angle",
            &path,
            text,
            "usual are 32 to 40 deg; check the whole angle between the flanks, not half of it",
        );
    }
    let Some(rope) = rope else { return };
    // A root of radius r between the flanks has its bottom (rope/2 − r)·(1/sin(γ/2) − 1) below the rope.
    let deepest = (rope / 2.0 - root) * (1.0 / (angle / 2.0).sin() - 1.0);
    if root >= rope / 2.0 {
        let message = format!(
            "A root radius of {} leaves no V for a rope of {}.",
            length(form, root),
            length(form, rope)
        );
        let path = form.shape_path(table, "root_radius");
        form.error(
            "survey/fillet-too-large",
            &path,
            message,
            "the root radius is less than half the rope; a worn-out V is given as \"round\" or \"undercut\"",
        );
    } else if let Some(depth) = depth.filter(|depth| *depth > deepest + SAME_MM) {
        let message = format!(
            "The root lies {} below the rope, and these flanks meet their root radius {} below it.",
            length(form, depth),
            length(form, deepest)
        );
        let path = form.shape_path(table, "root_depth");
        form.error("survey/root-depth", &path, message, "check the root's depth, the angle and the root's radius; the depth counts from the rope's lowest point");
    }
    if band > rope {
        let message = format!("A contact band of {} is wider than the rope.", length(form, band));
        let path = form.shape_path(table, "band_width");
        form.error(
            "survey/contact-band",
            &path,
            message,
            "usual is a quarter of the rope's diameter on each flank",
        );
    }
}
