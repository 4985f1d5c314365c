//! The two faces of the report's typeface: shaping, measuring, and breaking text into lines.
//!
//! DejaVu Sans Condensed covers Latin, Greek, Cyrillic, Hebrew and Arabic and the signs of the trade; for a character it
//! lacks the usual sign of replacement is printed, the file's text keeps the character, and [`Faces::lacking`] names
//! it. Lengths are points.

use super::PdfFault;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustybuzz::{Direction, Face, UnicodeBuffer};
use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use unicode_bidi::{BidiInfo, Level};

const REGULAR: &[u8] = include_bytes!("../fonts/DejaVuSansCondensed.ttf");
const BOLD: &[u8] = include_bytes!("../fonts/DejaVuSansCondensed-Bold.ttf");

/// Stands for a character that the typeface lacks.
pub(super) const REPLACEMENT: char = '\u{fffd}';

/// Size and weight of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    pub size: f32,
    pub bold: bool,
    /// From one line's foot to the next.
    pub leading: f32,
    pub colour: [u8; 3],
}

/// Glyphs of one direction, ready to be drawn.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub text: String,
    pub glyphs: Vec<KrillaGlyph>,
    pub width: f32,
}

/// One line of text in the order of drawing, from left to right.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub runs: Vec<Run>,
    pub width: f32,
    pub style: Style,
}

struct Cut {
    font: Font,
    face: Face<'static>,
}

/// The typeface.
pub(super) struct Faces {
    regular: Cut,
    bold: Cut,
    /// Widths of words per unit of size, by weight: the same words come again and again.
    words: RefCell<HashMap<(bool, String), f32>>,
    /// Characters that were asked for and are not there.
    lacking: RefCell<BTreeSet<char>>,
}

impl Cut {
    fn new(bytes: &'static [u8]) -> Result<Self, PdfFault> {
        let font = Font::new(bytes.to_vec().into(), 0).ok_or(PdfFault::Font)?;
        let face = Face::from_slice(bytes, 0).ok_or(PdfFault::Font)?;
        Ok(Self { font, face })
    }
}

impl Faces {
    pub fn new() -> Result<Self, PdfFault> {
        let [regular, bold] = [Cut::new(REGULAR)?, Cut::new(BOLD)?];
        Ok(Self { regular, bold, words: RefCell::default(), lacking: RefCell::default() })
    }

    pub fn font(&self, bold: bool) -> Font {
        self.cut(bold).font.clone()
    }

    /// The font files, for drawings.
    pub fn files() -> [&'static [u8]; 2] {
        [REGULAR, BOLD]
    }

    /// Characters that were replaced so far, in the order of their numbers.
    pub fn lacking(&self) -> BTreeSet<char> {
        self.lacking.borrow().clone()
    }

    /// A drawing's text with what the typeface lacks replaced.
    pub fn replaced(&self, svg: &str) -> String {
        let lacks = |c: char| !c.is_ascii() && !is_mark(c) && self.regular.face.glyph_index(c).is_none();
        let shown = |c: char| {
            if !lacks(c) {
                return c;
            }
            self.lacking.borrow_mut().insert(c);
            REPLACEMENT
        };
        svg.chars().map(shown).collect()
    }

    fn cut(&self, bold: bool) -> &Cut {
        if bold { &self.bold } else { &self.regular }
    }

    /// A text on one line, in the order in which it is read.
    pub fn line(&self, text: &str, style: Style) -> Line {
        // The page itself runs from left to right.
        let bidi = BidiInfo::new(text, Some(Level::ltr()));
        let mut runs = Vec::new();
        for paragraph in &bidi.paragraphs {
            let (levels, order) = bidi.visual_runs(paragraph, paragraph.range.clone());
            for range in order {
                let rightwards = levels[range.start].is_ltr();
                runs.push(self.run(&text[range], style, rightwards));
            }
        }
        let width = runs.iter().map(|run| run.width).sum();
        Line { runs, width, style }
    }

