//! The line of the rim's underside between the web and the rim's sides.

use super::fault::parts;
use super::{Lines, Place, SectionFault};
use crate::geometry::{Edge, Point, fit_profile};
use crate::survey::{Survey, Underside, WallEntry, WallFrom, WallReading};

/// A stretch of underside without a web: from `from` to `to` along z, and where its webs stand.
pub(super) struct Zone {
    pub from: f64,
    pub to: f64,
    /// Web faces that bound it: draft thins the wall away from them.
    pub web_below: bool,
    pub web_above: bool,
    pub side: &'static str,
}

/// The groove side as found, from which readings are counted.
pub(super) struct Datum {
    /// Per groove: axial position, seat-bottom radius and lowest radius as found.
    pub grooves: Vec<[f64; 3]>,
}

impl Datum {
    fn start(&self, survey: &Survey, index: usize) -> f64 {
        match survey.walls.from {
            WallFrom::Seat => self.grooves[index][1],
            WallFrom::SlotBottom => self.grooves[index][2],
        }
    }
}

/// Points (z, r) of the underside in one zone, from its lower to its upper end.
pub(super) fn points(
    survey: &Survey,
    place: &Place,
    datum: &Datum,
    zones: &[Zone],
    zone: usize,
    web: &'static str,
) -> Result<Vec<Point>, SectionFault> {
    let at = &zones[zone];
    if let Some(lines) = &place.lines {
        return Ok(cut_out(lines, at));
    }
    let draft = match &survey.walls.underside {
        Underside::Draft { draft_rad, .. } | Underside::Stations { draft_rad, .. } => draft_rad.tan(),
        _ => 0.0,
    };
    // Along-the-radius wall from a least distance: the underside's slope tilts the shorter way.
    let radial = |wall: f64| match survey.walls.reading {
        WallReading::Radial => wall,
        WallReading::Least => wall * (1.0 + draft * draft).sqrt(),
    };
    let away = |z: f64| match (at.web_below, at.web_above) {
        (true, true) => 0.0,
        (true, false) => z - at.from,
        _ => at.to - z,
    };
    let mut known: Vec<Point> = Vec::new();
    if let Underside::Draft { wall_mm, at_groove, .. } = &survey.walls.underside {
        let index = at_groove - 1;
        let start = datum.start(survey, index);
        let z = datum.grooves[index][0];
        // A reading over the web is the wall that the underside would have there without it.
        let own = zones.iter().map(|zone| outside(zone, z)).fold(f64::INFINITY, f64::min);
        let away_there = zones
            .iter()
            .filter(|zone| outside(zone, z) <= own && own == 0.0)
            .map(|zone| if zone.web_below { z - zone.from } else { zone.to - z })
            .fold(0.0, f64::max);
        let r = start - radial(*wall_mm) + draft * (away(at.from) - away_there);
        known.push(Point::new(r, at.from));
    } else {
        for (index, entry) in place.walls.iter().enumerate() {
            let z = datum.grooves[index][0];
            if let WallEntry::Wall(wall) = entry
                && outside(at, z) == 0.0
            {
                known.push(Point::new(datum.start(survey, index) - radial(*wall), z));
            }
        }
        if known.is_empty() {
            known = mirrored(survey, place, datum, zones, at, draft, &radial)
                .ok_or(SectionFault::NoReading { side: at.side, web })?;
        }
    }
    let (first, last) = (known[0], known[known.len() - 1]);
    let mut line = Vec::new();
    for (end, nearest) in [(at.from, first), (at.to, last)] {
        let r = nearest.r + draft * (away(end) - away(nearest.z));
        line.push(Point::new(r, end));
    }
    let upper = line.pop();
    line.extend(known.into_iter().filter(|p| p.z > at.from + 1e-6 && p.z < at.to - 1e-6));
    line.extend(upper);
    Ok(line)
}

/// How far `z` lies outside a zone.
fn outside(zone: &Zone, z: f64) -> f64 {
    (zone.from - z).max(z - zone.to).max(0.0)
}

/// Without any reading of its own a zone takes the other side's wall at the same distance from the web.
fn mirrored(
    survey: &Survey,
    place: &Place,
    datum: &Datum,
    zones: &[Zone],
    at: &Zone,
    draft: f64,
    radial: &impl Fn(f64) -> f64,
) -> Option<Vec<Point>> {
    let nearest = place
        .walls
        .iter()
        .enumerate()
        .filter_map(|(index, entry)| match entry {
            WallEntry::Wall(wall) => {
                let z = datum.grooves[index][0];
                let away = zones
                    .iter()
                    .filter(|zone| outside(zone, z) == 0.0)
                    .map(|zone| if zone.web_below { z - zone.from } else { zone.to - z })
                    .fold(0.0, f64::max);
                Some((away, datum.start(survey, index) - radial(*wall)))
            }
            _ => None,
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    let (away, r) = nearest;
    let end = if at.web_below { at.from } else { at.to };
    Some(vec![Point::new(r - draft * away, end)])
}

/// The part of a measured wall side that lies in a zone, with interpolated ends.
fn cut_out(lines: &Lines, zone: &Zone) -> Vec<Point> {
    let wall = &lines.wall_side;
    let at = |z: f64| {
        let above = wall.partition_point(|p| p.z < z).clamp(1, wall.len() - 1);
        let (a, b) = (wall[above - 1], wall[above]);
        let share = ((z - a.z) / (b.z - a.z)).clamp(0.0, 1.0);
        Point::new(a.r + share * (b.r - a.r), z)
    };
    let mut line = vec![at(zone.from)];
    line.extend(wall.iter().filter(|p| p.z > zone.from + 1e-6 && p.z < zone.to - 1e-6));
    line.push(at(zone.to));
    line
}

/// Edges along the points in order of increasing z, smooth through them.
pub(super) fn edges(points: &[Point], place: &Place, tag: usize) -> Result<Vec<Edge>, SectionFault> {
    let (error, corner) =
        place.lines.as_ref().map_or((1e-6, 1.0), |lines| (lines.reading_error_mm, lines.corner_radius_mm));
    fit_profile_from(points, error, corner, tag)
        .map_err(|fault| SectionFault::Fillet { part: parts::UNDERSIDE, fault })
}

/// The underside has its body on the other side, so it is fitted in the direction of the outline.
fn fit_profile_from(
    points: &[Point],
    error: f64,
    corner: f64,
    tag: usize,
) -> Result<Vec<Edge>, crate::geometry::FilletFault> {
    let backwards: Vec<Point> = points.iter().rev().copied().collect();
    fit_profile(&backwards, error, corner, tag)
}
