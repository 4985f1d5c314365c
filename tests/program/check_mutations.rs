//! Whatever sizes a sheave has, a check ends in a result or in a fault that a mechanic can act on.
//!
//! Every demo is changed at random, from a fixed seed. The quick test carries several hundred of them as
//! far as the mesh, and a few small ones through the whole check. With `RIMPROOF_SOAK=n` in the
//! environment n of them run through the whole check, from the seed `RIMPROOF_SEED`.

use rimproof::geometry::Point;
use rimproof::mesh::{Mesh, Sizing};
use rimproof::section::{Kind, Lines, Place, Section, State};
use rimproof::study::{Asked, CheckFault, check};
use rimproof::survey::{Cut, Files, Reading, Survey, Underside, read};
use std::path::Path;

const DEMOS: [&str; 5] = ["harbour.toml", "harbour_thin.toml", "granary.toml", "deflector.toml", "mill.toml"];

/// Small sheaves that the quick test carries through the whole check.
const QUICK: u64 = 6;

struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path) -> std::io::Result<Vec<u8>> {
        std::fs::read(path)
    }
}

/// Random numbers that are the same on every machine (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count as u64) as usize
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}

const WHEELS: [&str; 4] = [
    "kind = \"one web\"\nbore = \"80 mm\"\nhub_diameter = \"140 mm\"\nhub_length = \"110 mm\"\n[[wheel.web]]\nplace = \"0 mm\"\nthickness = \"18 mm\"\nrim_fillet = \"6 mm\"\nhub_fillet = \"6 mm\"\n",
    "kind = \"two webs\"\nbore = \"80 mm\"\nhub_diameter = \"140 mm\"\nhub_length = \"120 mm\"\n[[wheel.web]]\nplace = \"-17 mm\"\nthickness = \"9 mm\"\nrim_fillet = \"4 mm\"\nhub_fillet = \"4 mm\"\n[[wheel.web]]\nplace = \"17 mm\"\nthickness = \"9 mm\"\nrim_fillet = \"4 mm\"\nhub_fillet = \"4 mm\"\n",
    "kind = \"bolted rim\"\n[wheel.flange]\nplace = \"0 mm\"\nthickness = \"18 mm\"\nrim_fillet = \"6 mm\"\ninner_diameter = \"120 mm\"\nseating_diameter = \"180 mm\"\nseating_side = \"groove 1\"\n",
    "kind = \"solid disc\"\nbore = \"80 mm\"\n",
];
const CUTS: [&str; 4] = [
    "plan = \"none\"",
    "plan = \"clean up\"",
    "plan = \"to depth\"\ndepth = \"14 mm\"",
    "plan = \"clean up\"\nclean_up = \"0.4 mm\"",
];
const SHAPES: [&str; 3] = [
    "shape = \"round\"\nseat_radius = \"6.9 mm\"\nopening_angle = \"36 deg\"\n",
    "shape = \"undercut\"\nseat_radius = \"6.9 mm\"\nopening_angle = \"36 deg\"\nslot_angle = \"80 deg\"\nslot_depth = \"5 mm\"\nslot_corner_radius = \"1 mm\"\n",
    "shape = \"V\"\nangle = \"40 deg\"\nroot_depth = \"3 mm\"\nroot_radius = \"1 mm\"\n",
];

/// The text with everything below a heading, up to the next heading of another table, replaced.
fn with_table(text: &str, heading: &str, inner: &str, body: &str) -> String {
    let Some(start) = text.find(&format!("[{heading}]\n")) else { return text.to_owned() };
    let head = start + heading.len() + 3;
    let end = text[head..]
        .match_indices("\n[")
        .map(|(at, _)| head + at + 1)
        .find(|at| !text[*at..].trim_start_matches('[').starts_with(inner))
        .unwrap_or(text.len());
    format!("{}{body}\n{}", &text[..head], &text[end..])
}

