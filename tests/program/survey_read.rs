//! A complete survey is read into the right values, and the blank form asks for what is needed.

use rimproof::diagnostics::Look;
use rimproof::survey::schema::*;
use rimproof::survey::{Files, LARGEST_FILE, Reading, read, template};
use std::collections::HashMap;
use std::io;
use std::path::{Path, PathBuf};

const SAMPLE: &str = include_str!("../../meshes/survey_sample.toml");

#[derive(Default)]
struct Shelf(HashMap<PathBuf, Vec<u8>>);

impl Files for Shelf {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        self.0.get(path).cloned().ok_or_else(|| io::Error::from(io::ErrorKind::NotFound))
    }
}

fn read_text(text: &str) -> Reading {
    read(text.as_bytes(), Path::new("lift/survey.toml"), &Shelf::default())
}

fn survey(text: &str) -> Survey {
    let reading = read_text(text);
    reading.survey.unwrap_or_else(|| panic!("{}", reading.diagnostics.render(Look::Plain)))
}

#[test]
fn the_sample_is_read() {
    let survey = survey(SAMPLE);
    assert_eq!(survey.roping.rope_diameter_mm, 12.7);
    assert_eq!(survey.roping.car_speed_m_s, Some(350.0 * 0.3048 / 60.0));
    assert!((survey.roping.wrap_rad.to_degrees() - 165.0).abs() < 1e-12);
    assert_eq!(survey.load.masses.as_ref().unwrap().travel_m, Some(40.0));
    assert_eq!(survey.rim.edge_radius_mm, 336.55);
    assert_eq!(survey.grooves.roped, [true; 5]);
    assert_eq!(survey.job.date.as_deref(), Some("2024-05-17"));
    let seat = |shape: &GrooveShape| match shape {
        GrooveShape::Undercut { seat_radius_mm, .. } => *seat_radius_mm,
        other => panic!("{other:?}"),
    };
    assert!((seat(&survey.grooves.now[2]) - 7.112).abs() < 1e-12);
    assert!((seat(&survey.grooves.now[1]) - 6.731).abs() < 1e-12);
    let Underside::Stations { stations, .. } = &survey.walls.underside else { panic!() };
    assert_eq!(stations[0].walls[2], WallEntry::Solid);
    assert_eq!(stations[2].walls[4], WallEntry::NotMeasured);
    assert!(matches!(survey.cut, Cut::ToDepth { depth_mm } if (depth_mm - 17.018).abs() < 1e-12));
    assert_eq!((survey.print.length.name, survey.print.mass.name), ("in", "kg"));
}

#[test]
fn stand_ins_are_noted() {
    let survey = survey(SAMPLE);
    let kind = |field: &str| survey.notes.iter().find(|note| note.field == field).map(|note| note.kind);
    assert_eq!(kind("grooves.count"), Some(NoteKind::Assumed));
    assert_eq!(kind("walls.draft"), Some(NoteKind::Assumed));
    assert_eq!(kind("material.kind"), Some(NoteKind::Assumed));
    assert_eq!(kind("load.compensation_mass"), Some(NoteKind::Missing));
    assert_eq!(kind("walls.reading_error"), None);
    // A sharp mouth carries no stress, so nothing is assumed for one that was not measured.
    assert_eq!((kind("grooves.mouth_radius"), survey.grooves.mouth_radius_mm), (None, 0.0));
    let balanced = SAMPLE.replace("counterweight = \"2052 kg\"", "balance = \"45 %\"");
    let masses = self::survey(&balanced).load.masses.unwrap();
    assert!((masses.counterweight_kg - (1542.0 + 0.45 * 1134.0)).abs() < 1e-9);
}

#[test]
fn the_blank_form_only_asks_for_what_is_needed() {
    let reading = read_text(template());
    assert!(reading.survey.is_none());
    let faults = reading.diagnostics.sorted();
    assert!(faults.len() > 10);
    for fault in faults {
        assert_eq!(fault.code, "survey/needed", "{}", fault.message);
        assert!(fault.place.is_some());
    }
}

#[test]
fn every_key_of_the_sample_is_on_the_blank_form() {
    let key = |line: &str| line.split_once('=').map(|(key, _)| key.trim().to_string());
    let on_form: Vec<String> =
        template().lines().map(|line| line.trim_start_matches("# ")).filter_map(key).collect();
    for wanted in SAMPLE.lines().filter_map(key) {
        assert!(on_form.contains(&wanted), "{wanted}");
    }
}

