//! Rules on walls: the iron left at every station now and after the cut, and the stations themselves.
//!
//! Walls are judged here along the radius only; a least distance is a little less than that.

use super::super::form::Form;
use super::super::profile::radius_at;
use super::super::read::Draft;
use super::super::schema::*;
use super::{length, planned_depth, profiles};
use std::f64::consts::TAU;

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let Some(walls) = &draft.walls else { return };
    let angles: Vec<f64> = match &walls.underside {
        Underside::Stations { stations, .. } => stations.iter().map(|s| s.angle_rad).collect(),
        Underside::Profiles { stations, .. } => stations.iter().map(|s| s.angle_rad).collect(),
        Underside::Solid | Underside::Draft { .. } => Vec::new(),
    };
    station_angles(form, &angles);
    // A profile that is faulty in itself would be blamed a second time for its walls.
    if form.diagnostics.sorted().iter().any(|item| item.code.starts_with("profile/")) {
        return;
    }
    let (rim, rope) = (draft.rim.as_ref(), draft.ropes.diameter_mm);
    let fits = rim.is_none_or(|rim| profiles::check(form, walls, rim, rope));
    if let Some(grooves) = draft.grooves.as_ref().filter(|_| fits) {
        iron_left(form, grooves, draft.cut, rope, walls, rim);
    }
}

fn station_angles(form: &mut Form, angles: &[f64]) {
    for (index, angle) in angles.iter().enumerate() {
        let path = format!("walls.station[{}].angle", index + 1);
        let degrees = angle.to_degrees();
        if !(-1e-9..=360.0 + 1e-9).contains(&degrees) {
            let message = format!("The station at {degrees:.1} deg is not between 0 and 360 deg.");
            form.error(
                "survey/station-angle",
                &path,
                message,
                "stations count from 0 to 360 deg around the rim",
            );
        }
        let same = |other: &f64| {
            let apart = (angle - other).rem_euclid(TAU);
            apart.min(TAU - apart) < 1e-6
        };
        if let Some(first) = angles[..index].iter().position(same) {
            let message = format!(
                "Stations {} and {} stand at the same angle, {degrees:.1} deg.",
                first + 1,
                index + 1
            );
            form.error(
                "survey/station-angle",
                &path,
                message,
                "give each station its own angle; 0 and 360 deg are the same place",
            );
        }
    }
}

/// The radial wall under one seat, with the place where it was given.
struct Reading {
    groove: usize,
    path: String,
    /// From the seat's bottom or the slot's bottom, as the survey says.
    wall: f64,
    from: WallFrom,
    station: Option<usize>,
}

fn readings(walls: &Walls, grooves: &Grooves, rim: Option<&Rim>) -> Vec<Reading> {
    let mut out = Vec::new();
    match &walls.underside {
        Underside::Solid => {}
        Underside::Draft { wall_mm, at_groove, .. } => {
            out.push(Reading {
                groove: at_groove - 1,
                path: "walls.wall".into(),
                wall: *wall_mm,
                from: walls.from,
                station: None,
            });
        }
        Underside::Stations { stations, .. } => {
            for (s, station) in stations.iter().enumerate() {
                for (groove, entry) in station.walls.iter().enumerate() {
                    if let WallEntry::Wall(wall) = entry {
                        let path = format!("walls.station[{}].wall[{}]", s + 1, groove + 1);
                        out.push(Reading {
                            groove,
                            path,
                            wall: *wall,
                            from: walls.from,
                            station: Some(s + 1),
                        });
                    }
                }
            }
        }
        Underside::Profiles { stations, .. } => {
            let Some(rim) = rim else { return out };
            for (s, station) in stations.iter().enumerate() {
                for (groove, depth) in grooves.seat_depth_mm.iter().enumerate() {
                    let middle = (grooves.count() - 1) as f64 / 2.0;
                    let axial = grooves.offset_mm + (groove as f64 - middle) * grooves.pitch_mm;
                    if let Some(underside) = radius_at(&station.wall_side, axial) {
                        let path = format!("walls.station[{}].wall_profile", s + 1);
                        let wall = rim.edge_radius_mm - depth - underside;
                        out.push(Reading { groove, path, wall, from: WallFrom::Seat, station: Some(s + 1) });
                    }
                }
            }
        }
    }
    out
}

/// How far the groove's lowest iron lies below its seat's bottom.
fn below_seat(shape: &GrooveShape, rope: Option<f64>) -> f64 {
    match shape {
        GrooveShape::Undercut { slot_depth_mm, .. } => *slot_depth_mm,
        GrooveShape::V { root_depth_mm: Some(depth), .. } => *depth,
        // A full round root: see the rule on root depths.
        GrooveShape::V { angle_rad, root_radius_mm, .. } => rope
            .map_or(0.0, |rope| (rope / 2.0 - root_radius_mm) * (1.0 / (angle_rad / 2.0).sin() - 1.0))
            .max(0.0),
        GrooveShape::Round { .. } | GrooveShape::Measured { .. } => 0.0,
    }
}

