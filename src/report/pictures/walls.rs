//! Walls around the rim, groove by groove: readings, the fitted once-around curve, the estimated thin spot.
//!
//! The radius of each picture is the wall from zero, so that a shift of the core looks as large as it is.

use super::axes::{label, round_step};
use crate::report::drawing::{ACCENT, At, GREY, INK, Pen, Sheet, Tie};
use crate::report::paper::Figure;
use crate::section::Kind;
use crate::study::CheckResult;
use crate::survey::thin_spot::{Method, ThinSpot};
use crate::survey::{Survey, Underside, WallEntry};
use crate::units::Kind as Quantity;

const CELL: At = (168.0, 176.0);
const RADIUS: f64 = 50.0;
const COLUMNS: usize = 4;

/// One groove's readings (angle in rad, wall in mm) and fit.
struct Around {
    groove: usize,
    readings: Vec<(f64, f64)>,
    spot: ThinSpot,
}

/// The picture; nothing where no station was read.
pub(in crate::report) fn walls(survey: &Survey, result: &CheckResult) -> Option<Figure> {
    let around: Vec<Around> = result
        .thin_spots
        .iter()
        .enumerate()
        .filter_map(|(index, spot)| {
            let readings = readings(survey, result, index);
            Some(Around { groove: index + 1, readings, spot: spot.clone()? })
        })
        .filter(|around| around.readings.len() > 1)
        .collect();
    let most = around
        .iter()
        .flat_map(|a| a.readings.iter().map(|(_, wall)| *wall).chain([a.spot.mean_mm + a.spot.amplitude_mm]))
        .reduce(f64::max)?;
    let unit = survey.print.unit(Quantity::Length)?;
    let step = round_step(unit.from_inside(most), 3.0);
    let top = step * (unit.from_inside(most) / step * (1.0 - 1e-9)).ceil();
    let rows = around.len().div_ceil(COLUMNS);
    let columns = around.len().min(COLUMNS);
    let mut sheet = Sheet::new(CELL.0 * columns as f64, CELL.1 * rows as f64);
    for (index, one) in around.iter().enumerate() {
        let (column, row) = (index % COLUMNS, index / COLUMNS);
        let mut cell = Sheet::new(CELL.0, CELL.1);
        polar(&mut cell, one, survey, (step, top), unit.to_inside(top));
        sheet.put((column as f64 * CELL.0, row as f64 * CELL.1), cell);
    }
    let caption = format!(
        "Wall as found under each groove, from its datum, around the rim; the distance from the middle is the wall from zero (unit: {}). Angles run clockwise from the mark at 0° on the wheel. Dots: readings. Line: the once-around curve fitted to them. Cross: the estimated thin spot{}.",
        survey.print.name(Quantity::Length),
        if around.iter().any(|a| a.spot.lower_bound_mm.is_some()) {
            ", with its 95 % bound as a short line nearer the middle"
        } else {
            ""
        }
    );
    Some(Figure { name: "walls".into(), svg: sheet.finish(&caption), caption })
}

/// The readings that were fitted: as written, or as measured in the profiles.
fn readings(survey: &Survey, result: &CheckResult, groove: usize) -> Vec<(f64, f64)> {
    if let Underside::Stations { stations, .. } = &survey.walls.underside {
        let wall = |walls: &[WallEntry]| match walls.get(groove) {
            Some(WallEntry::Wall(mm)) => Some(*mm),
            _ => None,
        };
        return stations.iter().filter_map(|s| Some((s.angle_rad, wall(&s.walls)?))).collect();
    }
    // Profiles are measured as found; a cut takes the same from every one of them.
    let taken = result
        .facts
        .grooves
        .iter()
        .find(|fact| fact.groove == groove + 1)
        .map_or(0.0, |fact| fact.depth_judged_mm - fact.depth_now_mm);
    let reading = |place: &crate::study::PlaceResult| match place.kind {
        Kind::Station { angle_rad } => {
            let wall = place.walls.iter().find(|wall| wall.groove == groove + 1)?;
            Some((angle_rad, wall.radial_mm? + taken))
        }
        _ => None,
    };
    result.places.iter().filter_map(reading).collect()
}

fn polar(sheet: &mut Sheet, around: &Around, survey: &Survey, (step, top): (f64, f64), top_mm: f64) {
    let middle = (0.5 * CELL.0, 90.0);
    let at = |angle: f64, wall: f64| {
        let (sin, cos) = angle.sin_cos();
        let r = RADIUS * wall / top_mm;
        (middle.0 + r * sin, middle.1 - r * cos)
    };
    let fine = Pen::new("#dcdcdc", 0.6);
    let rings = (top / step).round() as usize;
    for ring in 1..=rings {
        sheet.circle(middle, RADIUS * ring as f64 / rings as f64, "none", fine);
    }
    for (quarter, name) in [(0.0, "0°"), (90.0, "90°"), (180.0, "180°"), (270.0, "270°")] {
        let angle = f64::to_radians(quarter);
        sheet.line(middle, at(angle, top_mm), fine);
        let (x, y) = at(angle, top_mm);
        let (tie, place) = match quarter as u32 {
            0 => (Tie::Middle, (x, y - 4.0)),
            90 => (Tie::Start, (x + 3.0, y + 4.0)),
            180 => (Tie::Middle, (x, y + 12.0)),
            _ => (Tie::End, (x - 3.0, y + 4.0)),
        };
        sheet.text(place, name, tie, GREY);
    }
    let spot = &around.spot;
    if spot.method != Method::ThinnestReading {
        let curve = |degree: u32| {
            let angle = f64::from(degree).to_radians();
            let wall = spot.mean_mm - spot.amplitude_mm * (angle - spot.thinnest_angle_rad).cos();
            at(angle, wall)
        };
        let points: Vec<At> = (0..=360).step_by(3).map(curve).collect();
        sheet.path(&points, Pen::new(ACCENT, 1.4));
    }
    for (angle, wall) in &around.readings {
        sheet.circle(at(*angle, *wall), 2.4, INK, Pen::new("#ffffff", 0.8));
    }
    let thin = at(spot.thinnest_angle_rad, spot.thinnest_mm);
    for side in [-1.0, 1.0] {
        let pen = Pen::new("#8c2d04", 1.5);
        sheet.line((thin.0 - 4.0, thin.1 - 4.0 * side), (thin.0 + 4.0, thin.1 + 4.0 * side), pen);
    }
    if let Some(bound) = spot.lower_bound_mm {
        let ends = [-0.09, 0.09].map(|turn| at(spot.thinnest_angle_rad + turn, bound));
        sheet.line(ends[0], ends[1], Pen::new("#8c2d04", 1.5));
    }
    // Outside the last ring, where neither a curve nor an angle stands.
    let (x, y) = at(f64::to_radians(42.0), 1.04 * top_mm);
    let ring = format!("{} {}", label(top, step), survey.print.name(Quantity::Length));
    sheet.text((x + 1.0, y), &ring, Tie::Start, GREY);
    sheet.bold((middle.0, 14.0), &format!("groove {}", around.groove), Tie::Middle, INK);
    let print = &survey.print;
    let words = format!(
        "thinnest {} {} at {:.0}°",
        print.number(Quantity::Length, spot.thinnest_mm),
        print.name(Quantity::Length),
        spot.thinnest_angle_rad.to_degrees()
    );
    sheet.text((middle.0, CELL.1 - 8.0), &words, Tie::Middle, INK);
}
