//! The sheet says what was judged, and the drawing for the machine is read back by its own library.

use super::dxf::outer_side;
use super::*;
use crate::geometry::Curve;
use crate::study::{Asked, check, machining};
use crate::survey::{Change, Cut};
use ::dxf::entities::EntityType;
use std::collections::BTreeMap;
use std::sync::OnceLock;

struct Checks {
    survey: Survey,
    outcome: Outcome,
    cut: Machining,
    input: Input,
}

/// One check of a wheel with room to cut, for all tests.
fn checks() -> &'static Checks {
    static CHECKS: OnceLock<Checks> = OnceLock::new();
    CHECKS.get_or_init(|| {
        let mut survey = crate::section::tests::one_web();
        survey.cut = Cut::ToDepth { depth_mm: 17.0 };
        survey.job.name = "=1+1 <script>alert(1)</script> & \"q\" \u{202e}x\n".into();
        survey.job.sheave = "long ".repeat(400);
        let outcome = check(&survey, &Asked { judged_only: true, ..Asked::default() }, &|_| ()).unwrap();
        let cut = machining(&survey, &outcome).unwrap();
        let set = vec![Change {
            path: "cut.depth".into(),
            before: Some("0.62 in".into()),
            after: Some("17 mm".into()),
        }];
        let input =
            Input { file: "s.toml".into(), sha256: "0123456789abcdef".repeat(4), set, secondary: None };
        Checks { survey, outcome, cut, input }
    })
}

fn checked<'a>(of: &'a Checks, values: &'a BTreeMap<String, String>) -> ReportBasis<'a> {
    ReportBasis { survey: &of.survey, outcome: &of.outcome, citations: &[], input: &of.input, values }
}

fn words(blocks: &[Block], out: &mut String) {
    for block in blocks {
        let mut say = |text: &str| {
            out.push_str(text);
            out.push('\n');
        };
        match block {
            Block::Heading { text, .. } | Block::Text(text) | Block::Note(text) | Block::Strong(text) => {
                say(text)
            }
            Block::List(items) | Block::Lines(items) => items.iter().for_each(|item| say(item)),
            Block::Pairs(pairs) => pairs.iter().for_each(|(key, value)| say(&format!("{key}: {value}"))),
            Block::Table(table) => table.rows.iter().for_each(|row| say(&row.join(" | "))),
            Block::Form(form) => form.rows.iter().for_each(|row| say(&row.join(" | "))),
            Block::Figure(figure) => say(&figure.caption),
            Block::Boxed { blocks, .. } | Block::Together(blocks) => words(blocks, out),
            _ => {}
        }
    }
}

#[test]
fn the_sheet_names_every_size_its_datum_and_when_to_stop() {
    let values = BTreeMap::new();
    let all = checks();
    let document = document(&checked(all, &values), &all.cut);
    let mut text = String::new();
    words(&document.blocks, &mut text);
    for part in [
        "WHAT IF: this is no sheet of the survey as it stands",
        "cut.depth = \"17 mm\" (in the survey: \"0.62 in\")",
        "17.00 mm (0.669 in) below the rim edge (datum A)",
        "not deeper: no deeper cut was judged",
        "common practice, no source",
        "radius of the seat | 6.73 | 0.265",
        "angle between the flanks | 35° |  | ± 1° |",
        "width of the slot | 9.52 | 0.375 | ± 0.10",
        "slot's bottom below the seat | 4.00 | 0.157 | +0 / −0.20 | +0 / −0.008",
        "runout of the seats",
        "STOP below",
        "180 to 240 HB",
        "a crack is seen",
        "do not cut deeper to clean it",
        "Released for the cut by (responsible engineer)",
        "authority having jurisdiction",
    ] {
        assert!(text.contains(part), "{part} is missing:\n{text}");
    }
    for never in ["certif", "guarantee", " safe "] {
        assert!(!text.contains(never), "{never}");
    }
    let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
    assert!(longest < 700, "a name runs over the sheet: {longest}");
}

#[test]
fn hostile_words_stay_words_and_equal_sheets_are_equal_bytes() {
    let values = BTreeMap::new();
    let all = checks();
    let one = machining_pdf(&checked(all, &values), &all.cut, Paper::A4).unwrap();
    assert!(one.starts_with(b"%PDF-"));
    assert_eq!(one, machining_pdf(&checked(all, &values), &all.cut, Paper::A4).unwrap());
    for figure in [
        drawings::groove(&all.survey, &all.outcome, &all.cut),
        drawings::rim(&all.survey, &all.outcome, &all.cut),
    ] {
        let beyond = pdf::beyond_its_sheet(&figure.svg).unwrap();
        assert!(beyond < 0.5, "{}: {beyond} px", figure.name);
        assert!(
            !figure.svg.contains("<script") && !figure.svg.contains("NaN") && !figure.svg.contains("inf")
        );
    }
}

#[test]
fn the_drawing_read_back_has_every_edge_of_the_finished_groove_side() {
    let values = BTreeMap::new();
    let all = checks();
    let bytes = machining_dxf(&checked(all, &values), &all.cut).unwrap();
    assert_eq!(
        bytes,
        machining_dxf(&checked(all, &values), &all.cut).unwrap(),
        "no clock, nothing drawn by chance"
    );
    let drawing = ::dxf::Drawing::load(&mut bytes.as_slice()).unwrap();
    let outlines: Vec<_> = drawing
        .entities()
        .filter(|entity| entity.common.layer == "FINISHED_OUTLINE")
        .filter_map(|entity| match &entity.specific {
            EntityType::LwPolyline(line) => Some(line),
            _ => None,
        })
        .collect();
    let edges = outer_side(&all.outcome.section);
    assert!(outlines.len() == 1 && edges.len() > 40, "{} {}", outlines.len(), edges.len());
    let (vertices, rim) = (&outlines[0].vertices, all.survey.rim.edge_radius_mm);
    assert_eq!(vertices.len(), edges.len() + 1);
    for (edge, pair) in edges.iter().zip(vertices.windows(2)) {
        let (a, b) = (&pair[0], &pair[1]);
        for (found, known) in
            [(a.x, edge.start.z), (a.y, edge.start.r - rim), (b.x, edge.end.z), (b.y, edge.end.r - rim)]
        {
            assert!((found - known).abs() < 1e-9, "{found} {known}");
        }
        // The middle of the arc that a bulge means: a share of half the chord, to its right where positive.
        let middle = (
            0.5 * (a.x + b.x) + 0.5 * a.bulge * (b.y - a.y),
            0.5 * (a.y + b.y) - 0.5 * a.bulge * (b.x - a.x),
        );
        let known = edge.at(0.5);
        assert!((middle.0 - known.z).abs() < 1e-9 && (middle.1 - (known.r - rim)).abs() < 1e-9);
        assert_eq!(a.bulge != 0.0, matches!(edge.curve, Curve::Arc { .. }));
    }
    let text = String::from_utf8(bytes).unwrap();
    assert!(!text.contains('\u{202e}') && text.contains("<script>alert(1)</script>"), "a note is a note");
}
