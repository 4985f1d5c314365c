//! `rimproof verify`: the verification manual, rerun on this machine by this program.
//!
//! Owns the command's arguments, its messages and exit codes. Lacks the cases: see `manual`.

use super::NO_ANSWER;
use super::files::{check_folder, check_target, write_fault, write_whole};
use super::terminal::{self, Progress};
use crate::manual::{CAUGHT_BY, Case, Entry, catalogue, limits, run as run_case};
use crate::report::{Closing, manual_files, manual_html, manual_json, manual_page};
use rayon::prelude::*;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

/// Rerun the verification manual: problems with answers from outside, solved by this very program.
///
/// Every compared value is printed with its reference, its error, the program's own estimate of that
/// error, what is allowed and why, and the source with its standing. `--manual` writes the whole manual
/// with sketches and convergence plots.
///
/// Exit code 0 when every value lies within its tolerance, 1 when any does not, 2 for faulty arguments.
#[derive(Debug, Clone, clap::Args)]
pub(crate) struct VerifyArgs {
    /// Names of cases, as --list shows them; all of them when none is given.
    #[arg(value_name = "NAME")]
    pub names: Vec<String>,
    /// List the cases instead of running them.
    #[arg(long, conflicts_with_all = ["json", "html", "manual"])]
    pub list: bool,
    /// Write all values as JSON to this file; `-` writes them to standard output instead of the tables.
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Write the manual as one HTML page, figures included.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Write the manual into this folder: RESULTS.md, RESULTS.html and figures/. Other files there stay.
    #[arg(long, value_name = "DIR")]
    pub manual: Option<PathBuf>,
}

pub(crate) fn run(args: &VerifyArgs) -> ExitCode {
    match answer(args) {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Runs the cases; an error is the text for the user.
fn answer(args: &VerifyArgs) -> Result<u8, String> {
    let cases = chosen(&args.names);
    // Everything that would stop the run is told at once, before anything is computed.
    let mut faults = targets(args).concat();
    if let Err(unknown) = &cases {
        faults.insert_str(0, unknown);
    }
    let (Ok(cases), true) = (cases, faults.is_empty()) else { return Err(faults) };
    if args.list {
        let width = cases.iter().map(|case| case.name.len()).max().unwrap_or(0);
        let lines = cases.iter().map(|case| format!("{:width$}  {}\n", case.name, case.title));
        print(&lines.collect::<String>())?;
        return Ok(0);
    }
    let begun = Instant::now();
    let progress = Progress::counted(cases.len(), "cases of the manual");
    let done = |case: &&'static Case| {
        let entry = run_case(case);
        progress.step();
        entry
    };
    let entries: Vec<Entry> = cases.par_iter().map(done).collect();
    progress.tell("pages of the manual");
    let pages = pages(args, &entries);
    progress.clear();
    let pages = pages?;
    let json = match &args.json {
        Some(_) => Some(manual_json(&entries).map_err(|fault| {
            format!("error: the results cannot be written as JSON: {fault}. (verify/json)\n")
        })?),
        None => None,
    };
    let to_screen = args.json.as_deref() == Some(Path::new("-"));
    let mut files = pages;
    if let (Some(path), Some(text), false) = (&args.json, &json, to_screen) {
        files.push((path.clone(), text.clone()));
    }
    if let Some(folder) = &args.manual {
        let figures = folder.join("figures");
        std::fs::create_dir_all(&figures).map_err(|fault| write_fault(&figures, &fault))?;
    }
    for (path, text) in files {
        write_whole(&path, text.as_bytes()).map_err(|fault| write_fault(&path, &fault))?;
    }
    match json {
        Some(text) if to_screen => print(&text)?,
        _ => print(&manual_page(&entries, terminal::width()))?,
    }
    // The time is no part of the results: the same program prints the same results.
    eprintln!("{} cases in {:.1} s", entries.len(), begun.elapsed().as_secs_f64());
    Ok(exit_code(&entries))
}

/// 0 when every case holds, 1 otherwise.
fn exit_code(entries: &[Entry]) -> u8 {
    u8::from(!entries.iter().all(Entry::holds))
}

/// The manual's files that were asked for, with their text.
fn pages(args: &VerifyArgs, entries: &[Entry]) -> Result<Vec<(PathBuf, String)>, String> {
    if args.html.is_none() && args.manual.is_none() {
        return Ok(Vec::new());
    }
    let limits = limits()
        .map_err(|fault| format!("error: the known limits cannot be shown: {fault}. (verify/limits)\n"))?;
    let faults = CAUGHT_BY.iter().map(|(fault, case)| (fault.title().to_owned(), *case)).collect();
    let closing = Closing { limits, faults };
    let mut files = Vec::new();
    if let Some(path) = &args.html {
        files.push((path.clone(), manual_html(entries, &closing)));
    }
    if let Some(folder) = &args.manual {
        let named = manual_files(entries, &closing).into_iter();
        files.extend(named.map(|(name, text)| (folder.join(name), text)));
    }
    Ok(files)
}

/// Faults of the files and folders that are to be written.
fn targets(args: &VerifyArgs) -> Vec<String> {
    let json = args.json.as_ref().filter(|path| path.as_path() != Path::new("-"));
    let mut faults = Vec::new();
    faults.extend(json.and_then(|path| check_target(path, "--json").err()));
    faults.extend(args.html.as_ref().and_then(|path| check_target(path, "--html").err()));
    if let Some(folder) = &args.manual {
        faults.extend(check_folder(folder, "--manual").err());
        faults.extend(check_folder(&folder.join("figures"), "--manual").err());
        let pages = ["RESULTS.md", "RESULTS.html"].map(|name| folder.join(name));
        faults.extend(
            pages.iter().filter(|_| folder.is_dir()).filter_map(|path| check_target(path, "--manual").err()),
        );
    }
    faults
}

fn print(text: &str) -> Result<(), String> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that has seen enough is no fault.
        Err(why) if why.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("error: standard output cannot be written: {why}. (verify/output)\n"))
        }
        _ => Ok(()),
    }
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
