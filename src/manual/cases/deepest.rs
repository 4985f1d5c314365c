//! The deepest and the shallowest cut: by rules that are worked by hand, and by strength, confirmed by a check.

use super::sheet::{Sheet, drafted, seat, survey_of};
use crate::hoist::GRAVITY_M_S2;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::study::{Asked, DepthLimit, Reach, Tested, check, deepest, depth_limits, walls_moved};
use crate::survey::{Cut, Survey};

const HAND: Source = Source::exact("Plane geometry and arithmetic, the depth solved from the rule by hand");
const DIAMETERS: Source =
    Source::published("EN 81-20:2020, 5.5.2.1: D/d of 40, solved for the depth: (edge + rope - 40 rope)/2");
const WALL: Source = Source::common_practice("wall left equal to the rope diameter, solved for the depth");
const AGAIN: Source = Source::itself("a check of the survey at the depth, the wall or the strength found");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "deepest-by-rule",
        title: "Deepest cut by diameters, by the wall rule and by the pressure yardstick",
        chapter: Chapter::Measurements,
        about: "Round seats of a 13 mm rope, 10 mm below a rim edge of 567 mm. D/d, the wall under a sloping underside \
                and the lapsed limit on pressure each end at a depth that a pocket calculator gives.",
        features: &[
            Feature::DeepestByRule,
            Feature::DiameterRatio,
            Feature::WallLeft,
            Feature::PressureYardstick,
        ],
        run: by_rule,
    },
    Case {
        name: "shallowest-cut",
        title: "Shallowest cut that cleans a groove worn wider than the finished one",
        chapter: Chapter::Measurements,
        about: "A seat worn to a larger radius is to be cut to a smaller one with the same opening angle. The wear \
                that reaches furthest beyond the finished shape is the flank's, and the depth at which a tenth of a \
                millimetre of it is left follows from the two circles.",
        features: &[Feature::DeepestByRule, Feature::RoundSeats],
        run: shallowest,
    },
    Case {
        name: "deepest-by-strength",
        title: "Deepest cut by strength, with the wall and the strength needed",
        chapter: Chapter::Strength,
        about: "A small one-web wheel of invented weak iron, whose strength ends long before its wall. The check is \
                run again at the depth, with the wall and with the strength that were found: each must land on the \
                limit within the check's own error bar, and on its favourable side.",
        features: &[Feature::DeepestByStrength, Feature::OneWeb, Feature::RoundSeats],
        run: by_strength,
    },
];

const EDGE_MM: f64 = 567.0;
const ROPE_MM: f64 = 13.0;
const DEPTH_MM: f64 = 10.0;

/// A survey in mm is searched to this.
const GRAIN_MM: f64 = 0.05;
/// The narrowing of the search, and the number of rounding steps on the way.
const NARROWED: (Tolerance, &str) =
    (Tolerance::Absolute(5e-4), "the search stops within 0.0001 mm, on the careful side");

fn end(limits: &[DepthLimit], key: &str) -> f64 {
    let limit = limits.iter().find(|limit| limit.key == key);
    limit.and_then(|limit| limit.reach.end_mm()).unwrap_or(f64::NAN)
}

fn limits(survey: &Survey) -> Result<Vec<DepthLimit>, CaseFault> {
    depth_limits(survey).map_err(CaseFault::of)
}

fn by_rule() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let (car, rated, speed) = (3600.0, 1800.0, 2.5);
    let mut solid = Sheet::new(car, rated, 3);
    solid.roping = "car_speed = \"2.5 m/s\"\n";
    solid.load = "tension_spread = \"0 %\"\n";
    solid.cut = "plan = \"to depth\"\ndepth = \"12 mm\"".to_owned();
    let found = limits(&solid.read()?)?;
    let by_diameter = (EDGE_MM + ROPE_MM - 40.0 * ROPE_MM) / 2.0;
    let row =
        Row::new("depth at which D/d is 40", "mm", DIAMETERS, by_diameter, end(&found, "diameter_ratio"));
    rows.push(row.within(NARROWED.0, NARROWED.1));
    // p = 8T/(pi d D) on round seats; the limit at speed v is (12.5 + 4v)/(1 + v).
    let tension = GRAVITY_M_S2 * (car + rated) / 3.0;
    let limit = (12.5 + 4.0 * speed) / (1.0 + speed);
    let pitch = 8.0 * tension / (std::f64::consts::PI * ROPE_MM * limit);
    let by_pressure = (EDGE_MM + ROPE_MM - pitch) / 2.0;
    let row = Row::new(
        "depth at which the pressure reaches the yardstick",
        "mm",
        HAND,
        by_pressure,
        end(&found, "groove_pressure"),
    );
    rows.push(row.within(NARROWED.0, NARROWED.1));
    let (wall, radius) = (26.0, 6.9);
    for draft in [0.0f64, 6.0] {
        let mut sheet = Sheet::new(1000.0, 800.0, 3);
        sheet.groove = seat(30.0, 0.0, radius);
        sheet.walls = drafted(draft, wall);
        sheet.cut = "plan = \"to depth\"\ndepth = \"12 mm\"".to_owned();
        let found = limits(&sheet.read()?)?;
        // Least wall: (wall - taken + radius) cos(draft) - radius, as in the case wall-left.
        let by_wall = DEPTH_MM + wall + radius - (ROPE_MM + radius) / draft.to_radians().cos();
        let spacing = radius * (1.0 - (std::f64::consts::PI / 64.0).cos());
        let what = format!("draft {draft}°: depth at which the wall is the rope diameter");
        let row = Row::new(what, "mm", WALL, by_wall, end(&found, "wall"));
        rows.push(row.within(
            Tolerance::Absolute(5e-4 + spacing),
            "the search's last step, and the spacing of the points at which the least distance is looked for",
        ));
    }
    Ok(Record::of_rows(rows))
}

