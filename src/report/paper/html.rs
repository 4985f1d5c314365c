//! A document as one page of HTML that needs nothing else: no network, and no script to be read.

use super::block::{Block, Document, Figure, Levels, Number, Paper, Table, TableKind, Tone};
use super::letters::printable;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Quiet, legible in grey, and fit for paper.
const LOOKS: &str = include_str!("paper.css");
/// Whatever a text might smuggle in, the page fetches nothing.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";

pub(in crate::report) fn page(document: &Document, paper: Paper) -> String {
    let foot = css_string(&document.foot);
    let print = format!(
        "@page {{ size: {}; margin: 14mm 16mm 17mm; \
         @bottom-left {{ content: \"{foot}\"; font: 7pt Helvetica, Arial, sans-serif; color: #5c5c5c; }} \
         @bottom-right {{ content: counter(page) \" of \" counter(pages); white-space: nowrap; font: 7pt Helvetica, Arial, sans-serif; \
         color: #5c5c5c; }} }}",
        paper.css()
    );
    let mut levels = Levels::default();
    let told = |each: &Block| match each {
        Block::Heading { level, text, anchor } => heading(levels.told(*level), *level, text, anchor),
        each => block(each),
    };
    let blocks: Vec<Markup> = document.blocks.iter().map(told).collect();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                title { (printable(&document.title)) }
                style { (PreEscaped(LOOKS)) (PreEscaped(print)) }
            }
            body {
                main { @for each in &blocks { (each) "\n" } }
                @if let Some(script) = &document.script { script { (PreEscaped(script)) } }
            }
        }
    };
    page.into_string() + "\n"
}

/// A text inside quotes of a style sheet; nothing in it ends the string or the sheet.
fn css_string(text: &str) -> String {
    let kept = |c: char| match c {
        '"' | '\\' | '<' | '>' | '&' => format!("\\{:06x}", c as u32),
        c => c.to_string(),
    };
    printable(text).chars().map(kept).collect()
}

pub(in crate::report) fn block(block: &Block) -> Markup {
    match block {
        Block::Heading { level, text, anchor } => heading(*level, *level, text, anchor),
        Block::Text(text) => html! { p { (printable(text)) } },
        Block::Note(text) => html! { p.note { (printable(text)) } },
        Block::Strong(text) => html! { p.strong { (printable(text)) } },
        Block::Loud(text) => html! { p.loud { (printable(text)) } },
        Block::Code(code) => html! { pre { (printable(code)) } },
        Block::List(items) => html! { ul { @for item in items { li { (printable(item)) } "\n" } } },
        Block::Contents(links) => html! {
            nav {
                @for link in links {
                    a.inner[link.depth > 0] href=(format!("#{}", link.anchor)) { (printable(&link.text)) }
                    "\n"
                }
            }
        },
        Block::Pairs(pairs) => html! {
            dl { @for (key, value) in pairs { div { dt { (printable(key)) } dd { (printable(value)) } } "\n" } }
        },
        Block::Table(rows) => table(rows),
        Block::Form(form) => table(&form.table()),
        // The drawings are the program's own and escape their words themselves.
        Block::Figure(figure) => drawing(figure),
        Block::Numbers(numbers) => html! { div.numbers { @for each in numbers { (number(each)) } } },
        Block::Boxed { tone, blocks } => html! {
            section class=(format!("boxed {}", tone_class(*tone))) { @for each in blocks { (self::block(each)) } }
        },
        Block::Beside { share, left, right } => html! {
            div.beside style=(format!("--left: {:.3}fr; --right: {:.3}fr", share, 1.0 - share)) {
                div { @for each in left { (self::block(each)) } }
                div { @for each in right { (self::block(each)) } }
            }
        },
        Block::Together(blocks) => html! {
            div.together { @for each in blocks { (self::block(each)) } }
        },
        Block::Lines(labels) => html! {
            div.lines { @for label in labels { div { span { (printable(label)) } } } }
        },
        Block::Screen(markup) => html! { div.screen { (markup) } },
        Block::PageBreak => html! { hr.break; },
    }
}

/// A heading told at one level, with the looks of another.
fn heading(told: u8, level: u8, text: &str, anchor: &str) -> Markup {
    let text = printable(text);
    let anchor = Some(anchor).filter(|anchor| !anchor.is_empty());
    let (small, least) = (level == 4, level > 4);
    match told {
        1 => html! { h1 id=[anchor] { (text) } },
        2 => html! { h2 id=[anchor] { (text) } },
        3 => html! { h3.small[small].least[least] id=[anchor] { (text) } },
        4 => html! { h4.small[small].least[least] id=[anchor] { (text) } },
        _ => html! { h5.least id=[anchor] { (text) } },
    }
}

/// A cell's text; a word too long for any column may be broken at its dots and dashes, and else after every few letters.
fn cell(text: &str) -> Markup {
    const LONG: usize = 28;
    let text = printable(text);
    if text.split(' ').all(|word| word.chars().count() <= LONG) {
        return html! { (text) };
    }
    let mut parts = vec![String::new()];
    for letter in text.chars() {
        let Some(part) = parts.last_mut() else { break };
        part.push(letter);
        if matches!(letter, '.' | '_' | '-' | '/' | ' ') || part.chars().count() == LONG {
            parts.push(String::new());
        }
    }
    html! { @for part in parts { (part) wbr; } }
}

fn drawing(figure: &Figure) -> Markup {
    html! {
        figure {
            div.wide tabindex="0" role="region" aria-label="drawing" { (PreEscaped(&figure.svg)) }
            figcaption { (printable(&figure.caption)) }
        }
    }
}

fn number(number: &Number) -> Markup {
    html! {
        div {
            span.value { (printable(&number.value)) }
            span.label { (printable(&number.label)) }
            span.note { (printable(&number.note)) }
        }
    }
}

fn tone_class(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "plain",
        Tone::Favourable => "favourable",
        Tone::Refusal => "refusal",
        Tone::Open => "open",
    }
}

fn table(table: &Table) -> Markup {
    let (matrix, form) = (table.kind == TableKind::Matrix, table.kind == TableKind::Form);
    html! {
        // What is too wide for a screen is moved inside its own frame, which a keyboard can reach.
        div.wide tabindex="0" role="region" aria-label="table" {
            table.matrix[matrix].form[form] {
                thead { tr {
                    @for (head, number) in &table.heads { th.n[*number] scope="col" { (printable(head)) } }
                } }
                tbody {
                    @for row in &table.rows {
                        tr.miss[Table::is_loud(row)] {
                            @for (column, text) in row.iter().enumerate() {
                                @if column == 0 {
                                    th.n[table.is_number(column)] scope="row" { (cell(text)) }
                                } @else {
                                    td.n[table.is_number(column)] { (cell(text)) }
                                }
                            }
                        }
                        "\n"
                    }
                }
            }
        }
    }
}
