//! Bad surveys through the program as a user meets it: every fault named once, all at once, at its
//! line and column, with what to do; exit code 2; and nothing is written.

use std::fs;
use std::path::{Path, PathBuf};

const HARBOUR: &str = include_str!("../../meshes/harbour.toml");
const MILL: &str = include_str!("../../meshes/mill.toml");

fn meshes() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes")
}

/// What the program said about one file, in a folder of its own.
struct Run {
    folder: tempfile::TempDir,
    stderr: String,
    code: Option<i32>,
}

/// Checks `survey.toml` in a folder that `prepare` fills, with every output asked for.
fn run(prepare: impl Fn(&Path)) -> Run {
    let folder = tempfile::tempdir().unwrap();
    prepare(folder.path());
    fs::write(folder.path().join("kept.json"), "kept").unwrap();
    let before = listing(folder.path());
    let output = crate::program()
        .current_dir(folder.path())
        .args(["check", "survey.toml", "--json", "kept.json", "--model", "model.toml", "--vtk", "vtk"])
        .output()
        .unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert!(output.stdout.is_empty(), "a page was printed:\n{stderr}");
    assert_eq!(listing(folder.path()), before, "files appeared or vanished:\n{stderr}");
    assert_eq!(fs::read_to_string(folder.path().join("kept.json")).unwrap(), "kept");
    assert!(!stderr.contains("panicked"), "{stderr}");
    Run { folder, stderr, code: output.status.code() }
}

fn listing(folder: &Path) -> Vec<String> {
    let entries =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = entries.collect();
    names.sort();
    names
}

/// A fault that is expected: its code, and the text that stands at its place.
type Expected = (&'static str, &'static str);

/// `file:line:column` of the first `at` in a text.
fn place(file: &str, text: &str, at: &str) -> String {
    let start = text.find(at).unwrap_or_else(|| panic!("no {at}"));
    let line = text[..start].matches('\n').count() + 1;
    let column = text[..start].rsplit('\n').next().unwrap().chars().count() + 1;
    format!("{file}:{line}:{column}: error: ")
}

/// Holds a run to exactly the expected faults, each with advice.
fn expect(name: &str, run: &Run, file: &str, text: &str, faults: &[Expected]) {
    let stderr = &run.stderr;
    assert_eq!(run.code, Some(2), "{name}:\n{stderr}");
    let lines: Vec<&str> = stderr.lines().collect();
    let errors: Vec<usize> = (0..lines.len()).filter(|i| lines[*i].contains(": error: ")).collect();
    assert_eq!(errors.len(), faults.len(), "{name}: one message for each fault\n{stderr}");
    for (code, at) in faults {
        let start = place(file, text, at);
        let hit = errors
            .iter()
            .find(|i| lines[**i].starts_with(&start) && lines[**i].contains(&format!("({code})")));
        let hit = hit.unwrap_or_else(|| panic!("{name}: no {start}...({code})\n{stderr}"));
        let advice = lines.get(hit + 1).copied().unwrap_or("");
        assert!(advice.starts_with("    ") && advice.trim().len() > 15, "{name}: no advice\n{stderr}");
    }
}

fn edited(base: &str, edits: &[(&str, &str)]) -> String {
    let mut text = base.to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "no {old}");
        text = text.replace(old, new);
    }
    text
}

struct Case {
    name: &'static str,
    edits: &'static [(&'static str, &'static str)],
    faults: &'static [Expected],
}

const fn case(
    name: &'static str,
    edits: &'static [(&'static str, &'static str)],
    faults: &'static [Expected],
) -> Case {
    Case { name, edits, faults }
}

