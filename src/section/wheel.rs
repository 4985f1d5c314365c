//! The whole outline: outer side, underside, web or webs, hub and bore, by the kind of wheel.

use super::fault::parts;
use super::groove_side::{GrooveSide, from_line, from_shapes};
use super::underside::{Datum, Zone, edges as underside_edges, points};
use super::wall::measure;
use super::{Place, Section, SectionFault, State, tags};
use crate::geometry::{Edge, Outline, Point, round_corner};
use crate::survey::{Hub, Side, Survey, Web, Wheel};

pub(super) fn build(survey: &Survey, state: State, place: &Place) -> Result<Section, Vec<SectionFault>> {
    let mut outline = Outline { loops: Vec::new(), tags: Vec::new() };
    let side = match (&place.lines, state) {
        (Some(lines), State::Now) => from_line(survey, lines, &mut outline)?,
        _ => from_shapes(survey, state, &mut outline)?,
    };
    let datum = datum(survey, place).map_err(|faults| match state {
        State::Now => faults,
        State::Cut => faults.into_iter().map(|fault| SectionFault::AsFound(Box::new(fault))).collect(),
    })?;
    let one = |fault: SectionFault| vec![fault];
    let mut shell = Shell { survey, place, datum, outline, half: 0.5 * survey.rim.width_mm };
    let support = match &survey.wheel {
        Wheel::SolidDisc { bore_radius_mm } => {
            shell.solid(&side, *bore_radius_mm);
            Support {
                tag: tags::BORE,
                fence: bore_radius_mm * 1.05,
                reason: "the bore, where the shaft holds the disc",
            }
        }
        Wheel::OneWeb { web, hub } => {
            shell.webbed(&side, web, web, hub).map_err(one)?;
            Support::hub(web, hub)
        }
        Wheel::TwoWebs { webs, hub } => {
            shell.webbed(&side, &webs[0], &webs[1], hub).map_err(one)?;
            shell.cavity(&webs[0], &webs[1], hub).map_err(one)?;
            Support::hub(&webs[1], hub)
        }
        Wheel::BoltedRim { .. } => {
            let fence = shell.bolted(&side).map_err(one)?;
            Support {
                tag: tags::BOLTED_FACE,
                fence,
                reason: "the bolted flange, where bolts and seating hold the rim",
            }
        }
    };
    let outline = shell.outline;
    let faults: Vec<SectionFault> = outline.faults().into_iter().map(SectionFault::outline).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let walls: Vec<_> =
        side.grooves.iter().map(|groove| measure(&outline, groove, over_web(survey, groove.z_mm))).collect();
    let thin: Vec<SectionFault> = walls
        .iter()
        .filter(|wall| wall.least_mm.is_some_and(|least| least < 0.5))
        .map(|wall| SectionFault::NoWall { number: wall.groove, wall_mm: wall.least_mm.unwrap_or(0.0) })
        .collect();
    if !thin.is_empty() {
        return Err(thin);
    }
    Ok(Section {
        outline,
        state,
        grooves: side.grooves,
        walls,
        fence_radius_mm: support.fence,
        fence_reason: support.reason.to_owned(),
        support: support.tag.to_owned(),
        remarks: side.remarks,
    })
}

struct Support {
    tag: &'static str,
    fence: f64,
    reason: &'static str,
}

impl Support {
    fn hub(web: &Web, hub: &Hub) -> Self {
        Self {
            tag: tags::BORE,
            fence: hub.radius_mm + web.hub_fillet_mm,
            reason: "the hub with its fillets, whose stresses come from the shaft's fit",
        }
    }
}

/// Whether a groove at `z` stands over a web.
pub(super) fn over_web(survey: &Survey, z: f64) -> bool {
    let over = |place: f64, thickness: f64| (z - place).abs() <= 0.5 * thickness;
    match &survey.wheel {
        Wheel::SolidDisc { .. } => true,
        Wheel::OneWeb { web, .. } => over(web.place_mm, web.thickness_mm),
        Wheel::TwoWebs { webs, .. } => webs.iter().any(|web| over(web.place_mm, web.thickness_mm)),
        Wheel::BoltedRim { flange } => over(flange.place_mm, flange.thickness_mm),
    }
}

/// The grooves as found: readings of the wall start there, whatever is cut later.
fn datum(survey: &Survey, place: &Place) -> Result<Datum, Vec<SectionFault>> {
    let mut scratch = Outline { loops: Vec::new(), tags: Vec::new() };
    let found = match &place.lines {
        Some(lines) => from_line(survey, lines, &mut scratch)?,
        None => from_shapes(survey, State::Now, &mut scratch)?,
    };
    let grooves = found.grooves.iter().map(|g| [g.z_mm, g.seat_radius_mm, g.lowest_radius_mm]).collect();
    Ok(Datum { grooves })
}

