//! How the stress grows beside singular places, in words.

use crate::elastic::{Faces, Growth};

/// One sentence or two for every place and load case. Units as in the model: mm, MPa.
pub(super) fn growth_words(growth: &Growth) -> String {
    let steps: Vec<String> = growth
        .steps
        .iter()
        .map(|step| format!("{:.2} MPa at {:.3} mm", step.tension_mpa, step.arc_mm))
        .collect();
    let observed = match growth.observed_exponent {
        Some(p) => format!("it grows as distance^{p:.3}"),
        None => "it does not grow as tension here".to_owned(),
    };
    let angle = growth.place.angle.to_degrees();
    let theory = match (growth.theory_exponent, growth.place.faces) {
        (Some(p), Faces::Free) => {
            format!("Williams (1952) gives distance^{p:.3} between free faces at {angle:.0}°")
        }
        (Some(p), _) => {
            format!("Williams (1952) gives distance^{p:.3} between a held and a free face at {angle:.0}°")
        }
        (None, _) => "no exponent is given for these faces".to_owned(),
    };
    format!(
        "{}. Case {}, mesh by mesh, eight element sides away from it: {}: {observed}; {theory}.",
        growth.place.reason,
        growth.case,
        steps.join(", ")
    )
}