#[test]
fn files_that_are_no_survey_get_one_clear_fault() {
    let big = vec![b'#'; LARGEST_FILE + 1];
    let cases: [(&[u8], &str); 6] = [
        (b"", "survey/empty"),
        (b" \n\t\n", "survey/empty"),
        ("\u{feff}".as_bytes(), "survey/empty"),
        (&big, "survey/too-large"),
        (b"survey = 1\n\xff\xfe\x00", "survey/not-text"),
        (b"\x7fELF\0\0\0", "survey/not-text"),
    ];
    for (bytes, code) in cases {
        let reading = read(bytes, Path::new("survey.toml"), &Shelf::default());
        let codes: Vec<&str> = reading.diagnostics.sorted().iter().map(|item| item.code).collect();
        assert_eq!(codes, [code]);
        assert!(reading.diagnostics.render(Look::Snippets { colour: false, width: 80 }).len() < 1000);
    }
}

#[test]
fn a_byte_order_mark_is_no_fault() {
    survey(&format!("\u{feff}{SAMPLE}"));
    survey(&SAMPLE.replace('\n', "\r\n"));
}

fn with_profiles(groove: &str, wall: &str) -> Reading {
    let start = SAMPLE.find("[walls]").unwrap();
    let end = SAMPLE.find("[material]").unwrap();
    let walls = "[walls]\nby = \"profiles\"\n[[walls.station]]\nangle = \"0 deg\"\ngroove_profile = \"g.csv\"\nwall_profile = \"w.csv\"\n\n";
    let text = format!("{}{walls}{}", &SAMPLE[..start], &SAMPLE[end..]);
    let mut shelf = Shelf::default();
    shelf.0.insert("lift/g.csv".into(), groove.into());
    shelf.0.insert("lift/w.csv".into(), wall.into());
    read(text.as_bytes(), Path::new("lift/survey.toml"), &shelf)
}

const GROOVE_SIDE: &str = "axial_mm,radius_mm\n-50,336\n0,320\n50,336\n";
const WALL_SIDE: &str = "axial [in], radius [in]\n-2,11.4\n0,11.3\n2,11.4\n";

#[test]
fn profiles_are_read_in_their_own_units() {
    let reading = with_profiles(GROOVE_SIDE, WALL_SIDE);
    let survey = reading.survey.unwrap_or_else(|| panic!("{}", reading.diagnostics.render(Look::Plain)));
    let Underside::Profiles { stations, .. } = survey.walls.underside else { panic!() };
    assert!((stations[0].wall_side[0][0] + 50.8).abs() < 1e-9);
    assert!((stations[0].wall_side[1][1] - 287.02).abs() < 1e-9);
}

#[test]
fn faulty_profiles_are_placed_in_their_own_file() {
    let cases = [
        ("axial_mm,height_mm\n0,1\n", "profile/column-missing", "lift/g.csv:1:1"),
        ("axial,radius_mm\n0,1\n", "profile/column-unit", "lift/g.csv:1:1"),
        ("axial_mm,radius_mm\n-50,336\n0,abc\n50,336\n", "profile/not-a-number", "lift/g.csv:3:3"),
        ("axial_mm,radius_mm\n-50,336\n0,NaN\n50,336\n", "profile/not-a-number", "lift/g.csv:3:3"),
        ("axial_mm,radius_mm\n-50,336\n60,320\n50,336\n", "profile/unsorted", "lift/g.csv:4:1"),
        ("axial_mm,radius_mm\n-50,336\n-50,336\n50,336\n", "profile/duplicate-point", "lift/g.csv:3:1"),
        ("axial_mm,radius_mm\n-50,336\n50,336\n", "profile/too-few-points", "lift/g.csv:1:1"),
        ("axial_mm,radius_mm\n-50,336\n0,5,320\n50,336\n", "profile/row-length", "lift/g.csv:3:1"),
        ("axial_mm,radius_mm\n-50,336\n0,280\n50,336\n", "profile/rim-split", "lift/g.csv:3:1"),
        ("axial_mm,radius_mm\n-50,200\n0,200\n50,200\n", "profile/crossing", "lift/g.csv:2:1"),
        ("axial_mm,radius_mm\n150,336\n160,320\n170,336\n", "profile/no-overlap", "lift/g.csv:2:1"),
        ("", "profile/empty", "lift/g.csv:1:1"),
    ];
    for (groove, code, place) in cases {
        let reading = with_profiles(groove, WALL_SIDE);
        let all = reading.diagnostics.sorted();
        let hit = all.iter().find(|item| item.code == code);
        let hit = hit.unwrap_or_else(|| panic!("{code}: {}", reading.diagnostics.render(Look::Plain)));
        assert_eq!(reading.diagnostics.locate(hit.place.as_ref().unwrap()), place, "{code}");
        assert!(reading.survey.is_none());
    }
    let reading = with_profiles(GROOVE_SIDE, "axial_mm;radius_mm\n-50,5;286\n0;286\n50,5;286\n");
    assert!(reading.diagnostics.sorted().iter().any(|item| item.code == "profile/not-a-number"));
}

