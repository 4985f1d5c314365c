//! A document as a PDF: pieces laid on pages, pages drawn through a library.
//!
//! Text stays text, fonts are embedded in the part that is used, headings become bookmarks. No clock and no
//! number drawn by chance goes into the file. Lengths are points of 1/72 in.

mod blocks;
mod faces;
mod pages;
mod piece;
mod table;

use super::block::{Document, Paper};
use super::letters::printable;
use blocks::{SOFT, Setting};
use faces::{Faces, Style};
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla_svg::{SurfaceExt, SvgSettings};
use pages::{Page, Room, pages};
use piece::{At, Mark};
use std::sync::Arc;
use thiserror::Error;

/// White space at the left and right, at the top, and at the foot, where title and page number stand.
const ASIDE: f32 = 45.0;
const TOP: f32 = 40.0;
const FOOT: f32 = 48.0;

/// Why no PDF can be written.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PdfFault {
    #[error("the report's own font cannot be read")]
    Font,
    #[error("the drawing '{name}' cannot be read: {why}")]
    Drawing { name: String, why: String },
    #[error("the file cannot be put together: {0}")]
    Writing(String),
}

/// The document's bytes on this paper.
///
/// # Errors
/// When a drawing is not valid, or the library refuses the file; both are faults of the program.
pub(in crate::report) fn bytes(document: &Document, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    let faces = Faces::new()?;
    let (width, height) = paper.size_pt();
    let room = Room { left: ASIDE, top: TOP, width: width - 2.0 * ASIDE, height: height - TOP - FOOT };
    let drawings = drawing_options();
    let setting = Setting { faces: &faces, drawings: &drawings, highest: 0.82 * room.height };
    let pages = pages(&setting.all(&document.blocks, room.width)?, room);
    let mut pdf = krilla::Document::new();
    pdf.set_metadata(metadata(document));
    for (index, page) in pages.iter().enumerate() {
        let mut sheet = pdf.start_page_with(PageSettings::from_wh(width, height).ok_or(PdfFault::Font)?);
        let mut surface = sheet.surface();
        for mark in &page.marks {
            draw(&mut surface, &faces, mark, &pages)?;
        }
        foot(&mut surface, &faces, document, (index + 1, pages.len()), room)?;
        surface.finish();
        sheet.finish();
    }
    pdf.set_outline(bookmarks(&pages));
    pdf.finish().map_err(|fault| PdfFault::Writing(format!("{fault:?}")))
}

/// How many pages the document takes on this paper.
///
/// # Errors
/// As [`bytes`].
pub(in crate::report) fn page_count(document: &Document, paper: Paper) -> Result<usize, PdfFault> {
    let faces = Faces::new()?;
    let (width, height) = paper.size_pt();
    let room = Room { left: ASIDE, top: TOP, width: width - 2.0 * ASIDE, height: height - TOP - FOOT };
    let drawings = drawing_options();
    let setting = Setting { faces: &faces, drawings: &drawings, highest: 0.82 * room.height };
    Ok(pages(&setting.all(&document.blocks, room.width)?, room).len())
}

/// How far a drawing reaches beyond its own sheet, words included, at the side where it is most (px).
#[cfg(test)]
pub(in crate::report) fn beyond_its_sheet(svg: &str) -> Result<f32, PdfFault> {
    let tree = usvg::Tree::from_str(svg, &drawing_options())
        .map_err(|fault| PdfFault::Drawing { name: String::new(), why: fault.to_string() })?;
    let (drawn, sheet) = (tree.root().abs_bounding_box(), tree.size());
    let sides = [-drawn.left(), -drawn.top(), drawn.right() - sheet.width(), drawn.bottom() - sheet.height()];
    Ok(sides.into_iter().fold(f32::NEG_INFINITY, f32::max))
}

fn metadata(document: &Document) -> Metadata {
    Metadata::new()
        .title(printable(&document.title))
        .creator(format!("rimproof {}", env!("CARGO_PKG_VERSION")))
        .language("en".to_owned())
        .document_id(document.id.clone())
}

