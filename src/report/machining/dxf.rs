//! The finished grooves as a DXF drawing at 1:1, in mm, for the tool's grinder and the lathe.
//!
//! Layers are named by what they show; only `FINISHED_OUTLINE` is to be cut. x runs along the shaft from the middle of
//! the rim, groove 1 at negative x; y is 0 at the rim edge and negative towards the shaft. Arcs are exact: bulges of one
//! polyline for the finished outline, arcs elsewhere. The file has no clock and no number drawn by chance.
//! Source of the format: DXF reference, release 2000 (AC1015), ASCII.

use crate::geometry::{Curve, Edge, Point};
use crate::report::paper::printable;
use crate::report::{Input, ReportBasis};
use crate::section::{Section, State, tags};
use crate::study::Machining;
use crate::survey::Survey;
use chrono::{DateTime, Local, TimeZone, Utc};
use dxf::entities::{Arc, Circle, Entity, EntityType, Line, LwPolyline, Text};
use dxf::enums::{AcadVersion, Units};
use dxf::tables::Layer;
use dxf::{Color, Drawing, LwPolylineVertex, Point as Place};
use thiserror::Error;

/// Height of words (mm), and from one line to the next.
const WORDS: f64 = 2.5;
const LEADING: f64 = 4.5;
/// Most characters of a survey's own words on one line.
const MOST: usize = 100;

const OUTLINE: &str = "FINISHED_OUTLINE";
const FOUND: &str = "AS_FOUND";
const DATUM: &str = "DATUM_RIM_EDGE";
const MIDDLES: &str = "GROOVE_MIDDLES";
const ROPES: &str = "ROPES";
const UNDERSIDE: &str = "UNDERSIDE_AS_SURVEYED";
const NOTES: &str = "NOTES";

/// Layers with their colour numbers: black or white, and six that tell them apart.
const LAYERS: [(&str, u8); 7] =
    [(OUTLINE, 7), (FOUND, 1), (DATUM, 5), (MIDDLES, 4), (ROPES, 6), (UNDERSIDE, 8), (NOTES, 3)];

/// Why no drawing can be written.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DxfFault {
    #[error("the finished section has no groove side that could be drawn")]
    NoOutline,
    #[error("the drawing could not be put into the file format: {0}")]
    Writing(String),
}

/// The drawing's bytes.
///
/// # Errors
/// When the section has no outer side, or the library refuses the file.
pub fn machining_dxf(basis: &ReportBasis<'_>, cut: &Machining) -> Result<Vec<u8>, DxfFault> {
    let ReportBasis { survey, outcome, input, .. } = *basis;
    let edge = survey.rim.edge_radius_mm;
    let mut sheet = Sheet::new(edge)?;
    let finished = outer_side(&outcome.section);
    if finished.is_empty() {
        return Err(DxfFault::NoOutline);
    }
    sheet.polyline(OUTLINE, &finished);
    if let Ok(found) = Section::build(survey, State::Now, &outcome.place) {
        outer_side(&found).iter().for_each(|edge| sheet.edge(FOUND, edge));
    }
    let below = [tags::UNDERSIDE, tags::RIM_SIDE, tags::WEB_FILLET];
    let outline = &outcome.section.outline;
    for edge in outline.edges().filter(|edge| below.contains(&outline.tag_name(edge))) {
        sheet.edge(UNDERSIDE, edge);
    }
    let half = 0.5 * cut.rim_width_mm;
    sheet.line(DATUM, (-half - 5.0, 0.0), (half + 5.0, 0.0));
    for groove in &outcome.section.grooves {
        sheet.line(MIDDLES, (groove.z_mm, 3.0), (groove.z_mm, -cut.tool_depth_mm - 3.0));
        let centre = sheet.at(Point::new(groove.pitch_radius_mm, groove.z_mm));
        sheet.circle(ROPES, centre, 0.5 * cut.rope_diameter_mm);
    }
    let drawn = outline.edges().filter(|edge| below.contains(&outline.tag_name(edge)));
    let lowest =
        drawn.flat_map(|edge| [edge.start.r, edge.end.r]).fold(edge - cut.tool_depth_mm, f64::min) - edge;
    for (index, words) in notes(survey, cut, input).iter().enumerate() {
        sheet.words((-half, lowest - 8.0 - LEADING * index as f64), words);
    }
    sheet.bytes()
}

fn notes(survey: &Survey, cut: &Machining, input: &Input) -> Vec<String> {
    let mut lines = vec![
        at_most(&format!("{}, {}", survey.job.name, survey.job.sheave), MOST),
        format!(
            "Finished grooves, 1:1, mm. Seats {:.3} below the rim edge (y = 0), whose diameter is {:.3}.",
            cut.depth_mm, cut.edge_diameter_mm
        ),
        "x along the shaft from the middle of the rim, groove 1 at negative x; y negative towards the shaft."
            .to_owned(),
        format!("Only layer {OUTLINE} is to be cut, and only with the machining sheet of the same survey:"),
        "tolerances, and the walls at which to stop, stand there.".to_owned(),
        at_most(
            &format!(
                "rimproof {}, survey {}, sha256 {}",
                env!("CARGO_PKG_VERSION"),
                input.file,
                input.sha256
            ),
            MOST + 40,
        ),
    ];
    lines.extend(input.set.iter().map(|change| {
        at_most(
            &format!("Set for this run: {} = {}", change.path, change.after.as_deref().unwrap_or("")),
            MOST,
        )
    }));
    lines
}

