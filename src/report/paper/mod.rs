//! Documents that leave the desk: gathered once as blocks, written as HTML and as PDF.
//!
//! Owns blocks, both writers, and what makes a text fit for a page. Lacks any subject: what a document says is
//! gathered elsewhere. The same document gives the same bytes: there is no clock, and its identity is handed in.

mod block;
pub(in crate::report) mod html;
mod letters;
pub(in crate::report) mod pdf;

pub use block::Paper;
pub(in crate::report) use block::{Block, Document, Figure, Form, Number, Table, TableKind, Tone, contents};
pub(in crate::report) use letters::{isolated, printable, short};
pub use pdf::PdfFault;

#[cfg(test)]
mod tests;
