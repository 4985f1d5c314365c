//! One groove: its line from mouth to mouth, its seat, and how the rope bears on it.

use super::{SectionFault, tags};
use crate::elastic::Law;
use crate::geometry::{Edge, FilletFault, Outline, Point, fit_profile};
use crate::survey::GrooveShape;

/// A groove in the section.
#[derive(Debug, Clone)]
pub struct Groove {
    /// Counted from 1.
    pub number: usize,
    /// Axial position of its middle.
    pub z_mm: f64,
    /// Depth of the seat's bottom below the rim edge.
    pub seat_depth_mm: f64,
    /// Radius of the seat's bottom: the lowest point of the rope.
    pub seat_radius_mm: f64,
    /// Radius of the rope's centre line.
    pub pitch_radius_mm: f64,
    /// Radius of the lowest iron: the slot's or root's bottom, or the seat's.
    pub lowest_radius_mm: f64,
    pub shape: GrooveShape,
    pub seat: Seat,
}

/// Where the rope bears and how its pressure spreads.
#[derive(Debug, Clone)]
pub struct Seat {
    pub tag: String,
    pub law: Law,
    /// Contact limits from the groove's bottom (rad); flank bands have none.
    pub contact_rad: Option<(f64, f64)>,
}

/// A groove's edges between its two flanks, and the flanks themselves going outwards.
pub(super) struct GrooveLine {
    /// From the left flank's foot to the right flank's foot.
    pub core: Vec<Edge>,
    /// Outward directions of the left and right flank; `None` where the measured line ends at the mouth.
    pub flanks: [Option<Point>; 2],
    pub flank_tag: usize,
    pub groove: Groove,
}

impl GrooveLine {
    /// Replaces a measured side above the seat by the straight line from the seat's end to the mouth, so
    /// that a neighbour's flank can meet it. A side that is straight already stays as it is.
    pub fn straighten(&mut self, right: bool, seat: usize) {
        let side = usize::from(right);
        if self.flanks[side].is_some() || !self.core.iter().any(|edge| edge.tag == seat) {
            return;
        }
        let end = |core: &[Edge]| if right { core[core.len() - 1].end } else { core[0].start };
        let mouth = end(&self.core);
        if right {
            while self.core.last().is_some_and(|edge| edge.tag != seat) {
                self.core.pop();
            }
        } else {
            let first = self.core.iter().position(|edge| edge.tag == seat).unwrap_or(0);
            self.core.drain(..first);
        }
        self.flanks[side] = Some((mouth - end(&self.core)).direction()).filter(|along| along.r > 0.0);
    }
}

/// What a groove is built from.
pub(super) struct Asked<'a> {
    pub number: usize,
    pub z_mm: f64,
    pub edge_radius_mm: f64,
    pub seat_depth_mm: f64,
    pub rope_diameter_mm: f64,
    pub shape: &'a GrooveShape,
}

