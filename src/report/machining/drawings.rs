//! The drawings of the machining sheet: one finished groove, and the rim with its datums.

use super::dxf::outer_side;
use super::profile::{body as body_of, line, view};
use super::words::{Both, degrees};
use crate::geometry::{Curve, Edge, Point};
use crate::report::drafting::{At, Drawing, Note, Pen, Place, around};
use crate::report::drawing::{ACCENT, GREY, INK, Tie};
use crate::report::paper::Figure;
use crate::report::view::View;
use crate::section::{Groove, Section, State, tags};
use crate::study::{Machining, Outcome};
use crate::survey::{GrooveShape, Survey};
use std::f64::consts::PI;

const WIDTH: f64 = 178.0;
/// What is taken away.
const FOUND: Pen = Pen { colour: INK, width: 0.25, dashes: "9 2 1.5 2 1.5 2" };
const ROPE: Pen = Pen { colour: ACCENT, width: 0.3, dashes: "9 3 2 3" };
/// Below a groove on paper.
const DOWN: f64 = -0.5 * PI;

struct Sheet<'a> {
    drawing: Drawing,
    view: View,
    both: Both<'a>,
}

impl Sheet<'_> {
    /// A length as it stands on a drawing: "0.670 (17.02)".
    fn note(&self, before: &str, mm: f64) -> Note {
        Note::Number(format!("{before}{}", self.both.cell(mm)))
    }

    fn at(&self, r: f64, z: f64) -> At {
        self.view.at(Point::new(r, z))
    }
}

/// The grooves as found, where a section can be drawn of them.
fn found(survey: &Survey, outcome: &Outcome) -> Option<Section> {
    Section::build(survey, State::Now, &outcome.place).ok()
}

/// The finished groove in the middle of the rim, dimensioned.
pub(super) fn groove(survey: &Survey, outcome: &Outcome, cut: &Machining) -> Figure {
    let grooves = &outcome.section.grooves;
    let groove = &grooves[grooves.len() / 2];
    let aside = 0.62 * survey.grooves.pitch_mm.max(cut.rope_diameter_mm);
    let edge = survey.rim.edge_radius_mm;
    let low = Point::new(groove.lowest_radius_mm - 0.25 * cut.tool_depth_mm, groove.z_mm - aside);
    let high = Point::new(edge, groove.z_mm + aside);
    let (wide, scale) = view(low, high, (84.0, 74.0));
    let corner = (0.5 * (WIDTH - wide.width()), 21.0);
    let view = View { corner, ..wide };
    let height = corner.1 + view.height() + 3.0;
    let mut sheet = Sheet { drawing: Drawing::new(WIDTH, height), view, both: Both(&survey.print) };
    let finished = line(&view, &outer_side(&outcome.section));
    let mut body = finished.clone();
    body.extend([(view.x(high.z), view.y(low.r)), (view.x(low.z), view.y(low.r))]);
    sheet.drawing.cut_open(&[&body], &finished, 2.6);
    if let Some(found) = found(survey, outcome) {
        sheet.drawing.path(&line(&view, &outer_side(&found)), FOUND);
    }
    let middle = view.x(groove.z_mm);
    // The middle ends above the number of the slot's width.
    let end = view.y(groove.lowest_radius_mm) + 2.5;
    sheet.drawing.line((middle, corner.1 - 14.0), (middle, end), Pen::CENTRE);
    let rope = sheet.at(groove.pitch_radius_mm, groove.z_mm);
    sheet.drawing.circle(rope, 0.5 * cut.rope_diameter_mm * view.scale, "none", ROPE);
    depths(&mut sheet, groove, edge);
    match groove.shape {
        GrooveShape::Round { seat_radius_mm, opening_angle_rad, .. } => {
            seat(&mut sheet, groove, seat_radius_mm);
            flanks(
                &mut sheet,
                groove,
                edge,
                groove.seat_radius_mm + seat_radius_mm - seat_radius_mm / (0.5 * opening_angle_rad).sin(),
                opening_angle_rad,
            );
        }
        GrooveShape::Undercut {
            seat_radius_mm,
            opening_angle_rad,
            slot_angle_rad,
            slot_corner_radius_mm,
            ..
        } => {
            seat(&mut sheet, groove, seat_radius_mm);
            flanks(
                &mut sheet,
                groove,
                edge,
                groove.seat_radius_mm + seat_radius_mm - seat_radius_mm / (0.5 * opening_angle_rad).sin(),
                opening_angle_rad,
            );
            slot(&mut sheet, groove, seat_radius_mm * (0.5 * slot_angle_rad).sin(), slot_corner_radius_mm);
        }
        GrooveShape::V { angle_rad, root_radius_mm, .. } => {
            let rope = 0.5 * cut.rope_diameter_mm;
            flanks(
                &mut sheet,
                groove,
                edge,
                groove.pitch_radius_mm - rope / (0.5 * angle_rad).sin(),
                angle_rad,
            );
            root(&mut sheet, &outcome.section, groove, root_radius_mm);
        }
        GrooveShape::Measured { .. } => {}
    }
    let [own, beside] = sheet.both.units();
    sheet.drawing.words(
        (2.0, height - 2.0),
        &format!("scale {scale}; {own} ({beside})"),
        Tie::Start,
        GREY,
        0.0,
    );
    let caption = format!(
        "Groove {} finished, in section at {scale} on paper. Dash-dot-dot: as found. Numbers: {own} ({beside}). Every other groove alike.",
        groove.number
    );
    Figure { name: "groove".into(), svg: sheet.drawing.finish(&caption), caption }
}

