//! Gray iron: strength by class, by section and by hardness, and the typical properties of its classes.

use super::sheet::Sheet;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::material::gray_iron::{
    class_tensile_mpa, compressive_en1561_mpa, compressive_mpa, endurance_mpa, gray_iron, toughness_n_mm15,
    typical,
};
use crate::material::hardness::{strength_band, strength_mpa};
use crate::material::section_size::expected_mpa;
use crate::material::{MPA_PER_KSI, Metal};
use crate::reference::compare::Tolerance;
use crate::strength::fracture::N_MM15_PER_MPA_M05;

const A48: Source =
    Source::published("ASTM A48: the class is the least tensile strength of a test bar in ksi");
const CODE: Source = Source::published(
    "ASME A17.1/CSA B44, factor 10 on the ultimate strength of cast iron (clause 2.24.3.1, number from memory)",
);
const A24: Source = Source::from_memory("Shigley, Mechanical Engineering Design, table A-24");
const ANNEX_A: Source = Source::published("EN 1561:1997, annex A (seen through a secondary copy)");
const TABLE_1: Source = Source::published(
    "EN 1561:1997, table 1 (seen through a secondary copy, the reading of its ranges from memory)",
);
const RELATIVE: Source = Source::from_memory("RH = HB/(100 + 0.44·R_m), EN 1561, annex on hardness");

const ENTRY: &str = "an entry of the table, rounding only";

pub(super) static CASES: &[Case] = &[
    Case {
        name: "iron-classes",
        title: "Strength and code allowable of gray iron by class",
        chapter: Chapter::Strength,
        about: "Least tensile strength of the test bar, and what the code's factor leaves of it under the \
                static resultant of the largest rope tensions. The last value comes through a survey's text.",
        features: &[Feature::IronClass, Feature::CodeFactor],
        run: classes,
    },
    Case {
        name: "iron-typical",
        title: "Typical properties of gray iron by class",
        chapter: Chapter::Strength,
        about: "Means, used for ratios and elastic constants, never as minima. Between two classes the program \
                keeps to straight lines.",
        features: &[Feature::IronClass],
        run: typical_properties,
    },
    Case {
        name: "iron-by-minimum",
        title: "What goes with a least tensile strength",
        chapter: Chapter::Strength,
        about: "The typical ratios of a class applied to its minimum, and the values of the European grades. The \
                toughness stands in both of its usual units, which are easily taken for each other.",
        features: &[Feature::IronClass, Feature::CriticalDistance],
        run: by_minimum,
    },
    Case {
        name: "iron-by-section",
        title: "Strength of gray iron in thick sections",
        chapter: Chapter::Strength,
        about: "Strength to be expected in the casting from that of its separately cast bar. Where the table gives \
                more than the bar's strength in the thinnest sections, the program keeps to the bar.",
        features: &[Feature::SectionSize],
        run: by_section,
    },
    Case {
        name: "iron-by-hardness",
        title: "Strengths that one Brinell hardness leaves open",
        chapter: Chapter::Strength,
        about: "The band for the usual range of relative hardness. Only its lower end can support an acceptance.",
        features: &[Feature::Hardness],
        run: by_hardness,
    },
];

fn classes() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (class, minimum, allowable) in [
        (20, 137.9, 13.8),
        (25, 172.4, 17.2),
        (30, 206.8, 20.7),
        (35, 241.3, 24.1),
        (40, 275.8, 27.6),
        (50, 344.7, 34.5),
        (60, 413.7, 41.4),
    ] {
        let metal: Metal = gray_iron(class).map_err(CaseFault::of)?;
        let what = format!("least tensile strength, class {class}");
        rows.push(Row::new(what, "MPa", A48, minimum, metal.tensile_mpa).printed(1));
        let what = format!("allowable, class {class}");
        let computed = metal.tensile_mpa / metal.safety_factor;
        rows.push(Row::new(what, "MPa", CODE, allowable, computed).printed(1));
    }
    let survey = Sheet::new(1000.0, 800.0, 4).read()?;
    let metal = survey.material.metal().map_err(CaseFault::of)?;
    let computed = metal.tensile_mpa / metal.safety_factor;
    rows.push(Row::new("allowable, class 25 read from a survey", "MPa", CODE, 17.2, computed).printed(1));
    rows.push(Row::new("Poisson's ratio of that iron", "", ANNEX_A, 0.26, metal.poisson).printed(2));
    let density = metal.density_kg_m3 / 1000.0;
    rows.push(Row::new("density of that iron", "g/cm³", ANNEX_A, 7.2, density).printed(1));
    Ok(Record::of_rows(rows))
}

