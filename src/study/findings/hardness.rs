//! What the hardness says about an assumed strength: its low end may veto an acceptance, or a refusal.

use super::Inputs;
use crate::study::HardnessBand;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

const SOURCE: &str = "relative hardness HB/(100 + 0.44·R_m) of 0.8 to 1.2: EN 1561, annex on hardness (constants from memory); one hardness bounds the strength from below only: ASTM STP 455";
const SETTLE: &str = "Measure the tensile strength on a sample of this casting.";

/// Adds the check at the band's low end, and opens refusals that rest on the assumed strength alone.
pub(super) fn apply(checks: &mut Vec<Check>, inputs: &Inputs, band: &HardnessBand) {
    let low = &band.levels[0];
    let show = |mpa: f64| inputs.survey.print.show(Quantity::Stress, mpa);
    let strength = |check: &Check| check.standing == Standing::Strength;
    let doubtful = |check: &Check| matches!(check.status, Status::Fails | Status::Open);
    let assumed_holds = !checks.iter().any(|check| strength(check) && doubtful(check));
    let mut check = Check::compare(
        "hardness_bound",
        "factor at the lower bound of the strength by hardness",
        Standing::Strength,
        Sense::AtLeast,
        Amount::plain(low.least_factor),
        Amount::plain(inputs.safety_factor),
    )
    .basis(format!(
        "the same analysis at {}, the lowest strength that {:.0} HB leaves open",
        show(low.tensile_mpa),
        band.lowest_hardness_hb
    ))
    .source(SOURCE)
    .settle(SETTLE);
    check.status = match (band.strength_assumed, low.strength_holds, assumed_holds) {
        (false, ..) => Status::Noted,
        (_, true, _) => Status::Holds,
        (_, false, true) => Status::Open,
        // What fails by the assumed strength already needs no second reason.
        (_, false, false) => Status::Noted,
    };
    check.remark = Some(format!(
        "The hardness of {:.0} HB leaves the strength open down to {}; there the checks of strength do not all hold (factor {:.1}, {} is asked).",
        band.lowest_hardness_hb,
        show(low.tensile_mpa),
        low.least_factor,
        inputs.safety_factor
    ));
    if band.strength_assumed && low.strength_holds {
        for check in checks.iter_mut().filter(|check| strength(check) && check.status == Status::Fails) {
            check.status = Status::Open;
            let reason = check.remark.take().unwrap_or_default();
            check.remark = Some(format!(
                "{reason} That is by the assumed strength; at {}, the lowest that the hardness leaves open, every check of strength holds.",
                show(low.tensile_mpa)
            ));
            check.settle = Some(SETTLE.into());
        }
    }
    checks.push(check);
    checks.extend(contradiction(inputs, band));
}

/// A stated strength above the whole band is not believed.
fn contradiction(inputs: &Inputs, band: &HardnessBand) -> Option<Check> {
    let (stated, high) = (inputs.metal.tensile_mpa, band.levels[2].tensile_mpa);
    if band.strength_assumed || stated <= high {
        return None;
    }
    let amount = |mpa: f64| Amount::of(Quantity::Stress, mpa);
    let mut check = Check::compare(
        "hardness_contradiction",
        "stated strength against the hardness",
        Standing::Strength,
        Sense::AtMost,
        amount(stated),
        amount(high),
    )
    .basis("strength in use against the highest that the lowest hardness leaves open")
    .source(SOURCE)
    .remark("The iron is too soft for the strength that is stated of it.")
    .settle(SETTLE);
    check.status = Status::Open;
    Some(check)
}
