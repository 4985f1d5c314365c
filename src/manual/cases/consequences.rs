//! What a cut changes besides the stress, and what unequal tensions and an emergency multiple do.

use super::sheet::{Sheet, seat, survey_of};
use crate::hoist::load_cases;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::section::State;
use crate::study::{Asked, Consequences, at_depth, check, consequences};
use crate::survey::{HardnessReading, Survey};

const TRACTION: Source = Source::published("EN 81-50:2020, 5.11.2 (seen through a secondary copy)");
const ROPES: Source =
    Source::published("EN 81-50:2020, 5.12, check point (40, 10) (seen through a secondary copy)");
const FORMULA: Source = Source::published(
    "EN 81-50:2020, 5.12, its formula and table worked by hand (seen through a secondary copy)",
);
const FACTOR: Source = Source::exact("n·F_min over the static force in all ropes (EN 81-20:2020, 5.5.2.2)");
const NOTE: Source = Source::from_memory("EN 81-1:1985, note to clause 9.3, worked by hand");
const PROPORTION: Source =
    Source::exact("the same speed of the machine: in proportion to the pitch diameter");
const STATICS: Source = Source::exact("equilibrium: suspended masses on both sides, worked by hand");
const LINE: Source = Source::exact("a straight line between the nearest readings on both sides");
const LINEAR: Source =
    Source::exact("a linear body: stress in proportion to the load, whatever the strength");
const TABLE_1: Source = Source::published(
    "EN 1561:1997, table 1, straight line between grades 150 and 200 worked by hand (seen through a secondary copy)",
);
const RELATIVE: Source = Source::from_memory("RH = HB/(100 + 0.44·R_m), EN 1561, annex on hardness");
const EQUAL: Source = Source {
    text: "the same wheel checked with equal tensions from the start",
    standing: crate::manual::Standing::Itself,
};

const ROUNDING: &str = "short sums, rounding only";

pub(super) static CASES: &[Case] = &[
    Case {
        name: "cut-before-and-after",
        title: "A lift's sheave before and after a cut",
        chapter: Chapter::Grooves,
        about: "Worn seats with an undercut of 95° are cut by 2 mm to 90°. From the text of a survey to diameters, \
                speed, traction in all cases, pressure and the ropes' factors, now and after.",
        features: &[
            Feature::CutEffects,
            Feature::RopeFactor,
            Feature::RopeLife,
            Feature::TractionLimit,
            Feature::SeatPressure,
            Feature::DiameterRatio,
        ],
        run: before_and_after,
    },
    Case {
        name: "worse-landing",
        title: "Traction at the worse of two landings",
        chapter: Chapter::Grooves,
        about: "Heavy compensation makes the highest landing the worse one.",
        features: &[Feature::TractionLimit, Feature::HangingRopes],
        run: worse_landing,
    },
    Case {
        name: "hardness-by-depth",
        title: "Hardness that a cut lays bare",
        chapter: Chapter::Strength,
        about: "Readings by depth, two of them at one depth. Beyond the readings there is no answer.",
        features: &[Feature::HardnessByDepth],
        run: hardness,
    },
    Case {
        name: "strengths-of-a-wheel",
        title: "One wheel at the strengths that its hardness leaves open",
        chapter: Chapter::Strength,
        about: "A solid wheel of unknown iron with 200 HB, checked whole. Where tension governs, the factor goes with \
                the tensile strength; where modified Mohr does, it lies below that. The same wheel by its class tells what the section takes away. \
                Rope tensions differ by a fifth, and the engineer states an emergency of 2.5 times the load.",
        features: &[
            Feature::Hardness,
            Feature::SectionSize,
            Feature::Emergency,
            Feature::EqualTensions,
            Feature::UnequalTensions,
        ],
        run: strengths,
    },
];

/// Both states of a survey.
fn states(survey: &Survey) -> Result<Consequences, CaseFault> {
    let cases = load_cases(survey);
    let rated = cases.first().ok_or_else(|| CaseFault::of("no load case"))?;
    Ok(consequences(survey, State::Cut, rated, rated))
}

