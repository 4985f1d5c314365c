//! What goes to the workshop and into tables: CSV, the drawing for the machine, the machining sheet.
//!
//! One survey with hostile words runs once through the program; each test looks at its own files.

use serde_json::json;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// Everything that a format could take for a command.
const NAME: &str = "=cmd|' /C calc'!A0 <script>alert(1)</script> & \\\"quoted\\\" %%c {\\\\H9;} ^J \\u202Emirrored\\u202C שלום";
const SHEAVE: &str = "@lift\\n</text>\\t]]> \\u0000\\u001b[2J";

struct Run {
    folder: tempfile::TempDir,
    code: Option<i32>,
    said: String,
}

impl Run {
    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

fn hostile() -> &'static Run {
    static RUN: OnceLock<Run> = OnceLock::new();
    RUN.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let survey =
            std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/meshes/harbour.toml")).unwrap();
        let survey = survey
            .replace("name = \"Harbour tower\"", &format!("name = \"{NAME}\""))
            .replace(
                "sheave = \"lift B, traction sheave\"",
                &format!("sheave = \"{SHEAVE}{}\"", "long ".repeat(200)),
            )
            .replace("surveyor = \"demo\"", "surveyor = \"+1-2 \\\"demo\\\"\"");
        std::fs::write(folder.path().join("hostile.toml"), survey).unwrap();
        let output = crate::program()
            .current_dir(folder.path())
            .args(
                [
                    ["check", "hostile.toml", "--brief", "--csv", "tables"].as_slice(),
                    &["--dxf", "grooves.dxf", "--machining", "cut.pdf", "--paper", "a4"],
                ]
                .concat(),
            )
            .output()
            .unwrap();
        let said = [output.stdout, output.stderr].concat();
        Run { code: output.status.code(), said: String::from_utf8(said).unwrap(), folder }
    })
}

fn tables(run: &Run) -> Vec<(String, csv::StringRecord, Vec<csv::StringRecord>)> {
    let files = std::fs::read_dir(run.path("tables")).unwrap();
    let read = |path: PathBuf| {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let mut reader = csv::Reader::from_path(&path).unwrap();
        let heads = reader.headers().unwrap().clone();
        (name, heads, reader.records().map(Result::unwrap).collect())
    };
    files.map(|file| read(file.unwrap().path())).collect()
}

#[test]
fn every_table_can_be_read_and_is_no_program() {
    let run = hostile();
    assert_eq!(run.code, Some(0), "{}", run.said);
    let tables = tables(run);
    assert!(tables.len() > 20, "{}", tables.len());
    for (name, heads, rows) in &tables {
        for row in rows {
            assert_eq!(row.len(), heads.len(), "{name}");
            for cell in row {
                assert!(!cell.starts_with(['=', '+', '@']), "{name}: {cell}");
                assert!(!cell.starts_with('-') || cell.parse::<f64>().is_ok(), "{name}: {cell}");
                assert!(!cell.contains(|c: char| c.is_control() || c == '\u{202e}'), "{name}: {cell:?}");
            }
        }
    }
    let rows = |table: &str| &tables.iter().find(|(name, ..)| name == table).unwrap().2;
    let job = rows("verdict").iter().find(|row| &row[0] == "job").unwrap();
    assert!(
        job[1].starts_with("'=cmd|") && job[1].contains("<script>") && job[1].contains("שלום"),
        "{}",
        &job[1]
    );
    for table in ["checks", "walls_left", "places", "rope_tensions", "one_turn", "meshes", "survey"] {
        assert!(!rows(table).is_empty(), "{table} is empty");
    }
}

#[test]
fn every_number_of_a_table_has_its_unit_in_the_head() {
    // Counts, ordinals, ratios and factors have none.
    const PLAIN: [&str; 13] = [
        "groove",
        "rope",
        "mesh",
        "triangles",
        "nodes",
        "unknowns",
        "harmonic",
        "factor",
        "ratio",
        "readings",
        "share",
        "relative",
        "turns",
    ];
    for (name, heads, rows) in tables(hostile()) {
        for (column, head) in heads.iter().enumerate() {
            let numbers = rows.iter().any(|row| row[column].parse::<f64>().is_ok());
            let plain = PLAIN.iter().any(|word| head.to_lowercase().contains(word));
            let text = name == "survey" || head.contains("equal ropes");
            assert!(!numbers || plain || text || head.ends_with(')'), "{name}: {head}");
        }
    }
}

#[test]
fn the_turn_of_the_governing_place_closes_and_has_the_peak() {
    let all = tables(hostile());
    let (.., rows) = all.iter().find(|(name, ..)| name == "one_turn").unwrap();
    let number = |row: &csv::StringRecord, column: usize| row[column].parse::<f64>().unwrap();
    assert_eq!(rows.len(), 181);
    for column in 1..10 {
        assert!((number(&rows[0], column) - number(&rows[180], column)).abs() < 1e-6);
    }
    let highest = rows.iter().map(|row| number(row, 7)).fold(f64::NEG_INFINITY, f64::max);
    let (.., stress) = all.iter().find(|(name, ..)| name == "stress").unwrap();
    let peak = number(&stress[0], 1);
    // The angles of the table need not hit the peak's own.
    assert!(highest <= peak + 1e-6 && highest > 0.98 * peak, "{highest} {peak}");
}

