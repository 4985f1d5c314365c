//! Rules on what wall readings say about grooves over the web.
//!
//! Over the web a groove has no thin wall: its entry is "solid". Beside it iron cannot be solid.
//! Units: mm.

use super::super::form::Form;
use super::super::read::Draft;
use super::super::schema::*;
use super::{length, unusual};

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let (Some(grooves), Some(walls), Some(wheel)) = (&draft.grooves, &draft.walls, &draft.wheel) else {
        return;
    };
    let Underside::Stations { stations, .. } = &walls.underside else { return };
    // Middle, half thickness and fillet of what carries the rim.
    let carriers: Vec<[f64; 3]> = match wheel {
        Wheel::SolidDisc { .. } => return,
        Wheel::OneWeb { web, .. } => vec![of_web(web)],
        Wheel::TwoWebs { webs, .. } => webs.iter().map(of_web).collect(),
        Wheel::BoltedRim { flange } => {
            vec![[flange.place_mm, 0.5 * flange.thickness_mm, flange.rim_fillet_mm]]
        }
    };
    let mut over: Vec<(usize, String)> = Vec::new();
    for groove in 0..grooves.count() {
        let middle = (grooves.count() - 1) as f64 / 2.0;
        let z = grooves.offset_mm + (groove as f64 - middle) * grooves.pitch_mm;
        let beside = |reach: fn(&[f64; 3]) -> f64| {
            carriers
                .iter()
                .map(|carrier| (z - carrier[0]).abs() - reach(carrier))
                .fold(f64::INFINITY, f64::min)
        };
        let (from_face, from_fillet) = (beside(|c| c[1]), beside(|c| c[1] + c[2]));
        let first = |entry: fn(&WallEntry) -> bool| {
            let at = stations.iter().position(|station| station.walls.get(groove).is_some_and(entry))?;
            Some(format!("walls.station[{}].wall[{}]", at + 1, groove + 1))
        };
        let number = groove + 1;
        if from_fillet > 0.0
            && let Some(path) = first(|entry| *entry == WallEntry::Solid)
        {
            let message = format!(
                "Groove {number} is given as solid, and its middle lies {} beside the web's face.",
                length(form, from_face)
            );
            form.error("survey/solid-beside-web", &path, message, "measure the wall there, or write \"not measured\"; check the web's place and thickness, grooves.pitch and grooves.offset");
        }
        if from_face <= 0.0
            && let Some(path) = first(|entry| matches!(entry, WallEntry::Wall(_)))
        {
            over.push((number, path));
        }
    }
    if let Some((_, path)) = over.first() {
        let numbers = over.iter().map(|(number, _)| number.to_string()).collect::<Vec<_>>().join(", ");
        let text = match over.len() {
            1 => format!("A wall is given under groove {numbers}, which stands over the web."),
            _ => format!("Walls are given under the grooves {numbers}, which stand over the web."),
        };
        unusual(
            form,
            "survey/wall-over-web",
            path,
            text,
            "these numbers are not used; write \"solid\" there, or check the web's place and thickness and grooves.offset",
        );
    }
}

fn of_web(web: &Web) -> [f64; 3] {
    [web.place_mm, 0.5 * web.thickness_mm, web.rim_fillet_mm]
}
