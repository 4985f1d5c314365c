//! The program: its commands and their exit codes.

use clap::{Parser, Subcommand};
use rimproof::cli::solve;
use std::process::ExitCode;

/// Decides whether a worn lift traction sheave can be cut again.
#[derive(Debug, Parser)]
#[command(version)]
struct Program {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Solve(solve::SolveArgs),
}

fn main() -> ExitCode {
    match Program::parse().command {
        Command::Solve(args) => solve::run(&args),
    }
}