/// Every quantity in quotes: where it stands, its number and its unit.
fn quantities(text: &str) -> Vec<(std::ops::Range<usize>, f64, String)> {
    let body = text.find("[roping]").unwrap_or(0);
    let mut found = Vec::new();
    for part in text[body..].split('"').scan(body, |at, part| {
        let start = *at;
        *at += part.len() + 1;
        Some((start, part))
    }) {
        let (start, part) = part;
        let Some((number, unit)) = part.rsplit_once(' ') else { continue };
        let value = match number.split_once('/') {
            Some((top, bottom)) => {
                top.parse::<f64>().ok().zip(bottom.parse::<f64>().ok()).map(|(a, b)| a / b)
            }
            None => number.parse().ok(),
        };
        if let Some(value) = value {
            found.push((start..start + part.len(), value, unit.to_owned()));
        }
    }
    found
}

/// A demo as it stands.
fn demo(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes").join(name)).unwrap()
}

/// The smallest demo with one wall all around, which is solved in a second.
fn small() -> String {
    let wall =
        "by = \"draft and wall\"\nfrom = \"seat\"\ndraft = \"2 deg\"\nwall = \"14 mm\"\nat_groove = 1\n";
    with_table(&demo("granary.toml"), "walls", "walls", wall)
}

/// A survey with a few things changed.
fn mutated(base: String, dice: &mut Dice) -> String {
    let mut text = base;
    if dice.below(3) == 0 {
        let kind = dice.below(WHEELS.len());
        text = with_table(&text, "wheel", "wheel", WHEELS[kind]);
        if kind == 1 {
            // Between two webs the middle grooves have walls of their own.
            text = text.replace("\"solid\"", "\"20 mm\"");
        }
        if kind == 3 {
            text = with_table(&text, "walls", "walls", "by = \"solid\"\n");
        }
    }
    if dice.below(3) == 0 {
        text = with_table(&text, "cut", "cut", CUTS[dice.below(CUTS.len())]);
    }
    for table in ["grooves.now", "grooves.cut_to"] {
        if dice.below(4) == 0 {
            text = with_table(&text, table, table, SHAPES[dice.below(SHAPES.len())]);
        }
    }
    for _ in 0..1 + dice.below(4) {
        let all = quantities(&text);
        let chosen = dice.below(all.len());
        let (how, factor) = (dice.below(6), dice.between(0.5, 1.5));
        // One value, or all values of the chosen one's line, such as a station's walls.
        let line = |at: usize| text[..at].matches('\n').count();
        let same_line: Vec<usize> = (0..all.len())
            .filter(|i| *i == chosen || how > 3 && line(all[*i].0.start) == line(all[chosen].0.start))
            .collect();
        for i in same_line.into_iter().rev() {
            let (range, value, unit) = all[i].clone();
            let (value, unit) = match (how, unit.as_str()) {
                (0, "in") => (25.4 * value, "mm"),
                (0, "mm") => (value / 25.4, "in"),
                (0, "kg") => (value / 0.453_592_37, "lb"),
                (0, "deg") => (value.to_radians(), "rad"),
                (_, unit) => (factor * value, unit),
            };
            text.replace_range(range, &format!("{value:.4} {unit}"));
        }
    }
    text
}

/// The survey of a text, or its faults, which must be readable.
fn surveyed(text: &str) -> Option<Survey> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("meshes").join("changed.toml");
    let Reading { survey, diagnostics, .. } = read(text.as_bytes(), &path, &Disk);
    for item in diagnostics.sorted() {
        readable(&item.message, text);
        assert!(!item.help.is_empty() && item.place.is_some(), "{}", item.message);
    }
    survey
}

/// Words of programs and meshes have no place in a message for a mechanic.
fn readable(message: &str, text: &str) {
    let jargon =
        ["NaN", "inf ", "loop ", "edge '", "triangle", "outline", "matrix", "node", "None", "Some(", "r = "];
    let found: Vec<&&str> = jargon.iter().filter(|word| message.contains(**word)).collect();
    assert!(found.is_empty(), "{found:?} in: {message}\n{text}");
    assert!(message.ends_with('.') && !message.contains(".."), "{message}\n{text}");
    assert!(message.len() < 700, "{message}\n{text}");
}

fn readable_fault(fault: &CheckFault, text: &str) {
    for line in fault.to_string().lines() {
        readable(line, text);
    }
}