impl Asked<'_> {
    fn seat_radius(&self) -> f64 {
        self.edge_radius_mm - self.seat_depth_mm
    }

    fn fault(&self, part: &'static str, key: &'static str, reason: impl Into<String>) -> SectionFault {
        SectionFault::Groove { number: self.number, part, key, reason: reason.into() }
    }

    fn corner(&self, key: &'static str, fault: FilletFault) -> SectionFault {
        SectionFault::GrooveCorner { number: self.number, key, fault }
    }

    fn tag(&self, outline: &mut Outline, part: &str) -> usize {
        outline.tag(&tags::of(part, self.number))
    }

    fn groove(&self, lowest: f64, law: Law, contact: Option<(f64, f64)>) -> Groove {
        Groove {
            number: self.number,
            z_mm: self.z_mm,
            seat_depth_mm: self.seat_depth_mm,
            seat_radius_mm: self.seat_radius(),
            pitch_radius_mm: self.seat_radius() + 0.5 * self.rope_diameter_mm,
            lowest_radius_mm: lowest,
            shape: self.shape.clone(),
            seat: Seat { tag: tags::of(tags::SEAT, self.number), law, contact_rad: contact },
        }
    }

    /// Builds the groove's line.
    pub fn line(&self, outline: &mut Outline) -> Result<GrooveLine, SectionFault> {
        match self.shape {
            GrooveShape::Round { seat_radius_mm, opening_angle_rad, support_angle_rad } => {
                self.seat_line(outline, *seat_radius_mm, *opening_angle_rad, *support_angle_rad, None)
            }
            GrooveShape::Undercut {
                seat_radius_mm,
                opening_angle_rad,
                support_angle_rad,
                slot_angle_rad,
                slot_depth_mm,
                slot_corner_radius_mm,
            } => {
                let slot =
                    Slot { angle: *slot_angle_rad, depth: *slot_depth_mm, corner: *slot_corner_radius_mm };
                self.seat_line(outline, *seat_radius_mm, *opening_angle_rad, *support_angle_rad, Some(slot))
            }
            GrooveShape::V { angle_rad, root_depth_mm, root_radius_mm, band_width_mm, .. } => {
                self.v_line(outline, *angle_rad, *root_depth_mm, *root_radius_mm, *band_width_mm)
            }
            GrooveShape::Measured { points_mm, contact_from_rad, contact_to_rad, corner_radius_mm } => {
                let points: Vec<Point> = points_mm
                    .iter()
                    .map(|[offset, depth]| Point::new(self.edge_radius_mm - depth, self.z_mm + offset))
                    .collect();
                let tag = self.tag(outline, tags::FLANK);
                let chain = fit_profile(&points, 0.05, *corner_radius_mm, tag)
                    .map_err(|fault| self.corner("corner_radius", fault))?;
                let lowest = chain.iter().map(|e| e.at(0.5).r.min(e.end.r)).fold(f64::INFINITY, f64::min);
                let contact = (*contact_from_rad, *contact_to_rad);
                let centre = Point::new(self.seat_radius() + 0.5 * self.rope_diameter_mm, self.z_mm);
                let seat = self.tag(outline, tags::SEAT);
                let core = mark_contact(chain, centre, contact, seat);
                let groove = self.groove(lowest, Law::Cosine { centre }, Some(contact));
                Ok(GrooveLine { core, flanks: [None; 2], flank_tag: tag, groove })
            }
        }
    }

    fn seat_line(
        &self,
        outline: &mut Outline,
        radius: f64,
        opening: f64,
        support: Option<f64>,
        slot: Option<Slot>,
    ) -> Result<GrooveLine, SectionFault> {
        let bottom = self.seat_radius();
        let centre = Point::new(bottom + radius, self.z_mm);
        // The flank is tangent to the seat where the seat's own slope reaches half the opening angle.
        let end = 0.5 * (std::f64::consts::PI - opening);
        let contact = support.unwrap_or(end).min(end);
        let on_arc = |phi: f64| centre + Point::new(-phi.cos(), phi.sin()) * radius;
        let seat = self.tag(outline, tags::SEAT);
        let shoulder = self.tag(outline, tags::SHOULDER);
        let arc =
            |from: f64, to: f64, tag: usize| Edge::arc_between(on_arc(from), on_arc(to), centre, false, tag);
        let inner = slot.as_ref().map_or(0.0, |slot| 0.5 * slot.angle);
        if inner >= contact - 1e-3 {
            return Err(self.fault(
                "slot",
                "slot_angle",
                format!(
                    "a slot angle of {:.1}° leaves no seat below the contact limit of {:.1}° a side",
                    2.0 * inner.to_degrees(),
                    contact.to_degrees()
                ),
            ));
        }
        let mut core = Vec::new();
        if contact < end - 1e-9 {
            core.push(arc(-end, -contact, shoulder));
        }
        let mut lowest = bottom;
        match slot {
            None => core.push(arc(-contact, contact, seat)),
            Some(slot) => {
                lowest = bottom - slot.depth;
                core.push(arc(-contact, -inner, seat));
                core.extend(self.slot_line(outline, on_arc(-inner), on_arc(inner), lowest, slot.corner)?);
                core.push(arc(inner, contact, seat));
            }
        }
        if contact < end - 1e-9 {
            core.push(arc(contact, end, shoulder));
        }
        let slope = 0.5 * opening;
        let flanks = [Point::new(slope.cos(), -slope.sin()), Point::new(slope.cos(), slope.sin())];
        let flank_tag = self.tag(outline, tags::FLANK);
        let groove = self.groove(lowest, Law::Cosine { centre }, Some((inner, contact)));
        Ok(GrooveLine { core, flanks: flanks.map(Some), flank_tag, groove })
    }

    /// The slot from its left upper edge to its right one: wall, corner, bottom, corner, wall.
    fn slot_line(
        &self,
        outline: &mut Outline,
        left: Point,
        right: Point,
        bottom: f64,
        corner: f64,
    ) -> Result<Vec<Edge>, SectionFault> {
        let half = 0.5 * (right.z - left.z);
        // A corner radius beyond half the width would leave no slot: the bottom is then a half circle.
        let corner = corner.min(half);
        if corner <= 0.0 {
            return Err(self.fault(
                "slot corner",
                "slot_corner_radius",
                "a corner without a radius has no finite elastic stress; state its radius",
            ));
        }
        if left.r - bottom <= corner + 1e-6 {
            return Err(SectionFault::SlotShallow {
                number: self.number,
                deep_mm: left.r - bottom,
                corner_mm: corner,
            });
        }
        let (wall, round, floor) = (
            self.tag(outline, tags::SLOT_WALL),
            self.tag(outline, tags::SLOT_CORNER),
            self.tag(outline, tags::SLOT_BOTTOM),
        );
        let quarter = -std::f64::consts::FRAC_PI_2;
        let foot_left = Point::new(bottom + corner, left.z);
        let foot_right = Point::new(bottom + corner, right.z);
        let mut edges = vec![
            Edge::line(left, foot_left, wall),
            Edge::arc(foot_left, foot_left + Point::new(0.0, corner), quarter, round),
        ];
        let second = Edge::arc_between(
            Point::new(bottom, right.z - corner),
            foot_right,
            foot_right - Point::new(0.0, corner),
            false,
            round,
        );
        if half - corner > 1e-6 {
            edges.push(Edge::line(edges[1].end, second.start, floor));
        }
        edges.push(second);
        edges.push(Edge::line(foot_right, right, wall));
        Ok(edges)
    }

    fn v_line(
        &self,
        outline: &mut Outline,
        angle: f64,
        root_depth: Option<f64>,
        root_radius: f64,
        band: f64,
    ) -> Result<GrooveLine, SectionFault> {
        let (sin, cos) = (0.5 * angle).sin_cos();
        let rope = 0.5 * self.rope_diameter_mm;
        let apex = self.seat_radius() + rope - rope / sin;
        let touch = rope / (sin / cos);
        let along = |side: f64| Point::new(cos, side * sin);
        let on_flank = |side: f64, way: f64| Point::new(apex, self.z_mm) + along(side) * way;
        let (root, seat, flank) =
            (self.tag(outline, tags::ROOT), self.tag(outline, tags::SEAT), self.tag(outline, tags::FLANK));
        if root_radius <= 0.0 {
            return Err(self.fault(
                "root",
                "root_radius",
                "a root without a radius has no finite elastic stress; state its radius",
            ));
        }
        // A flat root's half width is where the flanks cross its depth; a full round one has none.
        let full_bottom = apex + root_radius / sin - root_radius;
        let flat = root_depth.map(|depth| self.seat_radius() - depth).filter(|r| *r > full_bottom + 1e-6);
        let lowest = flat.unwrap_or(full_bottom);
        let mut left = vec![Edge::line(on_flank(-1.0, touch - 0.5 * band), on_flank(-1.0, 0.0), flank)];
        let mut right = vec![Edge::line(on_flank(1.0, 0.0), on_flank(1.0, touch - 0.5 * band), flank)];
        let round = |before: &mut Vec<Edge>, after: &mut Vec<Edge>, radius: f64| {
            crate::geometry::round_corner(before, after, radius, root)
                .map_err(|fault| self.corner("root_radius", fault))
        };
        if let Some(r) = flat {
            let way = (r - apex) / cos;
            left[0].end = on_flank(-1.0, way);
            right[0].start = on_flank(1.0, way);
            let mut floor = vec![Edge::line(left[0].end, right[0].start, root)];
            let radius = root_radius
                .min(0.49 * floor[0].length() / (0.5 * (0.5 * std::f64::consts::PI - 0.5 * angle)).tan());
            round(&mut left, &mut floor, radius)?;
            round(&mut floor, &mut right, radius)?;
            left.append(&mut floor);
        } else {
            round(&mut left, &mut right, root_radius)?;
        }
        let mut core =
            vec![Edge::line(on_flank(-1.0, touch + 0.5 * band), on_flank(-1.0, touch - 0.5 * band), seat)];
        core.append(&mut left);
        core.append(&mut right);
        core.push(Edge::line(on_flank(1.0, touch - 0.5 * band), on_flank(1.0, touch + 0.5 * band), seat));
        let groove = self.groove(lowest, Law::Uniform, None);
        Ok(GrooveLine { core, flanks: [Some(along(-1.0)), Some(along(1.0))], flank_tag: flank, groove })
    }
}

