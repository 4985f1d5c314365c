//! The loops of a model: from points, lines and arcs to an outline that encloses a body.

use super::values::{need_centre, need_point};
use crate::document::{Document, Section};
use crate::geometry::{Edge, Outline, OutlineFault, Point};

const LOOP_KEYS: &[&str] = &["start", "edges"];
const EDGE_KEYS: &[&str] = &["to", "tag", "through", "centre", "turn"];

/// Two radii of an arc may differ by this share and this length (mm): coordinates are rounded when
/// they are typed.
const RADIUS_SHARE: f64 = 1e-4;
const RADIUS_GAP: f64 = 0.002;

/// The outline as read.
pub(super) struct Read {
    pub outline: Outline,
    /// Whether it encloses a body; where it does not, the faults are pushed.
    pub sound: bool,
}

pub(super) fn outline(doc: &mut Document, root: &Section<'_>) -> Option<Read> {
    if !root.has("loop") {
        let help = "add [[loop]] with start = [r, z] and edges = [{ to = [r, z], tag = \"bore\" }, ...]";
        doc.error("model/needed", "loop", "The outline [[loop]] is missing.".into(), help);
        return None;
    }
    let loops = doc.sections(root, "loop", LOOP_KEYS);
    let mut outline = Outline { loops: Vec::new(), tags: Vec::new() };
    let mut whole = !loops.is_empty();
    for section in &loops {
        match edges(doc, section, &mut outline) {
            Some(edges) => outline.loops.push(edges),
            None => whole = false,
        }
    }
    let paths: Vec<&str> = loops.iter().map(|section| section.path.as_str()).collect();
    let sound = whole && close(doc, &outline, &paths) && judge(doc, &mut outline, &paths);
    Some(Read { outline, sound })
}

/// The edges of one loop. All tags are noted even where an edge is faulty, so that what names them
/// is not blamed.
fn edges(doc: &mut Document, section: &Section<'_>, outline: &mut Outline) -> Option<Vec<Edge>> {
    let start = need_point(doc, section, "start", "the point where the loop begins");
    if doc.get(section, "edges").is_none() {
        doc.needed(section, "edges", "the edges of the loop", "[{ to = [100.0, 0.0], tag = \"bore\" }, ...]");
    }
    let mut at = start;
    let mut edges = Vec::new();
    let mut whole = start.is_some();
    for edge in doc.sections(section, "edges", EDGE_KEYS) {
        let tag = doc.text(&edge, "tag");
        if doc.get(&edge, "tag").is_none() {
            doc.needed(&edge, "tag", "the name of the edge", "\"bore\" (for instance)");
        }
        let index = tag.map(|tag| outline.tag(tag.trim()));
        let to = need_point(doc, &edge, "to", "the point where the edge ends");
        match at.zip(to).zip(index).and_then(|((from, to), tag)| one_edge(doc, &edge, from, to, tag)) {
            Some(edge) => edges.push(edge),
            None => whole = false,
        }
        at = to;
    }
    (whole && !edges.is_empty()).then_some(edges)
}

fn one_edge(doc: &mut Document, section: &Section<'_>, from: Point, to: Point, tag: usize) -> Option<Edge> {
    let has = |key| doc.get(section, key).is_some();
    let (through, centre, turn) = (has("through"), has("centre"), has("turn"));
    if from.distance(to) < 1e-9 {
        let message = format!("{} ends where it begins.", section.path);
        doc.error(
            "model/edge",
            &section.path,
            message,
            "leave it out, or divide a full circle into two arcs",
        );
        return None;
    }
    match (through, centre, turn) {
        (false, false, false) => Some(Edge::line(from, to, tag)),
        (true, false, false) => {
            let through = need_point(doc, section, "through", "a point of the arc")?;
            arc_through(doc, section, from, through, to, tag)
        }
        (false, true, true) => {
            let centre = need_centre(doc, section, "centre", "the centre of the arc");
            let left = doc.choice(section, "turn", &[("left", true), ("right", false)]);
            arc_about(doc, section, from, centre?, to, left?, tag)
        }
        _ => {
            let message = format!("{} is neither a line nor one whole arc.", section.path);
            let help =
                "give an arc either through = [r, z], or centre = [r, z] with turn = \"left\" or \"right\"";
            doc.error("model/edge", &section.path, message, help);
            None
        }
    }
}

