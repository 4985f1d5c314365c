//! Peak tension, section stress, notch-averaged stress and criterion against ultimate strength.

use super::Stressed;
use crate::section::Kind;
use crate::study::{Lever, Settled};
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

pub(super) fn checks(inputs: &Stressed) -> Vec<Check> {
    let governing = inputs.governing;
    let allowable = inputs.allowable_mpa();
    let print = &inputs.survey.print;
    let show = |mpa: f64| print.show(Quantity::Stress, mpa);
    let bounded = |mpa: f64, bound: f64| print.show_bounded(Quantity::Stress, mpa, bound);
    let source = format!(
        "ultimate strength {} over {}: ASME A17.1/CSA B44 clause 2.24.3.1 (clause number from memory) for the car at rest with rated load",
        show(inputs.metal.tensile_mpa),
        inputs.safety_factor
    );
    let at_most = |key, name: &str, found: f64| {
        let (found, limit) = (Amount::of(Quantity::Stress, found), Amount::of(Quantity::Stress, allowable));
        Check::compare(key, name, Standing::Strength, Sense::AtMost, found, limit).source(source.clone())
    };
    let peak = governing.peak.principal_mpa[0];
    let mut list = Vec::new();

    // A bar that straddles the allowable leaves a stress open: it counts neither as under nor as over.
    let barred = |check: Check, name: &str, found: f64, bound: f64| {
        if (found - allowable).abs() > bound {
            return check;
        }
        let remark = format!(
            "The {name}, {}, cannot be told from the allowable {}.",
            bounded(found, bound),
            show(allowable)
        );
        Check { status: Status::Open, remark: Some(remark), ..check }
            .settle("A shallower cut takes the stress clear of the allowable; a measured strength of this casting moves the allowable.")
    };
    let section = governing.wall.as_ref().map(|wall| {
        let check = at_most("section_stress", "section stress", wall.section_mpa)
            .basis(format!(
                "membrane and bending through the wall of {} at the governing place, components first, then the principal value: {}",
                print.show(Quantity::Length, wall.length_mm),
                bounded(wall.section_mpa, wall.section_bound_mpa)
            ))
            .remark(format!(
                "The stress through the whole wall, {}, is above the allowable {}: the section is too thin.",
                show(wall.section_mpa),
                show(allowable)
            ));
        barred(check, "section stress", wall.section_mpa, wall.section_bound_mpa)
    });
    let notch = governing.notch.as_ref().map(|notch| {
        let check = at_most("notch_stress", "notch-averaged stress", notch.notch_mpa)
            .basis(format!(
                "highest tension at the iron's critical distance L = {} along the normal below the hot spot (point method at L/2 and line method over 2L, the larger; Taylor, The Theory of Critical Distances, 2007): {}",
                print.show(Quantity::Length, notch.critical_distance_mm),
                bounded(notch.notch_mpa, notch.bound_mpa)
            ))
            .remark(format!(
                "Even averaged over the iron's critical distance the tension is {}, above the allowable {}.",
                show(notch.notch_mpa),
                show(allowable)
            ));
        barred(check, "notch-averaged stress", notch.notch_mpa, notch.bound_mpa)
    });
    let holds = |check: &Option<Check>| check.as_ref().is_some_and(|c| c.status == Status::Holds);
    let settled_below = |check: &Option<Check>| check.is_none() || holds(check);

    let bound = governing.bound_mpa;
    let mut tension = at_most("peak_tension", "peak tension", peak)
        .basis(format!(
            "highest principal stress anywhere in rim and web, at any angle: {}; {}",
            bounded(peak, bound),
            governing.peak_words
        ))
        .remark(format!(
            "The highest tension, {} in the {}, is above the allowable {} (factor {:.1} instead of {}).",
            show(peak),
            governing.peak_words,
            show(allowable),
            governing.tension_factor,
            inputs.safety_factor
        ));
    let brittle_peak = inputs.metal.brittle && inputs.metal.toughness_n_mm15.is_some();
    if (peak - allowable).abs() <= bound {
        tension.status = Status::Open;
        tension.remark = Some(format!(
            "The highest tension, {}, cannot be told from the allowable {}.",
            bounded(peak, bound),
            show(allowable)
        ));
        tension.settle = Some("A shallower cut or a larger corner radius takes the stress clear of the allowable; a measured strength of this casting moves the allowable.".into());
    } else if tension.status == Status::Fails && brittle_peak && holds(&section) && settled_below(&notch) {
        tension.status = Status::Open;
        tension.remark = Some(format!(
            "The highest tension, {} in the {}, is above the allowable {}, but the stress through the wall and the stress averaged over the iron's own distance are below it: a matter for the engineer's judgement.",
            show(peak),
            governing.peak_words,
            show(allowable)
        ));
    }
    let straddles = (peak - allowable).abs() <= bound;
    // What was computed is worth saying whatever else decides; general advice only where the peak is open.
    if !governing.settle.is_empty() || (tension.status == Status::Open && !straddles) {
        tension.settle = Some(settle_corner(inputs));
    }
    list.push(tension);

    let factor = Check::compare(
        "least_factor",
        criterion_name(inputs),
        Standing::Strength,
        Sense::AtLeast,
        Amount::plain(governing.least_factor),
        Amount::plain(inputs.safety_factor),
    )
    .basis(format!("smallest factor on ultimate strength anywhere: {}", governing.least_factor_words))
    .source(criterion_source(inputs))
    .remark(format!(
        "The factor on ultimate strength is {:.1} in the {}; {} is asked.",
        governing.least_factor, governing.least_factor_words, inputs.safety_factor
    ));
    // The factor at the same place is the peak tension in another form: it adds no second reason.
    let same = governing.least_factor_peak.at.distance(governing.peak.at) < 1.0;
    let repeats = same && list[0].status != Status::Holds && factor.status == Status::Fails;
    list.push(if repeats { Check { status: Status::Noted, ..factor } } else { factor });
    list.extend(section);
    list.extend(notch);
    list.extend(lower_bound(inputs));
    list
}

