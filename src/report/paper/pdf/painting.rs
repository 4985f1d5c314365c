//! Marks drawn on a page, each under its tag.

use super::PdfFault;
use super::blocks::SOFT;
use super::faces::{Faces, Line, Style};
use super::pages::{Page, Room};
use super::piece::{At, Mark};
use super::tags::{Tag, Tags, decoration};
use crate::report::paper::letters::printable;
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::ArtifactType;
use krilla_svg::{SurfaceExt, SvgSettings};

/// What is needed to draw.
pub(super) struct Painting<'a> {
    pub faces: &'a Faces,
    pub tags: &'a Tags,
    pub pages: &'a [Page],
}

fn fill(colour: [u8; 3]) -> Fill {
    let [r, g, b] = colour;
    Fill { paint: rgb::Color::new(r, g, b).into(), ..Fill::default() }
}

impl Painting<'_> {
    /// # Errors
    /// When the library refuses a drawing.
    pub fn draw(&self, surface: &mut Surface<'_>, mark: &Mark, page: usize) -> Result<(), PdfFault> {
        match mark {
            Mark::Text { at, line, tag: Some(tag) } => self.told(surface, *at, line, *tag),
            Mark::Text { at, line, tag: None } => {
                decoration(surface, ArtifactType::PaginationOther, |surface| self.write(surface, *at, line));
            }
            Mark::Rule { from, to, width, colour } => {
                decoration(surface, ArtifactType::Layout, |surface| {
                    rule(surface, (*from, *to), *width, *colour)
                });
            }
            Mark::Fill { at, size, colour } => {
                decoration(surface, ArtifactType::Layout, |surface| ground(surface, *at, *size, *colour));
            }
            Mark::Drawing { at, size, tree, tag } => {
                let Some(sheet) = Size::from_wh(size.0, size.1) else { return Ok(()) };
                let mut drawn = None;
                self.tags.draw(surface, *tag, false, |surface| {
                    surface.push_transform(&Transform::from_translate(at.0, at.1));
                    drawn = surface.draw_svg(tree, sheet, SvgSettings::default());
                    surface.pop();
                });
                drawn.ok_or_else(|| PdfFault::Writing("a drawing was refused".to_owned()))?;
                if let Some(place) = Rect::from_xywh(at.0, at.1, size.0, size.1) {
                    self.tags.place(*tag, page, place);
                }
            }
            Mark::PageOf { at, anchor, style, tag } => {
                let is_there = |page: &Page| page.entries.iter().any(|(entry, _)| entry.anchor == *anchor);
                let on = self.pages.iter().position(is_there);
                let line = self.faces.line(&on.map_or(String::new(), |page| (page + 1).to_string()), *style);
                self.told(surface, (at.0 - line.width, at.1), &line, *tag);
            }
        }
        Ok(())
    }

    fn told(&self, surface: &mut Surface<'_>, at: At, line: &Line, tag: Tag) {
        if !line.runs.is_empty() {
            self.tags.draw(surface, tag, true, |surface| self.write(surface, at, line));
        }
    }

    fn write(&self, surface: &mut Surface<'_>, at: At, line: &Line) {
        surface.set_stroke(None);
        surface.set_fill(Some(fill(line.style.colour)));
        let font = self.faces.font(line.style.bold);
        let mut x = at.0;
        for run in &line.runs {
            let start = Point::from_xy(x, at.1);
            surface.draw_glyphs(start, &run.glyphs, font.clone(), &run.text, line.style.size, false);
            x += run.width;
        }
    }

    /// Title and page number at the foot of a page.
    pub fn foot(&self, surface: &mut Surface<'_>, title: &str, (number, of): (usize, usize), room: Room) {
        let style = Style { size: 6.8, bold: false, leading: 9.0, colour: SOFT };
        let y = room.top + room.height + 22.0;
        let right = self.faces.line(&format!("{number} of {of}"), style);
        let space = room.width - right.width - 20.0;
        decoration(surface, ArtifactType::PageNumber, |surface| {
            self.write(surface, (room.left + room.width - right.width, y), &right);
        });
        if let Some(line) = self.faces.broken(&printable(title), style, space).first() {
            decoration(surface, ArtifactType::Footer, |surface| self.write(surface, (room.left, y), line));
        }
    }
}

fn rule(surface: &mut Surface<'_>, (from, to): (At, At), width: f32, colour: [u8; 3]) {
    let mut path = PathBuilder::new();
    path.move_to(from.0, from.1);
    path.line_to(to.0, to.1);
    let Some(path) = path.finish() else { return };
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: fill(colour).paint, width, ..Stroke::default() }));
    surface.draw_path(&path);
    surface.set_stroke(None);
}

fn ground(surface: &mut Surface<'_>, at: At, size: At, colour: [u8; 3]) {
    let mut path = PathBuilder::new();
    let Some(rect) = Rect::from_xywh(at.0, at.1, size.0, size.1) else { return };
    path.push_rect(rect);
    let Some(path) = path.finish() else { return };
    surface.set_fill(Some(fill(colour)));
    surface.draw_path(&path);
}
