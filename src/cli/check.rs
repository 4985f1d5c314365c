//! `rimproof check`: from a survey file to a verdict, its page and its files.

use super::files::{check_folder, check_target, write_fault, write_whole};
use super::reading::{Judged, SurveyGiven, judged};
use super::shop::ShopArgs;
use super::trace::Stages;
use super::what_if::what_if;
use super::{NO_ANSWER, PaperSize, terminal};
use crate::geometry::Point;
use crate::manual::{Citation, citations, used_by_check, used_by_report};
use crate::problem::{Extras, Probe, Search, write};
use crate::report::vtk::{Limits, VtkFault, section_vtu, turn_files, wheel_vtu};
use crate::report::{
    CheckDocument, CheckedPair, Input, Paper, ReportBasis, check_html, check_json, check_page, check_pdf,
    double_part, exit_code, pair_html, pair_pdf, sheave_line, usual_paper, what_if_part,
};
use crate::study::double_wrap::{self as study, check_any};
use crate::study::{Asked, Outcome};
use crate::survey::{Survey, values};
use crate::units::{Kind, parse};
use clap::Args;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Judge the sheave of a survey: may be cut as stated, may stay as it is, reject, or undecided.
///
/// Every station's section is solved by finite elements under the rope loads; the highest tension
/// anywhere in rim and web is compared with the iron's strength, the wall with the rope, and the
/// diameters, traction and pressures with their rules. The page says what decided and what is assumed.
///
/// With --set the page shows old beside new. Of a double wrap both sheaves are judged, under every tension
/// between the passes, and the worse word is the answer; the report tells of both, --csv has a folder for each, and
/// a second machining sheet or drawing gets the ending _secondary.
///
/// A favourable answer ends with exit code 0, REJECT with 1, UNDECIDED with 3. A faulty survey, or a
/// sheave that is not covered, ends with 2: every fault is named with its line and nothing is written.
#[derive(Args)]
pub(crate) struct CheckArgs {
    #[command(flatten)]
    given: SurveyGiven,
    /// Write the whole result as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
    /// Write the report as one page of HTML that needs nothing else: the verdict on one page, with the section drawn
    /// to scale, and behind it everything that it rests on. Prints on paper as well.
    #[arg(long, value_name = "FILE")]
    report: Option<PathBuf>,
    /// Write the same report as a PDF.
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
    /// Paper of --report, --pdf and --machining: letter for a survey in inches, A4 for all others, when not given.
    #[arg(long, value_name = "SIZE", value_enum)]
    paper: Option<PaperSize>,
    #[command(flatten)]
    shop: ShopArgs,
    /// Write the elastic model of the governing section, so that `rimproof solve` or another program can
    /// solve it again. Of a double wrap the drive sheave's.
    #[arg(long, value_name = "FILE")]
    model: Option<PathBuf>,
    /// Write VTK files for a viewer into this folder: the governing section at the angle of the highest
    /// tension, and the whole wheel. Of a double wrap the secondary sheave's lie in a folder of their own in it.
    #[arg(long, value_name = "DIR")]
    vtk: Option<PathBuf>,
    /// A further section for --vtk at this angle, counted from the middle of the wrap and positive towards
    /// the light side, for instance "20 deg". May be repeated.
    #[arg(long, value_name = "ANGLE", requires = "vtk", allow_hyphen_values = true)]
    vtk_angle: Vec<String>,
    /// Sectors into which --vtk divides the whole wheel; more draw it finer.
    #[arg(long, value_name = "N", default_value_t = 72, requires = "vtk",
          value_parser = clap::value_parser!(u16).range(6..=720))]
    vtk_sectors: u16,
    /// Also one turn of the wheel as a time-like series for --vtk: turn.pvd and the governing section at this many
    /// even angles.
    #[arg(long, value_name = "N", requires = "vtk", value_parser = clap::value_parser!(u16).range(2..=720))]
    vtk_turn: Option<u16>,
    /// Also tell how deep a surface crack would have to be at this place of the section's surface to reach the
    /// iron's toughness: r from the shaft's axis, z along the shaft from the middle of the rim, for instance
    /// "315 mm, -12 mm". May be repeated. A visible crack takes the wheel out of service, whatever the numbers.
    #[arg(long, value_name = "R, Z", allow_hyphen_values = true)]
    flaw_at: Vec<String>,
    /// Show also how the tension changes under other assumptions about the ropes' creep.
    #[arg(long)]
    variants: bool,
    /// Print only the verdict and its reason.
    #[arg(long)]
    brief: bool,
    /// Print also how long every stage of the work took.
    #[arg(long)]
    trace: bool,
}

