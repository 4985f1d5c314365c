//! The vector factor against the sparse library's own, harmonic by harmonic.

use super::*;
use crate::elastic::Iron;
use crate::elastic::assembly::Assembled;
use crate::elastic::system::{Pattern, Workspace};
use crate::geometry::{Edge, Outline, Point};
use crate::mesh::{Mesh, Sizing};

const IRON: Iron = Iron { young_mpa: 110e3, poisson: 0.26, density_t_mm3: 0.0, expansion_per_k: 0.0 };

fn assembled(size: f64) -> (Mesh, Assembled) {
    let p = Point::new;
    let corners = [p(35.0, 3.0), p(90.0, 3.0), p(90.0, 40.0), p(35.0, 40.0)];
    let ring = (0..4).map(|i| Edge::line(corners[i], corners[(i + 1) % 4], 0)).collect();
    let outline = Outline { loops: vec![ring], tags: vec!["side".into()] };
    let sizing = Sizing { largest_mm: size, through_wall: 0.1, ..Sizing::default() };
    let mesh = Mesh::generate(&outline, &sizing).unwrap();
    let assembled = Assembled::ordered(&mesh).unwrap().filled(&mesh, &IRON);
    (mesh, assembled)
}

fn solve_both(size: f64, lanes: usize) -> f64 {
    let (mesh, assembled) = assembled(size);
    let pattern = Pattern::new(&assembled).unwrap();
    let structure = pattern.structure().unwrap();
    let unknowns = assembled.unknowns();
    let mut held = vec![false; unknowns];
    for (node, p) in mesh.nodes.iter().enumerate().filter(|(_, p)| p.r < 35.1) {
        assert!(p.r > 34.9);
        (0..3).for_each(|c| held[assembled.unknown(node, c)] = true);
    }
    let force = |side: usize, i: usize| if held[i] { 0.0 } else { ((i * (side + 3)) as f64 * 0.37).sin() };
    let count = 2;
    let mut bundle = Bundle::new(structure, lanes);
    let restrained = assembled.restrained(&held);
    let n_of: Vec<f64> = (0..lanes).map(|lane| (2 + lane) as f64).collect();
    let mut right = vec![0.0; unknowns * count * lanes];
    for i in 0..unknowns {
        for side in 0..count {
            right[(i * count + side) * lanes..][..lanes].fill(force(side, i));
        }
    }
    let entries = (&assembled.columns[..], &assembled.rows[..]);
    bundle.factor(structure, entries, (&restrained, &n_of), (&mut right, count)).unwrap();
    bundle.finish(structure, &mut right, count);
    let mut workspace = Workspace::new(&assembled, &pattern, count);
    let mut worst = 0.0f64;
    for lane in 0..lanes {
        assembled.combine((2 + lane) as f64, &mut workspace.values);
        let mut columns: Vec<Vec<f64>> =
            (0..count).map(|side| (0..unknowns).map(|i| force(side, i)).collect()).collect();
        workspace.solve(2 + lane, &assembled, &pattern, &held, &mut columns).unwrap();
        let scale = columns.iter().flatten().fold(0.0f64, |m, x| m.max(x.abs()));
        for (side, column) in columns.iter().enumerate() {
            for (i, x) in column.iter().enumerate() {
                let gap = (right[(i * count + side) * lanes + lane] - x).abs() / scale;
                worst = if gap.is_nan() { f64::INFINITY } else { worst.max(gap) };
            }
        }
    }
    worst
}

#[test]
fn every_lane_agrees_with_the_sparse_library() {
    // The narrower registers too, where the machine has wider ones.
    for lanes in [lanes(), lanes().min(FEWER)] {
        for size in [12.0, 4.0] {
            let gap = solve_both(size, lanes);
            assert!(gap < 1e-10, "{lanes} lanes, size {size}: {gap:e}");
        }
    }
}

#[test]
fn fewer_lanes_are_taken_before_none() {
    let (_, assembled) = assembled(12.0);
    let pattern = Pattern::new(&assembled).unwrap();
    let structure = pattern.structure().unwrap();
    let whole = Bundle::bytes(structure, lanes());
    assert_eq!(fitting(structure, whole), Some(lanes()).filter(|lanes| *lanes > 1));
    assert_eq!(fitting(structure, whole - 1), Some(FEWER).filter(|few| *few < lanes()));
    assert_eq!(fitting(structure, Bundle::bytes(structure, FEWER) - 1), None);
}

#[test]
fn the_product_of_every_lane_is_that_of_its_own_matrix() {
    let (_, assembled) = assembled(12.0);
    let (lanes, sides, size) = (lanes(), 2, assembled.unknowns());
    let n_of: Vec<f64> = (0..lanes).map(|lane| 2.0 + 3.0 * lane as f64).collect();
    let value = |i: usize| (0.73 * i as f64).sin();
    let x: Vec<f64> = (0..size * sides * lanes).map(value).collect();
    let entries = (&assembled.columns[..], &assembled.rows[..]);
    let mut product = vec![0.0; x.len()];
    multiply(entries, &assembled.parts, &n_of, (&x, sides), &mut product);
    let (mut values, mut own) = (vec![0.0; assembled.rows.len()], vec![0.0; size]);
    for (lane, n) in n_of.iter().enumerate() {
        assembled.combine(*n, &mut values);
        for side in 0..sides {
            let at = |i: usize| (i * sides + side) * lanes + lane;
            let column: Vec<f64> = (0..size).map(|i| x[at(i)]).collect();
            assembled.multiply(&values, &column, &mut own);
            let largest = own.iter().fold(0.0f64, |m, f| m.max(f.abs()));
            for (i, exact) in own.iter().enumerate() {
                let gap = (product[at(i)] - exact).abs() / largest;
                assert!(gap < 1e-13, "lane {lane}, side {side}: {gap:e}");
            }
        }
    }
}

#[test]
fn a_matrix_that_is_not_positive_definite_is_refused_with_its_lane() {
    let (_, assembled) = assembled(12.0);
    let pattern = Pattern::new(&assembled).unwrap();
    let structure = pattern.structure().unwrap();
    let mut bundle = Bundle::new(structure, lanes());
    let last = lanes() - 1;
    let [k0, k1, k2] = assembled.parts.clone();
    // Only the last lane's n is large enough for the turned sign to prevail.
    let parts = [k0, k1, k2.iter().map(|k| -k).collect()];
    let mut n_of = vec![0.0; lanes()];
    n_of[last] = 1e4;
    let held: Vec<bool> = (0..assembled.unknowns()).map(|i| i % 7 == 0).collect();
    let assembled = Assembled { parts, ..assembled };
    let restrained = assembled.restrained(&held);
    let mut right = vec![0.0; assembled.unknowns() * lanes()];
    let entries = (&assembled.columns[..], &assembled.rows[..]);
    let fault = bundle.factor(structure, entries, (&restrained, &n_of), (&mut right, 1)).unwrap_err();
    assert_eq!(fault, NotPositive { lane: last });
}