struct Shell<'a> {
    survey: &'a Survey,
    place: &'a Place,
    datum: Datum,
    outline: Outline,
    half: f64,
}

impl Shell<'_> {
    fn solid(&mut self, side: &GrooveSide, bore: f64) {
        let (rim_side, bore_tag) = (self.outline.tag(tags::RIM_SIDE), self.outline.tag(tags::BORE));
        let mut edges = side.edges.clone();
        let (first, last) = (edges[0].start, edges[edges.len() - 1].end);
        let corner = [Point::new(bore, last.z), Point::new(bore, first.z)];
        edges.push(Edge::line(last, corner[0], rim_side));
        edges.push(Edge::line(corner[0], corner[1], bore_tag));
        edges.push(Edge::line(corner[1], first, rim_side));
        self.outline.loops.push(edges);
    }

    fn underside(
        &mut self,
        zones: &[Zone],
        zone: usize,
        web: &'static str,
    ) -> Result<Vec<Edge>, SectionFault> {
        let tag = self.outline.tag(tags::UNDERSIDE);
        let line = points(self.survey, self.place, &self.datum, zones, zone, web)?;
        underside_edges(&line, self.place, tag)
    }

    fn fillet(
        &mut self,
        before: &mut Vec<Edge>,
        after: &mut Vec<Edge>,
        radius: f64,
        name: &str,
        part: &'static str,
    ) -> Result<(), SectionFault> {
        let tag = self.outline.tag(name);
        round_corner(before, after, radius, tag).map_err(|fault| SectionFault::Fillet { part, fault })
    }

    /// The overhangs on both sides of the web or webs.
    fn overhangs(&self, low_face: f64, high_face: f64) -> [Zone; 2] {
        let zone = |from, to, below: bool, side| Zone { from, to, web_below: below, web_above: !below, side };
        [zone(-self.half, low_face, false, "groove 1"), zone(high_face, self.half, true, "the last groove")]
    }

    /// Outer loop of a wheel whose lowest and highest web faces are those of `low` and `high`.
    fn webbed(&mut self, side: &GrooveSide, low: &Web, high: &Web, hub: &Hub) -> Result<(), SectionFault> {
        let (low_face, high_face) =
            (low.place_mm - 0.5 * low.thickness_mm, high.place_mm + 0.5 * high.thickness_mm);
        let (hub_low, hub_high) = (hub.place_mm - 0.5 * hub.length_mm, hub.place_mm + 0.5 * hub.length_mm);
        if hub_low > low_face - low.hub_fillet_mm || hub_high < high_face + high.hub_fillet_mm {
            return Err(SectionFault::Wheel {
                key: "hub_length",
                reason: "the hub ends within the thickness of the web and its fillets",
            });
        }
        let zones = self.overhangs(low_face, high_face);
        let mut under_high = self.underside(&zones, 1, "web")?;
        let mut under_low = self.underside(&zones, 0, "web")?;
        let [web, hub_tag, bore] = [tags::WEB, tags::HUB, tags::BORE].map(|t| self.outline.tag(t));
        let p = Point::new;
        let high_start = under_high[under_high.len() - 1].end;
        let mut web_high = vec![Edge::line(high_start, p(hub.radius_mm, high_face), web)];
        let mut hub_top = vec![Edge::line(p(hub.radius_mm, high_face), p(hub.radius_mm, hub_high), hub_tag)];
        let rest = [
            Edge::line(p(hub.radius_mm, hub_high), p(hub.bore_radius_mm, hub_high), hub_tag),
            Edge::line(p(hub.bore_radius_mm, hub_high), p(hub.bore_radius_mm, hub_low), bore),
            Edge::line(p(hub.bore_radius_mm, hub_low), p(hub.radius_mm, hub_low), hub_tag),
        ];
        let mut hub_bottom = vec![Edge::line(p(hub.radius_mm, hub_low), p(hub.radius_mm, low_face), hub_tag)];
        let low_start = under_low[0].start;
        let mut web_low = vec![Edge::line(p(hub.radius_mm, low_face), low_start, web)];
        let (rim, foot) = (parts::RIM_FILLET, parts::HUB_FILLET);
        self.fillet(&mut under_high, &mut web_high, high.rim_fillet_mm, tags::WEB_FILLET, rim)?;
        self.fillet(&mut web_high, &mut hub_top, high.hub_fillet_mm, tags::HUB_FILLET, foot)?;
        self.fillet(&mut hub_bottom, &mut web_low, low.hub_fillet_mm, tags::HUB_FILLET, foot)?;
        self.fillet(&mut web_low, &mut under_low, low.rim_fillet_mm, tags::WEB_FILLET, rim)?;
        let mut inner = under_high;
        inner.append(&mut web_high);
        inner.append(&mut hub_top);
        inner.extend(rest);
        inner.append(&mut hub_bottom);
        inner.append(&mut web_low);
        inner.append(&mut under_low);
        self.close(side, inner);
        Ok(())
    }

    /// Joins outer side and inner line by the rim's two sides.
    fn close(&mut self, side: &GrooveSide, inner: Vec<Edge>) {
        let rim_side = self.outline.tag(tags::RIM_SIDE);
        let mut edges = side.edges.clone();
        let (first, last) = (edges[0].start, edges[edges.len() - 1].end);
        edges.push(Edge::line(last, inner[0].start, rim_side));
        let end = inner[inner.len() - 1].end;
        edges.extend(inner);
        edges.push(Edge::line(end, first, rim_side));
        self.outline.loops.push(edges);
    }

    /// The cored cavity between two webs, as a hole.
    fn cavity(&mut self, low: &Web, high: &Web, hub: &Hub) -> Result<(), SectionFault> {
        let (from, to) = (low.place_mm + 0.5 * low.thickness_mm, high.place_mm - 0.5 * high.thickness_mm);
        if to - from < low.rim_fillet_mm + high.rim_fillet_mm {
            return Err(SectionFault::Wheel {
                key: "web[2].place",
                reason: "between the two webs no room is left for their fillets",
            });
        }
        let zones = [Zone { from, to, web_below: true, web_above: true, side: "the cavity" }];
        let mut under = self.underside(&zones, 0, "webs")?;
        let [web, hub_tag] = [tags::WEB, tags::HUB].map(|t| self.outline.tag(t));
        let p = Point::new;
        let mut floor = vec![Edge::line(p(hub.radius_mm, from), p(hub.radius_mm, to), hub_tag)];
        let mut web_high = vec![Edge::line(p(hub.radius_mm, to), under[0].start, web)];
        let mut web_low = vec![Edge::line(under[under.len() - 1].end, p(hub.radius_mm, from), web)];
        let (rim, foot) = (parts::RIM_FILLET, parts::HUB_FILLET);
        self.fillet(&mut floor, &mut web_high, high.hub_fillet_mm, tags::HUB_FILLET, foot)?;
        self.fillet(&mut web_high, &mut under, high.rim_fillet_mm, tags::WEB_FILLET, rim)?;
        self.fillet(&mut under, &mut web_low, low.rim_fillet_mm, tags::WEB_FILLET, rim)?;
        self.fillet(&mut web_low, &mut floor, low.hub_fillet_mm, tags::HUB_FILLET, foot)?;
        let mut edges = floor;
        edges.append(&mut web_high);
        edges.append(&mut under);
        edges.append(&mut web_low);
        self.outline.loops.push(edges);
        Ok(())
    }

    /// A rim ring on a flange; returns the radius below which nothing is judged.
    fn bolted(&mut self, side: &GrooveSide) -> Result<f64, SectionFault> {
        let Wheel::BoltedRim { flange } = &self.survey.wheel else {
            return Err(SectionFault::Wheel { key: "kind", reason: "the wheel is no bolted rim" });
        };
        let (low, high) =
            (flange.place_mm - 0.5 * flange.thickness_mm, flange.place_mm + 0.5 * flange.thickness_mm);
        let zones = self.overhangs(low, high);
        let mut under_high = self.underside(&zones, 1, "flange")?;
        let mut under_low = self.underside(&zones, 0, "flange")?;
        let [web, face] = [tags::WEB, tags::BOLTED_FACE].map(|t| self.outline.tag(t));
        let p = Point::new;
        let (inner, seating) = (flange.inner_radius_mm, flange.seating_radius_mm);
        let (high_start, low_start) = (under_high[under_high.len() - 1].end, under_low[0].start);
        let on_low = flange.seating_side == Side::Groove1;
        let mut face_high = vec![Edge::line(high_start, p(seating, high), web)];
        let mut face_low = vec![Edge::line(p(seating, low), low_start, web)];
        let rest = [
            Edge::line(p(seating, high), p(inner, high), if on_low { web } else { face }),
            Edge::line(p(inner, high), p(inner, low), web),
            Edge::line(p(inner, low), p(seating, low), if on_low { face } else { web }),
        ];
        let part = parts::FLANGE_FILLET;
        self.fillet(&mut under_high, &mut face_high, flange.rim_fillet_mm, tags::WEB_FILLET, part)?;
        self.fillet(&mut face_low, &mut under_low, flange.rim_fillet_mm, tags::WEB_FILLET, part)?;
        let mut edges = under_high;
        edges.append(&mut face_high);
        edges.extend(rest);
        edges.append(&mut face_low);
        edges.append(&mut under_low);
        self.close(side, edges);
        // The end of a held face is a singular place of the model; one thickness keeps clear of it.
        Ok(seating + flange.thickness_mm)
    }
}