fn before_and_after() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.roping = "car_speed = \"1 m/s\"\nretardation = \"0.5 m/s2\"\nsimple_bends = 5\nreversed_bends = 0\n\
                    pulley_diameter = \"520 mm\"\nbreaking_force = \"80 kN\"";
    sheet.load = "rope_mass = \"0.5 kg/m\"\ntravel = \"30 m\"";
    sheet.groove = seat(30.0, 90.0, 6.9);
    sheet.seat_depth_mm = vec![8.0; 4];
    sheet.cut = "plan = \"to depth\"\ndepth = \"10 mm\"".to_owned();
    // The grooves as found stand first in the text.
    let text = sheet.text().replacen("slot_angle = \"90 deg\"", "slot_angle = \"95 deg\"", 1);
    let survey = survey_of(&text.replace("edge_diameter = \"567 mm\"", "edge_diameter = \"527 mm\""))?;
    let found = states(&survey)?;
    let after = found.after.as_ref().ok_or_else(|| CaseFault::of("no state after the cut"))?;
    let exact = Tolerance::Relative(1e-12);
    let mut rows = Vec::new();
    let names = ["loading", "braking, loaded car", "braking, empty car", "stalled"];
    let ratios = [5052.15 / 3433.5, 4794.15 / 3258.5, 3763.15 / 2327.5, 2452.5 / 147.15];
    for (when, state, limits) in [
        ("now, β 95°", &found.now, [1.8582, 1.7564, 1.7564, 3.4528]),
        ("after, β 90°", after, [1.8119, 1.7166, 1.7166, 3.2830]),
    ] {
        if state.traction.len() != names.len() {
            return Err(CaseFault::Other(format!("{} traction cases instead of four", state.traction.len())));
        }
        for (index, fact) in state.traction.iter().enumerate() {
            let name = names[index];
            rows.push(
                Row::new(format!("{when}: e^(fα), {name}"), "", TRACTION, limits[index], fact.limit)
                    .printed(4),
            );
            let what = format!("{when}: ratio of tensions, {name}");
            rows.push(Row::new(what, "", STATICS, ratios[index], fact.ratio).within(exact, ROUNDING));
        }
    }
    let speed = found.car_speed.ok_or_else(|| CaseFault::of("no car speed"))?;
    for (what, unit, value, computed, decimals) in [
        ("pitch diameter now", "mm", 524.0, found.now.mean_pitch_diameter_mm, 6),
        ("pitch diameter after", "mm", 520.0, after.mean_pitch_diameter_mm, 6),
        ("car speed after", "m/s", 0.992366, speed.after_m_s, 6),
        ("change of the car speed", "m/s", -0.007634, speed.change_m_s, 6),
        ("change of the car speed", "%", -0.7634, 100.0 * speed.relative_change, 4),
        ("pitch over rope diameter now", "", 40.3077, found.now.least_diameter_ratio, 4),
        ("pitch over rope diameter after", "", 40.0, after.least_diameter_ratio, 6),
    ] {
        rows.push(Row::new(what, unit, PROPORTION, value, computed).printed(decimals));
    }
    let none = f64::NAN;
    for (what, value, computed) in [
        ("pressure now, k = 11.0904, T = 4561.65 N", 7.427, found.now.pressure_mpa),
        ("pressure after, k = 9.9105", 6.688, after.pressure_mpa),
    ] {
        rows.push(Row::new(what, "MPa", NOTE, value, computed.unwrap_or(none)).printed(3));
    }
    let bends = |life: &Option<crate::study::RopeLife>| life.as_ref().map_or(none, |l| l.equivalent_bends);
    let asked =
        |life: &Option<crate::study::RopeLife>| life.as_ref().map_or(none, |l| l.required_rope_factor);
    let (before, cut) = (&found.now.rope_life, &after.rope_life);
    rows.push(Row::new("N now: 6.7 + 5·(524/520)⁴", "", FORMULA, 11.8556, bends(before)).printed(4));
    rows.push(Row::new("S_f now, D/d 40.3077", "", FORMULA, 19.620, asked(before)).printed(3));
    rows.push(Row::new("N after: 5 + 5·(520/520)⁴", "", FORMULA, 10.0, bends(cut)).within(exact, ROUNDING));
    rows.push(Row::new("S_f after, D/d 40", "", ROPES, 18.68, asked(cut)).printed(2));
    let factor = found.rope_factor.unwrap_or(none);
    rows.push(Row::new("factor that the ropes have", "", FACTOR, 17.538, factor).printed(3));
    Ok(Record::of_rows(rows)
        .fact("Five pulleys of 520 mm bend the ropes in one sense; the breaking force is 80 kN."))
}

fn worse_landing() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(1000.0, 800.0, 4);
    sheet.load = "rope_mass = \"0.5 kg/m\"\ntravel = \"30 m\"\ncompensation_mass = \"4 kg/m\"";
    let survey = sheet.read()?;
    let cases = load_cases(&survey);
    let found = consequences(&survey, State::Now, &cases[0], &cases[0]);
    let loading = found.now.traction.first().map_or(f64::NAN, |fact| fact.ratio);
    let exact = Tolerance::Relative(1e-12);
    let what =
        "loading, 125 % of the load above: (2000 + 120)/(1400 + 60), against (2000 + 60)/(1400 + 120) below";
    Ok(Record::of_rows(vec![Row::new(what, "", STATICS, 2120.0 / 1460.0, loading).within(exact, ROUNDING)]))
}

