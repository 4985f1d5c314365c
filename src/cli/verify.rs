//! `rimproof verify`: the verification manual, rerun on this machine by this program.
//!
//! Owns the command's arguments, its messages and exit codes. Lacks the cases: see `manual`.

use super::NO_ANSWER;
use super::terminal::{self, Progress};
use crate::manual::{Case, Entry, catalogue, run as run_case};
use crate::report::manual_page;
use rayon::prelude::*;
use std::process::ExitCode;

/// Rerun the verification manual: problems with published answers, solved by this very program.
///
/// Exit code 0 when every value lies within its tolerance, 1 when any does not.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct VerifyArgs {
    /// Names of cases; all of them when none is given.
    pub names: Vec<String>,
    /// List the cases instead of running them.
    #[arg(long)]
    pub list: bool,
}

pub(crate) fn run(args: &VerifyArgs) -> ExitCode {
    let cases = match chosen(&args.names) {
        Ok(cases) => cases,
        Err(message) => {
            eprint!("{message}");
            return ExitCode::from(NO_ANSWER);
        }
    };
    if args.list {
        for case in cases {
            println!("{:28} {}", case.name, case.title);
        }
        return ExitCode::SUCCESS;
    }
    let progress = Progress::new();
    progress.tell("running the manual");
    let entries: Vec<Entry> = cases.par_iter().map(|case| run_case(case)).collect();
    progress.clear();
    print!("{}", manual_page(&entries, terminal::width()));
    if entries.iter().all(Entry::holds) { ExitCode::SUCCESS } else { ExitCode::from(1) }
}

/// The cases with these names, in the order of the manual.
fn chosen(names: &[String]) -> Result<Vec<&'static Case>, String> {
    let all = catalogue();
    let unknown: Vec<&String> =
        names.iter().filter(|name| all.iter().all(|case| case.name != **name)).collect();
    if !unknown.is_empty() {
        let known: Vec<&str> = all.iter().map(|case| case.name).collect();
        let mut message = String::new();
        for name in unknown {
            let near = crate::document::closest(name, &known);
            let hint = near.map_or_else(String::new, |near| format!("did you mean '{near}'? "));
            message += &format!(
                "error: there is no case '{name}' in the manual. (verify/unknown-case)\n    {hint}`rimproof verify --list` names them all\n"
            );
        }
        return Err(message);
    }
    Ok(all
        .into_iter()
        .filter(|case| names.is_empty() || names.iter().any(|name| name == case.name))
        .collect())
}