#[test]
fn every_fault_of_a_survey_is_named_once() {
    for Case { name, edits, faults } in [
        case(
            "overlapping grooves",
            &[("pitch = \"3/4 in\"", "pitch = \"0.52 in\"")],
            &[("check/section", "\"0.52 in\"\noffset")],
        ),
        case(
            "groove wider than the pitch",
            &[("pitch = \"3/4 in\"", "pitch = \"0.45 in\"")],
            &[("survey/groove-wider-than-pitch", "\"0.45 in\"")],
        ),
        case(
            "slot deeper than the wall",
            &[("slot_depth = \"4 mm\"", "slot_depth = \"40 mm\"")],
            &[("survey/slot-deeper-than-wall", "\"40 mm\"")],
        ),
        case(
            "one wall below the slot",
            &[("\"1.13 in\"", "\"0.13 in\"")],
            &[("survey/slot-deeper-than-wall", "\"0.13 in\"")],
        ),
        case(
            "no wall after the cut",
            &[("depth = \"0.67 in\"", "depth = \"2 in\"")],
            &[("survey/no-wall-left", "\"2 in\"")],
        ),
        case(
            "rope larger than every groove",
            &[("rope_diameter = \"1/2 in\"", "rope_diameter = \"5/8 in\"")],
            &[("survey/rope-too-large", "\"5/8 in\"")],
        ),
        case(
            "groove to be cut too tight",
            &[(
                "[grooves.cut_to]\nshape = \"undercut\"\nseat_radius = \"0.265 in\"",
                "[grooves.cut_to]\nshape = \"undercut\"\nseat_radius = \"0.24 in\"",
            )],
            &[("survey/rope-too-large", "\"0.24 in\"")],
        ),
        case(
            "pitch diameter as rim diameter",
            &[("edge_diameter = \"26.5 in\"", "edge_diameter = \"26 in\"")],
            &[("survey/pitch-diameter", "\"26 in\"")],
        ),
        case("wrap of nothing", &[("\"165 deg\"", "\"0 deg\"")], &[("survey/wrap-range", "\"0 deg\"")]),
        case(
            "wrap beyond a turn",
            &[("\"165 deg\"", "\"370 deg\"")],
            &[("survey/wrap-range", "\"370 deg\"")],
        ),
        case(
            "light side heavier than the heavy one",
            &[
                (
                    "given = \"masses\"",
                    "given = \"tensions\"\nheavy_tension = \"4 kN\"\nlight_tension = \"5 kN\"",
                ),
                ("car = \"1542 kg\"\nrated_load = \"1134 kg\"\ncounterweight = \"2052 kg\"\n", ""),
            ],
            &[("survey/tension-order", "\"5 kN\"")],
        ),
        case(
            "counterweight above the loaded car",
            &[("\"2052 kg\"", "\"2900 kg\"")],
            &[("survey/tension-order", "\"2900 kg\"")],
        ),
        case(
            "misspelt keys, needed and not",
            &[("rated_load", "rated_lod"), ("hub_place", "hub_plase"), ("[material]", "[materiel]")],
            &[
                ("survey/unknown-key", "rated_lod"),
                ("survey/unknown-key", "hub_plase"),
                ("survey/unknown-key", "materiel"),
            ],
        ),
        case("wrong kind of unit", &[("\"4.5 in\"", "\"4.5 kg\"")], &[("survey/unit-kind", "\"4.5 kg\"")]),
        case("bare number", &[("\"4.5 in\"", "4.5")], &[("survey/unit-missing", "4.5\n")]),
        case("NaN", &[("\"4.5 in\"", "nan")], &[("survey/not-a-quantity", "nan\n")]),
        case("NaN in quotes", &[("\"4.5 in\"", "\"NaN in\"")], &[("survey/not-a-quantity", "\"NaN in\"")]),
        case("1e308", &[("\"4.5 in\"", "\"1e308 in\"")], &[("survey/too-large-a-number", "\"1e308")]),
        case(
            "a car of a mountain",
            &[("\"1542 kg\"", "\"1e11 kg\"")],
            &[("survey/out-of-range", "\"1e11 kg\"")],
        ),
        case(
            "double wrap without its table",
            &[("\"single wrap\"", "\"double wrap\"")],
            &[("survey/needed", "# "), ("survey/list-length", "[\"0.52")],
        ),
        case("arms", &[("\"one web\"", "\"arms\"")], &[("survey/not-covered", "\"arms\"")]),
        case(
            "strength that cannot be assumed",
            &[("kind = \"unknown\"", "kind = \"ductile iron\"")],
            &[("survey/needed", "[material]")],
        ),
        case(
            "class beyond the standard",
            &[("kind = \"unknown\"", "kind = \"gray iron\"\nclass = 65")],
            &[("survey/material-class", "65\n")],
        ),
        case(
            "class of another metal",
            &[("kind = \"unknown\"", "kind = \"steel\"\ntensile_strength = \"450 MPa\"\nclass = 30")],
            &[("survey/material-class", "30\nhardness")],
        ),
        case("soft as lead", &[("\"190 HB\"", "\"40 HB\"")], &[("survey/out-of-range", "[\"40 HB\"")]),
        case(
            "rim too narrow for the grooves to be cut",
            &[("width = \"4.5 in\"", "width = \"3.7 in\"")],
            &[("check/section", "\"3.7 in\""), ("check/section", "\"3.7 in\"")],
        ),
        case(
            "grooves too shallow for their seats",
            &[("\"0.52 in\"", "\"0.12 in\"")],
            &[("check/section", "\"0.12 in\"")],
        ),
        case(
            "hub within the web's fillets",
            &[("hub_length = \"120 mm\"", "hub_length = \"30 mm\"")],
            &[("check/section", "\"30 mm\"")],
        ),
        case(
            "solid beside the web",
            &[("\"1.25 in\", \"1.25 in\", \"solid\"", "\"solid\", \"1.25 in\", \"solid\"")],
            &[("survey/solid-beside-web", "\"solid\", \"1.25 in\"")],
        ),
        case(
            "faults of many sorts at once",
            &[
                ("\"165 deg\"", "\"165\""),
                ("\"one web\"", "\"one wep\""),
                ("angle = \"60 deg\"", "angle = \"400 deg\""),
                ("ropes = 5", "ropes = 5.5"),
            ],
            &[
                ("survey/unit-missing", "\"165\""),
                ("survey/choice-unknown", "\"one wep\""),
                ("survey/not-a-count", "5.5\n"),
                ("survey/station-angle", "\"400 deg\""),
            ],
        ),
    ] {
        let text = edited(HARBOUR, edits);
        let run = run(|folder| fs::write(folder.join("survey.toml"), &text).unwrap());
        expect(name, &run, "survey.toml", &text, faults);
    }
}

