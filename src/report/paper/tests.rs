//! What both writers must do with any document.

use super::*;

const HOSTILE: &str = "<script>alert(\"x\")</script> & 'a' \u{202e}gpj\u{0} \u{1b}[2J ]]> --> \\ \u{fffe}";

fn rows(count: usize) -> Vec<Vec<String>> {
    (0..count).map(|row| vec![format!("row {row}"), format!("{}", 3 * row)]).collect()
}

fn document(text: &str, count: usize) -> Document {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"96\" height=\"48\"><text x=\"4\" y=\"20\">θ</text></svg>";
    Document {
        title: text.to_owned(),
        foot: text.to_owned(),
        id: "a hash".into(),
        blocks: vec![
            Block::heading(1, text, "top"),
            Block::Boxed { tone: Tone::Open, blocks: vec![Block::Loud(text.into()), Block::text(text)] },
            Block::Pairs(vec![(text.into(), text.into())]),
            Block::Numbers(vec![Number { value: text.into(), label: text.into(), note: text.into() }]),
            Block::List(vec![text.into()]),
            Block::table(&[("name", false), ("number", true)], rows(count)),
            Block::Figure(Figure { name: "f".into(), caption: text.into(), svg: svg.into() }),
            Block::Beside {
                share: 0.5,
                left: vec![Block::note(text)],
                right: vec![Block::Lines(vec![text.into()])],
            },
            Block::Strong(text.into()),
            Block::PageBreak,
            Block::heading(2, text, "last"),
            Block::Code(text.into()),
        ],
        script: None,
    }
}

#[test]
fn the_same_document_gives_the_same_bytes() {
    let [a, b] = [0, 1].map(|_| pdf::bytes(&document("plain", 9), Paper::A4).unwrap());
    assert!(a.starts_with(b"%PDF-") && a == b);
    let letter = pdf::bytes(&document("plain", 9), Paper::Letter).unwrap();
    assert_ne!(a, letter);
    let other = Document { id: "another hash".into(), ..document("plain", 9) };
    assert_ne!(a, pdf::bytes(&other, Paper::A4).unwrap());
    let [a, b] = [0, 1].map(|_| html::page(&document("plain", 9), Paper::A4));
    assert_eq!(a, b);
}

#[test]
fn tables_go_on_over_pages() {
    let pages = |count: usize| pdf::page_count(&document("x", count), Paper::A4).unwrap();
    assert_eq!(pages(5), 2);
    assert!((4..=6).contains(&pages(150)), "{}", pages(150));
}

#[test]
fn no_text_breaks_out_of_its_place() {
    for text in [HOSTILE, "מעלית (ב) 12 mm", &"very long name ".repeat(60), &"x".repeat(900), "", " "] {
        let page = html::page(&document(text, 2), Paper::Letter);
        assert!(!page.contains("<script"), "{page}");
        assert!(!page.contains(['\u{202e}', '\0', '\u{1b}', '\u{fffe}']), "{page}");
        let bytes = pdf::bytes(&document(text, 2), Paper::Letter).unwrap();
        assert!(bytes.ends_with(b"%%EOF"), "a whole file");
    }
}

#[test]
fn a_style_sheet_holds_no_end_of_itself() {
    let document = Document { foot: "</style><b>\"; } * { color: red; } \\".into(), ..document("x", 1) };
    let page = html::page(&document, Paper::A4);
    assert_eq!(page.matches("</style>").count(), 1);
    assert!(!page.contains("\"; } * {"), "{page}");
}

#[test]
fn a_faulty_drawing_is_named() {
    let figure = Figure { name: "broken".into(), caption: String::new(), svg: "<svg".into() };
    let document = Document { blocks: vec![Block::Figure(figure)], ..document("x", 1) };
    let fault = pdf::bytes(&document, Paper::A4).unwrap_err();
    assert!(fault.to_string().contains("'broken'"), "{fault}");
}
