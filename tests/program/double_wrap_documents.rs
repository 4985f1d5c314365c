//! What is handed out of a double wrap: the report of both sheaves, their tables, and what a shop cuts from.

use crate::double_wrap::{DRIVE, close, json, number, rows, run, secondary};
use sha2::{Digest, Sha256};
use std::fs;

/// Words in both surveys that every format could take for a command.
const HOSTILE: &str = "=1+1 <script>alert(1)</script> & </style><img src=x> \\u202Egpj ";

/// The rig with hostile names, and with a cut on both sheaves where one is asked.
fn pair(cut: bool) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (file, text, name) in
        [("drive.toml", DRIVE.to_owned(), "first"), ("secondary.toml", secondary(), "other")]
    {
        let mut text = text
            .replace("name = \"Test rig\"", &format!("name = \"{HOSTILE}{name}\""))
            .replace("sheave = \"drive\"", &format!("sheave = \"@{HOSTILE}{name}\""));
        if cut {
            let seats = "[grooves.cut_to]\nshape = \"round\"\nseat_radius = \"6.9 mm\"\nopening_angle = \"30 deg\"\n[walls]";
            text = text
                .replace("[walls]", seats)
                .replace("plan = \"none\"", "plan = \"to depth\"\ndepth = \"11 mm\"");
        }
        fs::write(folder.path().join(file), text).unwrap();
    }
    folder
}

/// Every id of the page, in its order.
fn ids(page: &str) -> Vec<&str> {
    page.split(" id=\"").skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn the_report_tells_of_both_sheaves_and_comes_out_the_same_again() {
    let folder = pair(false);
    let papers = |html: &str, pdf: &str| {
        let (output, said) =
            run(folder.path(), &["check", "drive.toml", "--brief", "--report", html, "--pdf", pdf]);
        assert_eq!(output.status.code(), Some(0), "{said}");
        [html, pdf].map(|name| fs::read(folder.path().join(name)).unwrap())
    };
    let first = papers("a.html", "a.pdf");
    assert!(first == papers("b.html", "b.pdf"), "two runs differ");
    let page = String::from_utf8(first[0].clone()).unwrap();
    let ids = ids(&page);
    let mut once = ids.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), ids.len(), "an id comes twice");
    for sheave in ["drive", "secondary"] {
        for part in
            ["checks", "loads", "stress", "by-hand", "inputs", "identity", "field", "theta", "field-data"]
        {
            let id = format!("{sheave}-{part}");
            assert!(ids.contains(&id.as_str()), "{id} of {ids:?}");
        }
        let bytes = fs::read(folder.path().join(format!("{sheave}.toml"))).unwrap();
        let hash: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert!(page.contains(&hash), "the hash of {sheave}.toml");
    }
    // Links of the contents lead to what is there.
    let links: Vec<&str> =
        page.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert!(links.len() > 25 && links.iter().all(|link| ids.contains(link)), "{links:?}");
    for words in [
        "MAY STAY AS IT IS",
        "1 The double wrap",
        "2 Drive sheave",
        "3 Secondary sheave",
        "2.1 Every check",
        "3.1 Every check",
        "tightest moment over the travel",
        "Assumed of the secondary sheave",
        "certifies nothing",
        "Responsible engineer",
    ] {
        assert!(page.contains(words), "{words}");
    }
    // What the surveys say stands there as text, of both.
    for name in ["first", "other"] {
        let shown = format!(
            "=1+1 &lt;script&gt;alert(1)&lt;/script&gt; &amp; &lt;/style&gt;&lt;img src=x&gt; gpj {name}"
        );
        assert!(page.contains(&shown), "{shown}");
    }
    assert!(!page.contains("<script>alert") && !page.contains("<img") && !page.contains('\u{202e}'));
    // Two fields and one script that draws them.
    assert_eq!(page.matches("<script").count(), 3);
}

