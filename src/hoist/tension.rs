//! From suspended masses to the tension of every rope on both sides of the sheave, case by case.
//!
//! T = g·(suspended mass)/(roping ratio × ropes) + the rope's own weight hanging on that side.
//! g = 9.81 m/s² (the value lift standards use, EN 81-20:2020 clause 4). Forces in N, masses in kg.

use super::double_wrap::Pass;
use super::load_case::{CaseKind, GroovePass, LoadCase};
use crate::seeded::{Fault, planted};
use crate::survey::{Given, Masses, Role, Survey};

pub const GRAVITY_M_S2: f64 = 9.81;

/// Masses on the two sides of the sheave for one position and state of the car.
#[derive(Debug, Clone, Copy)]
struct Hanging {
    /// Suspended behind the roping (kg).
    suspended: f64,
    /// One rope's own hanging length times its mass per metre (kg).
    rope: f64,
}

impl Hanging {
    /// Tension per rope at the sheave; `acceleration` upwards makes it heavier.
    fn tension(self, survey: &Survey, acceleration: f64) -> f64 {
        let i = if planted(Fault::RopingForgotten) { 1.0 } else { f64::from(survey.roping.ratio) };
        let n = survey.roping.ropes as f64;
        // The rope at the sheave moves i times as fast as the car, and so is stopped i times as hard.
        self.suspended * (GRAVITY_M_S2 + acceleration) / (i * n)
            + self.rope * (GRAVITY_M_S2 + i * acceleration)
    }
}

/// Car side and counterweight side with the car at the lowest (or highest) landing.
fn sides(masses: &Masses, load_kg: f64, lowest: bool) -> [Hanging; 2] {
    let travel = masses.travel_m.unwrap_or(0.0);
    let rope = masses.rope_kg_m.unwrap_or(0.0) * travel;
    let compensation = masses.compensation_kg_m.unwrap_or(0.0) * travel;
    // Half of the travelling cable hangs from the car when it is up.
    let cable = masses.cable_kg_m.unwrap_or(0.0) * travel / 2.0;
    let car = masses.car_kg + load_kg;
    if lowest {
        [
            Hanging { suspended: car, rope },
            Hanging { suspended: masses.counterweight_kg + compensation, rope: 0.0 },
        ]
    } else {
        [
            Hanging { suspended: car + compensation + cable, rope: 0.0 },
            Hanging { suspended: masses.counterweight_kg, rope },
        ]
    }
}

/// Mean tension per rope (car side, counterweight side) for a load in the car at a landing, with the
/// car accelerated upwards by `acceleration` m/s² (a descending car that brakes).
pub fn side_tensions_n(
    survey: &Survey,
    masses: &Masses,
    load_kg: f64,
    lowest: bool,
    acceleration: f64,
) -> [f64; 2] {
    let [car, counterweight] = sides(masses, load_kg, lowest);
    [car.tension(survey, acceleration), counterweight.tension(survey, -acceleration)]
}

/// The tensions of two sides, the heavier first; a pulley carries the heavier one on both sides.
pub fn heavy_and_light(survey: &Survey, [a, b]: [f64; 2]) -> [f64; 2] {
    let (heavy, light) = (a.max(b), a.min(b));
    [heavy, if survey.roping.role == Role::Drive { light } else { heavy }]
}

