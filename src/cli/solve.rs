//! `rimproof solve`: an explicit model in, a page and a JSON file out.
//!
//! Owns the command's arguments, its messages and exit codes. Lacks the solving: see `problem`.

mod page;

use super::files::write_whole;
use crate::diagnostics::{Diagnostics, Fault, Look};
use crate::elastic::ElasticFault;
use crate::mesh::MeshFault;
use crate::problem::{Answer, Problem, read};
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The input is faulty, or there is no solution.
const NO_ANSWER: u8 = 2;

/// Solves an explicit elastic problem of a body of revolution.
#[derive(Debug, Clone, clap::Args)]
pub struct SolveArgs {
    /// The model file (TOML)
    pub model: PathBuf,
    /// Write the answer as JSON to this file; `-` writes it to standard output instead of the page
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Print no page
    #[arg(long)]
    pub quiet: bool,
}

/// Runs the command: 0 when solved, 2 when the input is faulty or there is no solution.
pub fn run(args: &SolveArgs) -> ExitCode {
    match answer(args).and_then(|answer| deliver(args, &answer)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            // Nothing is left to be done when even the message cannot be written.
            let _ = io::stderr().write_all(message.as_bytes());
            ExitCode::from(NO_ANSWER)
        }
    }
}

fn answer(args: &SolveArgs) -> Result<Answer, String> {
    let bytes = std::fs::read(&args.model).map_err(|why| file_fault("read", &args.model, &why))?;
    let reading = read(&bytes, &args.model);
    let shown = render(&reading.diagnostics);
    let Some(problem) = reading.problem else {
        return Err(shown);
    };
    if !shown.is_empty() {
        let _ = io::stderr().write_all(shown.as_bytes());
    }
    Answer::new(&problem).map_err(|fault| format!("{}\n", explain(&fault, &problem)))
}

fn deliver(args: &SolveArgs, answer: &Answer) -> Result<(), String> {
    let to_screen = args.json.as_deref() == Some(Path::new("-"));
    if args.json.is_some() {
        let mut json = serde_json::to_vec_pretty(answer)
            .map_err(|why| format!("error: the answer cannot be written as JSON: {why} (solve/json)\n"))?;
        json.push(b'\n');
        match &args.json {
            Some(path) if !to_screen => {
                write_whole(path, &json).map_err(|why| file_fault("written", path, &why))?;
            }
            _ => print(&json)?,
        }
    }
    if to_screen || args.quiet { Ok(()) } else { print(page::page(answer).as_bytes()) }
}

fn print(bytes: &[u8]) -> Result<(), String> {
    let mut out = io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        // A reader that has seen enough is no fault.
        Err(why) if why.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("error: standard output cannot be written: {why} (solve/output)\n"))
        }
        _ => Ok(()),
    }
}

fn render(diagnostics: &Diagnostics) -> String {
    let look = if io::stderr().is_terminal() {
        Look::Snippets { colour: std::env::var_os("NO_COLOR").is_none(), width: 100 }
    } else {
        Look::Plain
    };
    diagnostics.render(look)
}

fn file_fault(done: &str, path: &Path, why: &io::Error) -> String {
    format!("error: {} cannot be {done}: {why} (solve/file)\n", path.display())
}

/// A numerical failure with what to do about it.
fn explain(fault: &ElasticFault, problem: &Problem) -> Fault {
    let series = &problem.extras.series;
    let (code, help) = match fault {
        ElasticFault::Mesh(MeshFault::TooLarge { .. }) => {
            ("solve/mesh", "ask for larger sizes in [mesh]".to_owned())
        }
        ElasticFault::Mesh(_) => {
            ("solve/mesh", "correct the outline there, or ask for a smaller size at that point".to_owned())
        }
        ElasticFault::Material(_) => ("solve/material", "correct [material]".to_owned()),
        ElasticFault::UnknownTag { .. } => ("solve/unknown-tag", "correct the tag".to_owned()),
        ElasticFault::NoBearing { .. } => {
            ("solve/no-bearing", "check the tags of the rope, and on which side its centre lies".to_owned())
        }
        ElasticFault::Free { .. } => {
            ("solve/free", "hold that motion with a [[support]], or balance the loads".to_owned())
        }
        ElasticFault::Factor { .. } => ("solve/factor", "check supports and outline".to_owned()),
        ElasticFault::Residual { .. } | ElasticFault::NotFinite { .. } => {
            ("solve/number", "check the sizes of loads, moduli and coordinates".to_owned())
        }
        ElasticFault::Harmonics { .. } => (
            "solve/series",
            format!(
                "raise series.most ({}) or series.tolerance ({}), give the load a run-in, or leave its edge out of the search",
                series.most, series.tolerance
            ),
        ),
        ElasticFault::Imbalance { .. } => {
            ("solve/imbalance", "check units and sizes of the loads".to_owned())
        }
        ElasticFault::NothingToSearch => {
            ("solve/nothing-to-search", "widen [search]: lower below_r_mm, or name more tags".to_owned())
        }
    };
    Fault { code, message: format!("error: {fault}."), causes: Vec::new(), help }
}
