//! Every fault named in the manual has its own code, and stands at the right line and column.

use rimproof::diagnostics::{Look, Severity};
use rimproof::survey::{Files, Reading, read};
use std::io;
use std::path::Path;

const SAMPLE: &str = include_str!("../../meshes/survey_sample.toml");

struct Nothing;

impl Files for Nothing {
    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Err(io::Error::from(io::ErrorKind::NotFound))
    }
}

fn read_text(text: &str) -> Reading {
    read(text.as_bytes(), Path::new("survey.toml"), &Nothing)
}

/// One edit of the sample. The fault is expected where `at` stands in the edited text.
struct Case {
    old: &'static str,
    new: &'static str,
    code: &'static str,
    at: &'static str,
}

const fn case(old: &'static str, new: &'static str, code: &'static str, at: &'static str) -> Case {
    Case { old, new, code, at }
}

fn check(case: &Case, severity: Severity) {
    assert!(SAMPLE.contains(case.old), "the sample has no {}", case.old);
    let text = SAMPLE.replacen(case.old, case.new, 1);
    let reading = read_text(&text);
    let shown = reading.diagnostics.render(Look::Plain);
    let at = text.find(case.at).unwrap_or_else(|| panic!("no {}", case.at));
    let line = text[..at].matches('\n').count() + 1;
    let column = text[..at].rsplit('\n').next().unwrap().chars().count() + 1;
    let place = format!("survey.toml:{line}:{column}");
    let all = reading.diagnostics.sorted();
    let found = all.iter().any(|item| {
        item.code == case.code
            && item.severity == severity
            && item.place.as_ref().is_some_and(|p| reading.diagnostics.locate(p) == place)
    });
    assert!(found, "{} at {place} is missing after {}:\n{shown}", case.code, case.new);
    assert_eq!(reading.survey.is_some(), severity == Severity::Warning, "{shown}");
    for item in all {
        assert!(!item.help.is_empty(), "{shown}");
        assert!(item.message.ends_with('.'), "{}", item.message);
    }
}

#[test]
fn values_by_themselves() {
    for case in [
        case("\"165 deg\"", "\"165\"", "survey/unit-missing", "\"165\""),
        case("\"165 deg\"", "165", "survey/unit-missing", "165"),
        case("\"165 deg\"", "\"165 grad\"", "survey/unit-unknown", "\"165 grad\""),
        case("\"165 deg\"", "\"165 mm\"", "survey/unit-kind", "\"165 mm\""),
        case("\"4.5 in\"", "\"4,5 in\"", "survey/decimal-comma", "\"4,5 in\""),
        case("\"4.5 in\"", "\"about 4 in\"", "survey/not-a-quantity", "\"about"),
        case("\"4.5 in\"", "\"1e300 in\"", "survey/too-large-a-number", "\"1e300"),
        case("\"4.5 in\"", "\"-4.5 in\"", "survey/out-of-range", "\"-4.5 in\""),
        case("\"4.5 in\"", "\"0 in\"", "survey/out-of-range", "\"0 in\""),
        case("\"4.5 in\"", "[\"4.5 in\"]", "survey/wrong-type", "[\"4.5 in\"]"),
        case("\"4.5 in\"", "\"not measured\"", "survey/needed", "\"not measured\"\nedge"),
        case("width = \"4.5 in\"", "widht = \"4.5 in\"", "survey/unknown-key", "widht"),
        case("\"one web\"", "\"one wep\"", "survey/choice-unknown", "\"one wep\""),
        case("\"one web\"", "\"arms\"", "survey/not-covered", "\"arms\""),
        case("ropes = 5", "ropes = 5.5", "survey/not-a-count", "5.5"),
        case("survey = 1", "survey = 2", "survey/not-a-count", "2\n"),
        case("[rim]", "[rmi]", "survey/unknown-key", "rmi]"),
        case("safety_factor = 10", "safety_factor = 0.8", "survey/out-of-range", "0.8"),
        case("pitch = \"3/4 in\"", "pitch = 3/4 in", "survey/syntax", "3/4 in"),
        case(
            "pitch = \"3/4 in\"",
            "pitch = \"3/4 in\"\npitch = \"1 in\"",
            "survey/syntax",
            "pitch = \"1 in\"",
        ),
    ] {
        check(&case, Severity::Error);
    }
}

