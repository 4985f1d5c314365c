//! Groove shapes set side by side: one pitch diameter for all, traction and rope life by shape, depths of a cut.

use super::sheet::{Sheet, seat};
use crate::geometry::{Curve, Edge};
use crate::hoist::load_cases;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::section::{Kind, Place, Section, State, tags};
use crate::study::facts;
use crate::study::grooves::{Proposal, depth_range, proposals, rope_life, traction_reserve, with_cut};
use crate::survey::Survey;

const HAND: Source = Source::exact(
    "pitch diameter = edge diameter − 2·depth + rope diameter; a rope touches what it rests on",
);
const EN_81_50: Source = Source::published("EN 81-50:2020, 5.11 (seen through a secondary copy)");
const RATIO: Source = Source::published(
    "EN 81-50:2020, 5.11: limit over ratio, and ratio over limit when stalled; ratios by hand from the masses",
);
const BENDS: Source = Source::published("EN 81-50:2020, 5.12 (seen through a secondary copy)");
const DIAMETERS: Source = Source::published(
    "ASME A17.1/CSA B44, 40 rope diameters (clause 2.24.2, number from memory): edge radius + d/2 − 20·d",
);
const CIRCLES: Source = Source::exact("the seat's circle just reaches around the corner of the worn slot");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "one-pitch-diameter",
        title: "Every groove shape cut to one pitch diameter",
        chapter: Chapter::Grooves,
        about: "All shapes of the comparison are cut to one depth of the rope. A rope is laid into each finished \
                outline by hand: on the bottom of the seat's circle, or between the two flanks of a V, where its \
                centre lies half a rope over the sine of half the angle above the flanks' meeting point.",
        features: &[Feature::EqualPitch, Feature::RoundSeats, Feature::UndercutSeats, Feature::VGrooves],
        run: one_pitch,
    },
    Case {
        name: "traction-by-shape",
        title: "Traction of one lift by groove shape",
        chapter: Chapter::Grooves,
        about: "The comparison's limits in loading, braking and stalled cases for one survey, and the least reserve, \
                whose ratios follow by hand from the masses: 2100/1400 kg loading, 1900/1400 and 1500/1000 kg \
                braking at 0.5 m/s², 1000/100 kg stalled.",
        features: &[Feature::TractionLimit, Feature::SeatFriction, Feature::VFriction, Feature::HangingRopes],
        run: traction,
    },
    Case {
        name: "rope-life-by-shape",
        title: "Rope-life factor by groove shape",
        chapter: Chapter::Grooves,
        about: "The drive sheave alone, whose shape gives the equivalent bends.",
        features: &[Feature::RopeLife],
        run: life,
    },
    Case {
        name: "depths-of-a-cut",
        title: "Shallowest and deepest cut of a worn groove",
        chapter: Chapter::Grooves,
        about: "A round seat that must take away a worn slot 4 mm deep with corners of 1.5 mm, on a wheel that is solid \
                to the shaft, so that only the ratio of diameters stops a deeper cut. A tenth of a millimetre counts as \
                clean.",
        features: &[Feature::CleanUp, Feature::DiameterRatio],
        run: depths,
    },
];

fn sheet() -> Sheet {
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.roping = "car_speed = \"1 m/s\"\nretardation = \"0.5 m/s2\"";
    sheet.load = "rope_mass = \"0.5 kg/m\"\ntravel = \"50 m\"";
    sheet
}

fn named(survey: &Survey, name: &str) -> Result<Proposal, CaseFault> {
    let mut list = proposals(survey).list.into_iter();
    list.find(|proposal| proposal.name == name)
        .ok_or_else(|| CaseFault::Other(format!("no shape is called {name}")))
}

fn cut(survey: &Survey, proposal: &Proposal, depth_mm: f64) -> Result<(Survey, Section), CaseFault> {
    let survey = with_cut(survey, &proposal.form, depth_mm);
    let place = Place { kind: Kind::Uniform, walls: Vec::new(), lines: None };
    let section = Section::build(&survey, State::Cut, &place)
        .map_err(|faults| CaseFault::Other(format!("{}: {faults:?}", proposal.name)))?;
    Ok((survey, section))
}

/// Radius of a rope's centre that lies on these edges: in the circle of an arc, or between two flanks.
fn rope_centre(edges: &[Edge], z: f64, rope_mm: f64) -> f64 {
    let first = &edges[0];
    match first.curve {
        Curve::Arc { centre, .. } => centre.r - first.start.distance(centre) + 0.5 * rope_mm,
        Curve::Line => {
            let along = first.tangent(0.0);
            let meeting = first.start.r + (z - first.start.z) * along.r / along.z;
            meeting + 0.5 * rope_mm / along.z.abs()
        }
    }
}

fn one_pitch() -> Result<Record, CaseFault> {
    let survey = sheet().read()?;
    let mut rows = Vec::new();
    for proposal in proposals(&survey).list {
        if proposal.hardened == Some(true) {
            continue;
        }
        let (survey, section) = cut(&survey, &proposal, 12.0)?;
        let groove = &section.grooves[1];
        let seat = tags::of(tags::SEAT, groove.number);
        let edges = section.outline.edges().filter(|edge| section.outline.tag_name(edge) == seat);
        let edges: Vec<Edge> = edges.copied().collect();
        let centre = rope_centre(&edges, groove.z_mm, survey.roping.rope_diameter_mm);
        // 567 mm − 2·12 mm + 13 mm.
        let row = Row::new(format!("{}: pitch diameter", proposal.name), "mm", HAND, 556.0, 2.0 * centre);
        rows.push(row.within(Tolerance::Absolute(1e-6), "rounding of the outline's points"));
    }
    Ok(Record::of_rows(rows))
}