/// The sample with everything between two headings replaced.
fn with_part(from: &str, to: &str, part: &str) -> String {
    let (start, end) = (SAMPLE.find(from).unwrap(), SAMPLE.find(to).unwrap());
    format!("{}{part}\n{}", &SAMPLE[..start], &SAMPLE[end..])
}

fn codes(text: &str) -> Vec<&'static str> {
    read_text(text).diagnostics.sorted().iter().map(|item| item.code).collect()
}

const WEBS: &str = "[wheel]\nkind = \"two webs\"\nbore = \"4 in\"\nhub_diameter = \"8 in\"\nhub_length = \"5 in\"\n[[wheel.web]]\nplace = \"1.2 in\"\nthickness = \"0.5 in\"\n[[wheel.web]]\nplace = \"-1.2 in\"\nthickness = \"0.5 in\"\n";
const BOLTED: &str = "[wheel]\nkind = \"bolted rim\"\n[wheel.flange]\nplace = \"0 in\"\nthickness = \"1 in\"\ninner_diameter = \"12 in\"\nseating_diameter = \"18 in\"\nseating_side = \"last groove\"\n";

#[test]
fn two_webs_are_put_in_order() {
    // Between the webs the middle groove has a wall of its own.
    let text = with_part("[wheel]", "[walls]", WEBS).replace("\"solid\"", "\"1.2 in\"");
    let Wheel::TwoWebs { webs, .. } = survey(&text).wheel else { panic!() };
    assert!(webs[0].place_mm < webs[1].place_mm);
    assert_eq!(webs[0].rim_fillet_mm, 3.0);
    let close = text.replace("-1.2 in", "0.9 in");
    assert!(codes(&close).contains(&"survey/webs-overlap"));
}

#[test]
fn a_bolted_rim_is_read() {
    let text = with_part("[wheel]", "[walls]", BOLTED);
    let Wheel::BoltedRim { flange } = survey(&text).wheel else { panic!() };
    assert_eq!((flange.inner_radius_mm, flange.seating_side), (152.4, Side::LastGroove));
    assert!(codes(&text.replace("18 in", "11 in")).contains(&"survey/flange"));
    assert!(codes(&text.replace("18 in", "24 in")).contains(&"survey/flange"));
}

#[test]
fn a_solid_disc_has_no_underside() {
    let disc = "[wheel]\nkind = \"solid disc\"\nbore = \"4 in\"\n";
    assert!(codes(&with_part("[wheel]", "[walls]", disc)).contains(&"survey/conflict"));
    let text = with_part("[wheel]", "[material]", &format!("{disc}[walls]\nby = \"solid\"\n"));
    assert!(matches!(survey(&text).walls.underside, Underside::Solid));
}

#[test]
fn one_wall_and_a_draft_are_read() {
    let walls = "[walls]\nby = \"draft and wall\"\nfrom = \"slot bottom\"\ndraft = \"3 deg\"\nwall = \"1.0 in\"\nat_groove = 1\n";
    let walls = survey(&with_part("[walls]", "[material]", walls)).walls;
    let Underside::Draft { wall_mm, at_groove, .. } = walls.underside else { panic!() };
    assert_eq!((wall_mm, at_groove, walls.from), (25.4, 1, WallFrom::SlotBottom));
}

#[test]
fn v_grooves_and_measured_grooves_are_read() {
    let v = "[grooves.now]\nshape = \"V\"\nangle = \"40 deg\"\nhardened = true\n";
    let now = &survey(&with_part("[grooves.now]", "[grooves.cut_to]", v)).grooves.now[4];
    assert!(matches!(now, GrooveShape::V { hardened: true, root_depth_mm: None, .. }), "{now:?}");
    let measured = "[grooves.now]\nshape = \"as measured\"\ncontact_from = \"0 deg\"\ncontact_to = \"70 deg\"\nprofile = \"groove.csv\"\n";
    let mut shelf = Shelf::default();
    shelf.0.insert("lift/groove.csv".into(), b"axial_in,depth_in\n-0.3,0\n0,0.55\n0.3,0\n".to_vec());
    let text = with_part("[grooves.now]", "[grooves.cut_to]", measured);
    let reading = read(text.as_bytes(), Path::new("lift/survey.toml"), &shelf);
    let survey = reading.survey.unwrap_or_else(|| panic!("{}", reading.diagnostics.render(Look::Plain)));
    let GrooveShape::Measured { points_mm, .. } = &survey.grooves.now[0] else { panic!() };
    assert!((points_mm[1][1] - 13.97).abs() < 1e-9);
}