#[test]
fn rules_between_fields() {
    for case in [
        case("\"165 deg\"", "\"0 deg\"", "survey/wrap-range", "\"0 deg\""),
        case("\"165 deg\"", "\"400 deg\"", "survey/wrap-range", "\"400 deg\""),
        case("\"1/2 in\"", "\"5.8 in\"", "survey/rope-diameter", "\"5.8 in\""),
        case("\"1/2 in\"", "\"16 mm\"", "survey/rope-too-large", "\"16 mm\""),
        case("\"0.265 in\"", "\"0.22 in\"", "survey/rope-too-large", "\"0.22 in\""),
        case("\"26.5 in\"", "\"26 in\"", "survey/pitch-diameter", "\"26 in\""),
        case(
            "counterweight = \"2052 kg\"",
            "counterweight = \"3000 kg\"",
            "survey/tension-order",
            "\"3000 kg\"",
        ),
        case("travel =", "balance = \"45 %\"\ntravel =", "survey/conflict", "\"45 %\""),
        case("\"26.5 in\"", "\"36.5 in\"", "survey/pitch-diameter", "\"26 in\""),
        case("\"26.5 in\"", "\"22 in\"", "survey/pitch-diameter", "\"26 in\""),
        case("\"4.5 in\"", "\"3 in\"", "survey/grooves-outside-rim", "\"3 in\""),
        case("\"3/4 in\"", "\"1/2 in\"", "survey/groove-wider-than-pitch", "\"1/2 in\"\nseat"),
        case("\"0.28 in\"", "\"0.51 in\"", "survey/groove-wider-than-pitch", "\"3/4 in\""),
        case("\"3/4 in\"", "\"0.515 in\"", "survey/grooves-overlap", "\"0.515 in\""),
        case("\"0.53 in\", ", "", "survey/list-length", "[\"0.52 in\""),
        case("ropes = 5", "ropes = 6", "survey/list-length", "[\"0.52 in\""),
        case("\"0.67 in\"", "\"0.6 in\"", "survey/cut-too-shallow", "\"0.6 in\""),
        case("\"0.67 in\"", "\"2 in\"", "survey/no-wall-left", "\"2 in\""),
        case("\"1.19 in\"", "\"0.05 in\"", "survey/slot-deeper-than-wall", "\"0.05 in\""),
        case("\"0 mm\"", "\"30 mm\"", "survey/solid-beside-web", "\"solid\""),
        case("hardness", "class = 65\nhardness", "survey/material-class", "65\n"),
        case("kind = \"unknown\"", "kind = \"bronze\"", "survey/needed", "[material]"),
        case("\"195 HB\"", "\"40 HB\"", "survey/out-of-range", "[\"40 HB\""),
        case("hardness", "yield_strength = \"5 MPa\"\nhardness", "survey/out-of-range", "\"5 MPa\""),
        case("hardness", "tensile_strength = \"5 MPa\"\nhardness", "survey/out-of-range", "\"5 MPa\""),
        case("hardness", "elongation = \"95 %\"\nhardness", "survey/out-of-range", "\"95 %\""),
        case("\"1.17 in\"", "\"0.1 in\"", "survey/slot-deeper-than-wall", "\"0.1 in\""),
        case("\"1.17 in\"", "\"0.25 in\"", "survey/slot-deeper-than-wall", "\"0.25 in\""),
        case("\"1.17 in\"]", "\"1.17 in\", \"1 in\"]", "survey/list-length", "[\"1.20 in\""),
        case("\"120 deg\"", "\"360 deg\"", "survey/station-angle", "\"360 deg\""),
        case("\"120 deg\"", "\"-120 deg\"", "survey/station-angle", "\"-120 deg\""),
        case("bore = \"4 in\"", "bore = \"9 in\"", "survey/bore-hub", "\"9 in\""),
        case("\"8 in\"", "\"23.9 in\"", "survey/hub-too-large", "\"23.9 in\""),
        case("\"0 mm\"", "\"52 mm\"", "survey/web-outside-rim", "\"52 mm\""),
        case("\"12 mm\"", "\"60 mm\"", "survey/fillet-too-large", "\"60 mm\""),
        case("\"1.5 mm\"", "\"6 mm\"", "survey/fillet-too-large", "\"6 mm\""),
        case("by = \"stations\"", "by = \"solid\"", "survey/conflict", "\"solid\"\nreading"),
        case("\"one web\"", "\"two webs\"", "survey/list-length", "\"two webs\""),
        case("from = \"seat\"", "", "survey/needed", "[walls]"),
    ] {
        check(&case, Severity::Error);
    }
}

#[test]
fn tensions() {
    let from = SAMPLE.find("given = \"masses\"").unwrap();
    let to = SAMPLE.find("tension_spread").unwrap();
    let with = |load: &str, role: &str| {
        let text = format!("{}{load}{}", &SAMPLE[..from], &SAMPLE[to..]);
        let reading = read_text(&text.replace("role = \"drive\"", &format!("role = \"{role}\"")));
        reading.diagnostics.render(Look::Plain)
    };
    let pair = |heavy: &str, light: &str| {
        format!("given = \"tensions\"\nheavy_tension = \"{heavy}\"\nlight_tension = \"{light}\"\n")
    };
    assert!(!with(&pair("5250 N", "4030 N"), "drive").contains("error"));
    assert!(with(&pair("4030 N", "5250 N"), "drive").contains("survey/tension-order"));
    assert!(with(&pair("5250 N", "4030 N"), "deflector").contains("survey/deflector-tensions"));
    assert!(!with(&pair("1180 lbf", "5249 N"), "secondary").contains("error"));
    let list = "given = \"tensions per rope\"\nheavy_tensions = [\"5 kN\", \"5.2 kN\"]\n";
    assert!(with(list, "drive").contains("survey/list-length"));
}

