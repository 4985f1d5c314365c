//! Rules on grooves: their shapes, their neighbours, the rim's edge, and the cut.

use super::super::form::Form;
use super::super::read::Draft;
use super::super::schema::*;
use super::shape::{pinches, shape_rules};
use super::{SAME_MM, length, planned_depth, unusual};

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let Some(grooves) = &draft.grooves else {
        return;
    };
    let rope = draft.ropes.diameter_mm;
    let fitting = rope.filter(|rope| !rope_fits_nowhere(form, grooves, *rope));
    for (index, shape) in grooves.now.iter().enumerate() {
        shape_rules(form, shape, fitting, &table_of(form, index + 1));
    }
    if let Some(shape) = &grooves.cut_to {
        shape_rules(form, shape, fitting, "grooves.cut_to");
    }
    if let Some(rope) = rope {
        neighbours(form, grooves, rope);
        if let Some(rim) = &draft.rim {
            rim_side(form, grooves, rim, rope);
            pitch_diameter(form, grooves, rim, rope);
        }
        for (index, depth) in
            grooves.seat_depth_mm.iter().enumerate().filter(|(_, depth)| **depth < rope / 2.0)
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
        for (index, depth) in
            grooves.seat_depth_mm.iter().enumerate().filter(|(_, depth)| **depth >= rim.edge_radius_mm)
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

/// A rope that is too large for every groove, as found and to be cut, is the rope's own fault.
fn rope_fits_nowhere(form: &mut Form, grooves: &Grooves, rope: f64) -> bool {
    let Some(cut_to) = &grooves.cut_to else { return false };
    if !grooves.now.iter().all(|shape| pinches(shape, rope, false)) || !pinches(cut_to, rope, true) {
        return false;
    }
    let message = format!(
        "A rope of {} is too large for every groove: half of it is more than each seat radius.",
        length(form, rope)
    );
    form.error("survey/rope-too-large", "roping.rope_diameter", message, "a seat has 0.53 to 0.54 of the rope's diameter as radius; check the rope's nominal diameter (13 mm is not 1/2 in), and whether the seat radii are in the right unit");
    true
}

/// The table that a groove's shape comes from.
pub(super) fn table_of(form: &Form, groove: usize) -> String {
    form.worn_tables.get(&groove).cloned().unwrap_or_else(|| "grooves.now".into())
}

/// Half the width of a groove where the rope bears: at the seat's ends, or at a V's rope centre.
fn half_width(shape: &GrooveShape, rope: f64) -> f64 {
    match shape {
        GrooveShape::Round { seat_radius_mm: r, opening_angle_rad: g, .. }
        | GrooveShape::Undercut { seat_radius_mm: r, opening_angle_rad: g, .. } => r * (g / 2.0).cos(),
        GrooveShape::V { angle_rad, .. } => rope / 2.0 / (angle_rad / 2.0).cos(),
        GrooveShape::Measured { contact_to_rad, .. } => rope / 2.0 * contact_to_rad.sin(),
    }
}

fn neighbours(form: &mut Form, grooves: &Grooves, rope: f64) {
    if grooves.count() < 2 {
        return;
    }
    let pitch = grooves.pitch_mm;
    let halves: Vec<f64> = grooves.now.iter().map(|shape| half_width(shape, rope)).collect();
    let cut = grooves.cut_to.as_ref().map_or(0.0, |shape| half_width(shape, rope));
    // One sentence for the widest groove says it for all: they share the pitch.
    let widest = (0..halves.len()).max_by(|a, b| halves[*a].total_cmp(&halves[*b])).unwrap_or(0);
    let (half, which) = if cut > halves[widest] {
        (cut, "The groove to be cut".to_owned())
    } else {
        (halves[widest], format!("Groove {}", widest + 1))
    };
    if 2.0 * half > pitch {
        let message = format!(
            "{which} is {} wide where the rope bears, more than the pitch of {}.",
            length(form, 2.0 * half),
            length(form, pitch)
        );
        form.error(
            "survey/groove-wider-than-pitch",
            "grooves.pitch",
            message,
            "check the pitch from groove middle to groove middle, and the seat radius; a diameter may be given as radius",
        );
    }
    for i in 1..grooves.count() {
        let sum = halves[i - 1] + halves[i];
        // Where both are too wide by themselves nothing new is said.
        if sum > pitch && 2.0 * halves[i - 1].min(halves[i]) <= pitch {
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
    let widest =
        grooves.now.iter().chain(&grooves.cut_to).map(|shape| half_width(shape, rope)).fold(0.0, f64::max);
    let reach = grooves.offset_mm.abs() + (grooves.count() - 1) as f64 / 2.0 * grooves.pitch_mm + widest;
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
    // The median groove: one slip in a depth is another rule's business.
    let mut depths = grooves.seat_depth_mm.clone();
    depths.sort_by(f64::total_cmp);
    let Some(depth) = depths.get(depths.len() / 2).copied() else {
        return;
    };
    let wear = (nominal - (edge - 2.0 * depth + rope)) / 2.0;
    let shown = |form: &Form, mm| length(form, mm);
    if (edge - nominal).abs() < SAME_MM {
        let text = format!(
            "The rim edge and the nominal pitch circle have the same diameter, {}.",
            shown(form, edge)
        );
        let help = "measure the edge diameter over the rim; the pitch diameter from the nameplate is another one, and is written \"not measured\" where the nameplate is not trusted";
        // Both are right only if the rope's middle lay level with the edge when the wheel was new.
        if wear > 0.5 * rope {
            let message =
                format!("{text} Both can be right only if the grooves wore by {}.", shown(form, wear));
            form.error("survey/pitch-diameter", "rim.edge_diameter", message, help);
            return;
        }
        unusual(form, "survey/pitch-diameter", "rim.edge_diameter", text, help);
    }
    if wear > 1.5 * rope || wear < -0.5 * rope {
        let message = format!(
            "The diameters do not fit together: an edge of {} with seats {} deep gives a pitch diameter of {}, and {} is given.",
            shown(form, edge),
            shown(form, depth),
            shown(form, edge - 2.0 * depth + rope),
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
    let worst = grooves.seat_depth_mm.iter().position(|d| *d == deepest).map_or(0, |index| index + 1);
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
