//! `rimproof survey`: the blank form, to type into or to write on.

use super::{
    NO_ANSWER, PaperSize,
    files::{check_target, write_fault, write_whole},
};
use crate::report::{Paper, SheetAsked, SheetUnits, measuring_pdf};
use crate::survey::template;
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Print a blank survey: what to measure, from where, with what.
///
/// Every field has a line that explains it. Fill in what was measured and leave the rest "not measured":
/// `rimproof check` then says what it must know, what it assumes in the place of the rest, and what stays
/// open. Fields that do not belong to this sheave (a V's root, a second web) may stay or be deleted.
///
/// With --sheet a measuring sheet is written for the work beside the wheel: a sketch for every step with the
/// asked dimensions, room for every field of the survey, a row for each groove and a column for each station.
#[derive(Args)]
pub(crate) struct SurveyArgs {
    /// Write the survey to this file instead of the screen; an existing file is kept.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Write a blank measuring sheet to print, as a PDF; an older file of that name is replaced.
    #[arg(long, value_name = "FILE", conflicts_with = "out")]
    sheet: Option<PathBuf>,
    /// Ropes, and so the rows by groove and by rope, of --sheet.
    #[arg(long, value_name = "N", default_value_t = 5, requires = "sheet",
          value_parser = clap::value_parser!(u16).range(1..=24))]
    ropes: u16,
    /// Stations around the rim, and so the columns of the wall map, of --sheet.
    #[arg(long, value_name = "N", default_value_t = 6, requires = "sheet",
          value_parser = clap::value_parser!(u16).range(1..=24))]
    stations: u16,
    /// Units printed on --sheet.
    #[arg(long, value_name = "SYSTEM", value_enum, default_value_t = Units::Metric, requires = "sheet")]
    units: Units,
    /// Paper of --sheet: letter with inches, A4 else, when not given.
    #[arg(long, value_name = "SIZE", value_enum, requires = "sheet")]
    paper: Option<PaperSize>,
}

/// Systems of units by their names on the command line.
#[derive(Clone, Copy, PartialEq, ValueEnum)]
enum Units {
    Inch,
    Metric,
}

pub(crate) fn run(args: &SurveyArgs) -> ExitCode {
    let done = match (&args.out, &args.sheet) {
        (None, None) => {
            print!("{}", template());
            Ok(())
        }
        (Some(path), _) => deliver(path),
        (None, Some(path)) => sheet(args, path),
    };
    match done {
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

fn sheet(args: &SurveyArgs, path: &Path) -> Result<(), String> {
    check_target(path, "--sheet")?;
    let (units, usual) = match args.units {
        Units::Inch => (SheetUnits::Inch, Paper::Letter),
        Units::Metric => (SheetUnits::Metric, Paper::A4),
    };
    let asked = SheetAsked { ropes: args.ropes.into(), stations: args.stations.into(), units };
    let bytes = measuring_pdf(&asked, args.paper.map_or(usual, PaperSize::paper))
        .map_err(|fault| format!("error: {fault}. (survey/sheet)\n"))?;
    write_whole(path, &bytes).map_err(|fault| write_fault(path, &fault))
}
