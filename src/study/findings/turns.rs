//! The fatigue factor: shown beside the rules, and a doubt where the iron's endurance is used up.
//!
//! No lift code asks for a factor on endurance, so nothing is rejected by it. The limit of one is no rule either: it is
//! where the endurance limit itself is reached, and below it cracks must be expected. A factor above one is shown and
//! counts for nothing, because what the skin and the thickness of a casting take from a machined bar is not known.

use super::Stressed;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

const NAME: &str = "fatigue factor of one turn";
const KEY: &str = "fatigue_factor";
/// The endurance limit itself.
const LIMIT: f64 = 1.0;

pub(super) fn checks(inputs: &Stressed) -> Option<Check> {
    let Some(turns) = inputs.turns else {
        let remark = "Fatigue is not covered for this metal: no endurance limit with a source is at hand.";
        return Some(Check::without_numbers(KEY, NAME, Standing::Practice, Status::Noted, remark));
    };
    let stress = |mpa: f64| inputs.survey.print.show(Quantity::Stress, mpa);
    let (found, limit) = (Amount::plain(turns.least_factor), Amount::plain(LIMIT));
    let check = Check::compare(KEY, NAME, Standing::Practice, Sense::AtLeast, found, limit)
        .basis(format!(
            "one turn under the car at rest with rated load is one cycle; least over all places and planes: normal stress {} ± {} in the {}, factor {:.1} ± {:.1} on an endurance limit of {}",
            stress(turns.mean_mpa),
            stress(turns.amplitude_mpa),
            turns.words,
            turns.least_factor,
            // A bar below the last digit is no bar.
            turns.factor_bound.abs().max(0.1),
            stress(turns.endurance_mpa)
        ))
        .source("Smith–Dolan locus and the line for cast iron under a compressive mean, Shigley, Mechanical Engineering Design, section 6-13; endurance limit of the class, table A-24, times 0.9 as in example 6-13 (all from memory); that a factor below one leaves the matter undecided is this program's own choice, no code's rule")
        .remark(format!(
            "Every turn takes the {} beyond the iron's endurance limit (factor {:.2}): cracks must be expected in time.",
            turns.words, turns.least_factor
        ))
        .settle("A shallower cut or a larger corner radius lowers the stress; a fatigue test of this iron moves the limit.");
    // A bar that reaches down to the limit leaves it open; above it nothing is passed.
    let worse = turns.least_factor - turns.factor_bound.abs();
    let reached = worse < LIMIT || worse.is_nan();
    Some(match check.status {
        Status::Holds if reached => Check { status: Status::Open, ..check },
        Status::Holds => Check { status: Status::Noted, ..check },
        _ => check,
    })
}