fn traction() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    // Printed limits in loading, braking and stalled cases; where one is not printed, the factor f/μ that is.
    for (wrap, name, values, shape) in [
        (180.0f64, "round", [1.4759, 1.4246, 2.1784], f64::NAN),
        (180.0, "undercut 90°", [1.8119, 1.7166, 3.2830], f64::NAN),
        (180.0, "undercut 95°", [1.8582, 1.7564, 3.4528], f64::NAN),
        (180.0, "undercut 105°", [1.9715, 1.8535, 3.8869], f64::NAN),
        (160.0, "undercut 90°", [1.6961, 1.6166, 2.8768], f64::NAN),
        (160.0, "undercut 95°", [1.7346, 1.6498, 3.0087], f64::NAN),
        (180.0, "V 35° hardened", [2.8427, f64::NAN, 8.0807], 3.3255),
        (180.0, "V 38° hardened", [2.6247, f64::NAN, 6.8889], 3.0716),
        (180.0, "V 40° hardened", [2.5056, f64::NAN, 6.2782], 2.9238),
        (180.0, "V 38°", [f64::NAN, f64::NAN, 6.8889], 1.2732),
    ] {
        let mut sheet = sheet();
        sheet.wrap_deg = wrap;
        let survey = sheet.read()?;
        let (survey, section) = cut(&survey, &named(&survey, name)?, 12.0)?;
        let cases = load_cases(&survey);
        let found = facts(&survey, State::Cut, &section, &cases[0]).traction;
        if found.len() != 4 {
            return Err(CaseFault::Other(format!("{name}: {} cases of traction instead of 4", found.len())));
        }
        for (index, what, value) in
            [(0, "loading", values[0]), (1, "braking", values[1]), (3, "stalled", values[2])]
        {
            if value.is_finite() {
                let what = format!("{name}, wrap {wrap}°, {what}: limit");
                rows.push(Row::new(what, "", EN_81_50, value, found[index].limit).printed(4));
            }
        }
        let reserve = traction_reserve(&found).unwrap_or(f64::NAN);
        let limit = |printed: f64, mu: f64| {
            if printed.is_finite() { printed } else { (mu * shape * wrap.to_radians()).exp() }
        };
        let braking = 1500.0 * 10.31 / (1000.0 * 9.31);
        let hand = [
            limit(values[0], 0.1) / (2100.0 / 1400.0),
            limit(values[1], 0.1 / 1.1) / braking,
            1000.0 / 100.0 / values[2],
        ];
        let hand = hand.into_iter().fold(f64::INFINITY, f64::min);
        let what = format!("{name}, wrap {wrap}°: least reserve");
        let row = Row::new(what, "", RATIO, hand, reserve);
        rows.push(row.within(Tolerance::Relative(4e-5), "limits and factors printed to four decimals"));
    }
    Ok(Record::of_rows(rows))
}

fn life() -> Result<Record, CaseFault> {
    let survey = sheet().read()?;
    let mut rows = Vec::new();
    for (name, ratio, value) in [
        ("round", 40.0, 8.083),
        ("undercut 75°", 40.0, 11.281),
        ("undercut 90°", 40.0, 14.515),
        ("undercut 105°", 40.0, 21.750),
        ("V 40°", 40.0, 18.677),
        ("round", 45.0, 7.032),
        ("undercut 90°", 45.0, 12.255),
        ("V 40° hardened", 45.0, 15.567),
    ] {
        let found = rope_life(&named(&survey, name)?.form, ratio).map_err(CaseFault::Other)?;
        let what = format!("S_f, {name}, D/d {ratio}");
        rows.push(Row::new(what, "", BENDS, value, found.rope_life_factor).printed(3));
    }
    Ok(Record::of_rows(rows))
}

fn depths() -> Result<Record, CaseFault> {
    let mut sheet = sheet();
    sheet.groove = seat(30.0, 90.0, 6.9);
    let survey = sheet.read()?;
    let (seat_radius, corner) = (0.53 * 13.0, 1.5);
    let half_slot = 6.9 * 45f64.to_radians().sin();
    // Corner's centre: 1.5 mm above the slot's bottom at 14 mm, and inside its wall by as much.
    let reach: f64 = seat_radius + 0.1 - corner;
    let shallowest = 14.0 - corner + seat_radius - (reach.powi(2) - (half_slot - corner).powi(2)).sqrt();
    let round = range(&survey, "round")?;
    let same = range(&survey, "undercut 90°")?;
    let stepped = "taken to the next 0.05 mm; the worn line is looked at in steps";
    let exact = "sums, rounding only";
    Ok(Record::of_rows(vec![
        Row::new("round seat: shallowest that cleans", "mm", CIRCLES, shallowest, round.from_mm)
            .within(Tolerance::Absolute(0.06), stepped),
        Row::new("the worn slot's own shape: shallowest that cleans", "mm", HAND, 10.0, same.from_mm)
            .within(Tolerance::Absolute(1e-9), exact),
        Row::new("deepest, by the ratio of diameters", "mm", DIAMETERS, 283.5 + 6.5 - 260.0, round.to_mm)
            .within(Tolerance::Absolute(1e-9), exact),
    ]))
}

fn range(survey: &Survey, name: &str) -> Result<crate::study::grooves::Range, CaseFault> {
    let proposal = named(survey, name)?;
    depth_range(survey, &proposal.form).map_err(CaseFault::of)?.map_err(CaseFault::Other)
}
