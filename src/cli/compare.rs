//! `rimproof compare`: two surveys side by side, what they say and what a check finds.

use super::files::{Disk, check_target, write_fault, write_whole};
use super::reading::{Judged, judged};
use super::{NO_ANSWER, terminal};
use crate::report::{compare_json, compare_page};
use crate::study::Asked;
use crate::study::double_wrap::{Checked, check_any};
use crate::survey::differences;
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Set two surveys side by side: what they say differently, and what a check finds for each.
///
/// Both sheaves are judged as `rimproof check` does. Values are compared by what they mean: the same length in
/// another unit is no difference. A difference of stresses that lies within the error bars is marked as such.
///
/// Ends with exit code 0 whatever the verdicts are, and with 2 when a survey is faulty or not covered.
#[derive(Args)]
pub(crate) struct CompareArgs {
    /// The survey to compare with, for instance last year's.
    #[arg(value_name = "OLD")]
    old: PathBuf,
    /// The survey to compare.
    #[arg(value_name = "NEW")]
    new: PathBuf,
    /// Write differences and outcomes as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

pub(crate) fn run(args: &CompareArgs) -> ExitCode {
    match answer(args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Compares; an error is the text for the user.
fn answer(args: &CompareArgs) -> Result<(), String> {
    let read = [&args.old, &args.new].map(|path| judged(path, &[]));
    let target = args.json.as_ref().map_or(Ok(()), |path| check_target(path, "--json"));
    let (old, new) = match (read, target) {
        ([Ok(old), Ok(new)], Ok(())) => (old, new),
        (read, target) => {
            let faults = read.into_iter().filter_map(Result::err).chain(target.err());
            return Err(faults.collect());
        }
    };
    eprint!("{}{}", old.warnings(), new.warnings());
    let results = [checked(&old, "the old survey"), checked(&new, "the new survey")];
    let [before, after] = match results {
        [Ok(before), Ok(after)] => [before, after],
        results => return Err(results.into_iter().filter_map(Result::err).collect()),
    };
    let folder = |path: &Path| path.parent().unwrap_or(Path::new("")).to_owned();
    let (from, to) = (folder(&args.old), folder(&args.new));
    let list = differences((&old.bytes, &from), (&new.bytes, &to), &Disk);
    let comparison = Checked::compared(&before, &after);
    let inputs = [&old.input, &new.input];
    if let Some(path) = &args.json {
        let text = compare_json(inputs, &list, &comparison, [&before.outcome.result, &after.outcome.result])
            .map_err(|fault| {
                format!("error: the comparison cannot be written as JSON: {fault}. (compare/json)\n")
            })?;
        write_whole(path, text.as_bytes()).map_err(|fault| write_fault(path, &fault))?;
    }
    let page =
        compare_page(inputs, &list, &comparison, &new.survey.print, terminal::colour(), terminal::width());
    print!("{page}");
    Ok(())
}

fn checked(judged: &Judged, which: &str) -> Result<Checked, String> {
    let progress = terminal::Progress::new("the first survey");
    let asked = Asked { judged_only: true, ..Asked::default() };
    let checked = check_any(&judged.survey, &asked, &|doing| progress.tell(&format!("{which}: {doing}")));
    progress.clear();
    checked.map_err(|fault| judged.placed(&fault))
}
