//! `rimproof survey`: the blank form.

use super::{NO_ANSWER, files::write_whole};
use crate::survey::template;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

/// Print a blank survey with every field explained.
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
    if path.exists() {
        eprintln!("rimproof: {} exists already and is kept; choose another name.", path.display());
        return ExitCode::from(NO_ANSWER);
    }
    match write_whole(path, template().as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("rimproof: {} could not be written: {fault}.", path.display());
            ExitCode::from(NO_ANSWER)
        }
    }
}
