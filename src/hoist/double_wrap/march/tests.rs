//! The march against closed forms: relaxation, one turn's mismatch, conservation, sharing.

use super::super::{Rope, steady};
use super::*;
use crate::reference::compare::{Tolerance, assert_close};
use std::f64::consts::PI;

const EA: f64 = 4.55e6;

fn double(radii: [f64; 2], between: f64, length: f64) -> Rope {
    Rope {
        stiffness_n: EA,
        lengths_mm: vec![40e3, length, 5e3],
        tensions_n: vec![8000.0, between, 5500.0],
        radii_mm: radii.to_vec(),
        grips: vec![0.6, 0.7],
    }
}

fn turn(machine: &mut Machine, run: Run, turns: f64, steps: usize) -> Vec<(usize, usize)> {
    let by = turns * TAU / steps as f64;
    (0..steps).flat_map(|_| machine.step(run, by).unwrap()).collect()
}

#[test]
fn the_tension_between_relaxes_along_an_exponential() {
    // Small strains: dTi/dφ = −(R/L)·(Ti − T1), so Ti − T1 falls by e every L/R radians.
    let mut machine = Machine::new(vec![double([300.0, 300.0], 6600.0, 4000.0)]).unwrap();
    turn(&mut machine, Run::CarUp, 1.0, 400);
    let reference = 8000.0 - 1400.0 * (-TAU * 300.0 / 4000.0).exp();
    let reason = "the closed form drops strains of 2e-3 beside 1";
    assert_close("Ti", machine.tensions_n[0][1], reference, Tolerance::Relative(1e-3), reason);
    // Enough rope on the car's side for forty turns.
    let mut long = double([300.0, 300.0], 6600.0, 4000.0);
    long.lengths_mm[0] = 90e3;
    let mut machine = Machine::new(vec![long]).unwrap();
    turn(&mut machine, Run::CarUp, 40.0, 9000);
    let settled = steady(Run::CarUp, [8000.0, 5500.0], [0.2, 0.2], [3.0, 3.5], [300.0, 300.0], EA).unwrap();
    let reason = "forty turns are 18.8 spans' lengths: e^-18.8 of 1400 N is left";
    assert_close("settled", machine.tensions_n[0][1], settled.between_n, Tolerance::Absolute(2e-5), reason);
}

#[test]
fn a_mismatch_pulls_until_a_pass_slips() {
    // Car up, the second groove larger by 0.2 mm in diameter: +EA·π·ΔD/L in the first turn of a long span.
    let mut long = double([300.0, 300.1], 8000.0, 300e3);
    long.lengths_mm[0] = 400e3;
    let mut machine = Machine::new(vec![long]).unwrap();
    turn(&mut machine, Run::CarUp, 1.0, 400);
    let reference = EA * PI * 0.2 / 300e3;
    let reason = "relaxation takes half of 2πR/L of it";
    assert_close("per turn", machine.tensions_n[0][1] - 8000.0, reference, Tolerance::Relative(4e-3), reason);
    // A large mismatch ends at the limit of the second pass and stays there.
    let mut machine = Machine::new(vec![double([300.0, 301.0], 6600.0, 4000.0)]).unwrap();
    let slipped = turn(&mut machine, Run::CarUp, 6.0, 3000);
    assert!(!slipped.is_empty() && slipped.iter().all(|slip| *slip == (0, 1)), "{:?}", slipped.first());
    let limit = 5500.0 * 0.7f64.exp();
    assert_close(
        "limit",
        machine.tensions_n[0][1],
        limit,
        Tolerance::Relative(1e-9),
        "the slip's own tolerance",
    );
}

#[test]
fn rope_is_conserved_and_energy_is_accounted_for() {
    let pair = [([300.0, 300.3], 1.0), ([300.2, 299.9], 1.04)].map(|(radii, share)| {
        let mut rope = double(radii, 6600.0, 4000.0);
        rope.tensions_n.iter_mut().for_each(|t| *t *= share);
        rope
    });
    let mut gaps = Vec::new();
    for steps in [2000, 4000] {
        let mut machine = Machine::new(pair.to_vec()).unwrap();
        let before = [0, 1].map(|rope| machine.rope_mm(rope));
        turn(&mut machine, Run::CarUp, 9.0, steps);
        turn(&mut machine, Run::CarDown, 9.0, steps);
        for (rope, before) in before.iter().enumerate() {
            let reason = "what one span gives the next one takes, rounding only";
            assert_close("rope", machine.rope_mm(rope), *before, Tolerance::Relative(1e-12), reason);
        }
        assert!(machine.work.slip_nmm > 0.0 && machine.work.creep_nmm > 0.0);
        let weights = machine.tensions_n.iter().map(|spans| spans[0]).sum::<f64>();
        assert_close("car", weights, 8000.0 * 2.04, Tolerance::Relative(1e-12), "the car's weight");
        gaps.push(machine.work.gap_nmm().abs() / machine.work.machine_nmm.abs());
    }
    assert!(gaps[1] < 1e-3, "{gaps:?}");
    assert!(gaps[1] < 0.7 * gaps[0], "the gap falls with the step: {gaps:?}");
}

