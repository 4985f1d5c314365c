//! Supports and loads of a model, and the cases they add up to.

use super::need;
use super::ropes;
use super::values::{field, need_tags, slopes};
use crate::document::{
    Bounds::{Any, Between},
    Document, Section, type_name,
};
use crate::elastic::{Around, Case, Field, Hold, Pattern, Support, Term};
use crate::geometry::Outline;
use std::f64::consts::TAU;
use toml::de::DeValue;

const SUPPORT_KEYS: &[&str] = &["tag", "tags", "hold"];
const LOAD_KEYS: &[&str] = &["case", "tag", "tags", "pressure_mpa", "traction_mpa", "around"];
const HEAT_KEYS: &[&str] = &["case", "at_k", "per_mm_r", "per_mm_z"];
const SPIN_KEYS: &[&str] = &["case", "rpm"];
const AROUND_KEYS: &[&str] = &["cos", "sin", "from_deg", "to_deg"];
/// The case of a load that names none.
const PLAIN_CASE: &str = "load";
const MOST_WAVES: u32 = 4000;

pub(super) fn supports(doc: &mut Document, root: &Section<'_>, known: Option<&Outline>) -> Vec<Support> {
    let mut supports = Vec::new();
    for section in doc.sections(root, "support", SUPPORT_KEYS) {
        let tags = need_tags(doc, &section, known);
        let hold = hold(doc, &section);
        supports.extend(tags.into_iter().map(|tag| Support { tag, hold }));
    }
    supports
}

fn hold(doc: &mut Document, section: &Section<'_>) -> Hold {
    let mut hold = Hold { r: false, theta: false, z: false };
    for (path, value) in doc.entries(section, "hold").unwrap_or_default() {
        match value.get_ref().as_str() {
            Some("r") => hold.r = true,
            Some("theta") => hold.theta = true,
            Some("z") => hold.z = true,
            _ => {
                let message = format!("{path} is no component of the displacement.");
                doc.error("model/choice-unknown", &path, message, "allowed are: \"r\", \"theta\", \"z\"");
                return hold;
            }
        }
    }
    if hold.flags() == [false; 3] {
        doc.needed(section, "hold", "the components that are held", "[\"r\", \"theta\", \"z\"]");
    }
    hold
}

/// Loads as they are gathered: where each stands in the file, its case, its pattern and its course.
#[derive(Default)]
pub(super) struct Gathered {
    entries: Vec<(usize, String, Pattern, Around)>,
}

impl Gathered {
    pub fn add(&mut self, doc: &mut Document, section: &Section<'_>, pattern: Pattern, around: Around) {
        let at = doc.places.of(&section.path).map_or(0, |place| place.span.start);
        self.entries.push((at, case_name(doc, section), pattern, around));
    }

    /// Cases in the order in which the file first names them; equal patterns are shared.
    fn cases(mut self) -> (Vec<Pattern>, Vec<Case>) {
        self.entries.sort_by_key(|entry| entry.0);
        let (mut patterns, mut cases): (Vec<Pattern>, Vec<Case>) = (Vec::new(), Vec::new());
        for (_, name, pattern, around) in self.entries {
            let index = patterns.iter().position(|known| *known == pattern).unwrap_or_else(|| {
                patterns.push(pattern);
                patterns.len() - 1
            });
            let term = Term { pattern: index, around };
            match cases.iter_mut().find(|case| case.name == name) {
                Some(case) => case.terms.push(term),
                None => cases.push(Case { name, terms: vec![term] }),
            }
        }
        (patterns, cases)
    }
}

pub(super) fn case_name(doc: &mut Document, section: &Section<'_>) -> String {
    doc.text(section, "case").unwrap_or_else(|| PLAIN_CASE.to_owned())
}

