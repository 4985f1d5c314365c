//! What is worked out by hand agrees with the program on the demos, and the thin rim is of the right size.

use super::*;
use crate::reference::compare::{Tolerance, assert_close};
use crate::study::{Asked, check};
use crate::survey::{Files, read};
use std::path::Path;

struct Meshes;

impl Files for Meshes {
    fn read(&self, path: &Path) -> std::io::Result<Vec<u8>> {
        std::fs::read(path)
    }
}

/// The demo judged at its first place alone: what is compared here does not depend on the others.
pub(crate) fn demo(name: &str) -> (Survey, Outcome) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes").join(name);
    let survey = read(&std::fs::read(&path).unwrap(), &path, &Meshes).survey.unwrap();
    let asked = Asked { judged_only: true, places: Some(vec![0]), ..Asked::default() };
    let outcome = check(&survey, &asked, &|_| ()).unwrap();
    (survey, outcome)
}

#[test]
fn hand_and_program_agree() {
    let reason = "two ways to one closed form; a pull that includes the seats' lever differs by less";
    for (name, least) in [("harbour.toml", 9), ("granary.toml", 8), ("deflector.toml", 5), ("mill.toml", 5)] {
        let (survey, outcome) = demo(name);
        let found = by_hand(&survey, &outcome);
        assert!(found.rows.len() >= least, "{name}: {} rows", found.rows.len());
        for row in &found.rows {
            let what = format!("{name}: {}", row.what);
            assert_close(&what, row.by_hand.value, row.program.value, Tolerance::Relative(1e-9), reason);
        }
    }
}

#[test]
fn the_thin_rim_bends_less_than_a_bare_strip() {
    let (survey, outcome) = demo("harbour.toml");
    let rim = by_hand(&survey, &outcome).thin_rim.unwrap();
    assert!(rim.moment_n < rim.strip_moment_n && rim.stress_mpa > 0.0, "{rim:?}");
    // By hand: two ropes of 5198 and 5460 N at most, 8 and 27 mm from the web, on a radius of 304 mm.
    assert!(rim.strip_moment_n > 500.0 && rim.strip_moment_n < 700.0, "{rim:?}");
    let (survey, outcome) = demo("harbour_thin.toml");
    let thinner = by_hand(&survey, &outcome).thin_rim.unwrap();
    assert!(thinner.stress_mpa > rim.stress_mpa, "a thinner wall must bend more");
}
