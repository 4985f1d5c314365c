//! `rimproof wraps`: arrangements of ropes side by side, with sweeps of double wraps.

use super::files::{check_folder, check_target, write_fault, write_whole};
use super::reading::{Judged, judged};
use super::{NO_ANSWER, terminal};
use crate::report::vtk::{Limits, VtkFault, collection, section_vtu};
use crate::report::{Input, wraps_csv, wraps_json, wraps_page};
use crate::study::wraps::{Arrangement, ArrangementRow, Fields, Row, Step, Sweep, Swept, arrangement, sweep};
use crate::survey::Role;
use crate::units::{Kind, parse};
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Set arrangements of ropes side by side: single wrap, double wrap, 2:1.
///
/// Every survey is one arrangement, judged as `rimproof check` judges it; a double wrap names its secondary sheave's
/// survey itself. The page sets tensions, traction, shaft loads, pressure, stress and walls of both sheaves beside
/// each other. A sweep varies one value of every double wrap and computes tensions, shaft loads and stress anew.
///
/// Ends with exit code 0 whatever the verdicts are, and with 2 when a survey is faulty or not covered.
#[derive(Args)]
pub(crate) struct WrapsArgs {
    /// The surveys of the drive sheaves, one for each arrangement.
    #[arg(value_name = "SURVEY", required = true)]
    surveys: Vec<PathBuf>,
    /// Vary one value of the double wraps: friction, mismatch (second less first pitch diameter), first_wrap or
    /// second_wrap, for instance "friction=0.15..0.35", "mismatch=-0.4 mm..0.4 mm" or
    /// "second_wrap=150 deg..180 deg". May be repeated.
    #[arg(long, value_name = "NAME=FROM..TO")]
    sweep: Vec<String>,
    /// Values of each sweep, both ends among them.
    #[arg(long, value_name = "N", default_value_t = 7, requires = "sweep",
          value_parser = clap::value_parser!(u16).range(2..=200))]
    steps: u16,
    /// Write the sweeps as CSV: a row for every value, the unit of every column in its head.
    #[arg(long, value_name = "FILE", requires = "sweep")]
    csv: Option<PathBuf>,
    /// Write the drive sheave's governing section at every value of the sweeps into this folder, as VTK files with
    /// one collection for each sweep.
    #[arg(long, value_name = "DIR", requires = "sweep")]
    vtk: Option<PathBuf>,
    /// Write the whole comparison as JSON; the unit of every number stands in its key.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

pub(crate) fn run(args: &WrapsArgs) -> ExitCode {
    match answer(args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprint!("{message}");
            ExitCode::from(NO_ANSWER)
        }
    }
}

/// Compares; an error is the text for the user.
fn answer(args: &WrapsArgs) -> Result<(), String> {
    let read: Vec<Result<Judged, String>> = args.surveys.iter().map(|path| judged(path, &[])).collect();
    let sweeps: Vec<Result<Sweep, String>> = args.sweep.iter().map(|text| parsed(text, args.steps)).collect();
    let file =
        |path: &Option<PathBuf>, option| path.as_ref().and_then(|path| check_target(path, option).err());
    let folder = args.vtk.as_ref().and_then(|path| check_folder(path, "--vtk").err());
    let targets = [file(&args.json, "--json"), file(&args.csv, "--csv"), folder].into_iter().flatten();
    let faults: String = read
        .iter()
        .filter_map(|judged| judged.as_ref().err())
        .chain(sweeps.iter().filter_map(|sweep| sweep.as_ref().err()))
        .cloned()
        .chain(targets)
        .collect();
    let surveys: Vec<Judged> = read.into_iter().filter_map(Result::ok).collect();
    let sweeps: Vec<Sweep> = sweeps.into_iter().filter_map(Result::ok).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let others: String = surveys.iter().filter_map(not_driving).collect();
    if !others.is_empty() {
        return Err(others);
    }
    let no_double = surveys.iter().all(|judged| judged.survey.double_wrap.is_none());
    if no_double && !sweeps.is_empty() {
        return Err("--sweep: error: No survey is a double wrap, and a sweep varies double wraps. (wraps/sweep)\n    leave --sweep out, or name the survey of a double wrap\n".into());
    }
    for judged in &surveys {
        eprint!("{}", judged.warnings());
    }
    let progress = terminal::Progress::new("the first arrangement");
    let outcome = compared(&surveys, &sweeps, &progress);
    progress.clear();
    let (list, swept) = outcome?;
    let pairs: Vec<(&Input, &ArrangementRow)> =
        surveys.iter().map(|judged| &judged.input).zip(list.iter().map(|one| &one.row)).collect();
    let rows: Vec<Row> = swept.iter().flat_map(|run| run.steps.iter().map(|step| step.row.clone())).collect();
    let fault = |fault: &dyn std::fmt::Display, what: &str| {
        format!("error: the comparison cannot be written as {what}: {fault}. (wraps/write)\n")
    };
    let mut files = Vec::new();
    if let Some(path) = &args.json {
        files.push((path.clone(), wraps_json(&pairs, &rows).map_err(|f| fault(&f, "JSON"))?.into_bytes()));
    }
    if let Some(path) = &args.csv {
        files.push((path.clone(), wraps_csv(&rows).map_err(|f| fault(&f, "CSV"))?));
    }
    if let Some(folder) = &args.vtk {
        for run in &swept {
            series(folder, &surveys[run.arrangement], &list[run.arrangement], run, &mut files)?;
        }
        std::fs::create_dir_all(folder).map_err(|fault| write_fault(folder, &fault))?;
    }
    for (path, bytes) in files {
        write_whole(&path, &bytes).map_err(|fault| write_fault(&path, &fault))?;
    }
    let print = &surveys[0].survey.print;
    print!("{}", wraps_page(&pairs, &rows, print, terminal::colour(), terminal::width()));
    Ok(())
}

