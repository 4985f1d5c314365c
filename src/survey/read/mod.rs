//! From the bytes of a survey to the value `Survey`, with all faults at once.
//!
//! Owns the order of reading, the limits on a file, and what happens after a syntax error. The fields
//! stand in the submodules, one for each part of the file. Lacks cross-field rules: see `sanity`.

mod double_wrap;
mod doubt;
mod grooves;
mod hardness;
mod loads;
mod masses;
mod rope_facts;
mod shape;
mod walls;
mod wheel;

use super::files::SURVEY_FILE;
use super::form::{Form, Section, Value};
use super::sanity;
use super::schema::*;
use crate::diagnostics::Diagnostics;
use crate::document::{Change, Places, keep_syntax_faults, set_values, text_of};
use std::io;
use std::path::Path;
use toml::de::DeTable;

/// Reads the files that a survey names. The survey itself opens none.
pub trait Files {
    /// # Errors
    /// Returns the reason when the file cannot be read.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;
}

/// What came out of a file: the survey unless there is an error, and every diagnostic.
#[derive(Debug, Clone)]
pub struct Reading {
    pub survey: Option<Survey>,
    /// Where every value stands, for faults that are found later; none in a file that is no text.
    pub places: Option<Places>,
    /// What was set from outside, with what stood in the file.
    pub changes: Vec<Change>,
    /// Where the values of a secondary sheave's survey stand, when this one names it.
    pub secondary_places: Option<Places>,
    pub diagnostics: Diagnostics,
}

/// The parts of a survey as far as they could be read; rules that need a missing part are skipped.
#[derive(Debug, Default)]
pub(super) struct Draft {
    pub job: Job,
    pub ropes: loads::Ropes,
    pub roping: Option<Roping>,
    pub double_wrap: Option<DoubleWrap>,
    pub load: Option<Load>,
    pub rim: Option<Rim>,
    pub grooves: Option<Grooves>,
    pub walls: Option<Walls>,
    pub wheel: Option<Wheel>,
    pub material: Option<MaterialFacts>,
    pub cut: Option<Cut>,
    pub judgement: Option<Judgement>,
    pub doubt: Doubt,
}

/// What the parts are read with besides the form: the survey's folder, and the profiles in it.
pub(super) struct Folder<'a> {
    pub path: &'a Path,
    pub files: &'a dyn Files,
    /// False in a survey that another one names: it may not name a third.
    pub may_name: bool,
}

const ROOT_KEYS: &[&str] = &[
    "survey",
    "job",
    "roping",
    "double_wrap",
    "load",
    "rim",
    "grooves",
    "walls",
    "wheel",
    "material",
    "cut",
    "judgement",
    "doubt",
];
const RIM_KEYS: &[&str] = &["width", "edge_diameter", "nominal_pitch_diameter"];

/// The keys of every table, for the test that holds the blank form to them.
#[cfg(test)]
pub(super) const KEYS: &[(&str, &[&str])] = &[
    ("", ROOT_KEYS),
    ("job", loads::JOB_KEYS),
    ("roping", loads::ROPING_KEYS),
    ("double_wrap", double_wrap::DOUBLE_WRAP_KEYS),
    ("load", loads::LOAD_KEYS),
    ("rim", RIM_KEYS),
    ("grooves", grooves::GROOVE_KEYS),
    ("grooves.now", shape::SHAPE_KEYS),
    ("grooves.cut_to", shape::SHAPE_KEYS),
    ("walls", walls::WALL_KEYS),
    ("walls.station", walls::STATION_KEYS),
    ("wheel", wheel::WHEEL_KEYS),
    ("wheel.web", wheel::WEB_KEYS),
    ("wheel.flange", wheel::FLANGE_KEYS),
    ("material", wheel::MATERIAL_KEYS),
    ("material.hardness_by_depth", hardness::DEPTH_KEYS),
    ("cut", wheel::CUT_KEYS),
    ("judgement", wheel::JUDGEMENT_KEYS),
    ("doubt", doubt::DOUBT_KEYS),
];

/// Reads a survey; `path` names it in messages, and profiles are looked for in its folder.
///
/// The result holds a survey exactly when its diagnostics hold no error.
pub fn read(bytes: &[u8], path: &Path, files: &dyn Files) -> Reading {
    read_with(bytes, path, files, &[], "")
}

/// Reads a survey with values set from outside, each as `path=value`; `option` names where they were given.
///
/// A value that was set is judged as if it stood in the file, and its faults stand at its argument.
pub fn read_with(bytes: &[u8], path: &Path, files: &dyn Files, set: &[String], option: &str) -> Reading {
    read_into(Diagnostics::new(), bytes, path, files, (set, option), true)
}

