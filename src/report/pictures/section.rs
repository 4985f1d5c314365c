//! The rim's section as a drawing office would draw it: to scale, hatched where it is cut, dimensioned.
//!
//! Solid: the judged state. Dash-dot-dot: grooves as found, where they are cut away (ISO 128: outlines prior to
//! forming). Below every groove stand its depth and the wall that is left under it.

use super::outline::{cut_at, loops, points, strokes};
use crate::geometry::{Edge, Point};
use crate::report::drawing::{ACCENT, At, GREY, INK, PX_PER_MM, Pen, SCALES, Sheet, Tie, text_width};
use crate::report::paper::Figure;
use crate::report::view::{View, standard_scale};
use crate::section::{Groove, Kind, Section, State, tags};
use crate::study::Outcome;
use crate::survey::{GrooveShape, Survey};
use crate::units::Kind as Quantity;

/// Room for the iron itself (px), and around it: left, right, top.
const ROOM: At = (490.0, 236.0);
const LEFT: f64 = 118.0;
const RIGHT: f64 = 58.0;
const TOP: f64 = 64.0;
const ROW: f64 = 15.0;

const WIDE: Pen = Pen::new(INK, 1.5);
const NARROW: Pen = Pen::new(INK, 0.7);
const FOUND: Pen = Pen::dashed(INK, 0.8, "9 2 1.5 2 1.5 2");
const CENTRE: Pen = Pen::dashed(GREY, 0.6, "14 3 3 3");
const AWAY: Pen = Pen::dashed(INK, 0.6, "4 2");
const HATCH: Pen = Pen::new("#9c9a94", 0.5);
const TAKEN: &str = "#d3e4ea";

struct Drawing<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    view: View,
    scale: &'static str,
    sheet: Sheet,
}

/// The picture; `found` is the section as found where a cut is judged.
pub(in crate::report) fn section(survey: &Survey, outcome: &Outcome, found: Option<&Section>) -> Figure {
    section_no_taller(survey, outcome, found, ROOM.1)
}

/// The same with no more room than this for the height of the iron (px): its scale may be smaller.
pub(in crate::report) fn section_no_taller(
    survey: &Survey,
    outcome: &Outcome,
    found: Option<&Section>,
    tall: f64,
) -> Figure {
    let section = &outcome.section;
    let rim = Rim::of(section);
    let part = (rim.high.z - rim.low.z, rim.high.r - rim.low.r);
    // A whole rim or a large part of it: ten times its size is for the workshop's drawing.
    let room = (ROOM.0 / PX_PER_MM, ROOM.1.min(tall) / PX_PER_MM);
    let (scale, name) = standard_scale(&SCALES[1..], part, room);
    let view = View { low: rim.low, high: rim.high, scale: scale * PX_PER_MM, corner: (LEFT, TOP) };
    // Three rows of numbers, on two lines each where neighbours would touch, and the scale below them.
    let size = (LEFT + view.width() + RIGHT, TOP + view.height() + 24.0 + 3.0 * ROW * 1.8 + 26.0);
    let mut drawing =
        Drawing { survey, outcome, view, scale: name, sheet: Sheet::new(size.0.max(430.0), size.1) };
    drawing.iron(found);
    drawing.break_line();
    drawing.middles();
    drawing.walls();
    drawing.depth();
    drawing.pitch();
    drawing.tension();
    let bottom = drawing.rows();
    let end = drawing.foot(bottom);
    drawing.sheet.cut_at(end);
    let caption = drawing.caption(found.is_some());
    let svg = drawing.sheet.finish(&format!("Section of the rim to scale. {caption}"));
    Figure { name: "section".into(), caption, svg }
}

/// The part of the wheel that is drawn: the rim and a stub of what carries it.
struct Rim {
    low: Point,
    high: Point,
}

impl Rim {
    fn of(section: &Section) -> Self {
        let outline = &section.outline;
        let high_r = outline.bounds().1.r;
        let under = |edge: &&Edge| matches!(outline.tag_name(edge), tags::UNDERSIDE | tags::WEB_FILLET);
        let lowest = outline.edges().filter(under).map(|edge| edge.start.r.min(edge.end.r)).reduce(f64::min);
        let grooves = section.grooves.iter().map(|groove| groove.lowest_radius_mm).fold(high_r, f64::min);
        let stub = 0.12 * (high_r - grooves) + 2.0;
        let low_r = lowest.map_or(grooves - 1.2 * (high_r - grooves), |r| r - stub);
        let inside = outline.edges().flat_map(|edge| points(edge, 1.0)).filter(|p| p.r >= low_r);
        let (mut low_z, mut high_z) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in inside {
            (low_z, high_z) = (low_z.min(p.z), high_z.max(p.z));
        }
        Self { low: Point::new(low_r, low_z), high: Point::new(high_r, high_z) }
    }
}