struct Slot {
    angle: f64,
    depth: f64,
    corner: f64,
}

/// Splits a line at the contact limits seen from the rope's centre and tags what lies between them.
pub(super) fn mark_contact(chain: Vec<Edge>, centre: Point, contact: (f64, f64), seat: usize) -> Vec<Edge> {
    let angle = |p: Point| (p.z - centre.z).atan2(centre.r - p.r);
    let limits = [-contact.1, -contact.0, contact.0, contact.1];
    let mut marked = Vec::new();
    for edge in chain {
        let mut shares = vec![0.0];
        for limit in limits {
            let over = |t: f64| angle(edge.at(t)) - limit;
            if over(1e-9) * over(1.0 - 1e-9) < 0.0 {
                let (mut low, mut high) = (0.0, 1.0);
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    if over(low) * over(middle) <= 0.0 { high = middle } else { low = middle }
                }
                if low > 1e-6 && low < 1.0 - 1e-6 {
                    shares.push(low);
                }
            }
        }
        shares.push(1.0);
        shares.sort_by(f64::total_cmp);
        // A contact that starts at the bottom has the same limit twice.
        shares.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        for pair in shares.windows(2) {
            let mut part = edge.part(pair[0], pair[1]);
            let middle = angle(part.at(0.5)).abs();
            if middle > contact.0 && middle < contact.1 {
                part.tag = seat;
            }
            marked.push(part);
        }
    }
    marked
}
