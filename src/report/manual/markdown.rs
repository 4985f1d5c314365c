//! The blocks of the page as Markdown; figures are files beside it.

use crate::report::paper::{Block, Table, TableKind};
use std::fmt::Write as _;

pub(super) fn page(blocks: &[Block]) -> String {
    let mut out = String::new();
    for block in blocks {
        let _ = match block {
            Block::Heading { level, text, anchor } => {
                if !anchor.is_empty() {
                    let _ = writeln!(out, "<a id=\"{anchor}\"></a>\n");
                }
                writeln!(out, "{} {}\n", "#".repeat(usize::from(*level)), escaped(text))
            }
            Block::Text(text) | Block::Note(text) => writeln!(out, "{}\n", escaped(text)),
            Block::Strong(text) | Block::Loud(text) => writeln!(out, "**{}**\n", escaped(text)),
            Block::Code(code) => writeln!(out, "    {code}\n"),
            Block::List(items) => {
                for item in items {
                    let _ = writeln!(out, "- {}", escaped(item));
                }
                writeln!(out)
            }
            Block::Contents(links) => {
                for link in links {
                    let indent = "  ".repeat(usize::from(link.depth));
                    let _ = writeln!(out, "{indent}- [{}](#{})", escaped(&link.text), link.anchor);
                }
                writeln!(out)
            }
            Block::Table(rows) => {
                table(rows, &mut out);
                writeln!(out)
            }
            Block::Figure(figure) => writeln!(
                out,
                "![{}](figures/{}.svg)\n\n*{}*\n",
                escaped(&figure.caption),
                figure.name,
                escaped(&figure.caption)
            ),
            // What the manual has none of; these are for sheets of paper.
            Block::Pairs(_)
            | Block::Numbers(_)
            | Block::Boxed { .. }
            | Block::Together(_)
            | Block::Beside { .. }
            | Block::Form(_)
            | Block::Lines(_)
            | Block::Screen(_)
            | Block::PageBreak => Ok(()),
        };
    }
    let end = out.trim_end().len();
    out.truncate(end);
    out.push('\n');
    out
}

fn table(table: &Table, out: &mut String) {
    let matrix = table.kind == TableKind::Matrix;
    let line = |cells: &mut dyn Iterator<Item = String>| {
        format!("| {} |", cells.map(|cell| escaped(&cell)).collect::<Vec<_>>().join(" | "))
    };
    let _ = writeln!(out, "{}", line(&mut table.heads.iter().map(|(head, _)| head.clone())));
    let rule = |(_, number): &(String, bool)| match (matrix, number) {
        (true, _) => ":-:",
        (_, true) => "--:",
        _ => ":--",
    };
    let mut rules: Vec<&str> = table.heads.iter().map(rule).collect();
    if let Some(first) = rules.first_mut().filter(|_| matrix) {
        *first = ":--";
    }
    let _ = writeln!(out, "|{}|", rules.join("|"));
    for row in &table.rows {
        let _ = writeln!(out, "{}", line(&mut row.iter().cloned()));
    }
}

/// Text in which nothing is taken for a mark of Markdown.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | '|' | '*' | '_' | '`' | '[' | ']' | '#' => out.extend(['\\', c]),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '\n' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
