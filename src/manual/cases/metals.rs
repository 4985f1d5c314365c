//! Metals other than gray iron, and the code's factor on their strength.

use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::material::ductile::ASTM_A536;
use crate::material::{CODE_ELONGATION, Facts, MetalKind, code_factor, from_facts};
use crate::reference::compare::Tolerance;
use crate::units::{Kind, parse};

const CODE: Source = Source::published(
    "ASME A17.1/CSA B44: 8 for steel, bronze and metals of 14 % elongation or more in 2 in, 10 for cast iron and \
     metals of less (clause 2.24.3.1, number from memory)",
);
const A536: Source = Source::published("ASTM A536, grades named by their minima in ksi, ksi and percent");
const A536_65: Source = Source::from_memory("ASTM A536, grade 65-45-12 (one public page misprints it)");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "code-factor",
        title: "The code's factor by metal and elongation",
        chapter: Chapter::Strength,
        about: "The lower factor asks for a stated elongation at the code's limit or above; gray and unknown iron never get it.",
        features: &[Feature::CodeFactor],
        run: factors,
    },
    Case {
        name: "ductile-grades",
        title: "Grades of ductile iron and what the code's factor leaves of metals",
        chapter: Chapter::Strength,
        about: "Least strengths of the grades against the ksi in their names, and allowables of metals whose \
                strength is stated. Of these grades only the softest reaches the lower factor.",
        features: &[Feature::OtherMetals, Feature::CodeFactor],
        run: grades,
    },
];

fn factors() -> Result<Record, CaseFault> {
    use MetalKind as K;
    let mut rows = Vec::new();
    for (name, kind, elongation, value) in [
        ("ductile iron", K::DuctileIron, Some(0.18), 8.0),
        ("ductile iron", K::DuctileIron, Some(0.14), 8.0),
        ("ductile iron", K::DuctileIron, Some(0.139), 10.0),
        ("ductile iron", K::DuctileIron, Some(0.12), 10.0),
        ("ductile iron", K::DuctileIron, None, 10.0),
        ("steel", K::Steel, Some(0.22), 8.0),
        ("steel", K::Steel, Some(0.10), 10.0),
        ("cast steel", K::CastSteel, Some(0.20), 8.0),
        ("bronze", K::Bronze, Some(0.30), 8.0),
        ("gray iron", K::GrayIron, None, 10.0),
        ("gray iron", K::GrayIron, Some(0.20), 10.0),
        ("unknown metal", K::Unknown, Some(0.20), 10.0),
    ] {
        let elongated = elongation.map_or("not known".to_owned(), |e| format!("{:.1} %", 100.0 * e));
        let what = format!("factor on ultimate strength, {name}, elongation {elongated}");
        rows.push(Row::new(what, "", CODE, value, code_factor(kind, elongation)).printed(0));
    }
    let limit = 100.0 * CODE_ELONGATION;
    Ok(Record::of_rows(rows).fact(format!("The code's limit is {limit:.0} % in 2 in.")))
}

/// Strength in MPa of a text such as "60 ksi".
fn stress_mpa(text: &str) -> Result<f64, CaseFault> {
    parse(text, Kind::Stress).map(|quantity| quantity.value).map_err(|fault| CaseFault::Other(fault.found))
}

fn grades() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (name, [tensile, first_yield, percent]) in [
        ("60-40-18", [414.0, 276.0, 18.0]),
        ("65-45-12", [448.0, 310.0, 12.0]),
        ("80-55-06", [552.0, 379.0, 6.0]),
        ("100-70-03", [689.0, 483.0, 3.0]),
        ("120-90-02", [827.0, 621.0, 2.0]),
    ] {
        let source = if name.starts_with("65") { A536_65 } else { A536 };
        let Some(grade) = ASTM_A536.iter().find(|grade| grade.name == name) else {
            return Err(CaseFault::Other(format!("grade {name} is not in the table")));
        };
        let named: Vec<&str> = name.split('-').collect();
        for (what, value, found, ksi) in [
            ("tensile strength", tensile, grade.tensile_mpa, named[0]),
            ("yield strength", first_yield, grade.yield_mpa, named[1]),
        ] {
            let exact = stress_mpa(&format!("{ksi} ksi"))?;
            let in_table = format!("{name}: least {what}, as tabled");
            rows.push(Row::new(in_table, "MPa", source, value, found).printed(0));
            let converted = format!("{name}: least {what}, {ksi} ksi converted");
            rows.push(Row::new(converted, "MPa", source, value, exact).printed(0));
        }
        let what = format!("{name}: least elongation");
        rows.push(Row::new(what, "%", source, percent, 100.0 * grade.elongation).printed(0));
    }
    for (name, kind, strength, elongation, value) in [
        ("ductile iron 60-40-18", MetalKind::DuctileIron, "60 ksi", 0.18, 51.7),
        ("ductile iron 65-45-12", MetalKind::DuctileIron, "65 ksi", 0.12, 44.8),
        ("steel of 400 MPa", MetalKind::Steel, "400 MPa", 0.22, 50.0),
    ] {
        let facts = Facts {
            tensile_mpa: Some(stress_mpa(strength)?),
            elongation: Some(elongation),
            ..Facts::of_kind(kind)
        };
        let metal = from_facts(&facts).map_err(CaseFault::of)?;
        let what = format!("allowable, {name}");
        let computed = metal.tensile_mpa / metal.safety_factor;
        rows.push(Row::new(what, "MPa", CODE, value, computed).printed(1));
    }
    let what = "ductile iron without a stated strength is refused (1)";
    let refused = from_facts(&Facts::of_kind(MetalKind::DuctileIron)).is_err();
    let reason = "a count";
    let exact = Source::exact("neither its kind nor one hardness bounds its strength from below");
    rows.push(
        Row::new(what, "", exact, 1.0, f64::from(u8::from(refused))).within(Tolerance::Absolute(0.0), reason),
    );
    Ok(Record::of_rows(rows))
}
