//! The rim's outer side: all grooves with their lands, from one rim edge to the other.

use super::fault::parts;
use super::groove::{Asked, Groove, GrooveLine, mark_contact};
use super::{Lines, SectionFault, State, groove_place_mm, shape_of, tags};
use crate::elastic::Law;
use crate::geometry::{Edge, Outline, Point, fit_profile, round_corner};
use crate::survey::{GrooveShape, Survey};
use crate::units::Kind as Quantity;

/// Width of the flat that is left where two flanks meet (mm): a knife edge would not survive.
const RIDGE_MM: f64 = 1.0;

/// The outer side as edges, the grooves in it, and remarks.
pub(super) struct GrooveSide {
    pub edges: Vec<Edge>,
    pub grooves: Vec<Groove>,
    pub remarks: Vec<String>,
}

/// Builds the outer side from groove shapes.
pub(super) fn from_shapes(
    survey: &Survey,
    state: State,
    outline: &mut Outline,
) -> Result<GrooveSide, Vec<SectionFault>> {
    let edge_radius = survey.rim.edge_radius_mm;
    let mut faults = Vec::new();
    let mut lines: Vec<GrooveLine> = Vec::new();
    for index in 0..survey.grooves.count() {
        let (shape, depth) = shape_of(survey, state, index);
        let asked = Asked {
            number: index + 1,
            z_mm: groove_place_mm(survey, index),
            edge_radius_mm: edge_radius,
            seat_depth_mm: depth,
            rope_diameter_mm: survey.roping.rope_diameter_mm,
            shape: &shape,
        };
        match asked.line(outline) {
            Ok(line) => lines.push(line),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    for index in 1..lines.len() {
        let gap = |lines: &[GrooveLine]| {
            let right = lines[index - 1].core.last().map_or(0.0, |edge| edge.end.z);
            lines[index].core.first().map_or(0.0, |edge| edge.start.z) - right
        };
        let pitch = survey.grooves.pitch_mm;
        // A measured line that reaches near the middle between two grooves has lost its land.
        if gap(&lines) < 0.2 * pitch {
            for (at, right) in [(index - 1, true), (index, false)] {
                let seat = outline.tag(&tags::of(tags::SEAT, lines[at].groove.number));
                lines[at].straighten(right, seat);
            }
        }
    }
    let land = outline.tag(tags::LAND);
    let half = 0.5 * survey.rim.width_mm;
    let mut joiner = Joiner { edge_radius, mouth: survey.grooves.mouth_radius_mm, land, ridges: Vec::new() };
    let mut edges = vec![Edge::line(Point::new(edge_radius, -half), Point::new(edge_radius, -half), land)];
    for index in 0..lines.len() {
        let lower = index.checked_sub(1).map(|i| &lines[i]);
        if let Err(fault) = joiner.join(&mut edges, lower, &lines[index], half) {
            faults.push(fault);
        }
        edges.extend(lines[index].core.iter().copied());
    }
    if let Some(last) = lines.last()
        && let Err(fault) = joiner.close(&mut edges, last, half)
    {
        faults.push(fault);
    }
    if !faults.is_empty() {
        return Err(one_overlap(faults));
    }
    let grooves = lines.into_iter().map(|line| line.groove).collect();
    edges.retain(|edge| edge.length() > 1e-9);
    let remarks = cut_lands(&joiner.ridges, |mm| survey.print.show(Quantity::Length, mm));
    Ok(GrooveSide { edges, grooves, remarks })
}

/// All grooves share their pitch, so the pair that overlaps most speaks for the others.
fn one_overlap(faults: Vec<SectionFault>) -> Vec<SectionFault> {
    let (pairs, mut kept): (Vec<_>, Vec<_>) =
        faults.into_iter().partition(|fault| matches!(fault, SectionFault::Overlap { .. }));
    let below = |fault: &SectionFault| match fault {
        SectionFault::Overlap { below_mm, .. } => *below_mm,
        _ => 0.0,
    };
    let count = pairs.len();
    if let Some(SectionFault::Overlap { left, right, below_mm, .. }) =
        pairs.into_iter().max_by(|a, b| below(a).total_cmp(&below(b)))
    {
        kept.push(SectionFault::Overlap { left, right, below_mm, others: count - 1 });
    }
    kept
}

struct Joiner {
    edge_radius: f64,
    mouth: f64,
    land: usize,
    /// Ridges where a land is cut away: the grooves beside it, and its depth below the rim edge (mm).
    ridges: Vec<([usize; 2], f64)>,
}

/// What is said of lands that are cut away: once for neighbours whose ridges are alike.
fn cut_lands(ridges: &[([usize; 2], f64)], length: impl Fn(f64) -> String) -> Vec<String> {
    const ALIKE_MM: f64 = 0.05;
    let alike =
        |a: &([usize; 2], f64), b: &([usize; 2], f64)| a.0[1] == b.0[0] && (a.1 - b.1).abs() < ALIKE_MM;
    let told = |group: &[([usize; 2], f64)]| {
        let (Some(([from, _], drop)), Some(([_, to], _))) = (group.first(), group.last()) else {
            return String::new();
        };
        match group.len() {
            1 => format!(
                "The land between grooves {from} and {to} is cut away: the ridge between them stands {} below the rim edge.",
                length(*drop)
            ),
            _ => format!(
                "The lands between grooves {from} to {to} are cut away: the ridges between them stand {} below the rim edge.",
                length(*drop)
            ),
        }
    };
    ridges.chunk_by(alike).map(told).collect()
}

impl Joiner {
    /// Where a flank reaches the rim edge.
    fn mouth_of(&self, line: &GrooveLine, right: bool) -> Result<Point, SectionFault> {
        let (foot, side) =
            if right { (line.core[line.core.len() - 1].end, 1) } else { (line.core[0].start, 0) };
        let Some(flank) = line.flanks[side] else { return Ok(Point::new(self.edge_radius, foot.z)) };
        if foot.r >= self.edge_radius - 1e-6 {
            return Err(SectionFault::Shallow {
                number: line.groove.number,
                above_mm: foot.r - self.edge_radius,
            });
        }
        Ok(foot + flank * ((self.edge_radius - foot.r) / flank.r))
    }

    /// From what stands so far to the left foot of `line`.
    fn join(
        &mut self,
        edges: &mut Vec<Edge>,
        before: Option<&GrooveLine>,
        line: &GrooveLine,
        half: f64,
    ) -> Result<(), SectionFault> {
        let left = self.mouth_of(line, false)?;
        let foot = line.core[0].start;
        let Some(before) = before else {
            if left.z <= -half + 1e-6 {
                return Err(SectionFault::RunsOut {
                    number: line.groove.number,
                    need_mm: line.groove.z_mm - left.z,
                    have_mm: line.groove.z_mm + half,
                });
            }
            let mut flank = vec![Edge::line(left, foot, line.flank_tag)];
            let mut land = vec![Edge::line(Point::new(self.edge_radius, -half), left, self.land)];
            self.round(&mut land, &mut flank);
            edges.append(&mut land);
            edges.append(&mut flank);
            return Ok(());
        };
        let right = self.mouth_of(before, true)?;
        let start = before.core[before.core.len() - 1].end;
        let (mut up_end, mut down_start) = (right, left);
        if left.z - right.z < RIDGE_MM {
            (up_end, down_start) = self.ridge(before, line, right, left)?;
        }
        let mut up = vec![Edge::line(start, up_end, before.flank_tag)];
        let mut land = vec![Edge::line(up_end, down_start, self.land)];
        let mut down = vec![Edge::line(down_start, foot, line.flank_tag)];
        if up_end.r >= self.edge_radius - 1e-9 {
            self.round(&mut up, &mut land);
            self.round(&mut land, &mut down);
        }
        edges.append(&mut up);
        edges.append(&mut land);
        edges.append(&mut down);
        Ok(())
    }

    /// Two flanks that meet below the rim edge leave a ridge, broken to a narrow flat.
    fn ridge(
        &mut self,
        before: &GrooveLine,
        line: &GrooveLine,
        right: Point,
        left: Point,
    ) -> Result<(Point, Point), SectionFault> {
        let (start, foot) = (before.core[before.core.len() - 1].end, line.core[0].start);
        let narrower = RIDGE_MM - (left.z - right.z);
        let slope = |from: Point, to: Point| (to.z - from.z).abs() / (to.r - from.r).max(1e-9);
        let drop = narrower / (slope(start, right) + slope(foot, left)).max(1e-9);
        let height = self.edge_radius - drop;
        let highest_foot = start.r.max(foot.r);
        if height <= highest_foot {
            return Err(SectionFault::Overlap {
                left: before.groove.number,
                right: line.groove.number,
                below_mm: highest_foot - height,
                others: 0,
            });
        }
        self.ridges.push(([before.groove.number, line.groove.number], drop));
        let at = |from: Point, to: Point| from.lerp(to, (height - from.r) / (to.r - from.r));
        Ok((at(start, right), at(foot, left)))
    }

    fn close(&mut self, edges: &mut Vec<Edge>, last: &GrooveLine, half: f64) -> Result<(), SectionFault> {
        let right = self.mouth_of(last, true)?;
        if right.z >= half - 1e-6 {
            return Err(SectionFault::RunsOut {
                number: last.groove.number,
                need_mm: right.z - last.groove.z_mm,
                have_mm: half - last.groove.z_mm,
            });
        }
        let start = last.core[last.core.len() - 1].end;
        let mut flank = vec![Edge::line(start, right, last.flank_tag)];
        let mut land = vec![Edge::line(right, Point::new(self.edge_radius, half), self.land)];
        self.round(&mut flank, &mut land);
        edges.append(&mut flank);
        edges.append(&mut land);
        Ok(())
    }

    /// Rounds a mouth; one that does not fit stays sharp, because an outer corner carries no stress.
    fn round(&self, before: &mut Vec<Edge>, after: &mut Vec<Edge>) {
        let kept = (before.clone(), after.clone());
        if round_corner(before, after, self.mouth, self.land).is_err() {
            (*before, *after) = kept;
        }
    }
}

/// Builds the outer side from a measured line; every rope is let down onto it.
pub(super) fn from_line(
    survey: &Survey,
    lines: &Lines,
    outline: &mut Outline,
) -> Result<GrooveSide, Vec<SectionFault>> {
    let tag = outline.tag(tags::LAND);
    let chain = fit_profile(&lines.groove_side, lines.reading_error_mm, lines.corner_radius_mm, tag)
        .map_err(|fault| vec![SectionFault::Fillet { part: parts::GROOVE_SIDE, fault }])?;
    let rope = 0.5 * survey.roping.rope_diameter_mm;
    let mut edges = chain;
    let mut grooves = Vec::new();
    for index in 0..survey.grooves.count() {
        let z = groove_place_mm(survey, index);
        let pitch_radius = rope_height(&edges, z, rope);
        let (contact, shape) = (contact_limits(survey, index), survey.grooves.now[index].clone());
        let centre = Point::new(pitch_radius, z);
        let seat = outline.tag(&tags::of(tags::SEAT, index + 1));
        let own = 0.5 * survey.grooves.pitch_mm;
        let flank = outline.tag(&tags::of(tags::FLANK, index + 1));
        let (near, far): (Vec<Edge>, Vec<Edge>) =
            edges.iter().partition(|edge| (edge.at(0.5).z - z).abs() < own);
        let first = edges.iter().position(|edge| (edge.at(0.5).z - z).abs() < own).unwrap_or(0);
        let lowest = near.iter().map(|e| e.at(0.5).r.min(e.end.r)).fold(f64::INFINITY, f64::min);
        let near = near.into_iter().map(|edge| Edge { tag: flank, ..edge }).collect();
        let marked = mark_contact(near, centre, contact, seat);
        let mut joined = far[..first].to_vec();
        joined.extend(marked);
        joined.extend(far[first..].iter().copied());
        edges = joined;
        grooves.push(Groove {
            number: index + 1,
            z_mm: z,
            seat_depth_mm: survey.rim.edge_radius_mm - (pitch_radius - rope),
            seat_radius_mm: pitch_radius - rope,
            pitch_radius_mm: pitch_radius,
            lowest_radius_mm: lowest,
            shape,
            seat: super::Seat {
                tag: tags::of(tags::SEAT, index + 1),
                law: Law::Cosine { centre },
                contact_rad: Some(contact),
            },
        });
    }
    Ok(GrooveSide { edges, grooves, remarks: Vec::new() })
}

/// Radius at which a rope's centre comes to rest when it is let down at `z`.
fn rope_height(edges: &[Edge], z: f64, rope: f64) -> f64 {
    let mut height = f64::NEG_INFINITY;
    for edge in edges {
        for step in 0..=32 {
            let p = edge.at(f64::from(step) / 32.0);
            let aside = p.z - z;
            if aside.abs() < rope {
                height = height.max(p.r + (rope * rope - aside * aside).sqrt());
            }
        }
    }
    height
}

/// Contact limits at the rope's centre that a groove's stated shape means for its measured line.
fn contact_limits(survey: &Survey, index: usize) -> (f64, f64) {
    let open = |opening: f64| 0.5 * (std::f64::consts::PI - opening);
    match &survey.grooves.now[index] {
        GrooveShape::Round { opening_angle_rad, support_angle_rad, .. } => {
            (0.0, support_angle_rad.unwrap_or(open(*opening_angle_rad)))
        }
        GrooveShape::Undercut { opening_angle_rad, support_angle_rad, slot_angle_rad, .. } => {
            (0.5 * slot_angle_rad, support_angle_rad.unwrap_or(open(*opening_angle_rad)))
        }
        GrooveShape::V { angle_rad, band_width_mm, .. } => {
            let middle = open(*angle_rad);
            let half = band_width_mm / survey.roping.rope_diameter_mm;
            (middle - half, middle + half)
        }
        GrooveShape::Measured { contact_from_rad, contact_to_rad, .. } => {
            (*contact_from_rad, *contact_to_rad)
        }
    }
}
