//! Corners of an outline, and whether the elastic stress beside them stays finite.
//!
//! Owns the judgement of single corners; what is left out around them stands in `region`.

use super::Model;
use crate::geometry::{Curve, Edge, Outline, Point};
use std::f64::consts::{FRAC_PI_2, PI};

/// What a right angle may be off by (rad: 0.5°).
const SQUARE: f64 = 0.5 * PI / 180.0;
/// The place where one edge ends and the next begins.
pub(super) struct Corner<'a> {
    pub at: Point,
    pub before: &'a Edge,
    pub after: &'a Edge,
    /// Angle inside the body (rad).
    pub angle: f64,
}

impl<'a> Corner<'a> {
    pub fn new(outline: &'a Outline, loop_no: usize, index: usize) -> Self {
        let edges = &outline.loops[loop_no];
        let (before, after) = (&edges[(index + edges.len() - 1) % edges.len()], &edges[index]);
        let (coming, going) = (before.tangent(1.0), after.tangent(0.0));
        let angle = PI - coming.cross(going).atan2(coming.dot(going));
        Self { at: after.start, before, after, angle }
    }

    pub fn name(&self, outline: &Outline) -> String {
        let (before, after) = (outline.tag_name(self.before), outline.tag_name(self.after));
        let tags = if before == after {
            format!("on '{before}'")
        } else {
            format!("between '{before}' and '{after}'")
        };
        format!("r {:.2}, z {:.2} mm {tags}", self.at.r, self.at.z)
    }
}

/// How one edge is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Held {
    /// Radial, circumferential, axial.
    flags: [bool; 3],
    /// Whether the edge is straight along r or along z, and so could be a plane of mirror symmetry.
    mirror: bool,
}

impl Held {
    pub fn of(model: &Model, edge: &Edge) -> Self {
        let mut flags = [false; 3];
        let name = model.outline.tag_name(edge);
        for support in model.supports.iter().filter(|support| support.tag == name) {
            for (flag, held) in flags.iter_mut().zip(support.hold.flags()) {
                *flag |= held;
            }
        }
        let run = edge.end - edge.start;
        let along_axis = run.r.abs().min(run.z.abs()) < 1e-9 * run.norm();
        // An edge that is free has nothing to mirror, and must compare equal to any other free one.
        let mirror = flags != [false; 3] && edge.curve == Curve::Line && along_axis;
        Self { flags, mirror }
    }

    pub fn is_free(&self) -> bool {
        self.flags == [false; 3]
    }

    /// Held in both directions of the section.
    pub fn is_full(&self) -> bool {
        self.flags[0] && self.flags[2]
    }

    /// Whether the stress beside the edge's end stays finite at a corner of this angle.
    ///
    /// A straight edge held only along, or only square to, itself acts as a plane of symmetry or
    /// antisymmetry: the body goes on as its mirror image, which has a re-entrant corner only where
    /// the angle is more than 90°. Held fully, a face ends in a singular point at nearly any angle
    /// (Williams, Journal of Applied Mechanics 19 (1952) 526–528).
    pub fn is_regular(&self, angle: f64) -> bool {
        self.is_free() || (self.mirror && !(self.flags[0] && self.flags[2]) && angle <= FRAC_PI_2 + SQUARE)
    }
}
