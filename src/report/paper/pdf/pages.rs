//! Pieces laid on pages.

use super::piece::{Entry, Mark, Piece};

/// The room for pieces on a page, from its upper left corner.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    pub left: f32,
    pub top: f32,
    pub width: f32,
    pub height: f32,
}

/// A page with everything at its final place.
#[derive(Default)]
pub(super) struct Page {
    pub marks: Vec<Mark>,
    /// Headings with the height at which they stand.
    pub entries: Vec<(Entry, f32)>,
}

/// Lays pieces on as many pages as they need.
pub(super) fn pages(pieces: &[Piece], room: Room) -> Vec<Page> {
    let mut pages = vec![Page::default()];
    let mut used = 0.0;
    for (index, piece) in pieces.iter().enumerate() {
        let empty = used == 0.0;
        let before = if empty { 0.0 } else { piece.before };
        // What no page can hold may be divided anywhere.
        let together = Some(kept_together(&pieces[index..])).filter(|height| *height <= room.height);
        let wanted = before + together.unwrap_or(piece.height);
        if !empty && (piece.breaks || used + wanted > room.height) {
            pages.push(Page::default());
            used = 0.0;
            if let Some(head) = &piece.head {
                used += put(&mut pages, head, used, room);
            }
        } else {
            used += before;
        }
        used += put(&mut pages, piece, used, room);
    }
    pages
}

/// Height of the first piece and of those that it must stay with.
fn kept_together(pieces: &[Piece]) -> f32 {
    let mut height = 0.0;
    for (index, piece) in pieces.iter().enumerate() {
        if index > 0 {
            height += piece.before;
        }
        height += piece.height;
        if !piece.keeps {
            break;
        }
    }
    height
}

fn put(pages: &mut [Page], piece: &Piece, used: f32, room: Room) -> f32 {
    let Some(page) = pages.last_mut() else { return 0.0 };
    let corner = (room.left, room.top + used);
    page.marks.extend(piece.marks.iter().map(|mark| mark.moved(corner)));
    if let Some(entry) = &piece.entry {
        page.entries.push((entry.clone(), corner.1));
    }
    piece.height
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::rc::Rc;

    const ROOM: Room = Room { left: 10.0, top: 20.0, width: 100.0, height: 100.0 };

    fn piece(height: f32) -> Piece {
        let mark = Mark::Fill { at: (0.0, 0.0), size: (1.0, height), colour: [0; 3] };
        Piece { height, before: 5.0, marks: vec![mark], ..Piece::default() }
    }

    fn tops(page: &Page) -> Vec<f32> {
        page.marks.iter().map(|mark| if let Mark::Fill { at, .. } = mark { at.1 } else { f32::NAN }).collect()
    }

    #[test]
    fn a_page_breaks_where_no_room_is_left() {
        let laid = pages(&[piece(60.0), piece(30.0), piece(30.0)], ROOM);
        assert_eq!(laid.len(), 2);
        assert_eq!(tops(&laid[0]), [20.0, 85.0]);
        assert_eq!(tops(&laid[1]), [20.0]);
    }

    #[test]
    fn a_heading_stays_with_what_it_heads_and_a_head_comes_again() {
        let heading = Piece { keeps: true, ..piece(10.0) };
        let laid = pages(&[piece(80.0), heading, piece(20.0)], ROOM);
        assert_eq!((laid.len(), laid[1].marks.len()), (2, 2));
        let row = Piece { head: Some(Rc::new(piece(8.0))), ..piece(50.0) };
        let laid = pages(&[row.clone(), row.clone()], ROOM);
        assert_eq!(tops(&laid[1]), [20.0, 28.0]);
    }
}