const DEEP: &str = "edge_diameter = \"26.5 in\"\nnominal_pitch_diameter = \"26 in\"\n\n[grooves]\npitch = \"3/4 in\"\nseat_depth = [\"0.52 in\", \"0.55 in\", \"0.61 in\", \"0.53 in\", \"0.57 in\"]";
/// Seats that half a rope of wear explains, so that edge and pitch circle may have been the same.
const SHALLOW: &str = "edge_diameter = \"26 in\"\nnominal_pitch_diameter = \"26 in\"\n\n[grooves]\npitch = \"3/4 in\"\nseat_depth = [\"0.42 in\", \"0.41 in\", \"0.43 in\", \"0.42 in\", \"0.42 in\"]";

#[test]
fn unusual_values_warn_and_do_not_stop() {
    for case in [
        case("\"0.52 in\"", "\"0.245 in\"", "survey/depth-datum", "\"0.245 in\""),
        case("slot_angle = \"90 deg\"", "slot_angle = \"108 deg\"", "survey/slot-angle", "\"108 deg\""),
        case("\"35 deg\"", "\"24 deg\"", "survey/opening-angle", "\"24 deg\""),
        case("safety_factor = 10", "safety_factor = 9", "survey/safety-factor", "9\n"),
        case(DEEP, SHALLOW, "survey/pitch-diameter", "\"26 in\""),
        case("\"0.265 in\"", "\"0.24 in\"", "survey/tight-seat", "\"0.24 in\""),
        case("\"solid\", \"1.18 in\"", "\"1.2 in\", \"1.18 in\"", "survey/wall-over-web", "\"1.2 in\", "),
        case("slot_angle", "angle = \"40 deg\"\nslot_angle", "survey/not-used", "\"40 deg\""),
        case("given =", "heavy_tension = \"5 kN\"\ngiven =", "survey/not-used", "\"5 kN\""),
        case("shape = \"undercut\"", "shape = \"round\"", "survey/not-used", "\"90 deg\""),
        case("\"to depth\"", "\"to depth\"\nclean_up = \"1 mm\"", "survey/not-used", "\"1 mm\""),
        case("\"whole wrap\"", "\"whole wrap\"\nfriction = 0.1", "survey/not-used", "0.1\n"),
        case("reading_error", "at_groove = 2\nreading_error", "survey/not-used", "2\nreading_error"),
        case("\"120 deg\"", "\"120 deg\"\nwall_profile = \"a.csv\"", "survey/not-used", "\"a.csv\""),
        case(
            "[material]",
            "[wheel.flange]\nplace = \"7 mm\"\n[material]",
            "survey/not-used",
            "[wheel.flange]",
        ),
        case("\"165 deg\"", "\"230 deg\"", "survey/wrap-unusual", "\"230 deg\""),
        case("\"2052 kg\"", "\"1500 kg\"", "survey/counterweight-light", "\"1500 kg\""),
    ] {
        check(&case, Severity::Warning);
    }
}

#[test]
fn all_faults_are_shown_at_once() {
    let text = SAMPLE
        .replace("\"165 deg\"", "\"165\"")
        .replace("\"one web\"", "\"one wep\"")
        .replace("\"0.67 in\"", "\"0.6 in\"")
        .replace("\"120 deg\"", "\"0 deg\"");
    let shown = read_text(&text).diagnostics.render(Look::Plain);
    for code in ["unit-missing", "choice-unknown", "cut-too-shallow", "station-angle"] {
        assert!(shown.contains(code), "{code}:\n{shown}");
    }
}

#[test]
fn a_slip_is_answered_with_what_was_meant() {
    let shown =
        |old: &str, new: &str| read_text(&SAMPLE.replacen(old, new, 1)).diagnostics.render(Look::Plain);
    assert!(shown("width =", "widht =").contains("did you mean \"width\"?"));
    assert!(shown("\"one web\"", "\"one wep\"").contains("did you mean \"one web\"?"));
    assert!(shown("\"4.5 in\"", "\"4.5\"").contains("write \"4.5 in\""));
    let broken = shown("[rim]", "[rim");
    assert_eq!(broken.matches("error:").count(), 1, "{broken}");
}