fn typical_properties() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let names = [
        ("tensile strength", "MPa"),
        ("compressive strength", "MPa"),
        ("Young's modulus, low", "GPa"),
        ("Young's modulus, high", "GPa"),
        ("endurance limit", "MPa"),
        ("fatigue notch factor", ""),
    ];
    let tolerance = Tolerance::Relative(1e-12);
    for (class, values) in [
        (20.0, [152.0, 572.0, 66.0, 97.0, 69.0, 1.00]),
        (25.0, [179.0, 669.0, 79.0, 102.0, 79.0, 1.05]),
        (30.0, [214.0, 752.0, 90.0, 113.0, 97.0, 1.10]),
        (35.0, [252.0, 855.0, 100.0, 119.0, 110.0, 1.15]),
        (40.0, [293.0, 965.0, 110.0, 138.0, 128.0, 1.25]),
        (50.0, [362.0, 1131.0, 130.0, 157.0, 148.0, 1.35]),
        (60.0, [431.0, 1293.0, 141.0, 162.0, 169.0, 1.50]),
    ] {
        let iron = typical(class * MPA_PER_KSI);
        let found = [
            iron.tensile_mpa,
            iron.compressive_mpa,
            iron.young_mpa.0 / 1e3,
            iron.young_mpa.1 / 1e3,
            iron.endurance_mpa,
            iron.notch_factor,
        ];
        for (((name, unit), value), computed) in names.into_iter().zip(values).zip(found) {
            let what = format!("class {class}: {name}");
            rows.push(Row::new(what, unit, A24, value, computed).within(tolerance, ENTRY));
        }
    }
    let iron = typical(32.5 * MPA_PER_KSI);
    let line = "a straight line between two entries, rounding only";
    for (what, unit, value, computed) in [
        ("halfway from class 30 to 35: tensile strength", "MPa", 233.0, iron.tensile_mpa),
        ("halfway from class 30 to 35: notch factor", "", 1.125, iron.notch_factor),
    ] {
        rows.push(Row::new(what, unit, A24, value, computed).within(tolerance, line));
    }
    Ok(Record::of_rows(rows))
}

fn by_minimum() -> Result<Record, CaseFault> {
    let minimum = |class| class_tensile_mpa(class).map_err(CaseFault::of);
    let mut rows = Vec::new();
    let ratio = compressive_mpa(minimum(60)?) / minimum(60)?;
    rows.push(Row::new("compressive over tensile strength, class 60", "", A24, 3.00, ratio).printed(2));
    let ratio = compressive_mpa(minimum(20)?) / minimum(20)?;
    rows.push(Row::new("compressive over tensile strength, class 20", "", A24, 3.763, ratio).printed(3));
    let ratio = endurance_mpa(minimum(30)?) / minimum(30)?;
    rows.push(Row::new("endurance limit over tensile strength, class 30", "", A24, 0.4533, ratio).printed(4));
    for (grade, compressive, toughness, in_metres) in [
        (150.0, 600.0, 320.0, 10.1),
        (200.0, 720.0, 400.0, 12.6),
        (250.0, 840.0, 480.0, 15.2),
        (300.0, 960.0, 560.0, 17.7),
        (350.0, 1080.0, 650.0, 20.6),
    ] {
        let tolerance = Tolerance::Relative(1e-12);
        let what = format!("GJL-{grade}: compressive strength");
        let computed = compressive_en1561_mpa(grade);
        rows.push(Row::new(what, "MPa", ANNEX_A, compressive, computed).within(tolerance, ENTRY));
        let (computed, _) = toughness_n_mm15(grade);
        let what = format!("GJL-{grade}: fracture toughness");
        rows.push(Row::new(&*what, "N/mm^1.5", ANNEX_A, toughness, computed).within(tolerance, ENTRY));
        let computed = computed / N_MM15_PER_MPA_M05;
        rows.push(Row::new(what, "MPa√m", ANNEX_A, in_metres, computed).printed(1));
    }
    let (low, _) = toughness_n_mm15(minimum(20)?);
    let what = "fracture toughness taken for class 20: that of the lowest grade";
    rows.push(Row::new(what, "N/mm^1.5", ANNEX_A, 320.0, low).within(Tolerance::Relative(1e-12), ENTRY));
    Ok(Record::of_rows(rows).fact(format!(
        "Some property pages print N/mm^1.5 as MPa√m, which is {N_MM15_PER_MPA_M05:.1} times as much."
    )))
}

