//! The rope-life factor and the equivalent bends that it counts.

use crate::hoist::rope_life::{
    Edition, Pulleys, TractionGroove, pulley_bends, safety_factor, traction_bends,
};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;

const EN_81_50: Source = Source::published("EN 81-50:2020, 5.12 (seen through a secondary copy)");
const ANNEX_E: Source = Source::published("EN 81-50:2020, annex E (seen through a secondary copy)");
const EN_81_1: Source = Source::from_memory("EN 81-1:1998, annex N, table N.1");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "rope-life",
        title: "Rope-life factor",
        chapter: Chapter::Grooves,
        about: "The least safety factor of the ropes by the ratio of sheave to rope diameter and the sum N of \
                equivalent bends. A cut lowers the ratio and so raises the factor that is asked.",
        features: &[Feature::RopeLife],
        run: rope_life,
    },
    Case {
        name: "equivalent-bends",
        title: "Equivalent bends of the traction sheave and of pulleys",
        chapter: Chapter::Grooves,
        about: "The numbers of both editions, and the worked examples of the newer one. The example with a double \
                wrap is read as two passages over the traction sheave and two over the other.",
        features: &[Feature::RopeLife],
        run: bends,
    },
];

#[expect(clippy::approx_constant, reason = "6.280 is a factor, not a turn")]
fn rope_life() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    for (ratio, n, printed, computed) in
        [(40.0, 10.0, 18.68, 18.677), (34.0, 1.0, 10.06, 10.061), (36.0, 3.0, 14.12, 14.121)]
    {
        let factor = safety_factor(ratio, n).map_err(CaseFault::of)?;
        let what = format!("S_f, D/d {ratio}, N {n}");
        rows.push(Row::new(what.clone() + " (as printed)", "", EN_81_50, printed, factor).printed(2));
        rows.push(Row::new(what, "", EN_81_50, computed, factor).printed(3));
    }
    let bends = [1.0, 2.5, 5.0, 10.0, 15.2, 20.0];
    for (ratio, values) in [
        (40.0, [8.083, 11.281, 14.515, 18.677, 21.750, 24.033]),
        (45.0, [7.032, 9.648, 12.255, 15.567, 17.988, 19.775]),
        (50.0, [6.280, 8.498, 10.682, 13.428, 15.418, 16.880]),
    ] {
        for (n, value) in bends.into_iter().zip(values) {
            let factor = safety_factor(ratio, n).map_err(CaseFault::of)?;
            rows.push(Row::new(format!("S_f, D/d {ratio}, N {n}"), "", EN_81_50, value, factor).printed(3));
        }
    }
    Ok(Record::of_rows(rows))
}

fn bends() -> Result<Record, CaseFault> {
    let undercut = |degrees: f64| TractionGroove::Undercut { undercut_rad: degrees.to_radians() };
    let v = |degrees: f64| TractionGroove::V { groove_rad: degrees.to_radians() };
    let mut rows = Vec::new();
    let mut row = |what: String, source, value, groove, edition| {
        let computed = traction_bends(groove, edition).map_err(CaseFault::of)?;
        let reason = "an entry of the table, rounding of the angle only";
        rows.push(Row::new(what, "", source, value, computed).within(Tolerance::Absolute(1e-7), reason));
        Ok::<(), CaseFault>(())
    };
    row("N(t), round seat".to_owned(), EN_81_50, 1.0, TractionGroove::Round, Edition::En81_50)?;
    for (beta, value) in
        [(75.0, 2.5), (80.0, 3.0), (85.0, 3.8), (90.0, 5.0), (95.0, 6.7), (100.0, 10.0), (105.0, 15.2)]
    {
        row(format!("N(t), undercut β {beta}°"), EN_81_50, value, undercut(beta), Edition::En81_50)?;
    }
    row("N(t), undercut β 92.5°, halfway".to_owned(), EN_81_50, 5.85, undercut(92.5), Edition::En81_50)?;
    for (gamma, value) in
        [(35.0, 18.5), (36.0, 16.0), (38.0, 12.0), (40.0, 10.0), (42.0, 8.0), (45.0, 6.5), (50.0, 5.0)]
    {
        row(format!("N(t), V γ {gamma}°"), EN_81_50, value, v(gamma), Edition::En81_50)?;
    }
    for (gamma, value) in [(35.0, 18.5), (36.0, 15.2), (38.0, 10.5), (40.0, 7.1), (42.0, 5.6), (45.0, 4.0)] {
        row(format!("N(t), V γ {gamma}°, edition of 1998"), EN_81_1, value, v(gamma), Edition::En81_1Of1998)?;
    }
    for (what, groove, passages, [sheave, pulley], simple_bends, value, decimals) in [
        ("N, V 40°, sheaves 600/500 mm, 2 simple bends", v(40.0), 1.0, [600.0, 500.0], 2.0, 14.147, 3),
        ("N, β 90°, sheaves 600/400 mm, 1 simple bend", undercut(90.0), 1.0, [600.0, 400.0], 1.0, 10.0625, 4),
        ("N, round seat, double wrap, 400/400 mm", TractionGroove::Round, 2.0, [400.0, 400.0], 2.0, 4.0, 3),
    ] {
        let traction = traction_bends(groove, Edition::En81_50).map_err(CaseFault::of)?;
        let pulleys = Pulleys { simple_bends, reversed_bends: 0.0, mean_diameter_mm: pulley };
        let computed = passages * traction + pulley_bends(sheave, pulleys).map_err(CaseFault::of)?;
        rows.push(Row::new(what, "", ANNEX_E, value, computed).printed(decimals));
    }
    let reversed = Pulleys { simple_bends: 1.0, reversed_bends: 2.0, mean_diameter_mm: 500.0 };
    let computed = pulley_bends(1000.0, reversed).map_err(CaseFault::of)?;
    let what = "N(p), sheaves 1000/500 mm, 1 simple and 2 reversed bends: 2⁴·(1 + 4·2)";
    let reason = "whole numbers and a power of two";
    rows.push(Row::new(what, "", EN_81_50, 144.0, computed).within(Tolerance::Relative(1e-12), reason));
    Ok(Record::of_rows(rows))
}
