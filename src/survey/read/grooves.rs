//! The grooves of a survey: how many, where, how deep, and their shapes as found and to be cut.
//!
//! Owns their keys and stand-ins. Units inside: mm and rad.

use super::super::form::Bounds::{self, Positive};
use super::super::form::{Form, Section, field};
use super::super::schema::*;
use super::loads::{MOST_GROOVES, Ropes};
use super::shape::{SHAPE_KEYS, shape, shape_keys, shape_words};
use super::{Folder, required};
use crate::units::Kind::Length;

pub(super) const GROOVE_KEYS: &[&str] =
    &["count", "pitch", "offset", "seat_depth", "roped", "mouth_radius", "now", "worn", "cut_to"];
pub(super) fn grooves(
    form: &mut Form,
    root: &Section<'_>,
    ropes: &Ropes,
    cut_wanted: bool,
    folder: &Folder<'_>,
) -> Option<Grooves> {
    let (passes, ropes, rope_mm) = (ropes.passes, ropes.roped(), ropes.diameter_mm);
    let sec = required(form, root, "grooves", GROOVE_KEYS);
    let count_read = form.whole(&sec, "count", 1, MOST_GROOVES).map(|count| count as usize);
    let count = if form.get(&sec, "count").is_none() { ropes } else { count_read };
    if form.get(&sec, "count").is_none() && sec.table.is_some() {
        let sentence = if passes == 2 {
            "The sheave is taken to have two grooves for each rope."
        } else {
            "The sheave is taken to have as many grooves as ropes."
        };
        form.assumed("grooves.count", sentence);
    }
    let pitch = form.need(
        &sec,
        field("pitch", Length, Positive, "the distance from groove to groove")
            .such_as("\"3/4 in\" or \"19 mm\""),
    );
    let offset = form.assume(
        &sec,
        field("offset", Length, Bounds::Any, "the offset of the groove set"),
        0.0,
        "The groove set is taken to lie in the middle of the rim.",
    );
    let depth_field =
        field("seat_depth", Length, Positive, "the depth of each groove's seat below the rim edge");
    if form.get(&sec, "seat_depth").is_none() {
        form.needed(
            &sec,
            "seat_depth",
            depth_field.what,
            "[\"0.52 in\", \"0.55 in\"], one entry for each groove",
        );
    }
    let depths = form.quantities(&sec, depth_field);
    let depths_fit = match (&depths, count) {
        (Some(depths), Some(count)) if depths.len() != count => {
            let message = format!(
                "grooves.seat_depth has {} and the sheave has {count} grooves.",
                entries(depths.len())
            );
            form.error(
                "survey/list-length",
                "grooves.seat_depth",
                message,
                "write one depth for each groove, groove 1 first",
            );
            false
        }
        _ => true,
    };
    let roped = count.and_then(|count| roped(form, &sec, count, ropes, passes));
    // A sharp outer corner carries no stress, so a mouth that was not measured needs no stand-in.
    let mouth = match form.get(&sec, "mouth_radius") {
        None => Some(0.0),
        Some(_) => form.quantity(
            &sec,
            field("mouth_radius", Length, Bounds::NotNegative, "the radius at the groove's mouth"),
        ),
    };
    let now_base = form.section(&sec, "now", SHAPE_KEYS);
    if now_base.table.is_none() && sec.table.is_some() {
        form.error(
            "survey/needed",
            "grooves.now",
            "The section [grooves.now] is missing.".into(),
            "add [grooves.now] with the shape of the grooves as found",
        );
    }
    // Without a count the common shape is still read, so that its faults are shown with all others.
    let now = match count {
        Some(count) => now_shapes(form, &sec, &now_base, count, rope_mm, folder),
        None => shape(form, &now_base, None, rope_mm, folder).and(None),
    };
    let cut_base = form.section(&sec, "cut_to", SHAPE_KEYS);
    let cut_to = if cut_wanted {
        if cut_base.table.is_none() && sec.table.is_some() {
            form.error(
                "survey/needed",
                "grooves.cut_to",
                "The section [grooves.cut_to] is missing.".into(),
                "add the shape to be cut as [grooves.cut_to], or write plan = \"none\" under [cut]",
            );
        }
        let shape = shape(form, &cut_base, None, rope_mm, folder);
        if let Some(shape) = &shape {
            form.unused(&cut_base, SHAPE_KEYS, shape_keys(shape), &shape_words(shape));
        }
        Some(shape)
    } else {
        None
    };
    let cut_to = match cut_to {
        Some(shape) => Some(shape?),
        None => None,
    };
    Some(Grooves {
        pitch_mm: pitch?,
        offset_mm: offset?,
        roped: roped?,
        seat_depth_mm: depths.filter(|_| depths_fit)?,
        now: now?,
        cut_to,
        mouth_radius_mm: mouth?,
    })
}

