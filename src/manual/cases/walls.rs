//! Geometry of the section: the wall left under grooves, and curves through measured points.

use super::sheet::{Sheet, drafted, seat};
use crate::geometry::{Point, fit_profile};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::section::{Kind, Place, Section, State, WallLeft};

const PLANE: Source = Source::exact("Plane geometry: a circle beside a line");
const CIRCLE: Source = Source::exact("The circle on which the points lie");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "wall-left",
        title: "Wall left under round seats over a sloping underside",
        chapter: Chapter::Measurements,
        about: "One web in the middle of the rim, three round seats, one wall read along the radius under the first of \
                them, and an underside that rises away from the web. The least wall follows from the seat's circle \
                and the line below it; a cut takes its depth off the wall that was read.",
        features: &[Feature::WallLeft, Feature::RoundSeats, Feature::OneWeb],
        run: wall_left,
    },
    Case {
        name: "curve-through-points",
        title: "Curve through points on a circle, with reading errors",
        chapter: Chapter::Measurements,
        about: "Points of a groove's circle, each off by no more than the stated reading error. The fitted chain of \
                arcs must stay as near to the circle as the readings are.",
        features: &[Feature::ProfileFit],
        run: curve,
    },
];

fn wall_left() -> Result<Record, CaseFault> {
    let (wall, radius, depth, deeper, pitch) = (17.0, 6.9, 10.0, 12.5, 20.0);
    let mut rows = Vec::new();
    for draft in [0.0f64, 3.0, 8.0] {
        let mut sheet = Sheet::new(1000.0, 800.0, 3);
        sheet.groove = seat(30.0, 0.0, radius);
        sheet.seat_depth_mm = vec![depth; 3];
        sheet.walls = drafted(draft, wall);
        sheet.cut = format!("plan = \"to depth\"\ndepth = \"{deeper} mm\"");
        let survey = sheet.read()?;
        let place = Place { kind: Kind::Uniform, walls: Vec::new(), lines: None };
        for (state, taken, name) in [(State::Now, 0.0, "now"), (State::Cut, deeper - depth, "after the cut")]
        {
            let section = Section::build(&survey, state, &place)
                .map_err(|faults| CaseFault::Other(format!("{faults:?}")))?;
            let slope = draft.to_radians();
            // From the middle of the seat's circle to the line, less the circle's radius.
            let least = (wall - taken + radius) * slope.cos() - radius;
            let reason = "the outline's own rounding";
            let step =
                "the least distance is looked for at points along the seat, whose spacing leaves this much";
            let at = |number: usize| section.walls.iter().find(|wall| wall.groove == number);
            for number in [1, 3] {
                let what = format!("draft {draft}°, groove {number}, {name}");
                let found = |get: fn(&WallLeft) -> Option<f64>| at(number).and_then(get).unwrap_or(f64::NAN);
                let radial = Row::new(
                    format!("{what}: wall along the radius"),
                    "mm",
                    PLANE,
                    wall - taken,
                    found(|w| w.radial_mm),
                );
                rows.push(radial.within(Tolerance::Absolute(1e-6), reason));
                let row = Row::new(format!("{what}: least wall"), "mm", PLANE, least, found(|w| w.least_mm));
                // Half a step of the 32 along a seat of less than half a circle, seen across the circle.
                let spacing = std::f64::consts::PI / 64.0;
                rows.push(row.within(Tolerance::Absolute(radius * (1.0 - spacing.cos())), step));
            }
            let solid = f64::from(u8::from(at(2).is_some_and(|wall| wall.solid)));
            let what = format!("draft {draft}°, {name}: 1 when the groove over the web counts as solid");
            rows.push(Row::new(what, "", PLANE, 1.0, solid).within(Tolerance::Absolute(0.0), "yes or no"));
        }
    }
    let fact = format!(
        "Seat radius {radius} mm, pitch {pitch} mm, wall read {wall} mm; cut from {depth} to {deeper} mm."
    );
    Ok(Record::of_rows(rows).fact(fact))
}

fn curve() -> Result<Record, CaseFault> {
    let (radius, centre) = (6.5, Point::new(253.0, 4.0));
    let mut rows = Vec::new();
    for error in [0.0f64, 0.05, 0.1] {
        // Readings alternate between both ends of their error: the worst that it allows.
        let point = |i: i32| {
            let off = if i % 2 == 0 { error } else { -error };
            centre + Point::unit((100.0 + 8.0 * f64::from(i)).to_radians()) * (radius + off)
        };
        let points: Vec<Point> = (0..=20).map(point).collect();
        let edges = fit_profile(&points, error, 1.0, 0).map_err(CaseFault::of)?;
        let steps = (0..=50).map(|i| f64::from(i) / 50.0);
        let worst = edges
            .iter()
            .flat_map(|edge| steps.clone().map(|t| (edge.at(t).distance(centre) - radius).abs()))
            .fold(0.0, f64::max);
        let what = format!(
            "reading error {error} mm: the circle's radius with the curve's largest distance from it"
        );
        let reason = "the readings' own error, once for the points and once for what may be smoothed away";
        let allowed = if error == 0.0 { 1e-6 } else { 2.0 * error };
        rows.push(
            Row::new(what, "mm", CIRCLE, radius, radius + worst)
                .within(Tolerance::Absolute(allowed), reason)
                .or_below(),
        );
    }
    Ok(Record::of_rows(rows).fact(format!("Circle of {radius} mm, {} points 8° apart.", 21)))
}