impl Drawing<'_> {
    fn length(&self, mm: f64) -> String {
        let print = &self.survey.print;
        format!("{} {}", print.number(Quantity::Length, mm), print.name(Quantity::Length))
    }

    fn iron(&mut self, found: Option<&Section>) {
        let (section, view) = (&self.outcome.section, self.view);
        if let Some(found) = found {
            self.sheet.area(&loops(&found.outline, &view), TAKEN, Pen::NONE);
        }
        let iron = loops(&section.outline, &view);
        self.sheet.area(&iron, "#ffffff", Pen::NONE);
        self.sheet.hatch(&iron, 7.0, HATCH);
        if let Some(found) = found {
            for edge in found.outline.edges() {
                let middle = edge.at(0.5);
                if section.outline.edges().all(|own| own.distance(middle) > 0.02) {
                    strokes(edge, &view).iter().for_each(|line| self.sheet.path(line, FOUND));
                }
            }
        }
        for edge in section.outline.edges() {
            strokes(edge, &view).iter().for_each(|line| self.sheet.path(line, WIDE));
        }
    }

    /// The line at which the drawing leaves the rest of the wheel out.
    fn break_line(&mut self) {
        let y = self.view.y(self.view.low.r);
        for (from, to) in cut_at(&self.outcome.section.outline, self.view.low.r + 1e-6) {
            let (a, b) = (self.view.x(from) - 7.0, self.view.x(to) + 7.0);
            let middle = 0.5 * (a + b);
            let zigzag = [
                (a, y),
                (middle - 5.0, y),
                (middle - 2.0, y - 6.0),
                (middle + 2.0, y + 6.0),
                (middle + 5.0, y),
                (b, y),
            ];
            self.sheet.path(&zigzag, NARROW);
        }
    }

    /// Middles of the grooves, and across a slot the part of the seat's circle that it takes away: depths and the
    /// rope's place are measured there.
    fn middles(&mut self) {
        for groove in &self.outcome.section.grooves {
            let x = self.view.x(groove.z_mm);
            self.sheet.line((x, TOP - 12.0), (x, self.view.y(groove.lowest_radius_mm) - 2.0), CENTRE);
            if let GrooveShape::Undercut { seat_radius_mm, slot_angle_rad, .. } = groove.shape {
                let centre = Point::new(groove.seat_radius_mm + seat_radius_mm, groove.z_mm);
                let on = |step: i32| {
                    let angle = 0.5 * slot_angle_rad * f64::from(step) / 8.0;
                    Point::new(
                        centre.r - seat_radius_mm * angle.cos(),
                        centre.z + seat_radius_mm * angle.sin(),
                    )
                };
                let arc: Vec<At> = (-8..=8).map(|step| self.view.at(on(step))).collect();
                self.sheet.path(&arc, AWAY);
            }
        }
    }

    /// The wall under every groove as a line with two heads, from the lowest iron to the underside.
    fn walls(&mut self) {
        for groove in &self.outcome.section.grooves {
            let Some(under) = self.underside(groove) else { continue };
            let x = self.view.x(groove.z_mm);
            self.measured((x, self.view.y(groove.lowest_radius_mm)), (x, self.view.y(under)));
        }
    }

    /// The first surface below a groove's lowest iron, along the radius; nothing over a web.
    fn underside(&self, groove: &Groove) -> Option<f64> {
        let walls = &self.outcome.result.places[self.outcome.result.governing.place].walls;
        let solid = walls.iter().any(|wall| wall.groove == groove.number && wall.solid);
        let crossings = self.outcome.section.outline.edges().flat_map(|edge| {
            let line = points(edge, self.view.scale);
            let across = move |pair: &[Point]| {
                let (a, b) = (pair[0], pair[1]);
                ((a.z >= groove.z_mm) != (b.z >= groove.z_mm))
                    .then(|| a.r + (b.r - a.r) * (groove.z_mm - a.z) / (b.z - a.z))
            };
            line.windows(2).filter_map(across).collect::<Vec<f64>>()
        });
        let below = crossings.filter(|r| *r < groove.lowest_radius_mm - 0.5);
        below.reduce(f64::max).filter(|r| !solid && *r > self.view.low.r)
    }

    /// A dimension line between two points.
    fn measured(&mut self, a: At, b: At) {
        let pen = Pen::new(ACCENT, 0.9);
        self.sheet.line(a, b, pen);
        self.sheet.head(b, a, ACCENT);
        self.sheet.head(a, b, ACCENT);
    }

    /// From the rim's edge, the datum, to the finished seats.
    fn depth(&mut self) {
        let section = &self.outcome.section;
        let Some(first) = section.grooves.first() else { return };
        let (edge, seat) = (self.survey.rim.edge_radius_mm, first.seat_radius_mm);
        let (top, bottom) = (self.view.y(edge), self.view.y(seat));
        let (rim, x) = (self.view.x(self.view.low.z), LEFT - 22.0);
        self.sheet.line((rim - 2.0, top), (x - 5.0, top), NARROW);
        self.sheet.line((self.view.x(first.z_mm), bottom), (x - 5.0, bottom), NARROW);
        self.sheet.line((x, top), (x, bottom), NARROW);
        // Heads point inwards from outside where there is little room between them.
        let out = if bottom - top < 16.0 { 12.0 } else { 0.0 };
        if out > 0.0 {
            self.sheet.line((x, top - out), (x, top), NARROW);
            self.sheet.line((x, bottom), (x, bottom + out), NARROW);
            self.sheet.head((x, top - out), (x, top), INK);
            self.sheet.head((x, bottom + out), (x, bottom), INK);
        } else {
            self.sheet.head((x, bottom), (x, top), INK);
            self.sheet.head((x, top), (x, bottom), INK);
        }
        let text = self.length(first.seat_depth_mm);
        self.sheet.text((x - 8.0, 0.5 * (top + bottom) + 4.0), &text, Tie::End, INK);
    }

    /// The pitch between two neighbours, away from the place of the highest tension.
    fn pitch(&mut self) {
        let grooves = &self.outcome.section.grooves;
        let [first, second, ..] = &grooves[..] else { return };
        let peak = self.outcome.result.governing.peak.at.z;
        let last = &grooves[grooves.len() - 2..];
        let middle = 0.5 * (first.z_mm + last[1].z_mm);
        let (a, b) = if peak > middle { (first, second) } else { (&last[0], &last[1]) };
        let (from, to) = (self.view.x(a.z_mm), self.view.x(b.z_mm));
        let y = TOP - 26.0;
        for x in [from, to] {
            self.sheet.line((x, TOP - 18.0), (x, y - 4.0), NARROW);
        }
        self.sheet.line((from, y), (to, y), NARROW);
        self.sheet.head((to, y), (from, y), INK);
        self.sheet.head((from, y), (to, y), INK);
        let text = self.length((b.z_mm - a.z_mm).abs());
        let (wide, at) = (text_width(&text), 0.5 * (from + to));
        if wide + 8.0 < to - from || (peak > middle) == (at < 0.5 * (LEFT + self.view.width())) {
            self.sheet.text((at, y - 5.0), &text, Tie::Middle, INK);
        }
    }

    /// The place of the highest tension with its name above the rim.
    fn tension(&mut self) {
        let governing = &self.outcome.result.governing;
        let at = self.view.at(governing.peak.at);
        if governing.peak.at.r < self.view.low.r {
            return;
        }
        let text = self.survey.print.show_bounded(
            Quantity::Stress,
            governing.peak.principal_mpa[0],
            governing.bound_mpa,
        );
        let text = format!("highest tension {text}");
        let half = 0.5 * text_width(&text) + 4.0;
        let x = at.0.clamp(half, (self.sheet.size().0 - half).max(half));
        let pen = Pen::new("#8c2d04", 1.2);
        self.sheet.line((at.0, 20.0), (at.0, at.1 - 5.5), pen);
        self.sheet.circle(at, 5.5, "none", Pen::new("#ffffff", 3.4));
        self.sheet.circle(at, 5.5, "none", Pen::new("#8c2d04", 1.8));
        self.sheet.circle(at, 1.6, "#8c2d04", Pen::NONE);
        self.sheet.bold((x, 14.0), &text, Tie::Middle, "#8c2d04");
    }

    /// Numbers, depths and walls below their grooves.
    fn rows(&mut self) -> f64 {
        let result = &self.outcome.result;
        let print = &self.survey.print;
        let unit = print.name(Quantity::Length);
        let number = |mm: f64| print.number(Quantity::Length, mm);
        let walls = &result.places[result.governing.place].walls;
        let grooves = &self.outcome.section.grooves;
        let facts = |groove: &Groove| result.facts.grooves.iter().find(|fact| fact.groove == groove.number);
        let wall = |groove: &Groove| match walls.iter().find(|wall| wall.groove == groove.number) {
            Some(wall) if wall.solid => "web".to_owned(),
            Some(wall) => wall.least_mm.map_or("?".to_owned(), number),
            None => "?".to_owned(),
        };
        let mut rows: Vec<(String, Vec<String>)> =
            vec![("groove".into(), grooves.iter().map(|groove| groove.number.to_string()).collect())];
        let depth_now = |groove: &Groove| facts(groove).map_or("?".into(), |fact| number(fact.depth_now_mm));
        rows.push((format!("seat now, {unit}"), grooves.iter().map(depth_now).collect()));
        rows.push((format!("wall left, {unit}"), grooves.iter().map(wall).collect()));
        // Neighbours that would touch stand on two lines by turns.
        let widest =
            rows.iter().flat_map(|(_, cells)| cells).map(|cell| text_width(cell)).fold(0.0, f64::max);
        let apart = self.survey.grooves.pitch_mm * self.view.scale;
        let turns = if widest + 6.0 > apart { 2 } else { 1 };
        let mut y = TOP + self.view.height() + 24.0;
        for (index, (title, cells)) in rows.iter().enumerate() {
            let bold = index == 2;
            let title_at = (LEFT - 12.0, y + 10.0);
            match bold {
                true => self.sheet.bold(title_at, title, Tie::End, INK),
                false => self.sheet.text(title_at, title, Tie::End, INK),
            }
            for (groove, (cell, z)) in cells.iter().zip(grooves.iter().map(|groove| groove.z_mm)).enumerate()
            {
                let at = (self.view.x(z), y + 10.0 + ROW * 0.8 * (groove % turns) as f64);
                match bold {
                    true => self.sheet.bold(at, cell, Tie::Middle, ACCENT),
                    false => self.sheet.text(at, cell, Tie::Middle, INK),
                }
            }
            y += ROW * (1.0 + 0.8 * (turns - 1) as f64);
        }
        y
    }

    /// Scale and a bar of known length.
    fn foot(&mut self, top: f64) -> f64 {
        let inch = self.survey.print.name(Quantity::Length) == "in";
        let unit = if inch { 25.4 } else { 10.0 };
        let most = 0.4 * self.view.width() / self.view.scale;
        let count = [10.0, 5.0, 2.0, 1.0].into_iter().find(|n| n * unit <= most).unwrap_or(0.5);
        let long = count * unit * self.view.scale;
        let y = top + 16.0;
        let from = LEFT + self.view.width() - long;
        for x in [from, from + long] {
            self.sheet.line((x, y - 4.0), (x, y + 4.0), NARROW);
        }
        self.sheet.line((from, y), (from + long, y), WIDE);
        let name = if inch { format!("{count} in") } else { format!("{} mm", count * unit) };
        self.sheet.text((from - 8.0, y + 4.0), &name, Tie::End, GREY);
        self.sheet.text((LEFT, y + 4.0), &format!("scale {}", self.scale), Tie::Start, GREY);
        y + 10.0
    }

    fn caption(&self, found: bool) -> String {
        let result = &self.outcome.result;
        let place = &result.places[result.governing.place].name;
        let state = match (self.outcome.section.state, found) {
            (State::Cut, true) => {
                "after the cut; dash-dot-dot lines: the grooves as found; tinted: what the cut takes away"
            }
            (State::Cut, false) => "after the cut",
            (State::Now, _) => "as found",
        };
        let undercut = |groove: &Groove| matches!(groove.shape, GrooveShape::Undercut { .. });
        let seat = match self.outcome.section.grooves.iter().any(undercut) {
            true => "the bottom of the seat (its circle is dashed across the slot)",
            false => "the bottom of the seat",
        };
        let (walls, kind) = {
            let place = &result.places[result.governing.place];
            (&place.walls, &place.kind)
        };
        let elsewhere = match kind {
            Kind::Station { .. } => " The estimated thin spot may lie elsewhere; its wall stands below.",
            _ => "",
        };
        let solid =
            if walls.iter().any(|wall| wall.solid) { " (web: the groove stands over it)" } else { "" };
        format!(
            "Section of the rim {state}. Place around the rim: {place}. Depths from the rim's edge to {seat}; wall: least iron left below the groove{solid}.{elsewhere}"
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_iron_and_its_margins_fit_on_both_papers() {
        // A drawing that is too wide would be drawn smaller, and its scale would be a lie.
        let wide = (LEFT + ROOM.0 + RIGHT) / PX_PER_MM;
        assert!(wide <= 178.0, "{wide} mm");
    }
}
