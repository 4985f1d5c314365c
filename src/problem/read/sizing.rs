//! The sizes of elements that a model asks for.

use super::values::{need_point, need_tags};
use crate::document::{Bounds::Between, Document, Section};
use crate::geometry::{Edge, Outline};
use crate::mesh::{PointSize, Sizing};

const KEYS: &[&str] = &[
    "largest_mm",
    "growth",
    "fillet_step_deg",
    "arc_step_deg",
    "through_wall",
    "halvings",
    "tag_sizes",
    "point_sizes",
];
/// Most halvings: each makes four triangles of one.
const MOST_HALVINGS: u32 = 5;
/// Most element sides along the whole outline that a single size may ask for.
const MOST_SIDES: f64 = 50_000.0;

pub(super) fn sizing(doc: &mut Document, root: &Section<'_>, known: Option<&Outline>) -> Option<Sizing> {
    let sec = doc.section(root, "mesh", KEYS);
    let plain = Sizing::default();
    let mut number = |key: &str, default: f64, bounds, what: &str| match doc.get(&sec, key) {
        Some(_) => doc.number(&sec, key, bounds, what),
        None => Some(default),
    };
    let step = Between(0.5, 90.0, "from 0.5 to 90 degrees");
    let size = Between(1e-4, 1e6, "from 0.0001 to 1000000 mm");
    let share = Between(0.02, 10.0, "from 0.02 to 10");
    let sides = Between(0.05, 50.0, "from 0.05 to 50");
    let largest = number("largest_mm", plain.largest_mm, size, "the largest element side");
    let growth = number("growth", plain.growth, share, "the growth of the element size");
    let fillet =
        number("fillet_step_deg", plain.fillet_step_rad.to_degrees(), step, "the step along fillets");
    let arc = number("arc_step_deg", plain.arc_step_rad.to_degrees(), step, "the step along arcs");
    let wall = number("through_wall", plain.through_wall, sides, "the number of elements through a wall");
    let halvings = match doc.get(&sec, "halvings") {
        Some(_) => doc.whole(&sec, "halvings", 0, MOST_HALVINGS),
        None => Some(0),
    };
    let mut fine = vec![("mesh.largest_mm".to_owned(), largest.unwrap_or(f64::INFINITY))];
    let mut read_size = |doc: &mut Document, entry: &Section<'_>| {
        if doc.get(entry, "size_mm").is_none() {
            doc.needed(entry, "size_mm", "the element size there", "0.5 (for instance)");
        }
        let found = doc.number(entry, "size_mm", size, "an element size");
        fine.extend(found.map(|size| (entry.path_of("size_mm"), size)));
        found
    };
    let mut on_tags = Vec::new();
    for entry in doc.sections(&sec, "tag_sizes", &["tag", "tags", "size_mm"]) {
        let tags = need_tags(doc, &entry, known);
        if let Some(size) = read_size(doc, &entry) {
            on_tags.extend(tags.into_iter().map(|tag| (tag, size)));
        }
    }
    let mut at_points = Vec::new();
    for entry in doc.sections(&sec, "point_sizes", &["at", "size_mm"]) {
        let at = need_point(doc, &entry, "at", "the point where the size is asked for");
        let size = read_size(doc, &entry);
        at_points.extend(at.zip(size).map(|(at, size_mm)| PointSize { at, size_mm }));
    }
    if let Some(outline) = known {
        let least_side = outline.edges().map(Edge::length).sum::<f64>() / MOST_SIDES;
        // Triangles with the largest side everywhere, each about 0.43 of that side's square.
        let everywhere = (outline.area().abs() / (0.43 * plain.most_triangles as f64)).sqrt();
        for (index, (path, size)) in fine.into_iter().enumerate() {
            let least = if index == 0 { least_side.max(everywhere) } else { least_side };
            if size < least {
                let message = format!("{path} of {size} mm divides the section into too many elements.");
                let help = format!("at least {least:.2e} mm is allowed for this outline");
                doc.error("model/too-fine", &path, message, &help);
            }
        }
    }
    Some(Sizing {
        largest_mm: largest?,
        growth: growth?,
        fillet_step_rad: fillet?.to_radians(),
        arc_step_rad: arc?.to_radians(),
        through_wall: wall?,
        on_tags,
        at_points,
        most_triangles: plain.most_triangles,
        halvings: halvings? as usize,
    })
}
