//! The wheel, the material, the cut and the judgement of a survey.
//!
//! Owns their keys, choices and stand-ins. Units inside: mm, MPa, HB and fractions.

use super::super::form::Bounds::{self, Between, Positive};
use super::super::form::{Field, Form, Section, field};
use super::super::schema::*;
use super::hardness::{hardness, hardness_by_depth};
use super::required;
use crate::units::Kind;
use crate::units::Kind::Length;

pub(super) const WHEEL_KEYS: &[&str] =
    &["kind", "bore", "hub_diameter", "hub_length", "hub_place", "web", "flange"];
const WEBBED_KEYS: &[&str] = &["kind", "bore", "hub_diameter", "hub_length", "hub_place", "web"];
pub(super) const WEB_KEYS: &[&str] = &["place", "thickness", "rim_fillet", "hub_fillet"];
pub(super) const FLANGE_KEYS: &[&str] =
    &["place", "thickness", "rim_fillet", "inner_diameter", "seating_diameter", "seating_side"];
pub(super) const MATERIAL_KEYS: &[&str] = &[
    "kind",
    "class",
    "tensile_strength",
    "strength_from",
    "yield_strength",
    "elongation",
    "hardness",
    "hardness_by_depth",
];
pub(super) const CUT_KEYS: &[&str] = &["plan", "clean_up", "depth"];
pub(super) const JUDGEMENT_KEYS: &[&str] = &["safety_factor"];

#[derive(Clone, Copy, PartialEq)]
enum Kinds {
    Disc,
    OneWeb,
    TwoWebs,
    Bolted,
    Arms,
}

const BORE: Field = field("bore", Length, Positive, "the diameter of the bore");
const PLACE: Field =
    field("place", Length, Bounds::Any, "its middle, from the middle of the rim, negative towards groove 1");
const THICKNESS: Field = field("thickness", Length, Positive, "its thickness along the shaft");

pub(super) fn wheel(form: &mut Form, root: &Section<'_>) -> Option<Wheel> {
    let sec = required(form, root, "wheel", WHEEL_KEYS);
    let kinds = [
        ("solid disc", Kinds::Disc),
        ("one web", Kinds::OneWeb),
        ("two webs", Kinds::TwoWebs),
        ("bolted rim", Kinds::Bolted),
        ("arms", Kinds::Arms),
    ];
    let kind = form.need_choice(&sec, "kind", "what carries the rim", &kinds)?;
    let (used, by): (&[&str], _) = match kind {
        Kinds::Disc => (&["kind", "bore"], "wheel.kind = \"solid disc\""),
        Kinds::OneWeb => (WEBBED_KEYS, "wheel.kind = \"one web\""),
        Kinds::TwoWebs => (WEBBED_KEYS, "wheel.kind = \"two webs\""),
        Kinds::Bolted => (&["kind", "flange"], "wheel.kind = \"bolted rim\""),
        Kinds::Arms => (WHEEL_KEYS, ""),
    };
    form.unused(&sec, WHEEL_KEYS, used, by);
    match kind {
        Kinds::Arms => {
            form.error("survey/not-covered", "wheel.kind", "A wheel with arms is not covered yet.".into(), "allowed are \"solid disc\", \"one web\", \"two webs\" and \"bolted rim\"; judge this sheave by other means");
            None
        }
        Kinds::Disc => {
            let bore = form.need(&sec, BORE)?;
            Some(Wheel::SolidDisc { bore_radius_mm: bore / 2.0 })
        }
        Kinds::Bolted => bolted(form, &sec),
        Kinds::OneWeb | Kinds::TwoWebs => {
            let hub = hub(form, &sec);
            let wanted = if kind == Kinds::OneWeb { 1 } else { 2 };
            let webs = webs(form, &sec, wanted);
            let (hub, mut webs) = (hub?, webs?.into_iter());
            match (webs.next(), webs.next()) {
                (Some(web), None) => Some(Wheel::OneWeb { web, hub }),
                (Some(a), Some(b)) if a.place_mm <= b.place_mm => Some(Wheel::TwoWebs { webs: [a, b], hub }),
                (Some(a), Some(b)) => Some(Wheel::TwoWebs { webs: [b, a], hub }),
                _ => None,
            }
        }
    }
}