fn by_section() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let sections = [15.0, 30.0, 60.0, 100.0];
    let mut row = |bar: f64, section: f64, value: f64| {
        let what = format!("GJL-{bar}: strength in a section of {section} mm");
        let computed = expected_mpa(bar, section);
        rows.push(Row::new(what, "MPa", TABLE_1, value, computed).within(Tolerance::Relative(1e-12), ENTRY));
    };
    for (bar, values) in [
        (150.0, [130.0, 110.0, 95.0, 80.0]),
        (200.0, [180.0, 155.0, 130.0, 115.0]),
        (250.0, [225.0, 195.0, 170.0, 155.0]),
        (300.0, [270.0, 240.0, 210.0, 195.0]),
    ] {
        for (section, value) in sections.into_iter().zip(values) {
            row(bar, section, value);
        }
    }
    row(250.0, 7.0, 250.0);
    for (what, bar, section, share) in [
        ("lowest share of the grade kept in 20 to 40 mm", 150.0, 30.0, 0.73),
        ("highest share of the grade kept in 20 to 40 mm", 300.0, 30.0, 0.80),
        ("lowest share of the grade kept in 40 to 80 mm", 150.0, 60.0, 0.63),
        ("highest share of the grade kept in 40 to 80 mm", 300.0, 60.0, 0.70),
    ] {
        rows.push(Row::new(what, "", TABLE_1, share, expected_mpa(bar, section) / bar).printed(2));
    }
    Ok(Record::of_rows(rows))
}

fn by_hardness() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (hb, upper, middle, lower) in
        [(180.0, 284.0, 182.0, 114.0), (200.0, 341.0, 227.0, 152.0), (220.0, 398.0, 273.0, 189.0)]
    {
        let band = strength_band(hb);
        for (relative, value, computed) in
            [(0.8, upper, band.upper_mpa), (1.0, middle, band.middle_mpa), (1.2, lower, band.lower_mpa)]
        {
            let what = format!("tensile strength at {hb} HB, relative hardness {relative:.1}");
            rows.push(Row::new(what, "MPa", RELATIVE, value, computed).printed(0));
        }
    }
    for (hb, more, less) in [(180.0, 56.0, -37.0), (240.0, 43.0, -29.0)] {
        let band = strength_band(hb);
        let percent = |value: f64| (value / band.middle_mpa - 1.0) * 100.0;
        let what = format!("upper end of the band over its middle at {hb} HB");
        rows.push(Row::new(what, "%", RELATIVE, more, percent(band.upper_mpa)).printed(0));
        let what = format!("lower end of the band over its middle at {hb} HB");
        rows.push(Row::new(what, "%", RELATIVE, less, percent(band.lower_mpa)).printed(0));
    }
    let what = "relative hardness of the strength found at 215 HB and 1.1";
    let computed = 215.0 / (100.0 + 0.44 * strength_mpa(215.0, 1.1));
    let reason = "the relation and its inverse, rounding only";
    rows.push(Row::new(what, "", RELATIVE, 1.1, computed).within(Tolerance::Relative(1e-12), reason));
    Ok(Record::of_rows(rows))
}
