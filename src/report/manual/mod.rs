//! The verification manual: tables for a terminal, JSON, and the page as Markdown and as HTML with its figures.
//!
//! The page is first gathered as blocks, so that Markdown and HTML carry the same content. Nothing here
//! depends on the clock or the machine: what is below rounding noise is not printed.

mod chapters;
mod content;
mod coverage;
mod html;
mod json;
mod markdown;
mod numbers;
mod plot;
mod sketch;
mod terminal;
mod values;

pub use json::manual_json;
pub use terminal::manual_page;

use super::paper::Block;
use crate::manual::{Entry, Limit};

/// What stands behind the cases: known limits, and deliberate faults with the case that catches each.
pub struct Closing {
    pub limits: Vec<Limit>,
    pub faults: Vec<(String, &'static str)>,
}

/// The page as one self-contained HTML document.
#[must_use]
pub fn manual_html(entries: &[Entry], closing: &Closing) -> String {
    html::page(&content::blocks(entries, closing))
}

/// The page with its figures as files: names below a folder, with their text.
#[must_use]
pub fn manual_files(entries: &[Entry], closing: &Closing) -> Vec<(String, String)> {
    let blocks = content::blocks(entries, closing);
    let mut files = vec![
        ("RESULTS.md".to_owned(), markdown::page(&blocks)),
        ("RESULTS.html".to_owned(), html::page(&blocks)),
    ];
    for block in blocks {
        if let Block::Figure(figure) = block {
            files.push((format!("figures/{}.svg", figure.name), figure.svg));
        }
    }
    files
}

#[cfg(test)]
mod tests;
