//! What a model asks: where to search, and at which points to report.

use super::super::{Probe, Search};
use super::values::{need_point, tags};
use crate::diagnostics::quoted;
use crate::document::{
    Bounds::{Any, NotNegative},
    Document, Section, closest,
};
use crate::elastic::Case;
use crate::geometry::{Outline, Point};

/// How far beside the outline a probe on its surface may be typed (mm).
const BESIDE: f64 = 1e-3;

pub(super) fn search(doc: &mut Document, root: &Section<'_>, known: Option<&Outline>) -> Search {
    let sec = doc.section(root, "search", &["below_r_mm", "tags", "tag"]);
    let below_r_mm = doc.number(&sec, "below_r_mm", NotNegative, "the radius below which is not searched");
    Search { below_r_mm, tags: tags(doc, &sec, known) }
}

/// The probes; `sound` is the outline when it encloses a body.
pub(super) fn probes(
    doc: &mut Document,
    root: &Section<'_>,
    sound: Option<&Outline>,
    cases: &[Case],
) -> Vec<Probe> {
    let mut probes = Vec::new();
    for (index, sec) in doc.sections(root, "probe", &["name", "at", "theta_deg", "case"]).iter().enumerate() {
        let name = doc.text(sec, "name").unwrap_or_else(|| format!("probe {}", index + 1));
        let at = need_point(doc, sec, "at", "the place of the probe");
        if let (Some(at), Some(outline)) = (at, sound) {
            check_inside(doc, sec, outline, at);
        }
        let theta_rad = match doc.entries(sec, "theta_deg") {
            None => vec![0.0],
            Some(list) => {
                let read = |(path, value): &(String, &_)| doc.read_number(value, path, Any, "an angle");
                list.iter().filter_map(read).map(f64::to_radians).collect()
            }
        };
        let case = doc.text(sec, "case");
        if let Some(name) = &case {
            check_case(doc, sec, name, cases);
        }
        probes.extend(at.map(|at| Probe { name, at, theta_rad, case }));
    }
    probes
}

fn check_inside(doc: &mut Document, sec: &Section<'_>, outline: &Outline, at: Point) {
    let apart = outline.edges().map(|edge| edge.distance(at)).fold(f64::INFINITY, f64::min);
    if apart <= BESIDE || outline.contains(at) {
        return;
    }
    let path = sec.path_of("at");
    let message = format!("{path} lies {apart:.3} mm outside the body.");
    let nearest = outline
        .edges()
        .map(|edge| (edge.at(edge.nearest(at)), outline.tag_name(edge)))
        .min_by(|a, b| a.0.distance(at).total_cmp(&b.0.distance(at)));
    let help = nearest.map_or(String::new(), |(p, tag)| {
        format!("the nearest point of the body is [{:.4}, {:.4}] on {}", p.r, p.z, quoted(tag))
    });
    doc.error("model/probe-outside", &path, message, &help);
}

fn check_case(doc: &mut Document, sec: &Section<'_>, name: &str, cases: &[Case]) {
    if cases.is_empty() || cases.iter().any(|case| case.name == name) {
        return;
    }
    let names: Vec<&str> = cases.iter().map(|case| case.name.as_str()).collect();
    let list = names.iter().map(|n| quoted(n)).collect::<Vec<_>>().join(", ");
    let help = match closest(name, &names) {
        Some(meant) => format!("did you mean \"{meant}\"? The cases are: {list}"),
        None => format!("the cases of the loads are: {list}"),
    };
    let path = sec.path_of("case");
    doc.error("model/unknown-case", &path, format!("No load has the case {}.", quoted(name)), &help);
}