fn criterion_name(inputs: &Stressed) -> &'static str {
    if inputs.metal.brittle && inputs.metal.compressive_mpa.is_some() {
        "factor by maximum principal stress and modified Mohr"
    } else if inputs.metal.brittle {
        "factor by maximum principal stress"
    } else {
        "factor by maximum principal and equivalent stress"
    }
}

fn criterion_source(inputs: &Stressed) -> &'static str {
    if inputs.metal.brittle {
        "modified Mohr: Shigley, Mechanical Engineering Design, chapter 5, equation 5-32 (number from memory)"
    } else {
        "equivalent stress after von Mises: Shigley, Mechanical Engineering Design, chapter 5"
    }
}

/// What would take a slot's corner out of the decision.
fn settle_corner(inputs: &Stressed) -> String {
    let list = &inputs.governing.settle;
    if list.is_empty() {
        return "A shallower cut lowers the peak; a measured strength of this casting moves the allowable."
            .into();
    }
    list.iter().map(|settled| settled_words(inputs, settled)).collect::<Vec<_>>().join(" ")
}

/// One lever's answer, with the stress that an analysis found at the proposed value.
fn settled_words(inputs: &Stressed, settled: &Settled) -> String {
    let print = &inputs.survey.print;
    let length = |mm: f64| print.show(Quantity::Length, mm);
    let stress = |mpa: f64| print.show(Quantity::Stress, mpa);
    let found = print.show_bounded(Quantity::Stress, settled.peak_mpa, settled.bound_mpa);
    let allowable = stress(inputs.allowable_mpa());
    match (settled.lever, settled.proposed_mm) {
        (Lever::CornerRadius, Some(value)) => format!(
            "At the stated depth a slot corner radius of {} (stated: {}) brings the highest tension to {found}, under the allowable {allowable}.",
            length(value),
            length(settled.stated_mm)
        ),
        (Lever::CutDepth, Some(value)) => format!(
            "With the stated corner radius a cut to {} (stated: {}) brings the highest tension to {found}, under the allowable {allowable}; whether it still cleans the grooves, a check with that depth tells.",
            length(value),
            length(settled.stated_mm)
        ),
        (Lever::CornerRadius, None) => format!(
            "No corner radius settles it: of those up to the largest that the slot has room for, {}, the best tried is {}; it leaves {found} against the allowable {allowable}{}.",
            length(settled.furthest_mm),
            length(settled.analysed_mm),
            through_wall(&stress, settled)
        ),
        (Lever::CutDepth, None) => format!(
            "No shallower cut settles it: of those down to the worst groove's seat, {}, the best tried is {}; it leaves {found} against the allowable {allowable}{}.",
            length(settled.furthest_mm),
            length(settled.analysed_mm),
            through_wall(&stress, settled)
        ),
    }
}

/// The section stress, which may be what stays over.
fn through_wall(stress: &dyn Fn(f64) -> String, settled: &Settled) -> String {
    settled.section_mpa.map_or_else(String::new, |mpa| format!(", {} through the wall", stress(mpa)))
}

/// The section at the lower bound of the estimated thinnest wall.
fn lower_bound(inputs: &Stressed) -> Option<Check> {
    let place = inputs.places.iter().find(|place| place.kind == Kind::LowerBound)?;
    let name = "factor at the lower bound of the thinnest wall";
    let settle = "Measure the wall at more stations, or search for the thin spot with an ultrasonic scan.";
    let Some(factor) = place.factor else {
        let remark = "At the lower bound of the thinnest wall no rim is left to compute.";
        let check = Check::without_numbers("bound_factor", name, Standing::Strength, Status::Open, remark);
        return Some(check.settle(settle));
    };
    let (found, limit) = (Amount::plain(factor), Amount::plain(inputs.safety_factor));
    let mut check = Check::compare("bound_factor", name, Standing::Strength, Sense::AtLeast, found, limit)
        .basis("the same analysis with every wall at its one-sided 95 % bound")
        .source("prediction interval of the once-around fit (Student's t)")
        .remark(format!(
            "The walls may be thinner than estimated: at their lower bound the factor is {factor:.2}, {} is asked.",
            inputs.safety_factor
        ))
        .settle(settle);
    if check.status == Status::Fails {
        // An uncertain wall leaves the matter open; where the estimate fails already it adds nothing.
        let estimate_holds = inputs.governing.least_factor >= inputs.safety_factor;
        check.status = if estimate_holds { Status::Open } else { Status::Noted };
    }
    Some(check)
}