/// The text for a survey of a sheave that drives nothing.
fn not_driving(judged: &Judged) -> Option<String> {
    let place = &judged.input.file;
    (judged.survey.roping.role != Role::Drive).then(|| {
        format!("{place}: error: This sheave drives nothing, and arrangements are compared by their drive sheaves. (wraps/role)\n    name the drive sheave's survey; a double wrap names its secondary sheave itself\n")
    })
}

/// One sweep of one arrangement.
struct SweepRun<'a> {
    arrangement: usize,
    sweep: &'a Sweep,
    steps: Vec<Step>,
}

fn compared<'a>(
    surveys: &[Judged],
    sweeps: &'a [Sweep],
    progress: &terminal::Progress,
) -> Result<(Vec<Arrangement>, Vec<SweepRun<'a>>), String> {
    let mut list = Vec::new();
    for judged in surveys {
        let told = |doing: &str| progress.tell(&format!("{}: {doing}", judged.input.file));
        list.push(
            arrangement(&judged.survey, judged.input.file.clone(), &told)
                .map_err(|fault| judged.placed(&fault))?,
        );
    }
    let mut swept = Vec::new();
    for (index, (one, judged)) in list.iter().zip(surveys).enumerate() {
        for asked in sweeps {
            let told = |doing: &str| progress.tell(&format!("{}: {doing}", judged.input.file));
            let steps = sweep(one, asked, &told).map_err(|fault| judged.placed(&fault))?;
            if !steps.is_empty() {
                swept.push(SweepRun { arrangement: index, sweep: asked, steps });
            }
        }
    }
    Ok((list, swept))
}

/// The sections of one sweep and their collection.
fn series(
    folder: &Path,
    judged: &Judged,
    one: &Arrangement,
    run: &SweepRun<'_>,
    files: &mut Vec<(PathBuf, Vec<u8>)>,
) -> Result<(), String> {
    let result = &one.checked.outcome.result;
    let limits = Limits {
        allowable_mpa: result.allowable_mpa,
        compressive_allowable_mpa: result.metal.compressive_mpa.map(|mpa| mpa / result.safety_factor),
    };
    let fields = Fields::new(one).map_err(|fault| judged.placed(&fault))?;
    let stem =
        format!("{}_{}", Path::new(&judged.input.file).with_extension("").display(), run.sweep.swept.name());
    let mut steps = Vec::new();
    for (index, (value, step)) in run.sweep.values.iter().zip(&run.steps).enumerate() {
        let analysis = fields.of(step).map_err(|fault| judged.placed(&fault))?;
        let theta = result.governing.peak.theta_rad;
        let bytes = section_vtu(&analysis.solution, 0, theta, &limits)
            .map_err(|fault: VtkFault| format!("error: {fault}. (wraps/vtk)\n"))?;
        let name = format!("{stem}_{:03}.vtu", index + 1);
        files.push((folder.join(&name), bytes));
        steps.push((*value, name));
    }
    files.push((folder.join(format!("{stem}.pvd")), collection(&steps).into_bytes()));
    Ok(())
}

/// A sweep from its argument.
fn parsed(text: &str, steps: u16) -> Result<Sweep, String> {
    let fault =
        |found: String, allowed: &str| format!("--sweep: error: {found}. (wraps/sweep)\n    {allowed}\n");
    const EXAMPLE: &str = "write NAME=FROM..TO, for instance \"friction=0.15..0.35\", \"mismatch=-0.4 mm..0.4 mm\", \"first_wrap=150 deg..180 deg\" or \"second_wrap=150 deg..180 deg\"";
    let parts = text.split_once('=').and_then(|(name, range)| Some((name.trim(), range.split_once("..")?)));
    let Some((name, (from, to))) = parts else {
        return Err(fault(format!("\"{text}\" is no sweep"), EXAMPLE));
    };
    let Some(swept) = Swept::ALL.into_iter().find(|swept| swept.name() == name) else {
        return Err(fault(format!("\"{name}\" cannot be varied"), EXAMPLE));
    };
    let (kind, range, words) = match swept {
        Swept::Friction => (Kind::Ratio, [0.01, 2.0], "a friction factor lies between 0.01 and 2"),
        Swept::Mismatch => (Kind::Length, [-20.0, 20.0], "a mismatch lies between -20 and 20 mm"),
        Swept::FirstWrap | Swept::SecondWrap => {
            (Kind::Angle, [1f64.to_radians(), 360f64.to_radians()], "a wrap lies between 1 and 360 deg")
        }
    };
    let value = |text: &str| {
        let quantity = parse(text.trim(), kind)
            .map_err(|f| fault(f.found.clone(), &format!("{}; {}", f.allowed, f.advice)))?;
        if (range[0]..=range[1] * (1.0 + 1e-12)).contains(&quantity.value) {
            Ok(quantity.value)
        } else {
            Err(fault(format!("\"{}\" is out of range", text.trim()), words))
        }
    };
    let (from, to) = (value(from)?, value(to)?);
    if from >= to {
        return Err(fault(format!("\"{text}\" does not rise"), "write the smaller end first"));
    }
    let last = f64::from(steps - 1);
    let values = (0..steps).map(|i| from + (to - from) * f64::from(i) / last).collect();
    Ok(Sweep { swept, values })
}