/// Seat and lowest iron below the rim edge, and the datum.
fn depths(sheet: &mut Sheet<'_>, groove: &Groove, edge: f64) {
    let (left, right) = (sheet.view.x(sheet.view.low.z), sheet.view.x(sheet.view.high.z));
    let top = sheet.view.y(edge);
    let seat = sheet.at(groove.seat_radius_mm, groove.z_mm);
    let note = sheet.note("", groove.seat_depth_mm);
    sheet.drawing.length((left, top), seat, Place::Upright(left - 10.0), &note);
    sheet.drawing.line((left - 2.0, top), (left - 24.0, top), Pen::THIN);
    sheet.drawing.datum((left - 19.0, top), true, "A");
    let room = groove.seat_radius_mm - groove.lowest_radius_mm;
    if room > 0.05 {
        let lowest = sheet.at(groove.lowest_radius_mm, groove.z_mm);
        let note = sheet.note("", room);
        // Counted upwards, so that a number without room stands above.
        sheet.drawing.length(lowest, seat, Place::Upright(right + 10.0), &note);
    }
}

fn seat(sheet: &mut Sheet<'_>, groove: &Groove, radius: f64) {
    let centre = sheet.at(groove.seat_radius_mm + radius, groove.z_mm);
    let scaled = radius * sheet.view.scale;
    let note = sheet.note("R ", radius);
    // From above the right ridge through the seat's centre onto its left side, above the slot.
    let angle = DOWN - 0.95;
    let tip = around(centre, scaled, angle);
    let level = sheet.view.corner.1 - 8.0;
    let along = (centre.1 - level) / (angle + PI).sin();
    sheet.drawing.pointed(around(centre, along, angle + PI), tip, &note);
}

/// The angle between the flanks, above the rim edge; `apex` is the radius at which their lines meet.
fn flanks(sheet: &mut Sheet<'_>, groove: &Groove, edge: f64, apex: f64, opening: f64) {
    let meet = sheet.at(apex, groove.z_mm);
    let half = 0.5 * opening;
    let to_edge = (edge - apex) * sheet.view.scale / half.cos();
    let radius = to_edge + 9.0;
    for side in [-1.0, 1.0] {
        let way = |along: f64| around(meet, along, 0.5 * PI + side * half);
        sheet.drawing.line(way(to_edge + 0.6), way(radius + 1.5), Pen::THIN);
    }
    sheet.drawing.angle(meet, radius, (0.5 * PI - half, 0.5 * PI + half), &Note::Number(degrees(opening)));
}

fn slot(sheet: &mut Sheet<'_>, groove: &Groove, half: f64, corner: f64) {
    let floor = groove.lowest_radius_mm;
    let y = sheet.view.y(floor);
    let (left, right) = (sheet.view.x(groove.z_mm - half), sheet.view.x(groove.z_mm + half));
    let wall = y - corner * sheet.view.scale - 1.0;
    let note = sheet.note("", 2.0 * half);
    sheet.drawing.length((left, wall), (right, wall), Place::Level(y + 7.0), &note);
    let centre = sheet.at(floor + corner, groove.z_mm - half + corner);
    let tip = around(centre, corner * sheet.view.scale, 1.25 * PI);
    let note = sheet.note("R ", corner);
    sheet.drawing.pointed((sheet.view.x(sheet.view.low.z) - 4.0, y + 9.0), tip, &note);
}