/// As [`read_with`], adding to the diagnostics of another file; `may_name` as in [`Folder`].
fn read_into(
    mut diagnostics: Diagnostics,
    bytes: &[u8],
    path: &Path,
    files: &dyn Files,
    (set, option): (&[String], &str),
    may_name: bool,
) -> Reading {
    let errors_before = diagnostics.error_count();
    let name = path.display().to_string();
    let text = match text_of(bytes, &name, &SURVEY_FILE, &mut diagnostics) {
        Some(text) => text,
        None => {
            let changes = Vec::new();
            return Reading { survey: None, places: None, changes, secondary_places: None, diagnostics };
        }
    };
    let source = diagnostics.add_source(name, text);
    // A byte order mark is no fault of the person who measured; places keep counting with it.
    let (mut tree, faults) = DeTable::parse_recoverable(text);
    let mut form = Form::new(diagnostics, source);
    form.places.add(source, text.len());
    let changes = set_values(&mut form.document, tree.get_mut(), set, option);
    let root = Section::root(tree.get_ref());
    let folder = Folder { path: path.parent().unwrap_or(Path::new("")), files, may_name };
    let (draft, secondary_places) = read_parts(&mut form, &root, &folder);
    if faults.is_empty() {
        sanity::check(&draft, &mut form);
    } else {
        keep_syntax_faults(&mut form.document, text, &faults);
    }
    let print = form.votes.print_units();
    let Form { document, notes, .. } = form;
    let faulty = document.diagnostics.error_count() > errors_before;
    let survey = if faulty { None } else { assemble(draft, print, notes) };
    let places = Some(document.places);
    Reading { survey, places, changes, secondary_places, diagnostics: document.diagnostics }
}

fn read_parts(form: &mut Form, root: &Section<'_>, folder: &Folder<'_>) -> (Draft, Option<Places>) {
    form.check_keys(root, ROOT_KEYS);
    form.whole(root, "survey", 1, 1);
    if form.get(root, "survey").is_none() {
        form.needed(root, "survey", "the version of this form", "1");
    }
    let job = loads::job(form, root);
    let (roping, ropes) = loads::roping(form, root, folder);
    let (double_wrap, secondary_places) = if ropes.passes == 2 {
        double_wrap::double_wrap(form, root, &ropes, folder)
    } else {
        double_wrap::unused(form, root);
        (None, None)
    };
    let load = loads::load(form, root, &ropes);
    let rim = rim(form, root);
    let cut = wheel::cut(form, root);
    let cut_wanted = cut.is_some_and(|cut| cut != Cut::None);
    let grooves = grooves::grooves(form, root, &ropes, cut_wanted, folder);
    let walls = walls::walls(form, root, grooves.as_ref(), folder);
    let wheel = wheel::wheel(form, root);
    let material = wheel::material(form, root);
    let judgement = wheel::judgement(form, root);
    let mut draft = Draft {
        job,
        ropes,
        roping,
        double_wrap,
        load,
        rim,
        grooves,
        walls,
        wheel,
        material,
        cut,
        judgement,
        ..Draft::default()
    };
    draft.doubt = doubt::doubt(form, root, &draft);
    (draft, secondary_places)
}

/// A section that a survey cannot go without.
fn required<'t>(form: &mut Form, root: &Section<'t>, key: &str, known: &[&str]) -> Section<'t> {
    let section = form.section(root, key, known);
    if root.table.is_some_and(|table| !table.contains_key(key)) && !form.is_misspelt(key) {
        let message = format!("The section [{key}] is missing.");
        let help = format!(
            "add [{key}] with: {}; `rimproof survey` prints all fields with comments",
            known.join(", ")
        );
        form.error("survey/needed", key, message, &help);
    }
    section
}

fn rim(form: &mut Form, root: &Section<'_>) -> Option<Rim> {
    use super::form::Bounds::{Between, Positive};
    use super::form::field;
    const TURNED: super::form::Bounds = Between(50.0, 1e4, "from 50 mm to 10 m");
    use crate::units::Kind::Length;
    let rim = required(form, root, "rim", RIM_KEYS);
    let width = form.need(
        &rim,
        field("width", Length, Positive, "the width of the rim along the shaft")
            .such_as("\"4 1/2 in\" or \"115 mm\""),
    );
    let edge = form.need(
        &rim,
        field("edge_diameter", Length, TURNED, "the diameter over the rim's edge")
            .such_as("\"26 1/2 in\" or \"673 mm\""),
    );
    let nominal = form.quantity(
        &rim,
        field("nominal_pitch_diameter", Length, Positive, "the pitch diameter on the nameplate"),
    );
    if nominal.is_none() {
        form.missing("rim.nominal_pitch_diameter", "The pitch diameter on the nameplate is not known, so the rim edge and the seat depths are not cross-checked against it.");
    }
    Some(Rim { width_mm: width?, edge_radius_mm: edge? / 2.0, nominal_pitch_diameter_mm: nominal })
}

fn assemble(draft: Draft, print: crate::units::PrintUnits, notes: Vec<SurveyNote>) -> Option<Survey> {
    Some(Survey {
        job: draft.job,
        roping: draft.roping?,
        double_wrap: draft.double_wrap,
        load: draft.load?,
        rim: draft.rim?,
        grooves: draft.grooves?,
        walls: draft.walls?,
        wheel: draft.wheel?,
        material: draft.material?,
        cut: draft.cut?,
        judgement: draft.judgement?,
        doubt: draft.doubt,
        print,
        notes,
    })
}

/// A file name given in the survey.
fn file_name<'t>(
    form: &mut Form,
    section: &Section<'t>,
    key: &str,
    what: &str,
) -> Option<(String, &'t Value<'t>)> {
    let Some(value) = form.get(section, key) else {
        form.needed(section, key, what, "\"profile.csv\"");
        return None;
    };
    form.text(section, key).map(|name| (name, value))
}