    fn run(&self, text: &str, style: Style, rightwards: bool) -> Run {
        let face = &self.cut(style.bold).face;
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(if rightwards { Direction::LeftToRight } else { Direction::RightToLeft });
        let shaped = rustybuzz::shape(face, &[], buffer);
        let em = face.units_per_em() as f32;
        let (infos, places) = (shaped.glyph_infos(), shaped.glyph_positions());
        let starts: Vec<usize> = infos.iter().map(|info| info.cluster as usize).collect();
        // A cluster's text reaches to the next larger start.
        let end = |start: usize| starts.iter().copied().filter(|s| *s > start).min().unwrap_or(text.len());
        let instead = face.glyph_index(REPLACEMENT);
        let glyph = |(info, at): (&rustybuzz::GlyphInfo, &rustybuzz::GlyphPosition)| {
            let start = info.cluster as usize;
            let written = start..end(start);
            let (mut id, mut advance) = (info.glyph_id, at.x_advance as f32);
            if let (0, Some(replacement)) = (id, instead) {
                let lacks = |c: &char| face.glyph_index(*c).is_none();
                self.lacking.borrow_mut().extend(text[written.clone()].chars().filter(lacks));
                id = replacement.0.into();
                advance = face.glyph_hor_advance(replacement).map_or(advance, f32::from);
            }
            KrillaGlyph::new(
                GlyphId::new(id),
                advance / em,
                at.x_offset as f32 / em,
                at.y_offset as f32 / em,
                at.y_advance as f32 / em,
                written,
                None,
            )
        };
        let glyphs: Vec<KrillaGlyph> = infos.iter().zip(places).map(glyph).collect();
        let width = glyphs.iter().map(|glyph| glyph.x_advance).sum::<f32>() * style.size;
        Run { text: text.to_owned(), glyphs, width }
    }

    /// Width of a text on one line.
    pub fn width(&self, text: &str, style: Style) -> f32 {
        let key = (style.bold, text.to_owned());
        if let Some(width) = self.words.borrow().get(&key) {
            return width * style.size;
        }
        let width = self.line(text, Style { size: 1.0, ..style }).width;
        self.words.borrow_mut().insert(key, width);
        width * style.size
    }

    /// The text in lines no wider than `room`: broken at blanks, and inside a word only where it is wider than that.
    pub fn broken(&self, text: &str, style: Style, room: f32) -> Vec<Line> {
        let blank = self.width(" ", style);
        let mut lines: Vec<String> = Vec::new();
        let (mut line, mut used) = (String::new(), 0.0);
        for word in text.split_whitespace() {
            for (index, part) in self.parts(word, style, room).into_iter().enumerate() {
                let width = self.width(&part, style);
                let begins = line.is_empty();
                if !begins && used + blank + width > room {
                    // The blank at which a line ends belongs to the text, for whoever has it read out or copies it.
                    if index == 0 {
                        line.push(' ');
                    }
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                if !line.is_empty() {
                    line.push(' ');
                    used += blank;
                }
                line.push_str(&part);
                used += width;
            }
        }
        if !line.is_empty() || lines.is_empty() {
            lines.push(line);
        }
        let shaped = |text: &String| {
            let line = self.line(text, style);
            Line { width: line.width - if text.ends_with(' ') { blank } else { 0.0 }, ..line }
        };
        lines.iter().map(shaped).collect()
    }

    /// A word, or its parts where it is wider than the room.
    fn parts(&self, word: &str, style: Style, room: f32) -> Vec<String> {
        if self.width(word, style) <= room {
            return vec![word.to_owned()];
        }
        let mut parts = vec![String::new()];
        let mut used = 0.0;
        for c in word.chars() {
            let width = self.width(&c.to_string(), style);
            if used + width > room && used > 0.0 {
                parts.push(String::new());
                used = 0.0;
            }
            used += width;
            if let Some(last) = parts.last_mut() {
                last.push(c);
            }
        }
        parts
    }

    /// Width of the widest word of a text.
    pub fn widest_word(&self, text: &str, style: Style) -> f32 {
        text.split_whitespace().map(|word| self.width(word, style)).fold(0.0, f32::max)
    }
}

/// Marks of direction, joining and variation: they show nothing by themselves.
fn is_mark(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}')
}
