//! When the shop stops and calls.

use super::words::Both;
use crate::study::Machining;
use crate::survey::{GrooveShape, Survey};

/// Conditions that were not judged, each as the end of a sentence.
pub(super) fn calls(survey: &Survey, cut: &Machining) -> Vec<String> {
    let both = Both(&survey.print);
    let mut list = vec![
        "a crack is seen, at any time and of any length: the wheel is out of service, and gray iron is not welded (common practice, no source);".to_owned(),
        "a void, a cold shut, a hard spot, or an old weld is laid bare;".to_owned(),
        format!(
            "the rim edge is not {} in diameter, or it is worn or out of round where the depths are to be taken from;",
            both.length(cut.edge_diameter_mm)
        ),
    ];
    if !cut.walls.places.is_empty() {
        list.push("a wall is thinner than its STOP in the table, or a wall anywhere else looks thinner than at the stations;".into());
    }
    list.push(format!(
        "a groove still shows wear at {} below the rim edge: do not cut deeper to clean it;",
        both.length(cut.depth_mm)
    ));
    if let Some(lowest) = cut.hardness.lowest_read_hb {
        list.push(format!("a finished seat is softer than {lowest:.0} HB, the lowest that was judged, or outside the range that is wanted;"));
    } else {
        list.push("a finished seat's hardness is outside the range that is wanted;".into());
    }
    match cut.shape {
        GrooveShape::Undercut { .. } => list.push("the slot's corners come out sharper, or the slot deeper, than stated: the highest tension may sit there;".into()),
        GrooveShape::V { .. } => list.push("the root comes out sharper or deeper than stated;".into()),
        _ => {}
    }
    list.push("a depth was overshot, or anything about the wheel is not as drawn here.".into());
    list
}