/// The places around the rim as they were read.
fn places(survey: &Survey) -> Vec<Place> {
    let points = |list: &[[f64; 2]]| list.iter().map(|[z, r]| Point::new(*r, *z)).collect::<Vec<_>>();
    match &survey.walls.underside {
        Underside::Stations { stations, .. } => stations
            .iter()
            .map(|station| Place {
                kind: Kind::Station { angle_rad: station.angle_rad },
                walls: station.walls.clone(),
                lines: None,
            })
            .collect(),
        Underside::Profiles { stations, reading_error_mm, corner_radius_mm } => stations
            .iter()
            .map(|station| Place {
                kind: Kind::Station { angle_rad: station.angle_rad },
                walls: Vec::new(),
                lines: Some(Lines {
                    groove_side: points(&station.groove_side),
                    wall_side: points(&station.wall_side),
                    reading_error_mm: *reading_error_mm,
                    corner_radius_mm: *corner_radius_mm,
                }),
            })
            .collect(),
        _ => vec![Place { kind: Kind::Uniform, walls: Vec::new(), lines: None }],
    }
}

#[test]
fn changed_demos_make_a_mesh_or_a_readable_fault() {
    let mut dice = Dice(0x5eed_0f1e_ad5e_a7e5);
    let (mut read, mut meshed, mut refused) = (0, 0, 0);
    for case in 0..400 {
        let base = demo(DEMOS[dice.below(DEMOS.len())]);
        let text = mutated(base, &mut dice);
        let Some(survey) = surveyed(&text) else { continue };
        read += 1;
        let state = if survey.cut == Cut::None { State::Now } else { State::Cut };
        let places = places(&survey);
        let place = &places[case % places.len()];
        match Section::build(&survey, state, place) {
            Err(faults) => {
                refused += 1;
                for fault in faults {
                    println!("{case}: {fault}");
                    readable(&format!("{fault}."), &text);
                    assert!(!fault.advice().is_empty());
                    assert!(fault.field(state, Some(1)).contains(['.', 'w']));
                }
            }
            // Meshing is the slow part: a share of the sections is enough.
            Ok(section) if case % 4 == 0 => {
                let mesh =
                    Mesh::generate(&section.outline, &Sizing { fillet_step_rad: 0.35, ..Sizing::default() });
                match mesh {
                    Ok(_) => meshed += 1,
                    Err(fault) => {
                        refused += 1;
                        readable_fault(&CheckFault::Elastic(fault.into()), &text);
                    }
                }
            }
            Ok(_) => {}
        }
    }
    println!("{read} read, {meshed} meshed, {refused} refused");
    // The changes must be neither so tame that nothing fails nor so wild that nothing is left.
    assert!(read > 100 && meshed > 20 && refused > 3, "{read} read, {meshed} meshed, {refused} refused");
}

#[test]
fn changed_demos_pass_through_the_whole_check() {
    let asked = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    let soak = asked("RIMPROOF_SOAK");
    let mut dice = Dice(asked("RIMPROOF_SEED").unwrap_or(0x1dea_5eed));
    let (mut done, mut judged) = (0, 0);
    while done < soak.unwrap_or(QUICK) {
        let base = if soak.is_some() { demo(DEMOS[dice.below(DEMOS.len())]) } else { small() };
        let text = mutated(base, &mut dice);
        let Some(survey) = surveyed(&text) else { continue };
        done += 1;
        let start = std::time::Instant::now();
        let answer = check(&survey, &Asked::default(), &|_| {});
        let seconds = start.elapsed().as_secs_f64();
        match answer {
            Ok(outcome) => {
                let result = &outcome.result;
                judged += 1;
                println!("{done} {seconds:.1} s {:?}: {}", result.verdict.word, result.verdict.reason);
                // A verdict may have several reasons, each a sentence of its own.
                for check in &result.checks {
                    check.remark.iter().for_each(|remark| readable(remark, &text));
                }
                assert!(
                    result.governing.peak.principal_mpa[0].is_finite() && result.governing.least_factor > 0.0
                );
            }
            Err(fault) => {
                println!("{done} {seconds:.1} s {fault}");
                readable_fault(&fault, &text);
            }
        }
    }
    assert!(2 * judged > done, "only {judged} of {done} were judged");
}
