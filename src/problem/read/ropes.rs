//! Ropes of a model: tension around the wrap, pressure and drag on the seat.

use super::loads::Gathered;
use super::need;
use super::seat::{bottom_radius, radii};
use super::values::{need_point, need_tags};
use crate::document::{
    Bounds::{Between, NotNegative, Positive},
    Document, Section,
};
use crate::elastic::{Law, Pattern};
use crate::geometry::Outline;
use crate::hoist::RopeWrap;
use crate::survey::Creep;

const KEYS: &[&str] = &[
    "case",
    "tag",
    "tags",
    "heavy_n",
    "light_n",
    "wrap_deg",
    "middle_deg",
    "seat_radius_mm",
    "moment_radius_mm",
    "law",
    "centre",
    "creep",
    "friction",
    "run_in_mm",
];
/// How far the stated seat radius may lie from the edges it belongs to (mm).
const SEAT_GAP: f64 = 0.5;

pub(super) fn ropes(
    doc: &mut Document,
    root: &Section<'_>,
    known: Option<&Outline>,
    gathered: &mut Gathered,
) {
    for section in doc.sections(root, "rope", KEYS) {
        rope(doc, &section, known, gathered);
    }
}

fn rope(
    doc: &mut Document,
    sec: &Section<'_>,
    known: Option<&Outline>,
    gathered: &mut Gathered,
) -> Option<()> {
    let tags = need_tags(doc, sec, known);
    let heavy = need(doc, sec, "heavy_n", Positive, "the tension on the heavy side in N", "5000.0");
    let light = need(doc, sec, "light_n", Positive, "the tension on the light side in N", "4000.0");
    let range = Between(1.0, 360.0, "from 1 to 360 degrees");
    let wrap = need(doc, sec, "wrap_deg", range, "the angle of wrap in degrees", "165.0");
    let range = Between(-360.0, 360.0, "from -360 to 360 degrees");
    let middle = optional(doc, sec, "middle_deg", |doc| {
        doc.number(sec, "middle_deg", range, "the middle of the wrap in degrees")
    });
    let seat = need(doc, sec, "seat_radius_mm", Positive, "the radius of the seat in mm", "320.0");
    let moment = need(
        doc,
        sec,
        "moment_radius_mm",
        Positive,
        "the radius at which the difference of the tensions turns the wheel, in mm",
        "326.0",
    );
    let law = law(doc, sec);
    let creep = creep(doc, sec);
    let run_in = optional(doc, sec, "run_in_mm", |doc| {
        doc.number(sec, "run_in_mm", NotNegative, "the length of the run-in in mm")
    });
    if let (Some(seat), Some(law), Some(outline)) = (seat, law, known) {
        check_seat(doc, sec, outline, &tags, seat, law);
    }
    let (heavy, light, wrap, seat) = (heavy?, light?, wrap?.to_radians(), seat?);
    let (middle, moment, law, creep, run_in) = (middle?.to_radians(), moment?, law?, creep?, run_in? / seat);
    if creep != Creep::WholeWrap && heavy < light {
        let message = format!("{} has an active arc, and its light side pulls more.", sec.path);
        let help = "name the side that pulls more heavy_n, and turn middle_deg by 180 if need be";
        doc.error("model/rope-sides", &sec.path_of("heavy_n"), message, help);
        return None;
    }
    if run_in > wrap {
        let message = format!("{} is longer than the wrap along the seat.", sec.path_of("run_in_mm"));
        let help = "a run-in is about one rope diameter";
        doc.error("model/out-of-range", &sec.path_of("run_in_mm"), message, help);
        return None;
    }
    let mut rope = RopeWrap::new(heavy, light, wrap, creep);
    if !rope.friction_holds {
        let message = format!("{} cannot hold the ratio of its tensions.", sec.path_of("friction"));
        let help = "the whole wrap is taken to creep instead; check friction and tensions";
        doc.warning("model/rope-slips", &sec.path_of("friction"), message, help);
    }
    for stretch in &mut rope.stretches {
        stretch.from += middle;
        stretch.to += middle;
    }
    gathered.add(doc, sec, Pattern::Bearing { tags: tags.clone(), law }, rope.bearing(run_in));
    // Equal tensions drag nothing along.
    if heavy != light {
        let drag = Pattern::Drag { tags, law, moment_radius_mm: moment };
        gathered.add(doc, sec, drag, rope.drag(run_in));
    }
    Some(())
}

/// A number that is zero when it is absent.
fn optional(
    doc: &mut Document,
    sec: &Section<'_>,
    key: &str,
    read: impl Fn(&mut Document) -> Option<f64>,
) -> Option<f64> {
    if doc.get(sec, key).is_none() { Some(0.0) } else { read(doc) }
}

fn law(doc: &mut Document, sec: &Section<'_>) -> Option<Law> {
    let what = "how the pressure spreads over the seat";
    let cosine = doc.need_choice(sec, "law", what, &[("cosine", true), ("uniform", false)])?;
    if cosine {
        return Some(Law::Cosine { centre: need_point(doc, sec, "centre", "the rope's centre")? });
    }
    if doc.get(sec, "centre").is_some() {
        let message = format!("{} has a centre, and its pressure is uniform.", sec.path);
        let help = "leave out centre, or write law = \"cosine\"";
        doc.error("model/both", &sec.path_of("centre"), message, help);
    }
    Some(Law::Uniform)
}

#[derive(Clone, Copy, PartialEq)]
enum Where {
    Whole,
    Light,
    Heavy,
}

fn creep(doc: &mut Document, sec: &Section<'_>) -> Option<Creep> {
    let choices = [
        ("whole wrap", Where::Whole),
        ("active arc at light side", Where::Light),
        ("active arc at heavy side", Where::Heavy),
    ];
    let place = match doc.get(sec, "creep") {
        Some(_) => doc.choice(sec, "creep", &choices)?,
        None => Where::Whole,
    };
    if place == Where::Whole {
        if doc.get(sec, "friction").is_some() {
            let message = format!("{} is given, and the whole wrap creeps.", sec.path_of("friction"));
            let help =
                "leave it out, or write creep = \"active arc at light side\" or \"active arc at heavy side\"";
            doc.error("model/both", &sec.path_of("friction"), message, help);
        }
        return Some(Creep::WholeWrap);
    }
    let range = Between(1e-4, 10.0, "from 0.0001 to 10");
    let friction = need(doc, sec, "friction", range, "the effective friction in the groove", "0.2")?;
    Some(match place {
        Where::Light => Creep::ActiveArcLight { friction },
        _ => Creep::ActiveArcHeavy { friction },
    })
}

fn check_seat(
    doc: &mut Document,
    sec: &Section<'_>,
    outline: &Outline,
    tags: &[String],
    seat: f64,
    law: Law,
) {
    let Some((low, high)) = radii(outline, tags) else { return };
    let bottom = match law {
        Law::Cosine { centre } => bottom_radius(outline, tags, centre),
        Law::Uniform => None,
    };
    let fits = |radius: f64| (seat - radius).abs() <= SEAT_GAP;
    if fits(low) || fits(high) || bottom.is_some_and(fits) {
        return;
    }
    let path = sec.path_of("seat_radius_mm");
    let message =
        format!("{path} is {seat}, and the edges of this rope lie between {low:.3} and {high:.3} mm.");
    let bottom = bottom.map_or(String::new(), |b| format!(", or by the bottom of the arc, {b:.3} mm"));
    let help = format!("it must lie within {SEAT_GAP} mm of one of these radii{bottom}; check the tags too");
    doc.error("model/rope-radius", &path, message, &help);
}