/// All load cases that the survey allows; the first is the car at rest with rated load.
///
/// On a deflector or secondary sheave both sides carry the heavier side's tension.
pub fn load_cases(survey: &Survey) -> Vec<LoadCase> {
    if matches!(survey.load.given, Given::DriveSheave) {
        return Vec::new();
    }
    let n = survey.roping.ropes;
    let pulley = survey.roping.role != Role::Drive;
    let even = |kind: CaseKind, pair: [f64; 2]| {
        let [heavy, light] = heavy_and_light(survey, pair);
        let case = LoadCase::single(kind, vec![heavy; n], vec![light; n]);
        over_passes(survey, case, pair[0] < pair[1])
    };
    let masses = survey.load.masses.as_ref();
    let at_rest = |m: &Masses, load: f64, lowest: bool| side_tensions_n(survey, m, load, lowest, 0.0);
    let mut cases = Vec::new();
    let rated = match &survey.load.given {
        Given::Masses => masses.map(|m| even(CaseKind::RatedAtRest, at_rest(m, m.rated_kg, true))),
        Given::Tensions { heavy_n, light_n } => Some(even(CaseKind::RatedAtRest, [*heavy_n, *light_n])),
        Given::DriveSheave => None,
        Given::PerRope { heavy_n, light_n, .. } => {
            let ratio = masses.map_or(1.0, |m| {
                let [car, counterweight] = at_rest(m, m.rated_kg, true);
                car.max(counterweight) / car.min(counterweight)
            });
            let light = match light_n {
                _ if pulley => heavy_n.clone(),
                Some(light) => light.clone(),
                None => heavy_n.iter().map(|t| t / ratio).collect(),
            };
            let case = LoadCase::single(CaseKind::RatedAtRest, heavy_n.clone(), light);
            Some(over_passes(survey, case, false))
        }
    };
    cases.extend(rated);
    if let Some(m) = masses {
        cases.push(even(CaseKind::StaticTest, at_rest(m, 1.25 * m.rated_kg, true)));
        if let Some(a) = survey.roping.retardation_m_s2 {
            cases.push(even(CaseKind::Braking, side_tensions_n(survey, m, m.rated_kg, true, a)));
        }
        cases.push(even(CaseKind::EmptyCar, at_rest(m, 0.0, false)));
    }
    if let (Some(multiple), Some(rated)) = (survey.load.emergency_multiple, cases.first().cloned()) {
        let scaled = |list: &[f64]| list.iter().map(|t| t * multiple).collect();
        cases.push(LoadCase {
            kind: CaseKind::Emergency,
            heavy_n: scaled(&rated.heavy_n),
            light_n: scaled(&rated.light_n),
            passes: rated.passes,
        });
    }
    cases
}

