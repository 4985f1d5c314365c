//! Where the highest tension counts: what is left out of the search, why, and how far.
//!
//! Owns the rules on corners whose elastic stress has no finite value, on ends of held edges, and on
//! angles where the series rings. Lacks the search itself. Units: mm, rad.

use super::Model;
use super::growth::{Faces, Singular};
use super::singular::{Corner, Held};
use crate::geometry::Point;
use crate::mesh::Mesh;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Kinks below this are those of a line of measured points, not corners (rad: 5°).
const KINK: f64 = 5.0 * PI / 180.0;
/// Element sides around a singular place that are left out.
const SIDES: f64 = 3.0;
/// Least share of the section's smaller span that is left out around a singular place.
const SHARE: f64 = 0.01;

/// A part of the body that is not searched, and why.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Exclusion {
    pub reason: String,
    /// Distance from the named place that is left out (mm).
    pub distance_mm: f64,
}

/// Where the highest tension counts.
#[derive(Debug, Clone)]
pub struct Region {
    /// For every node whether it is searched.
    pub nodes: Vec<bool>,
    /// Angles at which the applied traction jumps (rad): the truncated series rings there.
    pub jumps: Vec<f64>,
    /// For every node whether it lies on a loaded edge.
    pub loaded: Vec<bool>,
    /// Loaded nodes are left out nearer than this to a jump, along the circumference (mm).
    pub jump_distance_mm: f64,
    /// What is left out, for the report.
    pub exclusions: Vec<Exclusion>,
}

impl Region {
    /// The whole body, with nothing left out.
    pub fn everything(mesh: &Mesh) -> Self {
        let count = mesh.nodes.len();
        Self {
            nodes: vec![true; count],
            jumps: Vec::new(),
            loaded: vec![false; count],
            jump_distance_mm: 0.0,
            exclusions: Vec::new(),
        }
    }

    /// The body without the places at which linear elasticity, or a series that ends with harmonic
    /// `last`, gives no number that means anything.
    ///
    /// Around re-entrant corners without a radius and around ends of held edges three element sides
    /// are left out, and at least 1 % of the section's smaller span; on meshes that resolve the place, as
    /// `singular_sizes` asks for, that share alone decides. On edges whose load jumps in θ one
    /// wavelength of the last harmonic, 2π r/N, is left out on each side of the jump, with r the
    /// largest radius of those edges.
    pub fn of(model: &Model, mesh: &Mesh, last: usize) -> Self {
        let mut region = Self::everything(mesh);
        region.leave_out_singular(model, mesh);
        region.leave_out_jumps(model, mesh, last);
        region
    }

    /// Leaves out every node that `inside` selects.
    pub fn exclude(&mut self, mesh: &Mesh, exclusion: Exclusion, inside: impl Fn(Point) -> bool) {
        for (searched, p) in self.nodes.iter_mut().zip(&mesh.nodes) {
            *searched &= !inside(*p);
        }
        self.exclusions.push(exclusion);
    }

    /// Leaves out all below a radius (mm), for instance a hub.
    pub fn fence(&mut self, mesh: &Mesh, radius_mm: f64) {
        let reason = "near the shaft's axis, as the model asks".to_owned();
        self.exclude(mesh, Exclusion { reason, distance_mm: radius_mm }, |p| p.r < radius_mm);
    }

    /// Keeps only the nodes on edges with one of these tags.
    pub fn only_on(&mut self, mesh: &Mesh, tags: &[String]) {
        let kept = nodes_on(mesh, tags);
        self.nodes.iter_mut().zip(&kept).for_each(|(searched, keep)| *searched &= keep);
        let reason = format!("all but the edges {}, as the model asks", quoted(tags));
        self.exclusions.push(Exclusion { reason, distance_mm: 0.0 });
    }

    /// Every place of the model at which the elastic stress has no finite value, with the least distance
    /// that is left out around it: the same for every mesh that resolves it.
    pub fn singular(model: &Model) -> Vec<Singular> {
        let outline = &model.outline;
        let (low, high) = outline.bounds();
        let distance_mm = SHARE * (high.r - low.r).min(high.z - low.z);
        let mut places = Vec::new();
        for (loop_no, index, angle) in outline.sharp_corners(KINK) {
            let corner = Corner::new(outline, loop_no, index);
            let faces = faces(model, &corner);
            let reason = format!(
                "re-entrant corner of {:.0}° without a radius, {}: its elastic stress has no finite value",
                angle.to_degrees(),
                corner.name(outline)
            );
            let from_rad = corner.after.tangent(0.0).angle();
            places.push(Singular { reason, at: corner.at, faces, angle, from_rad, distance_mm });
        }
        for (loop_no, edges) in outline.loops.iter().enumerate() {
            for index in 0..edges.len() {
                let corner = Corner::new(outline, loop_no, index);
                let held = [corner.before, corner.after].map(|edge| Held::of(model, edge));
                let known = places.iter().any(|place: &Singular| place.at == corner.at);
                if known || held[0] == held[1] || held.iter().all(|held| held.is_regular(corner.angle)) {
                    continue;
                }
                let reason = format!(
                    "end of a held edge, {}: the elastic stress beside it has no finite value",
                    corner.name(outline)
                );
                let (faces, angle) = (faces(model, &corner), corner.angle);
                let from_rad = corner.after.tangent(0.0).angle();
                places.push(Singular { reason, at: corner.at, faces, angle, from_rad, distance_mm });
            }
        }
        places
    }

