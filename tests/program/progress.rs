//! The progress line is for a person at a terminal: a pipe gets nothing of it.

use assert_cmd::Command;

fn piped(arguments: &[&str]) -> (String, String) {
    let run = crate::program().args(arguments).assert().code(0);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (text(&run.get_output().stdout), text(&run.get_output().stderr))
}

#[test]
fn nothing_of_it_goes_to_a_pipe() {
    let (page, said) = piped(&["check", "meshes/harbour.toml", "--brief"]);
    assert_eq!(said, "");
    assert_eq!(page.lines().count(), 1, "{page}");
    let (page, said) = piped(&["solve", "meshes/model_tube.toml"]);
    assert_eq!(said, "");
    assert!(!page.contains('\u{1b}'), "{page}");
    let (page, said) = piped(&["verify", "seat-friction", "units"]);
    assert!(said.starts_with("2 cases in ") && said.lines().count() == 1, "{said}");
    assert!(!page.contains('\u{1b}') && !page.contains('\r'), "{page}");
}

/// `script` gives the program a terminal and writes what that shows.
#[cfg(target_os = "linux")]
#[test]
fn a_terminal_shows_the_words_and_the_count() {
    let shown = |arguments: &str| {
        let program = assert_cmd::cargo::cargo_bin("rimproof");
        let line = format!("{} {arguments}", program.display());
        let run = Command::new("script")
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .env("TERM", "xterm")
            .args(["-qec", &line, "/dev/null"])
            .assert()
            .code(0);
        String::from_utf8_lossy(&run.get_output().stdout).into_owned()
    };
    let verify = shown("verify seat-friction half-wrap-truncation");
    assert!(verify.contains("cases of the manual") && verify.contains(" of 2, "), "{verify}");
    let check = shown("check meshes/harbour.toml --brief");
    assert!(check.contains("places around the rim … "), "{check}");
    let solve = shown("solve meshes/model_tube.toml --quiet");
    assert!(solve.contains("harmonics and stresses of the model … "), "{solve}");
}