/// Puts every rope of a case into its two grooves: its outer tensions to the tension between the passes.
///
/// With the counterweight's side the heavier one the wheel is seen from behind: the heavy side stays at negative θ.
fn over_passes(survey: &Survey, case: LoadCase, counterweight_heavier: bool) -> LoadCase {
    let Some(wrap) = &survey.double_wrap else { return case };
    let ropes = case.heavy_n.len();
    let mut double = LoadCase::single(case.kind, Vec::new(), Vec::new());
    for groove in 0..2 * ropes {
        let (rope, second) = wrap.layout.rope_in(groove, ropes);
        let at_heavy_side = second == counterweight_heavier;
        let (heavy, light) = (case.heavy_n[rope], case.light_n[rope]);
        let between = wrap.share(rope) * (heavy * light).sqrt();
        let [heavy, light] = if at_heavy_side { [heavy, between] } else { [between, light] };
        double.heavy_n.push(heavy);
        double.light_n.push(if planted(Fault::SecondPassDropped) && !at_heavy_side { heavy } else { light });
        let middle = wrap.middle_rad[usize::from(second)];
        double.passes.push(GroovePass {
            rope,
            pass: if second { Pass::Second } else { Pass::First },
            wrap_rad: wrap.wrap_rad[usize::from(second)],
            middle_rad: if counterweight_heavier { -middle } else { middle },
            at_heavy_side,
            creep: wrap.pass_creep.map_or(survey.roping.creep, |creep| creep[usize::from(second)]),
        });
    }
    double
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::section::tests::one_web;
    use crate::survey::Masses;

    fn survey(car: f64, rated: f64, balance: f64, ropes: usize, ratio: u32) -> Survey {
        let mut survey = one_web();
        survey.roping.ropes = ropes;
        survey.roping.ratio = ratio;
        survey.roping.retardation_m_s2 = Some(0.981);
        survey.load.masses = Some(Masses {
            car_kg: car,
            rated_kg: rated,
            counterweight_kg: car + balance * rated,
            rope_kg_m: None,
            compensation_kg_m: None,
            cable_kg_m: None,
            travel_m: None,
        });
        survey
    }

    fn close(what: &str, computed: f64, reference: f64) {
        assert_close(what, computed, reference, Tolerance::Absolute(0.5), "the reference is printed to 1 N");
    }

    #[test]
    fn static_tensions_follow_from_the_masses() {
        // 1000 kg car, 800 kg load, half balanced, 1:1: 17658 and 13734 N over all ropes.
        let cases = load_cases(&survey(1000.0, 800.0, 0.5, 4, 1));
        close("heavy", 4.0 * cases[0].mean_heavy_n(), 17658.0);
        close("light", 4.0 * cases[0].mean_light_n(), 13734.0);
        assert_close("ratio", cases[0].ratio(), 1.2857, Tolerance::printed(4), "printed to four decimals");
        assert_close("125 %", cases[1].ratio(), 1.4286, Tolerance::printed(4), "printed to four decimals");
        // 1500 kg car, 1000 kg load: 24525 and 19620 N; a roping of 2:1 halves them.
        let one = load_cases(&survey(1500.0, 1000.0, 0.5, 5, 1));
        let two = load_cases(&survey(1500.0, 1000.0, 0.5, 5, 2));
        close("heavy 1:1", 5.0 * one[0].mean_heavy_n(), 24525.0);
        close("light 2:1", 5.0 * two[0].mean_light_n(), 0.5 * 19620.0);
    }

    #[test]
    fn braking_adds_on_the_heavy_side_and_takes_from_the_light_one() {
        // 0.981 m/s² is a tenth of gravity.
        let cases = load_cases(&survey(1000.0, 800.0, 0.5, 4, 1));
        assert_eq!(cases[2].kind, CaseKind::Braking);
        close("heavy", 4.0 * cases[2].mean_heavy_n(), 1.1 * 17658.0);
        close("light", 4.0 * cases[2].mean_light_n(), 0.9 * 13734.0);
    }

    #[test]
    fn hanging_ropes_weigh_on_the_side_where_they_hang() {
        let mut with = survey(1000.0, 800.0, 0.5, 4, 2);
        if let Some(masses) = &mut with.load.masses {
            masses.rope_kg_m = Some(0.5);
            masses.travel_m = Some(30.0);
            masses.compensation_kg_m = Some(2.0);
        }
        let (bare, loaded) = (load_cases(&survey(1000.0, 800.0, 0.5, 4, 2)), load_cases(&with));
        // Car down: one rope's 15 kg hang on the car side, 60 kg of compensation on the other, over 2 × 4.
        close("car side", loaded[0].mean_heavy_n() - bare[0].mean_heavy_n(), 15.0 * 9.81);
        close("counterweight side", loaded[0].mean_light_n() - bare[0].mean_light_n(), 60.0 * 9.81 / 8.0);
    }

    #[test]
    fn the_hottest_rope_keeps_the_sum_and_the_spread() {
        let case = &load_cases(&survey(1000.0, 800.0, 0.5, 4, 1))[0];
        let hot = case.with_hottest(2, 0.1);
        close("sum", hot.heavy_n.iter().sum(), case.heavy_n.iter().sum());
        close("spread", hot.heavy_n[2] - hot.heavy_n[0], 0.1 * case.mean_heavy_n());
    }

    fn double(wraps: [f64; 2]) -> Survey {
        use crate::survey::{DoubleWrap, PassLayout};
        let mut survey = survey(1000.0, 800.0, 0.5, 2, 1);
        survey.double_wrap = Some(DoubleWrap {
            wrap_rad: wraps,
            middle_rad: [0.0, 0.2],
            layout: PassLayout::SideBySide,
            friction: None,
            secondary_wrap_rad: None,
            secondary_file: None,
            secondary: None,
            stiffness_n: None,
            car_length_mm: None,
            between_length_mm: None,
            counterweight_length_mm: None,
            between_tensions_n: None,
            between_over_equal_ratio: Vec::new(),
            pass_creep: None,
        });
        survey
    }

    #[test]
    fn a_double_wrap_puts_every_rope_into_two_grooves() {
        let survey = double([3.0, 2.8]);
        let case = &load_cases(&survey)[0];
        assert_eq!((case.ropes(), case.heavy_n.len()), (2, 4));
        assert_eq!(case.passes.iter().map(|pass| pass.rope).collect::<Vec<_>>(), [0, 1, 0, 1]);
        close("heavy", case.mean_heavy_n(), 17658.0 / 2.0);
        close("light", case.mean_light_n(), 13734.0 / 2.0);
        let between = case.mean_between_n().unwrap();
        close("between", between, (17658.0f64 * 13734.0).sqrt() / 2.0);
        close("the passes share it", case.light_n[0], case.heavy_n[2]);
        // The hottest rope is hot in both of its grooves, and the sum over the ropes is kept.
        let hot = case.with_hottest(1, 0.1);
        close("hot", hot.heavy_n[1] - hot.heavy_n[0], 0.1 * case.mean_heavy_n());
        close("hot between", hot.heavy_n[3] - hot.heavy_n[2], 0.1 * between);
        close("equalised", hot.equalised().light_n[3], case.light_n[3]);
        // The empty car hangs on the lighter side, and its pass with it.
        let empty = load_cases(&survey).into_iter().find(|case| case.kind == CaseKind::EmptyCar).unwrap();
        assert!(empty.passes[2].at_heavy_side && !empty.passes[0].at_heavy_side);
        assert!(empty.passes[2].middle_rad == -0.2 && empty.mean_heavy_n() > empty.mean_light_n());
    }

    #[test]
    fn a_second_pass_without_a_wrap_leaves_the_single_one() {
        let mut survey = double([2.9, 1e-12]);
        if let Some(wrap) = &mut survey.double_wrap {
            // Without grip the second pass holds nothing: the tension between is the counterweight's.
            wrap.between_over_equal_ratio = vec![(13734.0f64 / 17658.0).sqrt(); 2];
        }
        let double = &load_cases(&survey)[0];
        let pull = super::super::double_wrap::drive_pull_n(&double.wraps(&survey));
        survey.double_wrap = None;
        survey.roping.wrap_rad = 2.9;
        let single = &load_cases(&survey)[0];
        let alone = super::super::double_wrap::drive_pull_n(&single.wraps(&survey));
        let reason = "2e-12 rad of wrap press with 2e-12 of a rope's tension";
        for axis in 0..2 {
            let allowed = Tolerance::Absolute(1e-7);
            assert_close("pull", pull[axis], alone[axis], allowed, reason);
        }
        close("light", double.mean_light_n(), single.mean_light_n());
    }

    #[test]
    fn an_emergency_is_stated_or_there_is_none() {
        let mut survey = survey(1000.0, 800.0, 0.5, 4, 1);
        assert!(load_cases(&survey).iter().all(|case| case.kind != CaseKind::Emergency));
        survey.load.emergency_multiple = Some(2.5);
        let cases = load_cases(&survey);
        let emergency = &cases[cases.len() - 1];
        assert_eq!(emergency.kind, CaseKind::Emergency);
        close("heavy", 4.0 * emergency.mean_heavy_n(), 2.5 * 17658.0);
        close("light", 4.0 * emergency.mean_light_n(), 2.5 * 13734.0);
    }

    #[test]
    fn equalising_keeps_both_sums() {
        let case = load_cases(&survey(1000.0, 800.0, 0.5, 4, 1))[0].with_hottest(1, 0.3);
        let equal = case.equalised();
        close("heavy", equal.heavy_n.iter().sum(), case.heavy_n.iter().sum());
        close("light", equal.light_n.iter().sum(), case.light_n.iter().sum());
        assert!(equal.heavy_n.iter().all(|t| *t == equal.heavy_n[0]) && case.heavy_n[1] > equal.heavy_n[1]);
    }

    #[test]
    fn a_pulley_carries_the_heavier_tension_on_both_sides() {
        let mut pulley = survey(1000.0, 800.0, 0.5, 4, 1);
        pulley.roping.role = Role::Deflector;
        let case = &load_cases(&pulley)[0];
        close("light side", 4.0 * case.mean_light_n(), 17658.0);
    }
}
