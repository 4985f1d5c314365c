//! Benchmarks of the parts that a check spends its time in: `cargo bench --bench speed`.

mod wheel;

use divan::{Bencher, black_box};
use rimproof::elastic::{Connectivity, Equations, Model, Options, PeakSearch, Region, solve_alike};
use rimproof::mesh::Mesh;
use rimproof::study::{Asked, Outcome, check};
use rimproof::survey::{Files, Survey, read};
use std::io;
use std::path::Path;
use std::sync::LazyLock;

const SURVEY: &str = include_str!("six_grooves.toml");
/// Harmonics of the parts.
const HARMONICS: usize = 48;
/// Unknowns of the meshes.
const SIZES: [usize; 3] = [8_000, 26_000, 90_000];

/// The survey names no other file.
struct Nothing;

impl Files for Nothing {
    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Err(io::ErrorKind::NotFound.into())
    }
}

static WHEEL: LazyLock<Survey> = LazyLock::new(|| {
    read(SURVEY.as_bytes(), Path::new("six_grooves.toml"), &Nothing).survey.expect("a sound survey")
});
static MODEL: LazyLock<Model> = LazyLock::new(|| whole_check().analysis.model);

fn whole_check() -> Outcome {
    check(&WHEEL, &Asked::default(), &|_| ()).expect("a verdict")
}

fn main() {
    divan::main();
}

/// The wheel with about this many unknowns.
fn drawn(unknowns: usize) -> (Model, Mesh, Connectivity) {
    let mut model = MODEL.clone();
    let mesh = wheel::drawn(&mut model, unknowns).expect("a mesh");
    let connectivity = Connectivity::new(&mesh).expect("an order");
    (model, mesh, connectivity)
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn order_of_the_equations(bencher: Bencher, unknowns: usize) {
    let (_, mesh, _) = drawn(unknowns);
    bencher.bench_local(|| Connectivity::new(black_box(&mesh)).is_ok());
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn assembly_of_the_elements(bencher: Bencher, unknowns: usize) {
    let (model, mesh, connectivity) = drawn(unknowns);
    bencher.bench_local(|| Equations::new(&model, black_box(&mesh), &connectivity).is_ok());
}

#[divan::bench(args = SIZES, sample_count = 5)]
fn factors_and_solutions(bencher: Bencher, unknowns: usize) {
    let (model, mesh, connectivity) = drawn(unknowns);
    let equations = Equations::new(&model, &mesh, &connectivity).expect("equations");
    let forces = equations.forces(1);
    bencher.bench_local(|| {
        equations.solve(0..=HARMONICS - 1, |_| &forces, |solved| solved.value(0, 0)).expect("solutions")
    });
}

#[divan::bench(args = SIZES, sample_count = 5)]
fn analysis_with_stresses(bencher: Bencher, unknowns: usize) {
    let (model, mesh, connectivity) = drawn(unknowns);
    bencher.bench_local(|| solution(&model, &mesh, &connectivity).cost);
}

#[divan::bench(args = SIZES, sample_count = 10)]
fn search_for_the_highest_tension(bencher: Bencher, unknowns: usize) {
    let (model, mesh, connectivity) = drawn(unknowns);
    let solution = solution(&model, &mesh, &connectivity);
    let region = Region::of(&model, &mesh, HARMONICS);
    bencher.bench_local(|| {
        let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &region);
        let [ranking] = search.rankings(&[&|principal: &[f64; 3]| principal[0]]);
        ranking.len()
    });
}

#[divan::bench(sample_count = 5)]
fn whole_check_of_six_grooves(bencher: Bencher) {
    bencher.bench_local(|| whole_check().result.allowable_mpa);
}

fn solution(model: &Model, mesh: &Mesh, connectivity: &Connectivity) -> rimproof::elastic::Solution {
    let count = HARMONICS;
    let options = Options { block: count, least: count, most: count, tolerance: f64::INFINITY };
    let region = |mesh: &Mesh| Region::of(model, mesh, count);
    solve_alike(model, mesh.clone(), connectivity, region, &options).expect("a solution")
}