#[test]
fn tables_of_both_sheaves_and_of_what_lies_between_are_written() {
    let folder = pair(true);
    let (output, said) =
        run(folder.path(), &["check", "drive.toml", "--brief", "--csv", "t", "--json", "a.json"]);
    assert_eq!(output.status.code(), Some(0), "{said}");
    let files = |name: &str| -> Vec<String> {
        let list = fs::read_dir(folder.path().join("t").join(name)).unwrap().map(Result::unwrap);
        let list = list.filter(|file| file.path().is_file());
        let mut names: Vec<String> = list.map(|file| file.file_name().into_string().unwrap()).collect();
        names.sort();
        names
    };
    let (common, drive) = (files(""), files("drive"));
    assert!(drive.len() > 20 && drive == files("secondary"));
    assert_eq!(common.len(), 6, "{common:?}");
    for (place, names) in [("t", &common), ("t/drive", &drive), ("t/secondary", &drive)] {
        for name in names {
            let mut reader =
                csv::ReaderBuilder::new().from_path(folder.path().join(place).join(name)).unwrap();
            for record in reader.records() {
                for cell in &record.unwrap() {
                    assert!(!cell.starts_with(['=', '+', '@']), "{place}/{name}: {cell}");
                }
            }
        }
    }
    let document = json(&folder.path().join("a.json"));
    let double = &document["double_wrap"];
    let combinations = rows(&folder.path().join("t/combinations.csv"));
    let list = double["combinations"].as_array().unwrap();
    assert_eq!(combinations.len(), 2 * list.len());
    for (pair, combination) in combinations.chunks(2).zip(list) {
        for (row, sheave) in pair.iter().zip(["drive", "secondary"]) {
            assert_eq!(row["sheave"], format!("{sheave} sheave"));
            let peak = row["highest tension (MPa)"].parse::<f64>().unwrap();
            close("peak", peak, number(&combination[sheave]["peak_mpa"]), 1e-5);
        }
    }
    let governs = combinations.iter().filter(|row| row["governs its sheave"] == "yes").count();
    assert_eq!(governs, 2);
    let verdict = rows(&folder.path().join("t/verdict.csv"));
    let said = |what: &str| verdict.iter().find(|row| row["what"] == what).unwrap()["text"].clone();
    assert_eq!(said("verdict on both sheaves"), "MAY BE CUT AS STATED");
    assert_eq!(said("sha256 of the secondary sheave's survey"), document["input"]["secondary"]["sha256"]);
    // Both states of the grooves, every rope, every sample.
    let history = rows(&folder.path().join("t/history.csv"));
    let samples = |state: &str| double[state]["history"]["samples"].as_array().unwrap().len();
    assert_eq!(history.len(), 2 * (samples("tensions") + samples("as_found")));
    let tensions = rows(&folder.path().join("t/tensions_between_passes.csv"));
    assert_eq!(tensions.iter().filter(|row| row["grooves"] == "as cut").count(), 2);
    // Both passes of a rope are of that rope.
    let ropes = rows(&folder.path().join("t/drive/rope_tensions.csv"));
    let judged: Vec<&str> =
        ropes.iter().filter(|row| row["judged"] == "yes").map(|row| row["rope"].as_str()).collect();
    assert_eq!(judged, ["1", "2", "1", "2"]);
}

/// A sheet is handed out for each sheave that is cut, and for none unless both hold.
#[test]
fn sheets_for_the_shop_follow_the_word_for_both_sheaves() {
    let folder = pair(true);
    let asked = ["check", "drive.toml", "--brief", "--machining", "cut.pdf", "--dxf", "g.dxf"];
    let (output, said) = run(folder.path(), &asked);
    assert_eq!(output.status.code(), Some(0), "{said}");
    for name in ["cut.pdf", "cut_secondary.pdf", "g.dxf", "g_secondary.dxf"] {
        assert!(folder.path().join(name).is_file(), "{name}: {said}");
    }
    // The secondary sheave stays as it is: it gets no sheet, and standard error says so.
    let uncut = pair(true);
    let path = uncut.path().join("secondary.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replace("plan = \"to depth\"\ndepth = \"11 mm\"", "plan = \"none\"")).unwrap();
    let (output, said) = run(uncut.path(), &asked);
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert!(uncut.path().join("cut.pdf").is_file() && !uncut.path().join("cut_secondary.pdf").exists());
    assert!(said.contains("secondary sheave is not to be cut") && said.contains("(check/no-cut)"), "{said}");
    // A weak secondary sheave forbids the cut of the drive sheave, which holds by itself.
    let weak = pair(true);
    let path = weak.path().join("secondary.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replace("edge_diameter = \"567 mm\"", "edge_diameter = \"467 mm\"")).unwrap();
    let (output, said) = run(weak.path(), &asked);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert_eq!(said.matches("(check/no-cut)").count(), 2, "{said}");
    assert!(said.contains("Secondary sheave, tension between the passes"), "{said}");
    assert!(["cut.pdf", "g.dxf"].iter().all(|name| !weak.path().join(name).exists()));
    // A name that the second sheet could not have is told before anything is computed.
    fs::create_dir(folder.path().join("x_secondary.pdf")).unwrap();
    let (output, said) = run(folder.path(), &["check", "drive.toml", "--machining", "x.pdf"]);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("x_secondary.pdf") && said.contains("(file/write)"), "{said}");
}
