//! `rimproof doubt`: how likely the factor is reached when the survey's values may be off.

use super::files::{check_target, write_fault, write_whole};
use super::reading::{SurveyGiven, judged};
use super::{NO_ANSWER, terminal};
use crate::manual::{citations, used_by_doubt};
use crate::report::{doubt_json, doubt_page};
use crate::study::doubt::{DoubtAsked, doubt};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Tell how likely the factor on ultimate strength is what is required, and which measurement would help most.
///
/// What may be off (wall, depths, strength, masses, spread and place of the rope tensions) is drawn at random, many
/// times over, as the survey's table [doubt] or a named stand-in says; every sample's factor comes from response
/// surfaces of the stress analysis, which are checked against full analyses in the same run. The page gives the
/// probability with its error, the factors between which most samples lie, where the doubt comes from, and what
/// would halve it. It never changes the verdict of `rimproof check`.
///
/// Exit code 0 when there is an answer, whatever it is; 2 for a faulty survey, for one without anything in doubt, or
/// where the surfaces do not follow the analyses.
#[derive(Args)]
pub(crate) struct DoubtArgs {
    #[command(flatten)]
    given: SurveyGiven,
    /// Samples to draw.
    #[arg(long, value_name = "N", default_value_t = 10_000, value_parser = clap::value_parser!(u32).range(100..=1_000_000))]
    samples: u32,
    /// Seed of the draws: the same seed gives the same answer, another one another set of samples.
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u32,
    /// Full analyses at values drawn at random that the response surfaces are checked against.
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = clap::value_parser!(u16).range(3..=1000))]
    full: u16,
    /// Write the whole answer as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

pub(crate) fn run(args: &DoubtArgs) -> ExitCode {
    match answer(args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Runs the study; an error is the text for the user.
fn answer(args: &DoubtArgs) -> Result<(), String> {
    // Everything that would stop the run is told at once, before anything is computed.
    let judged = judged(&args.given.survey, &args.given.set);
    let target = args.json.as_ref().map_or(Ok(()), |path| check_target(path, "--json"));
    let judged = match (judged, target) {
        (Ok(judged), Ok(())) => judged,
        (judged, target) => {
            return Err([judged.err(), target.err()].into_iter().flatten().collect());
        }
    };
    eprint!("{}", judged.warnings());
    let progress = terminal::Progress::new("the check of the survey as it stands");
    let asked =
        DoubtAsked { samples: args.samples as usize, seed: args.seed, full_analyses: usize::from(args.full) };
    let survey = &judged.survey;
    let result = doubt(survey, asked, &|doing| progress.tell(doing));
    progress.clear();
    let result = result.map_err(|fault| {
        judged.told(|diagnostics| fault.diagnose(&survey.print, judged.places.as_ref(), diagnostics))
    })?;
    let proof = citations(&used_by_doubt(&result));
    if let Some(path) = &args.json {
        let text = doubt_json(survey, &result, &proof, &judged.input).map_err(|fault| {
            format!("error: the result cannot be written as JSON: {fault}. (doubt/json)\n")
        })?;
        write_whole(path, text.as_bytes()).map_err(|fault| write_fault(path, &fault))?;
    }
    print!("{}", doubt_page(survey, &result, &proof, &judged.input, terminal::colour(), terminal::width()));
    Ok(())
}
