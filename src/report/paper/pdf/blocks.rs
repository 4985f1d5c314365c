//! Blocks as pieces for pages.

use super::faces::{Faces, Line, Style};
use super::piece::{Entry, Mark, Piece};
use super::tags::{Tag, Tags};
use super::{PdfFault, table};
use crate::report::paper::block::{Block, Figure, Link, Number, Tone};
use crate::report::paper::letters::printable;
use std::rc::Rc;

pub(super) const INK: [u8; 3] = [0x1c, 0x1c, 0x1c];
pub(super) const SOFT: [u8; 3] = [0x5c, 0x5c, 0x5c];
pub(super) const RULE: [u8; 3] = [0xd4, 0xd1, 0xca];
pub(super) const TINT: [u8; 3] = [0xf5, 0xf3, 0xee];
const ACCENT: [u8; 3] = [0x0b, 0x5a, 0x78];

const fn style(size: f32, bold: bool, leading: f32, colour: [u8; 3]) -> Style {
    Style { size, bold, leading, colour }
}

const BODY: Style = style(8.8, false, 12.0, INK);
pub(super) const SMALL: Style = style(7.4, false, 9.8, INK);
const NOTE: Style = style(7.4, false, 9.8, SOFT);
const STRONG: Style = style(8.8, true, 12.0, INK);
const LARGE: Style = style(15.0, true, 18.0, INK);

/// From points to the px of drawings.
const PT_PER_PX: f32 = 0.75;

/// A list of so many lines stays on one page.
const SHORT: usize = 9;

/// Pieces that stay on one page wherever one can hold them.
fn together(mut pieces: Vec<Piece>) -> Vec<Piece> {
    pieces.iter_mut().rev().skip(1).for_each(|piece| piece.keeps = true);
    pieces
}

/// What blocks are set with.
pub(super) struct Setting<'a> {
    pub faces: &'a Faces,
    pub tags: &'a Tags,
    pub drawings: &'a usvg::Options<'a>,
    /// A drawing is never higher than this.
    pub highest: f32,
}

