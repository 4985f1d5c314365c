//! `rimproof survey`: the blank form.

use super::{
    NO_ANSWER,
    files::{check_target, write_fault, write_whole},
};
use crate::survey::template;
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Print a blank survey: what to measure, from where, with what.
///
/// Every field has a line that explains it. Fill in what was measured and leave the rest "not measured":
/// `rimproof check` then says what it must know, what it assumes in the place of the rest, and what stays
/// open. Fields that do not belong to this sheave (a V's root, a second web) may stay or be deleted.
#[derive(Args)]
pub(crate) struct SurveyArgs {
    /// Write it to this file instead of the screen; an existing file is kept.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

pub(crate) fn run(args: &SurveyArgs) -> ExitCode {
    let Some(path) = &args.out else {
        print!("{}", template());
        return ExitCode::SUCCESS;
    };
    match deliver(path) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

fn deliver(path: &Path) -> Result<(), String> {
    check_target(path, "--out")?;
    if path.exists() {
        return Err(format!(
            "{}: error: This file exists already and is kept. (file/write)\n    name another file for --out\n",
            path.display()
        ));
    }
    write_whole(path, template().as_bytes()).map_err(|fault| write_fault(path, &fault))
}
