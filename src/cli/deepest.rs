//! `rimproof deepest`: how deep the grooves may be cut, check by check.

use super::files::{check_target, write_fault, write_whole};
use super::reading::{SurveyGiven, judged};
use super::{NO_ANSWER, terminal};
use crate::report::{deepest_exit_code, deepest_json, deepest_page};
use crate::study::deepest;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Find the deepest cut at which every check still holds, and what ends there.
///
/// Every check gets its own limit: wall, strength, diameters, traction, room for the grooves. The answer is
/// confirmed by a whole check at that depth. Beside it: the shallowest cut that cleans the worst groove, what is
/// left for further cuts, the wall that the load needs, and the strength that the wall needs. Depths are rounded
/// to the careful side. It takes as long as some twenty checks.
///
/// Ends with exit code 0 when a cut is open, 1 when none is or a code rejects every depth, 3 when something
/// stays undecided at every depth, and 2 when the survey is faulty or not covered.
#[derive(Args)]
pub(crate) struct DeepestArgs {
    #[command(flatten)]
    given: SurveyGiven,
    /// Write the whole answer as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

pub(crate) fn run(args: &DeepestArgs) -> ExitCode {
    match answer(args) {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Searches; an error is the text for the user.
fn answer(args: &DeepestArgs) -> Result<u8, String> {
    let read = judged(&args.given.survey, &args.given.set);
    let target = args.json.as_ref().map_or(Ok(()), |path| check_target(path, "--json"));
    let judged = match (read, target) {
        (Ok(judged), Ok(())) => judged,
        (read, target) => return Err(read.err().into_iter().chain(target.err()).collect()),
    };
    eprint!("{}", judged.warnings());
    let progress = terminal::Progress::new("the depths that are open");
    let found = deepest(&judged.survey, &|doing| progress.tell(doing));
    progress.clear();
    let found = found.map_err(|fault| judged.placed(&fault))?;
    if let Some(path) = &args.json {
        let text = deepest_json(&judged.survey, &found, &judged.input).map_err(|fault| {
            format!("error: the result cannot be written as JSON: {fault}. (deepest/json)\n")
        })?;
        write_whole(path, text.as_bytes()).map_err(|fault| write_fault(path, &fault))?;
    }
    let page = deepest_page(&judged.survey, &found, &judged.input, terminal::colour(), terminal::width());
    print!("{page}");
    Ok(deepest_exit_code(&found))
}
