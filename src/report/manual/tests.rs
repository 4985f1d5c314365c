//! A miss is seen everywhere, and Markdown and HTML carry the same.

use super::*;
use crate::manual::{Case, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;

static CASE: Case = Case {
    name: "made-by-hand",
    title: "Angles <a & b> | c",
    chapter: Chapter::Ropes,
    about: "A * b _c_.",
    features: &[Feature::SeatFriction],
    run: || Ok(Record::default()),
};

fn row(what: &str, computed: f64) -> Row {
    Row::new(what, "MPa", Source::exact("definition"), 2.0, computed)
        .within(Tolerance::Absolute(0.5), "<reason> & more")
}

fn entry(rows: Vec<Row>) -> Entry {
    Entry { case: &CASE, record: Ok(Record::of_rows(rows)) }
}

const NOTHING: Closing = Closing { limits: Vec::new(), faults: Vec::new() };

#[test]
fn a_miss_is_printed_as_one_and_told_again_at_the_end() {
    let entries = [entry(vec![row("right", 2.1), row("wrong", 2.7)])];
    let page = manual_page(&entries, 100);
    assert!(page.contains("made-by-hand: Angles <a & b> | c (MISS)"), "{page}");
    let line = page.lines().find(|line| line.contains("wrong") && line.contains("0.70"));
    assert!(line.is_some_and(|line| line.contains("MISS")), "{page}");
    assert!(page.contains("\nMisses\n- made-by-hand: wrong: computed 2.70000"), "{page}");
    assert!(page.ends_with("0 of 1 cases and 1 of 2 values hold.\n"), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    let html = manual_html(&entries, &NOTHING);
    assert!(html.contains("<tr class=\"miss\">") && html.contains("0 of 1 cases"), "{html}");
}

#[test]
fn what_is_not_a_number_is_a_miss_and_null() {
    let entries = [entry(vec![row("nothing", f64::NAN)])];
    let page = manual_page(&entries, 100);
    assert!(page.contains("not a number") && page.contains("MISS"), "{page}");
    let json: serde_json::Value = serde_json::from_str(&manual_json(&entries).unwrap()).unwrap();
    let row = &json["cases"][0]["rows"][0];
    assert!(row["computed"]["value"].is_null() && row["holds"] == false, "{json}");
    assert_eq!(row["reference"]["unit"], "MPa");
    assert_eq!(json["holds"], false);
}

#[test]
fn words_are_escaped_for_each_kind_of_page() {
    let entries = [entry(vec![row("a|b", 2.0)])];
    let html = manual_html(&entries, &NOTHING);
    assert!(html.contains("Angles &lt;a &amp; b&gt; | c") && html.contains("&lt;reason&gt; &amp; more"));
    assert!(!html.contains("<a & b>") && !html.contains("<reason>"));
    let files = manual_files(&entries, &NOTHING);
    let text = &files.iter().find(|(name, _)| name == "RESULTS.md").unwrap().1;
    assert!(
        text.contains("a\\|b")
            && text.contains("&lt;a &amp; b&gt; \\| c")
            && text.contains("A \\* b \\_c\\_.")
    );
}

#[test]
fn both_pages_carry_the_same_words() {
    let entries = [entry(vec![row("right", 2.1), row("wrong", 2.7)])];
    let files = manual_files(&entries, &NOTHING);
    let [(_, markdown), (_, html)] = &files[..] else { panic!("two pages and no figures") };
    // Words alone: no marks of either language.
    let of_html = html.split("<body>").nth(1).unwrap();
    let mut plain = String::new();
    let mut inside = false;
    for c in of_html.chars() {
        match c {
            '<' => inside = true,
            '>' => (inside, _) = (false, plain.push(' ')),
            c if !inside => plain.push(c),
            _ => {}
        }
    }
    let words = |text: &str| -> Vec<String> {
        let kept =
            text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&").replace("&quot;", "\"");
        kept.split(|c: char| !c.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect()
    };
    // Anchors and links stand in attributes there, and in the text here.
    let mut here = String::new();
    for line in markdown.lines().filter(|line| !line.starts_with("<a id=")) {
        let line = line.split("](#").next().unwrap();
        here.push_str(line);
        here.push('\n');
    }
    assert_eq!(words(&here), words(&plain));
}