#[test]
fn files_that_are_no_survey_are_refused_in_one_sentence() {
    let junk: Vec<u8> = (0..5000u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8 | 0x80).collect();
    let cases: [(&str, Vec<u8>, &str); 4] = [
        ("empty", Vec::new(), "survey/empty"),
        ("50 MB", vec![b'#'; 50 << 20], "survey/too-large"),
        ("junk", junk, "survey/not-text"),
        ("program", b"\x7fELF\x02\x01\x01\0\0\0\0".to_vec(), "survey/not-text"),
    ];
    for (name, bytes, code) in cases {
        let run = run(|folder| fs::write(folder.join("survey.toml"), &bytes).unwrap());
        assert_eq!(run.code, Some(2), "{name}");
        assert!(
            run.stderr.starts_with("survey.toml:1:") && run.stderr.contains(code),
            "{name}: {}",
            run.stderr
        );
        assert_eq!(run.stderr.matches(": error: ").count(), 1, "{name}: {}", run.stderr);
    }
    let missing = run(|_| {});
    assert!(missing.code == Some(2) && missing.stderr.contains("no such file"), "{}", missing.stderr);
    let folder = run(|folder| fs::create_dir(folder.join("survey.toml")).unwrap());
    assert!(folder.code == Some(2) && folder.stderr.contains("folder"), "{}", folder.stderr);
    drop(folder.folder);
}