/// A wall that cannot be: what was found, how much iron is missing, and what to do.
struct Lack {
    code: &'static str,
    path: String,
    message: String,
    missing_mm: f64,
    /// The field at fault when most readings lack iron, and the advice for it.
    common: (&'static str, &'static str),
    help: &'static str,
}

fn iron_left(
    form: &mut Form,
    grooves: &Grooves,
    cut: Option<Cut>,
    rope: Option<f64>,
    walls: &Walls,
    rim: Option<&Rim>,
) {
    let readings = readings(walls, grooves, rim);
    let lacks: Vec<Lack> =
        readings.iter().filter_map(|reading| lack(form, grooves, cut, rope, reading)).collect();
    let mut codes: Vec<(&str, &str)> = lacks.iter().map(|lack| (lack.code, lack.common.0)).collect();
    codes.sort_unstable();
    codes.dedup();
    for kind in codes {
        let same: Vec<&Lack> = lacks.iter().filter(|lack| (lack.code, lack.common.0) == kind).collect();
        // One slip of a reading is that reading's fault; most readings at once are the fault of what
        // they share, and one message says so.
        if same.len() <= readings.len() / 2 || same.len() == 1 {
            for lack in same {
                form.error(lack.code, &lack.path, lack.message.clone(), lack.help);
            }
            continue;
        }
        let Some(worst) = same.iter().max_by(|a, b| a.missing_mm.total_cmp(&b.missing_mm)) else { continue };
        let others = same.len() - 1;
        let message = format!(
            "{} The same holds for {others} other {} of {}.",
            worst.message,
            if others == 1 { "reading" } else { "readings" },
            readings.len()
        );
        let (field, help) = worst.common;
        let path = match field {
            "slot_depth" => {
                let groove =
                    worst.path.rsplit_once("wall[").and_then(|(_, n)| n.trim_end_matches(']').parse().ok());
                let table = super::grooves::table_of(form, groove.unwrap_or(1));
                form.shape_path(&table, field)
            }
            other => other.to_owned(),
        };
        form.error(worst.code, &path, message, help);
    }
}

fn lack(
    form: &Form,
    grooves: &Grooves,
    cut: Option<Cut>,
    rope: Option<f64>,
    reading: &Reading,
) -> Option<Lack> {
    let now = grooves.now.get(reading.groove)?;
    let depth = grooves.seat_depth_mm.get(reading.groove)?;
    let slot_now = below_seat(now, rope);
    let under_seat = match reading.from {
        WallFrom::Seat => reading.wall,
        WallFrom::SlotBottom => reading.wall + slot_now,
    };
    let which = match reading.station {
        Some(station) => format!("groove {} at station {station}", reading.groove + 1),
        None => format!("groove {}", reading.groove + 1),
    };
    let path = reading.path.clone();
    if under_seat <= 0.0 {
        let message =
            format!("Under {which} the underside lies {} above the seat.", length(form, -under_seat));
        let help = "check the seat depths, the edge diameter and the wall profile: radii count from the shaft's axis";
        return Some(Lack {
            code: "survey/no-wall",
            path,
            message,
            missing_mm: -under_seat,
            common: ("grooves.seat_depth", help),
            help,
        });
    }
    if under_seat <= slot_now {
        let message = format!(
            "The slot under {which} is {} deep, and the wall under the seat there is {}.",
            length(form, slot_now),
            length(form, under_seat)
        );
        let help = "check the slot's depth, and whether walls.from should be \"slot bottom\"";
        let field = if matches!(now, GrooveShape::V { .. }) { "grooves.now" } else { "slot_depth" };
        return Some(Lack {
            code: "survey/slot-deeper-than-wall",
            path,
            message,
            missing_mm: slot_now - under_seat,
            common: (field, help),
            help,
        });
    }
    let target = planned_depth(cut, grooves)?;
    let slot = below_seat(grooves.cut_to.as_ref()?, rope);
    let left_seat = under_seat - (target - depth).max(0.0);
    let plan = match cut {
        Some(Cut::ToDepth { .. }) => "cut.depth",
        _ => "cut.plan",
    };
    // A wall that is gone altogether is the plainer of the two faults.
    if left_seat <= 0.0 {
        let message = format!(
            "The cut to {} goes through the rim under {which}: {} of iron is missing.",
            length(form, target),
            length(form, -left_seat)
        );
        let help = "plan a shallower cut, or check the wall, its unit and the seat depths; with a wall this thin the sheave cannot be cut";
        let code = "survey/no-wall-left";
        return Some(Lack { code, path, message, missing_mm: -left_seat, common: (plan, help), help });
    }
    if left_seat <= slot {
        let message = format!(
            "After the cut the slot under {which} is {} deep, and {} is left under the seat.",
            length(form, slot),
            length(form, left_seat)
        );
        let help = "plan a shallower cut or slot, or a round seat; check what the wall readings start from (walls.from)";
        let code = "survey/slot-deeper-than-wall";
        return Some(Lack { code, path, message, missing_mm: slot - left_seat, common: (plan, help), help });
    }
    None
}
