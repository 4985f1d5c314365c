//! From the bytes of a model file to the problem, with all faults at once.
//!
//! Owns the order of reading, the material, the series, and the words for general faults. The other
//! tables stand in the submodules.

mod asked;
mod loads;
mod outline;
mod ropes;
pub(super) mod seat;
mod sizing;
mod values;

use super::{Extras, Problem};
use crate::diagnostics::Diagnostics;
use crate::document::{
    Bounds::{self, Between, NotNegative, Positive},
    Codes, Document, Expected, Rules, Section, keep_syntax_faults, text_of,
};
use crate::elastic::{Iron, Model, Options};
use crate::geometry::Outline;
use std::path::Path;
use toml::de::DeTable;

const MODEL_FILE: Expected = Expected {
    empty: ("model/empty", "a model begins with the line model = 1, then [material], [[loop]] and so on"),
    too_large: ("model/too-large", "allowed are 4 MB; thin out the points of the outline"),
    not_text: ("model/not-text", "a model is plain text in UTF-8; is this the right file?"),
};

static MODEL_RULES: Rules = Rules {
    file: "a model",
    codes: Codes {
        syntax: "model/syntax",
        unknown_key: "model/unknown-key",
        wrong_type: "model/wrong-type",
        needed: "model/needed",
        out_of_range: "model/out-of-range",
        not_a_count: "model/not-a-count",
        choice_unknown: "model/choice-unknown",
        list_length: "model/list-length",
    },
    is_blank: |text| text.trim().is_empty(),
    blank: "not given",
    no_stand_in: "",
    longest_list: (5000, "a section is drawn with some hundred edges; simplify it"),
    not_offered: &[],
    syntax_help: "write one key = value on a line, text in quotes, numbers without, headings such as [material] or [[loop]] alone on their line, and every key once",
};

const ROOT_KEYS: &[&str] = &[
    "model", "title", "material", "loop", "mesh", "support", "load", "rope", "heat", "spin", "series",
    "search", "probe",
];

/// What came out of a file: the problem unless there is an error, and every diagnostic.
#[derive(Debug, Clone)]
pub struct Reading {
    pub problem: Option<Problem>,
    pub diagnostics: Diagnostics,
}

/// Reads a model file; `path` names it in messages.
///
/// The result holds a problem exactly when its diagnostics hold no error.
pub fn read(bytes: &[u8], path: &Path) -> Reading {
    let mut diagnostics = Diagnostics::new();
    let name = path.display().to_string();
    let Some(text) = text_of(bytes, &name, &MODEL_FILE, &mut diagnostics) else {
        return Reading { problem: None, diagnostics };
    };
    let source = diagnostics.add_source(name, text);
    let (tree, faults) = DeTable::parse_recoverable(text);
    let mut doc = Document::new(diagnostics, source, &MODEL_RULES);
    let problem = problem(&mut doc, &Section::root(tree.get_ref()));
    if !faults.is_empty() {
        keep_syntax_faults(&mut doc, text, &faults);
    }
    let problem = problem.filter(|_| !doc.diagnostics.has_errors());
    Reading { problem, diagnostics: doc.diagnostics }
}

fn problem(doc: &mut Document, root: &Section<'_>) -> Option<Problem> {
    doc.check_keys(root, ROOT_KEYS);
    doc.whole(root, "model", 1, 1);
    if doc.get(root, "model").is_none() {
        doc.needed(root, "model", "the version of this format", "1");
    }
    let title = doc.text(root, "title").unwrap_or_default();
    let iron = material(doc, root);
    let outline = outline::outline(doc, root);
    // Tags are known as soon as the loops could be read, also where they enclose no body.
    let known: Option<&Outline> = outline.as_ref().map(|read| &read.outline);
    let sizing = sizing::sizing(doc, root, known);
    let supports = loads::supports(doc, root, known);
    let (patterns, cases) = loads::cases(doc, root, known);
    let series = series(doc, root);
    let search = asked::search(doc, root, known);
    let sound = outline.as_ref().filter(|read| read.sound).map(|read| &read.outline);
    let probes = asked::probes(doc, root, sound, &cases);
    let model =
        Model { title, outline: outline?.outline, sizing: sizing?, iron: iron?, supports, patterns, cases };
    Some(Problem { model, extras: Extras { series: series?, search, probes } })
}

/// A table that a model cannot go without.
fn required<'t>(doc: &mut Document, root: &Section<'t>, key: &str, known: &[&str]) -> Section<'t> {
    let section = doc.section(root, key, known);
    if !root.has(key) {
        let message = format!("The table [{key}] is missing.");
        doc.error("model/needed", key, message, &format!("add [{key}] with: {}", known.join(", ")));
    }
    section
}

/// A number that a model cannot go without.
fn need(
    doc: &mut Document,
    section: &Section<'_>,
    key: &str,
    bounds: Bounds,
    what: &str,
    example: &str,
) -> Option<f64> {
    if doc.get(section, key).is_none() {
        doc.needed(section, key, what, &format!("{example} (for instance)"));
        return None;
    }
    doc.number(section, key, bounds, what)
}

fn material(doc: &mut Document, root: &Section<'_>) -> Option<Iron> {
    let keys = ["young_mpa", "poisson", "density_kg_m3", "expansion_per_k"];
    let sec = required(doc, root, "material", &keys);
    let young = need(doc, &sec, "young_mpa", Positive, "the modulus of elasticity in MPa", "110e3");
    let range = Between(-0.999, 0.4999, "from -0.999 to 0.4999");
    let poisson = need(doc, &sec, "poisson", range, "the Poisson ratio", "0.26");
    let mut when = |with: &str, key: &str, bounds, what: &str, example: &str| {
        if root.has(with) {
            need(doc, &sec, key, bounds, &format!("{what}, for [[{with}]]"), example)
        } else {
            // Read all the same, so that a faulty number never passes unseen.
            doc.get(&sec, key).map_or(Some(0.0), |_| doc.number(&sec, key, bounds, what))
        }
    };
    let density = when("spin", "density_kg_m3", NotNegative, "the density in kg/m³", "7200");
    let expansion =
        when("heat", "expansion_per_k", Bounds::Any, "the thermal expansion per kelvin", "1.1e-5");
    Some(Iron {
        young_mpa: young?,
        poisson: poisson?,
        // 1 kg/m³ is 1e-12 t/mm³.
        density_t_mm3: density? * 1e-12,
        expansion_per_k: expansion?,
    })
}

fn series(doc: &mut Document, root: &Section<'_>) -> Option<Options> {
    const MOST: u32 = 4000;
    let sec = doc.section(root, "series", &["block", "least", "most", "tolerance"]);
    let plain = Options::default();
    let mut count = |key: &str, default: usize| match doc.get(&sec, key) {
        Some(_) => doc.whole(&sec, key, 1, MOST).map(|n| n as usize),
        None => Some(default),
    };
    let (block, least, most) =
        (count("block", plain.block), count("least", plain.least), count("most", plain.most));
    let range = Between(1e-6, 0.5, "from 0.000001 to 0.5, as a share of the highest tension");
    let tolerance = match doc.get(&sec, "tolerance") {
        Some(_) => doc.number(&sec, "tolerance", range, "the tolerance of the series"),
        None => Some(plain.tolerance),
    };
    let options = Options { block: block?, least: least?, most: most?, tolerance: tolerance? };
    if options.least > options.most {
        let message = format!("series.least is {} and series.most is {}.", options.least, options.most);
        doc.error("model/series", "series.least", message, "least must not be more than most");
    }
    Some(options)
}

#[cfg(test)]
mod tests;
