//! The blocks of the page as one HTML document without anything from outside.

use crate::report::paper::{Block, html::block};
use maud::{DOCTYPE, PreEscaped, html};

/// Quiet, legible in grey, and fit for A4.
const LOOKS: &str = include_str!("manual.css");

pub(super) fn page(blocks: &[Block]) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "rimproof: verification manual" }
                style { (PreEscaped(LOOKS)) }
            }
            body {
                main { @for each in blocks { (block(each)) "\n" } }
            }
        }
    };
    page.into_string() + "\n"
}
