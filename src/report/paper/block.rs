//! What a document is made of. Texts are plain: the writers escape them.

/// A piece of a document.
pub(in crate::report) enum Block {
    Heading {
        level: u8,
        text: String,
        anchor: String,
    },
    Text(String),
    /// Small print: how a number came about, where a limit comes from.
    Note(String),
    /// A text that is set apart: a caution.
    Strong(String),
    /// The one word that a reader must see.
    Loud(String),
    Code(String),
    List(Vec<String>),
    Contents(Vec<Link>),
    /// What is asked on the left, what is known on the right.
    Pairs(Vec<(String, String)>),
    Table(Table),
    Form(Form),
    Figure(Figure),
    /// A few numbers that matter, side by side.
    Numbers(Vec<Number>),
    /// Blocks in a frame of their own; on paper they stay on one page.
    Boxed {
        tone: Tone,
        blocks: Vec<Block>,
    },
    /// Two columns; `share` of the width for the left one. On paper they stay on one page.
    Beside {
        share: f64,
        left: Vec<Block>,
        right: Vec<Block>,
    },
    /// Blocks that stay on one page of paper wherever one can hold them.
    Together(Vec<Block>),
    /// Empty lines to write on, each with its label.
    Lines(Vec<String>),
    /// Something for a screen with script alone; paper leaves it out.
    Screen(maud::Markup),
    PageBreak,
}

pub(in crate::report) struct Link {
    pub depth: u8,
    pub text: String,
    pub anchor: String,
}

pub(in crate::report) struct Table {
    /// Heads with whether the column holds numbers.
    pub heads: Vec<(String, bool)>,
    pub rows: Vec<Vec<String>>,
    pub kind: TableKind,
    /// So many rows each belong together and stay on one page.
    pub by: usize,
}

/// A table to write in, ruled all round, its columns as wide as they are wanted.
pub(in crate::report) struct Form {
    /// Heads with whether what is printed in the column stands at its right end, as units do.
    pub heads: Vec<(String, bool)>,
    /// Of the whole width, one for each column.
    pub shares: Vec<f64>,
    pub rows: Vec<Vec<String>>,
}

/// How a table looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) enum TableKind {
    Plain,
    /// Narrow columns of marks.
    Matrix,
    /// Ruled all round, with room to write by hand.
    Form,
}

pub(in crate::report) struct Figure {
    /// File name without its ending.
    pub name: String,
    pub caption: String,
    /// A drawing of the program's own, whose words are escaped already. Its size is in px, 96 to the inch.
    pub svg: String,
}

/// A number to be read first.
pub(in crate::report) struct Number {
    pub value: String,
    pub label: String,
    pub note: String,
}

/// What a frame says before a word is read. Words say it as well: no colour stands alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) enum Tone {
    Plain,
    Favourable,
    Refusal,
    Open,
}

/// A row with one of these words stands out.
pub(super) const LOUD: [&str; 3] = ["MISS", "FAILS", "OPEN"];

/// A whole document.
pub(in crate::report) struct Document {
    pub title: String,
    /// Stands at the foot of every page, beside its number.
    pub foot: String,
    /// Tells documents of one title apart, for instance the hash of what they are made from.
    pub id: String,
    pub blocks: Vec<Block>,
    /// Run after the page was read; a reader without script misses nothing but comfort.
    pub script: Option<String>,
}

/// Sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    A4,
    Letter,
}

impl Block {
    pub fn heading(level: u8, text: impl Into<String>, anchor: impl Into<String>) -> Self {
        Self::Heading { level, text: text.into(), anchor: anchor.into() }
    }

    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub fn note(text: impl Into<String>) -> Self {
        Self::Note(text.into())
    }

    pub fn table(heads: &[(&str, bool)], rows: Vec<Vec<String>>) -> Self {
        let heads = heads.iter().map(|(head, number)| ((*head).to_owned(), *number)).collect();
        Self::Table(Table { heads, rows, kind: TableKind::Plain, by: 1 })
    }
}

impl Form {
    /// As a table without shares of its own.
    pub(super) fn table(&self) -> Table {
        Table { heads: self.heads.clone(), rows: self.rows.clone(), kind: TableKind::Form, by: 1 }
    }
}

impl Table {
    /// Whether a row stands out.
    pub(super) fn is_loud(row: &[String]) -> bool {
        row.iter().any(|cell| LOUD.contains(&cell.as_str()))
    }

    pub(super) fn is_number(&self, column: usize) -> bool {
        self.heads.get(column).is_some_and(|(_, number)| *number)
    }
}

impl Paper {
    /// Width and height in points of 1/72 in.
    pub(super) fn size_pt(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.276, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }

    /// The name that style sheets know.
    pub(super) fn css(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// Levels at which headings are told to readers that jump from one to the next: no level is left out, and headings of
/// one level stay alike. Their looks are those of their own level.
#[derive(Default)]
pub(super) struct Levels(Vec<u8>);

impl Levels {
    pub fn told(&mut self, level: u8) -> u8 {
        self.0.retain(|above| *above < level);
        self.0.push(level);
        self.0.len().min(6) as u8
    }
}

/// The links of a table of contents: headings of level 2 and down to `deepest`.
pub(in crate::report) fn contents(blocks: &[Block], deepest: u8) -> Block {
    let link = |block: &Block| match block {
        Block::Heading { level, text, anchor } if (2..=deepest).contains(level) => {
            Some(Link { depth: level - 2, text: text.clone(), anchor: anchor.clone() })
        }
        _ => None,
    };
    Block::Contents(blocks.iter().filter_map(link).collect())
}