fn shallowest() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let (finished, opening) = (6.9, 30.0f64);
    for wider in [0.3, 0.5] {
        let mut sheet = Sheet::new(1000.0, 800.0, 3);
        sheet.groove = seat(opening, 0.0, finished + wider);
        sheet.cut = "plan = \"to depth\"\ndepth = \"14 mm\"".to_owned();
        let text = sheet.text();
        let (before, _) = text.split_once("[grooves.cut_to]").ok_or_else(|| CaseFault::of("no cut shape"))?;
        let text = format!("{before}[grooves.cut_to]\n{}\n", seat(opening, 0.0, finished));
        let found = limits(&survey_of(&text)?)?;
        let limit = found.iter().find(|limit| limit.key == "clean_up");
        let computed = limit.and_then(|limit| limit.reach.begin_mm()).unwrap_or(f64::NAN);
        // Along the flanks the worn shape lies wider - (deeper + wider) sin(opening/2) beyond the finished one.
        let left = 0.1;
        let deeper = (wider - left) / (opening.to_radians() / 2.0).sin() - wider;
        let what = format!("worn wider by {wider} mm: depth of the shallowest cut that cleans");
        let row = Row::new(what, "mm", HAND, DEPTH_MM + deeper, computed);
        rows.push(row.within(NARROWED.0, NARROWED.1));
    }
    Ok(Record::of_rows(rows))
}

fn by_strength() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(700.0, 500.0, 2);
    sheet.load = "tension_spread = \"0 %\"\n";
    sheet.walls = drafted(2.0, 24.0);
    sheet.cut = "plan = \"to depth\"\ndepth = \"12 mm\"".to_owned();
    let text = sheet
        .text()
        .replace("class = 25", "tensile_strength = \"32 MPa\"\nstrength_from = \"sample of this casting\"");
    let survey = survey_of(&text)?;
    let found = deepest(&survey, &|_| ()).map_err(CaseFault::of)?;
    let mut rows = Vec::new();
    let mut land = |name: &str,
                    survey: &Survey,
                    [bar, grain]: [f64; 2],
                    below: f64|
     -> Result<(), CaseFault> {
        let asked = &Asked { judged_only: true, ..Asked::default() };
        let result = check(survey, asked, &|_| ()).map_err(CaseFault::of)?.result;
        let (peak, bound) = (result.governing.peak.principal_mpa[0], result.governing.bound_mpa);
        let wanted = result.allowable_mpa - below;
        let mut row = Row::new(format!("{name}: highest tension"), "MPa", AGAIN, wanted, peak);
        row.estimate = Some(bound);
        rows.push(row.within(
            Tolerance::Absolute(1.5 * bound.max(bar) + grain),
            "the larger of the bars of this check and of the search's first value beyond it, which stays clear of the limit, half of it for the quarter at which the search stops, and what its last grain of 0.05 mm moves",
        ));
        let top = Row::new(
            format!("{name}: highest tension with its bar"),
            "MPa",
            AGAIN,
            result.allowable_mpa,
            peak + bound,
        );
        let none = Tolerance::Absolute(0.0);
        rows.push(top.within(none, "a favourable answer keeps the bar under the allowable").or_below());
        Ok(())
    };
    let limit = found.limits.iter().find(|limit| limit.key == crate::study::STRENGTH);
    let Some(Reach::Between { to_mm: Some(depth_mm), .. }) = limit.map(|limit| limit.reach) else {
        return Err(CaseFault::of("strength has no depth at which it ends"));
    };
    // The search stops between the last value that holds and the first that fails: each has a bar of its own, and
    // where they are one grain apart, the limit lies anywhere between them.
    let beyond = |tested: &[Tested], at: f64| {
        let own = tested.iter().find(|one| one.value_mm == at);
        let failing = tested.iter().filter(|one| !one.holds);
        let first = failing.min_by(|a, b| (a.value_mm - at).abs().total_cmp(&(b.value_mm - at).abs()));
        own.zip(first).map_or([0.0; 2], |(own, first)| {
            let apart = (first.value_mm - at).abs() < 1.5 * GRAIN_MM;
            [first.bound_mpa, if apart { (first.peak_mpa - own.peak_mpa).abs() } else { 0.0 }]
        })
    };
    let bar = beyond(&found.tested, depth_mm);
    land("cut to the depth found", &Survey { cut: Cut::ToDepth { depth_mm }, ..survey.clone() }, bar, 0.0)?;
    let shift = found.wall.as_ref().and_then(|wall| wall.shift_mm);
    let bar = found.wall.as_ref().map_or([0.0; 2], |wall| beyond(&wall.tested, shift.unwrap_or(0.0)));
    let moved = shift.and_then(|shift| walls_moved(&survey, shift));
    land("walls as needed", &moved.ok_or_else(|| CaseFault::of("no wall was found"))?, bar, 0.0)?;
    let needed = found.strength.as_ref().ok_or_else(|| CaseFault::of("no strength was found"))?;
    let mut other = survey.clone();
    other.material.tensile_mpa = Some(needed.needed_mpa * (1.0 + 1e-9));
    // What is asked for stands a whole bar above the peak: there the limit less that bar is what must come out.
    land("strength as needed", &other, [needed.bound_mpa, 0.0], needed.bound_mpa)?;
    let fact = format!(
        "Stated cut 12 mm; found: strength ends at {depth_mm:.2} mm, walls moved by {:.2} mm, {:.1} MPa needed.",
        shift.unwrap_or(f64::NAN),
        needed.needed_mpa
    );
    Ok(Record::of_rows(rows).fact(fact))
}