/// The edges from one side of the rim to the other, groove 1 first.
pub(super) fn outer_side(section: &Section) -> Vec<Edge> {
    let outline = &section.outline;
    let Some(edges) = outline.loops.first() else { return Vec::new() };
    let is_outer = |edge: &Edge| {
        let tag = outline.tag_name(edge);
        tag == tags::LAND || tag.rsplit_once(' ').is_some_and(|(_, number)| number.parse::<usize>().is_ok())
    };
    // The loop may begin anywhere: the run begins behind an edge that is not part of it.
    let count = edges.len();
    let Some(begin) = (0..count).find(|i| is_outer(&edges[*i]) && !is_outer(&edges[(i + count - 1) % count]))
    else {
        return Vec::new();
    };
    (0..count).map(|i| edges[(begin + i) % count]).take_while(is_outer).collect()
}

struct Sheet {
    drawing: Drawing,
    edge_radius: f64,
}

impl Sheet {
    fn new(edge_radius: f64) -> Result<Self, DxfFault> {
        let mut drawing = Drawing::new();
        still(&mut drawing)?;
        drawing.header.version = AcadVersion::R2000;
        drawing.header.default_drawing_units = Units::Millimeters;
        for (name, colour) in LAYERS {
            let layer = Layer { name: name.to_owned(), color: Color::from_index(colour), ..Layer::default() };
            drawing.add_layer(layer);
        }
        Ok(Self { drawing, edge_radius })
    }

    /// On the drawing: x along the shaft, y from the rim edge.
    fn at(&self, p: Point) -> (f64, f64) {
        (p.z, p.r - self.edge_radius)
    }

    fn add(&mut self, layer: &str, specific: EntityType) {
        let mut entity = Entity::new(specific);
        entity.common.layer = layer.to_owned();
        self.drawing.add_entity(entity);
    }

    fn line(&mut self, layer: &str, a: (f64, f64), b: (f64, f64)) {
        self.add(layer, EntityType::Line(Line::new(place(a), place(b))));
    }

    fn circle(&mut self, layer: &str, centre: (f64, f64), radius: f64) {
        self.add(layer, EntityType::Circle(Circle::new(place(centre), radius)));
    }

    /// One open polyline; the section's r to the right and z upwards become y and x, so every turn changes its sense.
    fn polyline(&mut self, layer: &str, edges: &[Edge]) {
        let vertex = |p: Point, bulge: f64| {
            let (x, y) = self.at(p);
            LwPolylineVertex { x, y, bulge, ..LwPolylineVertex::default() }
        };
        let mut vertices: Vec<LwPolylineVertex> = edges
            .iter()
            .map(|edge| {
                let bulge = match edge.curve {
                    Curve::Line => 0.0,
                    Curve::Arc { sweep, .. } => -(0.25 * sweep).tan(),
                };
                vertex(edge.start, bulge)
            })
            .collect();
        vertices.extend(edges.last().map(|edge| vertex(edge.end, 0.0)));
        self.add(layer, EntityType::LwPolyline(LwPolyline { vertices, ..LwPolyline::default() }));
    }

    fn edge(&mut self, layer: &str, edge: &Edge) {
        let (start, end) = (self.at(edge.start), self.at(edge.end));
        match edge.curve {
            Curve::Line => self.line(layer, start, end),
            Curve::Arc { centre, sweep } => {
                let centre = self.at(centre);
                let angle =
                    |p: (f64, f64)| (p.1 - centre.1).atan2(p.0 - centre.0).to_degrees().rem_euclid(360.0);
                // The format's arcs run counter-clockwise; the sheet shows the section mirrored.
                let (from, to) = if sweep > 0.0 { (end, start) } else { (start, end) };
                let radius = (start.0 - centre.0).hypot(start.1 - centre.1);
                self.add(layer, EntityType::Arc(Arc::new(place(centre), radius, angle(from), angle(to))));
            }
        }
    }

    fn words(&mut self, at: (f64, f64), words: &str) {
        let text = Text { location: place(at), text_height: WORDS, value: plain(words), ..Text::default() };
        self.add(NOTES, EntityType::Text(text));
    }

    fn bytes(self) -> Result<Vec<u8>, DxfFault> {
        let mut bytes = Vec::new();
        self.drawing.save(&mut bytes).map_err(|fault| DxfFault::Writing(fault.to_string()))?;
        Ok(bytes)
    }
}

fn place((x, y): (f64, f64)) -> Place {
    Place::new(x, y, 0.0)
}

/// A survey's own words on one line, no longer than `most` characters.
fn at_most(words: &str, most: usize) -> String {
    let line = printable(words);
    if line.chars().count() <= most {
        return line;
    }
    line.chars().take(most - 1).chain(['…']).collect()
}

/// Words without what the format reads as commands: `%%` codes, backslash codes, carets.
fn plain(words: &str) -> String {
    words.replace("%%", "% %").replace('\\', "/").replace('^', "'")
}

/// Takes away what would differ from run to run: the library puts the clock and drawn numbers into the head.
fn still(drawing: &mut Drawing) -> Result<(), DxfFault> {
    // The library counts days from here in the machine's own time zone.
    let first = Local
        .with_ymd_and_hms(1900, 1, 1, 0, 0, 0)
        .earliest()
        .ok_or_else(|| DxfFault::Writing("the machine's time zone has no first day".to_owned()))?;
    let universal: DateTime<Utc> = Utc.with_ymd_and_hms(1900, 1, 1, 0, 0, 0).earliest().unwrap_or_default();
    let header = &mut drawing.header;
    header.creation_date = first;
    header.update_date = first;
    header.creation_date_universal = universal;
    header.update_date_universal = universal;
    header.fingerprint_guid = uuid::Uuid::nil();
    header.version_guid = uuid::Uuid::nil();
    Ok(())
}
