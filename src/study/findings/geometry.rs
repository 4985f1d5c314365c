//! Whether the grooves fit together: equal depth, room under the rope, wear taken away by the cut.

use super::Inputs;
use crate::section::State;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

/// Groove depths after a cut should agree within this (mm).
pub(in crate::study) const EQUAL_MM: f64 = 0.1;
/// Depths that differ more than this share out the load badly (mm).
const UNEQUAL_MM: f64 = 0.5;
/// Least room between the rope and the iron below it (mm).
const ROOM_MM: f64 = 0.5;

pub(super) fn checks(inputs: &Inputs) -> Vec<Check> {
    let mut list = vec![depths(inputs)];
    list.extend(bottoming(inputs));
    list.extend(clean_up(inputs));
    list
}

fn depths(inputs: &Inputs) -> Check {
    let depths = inputs.facts.grooves.iter().map(|groove| groove.depth_judged_mm);
    let spread = depths.clone().fold(f64::NEG_INFINITY, f64::max) - depths.fold(f64::INFINITY, f64::min);
    let limit = if inputs.state == State::Cut { EQUAL_MM } else { UNEQUAL_MM };
    let print = &inputs.survey.print;
    Check::compare(
        "equal_depths",
        "difference of seat depths",
        Standing::Practice,
        Sense::AtMost,
        Amount::of(Quantity::Length, spread),
        Amount::of(Quantity::Length, limit),
    )
    .basis(if inputs.state == State::Cut {
        "all grooves are cut to one depth"
    } else {
        "deepest less shallowest seat as measured"
    })
    .source("common practice, no source: 0.1 mm after a cut, no more than 0.5 mm in service")
    .remark(format!(
        "The seats differ in depth by {}: the ropes run on different diameters and share the load badly.",
        print.show(Quantity::Length, spread)
    ))
    .settle("Cut all grooves to one depth, if the wall allows it.")
}

/// The rope must rest on its seat, not on the slot's bottom or the root.
fn bottoming(inputs: &Inputs) -> Option<Check> {
    use crate::survey::GrooveShape::{Undercut, V};
    let slotted = inputs.section.grooves.iter().filter(|g| matches!(g.shape, Undercut { .. } | V { .. }));
    let room = |g: &&crate::section::Groove| g.seat_radius_mm - g.lowest_radius_mm;
    let tight = slotted.min_by(|a, b| room(a).total_cmp(&room(b)))?;
    let found = Amount::of(Quantity::Length, room(&tight));
    let limit = Amount::of(Quantity::Length, ROOM_MM);
    Some(
        Check::compare("bottoming", "room under the rope", Standing::Geometry, Sense::AtLeast, found, limit)
            .basis(format!("rope's lowest point above the slot's or root's bottom, groove {}", tight.number))
            .source("common practice, no source: a rope that bottoms out has lost its seat")
            .remark(format!("In groove {} the rope bottoms out.", tight.number)),
    )
}

/// The finished groove must take all the wear away.
fn clean_up(inputs: &Inputs) -> Option<Check> {
    if inputs.state == State::Now {
        return None;
    }
    let worst = inputs.unclean.iter().max_by(|a, b| a.beyond_mm.total_cmp(&b.beyond_mm));
    let name = "the cut cleans up every groove";
    Some(match worst {
        None => Check::without_numbers(
            "clean_up",
            name,
            Standing::Geometry,
            Status::Holds,
            "The finished shape takes away all worn surfaces.",
        ),
        Some(groove) => Check::without_numbers(
            "clean_up",
            name,
            Standing::Practice,
            Status::Open,
            format!(
                "Groove {} is worn beyond the finished shape by {}: the cut as stated does not clean it up.",
                groove.groove,
                inputs.survey.print.show(Quantity::Length, groove.beyond_mm)
            ),
        )
        .settle("A deeper cut, a larger seat radius or a wider slot would take the wear away."),
    })
}