fn hub(form: &mut Form, sec: &Section<'_>) -> Option<Hub> {
    let bore = form.need(sec, BORE);
    let diameter = form.need(sec, field("hub_diameter", Length, Positive, "the outer diameter of the hub"));
    let length =
        form.need(sec, field("hub_length", Length, Positive, "the length of the hub along the shaft"));
    let place = form.assume(
        sec,
        field("hub_place", Length, Bounds::Any, "the middle of the hub"),
        0.0,
        "The hub is taken to lie in the middle of the rim.",
    );
    Some(Hub {
        bore_radius_mm: bore? / 2.0,
        radius_mm: diameter? / 2.0,
        length_mm: length?,
        place_mm: place?,
    })
}

fn fillet(form: &mut Form, sec: &Section<'_>, key: &'static str, what: &'static str) -> Option<f64> {
    form.assume(
        sec,
        field(key, Length, Positive, what),
        3.0,
        &format!("{}{} is taken as 3 mm.", what[..1].to_uppercase(), &what[1..]),
    )
}

fn webs(form: &mut Form, sec: &Section<'_>, wanted: usize) -> Option<Vec<Web>> {
    let list = form.sections(sec, "web", WEB_KEYS);
    if list.len() != wanted {
        let message = format!("wheel.kind asks for {wanted} [[wheel.web]], and the file has {}.", list.len());
        form.error(
            "survey/list-length",
            "wheel.kind",
            message,
            "write one [[wheel.web]] for each web, or change the kind",
        );
    }
    let read: Vec<Option<Web>> = list
        .iter()
        .map(|web| {
            let place = form.need(web, PLACE);
            let thickness = form.need(web, THICKNESS);
            let rim = fillet(form, web, "rim_fillet", "the fillet from web to rim");
            let hub = fillet(form, web, "hub_fillet", "the fillet from web to hub");
            Some(Web { place_mm: place?, thickness_mm: thickness?, rim_fillet_mm: rim?, hub_fillet_mm: hub? })
        })
        .collect();
    read.into_iter().collect::<Option<Vec<_>>>().filter(|webs| webs.len() == wanted)
}

fn bolted(form: &mut Form, sec: &Section<'_>) -> Option<Wheel> {
    let flange = form.section(sec, "flange", FLANGE_KEYS);
    if flange.table.is_none() {
        form.error(
            "survey/needed",
            "wheel.kind",
            "The section [wheel.flange] is missing.".into(),
            "add the flange on which the rim is bolted as [wheel.flange]",
        );
    }
    let place = form.need(&flange, PLACE);
    let thickness = form.need(&flange, THICKNESS);
    let rim = fillet(form, &flange, "rim_fillet", "the fillet from flange to rim");
    let inner =
        form.need(&flange, field("inner_diameter", Length, Positive, "the inner diameter of the flange"));
    let seating = form.need(
        &flange,
        field("seating_diameter", Length, Positive, "the outer diameter of the face that is bolted down"),
    );
    let side = form.need_choice(
        &flange,
        "seating_side",
        "the side on which the flange is bolted down",
        &[("groove 1", Side::Groove1), ("last groove", Side::LastGroove)],
    );
    Some(Wheel::BoltedRim {
        flange: Flange {
            place_mm: place?,
            thickness_mm: thickness?,
            rim_fillet_mm: rim?,
            inner_radius_mm: inner? / 2.0,
            seating_radius_mm: seating? / 2.0,
            seating_side: side?,
        },
    })
}