    fn leave_out_singular(&mut self, model: &Model, mesh: &Mesh) {
        for place in Self::singular(model) {
            // A mesh too coarse for the distance is wrong over three of its own sides.
            let distance_mm = (SIDES * local_side(mesh, place.at)).max(place.distance_mm);
            let exclusion = Exclusion { reason: place.reason, distance_mm };
            self.exclude(mesh, exclusion, |p| p.distance(place.at) <= distance_mm);
        }
    }

    fn leave_out_jumps(&mut self, model: &Model, mesh: &Mesh, last: usize) {
        let mut tags: Vec<String> = Vec::new();
        for term in model.cases.iter().flat_map(|case| &case.terms) {
            let jumps = term.around.jumps();
            let on = model.patterns[term.pattern].tags();
            if jumps.is_empty() || on.is_empty() {
                continue;
            }
            tags.extend(on.iter().filter(|tag| !tags.contains(tag)).cloned().collect::<Vec<_>>());
            for jump in jumps {
                if !self.jumps.iter().any(|known| (known - jump).abs() < 1e-9) {
                    self.jumps.push(jump);
                }
            }
        }
        if self.jumps.is_empty() {
            return;
        }
        self.loaded = nodes_on(mesh, &tags);
        let radii = mesh.nodes.iter().zip(&self.loaded).filter(|(_, loaded)| **loaded).map(|(p, _)| p.r);
        self.jump_distance_mm = TAU * radii.fold(0.0, f64::max) / last.max(1) as f64;
        let angles: Vec<String> =
            self.jumps.iter().map(|jump| format!("{:.1}°", jump.to_degrees())).collect();
        let reason = format!(
            "loaded edges {} beside the jumps of their load at θ = {}: a series up to harmonic {last} rings there",
            quoted(&tags),
            angles.join(", ")
        );
        self.exclusions.push(Exclusion { reason, distance_mm: self.jump_distance_mm });
    }
}

/// What meets in a corner.
fn faces(model: &Model, corner: &Corner<'_>) -> Faces {
    let held = [corner.before, corner.after].map(|edge| Held::of(model, edge));
    match (held[0].is_free(), held[1].is_free()) {
        (true, true) => Faces::Free,
        (false, true) if held[0].is_full() => Faces::HeldAndFree,
        (true, false) if held[1].is_full() => Faces::HeldAndFree,
        _ => Faces::Other,
    }
}

fn quoted(tags: &[String]) -> String {
    tags.iter().map(|tag| format!("'{tag}'")).collect::<Vec<_>>().join(", ")
}

fn nodes_on(mesh: &Mesh, tags: &[String]) -> Vec<bool> {
    let mut on = vec![false; mesh.nodes.len()];
    for edge in mesh.boundary.iter().filter(|edge| tags.contains(&mesh.tags[edge.tag])) {
        edge.nodes.iter().for_each(|node| on[*node] = true);
    }
    on
}

