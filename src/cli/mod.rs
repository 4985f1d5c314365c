//! Arguments, files, progress, exit codes: the only room that opens files.
//!
//! Exit codes: 0 favourable (or done), 1 reject, 2 bad input or not covered, 3 undecided.

mod check;
mod compare;
mod deepest;
mod doubt;
mod files;
mod grooves;
mod reading;
mod shop;
mod solve;
mod survey;
mod terminal;
mod trace;
mod verify;
mod what_if;
mod wraps;

use crate::report::Paper;
use clap::{Parser, Subcommand, ValueEnum};
use std::process::ExitCode;

/// Exit code for input that gives no answer.
pub(crate) const NO_ANSWER: u8 = 2;

/// Sizes of paper by their names on the command line.
#[derive(Clone, Copy, ValueEnum)]
pub(crate) enum PaperSize {
    A4,
    Letter,
}

impl PaperSize {
    pub(crate) fn paper(self) -> Paper {
        match self {
            Self::A4 => Paper::A4,
            Self::Letter => Paper::Letter,
        }
    }
}

const AFTER_HELP: &str = "\
How to start:
  rimproof survey > my-sheave.toml     a blank survey, every field explained
  (fill it in beside the wheel; leave \"not measured\" where you do not know)
  rimproof survey --sheet sheet.pdf    the same to print and write on, with sketches
  rimproof check my-sheave.toml        the verdict, with its reasons
  rimproof doubt my-sheave.toml        how sure its factor is, and what would make it surer

A survey states lengths, masses and forces with their units, in inches or
millimetres: \"9/16 in\", \"14.3 mm\". Faults are named all at once, each with its
line; correct them and run the check again.

Exit codes: 0 favourable, 1 reject, 2 bad input or not covered, 3 undecided.

This is an engineering aid. The code in force, the authority having jurisdiction
and a licensed engineer decide.";

/// Decides whether a worn lift traction sheave can be cut again, may stay, or must be replaced.
#[derive(Parser)]
#[command(name = "rimproof", version, after_help = AFTER_HELP)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
    /// Threads to use; all cores when not given. The answer never depends on it.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    threads: Option<u16>,
}

/// What each command says of itself stands beside its arguments.
#[derive(Subcommand)]
enum Command {
    Survey(survey::SurveyArgs),
    Check(check::CheckArgs),
    Deepest(deepest::DeepestArgs),
    Compare(compare::CompareArgs),
    Grooves(grooves::GroovesArgs),
    Doubt(doubt::DoubtArgs),
    Wraps(wraps::WrapsArgs),
    Solve(solve::SolveArgs),
    Verify(verify::VerifyArgs),
}

/// Runs the command line.
pub fn main() -> ExitCode {
    let arguments = Arguments::parse();
    if let Some(threads) = arguments.threads {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build_global();
        if let Err(fault) = pool {
            eprintln!("rimproof: {threads} threads could not be started: {fault}");
            return ExitCode::from(NO_ANSWER);
        }
    }
    match arguments.command {
        Command::Survey(args) => survey::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Deepest(args) => deepest::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::Grooves(args) => grooves::run(&args),
        Command::Doubt(args) => doubt::run(&args),
        Command::Wraps(args) => wraps::run(&args),
        Command::Solve(args) => solve::run(&args),
        Command::Verify(args) => verify::run(&args),
    }
}
