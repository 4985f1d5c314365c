//! Stress of the section in bands of colour: the whole section, and the rim larger beside it.

use super::axes::{label, round_step};
use super::outline::{loops, strokes};
use super::palette::{SEQUENTIAL, SIGNED, colour};
use super::regions::at_least;
use crate::elastic::{Solution, Turn, principal_values};
use crate::geometry::{Outline, Point};
use crate::mesh::Mesh;
use crate::report::drawing::{At, GREY, INK, PX_PER_MM, Pen, Sheet, Tie, text_width};
use crate::report::view::View;
use crate::units::{Kind as Quantity, PrintUnits};
use rayon::prelude::*;

/// Angles over which the envelope is taken, besides the governing one.
const ANGLES: usize = 120;
const CHUNK: usize = 256;
/// Room of a window around its section (px).
const RIM: f64 = 8.0;
/// Room of both views (px).
const WHOLE: At = (190.0, 232.0);
const DETAIL: At = (440.0, 232.0);

/// A field on a mesh that is to be drawn.
pub(in crate::report) struct Map<'a> {
    pub outline: &'a Outline,
    pub mesh: &'a Mesh,
    /// MPa at every node of the mesh.
    pub values: &'a [f64],
    /// Whether compression is told from tension.
    pub signed: bool,
    /// Radius from which the rim is drawn larger.
    pub rim_from_mm: f64,
    /// Where the highest tension is.
    pub peak: Point,
    pub print: &'a PrintUnits,
}

/// The principal stress that is largest in size, with its sign, at every node (MPa).
pub(in crate::report) fn stress_at(solution: &Solution, theta_rad: f64) -> Vec<f64> {
    let largest = |node: usize| {
        let [high, _, low] = principal_values(&solution.stress(0, node, theta_rad));
        if high >= -low { high } else { low }
    };
    (0..solution.mesh.nodes.len()).into_par_iter().map(largest).collect()
}

/// The highest tension of a turn at every node (MPa), the governing angle among the angles looked at.
pub(in crate::report) fn envelope(solution: &Solution, governing_rad: f64) -> Vec<f64> {
    let turn = Turn::new(&solution.cases[0], ANGLES);
    let nodes: Vec<usize> = (0..solution.mesh.nodes.len()).collect();
    let chunk = |nodes: &[usize]| {
        let courses = turn.courses(nodes);
        let highest = |column: usize| {
            let course = courses.of(column);
            let at = |row: usize| principal_values(&std::array::from_fn(|c| course[c][row]))[0];
            let turned = (0..ANGLES).map(at).fold(f64::NEG_INFINITY, f64::max);
            turned.max(principal_values(&solution.stress(0, nodes[column], governing_rad))[0])
        };
        (0..nodes.len()).map(highest).collect::<Vec<f64>>()
    };
    nodes.par_chunks(CHUNK).flat_map_iter(chunk).collect()
}

/// The picture.
pub(in crate::report) fn map(map: &Map<'_>, title: &str) -> String {
    let (low, high) = map.outline.bounds();
    let fit = |room: At, (wide, tall): At| (room.0 / wide).min(room.1 / tall);
    let whole_scale = fit(WHOLE, (high.z - low.z, high.r - low.r)).min(2.0 * PX_PER_MM);
    let whole = View { low, high, scale: whole_scale, corner: (14.0, 14.0) };
    let rim_low = Point::new(map.rim_from_mm.max(low.r), low.z);
    let rim_scale = fit(DETAIL, (high.z - low.z, high.r - rim_low.r)).min(5.0 * PX_PER_MM);
    let left = whole.corner.0 + whole.width() + 26.0;
    let rim = View { low: rim_low, high, scale: rim_scale, corner: (left, 14.0) };
    let bands = Bands::of(map);
    let legend_top = 14.0 + whole.height().max(rim.height()) + 16.0;
    // The first label stands in the middle below the first band's edge, however wide it is.
    let legend_left = 0.5 * text_width(bands.labels.first().map_or("", String::as_str)) + 2.0;
    let legend_left = legend_left.max(14.0);
    let width = (left + rim.width() + 14.0).max(bands.width() + 14.0 + legend_left);
    let mut sheet = Sheet::new(width, legend_top + 34.0);
    draw(&mut sheet, map, &bands, whole);
    draw(&mut sheet, map, &bands, rim);
    bands.legend(&mut sheet, (legend_left, legend_top), map.print);
    sheet.finish(title)
}