#[test]
fn parallel_ropes_share_by_radius_stiffness_and_length() {
    // One pass, car side of 30 m, the counterweight's far longer: a rope that is carried 0.2 mm·π less per turn
    // than its twin loses half of EA·π·ΔD/L to it.
    let rope = |radius: f64| Rope {
        stiffness_n: EA,
        lengths_mm: vec![30e3, 30e3],
        tensions_n: vec![6000.0, 5000.0],
        radii_mm: vec![radius],
        grips: vec![0.6],
    };
    let mut machine = Machine::new(vec![rope(300.1), rope(300.0)]).unwrap();
    turn(&mut machine, Run::CarUp, 0.01, 50);
    let per_turn = (machine.tensions_n[0][0] - 6000.0) / 0.01;
    let reference = 0.5 * EA * PI * 0.2 / 30e3;
    let reason = "the span shortens by a two-thousandth on the way";
    assert_close("per turn", per_turn, reference, Tolerance::Relative(2e-3), reason);
    let other = machine.tensions_n[1][0] - 6000.0;
    assert_close(
        "the twin",
        other,
        -(machine.tensions_n[0][0] - 6000.0),
        Tolerance::Absolute(1e-6),
        "one weight",
    );
}

#[test]
fn a_cycle_settles_between_the_two_runs() {
    let mut machine = Machine::new(vec![double([300.0, 300.0], 6633.0, 4000.0)]).unwrap();
    let history = march(&mut machine, 12.0 * TAU * 300.0, 20).unwrap();
    assert!(history.settled && history.cycles <= 3, "{} cycles", history.cycles);
    let [low, high] = history.last_cycle[0].range_n[1];
    // Every run brings the tension nearer to its end by q = e^(−Rφ/L), so that 2500·q/(1 + q) is always left.
    let q = (-12.0 * TAU * 300.0 / 4000.0f64).exp();
    let left = 2500.0 * q / (1.0 + q);
    let reason =
        "strains of 2e-3 and the car's creep change the exponent by a hundredth or two, and the 9 N left";
    assert_close("down", low, 5500.0 + left, Tolerance::Absolute(0.2), reason);
    assert_close("up", high, 8000.0 - left, Tolerance::Absolute(0.2), reason);
    assert_eq!(history.first_slip, None);
}

#[test]
fn what_cannot_be_is_refused() {
    let slides = Rope { grips: vec![0.1, 0.1], ..double([300.0, 300.0], 6600.0, 4000.0) };
    assert!(matches!(Machine::new(vec![slides]), Err(WrapFault::Slides { .. })));
    let bad = Rope { stiffness_n: f64::NAN, ..double([300.0, 300.0], 6600.0, 4000.0) };
    assert!(matches!(Machine::new(vec![bad]), Err(WrapFault::Value { .. })));
}

#[test]
fn creep_lets_the_car_sink_and_the_machine_levels_it() {
    // Without a mismatch a cycle costs the car (T1 − Ti)/EA of the way that the rope goes over the first pass.
    let mut machine = Machine::new(vec![double([300.0, 300.0], 6633.0, 4000.0)]).unwrap();
    turn(&mut machine, Run::CarUp, 12.0, 1200);
    turn(&mut machine, Run::CarDown, 12.0, 1200);
    assert!(machine.way_mm[0] < -5.0, "{:?}", machine.way_mm);
    let mut machine = Machine::new(vec![double([300.0, 300.0], 6633.0, 4000.0)]).unwrap();
    march(&mut machine, 12.0 * TAU * 300.0, 3).unwrap();
    assert!(machine.way_mm[0].abs() < 0.1, "{:?}", machine.way_mm);
}