fn arc_through(
    doc: &mut Document,
    section: &Section<'_>,
    from: Point,
    through: Point,
    to: Point,
    tag: usize,
) -> Option<Edge> {
    let (a, b) = (through - from, to - from);
    let double = 2.0 * a.cross(b);
    if double.abs() < 1e-9 * a.norm().max(b.norm()).powi(2) {
        let message = format!("The three points of {} lie on a straight line.", section.path);
        let help = "leave out through for a straight edge, or give a point in the middle of the arc";
        doc.error("model/arc", &section.path_of("through"), message, help);
        return None;
    }
    let (aa, bb) = (a.dot(a), b.dot(b));
    let centre = from + Point::new(b.z * aa - a.z * bb, a.r * bb - b.r * aa) * (1.0 / double);
    // Seen along the chord, an arc that turns left bulges to the right.
    Some(Edge::arc_between(from, to, centre, a.cross(b) > 0.0, tag))
}

fn arc_about(
    doc: &mut Document,
    section: &Section<'_>,
    from: Point,
    centre: Point,
    to: Point,
    left: bool,
    tag: usize,
) -> Option<Edge> {
    let (first, last) = (from.distance(centre), to.distance(centre));
    let allowed = RADIUS_GAP.max(RADIUS_SHARE * first);
    if (first - last).abs() > allowed {
        let message =
            format!("The arc {} begins {first:.4} mm and ends {last:.4} mm from its centre.", section.path);
        let help = format!("the two may differ by {allowed:.4} mm; correct the centre or an end");
        doc.error("model/arc", &section.path_of("centre"), message, &help);
        return None;
    }
    // The rounding of typed coordinates is taken up by the centre, so that both ends stay in place.
    let chord = (to - from).direction();
    let middle = from.lerp(to, 0.5);
    let square = centre - chord * (centre - middle).dot(chord);
    Some(Edge::arc_between(from, to, square, left, tag))
}

/// Whether every loop ends where it begins.
fn close(doc: &mut Document, outline: &Outline, paths: &[&str]) -> bool {
    let mut closed = true;
    for (edges, path) in outline.loops.iter().zip(paths) {
        let (Some(first), Some(last)) = (edges.first(), edges.last()) else { continue };
        let gap = last.end.distance(first.start);
        if gap > 1e-6 {
            closed = false;
            let place = format!("{path}.edges[{}]", edges.len());
            let message = format!("{path} is not closed: its last edge ends {gap:.4} mm from its start.");
            let (r, z) = (first.start.r, first.start.z);
            doc.error("model/loop-open", &place, message, &format!("end the last edge in [{r}, {z}]"));
        }
    }
    closed
}

/// Turns the loops the way their roles ask, and reports why they enclose no body.
fn judge(doc: &mut Document, outline: &mut Outline, paths: &[&str]) -> bool {
    let first: Vec<Edge> = outline.loops.iter().map(|edges| edges[0]).collect();
    outline.orient();
    let faults = outline.faults();
    for fault in &faults {
        // The place in the file of an edge of the turned outline.
        let edge = |loop_no: usize, edge_no: usize| {
            let edges = &outline.loops[loop_no];
            let kept = edges[0] == first[loop_no];
            let number = if kept { edge_no + 1 } else { edges.len() - edge_no };
            format!("{}.edges[{number}]", paths[loop_no])
        };
        let place = match fault {
            OutlineFault::Empty => "loop".to_owned(),
            OutlineFault::NotFinite { loop_no, edge_no }
            | OutlineFault::NoLength { loop_no, edge_no, .. }
            | OutlineFault::Open { loop_no, edge_no, .. }
            | OutlineFault::BeyondAxis { loop_no, edge_no, .. } => edge(*loop_no, *edge_no),
            OutlineFault::NoArea { loop_no } | OutlineFault::HoleOutside { loop_no } => {
                paths[*loop_no].to_owned()
            }
            OutlineFault::Crossing { at, .. } => {
                // The edge that passes nearest to the crossing, the earliest of equals.
                let all = outline.loops.iter().enumerate();
                let all =
                    all.flat_map(|(l, edges)| edges.iter().enumerate().map(move |(e, edge)| (l, e, edge)));
                let nearest = all.min_by(|a, b| a.2.distance(*at).total_cmp(&b.2.distance(*at)));
                nearest.map_or("loop".to_owned(), |(l, e, _)| edge(l, e))
            }
        };
        let message = format!("The outline encloses no body: {fault}.");
        let help =
            "edges may meet at their ends only, the first loop is the outside, and holes lie inside it";
        doc.error("model/outline", &place, message, help);
    }
    faults.is_empty()
}