pub(super) fn entries(count: usize) -> String {
    if count == 1 { "1 entry".into() } else { format!("{count} entries") }
}

/// Which of `count` grooves carry one of `ropes` ropes, each counted once for every pass.
fn roped(
    form: &mut Form,
    sec: &Section<'_>,
    count: usize,
    ropes: Option<usize>,
    passes: usize,
) -> Option<Vec<bool>> {
    let named = |ropes: usize| match passes {
        2 => format!("{} ropes in two passes, so {ropes} grooves that carry one,", ropes / 2),
        _ => format!("{ropes} ropes"),
    };
    let Some(list) = form.entries(sec, "roped") else {
        let ropes = ropes?;
        if ropes == count {
            return Some(vec![true; count]);
        }
        if ropes < count {
            form.needed(
                sec,
                "roped",
                "which grooves carry a rope, for there are more grooves than that",
                "[1, 2, 3]",
            );
        } else {
            let message = format!("There are {} and only {count} grooves.", named(ropes));
            form.error(
                "survey/list-length",
                "grooves.count",
                message,
                "check roping.ropes and grooves.count",
            );
        }
        return None;
    };
    let mut out = vec![false; count];
    let mut whole = true;
    for (path, value) in &list {
        match form.read_whole(value, path, 1, count as u32) {
            Some(number) if out[number as usize - 1] => {
                let message = format!("Groove {number} stands twice in grooves.roped.");
                form.error("survey/conflict", path, message, "write every roped groove once");
                whole = false;
            }
            Some(number) => out[number as usize - 1] = true,
            None => whole = false,
        }
    }
    if let Some(ropes) = ropes.filter(|ropes| whole && list.len() != *ropes) {
        let message = format!("grooves.roped has {} and there are {}.", entries(list.len()), named(ropes));
        form.error(
            "survey/list-length",
            "grooves.roped",
            message,
            "write the number of each groove that carries a rope",
        );
        whole = false;
    }
    whole.then_some(out)
}

fn now_shapes(
    form: &mut Form,
    sec: &Section<'_>,
    base: &Section<'_>,
    count: usize,
    rope_mm: Option<f64>,
    folder: &Folder<'_>,
) -> Option<Vec<GrooveShape>> {
    let common = shape(form, base, None, rope_mm, folder);
    let mut out: Vec<Option<GrooveShape>> = vec![common.clone(); count];
    let worn_keys: Vec<&str> = SHAPE_KEYS.iter().copied().chain(["groove"]).collect();
    let mut seen = vec![false; count];
    for worn in form.sections(sec, "worn", &worn_keys) {
        if form.get(&worn, "groove").is_none() {
            form.needed(&worn, "groove", "the number of the groove that differs", "3");
        }
        let number = form.whole(&worn, "groove", 1, count as u32);
        let worn_shape = shape(form, base, Some(&worn), rope_mm, folder);
        let Some(number) = number else { continue };
        let index = number as usize - 1;
        if std::mem::replace(&mut seen[index], true) {
            let message = format!("Groove {number} has two tables [[grooves.worn]].");
            form.error("survey/conflict", &worn.path_of("groove"), message, "keep one of them");
        }
        if let Some(shape) = &worn_shape {
            let used = [shape_keys(shape), &["groove"]].concat();
            form.unused(&worn, &worn_keys, &used, &shape_words(shape));
        }
        form.worn_tables.insert(index + 1, worn.path.clone());
        out[index] = worn_shape;
    }
    // A groove with its own table takes what is not stated there from the common one.
    let shapes: Vec<GrooveShape> = out.into_iter().collect::<Option<_>>()?;
    let used: Vec<&str> = shapes.iter().flat_map(shape_keys).copied().collect();
    let by = common.as_ref().map_or("any groove".into(), shape_words);
    form.unused(base, SHAPE_KEYS, &used, &by);
    Some(shapes)
}
