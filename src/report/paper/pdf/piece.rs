//! What a page is filled with: pieces of a height, with marks at places inside them.
//!
//! A page breaks between pieces alone. Lengths are points; y grows downwards from a piece's upper edge.

use super::faces::{Line, Style};
use super::tags::Tag;
use std::rc::Rc;

pub(super) type At = (f32, f32);

/// One thing drawn. What has no tag is decoration.
#[derive(Clone)]
pub(super) enum Mark {
    /// `at` is the left end of the foot line.
    Text {
        at: At,
        line: Line,
        tag: Option<Tag>,
    },
    Rule {
        from: At,
        to: At,
        width: f32,
        colour: [u8; 3],
    },
    Fill {
        at: At,
        size: At,
        colour: [u8; 3],
    },
    Drawing {
        at: At,
        size: At,
        tree: Rc<usvg::Tree>,
        tag: Tag,
    },
    /// The number of the page on which a heading stands; `at` is its right end.
    PageOf {
        at: At,
        anchor: String,
        style: Style,
        tag: Tag,
    },
}

/// A heading's entry among the bookmarks.
#[derive(Clone)]
pub(super) struct Entry {
    pub level: u8,
    pub text: String,
    pub anchor: String,
}

#[derive(Clone, Default)]
pub(super) struct Piece {
    pub height: f32,
    /// White space above, left out at the top of a page.
    pub before: f32,
    pub marks: Vec<Mark>,
    /// Stays on one page with the piece behind it.
    pub keeps: bool,
    /// Drawn again above this piece where a page begins with it.
    pub head: Option<Rc<Piece>>,
    pub entry: Option<Entry>,
    /// Begins a page.
    pub breaks: bool,
}

impl Mark {
    pub fn moved(&self, by: At) -> Self {
        let to = |at: At| (at.0 + by.0, at.1 + by.1);
        let mut mark = self.clone();
        match &mut mark {
            Self::Text { at, .. }
            | Self::Fill { at, .. }
            | Self::Drawing { at, .. }
            | Self::PageOf { at, .. } => *at = to(*at),
            Self::Rule { from, to: end, .. } => (*from, *end) = (to(*from), to(*end)),
        }
        mark
    }
}

impl Piece {
    /// The same to look at, and nothing to be read a second time.
    pub fn again(&self) -> Self {
        let mut again = self.clone();
        for mark in &mut again.marks {
            if let Mark::Text { tag, .. } = mark {
                *tag = None;
            }
        }
        again
    }

    /// White space alone.
    pub fn space(height: f32) -> Self {
        Self { height, ..Self::default() }
    }

    /// Pieces below one another as one that no page break divides, its marks moved to the right.
    pub fn joined(pieces: &[Self], right: f32) -> Self {
        let mut joined = Self::default();
        for (index, piece) in pieces.iter().enumerate() {
            if index > 0 {
                joined.height += piece.before;
            }
            joined.marks.extend(piece.marks.iter().map(|mark| mark.moved((right, joined.height))));
            joined.height += piece.height;
            joined.entry = joined.entry.or_else(|| piece.entry.clone());
        }
        joined
    }
}
