//! Getters that several tables of a model share: points, tags, and numbers that vary over the section.

use crate::diagnostics::quoted;
use crate::document::{
    Bounds::{self, Any, Between},
    Document, Section, Value, closest,
};
use crate::elastic::Field;
use crate::geometry::{Outline, Point};
use toml::de::DeValue;

/// Coordinates beyond this are no part of a machine (mm).
const FAR: f64 = 1e6;
const RADIUS: Bounds = Between(0.0, FAR, "from 0 (the shaft's axis) to 1000000 mm");
const AXIAL: Bounds = Between(-FAR, FAR, "from -1000000 to 1000000 mm");

/// A point [r, z] in mm that a table cannot go without.
pub(super) fn need_point(doc: &mut Document, section: &Section<'_>, key: &str, what: &str) -> Option<Point> {
    need_place(doc, section, key, what, RADIUS)
}

/// The centre of an arc: that of a flat arc may lie beyond the shaft's axis.
pub(super) fn need_centre(doc: &mut Document, section: &Section<'_>, key: &str, what: &str) -> Option<Point> {
    need_place(doc, section, key, what, AXIAL)
}

fn need_place(
    doc: &mut Document,
    section: &Section<'_>,
    key: &str,
    what: &str,
    radial: Bounds,
) -> Option<Point> {
    if doc.get(section, key).is_none() {
        doc.needed(section, key, what, "[100.0, 25.0] (r and z in mm, for instance)");
        return None;
    }
    let entries = doc.entries(section, key)?;
    let path = section.path_of(key);
    if entries.len() != 2 {
        let message = format!("{path} has {} entries, and a point has two.", entries.len());
        doc.error("model/point", &path, message, &format!("write {key} = [r, z] in mm"));
        return None;
    }
    let (r_path, r) = &entries[0];
    let (z_path, z) = &entries[1];
    let r = doc.read_number(r, r_path, radial, "a radius");
    let z = doc.read_number(z, z_path, AXIAL, "an axial coordinate");
    Some(Point::new(r?, z?))
}

/// The tags that `tag` or `tags` names; each must stand on the outline.
pub(super) fn tags(doc: &mut Document, section: &Section<'_>, known: Option<&Outline>) -> Vec<String> {
    if doc.get(section, "tag").is_some() && doc.get(section, "tags").is_some() {
        let message = format!("{} has both tag and tags.", section.path);
        doc.error("model/both", &section.path, message, "keep tags, and list all of them there");
    }
    let key = if doc.get(section, "tag").is_some() { "tag" } else { "tags" };
    list_of_tags(doc, section, key, known)
}

/// Like [`tags`], for a table that cannot go without.
pub(super) fn need_tags(doc: &mut Document, section: &Section<'_>, known: Option<&Outline>) -> Vec<String> {
    if doc.get(section, "tag").is_none() && doc.get(section, "tags").is_none() {
        doc.needed(section, "tags", "the tags of the edges it acts on", "[\"bore\"] (for instance)");
    }
    let found = tags(doc, section, known);
    if found.is_empty() && doc.get(section, "tags").is_some_and(is_empty_list) {
        let path = section.path_of("tags");
        let message = format!("{path} is an empty list.");
        doc.error("model/needed", &path, message, "name at least one tag of the outline");
    }
    found
}

fn is_empty_list(value: &Value<'_>) -> bool {
    value.get_ref().as_array().is_some_and(|list| list.is_empty())
}

fn list_of_tags(
    doc: &mut Document,
    section: &Section<'_>,
    key: &str,
    known: Option<&Outline>,
) -> Vec<String> {
    let mut found = Vec::new();
    for (path, value) in doc.entries(section, key).unwrap_or_default() {
        let Some(tag) = value.get_ref().as_str() else {
            let message = format!("{path} is no text, and a tag is expected.");
            doc.error("model/wrong-type", &path, message, "write the tag of an edge in quotes");
            continue;
        };
        let Some(outline) = known else { continue };
        if outline.tags.iter().any(|t| t == tag) {
            found.push(tag.to_owned());
            continue;
        }
        let names: Vec<&str> = outline.tags.iter().map(String::as_str).collect();
        let message = format!("No edge carries the tag {}.", quoted(tag));
        let known = format!("tags of the outline: {}", shortened(&names));
        let help = match closest(tag, &names) {
            Some(meant) => format!("did you mean \"{meant}\"? The {known}"),
            None => format!("name one of the {known}"),
        };
        doc.error("model/unknown-tag", &path, message, &help);
    }
    found
}

/// The first names of a list that may be long.
fn shortened(names: &[&str]) -> String {
    const SHOWN: usize = 24;
    let shown = names.iter().take(SHOWN).map(|n| quoted(n)).collect::<Vec<_>>().join(", ");
    if names.len() > SHOWN { format!("{shown} and {} more", names.len() - SHOWN) } else { shown }
}

/// A number, or a table of a number and its slopes over the section.
pub(super) fn field(doc: &mut Document, value: &Value<'_>, path: &str, what: &str) -> Option<Field> {
    if !matches!(value.get_ref(), DeValue::Table(_)) {
        return doc.read_number(value, path, Any, what).map(Field::constant);
    }
    let section = Section { path: path.to_owned(), table: doc.table(value, path) };
    doc.check_keys(&section, FIELD_KEYS);
    slopes(doc, &section, ["at", "per_mm_r", "per_mm_z"], what)
}

const FIELD_KEYS: &[&str] = &["at", "per_mm_r", "per_mm_z"];

/// at + per_mm_r·r + per_mm_z·z from three keys of a table; what is absent is zero.
pub(super) fn slopes(
    doc: &mut Document,
    section: &Section<'_>,
    keys: [&str; 3],
    what: &str,
) -> Option<Field> {
    if keys.iter().all(|key| doc.get(section, key).is_none()) {
        doc.needed(section, keys[0], what, "10.0 (for instance)");
        return None;
    }
    let [at, by_r, by_z] = keys.map(|key| match doc.get(section, key) {
        Some(_) => doc.number(section, key, Any, what),
        None => Some(0.0),
    });
    Some(Field { at: at?, by_r: by_r?, by_z: by_z? })
}
