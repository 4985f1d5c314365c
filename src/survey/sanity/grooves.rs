//! Rules on grooves: their shapes, their neighbours, the rim's edge, and the cut.

use super::super::form::Form;
use super::super::read::Draft;
use super::super::schema::*;
use super::{length, planned_depth, unusual};
use std::f64::consts::FRAC_PI_2;

/// Lengths closer than this are the same number written in two units.
const SAME_MM: f64 = 0.02;

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let Some(grooves) = &draft.grooves else {
        return;
    };
    let rope = draft.roping.as_ref().map(|roping| roping.rope_diameter_mm);
    for (index, shape) in grooves.now.iter().enumerate() {
        shape_rules(form, shape, rope, &table_of(form, index + 1));
    }
    if let Some(shape) = &grooves.cut_to {
        shape_rules(form, shape, rope, "grooves.cut_to");
    }
    if let Some(rope) = rope {
        neighbours(form, grooves, rope);
        if let Some(rim) = &draft.rim {
            rim_side(form, grooves, rim, rope);
            pitch_diameter(form, grooves, rim, rope);
        }
        for (index, depth) in grooves
            .seat_depth_mm
            .iter()
            .enumerate()
            .filter(|(_, depth)| **depth < rope / 2.0)
        {
            let text = format!(
                "The seat of groove {} lies {} below the rim edge, less than half a rope.",
                index + 1,
                length(form, *depth)
            );
            let path = format!("grooves.seat_depth[{}]", index + 1);
            unusual(
                form,
                "survey/depth-datum",
                &path,
                text,
                "depths count from the rim edge down to the seat's bottom, not from the top of the rope",
            );
        }
    }
    if let Some(rim) = &draft.rim {
        for (index, depth) in grooves
            .seat_depth_mm
            .iter()
            .enumerate()
            .filter(|(_, depth)| **depth >= rim.edge_radius_mm)
        {
            let message = format!(
                "The seat of groove {} lies {} below the rim edge, which is beyond the shaft's axis.",
                index + 1,
                length(form, *depth)
            );
            form.error(
                "survey/depth-datum",
                &format!("grooves.seat_depth[{}]", index + 1),
                message,
                "check the depth and its unit",
            );
        }
    }
    cut(form, draft.cut, grooves);
}

/// The table that a groove's shape comes from.
fn table_of(form: &Form, groove: usize) -> String {
    form.worn_tables
        .get(&groove)
        .cloned()
        .unwrap_or_else(|| "grooves.now".into())
}

