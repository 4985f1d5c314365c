//! `rimproof solve`: an explicit model in, a page and a JSON file out.
//!
//! Owns the command's arguments, its messages and exit codes. Lacks the solving: see `problem`.

use super::NO_ANSWER;
use super::files::{check_target, read_input, write_fault, write_whole};
use super::reading::input;
use super::terminal::{self, Progress};
use crate::diagnostics::Fault;
use crate::elastic::ElasticFault;
use crate::manual::{Citation, citations, used_by_model};
use crate::mesh::MeshFault;
use crate::problem::{Answer, Problem, read};
use crate::report::{Input, solve_json, solve_page};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Solve an explicit elastic problem of a body of revolution.
///
/// The model file draws the section, names its edges and puts material, supports and loads on them; the
/// answer has the balance of forces, the highest tension and its place, and the values at every probe.
/// The manual lists all tables and keys; `meshes/model_tube.toml` is a short example, and
/// `rimproof check --model FILE` writes the model of a sheave.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct SolveArgs {
    /// The model file (TOML).
    pub model: PathBuf,
    /// Write the answer as JSON to this file; `-` writes it to standard output instead of the page.
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Solve on three more meshes, halved at every corner or end of a support whose elastic stress has no
    /// finite value, and show how the stress grows there beside what theory says.
    #[arg(long)]
    pub growth: bool,
    /// Print no page.
    #[arg(long)]
    pub quiet: bool,
}

/// Runs the command: 0 when solved, 2 when the input is faulty or there is no solution.
pub(crate) fn run(args: &SolveArgs) -> ExitCode {
    match answer(args).and_then(|(answer, proof, input)| deliver(args, &answer, &proof, &input)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

fn answer(args: &SolveArgs) -> Result<(Answer, Vec<Citation>, Input), String> {
    let to_screen = args.json.as_deref() == Some(Path::new("-"));
    if let Some(path) = args.json.as_ref().filter(|_| !to_screen) {
        check_target(path, "--json")?;
    }
    let bytes = read_input(&args.model, "model file")?;
    let reading = read(&bytes, &args.model);
    let shown = if reading.diagnostics.is_empty() {
        String::new()
    } else {
        reading.diagnostics.render(terminal::look())
    };
    let Some(problem) = reading.problem else {
        return Err(shown);
    };
    eprint!("{shown}");
    let input = input(&args.model, &bytes, Vec::new());
    let progress = Progress::new("mesh, harmonics and stresses of the model");
    let solved = Answer::new(&problem).and_then(|answer| {
        if !args.growth {
            return Ok(answer);
        }
        progress.tell("finer meshes at places without a finite stress");
        answer.with_growth(&problem)
    });
    progress.clear();
    let answer = solved.map_err(|fault| format!("{}\n", explain(&fault, &problem)))?;
    Ok((answer, citations(&used_by_model(&problem.model)), input))
}

fn deliver(args: &SolveArgs, answer: &Answer, proof: &[Citation], input: &Input) -> Result<(), String> {
    let to_screen = args.json.as_deref() == Some(Path::new("-"));
    if let Some(path) = &args.json {
        let json = solve_json(answer, proof, input)
            .map_err(|why| format!("error: the answer cannot be written as JSON: {why} (solve/json)\n"))?;
        if to_screen {
            return print(&json);
        }
        write_whole(path, json.as_bytes()).map_err(|why| write_fault(path, &why))?;
    }
    if args.quiet { Ok(()) } else { print(&solve_page(answer, proof)) }
}

fn print(text: &str) -> Result<(), String> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that has seen enough is no fault.
        Err(why) if why.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("error: standard output cannot be written: {why} (solve/output)\n"))
        }
        _ => Ok(()),
    }
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
