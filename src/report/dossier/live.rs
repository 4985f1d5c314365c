//! What a screen with script can do besides: turn the wheel, and read the stress under the pointer.
//!
//! The section is drawn on a mesh of its own, coarse enough for a page of moderate size; stresses come from the
//! solution, at equal angles, as whole numbers of one byte. Without script nothing of it is shown.

use super::Dossier;
use crate::elastic::{Turn, principal_values};
use crate::geometry::Point;
use crate::mesh::{Mesh, PointSize, Sizing};
use crate::report::pictures::SIGNED;
use crate::units::Kind as Quantity;
use maud::{Markup, PreEscaped, html};
use rayon::prelude::*;
use serde_json::json;

pub(super) const SCRIPT: &str = include_str!("live.js");

/// Positions of the wheel that can be looked at.
const ANGLES: usize = 72;
/// One byte's largest number.
const LARGEST: f64 = 127.0;

impl Dossier<'_> {
    pub(super) fn live(&self) -> Markup {
        let Some(data) = self.field() else { return html! {} };
        // Two wheels on one page have ids of their own; the script finds them by what they end with.
        let id = |name: &str| format!("{}{name}", self.prefix);
        let (title, field, theta, value) =
            (id("turn-the-wheel"), id("field"), id("theta"), id("field-value"));
        html! {
            @match &self.wheel {
                None => h3 id=(title) { "Turn the wheel" },
                Some(name) => h4 id=(title) { "Turn the " (name) },
            }
            canvas id=(field) width="800" height="640" role="img" aria-labelledby=(title) aria-describedby=(value) {}
            label for=(theta) { "Place of the section around the wheel: θ from the middle of the wrap, in degrees" }
            input id=(theta) type="range" min="-180" max="175" step="5" value="0";
            output id=(value) for=(theta) aria-live="polite" {}
            script type="application/json" id=(id("field-data")) { (PreEscaped(data)) }
        }
    }

    /// Mesh and stresses as JSON; nothing where the section cannot be meshed coarsely.
    fn field(&self) -> Option<String> {
        let section = &self.outcome.section;
        let solution = &self.outcome.analysis.solution;
        // Fine where the highest tension is, so that it can be found again.
        let hot = PointSize { at: self.result.governing.peak.at, size_mm: 0.4 };
        let sizing = Sizing {
            at_points: vec![hot],
            fillet_step_rad: 0.7,
            arc_step_rad: 1.0,
            through_wall: 2.0,
            growth: 0.5,
            ..Sizing::default()
        };
        let mesh = Mesh::generate(&section.outline, &sizing).ok()?;
        let (low, high) = section.outline.bounds();
        let turn = Turn::new(&solution.cases[0], ANGLES);
        // A vertex on the outline may lie a rounding outside the solved mesh.
        let inside = |p: Point| {
            let middle = Point::new(0.5 * (low.r + high.r), 0.5 * (low.z + high.z));
            let own = [0.0, 1e-6, 1e-4]
                .into_iter()
                .find_map(|t| solution.locator.find(&solution.mesh, p.lerp(middle, t)));
            own.map(|place| (solution.mesh.triangles[place.triangle], place.weights()))
        };
        let course = |vertex: usize| -> Vec<f64> {
            let at = mesh.nodes[vertex];
            let Some((nodes, weights)) = inside(at) else {
                return nearest(&solution.mesh, at).map_or(vec![0.0; ANGLES], |node| {
                    let courses = turn.courses(&[node]);
                    (0..ANGLES).map(|row| signed(&std::array::from_fn(|c| courses.of(0)[c][row]))).collect()
                });
            };
            let courses = turn.courses(&nodes);
            let stress = |row: usize| {
                std::array::from_fn(|c| (0..6).map(|k| weights[k] * courses.of(k)[c][row]).sum::<f64>())
            };
            (0..ANGLES).map(|row| signed(&stress(row))).collect()
        };
        let values: Vec<Vec<f64>> = (0..mesh.vertex_count).into_par_iter().map(course).collect();
        let most = values.iter().flatten().fold(0.0f64, |most, v| most.max(v.abs()));
        let byte = |value: f64| if most > 0.0 { (LARGEST * value / most).round() as i8 as u8 } else { 0 };
        let bytes: Vec<u8> = (0..ANGLES).flat_map(|row| values.iter().map(move |v| byte(v[row]))).collect();
        let hundredths = |mm: f64| (100.0 * mm).round() / 100.0;
        let unit = self.survey.print.unit(Quantity::Stress);
        let length = self.survey.print.unit(Quantity::Length);
        let points: Vec<f64> =
            mesh.nodes[..mesh.vertex_count].iter().flat_map(|p| [hundredths(p.r), hundredths(p.z)]).collect();
        let corners: Vec<usize> = mesh.triangles.iter().flat_map(|t| t[..3].to_vec()).collect();
        let data = json!({
            "points": points,
            "triangles": corners,
            "angles": ANGLES,
            "most": unit.map_or(most, |unit| unit.from_inside(most)),
            "unit": self.survey.print.name(Quantity::Stress),
            "length": { "unit": self.survey.print.name(Quantity::Length), "per_mm": length.map_or(1.0, |unit| unit.from_inside(1.0)) },
            "from": hundredths(self.rim_from_mm()),
            "start": (self.result.governing.peak.theta_rad.to_degrees() / 5.0).round() * 5.0,
            "colours": SIGNED,
            "values": base64(&bytes),
        });
        // Nothing in it may end the element that it stands in.
        Some(data.to_string().replace('<', "\\u003c"))
    }
}

/// The principal stress that is largest in size, with its sign (MPa).
fn signed(stress: &[f64; 6]) -> f64 {
    let [high, _, low] = principal_values(stress);
    if high >= -low { high } else { low }
}

fn nearest(mesh: &Mesh, at: Point) -> Option<usize> {
    (0..mesh.nodes.len()).min_by(|a, b| mesh.nodes[*a].distance(at).total_cmp(&mesh.nodes[*b].distance(at)))
}

/// RFC 4648.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let word =
            chunk.iter().fold(0u32, |word, byte| (word << 8) | u32::from(*byte)) << (8 * (3 - chunk.len()));
        for place in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * place)) as usize & 63];
            out.push(if place <= chunk.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_are_written_as_the_standard_says() {
        // RFC 4648, section 10.
        for (bytes, text) in
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")]
        {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }
}
