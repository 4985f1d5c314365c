//! Times parts of the program on one model and prints JSON; `validation/speed.py` runs it.
//!
//! `resolve` times other tensions and other depths of a checked survey; `factors` times the bare factoring and solving
//! of harmonics, and factoring alone, and can write the matrices for other solvers;
//! `analysis` times mesh, order and the whole harmonic analysis. Times are in s, sizes in bytes.

mod wheel;

use clap::{Args, Parser};
use rimproof::elastic::{Connectivity, Equations, Model, Options, Region, solve_alike};
use rimproof::mesh::Mesh;
use rimproof::problem::read;
use rimproof::study::{self, CheckFault, Ready, check};
use rimproof::survey::{Files, read as read_survey};
use serde_json::{Value, json};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

#[derive(Parser)]
enum Mode {
    /// Factors and solves every harmonic with two right-hand sides.
    Factors {
        #[command(flatten)]
        asked: Asked,
        /// Write the matrices and the right-hand sides into this folder.
        #[arg(long)]
        export: Option<PathBuf>,
    },
    /// Meshes, orders, and solves with stresses, balance and search.
    Analysis {
        #[command(flatten)]
        asked: Asked,
    },
    /// Checks a survey once, then answers for other tensions and other depths of its governing section.
    Resolve {
        survey: PathBuf,
        #[arg(long, default_value_t = 3)]
        repeats: usize,
        #[arg(long)]
        threads: Option<usize>,
    },
}

#[derive(Args)]
struct Asked {
    /// An explicit model.
    model: PathBuf,
    #[arg(long)]
    unknowns: usize,
    /// How many harmonics, from 0 on; several numbers are timed one after the other.
    #[arg(long, value_delimiter = ',', default_value = "48")]
    harmonics: Vec<usize>,
    #[arg(long, default_value_t = 3)]
    repeats: usize,
    #[arg(long)]
    threads: Option<usize>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mode = Mode::parse();
    let (Mode::Factors { asked: Asked { threads, .. }, .. }
    | Mode::Analysis { asked: Asked { threads, .. } }
    | Mode::Resolve { threads, .. }) = &mode;
    if let Some(threads) = threads {
        rayon::ThreadPoolBuilder::new().num_threads(*threads).build_global()?;
    }
    let drawn = |asked: &Asked| -> Result<(Model, Mesh), Box<dyn Error>> {
        let reading = read(&fs::read(&asked.model)?, &asked.model);
        let mut model = reading.problem.ok_or("the model file is faulty: `rimproof solve` says where")?.model;
        let mesh = wheel::drawn(&mut model, asked.unknowns)?;
        Ok((model, mesh))
    };
    let answer = match &mode {
        Mode::Factors { asked, export } => {
            let (model, mesh) = drawn(asked)?;
            factors(&model, &mesh, asked, export.as_deref())?
        }
        Mode::Analysis { asked } => {
            let (model, mesh) = drawn(asked)?;
            analysis(&model, &mesh, asked)?
        }
        Mode::Resolve { survey, repeats, .. } => resolve(survey, *repeats)?,
    };
    println!("{answer}");
    Ok(())
}

/// The survey names no other file.
struct Nothing;

impl Files for Nothing {
    fn read(&self, _: &Path) -> std::io::Result<Vec<u8>> {
        Err(std::io::ErrorKind::NotFound.into())
    }
}

/// Every repetition asks for tensions and for a depth that were not asked for before.
fn resolve(path: &Path, repeats: usize) -> Result<Value, Box<dyn Error>> {
    let survey = read_survey(&fs::read(path)?, path, &Nothing).survey;
    let survey = survey.ok_or("the survey is faulty: `rimproof check` says where")?;
    let fault = |fault: CheckFault| format!("{fault:?}");
    let outcome = check(&survey, &study::Asked::default(), &|_| ()).map_err(fault)?;
    let ready = Ready::new(&survey, &outcome).map_err(fault)?;
    let answers = ready.answers().map_err(fault)?;
    let depth_mm = outcome.result.cut_depth_mm.ok_or("the survey asks no cut")?;
    let (mut tensions, mut load_seconds, mut depth_seconds) = (Vec::new(), Vec::new(), Vec::new());
    let first = timed(1, || ready.answers()).map_err(fault)?;
    for step in 1..=repeats {
        let by = 0.01 * step as f64;
        let mut case = outcome.result.loads.judged.clone();
        for (rope, (heavy, light)) in case.heavy_n.iter_mut().zip(&mut case.light_n).enumerate() {
            *heavy *= 1.0 + by * rope as f64;
            *light *= 1.0 - by * rope as f64;
        }
        load_seconds.extend(
            timed(1, || answers.under(&case).map(|found| tensions.push(found.least_factor)))
                .map_err(fault)?,
        );
        depth_seconds.extend(timed(1, || ready.at_depth(depth_mm - 2.0 * by)).map_err(fault)?);
    }
    Ok(json!({
        "load_seconds": load_seconds,
        "depth_seconds": depth_seconds,
        "answers_seconds": first,
        "least_factors": tensions,
    }))
}

/// Seconds of every repetition.
fn timed<T, E>(repeats: usize, mut work: impl FnMut() -> Result<T, E>) -> Result<Vec<f64>, E> {
    let once = |_| {
        let begun = Instant::now();
        work()?;
        Ok(begun.elapsed().as_secs_f64())
    };
    (0..repeats).map(once).collect()
}

