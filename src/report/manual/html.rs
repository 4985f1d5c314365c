//! The blocks of the page as one HTML document without anything from outside.

use super::content::{Block, Table};
use super::values::MISS;
use maud::{DOCTYPE, Markup, PreEscaped, html};

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

fn block(block: &Block) -> Markup {
    match block {
        Block::Heading { level, text, anchor } => match level {
            1 => html! { h1 id=(anchor) { (text) } },
            2 => html! { h2 id=(anchor) { (text) } },
            3 => html! { h3 id=(anchor) { (text) } },
            _ => html! { h4 { (text) } },
        },
        Block::Text(text) => html! { p { (text) } },
        Block::Strong(text) => html! { p.strong { (text) } },
        Block::Code(code) => html! { pre { (code) } },
        Block::List(items) => html! { ul { @for item in items { li { (item) } "\n" } } },
        Block::Contents(links) => html! {
            nav {
                @for link in links {
                    a.inner[link.depth > 0] href=(format!("#{}", link.anchor)) { (link.text) }
                    "\n"
                }
            }
        },
        Block::Table(rows) => table(rows),
        // The drawings are the program's own and escape their words themselves.
        Block::Figure(figure) => html! {
            figure { (PreEscaped(&figure.svg)) figcaption { (figure.caption) } }
        },
    }
}

fn table(table: &Table) -> Markup {
    let number = |column: usize| table.heads.get(column).is_some_and(|(_, number)| *number);
    html! {
        table.matrix[table.matrix] {
            thead { tr {
                @for (head, number) in &table.heads { th.n[*number] { (head) } }
            } }
            tbody {
                @for row in &table.rows {
                    tr.miss[row.iter().any(|cell| cell == MISS)] {
                        @for (column, cell) in row.iter().enumerate() { td.n[number(column)] { (cell) } }
                    }
                    "\n"
                }
            }
        }
    }
}
