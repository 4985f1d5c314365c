//! What the marks on the pages are to a reader who cannot see them: the tag tree of the file.
//!
//! Nodes are opened while blocks are set, in the order of reading; a mark names its node, and what was drawn of it
//! is hung below it page by page. A mark without a node is decoration. Roles are those of ISO 32000-1, 14.8.4.

use crate::report::paper::block::Levels;
use krilla::geom::Rect;
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, BBox, ContentTag, Identifier, ListNumbering, Node, SpanTag, TableHeaderScope,
    Tag as Role, TagGroup, TagKind, TagTree,
};
use std::cell::RefCell;
use std::num::NonZeroU16;

/// A node of the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tag(usize);

enum Child {
    Node(Tag),
    Drawn(Identifier),
}

struct Opened {
    role: TagKind,
    children: Vec<Child>,
}

/// The tree as far as it has grown.
pub(super) struct Tags {
    nodes: RefCell<Vec<Opened>>,
    levels: RefCell<Levels>,
    /// Words of the last heading.
    last: RefCell<String>,
}

impl Tag {
    /// The document itself.
    pub const ROOT: Self = Self(0);
}

impl Tags {
    pub fn new() -> Self {
        let root = Opened { role: Role::Part.into(), children: Vec::new() };
        Self { nodes: RefCell::new(vec![root]), levels: RefCell::default(), last: RefCell::default() }
    }

    fn open(&self, parent: Tag, role: impl Into<TagKind>) -> Tag {
        let mut nodes = self.nodes.borrow_mut();
        let tag = Tag(nodes.len());
        nodes.push(Opened { role: role.into(), children: Vec::new() });
        nodes[parent.0].children.push(Child::Node(tag));
        tag
    }

    pub fn heading(&self, parent: Tag, level: u8, title: &str) -> Tag {
        let told = self.levels.borrow_mut().told(level);
        title.clone_into(&mut self.last.borrow_mut());
        let told = NonZeroU16::new(told.into()).unwrap_or(NonZeroU16::MIN);
        self.open(parent, Role::Hn(told, Some(title.to_owned())))
    }

    pub fn paragraph(&self, parent: Tag) -> Tag {
        self.open(parent, Role::P)
    }

    /// Blocks that belong together.
    pub fn group(&self, parent: Tag) -> Tag {
        self.open(parent, Role::Div)
    }

    pub fn list(&self, parent: Tag) -> Tag {
        self.open(parent, Role::L(ListNumbering::None))
    }

    /// An item's mark or name, and what it says.
    pub fn item(&self, list: Tag) -> (Tag, Tag) {
        let item = self.open(list, Role::LI);
        (self.open(item, Role::Lbl), self.open(item, Role::LBody))
    }

    pub fn contents(&self, parent: Tag) -> Tag {
        self.open(parent, Role::TOC)
    }

    pub fn content(&self, contents: Tag) -> Tag {
        self.open(contents, Role::TOCI)
    }

    /// A picture with what is read out in its place, and its caption; without one, the last heading says what it is.
    pub fn figure(&self, parent: Tag, caption: &str) -> (Tag, Tag) {
        let instead = match caption {
            "" => format!("Drawing: {}", self.last.borrow()),
            words => words.to_owned(),
        };
        let figure = self.open(parent, Role::Figure(Some(instead)));
        (figure, self.open(figure, Role::Caption))
    }

    pub fn table(&self, parent: Tag) -> (Tag, Tag) {
        let table = self.open(parent, Role::Table);
        (self.open(table, Role::THead), self.open(table, Role::TBody))
    }

    /// A row with a cell for each column; all of a head's cells, and the first of any other row, are headers.
    pub fn row(&self, part: Tag, columns: usize, is_head: bool) -> Vec<Tag> {
        let row = self.open(part, Role::TR);
        let cell = |column: usize| match (is_head, column) {
            (true, _) => self.open(row, Role::TH(TableHeaderScope::Column)),
            (false, 0) => self.open(row, Role::TH(TableHeaderScope::Row)),
            _ => self.open(row, Role::TD),
        };
        (0..columns).map(cell).collect()
    }

    /// Draws what belongs to a node.
    pub fn draw(
        &self,
        surface: &mut Surface<'_>,
        tag: Tag,
        is_text: bool,
        draw: impl FnOnce(&mut Surface<'_>),
    ) {
        let content = if is_text { ContentTag::Span(SpanTag::empty()) } else { ContentTag::Other };
        let drawn = surface.start_tagged(content);
        draw(surface);
        surface.end_tagged();
        self.nodes.borrow_mut()[tag.0].children.push(Child::Drawn(drawn));
    }

    /// Where a picture lies on which page.
    pub fn place(&self, tag: Tag, page: usize, rect: Rect) {
        if let TagKind::Figure(figure) = &mut self.nodes.borrow_mut()[tag.0].role {
            figure.set_bbox(Some(BBox::new(page, rect)));
        }
    }

    /// The tree; nodes of which nothing was drawn are left out, but for the cells of a table.
    pub fn tree(self) -> TagTree {
        let mut nodes: Vec<Option<Opened>> = self.nodes.into_inner().into_iter().map(Some).collect();
        let children = grown(&mut nodes, Tag::ROOT).map_or(Vec::new(), |root| root.children);
        TagTree::from(children).with_lang(Some("en".to_owned()))
    }
}

fn grown(nodes: &mut [Option<Opened>], tag: Tag) -> Option<TagGroup> {
    let Opened { role, children } = nodes[tag.0].take()?;
    let mut group = TagGroup::new(role);
    for child in children {
        match child {
            Child::Node(tag) => group.children.extend(grown(nodes, tag).map(Node::from)),
            Child::Drawn(identifier) => group.push(identifier),
        }
    }
    let is_cell = matches!(group.tag, TagKind::TH(_) | TagKind::TD(_));
    (is_cell || !group.children.is_empty()).then_some(group)
}

/// Draws what is no part of the text: rules, grounds, what stands at the foot of every page.
pub(super) fn decoration(surface: &mut Surface<'_>, kind: ArtifactType, draw: impl FnOnce(&mut Surface<'_>)) {
    surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(kind)));
    draw(surface);
    surface.end_tagged();
}