fn factors(
    model: &Model,
    mesh: &Mesh,
    asked: &Asked,
    folder: Option<&Path>,
) -> Result<Value, Box<dyn Error>> {
    // Solving takes as long whatever the forces are: those of one harmonic serve all.
    const LOADED: usize = 5;
    let connectivity = Connectivity::new(mesh)?;
    let equations = Equations::new(model, mesh, &connectivity)?;
    if equations.first_harmonic() > 0 {
        return Err("the first harmonics hold other unknowns: hold the bore in all directions".into());
    }
    let forces = equations.forces(LOADED);
    let size = equations.size();
    let most = asked.harmonics.iter().max().copied().unwrap_or(1).max(1);
    let all = |harmonics: usize| 0..=harmonics.max(1) - 1;
    // First one run whose solution is looked at; it warms up as well.
    let unknowns = equations.unknowns();
    let kept = equations.solve(
        all(most),
        |_| &forces,
        |solved| {
            let column = |family| (0..unknowns).map(|row| solved.value(row, family)).collect::<Vec<f64>>();
            (solved.n == most - 1).then(|| [column(0), column(1)])
        },
    )?;
    let solution = kept.into_iter().flatten().next().ok_or("no solution")?;
    let residual = (0..2).map(|family| gap(&equations, most - 1, &solution[family], &forces[family]));
    let residual = residual.fold(0.0, f64::max);
    let mut runs = Vec::new();
    for harmonics in &asked.harmonics {
        let sum = || equations.solve(all(*harmonics), |_| &forces, |solved| solved.value(0, 0));
        let alone = timed(asked.repeats, || equations.factor(all(*harmonics)))?;
        let seconds = timed(asked.repeats, sum)?;
        runs.push(json!({ "harmonics": harmonics, "seconds": seconds, "factor_seconds": alone }));
    }
    if let Some(folder) = folder {
        export(&equations, &forces, folder)?;
    }
    Ok(json!({
        "unknowns": size.unknowns,
        "triangles": mesh.triangles.len(),
        "entries": size.entries,
        "factor_entries": size.factor_entries,
        "stored_entries": size.stored_entries,
        "flops": size.flops,
        "bytes": 8 * size.stored_entries,
        "lanes": size.lanes,
        "threads": rayon::current_num_threads(),
        "residual": residual,
        "runs": runs,
    }))
}

/// What K_n u leaves of the forces, relative.
fn gap(equations: &Equations, n: usize, u: &[f64], forces: &[f64]) -> f64 {
    let (n, (columns, rows), [k0, k1, k2]) = (n as f64, equations.pattern(), equations.parts());
    let mut rest: Vec<f64> = forces.iter().map(|f| -f).collect();
    for column in 0..u.len() {
        for entry in columns[column]..columns[column + 1] {
            let (row, value) = (rows[entry], k0[entry] + n * (k1[entry] + n * k2[entry]));
            rest[row] += value * u[column];
            if row != column {
                rest[column] += value * u[row];
            }
        }
    }
    let norm = |v: &[f64]| v.iter().map(|x| x * x).sum::<f64>().sqrt();
    norm(&rest) / norm(forces)
}

/// Little-endian arrays, one file each: 64-bit column starts and rows of the lower triangles, 64-bit floats of K0,
/// K1, K2 and of the two right-hand sides, one after the other.
fn export(equations: &Equations, forces: &[Vec<f64>; 2], folder: &Path) -> std::io::Result<()> {
    fs::create_dir_all(folder)?;
    let (columns, rows) = equations.pattern();
    for (name, whole) in [("columns.i64", columns), ("rows.i64", rows)] {
        let bytes: Vec<u8> = whole.iter().flat_map(|i| (*i as i64).to_le_bytes()).collect();
        fs::write(folder.join(name), bytes)?;
    }
    let [k0, k1, k2] = equations.parts();
    let right = forces.concat();
    for (name, values) in [("k0.f64", k0), ("k1.f64", k1), ("k2.f64", k2), ("right.f64", &right)] {
        let bytes: Vec<u8> = values.iter().flat_map(|x| x.to_le_bytes()).collect();
        fs::write(folder.join(name), bytes)?;
    }
    Ok(())
}

fn analysis(model: &Model, mesh: &Mesh, asked: &Asked) -> Result<Value, Box<dyn Error>> {
    let meshing = timed(asked.repeats, || Mesh::generate(&model.outline, &model.sizing))?;
    let ordering = timed(asked.repeats, || Connectivity::new(mesh))?;
    let connectivity = Connectivity::new(mesh)?;
    let mut runs = Vec::new();
    for harmonics in &asked.harmonics {
        let count = (*harmonics).max(1);
        let options = Options { block: count, least: count, most: count, tolerance: f64::INFINITY };
        let region = |mesh: &Mesh| Region::of(model, mesh, count);
        let whole = || solve_alike(model, mesh.clone(), &connectivity, region, &options);
        runs.push(json!({ "harmonics": count, "seconds": timed(asked.repeats, whole)? }));
    }
    Ok(json!({
        "unknowns": 3 * mesh.nodes.len(),
        "triangles": mesh.triangles.len(),
        "threads": rayon::current_num_threads(),
        "mesh_seconds": meshing,
        "order_seconds": ordering,
        "runs": runs,
    }))
}
