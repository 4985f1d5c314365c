//! Rules on roping, loads and judgement.

use super::super::form::Form;
use super::super::read::Draft;
use super::super::schema::*;
use super::{length, unusual};
use crate::units::Kind;
use std::f64::consts::TAU;

pub(super) fn check(draft: &Draft, form: &mut Form) {
    if let Some(wrap) = draft.ropes.wrap_rad {
        wrap_range("roping.wrap", wrap, draft.ropes.role, form);
    }
    for (path, wrap) in ["double_wrap.first_wrap", "double_wrap.second_wrap"]
        .iter()
        .zip(draft.ropes.wraps_rad.into_iter().flatten())
    {
        wrap_range(path, wrap, draft.ropes.role, form);
    }
    if let Some(diameter) = draft.ropes.diameter_mm {
        rope_diameter(diameter, form);
    }
    if let (Some(roping), Some(load)) = (&draft.roping, &draft.load) {
        match &load.given {
            Given::Masses => masses(roping, load, form),
            Given::Tensions { heavy_n, light_n } => {
                sides(roping.role, *heavy_n, *light_n, "load.light_tension", form);
            }
            Given::DriveSheave => {}
            Given::PerRope { heavy_n, light_n, .. } => per_rope(roping, heavy_n, light_n.as_deref(), form),
        }
    }
    if let (Some(roping), Some(wrap), Some(load)) = (&draft.roping, &draft.double_wrap, &draft.load) {
        rope_and_travel(roping, wrap, load, form);
    }
    let stated = draft.judgement.as_ref().and_then(|judgement| judgement.safety_factor);
    if let (Some(factor), Some(material)) = (stated, &draft.material) {
        safety_factor(factor, material.kind, form);
    }
}

/// As the car goes up the rope to it grows shorter by the whole travel, and by twice that for 2:1.
fn rope_and_travel(roping: &Roping, wrap: &DoubleWrap, load: &Load, form: &mut Form) {
    let (Some(lengths), Some(travel)) = (&wrap.car_length_mm, load.travel_m) else { return };
    let (shortest, way) =
        (lengths.iter().copied().fold(f64::INFINITY, f64::min), 1000.0 * travel * f64::from(roping.ratio));
    if shortest <= way {
        let message = format!(
            "The free rope to the car, {}, is shorter than the travel takes of it, {}.",
            length(form, shortest),
            length(form, way)
        );
        let help = "write the free length with the car at the lowest landing, along the rope: for 2:1 both parts of it";
        form.error("survey/conflict", "double_wrap.car_length", message, help);
    }
}

/// The engineer may go below the code's factor; the report then says so.
fn safety_factor(factor: f64, kind: MetalKind, form: &mut Form) {
    let code = match kind {
        MetalKind::Steel | MetalKind::CastSteel | MetalKind::Bronze => 8.0,
        MetalKind::GrayIron | MetalKind::DuctileIron | MetalKind::Unknown => 10.0,
    };
    if factor < code {
        let text = format!(
            "The safety factor is stated as {factor}, below the factor of {code} that published codes ask of this metal."
        );
        let help = "the engineer answers for it; leave it \"not measured\" to use the code's factor";
        unusual(form, "survey/safety-factor", "judgement.safety_factor", text, help);
    }
}

fn wrap_range(path: &str, wrap: f64, role: Option<Role>, form: &mut Form) {
    if wrap <= 0.0 || wrap > TAU * (1.0 + 1e-12) {
        let message =
            format!("{path} is {:.1} deg, and a single wrap lies between 0 and 360 deg.", wrap.to_degrees());
        form.error("survey/wrap-range", path, message, "write the angle over which the ropes touch this sheave, usually 130 to 180 deg; a double wrap has its own table, [double_wrap]");
    } else if !(60.0..=200.0).contains(&wrap.to_degrees()) && role == Some(Role::Drive) {
        let text =
            format!("A wrap of {:.0} deg is unusual for a drive sheave in single wrap.", wrap.to_degrees());
        unusual(
            form,
            "survey/wrap-unusual",
            path,
            text,
            "usual are 130 to 180 deg; check the angle and its unit",
        );
    }
}

fn rope_diameter(d: f64, form: &mut Form) {
    let shown = length(form, d);
    let help = "usual are 8 to 19 mm (5/16 to 3/4 in); a fraction such as 5/8 in is not 5.8 in";
    if !(4.0..=40.0).contains(&d) {
        let message = format!("A rope of {shown} is no suspension rope of a lift.");
        form.error("survey/rope-diameter", "roping.rope_diameter", message, help);
    } else if !(6.0..=25.0).contains(&d) {
        let text = format!("A rope of {shown} is unusual for a lift.");
        unusual(form, "survey/rope-diameter", "roping.rope_diameter", text, help);
    }
}

fn masses(roping: &Roping, load: &Load, form: &mut Form) {
    let Some(masses) = &load.masses else { return };
    let mass = |form: &Form, kg| form.votes.print_units().show(Kind::Mass, kg);
    let loaded = masses.car_kg + masses.rated_kg;
    if roping.role == Role::Drive && loaded < masses.counterweight_kg {
        let message = format!(
            "The counterweight of {} is heavier than the loaded car of {}.",
            mass(form, masses.counterweight_kg),
            mass(form, loaded)
        );
        form.error("survey/tension-order", "load.counterweight", message, "a counterweight is the car plus 40 to 50 % of the rated load; check the three masses and their units");
        return;
    }
    if masses.counterweight_kg < masses.car_kg {
        let text = format!(
            "The counterweight of {} is lighter than the empty car of {}.",
            mass(form, masses.counterweight_kg),
            mass(form, masses.car_kg)
        );
        unusual(
            form,
            "survey/counterweight-light",
            "load.counterweight",
            text,
            "usual is the car plus 40 to 50 % of the rated load",
        );
    }
}

/// Heavy against light side, for one rope or the sum of all.
fn sides(role: Role, heavy: f64, light: f64, path: &str, form: &mut Form) {
    let force = |form: &Form, n| form.votes.print_units().show(Kind::Force, n);
    let (shown_heavy, shown_light) = (force(form, heavy), force(form, light));
    if role == Role::Drive && heavy < light {
        let message =
            format!("The heavy side has {shown_heavy} and the light side {shown_light}, which is more.");
        form.error("survey/tension-order", path, message, "swap the two, or check their units");
    }
    if role != Role::Drive && (heavy - light).abs() > 0.01 * heavy.max(light) {
        let message =
            format!("This sheave drives nothing, yet the tensions differ: {shown_heavy} and {shown_light}.");
        form.error("survey/deflector-tensions", path, message, "a deflector or secondary sheave carries the same tension on both sides; write the same value, or role = \"drive\"");
    }
}

fn per_rope(roping: &Roping, heavy: &[f64], light: Option<&[f64]>, form: &mut Form) {
    let mut fits = true;
    for (path, list) in [("load.heavy_tensions", Some(heavy)), ("load.light_tensions", light)] {
        if let Some(list) = list.filter(|list| list.len() != roping.ropes) {
            let message = format!("{path} has {} tensions and there are {} ropes.", list.len(), roping.ropes);
            form.error(
                "survey/list-length",
                path,
                message,
                "write one tension for each rope, in the order of the grooves",
            );
            fits = false;
        }
    }
    if let Some(light) = light.filter(|_| fits) {
        sides(roping.role, heavy.iter().sum(), light.iter().sum(), "load.light_tensions", form);
    }
}
