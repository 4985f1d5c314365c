//! Names of edges, supports as hatching, loads as arrows.

use super::{Frame, Taken, moved};
use crate::elastic::{Field, Law, Model, Pattern, Polynomial};
use crate::geometry::{Edge, Point};
use crate::report::drawing::{ACCENT, At, GREY, INK, Pen, Sheet, Tie};
use crate::report::manual::numbers::reference;

/// Longest arrow of a load (px).
const ARROW: f64 = 26.0;

pub(super) struct Name {
    pub at: At,
    pub text: String,
    pub tie: Tie,
}

/// Names beside the longest edge of each tag, clear of loads, hatching and one another.
pub(super) fn names(
    model: &Model,
    frame: &Frame,
    taken: &mut Taken,
    shown: &dyn Fn(usize) -> bool,
) -> Vec<Name> {
    let outline = &model.outline;
    let mut found = Vec::new();
    for (index, tag) in outline.tags.iter().enumerate().filter(|(index, _)| shown(*index)) {
        let of_tag = outline.edges().filter(|edge| edge.tag == index);
        let Some(edge) = of_tag.max_by_key(|edge| hundredths(frame, edge)) else { continue };
        // The axis has its own name.
        if edge.start.r.abs() < 1e-9 && edge.end.r.abs() < 1e-9 {
            continue;
        }
        let loaded = model.patterns.iter().any(|pattern| pattern.tags().contains(tag));
        let held = model.supports.iter().any(|support| support.tag == *tag);
        let text = label(model, tag);
        let beside = match (loaded, held) {
            (true, _) => crosses_at(model, edge).max(ARROW) + 5.0,
            (false, true) => 14.0,
            (false, false) => 0.0,
        };
        let clear = 8.0 + beside;
        let places = [
            (0.5, 0.0),
            (0.35, 0.0),
            (0.65, 0.0),
            (0.5, 13.0),
            (0.2, 0.0),
            (0.8, 0.0),
            (0.5, 26.0),
            (0.5, 39.0),
        ];
        for (t, further) in places {
            let out = frame.outward(edge, t);
            let tip = moved(frame.at(edge.at(t)), out, clear + further);
            let (tie, at) = if out.0 > 0.5 {
                (Tie::Start, (tip.0, tip.1 + 4.0))
            } else if out.0 < -0.5 {
                (Tie::End, (tip.0, tip.1 + 4.0))
            } else {
                (Tie::Middle, (tip.0, if out.1 > 0.0 { tip.1 + 9.0 } else { tip.1 }))
            };
            let own = Taken::around(at, &text, tie);
            if taken.is_free(&own) || further > 30.0 {
                taken.boxes.push(own);
                found.push(Name { at, text, tie });
                break;
            }
        }
    }
    found
}

