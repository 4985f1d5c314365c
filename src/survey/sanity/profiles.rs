//! Rules on measured profiles against the rim that they were taken from.
//!
//! A profile that ends too early would leave iron to be guessed, and one with another datum would move
//! every wall. Units: mm.

use super::super::form::Form;
use super::super::schema::*;
use super::length;

/// Beyond this a profile and the diameter over the rim's edge were not measured from one axis.
const DATUM_MM: f64 = 2.0;

/// True where the profiles fit the rim, so that walls may be read from them.
pub(super) fn check(form: &mut Form, walls: &Walls, rim: &Rim, rope: Option<f64>) -> bool {
    let Underside::Profiles { stations, reading_error_mm, .. } = &walls.underside else { return true };
    let before = form.diagnostics.error_count();
    // The rim's edge is rounded or broken, so a line may end a little before the side.
    let short = rope.unwrap_or(10.0);
    for (index, station) in stations.iter().enumerate() {
        for (key, points) in [("groove_profile", &station.groove_side), ("wall_profile", &station.wall_side)]
        {
            let path = format!("walls.station[{}].{key}", index + 1);
            let (Some(first), Some(last)) = (points.first(), points.last()) else { continue };
            let half = 0.5 * rim.width_mm;
            if first[0] > -half + short || last[0] < half - short {
                let message = format!(
                    "This profile runs from {} to {}, and the rim from {} to {}.",
                    length(form, first[0]),
                    length(form, last[0]),
                    length(form, -half),
                    length(form, half)
                );
                form.error("survey/profile-too-short", &path, message, "measure from side to side; positions count from the middle of the rim, negative towards groove 1");
            }
        }
        let highest = station.groove_side.iter().map(|point| point[1]).fold(f64::NEG_INFINITY, f64::max);
        if (highest - rim.edge_radius_mm).abs() > DATUM_MM + reading_error_mm {
            let message = format!(
                "The highest point of this profile has a radius of {}, and half the diameter over the rim's edge is {}.",
                length(form, highest),
                length(form, rim.edge_radius_mm)
            );
            let path = format!("walls.station[{}].groove_profile", index + 1);
            form.error("survey/profile-datum", &path, message, "the second column is the radius from the shaft's axis, no diameter and no depth; check it, and rim.edge_diameter");
        }
    }
    form.diagnostics.error_count() == before
}