/// The drawing's sizes from the survey's own numbers: a slot of 90° in a seat of radius R is R√2 wide.
fn expected() -> serde_json::Value {
    let inch = 25.4;
    let (radius, depth) = (0.265 * inch, 0.67 * inch);
    json!({
        "layers": ["FINISHED_OUTLINE", "AS_FOUND", "DATUM_RIM_EDGE", "GROOVE_MIDDLES", "ROPES", "NOTES"],
        "half_width": 2.25 * inch,
        "middles": (-2..=2).map(|i| 0.75 * inch * f64::from(i)).collect::<Vec<_>>(),
        "seat_radius": radius,
        "seat_depth": depth,
        "slot_width": radius * 2f64.sqrt(),
        "tool_depth": depth + 4.0,
        "corner_radius": 1.5,
        "rope_radius": 0.25 * inch,
        "words": ["<script>alert(1)</script>", "שלום", "17.018", "hostile.toml"],
    })
}

fn read_dxf(drawing: &Path, expected: &serde_json::Value) -> (Option<i32>, String) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("expected.json");
    std::fs::write(&file, expected.to_string()).unwrap();
    let python = std::env::var("RIMPROOF_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/validation/read_dxf.py");
    let output = Command::new(&python).arg(script).arg(drawing).arg(&file).output().unwrap();
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn an_outside_reader_finds_the_finished_grooves() {
    let drawing = hostile().path("grooves.dxf");
    let (code, said) = read_dxf(&drawing, &expected());
    assert_eq!(
        code,
        Some(0),
        "{said}; run validation/prepare.sh and set RIMPROOF_PYTHON to the path it prints"
    );
    // A size that is a hundredth off is noticed.
    for key in ["seat_radius", "seat_depth", "slot_width", "tool_depth"] {
        let mut wrong = expected();
        wrong[key] = (wrong[key].as_f64().unwrap() + 0.01).into();
        let (code, said) = read_dxf(&drawing, &wrong);
        assert!(code == Some(1) && said.contains("MISMATCH"), "{key}: {said}");
    }
    let text = std::fs::read_to_string(&drawing).unwrap();
    assert!(text.is_ascii() && !text.contains("%%"), "letters beyond ASCII are escaped");
}

#[test]
fn a_machining_sheet_is_a_pdf_that_runs_nothing() {
    let sheet = std::fs::read(hostile().path("cut.pdf")).unwrap();
    assert!(sheet.starts_with(b"%PDF-") && sheet.len() > 10_000, "{}", sheet.len());
    for word in ["/JavaScript", "/JS", "/Launch", "/OpenAction", "/URI"] {
        assert!(!sheet.windows(word.len()).any(|part| part == word.as_bytes()), "{word}");
    }
}

#[test]
fn where_no_cut_is_allowed_nothing_for_the_machine_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("grooves.dxf");
    let run = || {
        crate::program()
            .args(["check", "meshes/deflector.toml", "--brief", "--dxf"])
            .arg(&sheet)
            .output()
            .unwrap()
    };
    let output = run();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(!sheet.exists());
    for words in
        ["There is no drawing for the machine", "the verdict allows no cut: REJECT", "Nothing is written"]
    {
        assert!(said.contains(words), "{said}");
    }
    // An older file may be of another check: it is kept, and the user is warned of it.
    std::fs::write(&sheet, "older").unwrap();
    let said = String::from_utf8(run().stderr).unwrap();
    assert!(said.contains("do not cut from it"), "{said}");
    assert_eq!(std::fs::read_to_string(&sheet).unwrap(), "older");
}

#[test]
fn a_measuring_sheet_is_written_for_any_number_of_ropes_and_stations() {
    let folder = tempfile::tempdir().unwrap();
    let write = |more: &[&str]| {
        let file = folder.path().join("sheet.pdf");
        let output = crate::program().args(["survey", "--sheet"]).arg(&file).args(more).output().unwrap();
        (output.status.code(), std::fs::read(&file).ok(), String::from_utf8(output.stderr).unwrap())
    };
    let (code, usual, _) = write(&[]);
    let usual = usual.unwrap();
    assert!(code == Some(0) && usual.starts_with(b"%PDF-"));
    assert_eq!(write(&["--units", "metric", "--ropes", "5", "--stations", "6"]).1, Some(usual.clone()));
    for more in [
        ["--ropes", "1"],
        ["--ropes", "24"],
        ["--stations", "24"],
        ["--units", "inch"],
        ["--paper", "letter"],
    ] {
        let (code, sheet, said) = write(&more);
        assert!(code == Some(0) && sheet.is_some_and(|sheet| sheet != usual), "{more:?}: {said}");
    }
    let (code, _, said) = write(&["--ropes", "0"]);
    assert!(code == Some(2) && said.contains("1..=24"), "{said}");
    let output = crate::program().args(["survey", "--ropes", "4"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2), "ropes belong to the sheet");
}