/// Names in a column at the right end of a detail, each with a thin line to its edge.
pub(super) fn names_in_column(sheet: &mut Sheet, model: &Model, frame: &Frame, tags: &[usize], column: f64) {
    const STEP: f64 = 15.0;
    let outline = &model.outline;
    let mut found: Vec<(f64, At, String)> = Vec::new();
    for tag in tags {
        let of_tag = outline.edges().filter(|edge| edge.tag == *tag);
        let Some(edge) = of_tag.max_by_key(|edge| hundredths(frame, edge)) else { continue };
        let foot = frame.at(edge.at(0.5));
        let mut text = label(model, &outline.tags[*tag]);
        if let Some(radius) = edge.radius() {
            text += &format!(", R {}", reference(radius, radius));
        }
        found.push((foot.1, foot, text));
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    // The column keeps its middle while the names are pushed apart.
    let middle = |names: &[(f64, At, String)]| {
        names.iter().map(|name| name.0).sum::<f64>() / names.len().max(1) as f64
    };
    let wanted = middle(&found);
    for index in 1..found.len() {
        found[index].0 = found[index].0.max(found[index - 1].0 + STEP);
    }
    let shift = wanted - middle(&found);
    for (height, foot, text) in found {
        let y = height + shift;
        sheet.path(&[foot, (column - 18.0, y), (column - 4.0, y)], Pen::new(GREY, 0.6));
        sheet.circle(foot, 1.4, GREY, Pen::new(GREY, 0.5));
        sheet.text((column, y + 3.8), &text, Tie::Start, INK);
    }
}

/// Whether loads or a support stand on an edge.
pub(super) fn is_busy(model: &Model, edge: &Edge) -> bool {
    let tag = model.outline.tag_name(edge);
    let loaded = model.patterns.iter().any(|pattern| pattern.tags().iter().any(|own| own == tag));
    loaded || model.supports.iter().any(|support| support.tag == tag)
}

/// Length on the screen, coarse enough that edges of one length stay equal whatever a machine rounds to.
fn hundredths(frame: &Frame, edge: &Edge) -> u64 {
    (100.0 * frame.length(edge)).round() as u64
}

fn label(model: &Model, tag: &str) -> String {
    let mut flags = [false; 3];
    for support in model.supports.iter().filter(|support| support.tag == tag) {
        for (all, one) in flags.iter_mut().zip(support.hold.flags()) {
            *all |= one;
        }
    }
    let held: Vec<&str> =
        ["r", "θ", "z"].into_iter().zip(flags).filter(|(_, held)| *held).map(|(name, _)| name).collect();
    if held.is_empty() { tag.to_owned() } else { format!("{tag} ({} held)", held.join(", ")) }
}

/// Shares of an edge's length at which marks stand, `step` pixels apart.
fn shares(frame: &Frame, edge: &Edge, step: f64, least: usize) -> Vec<f64> {
    let count = ((frame.length(edge) / step + 1e-6).round() as usize).clamp(least, 60);
    (0..count).map(|i| (i as f64 + 0.5) / count as f64).collect()
}

fn tagged<'m>(model: &'m Model, tag: &'m str) -> impl Iterator<Item = &'m Edge> {
    model.outline.edges().filter(move |edge| model.outline.tag_name(edge) == tag)
}

/// Wholly held edges are hatched; guided ones stand on rollers.
pub(super) fn supports(sheet: &mut Sheet, model: &Model, frame: &Frame) {
    let pen = Pen::new(INK, 0.8);
    for support in &model.supports {
        let fixed = support.hold.flags() == [true; 3];
        for edge in tagged(model, &support.tag) {
            let base = if fixed { 0.0 } else { 6.0 };
            if !fixed {
                for t in shares(frame, edge, 14.0, 2) {
                    let centre = moved(frame.at(edge.at(t)), frame.outward(edge, t), 3.2);
                    sheet.circle(centre, 2.4, "#ffffff", pen);
                }
            }
            let ground: Vec<At> = [0.0, 0.25, 0.5, 0.75, 1.0]
                .map(|t| moved(frame.at(edge.at(t)), frame.outward(edge, t), base))
                .to_vec();
            sheet.path(&ground, Pen::new(INK, if fixed { 2.0 } else { 0.8 }));
            for t in shares(frame, edge, 6.0, 3) {
                let out = frame.outward(edge, t);
                let foot = moved(frame.at(edge.at(t)), out, base);
                let slant = (out.0 * 6.0 - out.1 * 5.0, out.1 * 6.0 + out.0 * 5.0);
                sheet.line(foot, (foot.0 + slant.0, foot.1 + slant.1), pen);
            }
        }
    }
}

/// What the pattern does at a place of an edge: radial, circumferential, axial, and along the normal
/// into the body; in shares of its largest.
fn push(pattern: &Pattern, p: Point) -> ([f64; 3], f64) {
    let law = |law: &Law| match law {
        Law::Uniform => 1.0,
        Law::Cosine { centre } => {
            let arm = p - *centre;
            if arm.norm() > 0.0 { (-arm.r / arm.norm()).max(0.0) } else { 0.0 }
        }
    };
    match pattern {
        Pattern::Pressure { value, .. } => ([0.0; 3], value.value(p)),
        Pattern::Traction { value, .. } => (value.each_ref().map(|field: &Field| field.value(p)), 0.0),
        Pattern::Spread { value, .. } => (value.each_ref().map(|part: &Polynomial| part.value(p)), 0.0),
        Pattern::Bearing { law: by, .. } => ([0.0; 3], law(by)),
        Pattern::Drag { law: by, .. } => ([0.0, law(by), 0.0], 0.0),
        Pattern::Body { .. } | Pattern::Thermal { .. } | Pattern::Spin { .. } => ([0.0; 3], 0.0),
    }
}

/// Loads on edges: arrows in the section, circles for what acts across it (a cross points away from the
/// reader, towards growing θ).
pub(super) fn loads(sheet: &mut Sheet, model: &Model, frame: &Frame) {
    // Many patterns differ only around the body; one set of arrows stands for all of them.
    let mut drawn: Vec<(&str, bool, bool)> = Vec::new();
    for pattern in &model.patterns {
        let edges: Vec<&Edge> = pattern.tags().iter().flat_map(|tag| tagged(model, tag)).collect();
        let strongest = |part: &dyn Fn(([f64; 3], f64)) -> f64| {
            let at = |edge: &&Edge| [0.05, 0.25, 0.5, 0.75, 0.95].map(|t| part(push(pattern, edge.at(t))));
            edges.iter().flat_map(at).fold(0.0, f64::max)
        };
        let plane = strongest(&|(t, n)| t[0].hypot(t[2]).max(n.abs()));
        let across = strongest(&|(t, _)| t[1].abs());
        for edge in edges {
            let key = (model.outline.tag_name(edge), plane > 0.0, across > 0.0);
            let first = model.outline.edges().find(|other| other.tag == edge.tag) == Some(edge);
            if first && drawn.contains(&key) {
                break;
            }
            if first {
                drawn.push(key);
            }
            if plane > 0.0 {
                arrows(sheet, frame, edge, &|p| push(pattern, p), plane);
            }
            if across > 0.0 {
                crosses(sheet, frame, edge, &|p| push(pattern, p).0[1] / across, crosses_at(model, edge));
            }
        }
    }
}

fn arrows(sheet: &mut Sheet, frame: &Frame, edge: &Edge, push: &dyn Fn(Point) -> ([f64; 3], f64), most: f64) {
    let mut tails = Vec::new();
    let pen = Pen::new(ACCENT, 1.1);
    for t in shares(frame, edge, 17.0, 2) {
        let p = edge.at(t);
        let (foot, out) = (frame.at(p), frame.outward(edge, t));
        let (traction, normal) = push(p);
        // The screen's own normal keeps pressure square to a stretched edge.
        let force = (traction[0] / most - out.0 * normal / most, -traction[2] / most - out.1 * normal / most);
        let share = force.0.hypot(force.1);
        if share < 0.04 {
            tails.push(foot);
            continue;
        }
        let inwards = force.0 * out.0 + force.1 * out.1;
        let reach = (force.0 * ARROW, force.1 * ARROW);
        // What acts along the edge stands beside it, short enough that one arrow ends before the next.
        if inwards.abs() < 0.2 * share {
            let middle = moved(foot, out, 6.0);
            let half = (0.26 * reach.0, 0.26 * reach.1);
            sheet.arrow((middle.0 - half.0, middle.1 - half.1), (middle.0 + half.0, middle.1 + half.1), pen);
            continue;
        }
        // Arrows keep out of the body: they end at the edge when they push, and begin there when they pull.
        let gap = moved(foot, out, 1.5);
        if inwards <= 1e-9 {
            let tail = (gap.0 - reach.0, gap.1 - reach.1);
            sheet.arrow(tail, gap, pen);
            tails.push(tail);
        } else {
            let tip = (gap.0 + reach.0, gap.1 + reach.1);
            sheet.arrow(gap, tip, pen);
            tails.push(tip);
        }
    }
    if tails.len() > 2 {
        sheet.path(&tails, Pen::new(ACCENT, 0.6));
    }
}

/// How far from an edge its crosses stand: beyond the arrows where both act on it.
fn crosses_at(model: &Model, edge: &Edge) -> f64 {
    let tag = model.outline.tag_name(edge);
    let mut acting = model.patterns.iter().filter(|pattern| pattern.tags().iter().any(|own| own == tag));
    let middle = edge.at(0.4);
    let in_plane = acting.any(|pattern| {
        let (traction, normal) = push(pattern, middle);
        traction[0] != 0.0 || traction[2] != 0.0 || normal != 0.0
    });
    if in_plane { ARROW + 9.0 } else { 9.0 }
}

fn crosses(sheet: &mut Sheet, frame: &Frame, edge: &Edge, share: &dyn Fn(Point) -> f64, reach: f64) {
    let pen = Pen::new(ACCENT, 1.0);
    for t in shares(frame, edge, 24.0, 2) {
        let value = share(edge.at(t));
        if value.abs() < 0.04 {
            continue;
        }
        let at = moved(frame.at(edge.at(t)), frame.outward(edge, t), reach);
        sheet.circle(at, 4.0, "#ffffff", pen);
        if value > 0.0 {
            for side in [-1.0, 1.0] {
                sheet.line((at.0 - 2.8, at.1 - 2.8 * side), (at.0 + 2.8, at.1 + 2.8 * side), pen);
            }
        } else {
            sheet.circle(at, 1.2, ACCENT, Pen::new(ACCENT, 0.5));
        }
    }
}

/// Loads that act in the whole body, in words.
pub(super) fn everywhere(model: &Model) -> Option<String> {
    let mut words: Vec<&str> = Vec::new();
    for pattern in &model.patterns {
        let word = match pattern {
            Pattern::Body { .. } => "a force through the volume",
            Pattern::Thermal { .. } => "a temperature",
            Pattern::Spin { .. } => "the spin's centrifugal force",
            _ => continue,
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    (!words.is_empty()).then(|| words.join(", "))
}