/// Longest side of the triangles that meet in the vertex nearest to `at` (mm).
fn local_side(mesh: &Mesh, at: Point) -> f64 {
    let nearest = (0..mesh.vertex_count)
        .min_by(|a, b| mesh.nodes[*a].distance(at).total_cmp(&mesh.nodes[*b].distance(at)));
    let touching =
        mesh.triangles.iter().filter(|triangle| nearest.is_some_and(|v| triangle[..3].contains(&v)));
    let mut longest = 0.0f64;
    for triangle in touching {
        for i in 0..3 {
            let [a, b] = [triangle[i], triangle[(i + 1) % 3]].map(|node| mesh.nodes[node]);
            longest = longest.max(a.distance(b));
        }
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elastic::{Around, Case, Field, Hold, Iron, Pattern, Support, Term};
    use crate::geometry::{Edge, Outline};
    use crate::mesh::Sizing;

    /// An L-shaped ring: the corner at r 30, z 10 re-enters.
    fn bracket(supports: Vec<Support>) -> (Model, Mesh) {
        let corners = [(20.0, 0.0), (60.0, 0.0), (60.0, 10.0), (30.0, 10.0), (30.0, 40.0), (20.0, 40.0)];
        let tags = ["foot", "rim", "ledge", "neck", "top", "bore"].map(String::from).to_vec();
        let point = |i: usize| Point::new(corners[i % 6].0, corners[i % 6].1);
        let edges = (0..6).map(|i| Edge::line(point(i), point(i + 1), i)).collect();
        let pressure = Pattern::Pressure { tags: vec!["rim".into()], value: Field::constant(2.0) };
        let around = Around::Arc { from: -0.5, to: 0.5 };
        let model = Model {
            title: "bracket".into(),
            outline: Outline { loops: vec![edges], tags },
            sizing: Sizing { largest_mm: 2.0, ..Sizing::default() },
            iron: Iron { young_mpa: 110e3, poisson: 0.26, density_t_mm3: 7.2e-9, expansion_per_k: 1e-5 },
            supports,
            patterns: vec![pressure],
            cases: vec![Case { name: "load".into(), terms: vec![Term { pattern: 0, around }] }],
        };
        let mesh = Mesh::generate(&model.outline, &model.sizing).unwrap();
        (model, mesh)
    }

    fn hold(tag: &str, r: bool, theta: bool, z: bool) -> Support {
        Support { tag: tag.into(), hold: Hold { r, theta, z } }
    }

    fn is_searched(region: &Region, mesh: &Mesh, r: f64, z: f64) -> bool {
        let at = Point::new(r, z);
        let node = mesh.nodes.iter().position(|p| p.distance(at) < 1e-9).unwrap();
        region.nodes[node]
    }

    #[test]
    fn a_sharp_inner_corner_is_named_and_left_out() {
        let (model, mesh) = bracket(vec![]);
        let region = Region::of(&model, &mesh, 48);
        assert!(!is_searched(&region, &mesh, 30.0, 10.0));
        for (r, z) in [(20.0, 0.0), (60.0, 0.0), (60.0, 10.0), (30.0, 40.0), (20.0, 40.0)] {
            assert!(is_searched(&region, &mesh, r, z), "r {r}, z {z}");
        }
        let corner = &region.exclusions[0];
        assert!(corner.reason.contains("270°") && corner.reason.contains("r 30.00, z 10.00"), "{corner:?}");
        assert!(corner.reason.contains("'ledge' and 'neck'"), "{corner:?}");
        assert!(corner.distance_mm >= 3.0 * mesh.quality.shortest_side_mm);
        let near = mesh.nodes.iter().zip(&region.nodes);
        for (p, searched) in near {
            let distance = p.distance(Point::new(30.0, 10.0));
            assert_eq!(*searched, distance > corner.distance_mm, "{p:?}");
        }
    }

    #[test]
    fn ends_of_clamped_faces_are_left_out_and_those_of_mirror_planes_are_not() {
        let (model, mesh) = bracket(vec![hold("bore", true, true, true)]);
        let region = Region::of(&model, &mesh, 48);
        assert!(!is_searched(&region, &mesh, 20.0, 0.0) && !is_searched(&region, &mesh, 20.0, 40.0));
        assert!(is_searched(&region, &mesh, 60.0, 0.0));
        for support in [hold("foot", false, false, true), hold("foot", true, true, false)] {
            let (model, mesh) = bracket(vec![support]);
            let region = Region::of(&model, &mesh, 48);
            assert!(is_searched(&region, &mesh, 20.0, 0.0) && is_searched(&region, &mesh, 60.0, 0.0));
        }
    }

    #[test]
    fn edges_held_alike_have_no_end_between_them() {
        let clamped = |tag| hold(tag, true, true, true);
        let (model, mesh) = bracket(vec![clamped("bore"), clamped("foot")]);
        let region = Region::of(&model, &mesh, 48);
        assert!(is_searched(&region, &mesh, 20.0, 0.0));
        assert!(!is_searched(&region, &mesh, 60.0, 0.0) && !is_searched(&region, &mesh, 20.0, 40.0));
    }

    #[test]
    fn the_ringing_zone_is_one_wavelength_on_the_loaded_edge() {
        let (model, mesh) = bracket(vec![]);
        let region = Region::of(&model, &mesh, 48);
        assert_eq!(region.jumps, [-0.5, 0.5]);
        for (p, loaded) in mesh.nodes.iter().zip(&region.loaded) {
            assert_eq!(*loaded, p.r > 60.0 - 1e-9, "{p:?}");
        }
        let twice = Region::of(&model, &mesh, 96);
        // One is an exact half of the other, and one wavelength at r = 60 mm is 360°/48 = 7.5°.
        assert!((region.jump_distance_mm - 2.0 * twice.jump_distance_mm).abs() < 1e-12);
        assert!((region.jump_distance_mm / 60.0 - 7.5f64.to_radians()).abs() < 1e-12);
    }

    #[test]
    fn a_fence_and_a_choice_of_edges_are_further_limits() {
        let (model, mesh) = bracket(vec![]);
        let mut region = Region::everything(&mesh);
        region.fence(&mesh, 25.0);
        region.only_on(&mesh, &model.outline.tags[3..5]);
        for (p, searched) in mesh.nodes.iter().zip(&region.nodes) {
            let on_neck = (p.r - 30.0).abs() < 1e-9 && p.z >= 10.0;
            let on_top = p.z > 40.0 - 1e-9;
            assert_eq!(*searched, p.r >= 25.0 && (on_neck || on_top), "{p:?}");
        }
        assert_eq!(region.exclusions.len(), 2);
    }
}
