//! A document as a PDF: pieces laid on pages, pages drawn through a library.
//!
//! Text stays text, fonts are embedded in the part that is used, headings become bookmarks, and a tag tree tells
//! readers without sight what is what. No clock and no number drawn by chance goes into the file. Lengths are points of 1/72 in.

mod blocks;
mod faces;
mod pages;
mod painting;
mod piece;
mod table;
mod tags;

use super::block::{Block, Document, Paper};
use super::letters::printable;
use blocks::Setting;
use faces::{Faces, REPLACEMENT};
use krilla::SerializeSettings;
use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use pages::{Page, Room, pages};
use painting::Painting;
use std::sync::Arc;
use tags::{Tag, Tags};
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
    written(document, paper, SerializeSettings::default())
}

fn written(document: &Document, paper: Paper, settings: SerializeSettings) -> Result<Vec<u8>, PdfFault> {
    let (faces, tags) = (Faces::new()?, Tags::new());
    let (width, height) = paper.size_pt();
    let (pages, room) = laid(document, paper, &faces, &tags)?;
    let mut pdf = krilla::Document::new_with(settings);
    pdf.set_metadata(metadata(document));
    let painting = Painting { faces: &faces, tags: &tags, pages: &pages };
    for (index, page) in pages.iter().enumerate() {
        let mut sheet = pdf.start_page_with(PageSettings::from_wh(width, height).ok_or(PdfFault::Font)?);
        let mut surface = sheet.surface();
        for mark in &page.marks {
            painting.draw(&mut surface, mark, index)?;
        }
        painting.foot(&mut surface, &document.foot, (index + 1, pages.len()), room);
        surface.finish();
        sheet.finish();
    }
    pdf.set_outline(bookmarks(&pages));
    pdf.set_tag_tree(tags.tree());
    pdf.finish().map_err(|fault| PdfFault::Writing(format!("{fault:?}")))
}

/// The document on its pages.
fn laid(
    document: &Document,
    paper: Paper,
    faces: &Faces,
    tags: &Tags,
) -> Result<(Vec<Page>, Room), PdfFault> {
    let (width, height) = paper.size_pt();
    let room = Room { left: ASIDE, top: TOP, width: width - 2.0 * ASIDE, height: height - TOP - FOOT };
    let drawings = drawing_options();
    let setting = Setting { faces, tags, drawings: &drawings, highest: 0.82 * room.height };
    let mut pieces = setting.all(&document.blocks, Tag::ROOT, room.width)?;
    if let Some(block) = replaced(faces) {
        pieces.extend(setting.all(&[block], Tag::ROOT, room.width)?);
    }
    Ok((pages(&pieces, room), room))
}

/// What a reader must be told where the typeface lacks a character.
fn replaced(faces: &Faces) -> Option<Block> {
    const NAMED: usize = 40;
    let lacking = faces.lacking();
    if lacking.is_empty() {
        return None;
    }
    let named: Vec<String> = lacking.iter().take(NAMED).map(|c| format!("U+{:04X}", u32::from(*c))).collect();
    let more = match lacking.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(Block::note(format!(
        "The typeface of this file lacks characters that stand in the survey; each is printed as {REPLACEMENT} (Unicode numbers: {}{more}). Copied out of the file as text, and in the survey itself, they are whole.",
        named.join(", ")
    )))
}

/// How many pages the document takes on this paper.
///
/// # Errors
/// As [`bytes`].
pub(in crate::report) fn page_count(document: &Document, paper: Paper) -> Result<usize, PdfFault> {
    Ok(laid(document, paper, &Faces::new()?, &Tags::new())?.0.len())
}

/// Characters that a document of this text replaces.
#[cfg(test)]
pub(in crate::report) fn replaced_characters(document: &Document) -> Result<Vec<char>, PdfFault> {
    let faces = Faces::new()?;
    laid(document, Paper::A4, &faces, &Tags::new())?;
    Ok(faces.lacking().into_iter().collect())
}

/// As [`bytes`], refused where the library finds a rule of PDF/UA-1 (ISO 14289-1) broken that a program can check.
#[cfg(test)]
pub(in crate::report) fn accessible_bytes(document: &Document, paper: Paper) -> Result<Vec<u8>, PdfFault> {
    use krilla::configure::{Accessibility, ConfigurationBuilder};
    let asked = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1).finish();
    let configuration = asked.map_err(|fault| PdfFault::Writing(format!("{fault:?}")))?;
    written(document, paper, SerializeSettings { configuration, ..SerializeSettings::default() })
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