fn hardness() -> Result<Record, CaseFault> {
    let list = [(10.0, 204.0), (10.0, 196.0), (30.0, 180.0)]
        .map(|(depth_mm, hardness_hb)| HardnessReading { depth_mm, hardness_hb });
    let exact = Tolerance::Relative(1e-12);
    let mut rows = Vec::new();
    for (depth, value) in [(10.0, 200.0), (15.0, 195.0), (20.0, 190.0), (30.0, 180.0)] {
        let computed = at_depth(&list, depth).unwrap_or(f64::NAN);
        let what = format!("hardness at {depth} mm, 204 and 196 HB at 10 mm, 180 HB at 30 mm");
        rows.push(Row::new(what, "HB", LINE, value, computed).within(exact, ROUNDING));
    }
    let answers = [9.0, 31.0].iter().filter(|depth| at_depth(&list, **depth).is_some()).count();
    let what = "answers beyond the readings, at 9 and 31 mm";
    rows.push(Row::new(what, "", LINE, 0.0, answers as f64).within(Tolerance::Absolute(0.0), "a count"));
    Ok(Record::of_rows(rows))
}

fn strengths() -> Result<Record, CaseFault> {
    let mut sheet = Sheet::new(1000.0, 800.0, 3);
    sheet.load = "tension_spread = \"20 %\"\nemergency_multiple = 2.5";
    let (known, unknown) =
        ("kind = \"gray iron\"\nclass = 25", "kind = \"unknown\"\nhardness = [\"200 HB\"]");
    let text = sheet.text();
    let whole = |text: &str| -> Result<_, CaseFault> {
        let survey = survey_of(text)?;
        check(&survey, &Asked::default(), &|_| {}).map(|outcome| outcome.result).map_err(CaseFault::of)
    };
    let result = whole(&text.replace(known, unknown))?;
    let equal = whole(
        &text.replace(known, unknown).replace("tension_spread = \"20 %\"", "tension_spread = \"0 %\""),
    )?;
    let classed = whole(&text)?;
    let band = result.hardness_band.as_ref().ok_or_else(|| CaseFault::of("no band of strengths"))?;
    let judged = result.governing.least_factor;
    let mut rows = Vec::new();
    for (level, strength) in band.levels.iter().zip([152.0, 227.0, 341.0]) {
        let what = format!("{} strength by 200 HB", level.name);
        rows.push(Row::new(what, "MPa", RELATIVE, strength, level.tensile_mpa).printed(0));
        let what = format!("factor at the {} strength over the one judged, class 20", level.name);
        let linear = level.tensile_mpa / result.metal.tensile_mpa;
        let row = Row::new(what, "", LINEAR, linear, level.least_factor / judged);
        rows.push(if level.name == "low" {
            row.within(Tolerance::Relative(1e-9), "tension governs both, rounding only")
        } else {
            // The compressive strength of stronger iron is a smaller multiple of its tensile one.
            row.within(Tolerance::Relative(1e-9), "modified Mohr may lower it, nothing raises it").or_below()
        });
    }
    let accepting = band.levels.iter().filter(|level| level.may_accept).count() as f64;
    let what = "strengths of the band that may accept: the lowest alone";
    rows.push(Row::new(what, "", RELATIVE, 1.0, accepting).within(Tolerance::Absolute(0.0), "a count"));
    let size = classed.section_size.as_ref().ok_or_else(|| CaseFault::of("no section thickness"))?;
    let (lost, left) = (100.0 * size.relative_loss, classed.metal.tensile_mpa);
    rows.push(
        Row::new("thickness that counts: the rim's width", "mm", STATICS, 70.0, size.section_mm).printed(6),
    );
    rows.push(
        Row::new(
            "strength left of class 25 in 40 to 80 mm: 172.4·(95 + 0.4474·35)/172.4",
            "MPa",
            TABLE_1,
            110.66,
            left,
        )
        .printed(2),
    );
    rows.push(Row::new("what the section takes away", "%", TABLE_1, 35.80, lost).printed(2));
    let emergency = result.cases.last().ok_or_else(|| CaseFault::of("no emergency case"))?;
    let what = "emergency, 2.5 times the load: peak over that of the judged case";
    let row = Row::new(what, "", LINEAR, 2.5, emergency.peak_mpa / result.governing.peak.principal_mpa[0]);
    rows.push(
        row.within(Tolerance::Relative(0.03), "the case stands on the coarse series, whose allowance is 3 %"),
    );
    let spread = result.equalised.as_ref().ok_or_else(|| CaseFault::of("no comparison of tensions"))?;
    let what = "hottest of three ropes, spread 20 %, over the mean: 1 + 0.2·2/3";
    let row = Row::new(what, "", STATICS, 1.0 + 0.4 / 3.0, spread.hottest_n / spread.mean_n);
    rows.push(row.within(Tolerance::Relative(1e-12), ROUNDING));
    let what = "peak with equal tensions, as told by the check with unequal ones";
    let reference = equal.governing.peak.principal_mpa[0];
    let row = Row::new(what, "MPa", EQUAL, reference, spread.equal_peak_mpa);
    rows.push(
        row.within(Tolerance::Relative(0.03), "the case stands on the coarse series, whose allowance is 3 %"),
    );
    Ok(Record::of_rows(rows))
}