#[test]
fn bad_profiles_are_placed_in_their_own_files() {
    let groove = fs::read_to_string(meshes().join("mill/groove_0.csv")).unwrap();
    let wall = fs::read_to_string(meshes().join("mill/wall_0.csv")).unwrap();
    let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
    let radii = |text: &str, change: &dyn Fn(f64, f64) -> f64| {
        let moved = lines(text).into_iter().map(|line| {
            match line.split_once(',').and_then(|(z, r)| z.parse().ok().zip(r.parse().ok())) {
                Some((z, r)) => format!("{z},{}", change(z, r)),
                None => line,
            }
        });
        moved.collect::<Vec<_>>().join("\n")
    };
    let mut unsorted = lines(&groove);
    unsorted.swap(60, 70);
    let (g, w) = ("mill/groove_0.csv", "mill/wall_0.csv");
    let split = radii(&groove, &|z, r| if (-2.0..=2.0).contains(&z) { 200.0 } else { r });
    let short = lines(&wall)[..10].join("\n");
    // Name, the two files, the file that is blamed, and the code.
    let cases: [(&str, String, String, &str, &str); 7] = [
        ("columns", groove.replace("radius_mm", "height_mm"), wall.clone(), g, "profile/column-missing"),
        ("unsorted", unsorted.join("\n"), wall.clone(), g, "profile/unsorted"),
        ("crossing", groove.clone(), radii(&wall, &|_, r| r + 60.0), g, "profile/crossing"),
        ("swapped", wall.clone(), groove.clone(), g, "profile/crossing"),
        ("two pieces", split, wall.clone(), g, "profile/rim-split"),
        ("too short", groove.clone(), short, "survey.toml", "survey/profile-too-short"),
        ("diameters", radii(&groove, &|_, r| 2.0 * r), wall.clone(), "survey.toml", "survey/profile-datum"),
    ];
    let copy = |folder: &Path| {
        fs::create_dir(folder.join("mill")).unwrap();
        for entry in fs::read_dir(meshes().join("mill")).unwrap() {
            let entry = entry.unwrap();
            fs::copy(entry.path(), folder.join("mill").join(entry.file_name())).unwrap();
        }
    };
    for (name, groove, wall, file, code) in cases {
        let run = run(|folder| {
            copy(folder);
            fs::write(folder.join("survey.toml"), MILL).unwrap();
            fs::write(folder.join(g), &groove).unwrap();
            fs::write(folder.join(w), &wall).unwrap();
        });
        assert_eq!(run.code, Some(2), "{name}: {}", run.stderr);
        let errors: Vec<&str> = run.stderr.lines().filter(|line| line.contains(": error: ")).collect();
        assert!(
            errors.iter().all(|line| line.starts_with(file) && line.contains(code)),
            "{name}: {}",
            run.stderr
        );
        // Two rows that are swapped break the order twice.
        assert_eq!(errors.len(), if name == "unsorted" { 2 } else { 1 }, "{name}: {}", run.stderr);
    }
    let text = MILL.replace("mill/wall_0.csv", "mill/wall_00.csv");
    let run = run(|folder| {
        copy(folder);
        fs::write(folder.join("survey.toml"), &text).unwrap();
    });
    expect("missing profile", &run, "survey.toml", &text, &[("profile/unreadable", "\"mill/wall_00.csv\"")]);
}

#[test]
fn targets_that_cannot_be_written_are_refused_before_anything_is_computed() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("survey.toml"), HARBOUR).unwrap();
    fs::write(folder.path().join("file"), "kept").unwrap();
    let start = std::time::Instant::now();
    let output = crate::program()
        .current_dir(folder.path())
        .args(["check", "survey.toml", "--json", "nowhere/a.json", "--model", "nowhere/b.toml"])
        .args(["--vtk", "file", "--vtk-angle", "20 mm"])
        .output()
        .unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{stderr}");
    for said in
        ["nowhere/a.json: error: ", "nowhere/b.toml: error: ", "file: error: ", "--vtk-angle: error: "]
    {
        assert!(stderr.contains(said), "{stderr}");
    }
    // The check itself takes seconds; a refusal does not wait for it.
    assert!(start.elapsed().as_secs_f64() < 2.0);
    assert_eq!(listing(folder.path()), ["file", "survey.toml"]);
    assert_eq!(fs::read_to_string(folder.path().join("file")).unwrap(), "kept");
}

#[test]
fn the_demos_state_nothing_that_is_not_used() {
    // A fault elsewhere keeps the check from being computed.
    let text = edited(HARBOUR, &[("width = \"4.5 in\"", "width = 4.5")]);
    let run = run(|folder| fs::write(folder.join("survey.toml"), &text).unwrap());
    assert!(run.code == Some(2) && !run.stderr.contains("warning"), "{}", run.stderr);
}