/// The section in a window of its own, which cuts off what lies below.
fn draw(whole: &mut Sheet, map: &Map<'_>, bands: &Bands, place: View) {
    let view = View { corner: (RIM, RIM), ..place };
    let mut own = Sheet::new(view.width() + 2.0 * RIM, view.height() + 2.0 * RIM);
    let sheet = &mut own;
    let iron = loops(map.outline, &view);
    sheet.area(&iron, &bands.colours[0], Pen::NONE);
    for (level, fill) in bands.levels.iter().zip(&bands.colours[1..]) {
        let areas = drawn(&at_least(map.mesh, map.values, *level), &view);
        if !areas.is_empty() {
            sheet.area(&areas, fill, Pen::NONE);
        }
    }
    if map.signed {
        // In grey a dark colour may mean either sign: compression is ruled over.
        let negated: Vec<f64> = map.values.iter().map(|value| -value).collect();
        let step = bands.step_mpa;
        sheet.hatch(&drawn(&at_least(map.mesh, &negated, step), &view), 6.0, Pen::new("#ffffff", 0.7));
    }
    for edge in map.outline.edges() {
        strokes(edge, &view).iter().for_each(|line| sheet.path(line, Pen::new(INK, 0.9)));
    }
    if map.peak.r >= view.low.r {
        let at = view.at(map.peak);
        sheet.circle(at, 6.0, "none", Pen::new("#ffffff", 3.0));
        sheet.circle(at, 6.0, "none", Pen::new(INK, 1.3));
    }
    whole.window((place.corner.0 - RIM, place.corner.1 - RIM), own);
}

/// Loops on the drawing, without points that nobody could tell apart, and without those below the view.
fn drawn(areas: &[Vec<Point>], view: &View) -> Vec<Vec<At>> {
    let mut kept = Vec::new();
    for area in areas.iter().filter(|area| area.iter().any(|p| p.r >= view.low.r)) {
        let mut points: Vec<At> = Vec::new();
        for p in area {
            let at = view.at(*p);
            let far = |last: &At| (at.0 - last.0).hypot(at.1 - last.1) > 0.35;
            if points.last().is_none_or(far) {
                points.push(at);
            }
        }
        if points.len() > 2 {
            kept.push(points);
        }
    }
    kept
}

/// Levels between bands, and a colour for every band.
struct Bands {
    /// In the program's own unit, from low to high.
    levels: Vec<f64>,
    colours: Vec<String>,
    step_mpa: f64,
    /// The same levels as they are printed.
    labels: Vec<String>,
}

const BAND: At = (36.0, 14.0);

impl Bands {
    fn of(map: &Map<'_>) -> Self {
        let unit = map.print.unit(Quantity::Stress);
        let own = |mpa: f64| unit.map_or(mpa, |unit| unit.from_inside(mpa));
        let inside = |value: f64| unit.map_or(value, |unit| unit.to_inside(value));
        let high = own(map.values.iter().copied().fold(0.0, f64::max)).max(1e-9);
        let low = if map.signed { own(map.values.iter().copied().fold(0.0, f64::min)) } else { 0.0 };
        let step = round_step(high - low, 14.0);
        let (first, last) = ((low / step).floor() as i64, (high / step * (1.0 - 1e-9)).ceil() as i64);
        let marks: Vec<i64> = (first + 1..last).collect();
        let reach = (first.unsigned_abs().max(last.unsigned_abs())) as f64;
        let band = |index: usize| {
            let middle = first as f64 + index as f64 + 0.5;
            if map.signed {
                colour(&SIGNED, 0.5 + 0.5 * middle / reach)
            } else {
                colour(&SEQUENTIAL, middle / (last as f64))
            }
        };
        Self {
            levels: marks.iter().map(|mark| inside(*mark as f64 * step)).collect(),
            colours: (0..=marks.len()).map(band).collect(),
            step_mpa: inside(step),
            labels: (first..=last).map(|mark| label(mark as f64 * step, step)).collect(),
        }
    }

    fn width(&self) -> f64 {
        BAND.0 * self.colours.len() as f64 + 60.0
    }

    fn legend(&self, sheet: &mut Sheet, at: At, print: &PrintUnits) {
        for (index, fill) in self.colours.iter().enumerate() {
            let x = at.0 + BAND.0 * index as f64;
            let corners =
                vec![(x, at.1), (x + BAND.0, at.1), (x + BAND.0, at.1 + BAND.1), (x, at.1 + BAND.1)];
            sheet.area(std::slice::from_ref(&corners), fill, Pen::new(GREY, 0.5));
            if self.labels[index + 1].starts_with('−') {
                sheet.hatch(&[corners], 6.0, Pen::new("#ffffff", 0.7));
            }
        }
        // Every label, or every second one where they would touch; zero is always among them.
        let widest = self.labels.iter().map(|text| text_width(text)).fold(0.0, f64::max);
        let every = if widest + 6.0 > BAND.0 { 2 } else { 1 };
        let zero = self.labels.iter().position(|text| text.parse::<f64>() == Ok(0.0)).unwrap_or(0);
        for (index, text) in
            self.labels.iter().enumerate().filter(|(index, _)| index.abs_diff(zero) % every == 0)
        {
            let x = at.0 + BAND.0 * index as f64;
            sheet.text((x, at.1 + BAND.1 + 14.0), text, Tie::Middle, INK);
        }
        let end = at.0 + BAND.0 * self.colours.len() as f64;
        sheet.text((end + 10.0, at.1 + 11.0), print.name(Quantity::Stress), Tie::Start, INK);
    }
}