impl Setting<'_> {
    pub fn all(&self, blocks: &[Block], parent: Tag, room: f32) -> Result<Vec<Piece>, PdfFault> {
        let mut pieces: Vec<Piece> = Vec::new();
        let mut breaks = false;
        for (index, block) in blocks.iter().enumerate() {
            if matches!(block, Block::PageBreak) {
                breaks = true;
                continue;
            }
            let mut own = self.one(block, parent, room)?;
            if let Some(first) = own.first_mut() {
                first.breaks |= std::mem::take(&mut breaks);
            }
            let leads = matches!(block, Block::Text(_) | Block::Note(_));
            if leads
                && matches!(blocks.get(index + 1), Some(Block::Table(_) | Block::Form(_) | Block::List(_)))
            {
                // What is said before a table or a list is said of it.
                own.iter_mut().last().into_iter().for_each(|last| last.keeps = true);
            }
            pieces.append(&mut own);
        }
        Ok(pieces)
    }

    fn one(&self, block: &Block, parent: Tag, room: f32) -> Result<Vec<Piece>, PdfFault> {
        let text = |text: &str, style: Style| self.paragraph(text, style, self.tags.paragraph(parent), room);
        Ok(match block {
            Block::Heading { level, text, anchor } => self.heading(*level, (text, anchor), parent, room),
            Block::Text(words) => text(words, BODY),
            Block::Note(words) | Block::Code(words) => text(words, NOTE),
            Block::Strong(text) => self.strong(text, parent, room),
            Block::Loud(text) => vec![self.solid(text, LARGE, self.tags.paragraph(parent), 0.0, room)],
            Block::List(items) => {
                let list = self.tags.list(parent);
                let lines: Vec<Piece> = items.iter().flat_map(|item| self.item(item, list, room)).collect();
                if lines.len() <= SHORT { together(lines) } else { lines }
            }
            Block::Contents(links) => {
                let contents = self.tags.contents(parent);
                links.iter().map(|link| self.link(link, contents, room)).collect()
            }
            Block::Pairs(pairs) => {
                let list = self.tags.list(parent);
                let pieces = pairs.iter().map(|pair| self.pair(pair, list, room)).collect();
                if pairs.len() <= SHORT { together(pieces) } else { pieces }
            }
            Block::Table(rows) => table::pieces(self.faces, (self.tags, parent), rows, room),
            Block::Form(form) => table::form(self.faces, (self.tags, parent), form, room),
            Block::Figure(figure) => vec![self.figure(figure, parent, room)?],
            Block::Numbers(numbers) => vec![self.numbers(numbers, parent, room)],
            Block::Boxed { tone, blocks } => vec![self.boxed(*tone, blocks, parent, room)?],
            Block::Beside { share, left, right } => {
                vec![self.beside(*share as f32, (left, right), parent, room)?]
            }
            Block::Together(blocks) => together(self.all(blocks, parent, room)?),
            Block::Lines(labels) => {
                labels.iter().map(|label| self.to_write_on(label, parent, room)).collect()
            }
            Block::Screen(_) | Block::PageBreak => Vec::new(),
        })
    }

    fn lines(&self, text: &str, style: Style, room: f32) -> Vec<Line> {
        self.faces.broken(&printable(text), style, room)
    }

    /// Every line a piece; the first two and the last two stay together.
    fn paragraph(&self, text: &str, style: Style, tag: Tag, room: f32) -> Vec<Piece> {
        let lines = self.lines(text, style, room);
        let count = lines.len();
        let piece = |(index, line): (usize, Line)| Piece {
            height: style.leading,
            before: if index == 0 { 0.42 * style.leading } else { 0.0 },
            marks: vec![Mark::Text { at: (0.0, 0.78 * style.leading), line, tag: Some(tag) }],
            keeps: count > 1 && (index == 0 || index + 2 == count),
            ..Piece::default()
        };
        lines.into_iter().enumerate().map(piece).collect()
    }

    /// The text's lines as one piece, moved to the right.
    fn solid(&self, text: &str, style: Style, tag: Tag, right: f32, room: f32) -> Piece {
        Piece::joined(&self.paragraph(text, style, tag, room - right), right)
    }

    fn heading(&self, level: u8, (text, anchor): (&str, &str), parent: Tag, room: f32) -> Vec<Piece> {
        let (style, before, after) = match level {
            1 => (style(16.0, true, 19.5, INK), 0.0, 3.0),
            2 => (style(12.4, true, 15.5, INK), 20.0, 6.5),
            3 => (style(9.8, true, 12.5, INK), 13.0, 1.5),
            4 => (style(8.8, true, 11.5, INK), 9.0, 0.5),
            _ => (style(8.4, true, 11.0, SOFT), 7.0, 0.5),
        };
        let tag = self.tags.heading(parent, level, &printable(text));
        let mut piece = self.solid(text, style, tag, 0.0, room);
        if level == 2 {
            let y = piece.height + 2.5;
            piece.marks.push(Mark::Rule { from: (0.0, y), to: (room, y), width: 1.2, colour: ACCENT });
        }
        piece.height += after;
        let entry = Entry { level, text: printable(text), anchor: anchor.to_owned() };
        vec![Piece { before, keeps: true, entry: Some(entry), ..piece }]
    }

    fn strong(&self, text: &str, parent: Tag, room: f32) -> Vec<Piece> {
        let words = self.solid(text, STRONG, self.tags.paragraph(parent), 9.0, room);
        let mut piece = Piece::joined(&[Piece::space(3.0), words, Piece::space(3.0)], 0.0);
        let bar = Mark::Fill { at: (0.0, 0.0), size: (3.0, piece.height), colour: ACCENT };
        let ground = Mark::Fill { at: (0.0, 0.0), size: (room, piece.height), colour: TINT };
        piece.marks.splice(0..0, [ground, bar]);
        vec![Piece { before: 5.0, ..piece }]
    }

    fn item(&self, text: &str, list: Tag, room: f32) -> Vec<Piece> {
        const INDENT: f32 = 10.0;
        let (label, tag) = self.tags.item(list);
        let mut pieces = self.paragraph(text, BODY, tag, room - INDENT);
        for (index, piece) in pieces.iter_mut().enumerate() {
            piece.marks = piece.marks.iter().map(|mark| mark.moved((INDENT, 0.0))).collect();
            if index == 0 {
                piece.before = 2.0;
                let line = self.faces.line("–", BODY);
                piece.marks.insert(0, Mark::Text { at: (1.0, 0.78 * BODY.leading), line, tag: Some(label) });
            }
        }
        pieces
    }

    fn link(&self, link: &Link, contents: Tag, room: f32) -> Piece {
        let style = if link.depth == 0 { STRONG } else { BODY };
        let tag = self.tags.content(contents);
        let mut piece = self.solid(&link.text, style, tag, 12.0 * f32::from(link.depth), room - 30.0);
        let at = (room, 0.78 * style.leading);
        let y = at.1 + 3.4;
        piece.marks.push(Mark::Rule { from: (0.0, y), to: (room, y), width: 0.4, colour: RULE });
        piece.marks.push(Mark::PageOf { at, anchor: link.anchor.clone(), style, tag });
        Piece { before: if link.depth == 0 { 3.0 } else { 0.0 }, ..piece }
    }

    fn pair(&self, (key, value): &(String, String), list: Tag, room: f32) -> Piece {
        let left = (0.34 * room).min(190.0);
        let (name, said) = self.tags.item(list);
        let key = self.solid(key, NOTE, name, 0.0, left - 6.0);
        let value = self.solid(value, SMALL, said, left, room);
        let height = key.height.max(value.height) + 2.6;
        let mut marks = key.marks;
        marks.extend(value.marks);
        marks.push(Mark::Rule { from: (0.0, height), to: (room, height), width: 0.4, colour: RULE });
        Piece { height, before: 1.4, marks, ..Piece::default() }
    }

    fn figure(&self, figure: &Figure, parent: Tag, room: f32) -> Result<Piece, PdfFault> {
        let tree = usvg::Tree::from_str(&self.faces.replaced(&figure.svg), self.drawings)
            .map_err(|fault| PdfFault::Drawing { name: figure.name.clone(), why: fault.to_string() })?;
        let (width, height) = (PT_PER_PX * tree.size().width(), PT_PER_PX * tree.size().height());
        let scale = (room / width).min(self.highest / height).min(1.0);
        let size = (scale * width, scale * height);
        let (tag, below) = self.tags.figure(parent, &printable(&figure.caption));
        let mark = Mark::Drawing { at: (0.0, 0.0), size, tree: Rc::new(tree), tag };
        let drawing = Piece { height: size.1, marks: vec![mark], ..Piece::default() };
        if figure.caption.is_empty() {
            // Without words of its own it belongs to what follows.
            return Ok(Piece { before: 4.0, keeps: true, ..drawing });
        }
        let caption = Piece { before: 2.0, ..self.solid(&figure.caption, NOTE, below, 0.0, room) };
        Ok(Piece { before: 8.0, ..Piece::joined(&[drawing, caption], 0.0) })
    }

    fn numbers(&self, numbers: &[Number], parent: Tag, room: f32) -> Piece {
        const GAP: f32 = 9.0;
        let count = numbers.len().max(1) as f32;
        let width = (room - GAP * (count - 1.0)) / count;
        let column = |number: &Number| {
            let room = width - 8.0;
            let group = self.tags.group(parent);
            let [value, label, note] = [0; 3].map(|_| self.tags.paragraph(group));
            // A long value is set smaller before it is broken.
            let wide = self.faces.width(&printable(&number.value), LARGE);
            let size = LARGE.size * (room / wide).clamp(0.6, 1.0);
            Piece::joined(
                &[
                    Piece::space(3.0),
                    self.solid(&number.value, Style { size, ..LARGE }, value, 0.0, room),
                    self.solid(&number.label, STRONG, label, 0.0, room),
                    self.solid(&number.note, NOTE, note, 0.0, room),
                    Piece::space(2.0),
                ],
                8.0,
            )
        };
        let columns: Vec<Piece> = numbers.iter().map(column).collect();
        let height = columns.iter().map(|column| column.height).fold(0.0, f32::max);
        let mut marks = Vec::new();
        for (index, column) in columns.iter().enumerate() {
            let left = index as f32 * (width + GAP);
            marks.push(Mark::Fill { at: (left, 0.0), size: (2.0, height), colour: ACCENT });
            marks.extend(column.marks.iter().map(|mark| mark.moved((left, 0.0))));
        }
        Piece { height, before: 7.0, marks, ..Piece::default() }
    }

    fn boxed(&self, tone: Tone, blocks: &[Block], parent: Tag, room: f32) -> Result<Piece, PdfFault> {
        const ASIDE: f32 = 10.0;
        let inner = Piece::joined(&self.all(blocks, self.tags.group(parent), room - 2.0 * ASIDE)?, ASIDE);
        let height = inner.height + 12.0;
        let edge = match tone {
            Tone::Plain => RULE,
            Tone::Favourable => [0x0b, 0x5a, 0x78],
            Tone::Refusal => [0x8c, 0x2d, 0x04],
            Tone::Open => [0x9a, 0x6a, 0x00],
        };
        let mut marks = vec![
            Mark::Fill { at: (0.0, 0.0), size: (room, height), colour: TINT },
            Mark::Fill { at: (0.0, 0.0), size: (4.0, height), colour: edge },
        ];
        marks.extend(inner.marks.iter().map(|mark| mark.moved((0.0, 6.0))));
        Ok(Piece { height, before: 6.0, marks, ..Piece::default() })
    }

    fn beside(
        &self,
        share: f32,
        (left, right): (&[Block], &[Block]),
        parent: Tag,
        room: f32,
    ) -> Result<Piece, PdfFault> {
        const GAP: f32 = 14.0;
        let wide = share * (room - GAP);
        let left = Piece::joined(&self.all(left, parent, wide)?, 0.0);
        let right = Piece::joined(&self.all(right, parent, room - GAP - wide)?, wide + GAP);
        let height = left.height.max(right.height);
        let marks = left.marks.into_iter().chain(right.marks).collect();
        Ok(Piece { height, before: 6.0, marks, ..Piece::default() })
    }

    fn to_write_on(&self, label: &str, parent: Tag, room: f32) -> Piece {
        const HEIGHT: f32 = 21.0;
        let line = self.faces.line(&printable(label), NOTE);
        let from = (line.width + 5.0, HEIGHT);
        let marks = vec![
            Mark::Text { at: (0.0, HEIGHT - 1.5), line, tag: Some(self.tags.paragraph(parent)) },
            Mark::Rule { from, to: (room, HEIGHT), width: 0.6, colour: INK },
        ];
        Piece { height: HEIGHT, marks, ..Piece::default() }
    }
}
