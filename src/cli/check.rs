//! `rimproof check`: from a survey file to a verdict, its page and its files.

use super::files::{Disk, write_whole};
use super::{NO_ANSWER, terminal};
use crate::report::{Input, check_json, check_page, exit_code};
use crate::study::{Asked, Outcome, check};
use crate::survey::{Survey, read};
use clap::Args;
use sha2::{Digest, Sha256};
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Judge the sheave of a survey: may be cut as stated, may stay as it is, reject, or undecided.
///
/// Every station's section is solved by finite elements under the rope loads; the highest tension
/// anywhere in rim and web is compared with the iron's strength, the wall with the rope, and the
/// diameters, traction and pressures with their rules. The page says what decided and what is assumed.
#[derive(Args)]
pub(crate) struct CheckArgs {
    /// The filled-in survey (see `rimproof survey`).
    #[arg(value_name = "SURVEY")]
    survey: PathBuf,
    /// Write the whole result as JSON, every number with its unit.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
    /// Solve the governing section under other assumptions about rope creep too.
    #[arg(long)]
    variants: bool,
    /// Print only the verdict and its reason.
    #[arg(long)]
    brief: bool,
}

pub(crate) fn run(args: &CheckArgs) -> ExitCode {
    match answer(args) {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprint!("{message}");
            if !message.ends_with('\n') {
                eprintln!();
            }
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Runs the check; an error is the text for the user.
fn answer(args: &CheckArgs) -> Result<u8, String> {
    let name = args.survey.display();
    let bytes = std::fs::read(&args.survey)
        .map_err(|fault| format!("rimproof: {name} could not be read: {fault}."))?;
    let survey = survey_of(&bytes, &args.survey)?;
    let input = Input {
        file: args.survey.file_name().map_or_else(|| name.to_string(), |f| f.to_string_lossy().into_owned()),
        sha256: Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect(),
    };
    let progress = terminal::Progress::new();
    let asked = Asked { variants: args.variants };
    let outcome =
        check(&survey, asked, &|doing| progress.tell(doing)).map_err(|fault| format!("{name}: {fault}"))?;
    progress.clear();
    write_files(args, &survey, &outcome, &input)?;
    let colour = std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    let page = check_page(&survey, &outcome.result, &input, colour, terminal::width());
    if args.brief {
        let verdict = &outcome.result.verdict;
        println!("{}: {}", verdict.word.text(), verdict.reason);
    } else {
        print!("{page}");
    }
    Ok(exit_code(outcome.result.verdict.word))
}

/// Reads a survey; warnings go to the error stream, errors become the message.
fn survey_of(bytes: &[u8], path: &Path) -> Result<Survey, String> {
    let reading = read(bytes, path, &Disk);
    let text = if reading.diagnostics.is_empty() {
        String::new()
    } else {
        reading.diagnostics.render(terminal::look())
    };
    match reading.survey {
        Some(survey) => {
            eprint!("{text}");
            Ok(survey)
        }
        None => Err(text),
    }
}

fn write_files(args: &CheckArgs, survey: &Survey, outcome: &Outcome, input: &Input) -> Result<(), String> {
    let written = |path: &Path, bytes: &[u8]| {
        write_whole(path, bytes)
            .map_err(|fault| format!("rimproof: {} could not be written: {fault}.", path.display()))
    };
    if let Some(path) = &args.json {
        let text = check_json(survey, &outcome.result, input)
            .map_err(|fault| format!("rimproof: JSON: {fault}."))?;
        written(path, text.as_bytes())?;
    }
    Ok(())
}
