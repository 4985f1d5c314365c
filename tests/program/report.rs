//! The report of a check from outside: the same bytes again, nothing that breaks out of it, and its faults.

use std::path::Path;
use std::sync::OnceLock;

struct Reports {
    html: String,
    pdf: Vec<u8>,
}

/// Runs a check with both reports; the folder is gone afterwards.
fn reports(survey: &Path, more: &[&str]) -> Reports {
    let folder = tempfile::tempdir().unwrap();
    let [html, pdf] = ["a.html", "a.pdf"].map(|name| folder.path().join(name));
    let mut command = crate::program();
    command
        .arg("check")
        .arg(survey)
        .arg("--brief")
        .arg("--report")
        .arg(&html)
        .arg("--pdf")
        .arg(&pdf)
        .args(more);
    let output = command.output().unwrap();
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1 | 3)), "{code:?}: {}", String::from_utf8_lossy(&output.stderr));
    Reports { html: std::fs::read_to_string(&html).unwrap(), pdf: std::fs::read(&pdf).unwrap() }
}

fn harbour() -> &'static Reports {
    static MADE: OnceLock<Reports> = OnceLock::new();
    MADE.get_or_init(|| reports(Path::new("meshes/harbour.toml"), &[]))
}

#[test]
fn the_same_survey_gives_the_same_bytes_on_any_number_of_threads() {
    let again = reports(Path::new("meshes/harbour.toml"), &["--threads", "1"]);
    assert!(again.html == harbour().html, "the HTML differs");
    assert!(again.pdf == harbour().pdf, "the PDF differs");
}

#[test]
fn the_report_says_what_was_found_and_needs_nothing_else() {
    let html = &harbour().html;
    for words in [
        "MAY BE CUT AS STATED",
        "Why: ",
        "Cut every groove to 0.67 in",
        "highest tension",
        "certifies nothing",
        "Responsible engineer",
        "not measured",
        "SHA-256",
        "By hand",
        "clamped-cylinder",
    ] {
        assert!(html.contains(words), "{words}");
    }
    // The namespace of SVG is a name and no address.
    let fetched = html.replace("http://www.w3.org/2000/svg", "");
    for outside in ["http:", "https:", "src=", "@import", "url("] {
        assert!(!fetched.contains(outside), "{outside}");
    }
    assert!(html.contains("default-src 'none'") && html.contains("size: letter"));
    assert!(html.len() < 3_000_000, "{} bytes", html.len());
}

/// Numbers of a text, and what stands between them.
fn numbers(text: &str) -> (Vec<f64>, String) {
    let mut between = String::new();
    let mut found = Vec::new();
    let mut digits = String::new();
    for c in text.chars().chain([' ']) {
        if c.is_ascii_digit() || c == '.' {
            digits.push(c);
            continue;
        }
        if let Ok(number) = digits.parse() {
            found.push(number);
            between.push('#');
        } else {
            between.push_str(&digits);
        }
        digits.clear();
        between.push(c);
    }
    (found, between)
}

/// Machines round differently, by a tenth of a px or one unit of a printed stress.
#[test]
fn the_picture_of_the_manual_is_the_one_that_the_program_draws() {
    const KEPT: &str = "validation/report_section.svg";
    let html = &harbour().html;
    let from = html.find("<svg").unwrap();
    let to = from + html[from..].find("</svg>").unwrap() + "</svg>".len();
    let kept = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(KEPT)).unwrap();
    let ((fresh, words), (old, old_words)) = (numbers(&html[from..to]), numbers(kept.trim_end()));
    let help =
        format!("{KEPT} is not what the program draws: put the first picture of the report there again");
    assert!(words == old_words && fresh.len() == old.len(), "{help}");
    let near =
        |(a, b): (&f64, &f64)| (a - b).abs() <= if a.fract() == 0.0 && *a > 999.0 { 10.0 } else { 0.11 };
    let apart: Vec<_> = fresh.iter().zip(&old).filter(|(a, b)| !near((a, b))).collect();
    assert!(fresh.len() > 500 && apart.is_empty(), "{help}: {apart:?}");
}

#[test]
fn names_that_try_to_break_out_stay_names() {
    let folder = tempfile::tempdir().unwrap();
    let survey = folder.path().join("<b> & 'x'.toml");
    let text = std::fs::read_to_string("meshes/deflector.toml").unwrap();
    let name = r#"name = "</script><script>alert(1)</script> & \"q\" \u202E \u0007""#;
    let sheave = format!("sheave = \"מעלית {}\"", "long ".repeat(300));
    let named = text.lines().map(|line| match line.split(" = ").next() {
        Some("name") => name,
        Some("sheave") => &sheave,
        _ => line,
    });
    std::fs::write(&survey, named.collect::<Vec<_>>().join("\n")).unwrap();
    let made = reports(&survey, &["--paper", "a4"]);
    assert_eq!(made.html.matches("<script").count(), 2, "the program's own data and script");
    assert!(made.html.contains("&lt;/script&gt;&lt;script&gt;alert(1)"));
    assert!(!made.html.contains(['\u{202e}', '\u{7}']));
    assert!(made.pdf.ends_with(b"%%EOF"));
}

#[test]
fn a_report_of_values_set_says_so_first() {
    let made = reports(Path::new("meshes/granary.toml"), &["--set", "load.rated_load=290 kg"]);
    let first = made.html.split("id=\"appendix\"").next().unwrap();
    assert!(
        first.contains("What if, and not as surveyed: load.rated_load is taken as 290 kg; the survey says")
    );
    assert!(first.contains("WHAT IF"), "the foot of every page");
}

#[test]
fn a_report_that_cannot_be_written_is_refused_before_anything_is_computed() {
    let mut command = crate::program();
    let there = ["--report", "no/such/folder/a.html", "--pdf", "nor/there/a.pdf"];
    let output = command.args(["check", "meshes/harbour.toml"]).args(there).output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(said.contains("no/such/folder") && said.contains("nor/there"), "{said}");
    let output = crate::program().args(["check", "meshes/harbour.toml", "--paper", "a9"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}
