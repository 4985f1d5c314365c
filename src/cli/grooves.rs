//! `rimproof grooves`: groove shapes side by side on one worn wheel, and the best of them.

use super::files::{check_target, write_fault, write_whole};
use super::reading::{SurveyGiven, judged};
use super::{NO_ANSWER, terminal};
use crate::report::{grooves_csv, grooves_exit_code, grooves_json, grooves_page};
use crate::study::grooves::compare_grooves;
use crate::survey::Survey;
use crate::units::{Kind, parse};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Set groove shapes side by side on the worn wheel of a survey, and find the best shape and depth.
///
/// Round, undercut and V grooves are cut to one finished pitch diameter, and each is judged by the full
/// check: wall, tension with its error bar, traction in every case, pressure, rope life. Then depths are
/// searched for the cut with the most stress reserve that meets every check, and for what more traction
/// would cost.
///
/// A best cut that meets every check ends with exit code 0; 3 says that something is open, 1 that no shape
/// can be cut as the rules want it, 2 that the survey is faulty.
#[derive(Args)]
pub(crate) struct GroovesArgs {
    #[command(flatten)]
    given: SurveyGiven,
    /// Depth of the rope's lowest point below the rim edge in the comparison, for instance "0.67 in"; the
    /// survey's own cut when not given.
    #[arg(long, value_name = "LENGTH")]
    depth: Option<String>,
    /// Write everything as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
    /// Write a row for every cut as CSV, units in the heads.
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
}

pub(crate) fn run(args: &GroovesArgs) -> ExitCode {
    match answer(args) {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Runs the comparison; an error is the text for the user.
fn answer(args: &GroovesArgs) -> Result<u8, String> {
    // Everything that would stop the work is told at once, before anything is computed.
    let judged = judged(&args.given.survey, &args.given.set);
    let depth = depth(args, judged.as_ref().ok().map(|judged| &judged.survey));
    let target = |path: &Option<PathBuf>, option| path.as_ref().map(|path| check_target(path, option));
    let targets = [target(&args.json, "--json"), target(&args.csv, "--csv")];
    let refused: Vec<String> = targets.into_iter().flatten().filter_map(Result::err).collect();
    let (judged, depth) = match (judged, depth, refused.is_empty()) {
        (Ok(judged), Ok(depth), true) => (judged, depth),
        (judged, depth, _) => {
            return Err([judged.err(), depth.err()].into_iter().flatten().chain(refused).collect());
        }
    };
    eprint!("{}", judged.warnings());
    let (survey, input) = (&judged.survey, &judged.input);
    let progress = terminal::Progress::new("the worn grooves at every place around the rim");
    let study = compare_grooves(survey, depth, &|doing| progress.tell(doing));
    progress.clear();
    let study = study.map_err(|fault| judged.placed(&fault))?;
    let mut files = Vec::new();
    if let Some(path) = &args.json {
        let text = grooves_json(survey, &study, input).map_err(|fault| {
            format!("error: the result cannot be written as JSON: {fault}. (grooves/json)\n")
        })?;
        files.push((path, text.into_bytes()));
    }
    if let Some(path) = &args.csv {
        let bytes = grooves_csv(&study).map_err(|fault| {
            format!("error: the result cannot be written as CSV: {fault}. (grooves/csv)\n")
        })?;
        files.push((path, bytes));
    }
    for (path, bytes) in files {
        write_whole(path, &bytes).map_err(|fault| write_fault(path, &fault))?;
    }
    print!("{}", grooves_page(survey, &study, input, terminal::colour(), terminal::width()));
    Ok(grooves_exit_code(&study))
}

/// The depth asked for, in mm: no shallower than the worst groove.
fn depth(args: &GroovesArgs, survey: Option<&Survey>) -> Result<Option<f64>, String> {
    let Some(text) = &args.depth else { return Ok(None) };
    let quantity = parse(text, Kind::Length).map_err(|fault| {
        format!("--depth: error: {}. (grooves/depth)\n    {}; {}\n", fault.found, fault.allowed, fault.advice)
    })?;
    let Some(survey) = survey else { return Ok(Some(quantity.value)) };
    let worst = survey.grooves.seat_depth_mm.iter().fold(0.0, |a: f64, b| a.max(*b));
    let show = |mm: f64| survey.print.show(Kind::Length, mm);
    if quantity.value < worst - 1e-9 {
        return Err(format!(
            "--depth: error: A cut to {} is shallower than the worst groove, which is {} deep already. (grooves/depth)\n    ask for at least that depth, with a clean-up of about 1/16 in (1.6 mm)\n",
            show(quantity.value),
            show(worst)
        ));
    }
    if quantity.value >= survey.rim.edge_radius_mm {
        return Err(format!(
            "--depth: error: A cut to {} goes beyond the shaft's axis: the rim edge lies at a radius of {}. (grooves/depth)\n    check the unit of the depth\n",
            show(quantity.value),
            show(survey.rim.edge_radius_mm)
        ));
    }
    Ok(Some(quantity.value))
}
