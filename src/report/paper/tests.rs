//! What both writers must do with any document.

use super::*;

const HOSTILE: &str = "<script>alert(\"x\")</script> & 'a' \u{202e}gpj\u{0} \u{1b}[2J ]]> --> \\ \u{fffe}";

/// Words that have broken a page somewhere: marks of a page, writing from right to left, letters of no typeface of
/// ours, words of no end, formulas, nothing.
const TEXTS: [&str; 9] = [
    HOSTILE,
    "מעלית (ב) 12 mm",
    "电梯 \u{1f6d7}\u{fe0f} e\u{301}\u{200b}",
    "very long name very long name very long name very long name very long name very long name very long name",
    "pneumonoultramicroscopicsilicovolcanoconiosispneumonoultramicroscopicsilicovolcanoconiosispneumonoultramicroscopic",
    "=cmd|' /C calc'!A0",
    "\u{300}",
    "",
    " ",
];

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

/// More than a line, and more than a page's width, can hold.
fn endless() -> [String; 2] {
    ["very long name ".repeat(60), "x".repeat(900)]
}

#[test]
fn no_text_breaks_out_of_its_place() {
    let endless = endless();
    for text in TEXTS.into_iter().chain(endless.iter().map(String::as_str)) {
        let page = html::page(&document(text, 2), Paper::Letter);
        assert!(!page.contains("<script"), "{page}");
        assert!(!page.contains(['\u{202e}', '\0', '\u{1b}', '\u{fffe}']), "{page}");
        let bytes = pdf::bytes(&document(text, 2), Paper::Letter).unwrap();
        assert!(bytes.ends_with(b"%%EOF"), "a whole file");
    }
}

#[test]
fn every_document_can_be_read_out() {
    // The library refuses what breaks a rule of PDF/UA-1 that a program can check: a picture without words in its
    // place, a heading without text, a letter without its character, content that is neither told nor decoration.
    let endless = endless();
    let texts = TEXTS.into_iter().chain(endless.iter().map(String::as_str));
    for text in texts.filter(|text| !printable(text).trim().is_empty()) {
        for paper in [Paper::A4, Paper::Letter] {
            let found = pdf::accessible_bytes(&document(text, 90), paper);
            assert!(found.is_ok(), "{text:?}: {:?}", found.err());
        }
    }
    let mut mute = document("x", 1);
    mute.title = String::new();
    assert!(pdf::accessible_bytes(&mute, Paper::A4).is_err(), "a document without a title is refused");
}

#[test]
fn a_character_that_the_typeface_lacks_is_owned_up_to() {
    let pages = |text: &str| pdf::replaced_characters(&document(text, 1)).unwrap();
    assert_eq!(pages("Aufzug č Ω מ ع"), Vec::<char>::new());
    assert_eq!(pages("电梯 x 电"), ['梯', '电']);
    let drawn = Figure {
        name: "f".into(),
        caption: String::new(),
        svg: "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"><text>电</text></svg>"
            .into(),
    };
    let drawing = Document { blocks: vec![Block::Figure(drawn)], ..document("x", 1) };
    assert_eq!(pdf::replaced_characters(&drawing).unwrap(), ['电']);
}

#[test]
fn no_level_of_headings_is_left_out() {
    let heading = |level: u8| Block::heading(level, "x", "");
    let document = Document { blocks: [1, 2, 4, 4, 2, 3].map(heading).into(), ..document("x", 1) };
    let page = html::page(&document, Paper::A4);
    let levels: Vec<&str> = page.split("<h").skip(1).filter_map(|rest| rest.get(..1)).collect();
    assert_eq!(levels.join("").replace(['t', 'e'], ""), "123323", "{page}");
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