/// Drawings use the report's own font, whatever the machine has.
fn drawing_options() -> usvg::Options<'static> {
    let mut fonts = usvg::fontdb::Database::new();
    for file in Faces::files() {
        fonts.load_font_data(file.to_vec());
    }
    let family = fonts.faces().next().and_then(|face| face.families.first()).map(|family| family.0.clone());
    let family = family.unwrap_or_default();
    fonts.set_sans_serif_family(family.clone());
    usvg::Options { font_family: family, fontdb: Arc::new(fonts), ..usvg::Options::default() }
}

fn fill(colour: [u8; 3]) -> Fill {
    let [r, g, b] = colour;
    Fill { paint: rgb::Color::new(r, g, b).into(), ..Fill::default() }
}

fn draw(surface: &mut Surface<'_>, faces: &Faces, mark: &Mark, pages: &[Page]) -> Result<(), PdfFault> {
    match mark {
        Mark::Text { at, line } => write(surface, faces, *at, line),
        Mark::Rule { from, to, width, colour } => {
            let mut path = PathBuilder::new();
            path.move_to(from.0, from.1);
            path.line_to(to.0, to.1);
            let Some(path) = path.finish() else { return Ok(()) };
            let [r, g, b] = *colour;
            let paint = rgb::Color::new(r, g, b).into();
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke { paint, width: *width, ..Stroke::default() }));
            surface.draw_path(&path);
            surface.set_stroke(None);
        }
        Mark::Fill { at, size, colour } => {
            let mut path = PathBuilder::new();
            let Some(rect) = Rect::from_xywh(at.0, at.1, size.0, size.1) else { return Ok(()) };
            path.push_rect(rect);
            let Some(path) = path.finish() else { return Ok(()) };
            surface.set_fill(Some(fill(*colour)));
            surface.draw_path(&path);
        }
        Mark::Drawing { at, size, tree } => {
            let Some(size) = Size::from_wh(size.0, size.1) else { return Ok(()) };
            surface.push_transform(&Transform::from_translate(at.0, at.1));
            let drawn = surface.draw_svg(tree, size, SvgSettings::default());
            surface.pop();
            drawn.ok_or_else(|| PdfFault::Writing("a drawing was refused".to_owned()))?;
        }
        Mark::PageOf { at, anchor, style } => {
            let on =
                pages.iter().position(|page| page.entries.iter().any(|(entry, _)| entry.anchor == *anchor));
            let line = faces.line(&on.map_or(String::new(), |page| (page + 1).to_string()), *style);
            write(surface, faces, (at.0 - line.width, at.1), &line);
        }
    }
    Ok(())
}

fn write(surface: &mut Surface<'_>, faces: &Faces, at: At, line: &faces::Line) {
    surface.set_stroke(None);
    surface.set_fill(Some(fill(line.style.colour)));
    let mut x = at.0;
    for run in &line.runs {
        let start = Point::from_xy(x, at.1);
        surface.draw_glyphs(
            start,
            &run.glyphs,
            faces.font(line.style.bold),
            &run.text,
            line.style.size,
            false,
        );
        x += run.width;
    }
}

fn foot(
    surface: &mut Surface<'_>,
    faces: &Faces,
    document: &Document,
    (number, of): (usize, usize),
    room: Room,
) -> Result<(), PdfFault> {
    let style = Style { size: 6.8, bold: false, leading: 9.0, colour: SOFT };
    let y = room.top + room.height + 22.0;
    let right = faces.line(&format!("{number} of {of}"), style);
    let space = room.width - right.width - 20.0;
    write(surface, faces, (room.left + room.width - right.width, y), &right);
    if let Some(line) = faces.broken(&printable(&document.foot), style, space).first() {
        write(surface, faces, (room.left, y), line);
    }
    Ok(())
}

/// Headings as bookmarks, those of level 3 below the one of level 2 before them.
fn bookmarks(pages: &[Page]) -> Outline {
    let mut outline = Outline::new();
    let mut open: Option<OutlineNode> = None;
    for (number, page) in pages.iter().enumerate() {
        for (entry, y) in &page.entries {
            let place = XyzDestination::new(number, Point::from_xy(0.0, *y));
            let node = OutlineNode::new(entry.text.clone(), place);
            match (entry.level, &mut open) {
                (0..=2, _) | (3, None) => {
                    if let Some(done) = open.replace(node) {
                        outline.push_child(done);
                    }
                }
                (3, Some(parent)) => parent.push_child(node),
                _ => {}
            }
        }
    }
    if let Some(done) = open {
        outline.push_child(done);
    }
    outline
}