/// The paper that was asked for, else the one that goes with the survey's units.
fn paper_of(asked: Option<PaperSize>, survey: &Survey) -> Paper {
    asked.map_or_else(|| usual_paper(survey), PaperSize::paper)
}

pub(crate) fn run(args: &CheckArgs) -> ExitCode {
    match answer(args) {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Runs the check; an error is the text for the user.
fn answer(args: &CheckArgs) -> Result<u8, String> {
    // Everything that would stop the check is told at once, before anything is computed.
    let read = judged(&args.given.survey, &args.given.set);
    let (angles, flaws, targets) = (vtk_angles(args), flaw_places(args), targets(args));
    let (judged, angles, flaw_at) = match (read, angles, flaws, targets.is_empty()) {
        (Ok(judged), Ok(angles), Ok(flaw_at), true) => (judged, angles, flaw_at),
        (read, angles, flaws, _) => {
            let options = [angles.err(), flaws.err()];
            return Err(read.err().into_iter().chain(targets).chain(options.into_iter().flatten()).collect());
        }
    };
    if judged.survey.double_wrap.is_some() {
        args.shop.pair_targets()?;
    }
    eprint!("{}", judged.warnings());
    let (survey, input) = (&judged.survey, &judged.input);
    let stages = args.trace.then(Stages::listen);
    const FIRST: &str = "sections at every place around the rim";
    let progress = terminal::Progress::new(FIRST);
    let tell = |doing: &str| {
        progress.tell(doing);
        if let Some((stages, _)) = &stages {
            stages.step(doing);
        }
    };
    tell(FIRST);
    let asked = Asked { variants: args.variants, flaw_at, ..Asked::default() };
    let checked = check_any(survey, &asked, &tell);
    tell("page and files");
    progress.clear();
    let checked = checked.map_err(|fault| judged.placed(&fault))?;
    let what_if = (!input.set.is_empty()).then(|| what_if(&judged, &args.given.survey, &checked, &progress));
    let proof = citations(&used_by_check(survey, &checked.outcome));
    let what_if = what_if.as_ref();
    let document = CheckDocument { survey, checked: &checked, citations: &proof, input, what_if };
    let values = values(&judged.bytes);
    let cited = citations(&used_by_report(survey, &checked.outcome));
    let outcome = &checked.outcome;
    let judged_survey = &checked.survey;
    let report = ReportBasis { survey: judged_survey, outcome, citations: &cited, input, values: &values };
    let other = secondary_parts(&judged, &checked);
    let report = match &checked.double {
        None => Report::One(report),
        Some(double) => {
            let secondary = other.as_ref().map(SecondaryParts::basis);
            Report::Pair(CheckedPair { drive: report, secondary, double: &double.result })
        }
    };
    let paper = paper_of(args.paper, survey);
    let (shop, told) = match &report {
        Report::One(report) => args.shop.files(report, paper)?,
        Report::Pair(pair) => args.shop.pair_files(pair, paper)?,
    };
    let files = files(args, &document, &report, paper, &angles)?;
    for (path, bytes) in files.into_iter().chain(shop) {
        write_whole(&path, &bytes).map_err(|fault| write_fault(&path, &fault))?;
    }
    eprint!("{told}");
    let (colour, width) = (terminal::colour(), terminal::width());
    if args.brief {
        let verdict = checked.verdict();
        println!("{}: {}", verdict.word.text(), verdict.reason);
        if let Some(comparison) = what_if.and_then(|what_if| what_if.comparison.as_ref()) {
            println!("As surveyed: {}.", comparison.verdict.before.text());
        }
    } else {
        let set = what_if.map(|what_if| what_if_part(what_if, &survey.print, colour, width));
        print!("{}{}", set.unwrap_or_default(), pages(&document, colour, width));
    }
    if let Some((stages, begun)) = stages {
        eprint!("{}", stages.table(begun));
    }
    Ok(exit_code(checked.word()))
}

/// The page of a sheave; of a double wrap what both have in common, then each sheave's own page.
fn pages(document: &CheckDocument<'_>, colour: bool, width: usize) -> String {
    let CheckDocument { checked, citations: proof, input, .. } = *document;
    let page = |survey: &Survey, outcome: &Outcome, proof: &[Citation], input: &Input| {
        check_page(survey, &outcome.result, proof, input, colour, width)
    };
    let drive = page(&checked.survey, &checked.outcome, proof, input);
    let Some(double) = &checked.double else { return drive };
    let line = |secondary| sheave_line(&double.result, secondary, colour, width);
    let mut text = double_part(&checked.survey, &double.result, colour, width) + &line(false) + &drive;
    if let (Some((survey, outcome)), Some(input)) = (&double.secondary, &input.secondary) {
        let proof = citations(&used_by_check(survey, outcome));
        text += &(line(true) + &page(survey, outcome, &proof, input));
    }
    text
}

/// What the documents are made from: one sheave, or both of a double wrap.
enum Report<'a> {
    One(ReportBasis<'a>),
    Pair(CheckedPair<'a>),
}

/// What the documents tell of the secondary sheave, held for as long as they are made.
struct SecondaryParts<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    citations: Vec<Citation>,
    input: &'a Input,
    values: BTreeMap<String, String>,
}

impl SecondaryParts<'_> {
    fn basis(&self) -> ReportBasis<'_> {
        let Self { survey, outcome, citations, input, values } = self;
        ReportBasis { survey, outcome, citations, input, values }
    }
}