fn root(sheet: &mut Sheet<'_>, section: &Section, groove: &Groove, radius: f64) {
    let (outline, tag) = (&section.outline, tags::of(tags::ROOT, groove.number));
    let round = |edge: &&Edge| outline.tag_name(edge) == tag && matches!(edge.curve, Curve::Arc { .. });
    let Some(corner) = outline.edges().find(round) else { return };
    let tip = sheet.view.at(corner.at(0.5));
    let note = sheet.note("R ", radius);
    sheet.drawing.pointed((sheet.view.x(sheet.view.low.z) - 4.0, tip.1 + 9.0), tip, &note);
}

/// The rim with its datums and where the grooves lie.
pub(super) fn rim(survey: &Survey, outcome: &Outcome, cut: &Machining) -> Figure {
    let section = &outcome.section;
    let outline = &section.outline;
    let edge = survey.rim.edge_radius_mm;
    let under = |edge: &&Edge| matches!(outline.tag_name(edge), tags::UNDERSIDE | tags::WEB_FILLET);
    let lowest = outline.edges().filter(under).map(|edge| edge.start.r.min(edge.end.r)).reduce(f64::min);
    let low_r = lowest.unwrap_or(edge - 2.2 * cut.tool_depth_mm) - 6.0;
    let half = 0.5 * cut.rim_width_mm;
    let (wide, scale) = view(Point::new(low_r, -half), Point::new(edge, half), (122.0, 70.0));
    let view = View { corner: (0.5 * (WIDTH - wide.width()), 20.0), ..wide };
    let height = view.corner.1 + view.height() + 12.0;
    let mut sheet = Sheet { drawing: Drawing::new(WIDTH, height), view, both: Both(&survey.print) };
    let loops: Vec<Vec<At>> =
        outline.loops.iter().map(|edges| body_of(&view, edges)).filter(|p| p.len() > 2).collect();
    let slices: Vec<&[At]> = loops.iter().map(Vec::as_slice).collect();
    sheet.drawing.cut(&slices, 2.4);
    if let Some(found) = found(survey, outcome) {
        sheet.drawing.path(&line(&view, &outer_side(&found)), FOUND);
    }
    let (top, left) = (view.y(edge), view.x(-half));
    let first = &section.grooves[0];
    let note = sheet.note("", half + first.z_mm);
    sheet.drawing.length((left, top), (view.x(first.z_mm), top), Place::Level(top - 8.0), &note);
    if let Some(second) = section.grooves.get(1) {
        let note = sheet.note("", second.z_mm - first.z_mm);
        let above = top - 15.0;
        sheet.drawing.length(
            (view.x(first.z_mm), top - 7.0),
            (view.x(second.z_mm), top),
            Place::Level(above),
            &note,
        );
    }
    let bottom = view.y(low_r);
    let note = sheet.note("", cut.rim_width_mm);
    let side = view.y(edge - 0.6 * cut.tool_depth_mm);
    sheet.drawing.length((left, side), (view.x(half), side), Place::Level(bottom + 8.0), &note);
    for groove in &section.grooves {
        let at = sheet.at(groove.lowest_radius_mm, groove.z_mm);
        sheet.drawing.line((at.0, top - 3.0), (at.0, at.1 + 2.0), Pen::CENTRE);
        sheet.drawing.words((at.0, at.1 + 6.0), &groove.number.to_string(), Tie::Middle, INK, 0.0);
    }
    let right = view.x(half);
    sheet.drawing.line((right + 1.0, top), (right + 16.0, top), Pen::THIN);
    sheet.drawing.datum((right + 12.0, top), true, "A");
    sheet.drawing.datum_aside((left, 0.5 * (top + side) + 3.0), "C");
    let [own, beside] = sheet.both.units();
    sheet.drawing.words(
        (2.0, height - 2.0),
        &format!("scale {scale}; {own} ({beside})"),
        Tie::Start,
        GREY,
        0.0,
    );
    let place = &outcome.result.places[outcome.result.governing.place].name;
    let caption = format!(
        "The rim finished, in section at {scale} on paper; dash-dot-dot: as found. The underside is drawn for the place that governs ({place}). Datum A: rim edge; C: side of the rim nearest to groove 1."
    );
    Figure { name: "rim".into(), svg: sheet.drawing.finish(&caption), caption }
}