pub(super) fn material(form: &mut Form, root: &Section<'_>) -> Option<MaterialFacts> {
    let sec = form.section(root, "material", MATERIAL_KEYS);
    let kinds = [
        ("gray iron", MetalKind::GrayIron),
        ("grey iron", MetalKind::GrayIron),
        ("ductile iron", MetalKind::DuctileIron),
        ("cast steel", MetalKind::CastSteel),
        ("steel", MetalKind::Steel),
        ("bronze", MetalKind::Bronze),
        ("unknown", MetalKind::Unknown),
    ];
    let kind = match form.get(&sec, "kind") {
        None => Some(MetalKind::Unknown),
        Some(_) => form.choice(&sec, "kind", &kinds),
    };
    let class = form.whole(&sec, "class", 10, 80);
    let stress = |key, what| field(key, Kind::Stress, Between(1.0, 3000.0, "from 1 to 3000 MPa"), what);
    let tensile = form.quantity(&sec, stress("tensile_strength", "the tensile strength of this casting"));
    let yield_strength = form.quantity(&sec, stress("yield_strength", "the yield strength of this casting"));
    let elongation = form.quantity(
        &sec,
        field("elongation", Kind::Ratio, Between(0.0, 0.8, "from 0 % to 80 %"), "the elongation at fracture"),
    );
    let strength_from = strength_from(form, &sec, kind, tensile.is_some());
    let hardness = hardness(form, &sec);
    let by_depth = hardness_by_depth(form, &sec);
    match kind {
        Some(MetalKind::Unknown) if class.is_some() || tensile.is_some() => {
            form.assumed("material.kind", "The material is not known; gray iron is assumed.")
        }
        Some(MetalKind::Unknown) => form.assumed(
            "material.kind",
            "The material is not known; class 20 gray iron is assumed (common practice).",
        ),
        Some(MetalKind::GrayIron) if class.is_none() && tensile.is_none() => form.assumed(
            "material.class",
            "The class of the gray iron is not known; class 20 is assumed (common practice).",
        ),
        Some(MetalKind::GrayIron) | None => {}
        Some(_) if tensile.is_none() => {
            form.missing("material.tensile_strength", "The tensile strength of the casting is not measured.")
        }
        Some(_) => {}
    }
    Some(MaterialFacts {
        kind: kind?,
        class,
        tensile_mpa: tensile,
        yield_mpa: yield_strength,
        elongation,
        hardness_hb: hardness?,
        hardness_by_depth: by_depth?,
        strength_from,
    })
}

/// Where the strength of gray iron comes from: a test bar's tells of the casting through its thickness only.
fn strength_from(form: &mut Form, sec: &Section<'_>, kind: Option<MetalKind>, stated: bool) -> StrengthFrom {
    let gray = matches!(kind, Some(MetalKind::GrayIron | MetalKind::Unknown));
    if !(gray && stated) {
        form.unused(sec, &["strength_from"], &[], "anything but a tensile_strength of gray iron");
        return StrengthFrom::Casting;
    }
    if form.get(sec, "strength_from").is_none() {
        form.assumed("material.strength_from", "Whether the tensile strength is this casting's or a test bar's is not stated; it is taken as a separately cast bar's, and the section's thickness lowers it.");
        return StrengthFrom::CastBar;
    }
    let kinds =
        [("sample of this casting", StrengthFrom::Casting), ("separately cast bar", StrengthFrom::CastBar)];
    form.choice(sec, "strength_from", &kinds).unwrap_or(StrengthFrom::CastBar)
}

pub(super) fn cut(form: &mut Form, root: &Section<'_>) -> Option<Cut> {
    let sec = required(form, root, "cut", CUT_KEYS);
    let plan = form.need_choice(
        &sec,
        "plan",
        "the cut to be judged, or none",
        &[("clean up", 0), ("to depth", 1), ("none", 2)],
    )?;
    let (used, by): (&[&str], _) = match plan {
        0 => (&["plan", "clean_up"], "cut.plan = \"clean up\""),
        1 => (&["plan", "depth"], "cut.plan = \"to depth\""),
        _ => (&["plan"], "cut.plan = \"none\""),
    };
    form.unused(&sec, CUT_KEYS, used, by);
    match plan {
        0 => {
            let allowance = form.assume(
                &sec,
                field("clean_up", Length, Positive, "the clean-up below the worst groove"),
                25.4 / 16.0,
                "The clean-up cut below the worst groove is taken as 1/16 in (1.59 mm), common practice.",
            )?;
            Some(Cut::CleanUp { allowance_mm: allowance })
        }
        1 => {
            let depth = form.need(
                &sec,
                field("depth", Length, Positive, "the seat depth to be cut, from the rim edge"),
            )?;
            Some(Cut::ToDepth { depth_mm: depth })
        }
        _ => Some(Cut::None),
    }
}

pub(super) fn judgement(form: &mut Form, root: &Section<'_>) -> Option<Judgement> {
    let sec = form.section(root, "judgement", JUDGEMENT_KEYS);
    let factor = field(
        "safety_factor",
        Kind::Ratio,
        Between(1.0, 100.0, "a plain number from 1 to 100; 10 is usual for cast iron"),
        "the factor on ultimate strength",
    );
    Some(Judgement { safety_factor: form.quantity(&sec, factor) })
}