fn secondary_parts<'a>(judged: &'a Judged, checked: &'a study::Checked) -> Option<SecondaryParts<'a>> {
    let (survey, outcome) = checked.double.as_ref()?.secondary.as_ref()?;
    Some(SecondaryParts {
        survey,
        outcome,
        citations: citations(&used_by_report(survey, outcome)),
        input: judged.input.secondary.as_deref()?,
        values: values(judged.secondary_bytes.as_ref()?),
    })
}

/// Faults of the files and folders that are to be written.
fn targets(args: &CheckArgs) -> Vec<String> {
    let files =
        [(&args.json, "--json"), (&args.report, "--report"), (&args.pdf, "--pdf"), (&args.model, "--model")];
    let file = |(path, option): (&Option<PathBuf>, &str)| check_target(path.as_ref()?, option).err();
    let folder = args.vtk.as_ref().and_then(|path| check_folder(path, "--vtk").err());
    files.into_iter().filter_map(file).chain(folder).chain(args.shop.targets()).collect()
}

/// Every file that was asked for with its bytes: nothing is written before all of them stand.
fn files(
    args: &CheckArgs,
    document: &CheckDocument<'_>,
    report: &Report<'_>,
    paper: Paper,
    angles: &[f64],
) -> Result<Vec<(PathBuf, Vec<u8>)>, String> {
    let checked = document.checked;
    let outcome = &checked.outcome;
    let mut files = Vec::new();
    if let Some(path) = &args.json {
        let text = check_json(document).map_err(|fault| {
            format!("error: the result cannot be written as JSON: {fault}. (check/json)\n")
        })?;
        files.push((path.clone(), text.into_bytes()));
    }
    if let Some(path) = &args.report {
        let text = match report {
            Report::One(report) => check_html(report, paper),
            Report::Pair(pair) => pair_html(pair, paper),
        };
        files.push((path.clone(), text.into_bytes()));
    }
    if let Some(path) = &args.pdf {
        let bytes = match report {
            Report::One(report) => check_pdf(report, paper),
            Report::Pair(pair) => pair_pdf(pair, paper),
        };
        let bytes = bytes.map_err(|fault| format!("error: {fault}. (check/pdf)\n"))?;
        files.push((path.clone(), bytes));
    }
    if let Some(path) = &args.model {
        let search = Search { below_r_mm: Some(outcome.section.fence_radius_mm), tags: Vec::new() };
        let peak = &outcome.result.governing.peak;
        let probe = Probe {
            name: "governing place".into(),
            at: peak.at,
            theta_rad: vec![peak.theta_rad],
            case: None,
        };
        let extras = Extras { search, probes: vec![probe], ..Extras::default() };
        let text = write(&outcome.analysis.model, &extras)
            .map_err(|fault| format!("error: {fault}. (check/model)\n"))?;
        files.push((path.clone(), text.into_bytes()));
    }
    if let Some(folder) = &args.vtk {
        fields(args, folder, outcome, angles, &mut files)?;
        let secondary = checked.double.as_ref().and_then(|double| double.secondary.as_ref());
        if let Some((_, outcome)) = secondary {
            fields(args, &folder.join("secondary"), outcome, angles, &mut files)?;
        }
    }
    Ok(files)
}