fn shape_rules(form: &mut Form, shape: &GrooveShape, rope: Option<f64>, table: &str) {
    match shape {
        GrooveShape::Round {
            seat_radius_mm,
            opening_angle_rad,
            ..
        } => {
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
            if slot_angle_rad + opening_angle_rad >= 2.0 * FRAC_PI_2 {
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
        GrooveShape::V {
            root_radius_mm,
            root_depth_mm,
            angle_rad,
            band_width_mm,
            ..
        } => {
            v_rules(
                form,
                table,
                rope,
                (*angle_rad, *root_radius_mm, *root_depth_mm, *band_width_mm),
            );
        }
        GrooveShape::Measured {
            contact_from_rad,
            contact_to_rad,
            ..
        } => {
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
    let message = format!(
        "A seat radius of {} is less than half the rope of {}.",
        length(form, radius),
        length(form, rope)
    );
    form.error("survey/rope-too-large", &path, message, "a seat has 0.53 to 0.54 of the rope's diameter as radius; check whether a metric rope runs in an inch groove (13 mm is not 1/2 in), or a diameter is given as radius");
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
        form.error("survey/fillet-too-large", &path, message, "the root radius is less than half the rope; a worn-out V is given as \"round\" or \"undercut\"");
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
        let message = format!(
            "A contact band of {} is wider than the rope.",
            length(form, band)
        );
        let path = form.shape_path(table, "band_width");
        form.error(
            "survey/contact-band",
            &path,
            message,
            "usual is a quarter of the rope's diameter on each flank",
        );
    }
}

/// Half the width of a groove where the rope bears: at the seat's ends, or at a V's rope centre.
fn half_width(shape: &GrooveShape, rope: f64) -> f64 {
    match shape {
        GrooveShape::Round {
            seat_radius_mm: r,
            opening_angle_rad: g,
            ..
        }
        | GrooveShape::Undercut {
            seat_radius_mm: r,
            opening_angle_rad: g,
            ..
        } => r * (g / 2.0).cos(),
        GrooveShape::V { angle_rad, .. } => rope / 2.0 / (angle_rad / 2.0).cos(),
        GrooveShape::Measured { contact_to_rad, .. } => rope / 2.0 * contact_to_rad.sin(),
    }
}

fn neighbours(form: &mut Form, grooves: &Grooves, rope: f64) {
    if grooves.count() < 2 {
        return;
    }
    let pitch = grooves.pitch_mm;
    let too_wide = |form: &mut Form, shape: &GrooveShape, which: &str| {
        let width = 2.0 * half_width(shape, rope);
        if width <= pitch {
            return false;
        }
        let message = format!(
            "{which} is {} wide where the rope bears, more than the pitch of {}.",
            length(form, width),
            length(form, pitch)
        );
        form.error(
            "survey/groove-wider-than-pitch",
            "grooves.pitch",
            message,
            "check the pitch and the seat radius; a diameter may be given as radius",
        );
        true
    };
    if let Some(shape) = &grooves.cut_to {
        too_wide(form, shape, "The groove to be cut");
    }
    let wide: Vec<bool> = (0..grooves.count())
        .map(|i| too_wide(form, &grooves.now[i], &format!("Groove {}", i + 1)))
        .collect();
    for i in 1..grooves.count() {
        let sum = half_width(&grooves.now[i - 1], rope) + half_width(&grooves.now[i], rope);
        if sum > pitch && !wide[i - 1] && !wide[i] {
            let message = format!(
                "Grooves {} and {} overlap: half of each together is {}, and the pitch is {}.",
                i,
                i + 1,
                length(form, sum),
                length(form, pitch)
            );
            form.error(
                "survey/grooves-overlap",
                "grooves.pitch",
                message,
                "check the pitch and the seat radii of the two grooves",
            );
        }
    }
}

fn rim_side(form: &mut Form, grooves: &Grooves, rim: &Rim, rope: f64) {
    let widest = grooves
        .now
        .iter()
        .chain(&grooves.cut_to)
        .map(|shape| half_width(shape, rope))
        .fold(0.0, f64::max);
    let reach =
        grooves.offset_mm.abs() + (grooves.count() - 1) as f64 / 2.0 * grooves.pitch_mm + widest;
    if reach > rim.width_mm / 2.0 {
        let message = format!(
            "The grooves reach {} from the middle of the rim, and the rim ends at {}.",
            length(form, reach),
            length(form, rim.width_mm / 2.0)
        );
        form.error(
            "survey/grooves-outside-rim",
            "rim.width",
            message,
            "check the rim's width, the pitch, the number of grooves and the offset",
        );
    }
}

/// A pitch diameter is the edge diameter less two seat depths and plus one rope; wear may have lowered
/// the seats since the nameplate was made.
fn pitch_diameter(form: &mut Form, grooves: &Grooves, rim: &Rim, rope: f64) {
    let Some(nominal) = rim.nominal_pitch_diameter_mm else {
        return;
    };
    let edge = 2.0 * rim.edge_radius_mm;
    let shallowest = grooves
        .seat_depth_mm
        .iter()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let wear = (nominal - (edge - 2.0 * shallowest + rope)) / 2.0;
    let shown = |form: &Form, mm| length(form, mm);
    if (edge - nominal).abs() < SAME_MM {
        let text = format!(
            "The rim edge and the nominal pitch circle have the same diameter, {}.",
            shown(form, edge)
        );
        unusual(
            form,
            "survey/pitch-diameter",
            "rim.edge_diameter",
            text,
            "check that the edge diameter was measured over the rim and not copied from the nameplate",
        );
    }
    if wear > 1.5 * rope || wear < -0.5 * rope {
        let message = format!(
            "The diameters do not fit together: an edge of {} with seats {} deep gives a pitch diameter of {}, and {} is given.",
            shown(form, edge),
            shown(form, shallowest),
            shown(form, edge - 2.0 * shallowest + rope),
            shown(form, nominal)
        );
        form.error("survey/pitch-diameter", "rim.nominal_pitch_diameter", message, "pitch diameter = edge diameter - 2 x seat depth + rope diameter, and wear lowers it by at most three ropes; check which diameter was measured");
    }
}

fn cut(form: &mut Form, cut: Option<Cut>, grooves: &Grooves) {
    let deepest = grooves.seat_depth_mm.iter().copied().fold(0.0, f64::max);
    let Some(depth) = planned_depth(cut, grooves).filter(|depth| *depth < deepest - 1e-9) else {
        return;
    };
    let worst = grooves
        .seat_depth_mm
        .iter()
        .position(|d| *d == deepest)
        .map_or(0, |index| index + 1);
    let message = format!(
        "A cut to {} is shallower than groove {worst}, which is {} deep already.",
        length(form, depth),
        length(form, deepest)
    );
    form.error(
        "survey/cut-too-shallow",
        "cut.depth",
        message,
        "cut at least to the worst groove plus a clean-up of about 1/16 in (1.6 mm)",
    );
}