pub(super) fn cases(
    doc: &mut Document,
    root: &Section<'_>,
    known: Option<&Outline>,
) -> (Vec<Pattern>, Vec<Case>) {
    let mut gathered = Gathered::default();
    for section in doc.sections(root, "load", LOAD_KEYS) {
        let tags = need_tags(doc, &section, known);
        let (pattern, around) = (surface(doc, &section, tags), around(doc, &section));
        if let Some((pattern, around)) = pattern.zip(around) {
            gathered.add(doc, &section, pattern, around);
        }
    }
    ropes::ropes(doc, root, known, &mut gathered);
    for section in doc.sections(root, "heat", HEAT_KEYS) {
        let keys = ["at_k", "per_mm_r", "per_mm_z"];
        if let Some(temperature) = slopes(doc, &section, keys, "the temperature above the stress-free state")
        {
            gathered.add(doc, &section, Pattern::Thermal { temperature }, Around::Constant);
        }
    }
    for section in doc.sections(root, "spin", SPIN_KEYS) {
        if let Some(rpm) = need(doc, &section, "rpm", Any, "the speed in turns per minute", "60.0") {
            gathered.add(doc, &section, Pattern::Spin { rad_s: rpm * TAU / 60.0 }, Around::Constant);
        }
    }
    if !["load", "rope", "heat", "spin"].iter().any(|key| root.has(key)) {
        let help = "add at least one [[load]], [[rope]], [[heat]] or [[spin]]";
        doc.error("model/needed", "load", "The model has no load.".into(), help);
    }
    gathered.cases()
}

fn surface(doc: &mut Document, section: &Section<'_>, tags: Vec<String>) -> Option<Pattern> {
    let pressure = doc.get(section, "pressure_mpa");
    let traction = doc.get(section, "traction_mpa").is_some();
    match (pressure, traction) {
        (Some(value), false) => {
            let path = section.path_of("pressure_mpa");
            let value = field(doc, value, &path, "a pressure in MPa")?;
            Some(Pattern::Pressure { tags, value })
        }
        (None, true) => {
            let entries = doc.entries(section, "traction_mpa")?;
            if entries.len() != 3 {
                let path = section.path_of("traction_mpa");
                let message = format!("{path} has {} entries, and a traction has three.", entries.len());
                let help = "write traction_mpa = [radial, circumferential, axial]";
                doc.error("model/traction", &path, message, help);
                return None;
            }
            let parts: Vec<Option<Field>> =
                entries.iter().map(|(path, value)| field(doc, value, path, "a traction in MPa")).collect();
            Some(Pattern::Traction { tags, value: [parts[0]?, parts[1]?, parts[2]?] })
        }
        (Some(_), true) => {
            let message = format!("{} has both pressure_mpa and traction_mpa.", section.path);
            doc.error("model/both", &section.path, message, "write two [[load]] tables, one for each");
            None
        }
        (None, false) => {
            doc.needed(section, "pressure_mpa", "the size of the load (or traction_mpa)", "10.0");
            None
        }
    }
}

/// The course of a load around the body.
fn around(doc: &mut Document, section: &Section<'_>) -> Option<Around> {
    let Some(value) = doc.get(section, "around") else {
        return Some(Around::Constant);
    };
    let path = section.path_of("around");
    const HELP: &str =
        "write around = \"constant\", { cos = 3 }, { sin = 2 } or { from_deg = -20, to_deg = 20 }";
    if value.get_ref().as_str() == Some("constant") {
        return Some(Around::Constant);
    }
    if !matches!(value.get_ref(), DeValue::Table(_)) {
        let message = format!("{path} is {}, and no known course.", type_name(value.get_ref()));
        doc.error("model/around", &path, message, HELP);
        return None;
    }
    let sec = Section { path: path.clone(), table: doc.table(value, &path) };
    doc.check_keys(&sec, AROUND_KEYS);
    match [sec.has("cos"), sec.has("sin"), sec.has("from_deg"), sec.has("to_deg")] {
        [true, false, false, false] => doc.whole(&sec, "cos", 0, MOST_WAVES).map(|n| Around::Cos(n as usize)),
        [false, true, false, false] => doc.whole(&sec, "sin", 1, MOST_WAVES).map(|n| Around::Sin(n as usize)),
        [false, false, true, true] => {
            let range = Between(-360.0, 360.0, "from -360 to 360 degrees");
            let from = doc.number(&sec, "from_deg", range, "an angle");
            let to = doc.number(&sec, "to_deg", range, "an angle");
            let (from, to) = (from?, to?);
            if !(from < to && to - from <= 360.0) {
                let message = format!("{path} runs from {from} to {to} degrees.");
                let help = "to_deg must be more than from_deg, and at most 360 degrees more";
                doc.error("model/around", &path, message, help);
                return None;
            }
            Some(Around::Arc { from: from.to_radians(), to: to.to_radians() })
        }
        _ => {
            let message = format!("{path} is not exactly one course.");
            doc.error("model/around", &path, message, HELP);
            None
        }
    }
}