/// The fields of one sheave for a viewer; their folder is made.
fn fields(
    args: &CheckArgs,
    folder: &Path,
    outcome: &Outcome,
    angles: &[f64],
    files: &mut Vec<(PathBuf, Vec<u8>)>,
) -> Result<(), String> {
    let result = &outcome.result;
    let limits = Limits {
        allowable_mpa: result.allowable_mpa,
        compressive_allowable_mpa: result.metal.compressive_mpa.map(|mpa| mpa / result.safety_factor),
    };
    let solution = &outcome.analysis.solution;
    let fault = |fault: VtkFault| format!("error: {fault}. (check/vtk)\n");
    let governing = result.governing.peak.theta_rad;
    for theta in std::iter::once(&governing).chain(angles) {
        let name = format!("section_at_{:.1}_deg.vtu", theta.to_degrees());
        files.push((folder.join(name), section_vtu(solution, 0, *theta, &limits).map_err(fault)?));
    }
    let wheel = wheel_vtu(solution, 0, usize::from(args.vtk_sectors), &limits).map_err(fault)?;
    files.push((folder.join("wheel.vtu"), wheel));
    if let Some(angles) = args.vtk_turn {
        let turn = turn_files(solution, 0, usize::from(angles), &limits).map_err(fault)?;
        files.extend(turn.into_iter().map(|(name, bytes)| (folder.join(name), bytes)));
    }
    std::fs::create_dir_all(folder).map_err(|fault| write_fault(folder, &fault))
}

/// The places asked for as surface cracks, in mm; the error is the text of every fault.
fn flaw_places(args: &CheckArgs) -> Result<Vec<Point>, String> {
    let fault = |found: String, allowed: &str, advice: &str| {
        format!("--flaw-at: error: {found}. (check/flaw-at)\n    {allowed}; {advice}\n")
    };
    let place = |text: &String| -> Result<Point, String> {
        let Some((r, z)) = text.split_once(',') else {
            let found = format!("\"{text}\" is not two lengths with a comma between them");
            return Err(fault(found, "allowed are r and z, each with its unit", "write \"315 mm, -12 mm\""));
        };
        let length = |part: &str| {
            parse(part.trim(), Kind::Length)
                .map(|quantity| quantity.value)
                .map_err(|f| fault(f.found, &f.allowed, &f.advice))
        };
        match (length(r), length(z)) {
            (Ok(r), Ok(z)) => Ok(Point::new(r, z)),
            (r, z) => Err([r.err(), z.err()].into_iter().flatten().collect()),
        }
    };
    let (places, faults): (Vec<_>, Vec<_>) = args.flaw_at.iter().map(place).partition(Result::is_ok);
    let faults: String = faults.into_iter().filter_map(Result::err).collect();
    if faults.is_empty() { Ok(places.into_iter().filter_map(Result::ok).collect()) } else { Err(faults) }
}

/// The further angles asked for, in rad.
fn vtk_angles(args: &CheckArgs) -> Result<Vec<f64>, String> {
    let angle = |text: &String| {
        parse(text, Kind::Angle).map(|quantity| quantity.value).map_err(|fault| {
            format!(
                "--vtk-angle: error: {}. (check/vtk-angle)\n    {}; {}\n",
                fault.found, fault.allowed, fault.advice
            )
        })
    };
    args.vtk_angle.iter().map(angle).collect()
}
