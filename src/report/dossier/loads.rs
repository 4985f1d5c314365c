//! How the rope loads come about.

use super::Dossier;
use super::appendix::percent;
use crate::hoist::double_wrap::Pass;
use crate::report::paper::Block;
use crate::survey::{Given, Role};
use crate::units::Kind as Quantity;

impl Dossier<'_> {
    pub(super) fn loads(&self, body: &mut Vec<Block>) {
        let loads = &self.result.loads;
        let force = |newton: f64| self.show(Quantity::Force, newton);
        body.push(Block::heading(2, "Loads, and how they come about", "loads"));
        body.push(Block::text(self.given()));
        let rows = loads.cases.iter().enumerate().map(|(index, case)| {
            let result = index.checked_sub(1).and_then(|i| self.result.cases.get(i));
            let governing = &self.result.governing;
            let (peak, factor) = result
                .map_or((governing.peak.principal_mpa[0], governing.least_factor), |r| {
                    (r.peak_mpa, r.least_factor)
                });
            vec![
                case.kind.name().to_owned(),
                force(case.mean_heavy_n()),
                force(case.mean_light_n()),
                format!("{:.3}", case.ratio()),
                self.own(Quantity::Stress, peak),
                format!("{factor:.1}"),
                if index == 0 { "judged" } else { "shown" }.to_owned(),
            ]
        });
        let heads = [
            ("case", false),
            ("heavy side, per rope", true),
            ("light side, per rope", true),
            ("ratio", true),
            ("highest tension", true),
            ("factor", true),
            ("use", false),
        ];
        body.push(Block::table(&heads, rows.collect()));
        body.push(Block::note("The code's factor is stated for the first case; the others are computed on a coarse mesh and corrected."));
        body.push(Block::heading(3, "Rope by rope, in the judged case", ""));
        let roped =
            self.outcome.section.grooves.iter().zip(&self.survey.grooves.roped).filter(|(_, roped)| **roped);
        let tensions = loads.judged.heavy_n.iter().zip(&loads.judged.light_n).enumerate();
        let rows = roped.zip(tensions).map(|((groove, _), (index, (heavy, light)))| {
            let hottest = loads.hottest_groove == Some(groove.number);
            let told = if hottest { "hottest rope, put where it is worst" } else { "" };
            let told = match loads.judged.passes.get(index) {
                None => told.to_owned(),
                Some(pass) => {
                    let which = if pass.pass == Pass::First { "first" } else { "second" };
                    let rope = format!("rope {}, {which} pass", pass.rope + 1);
                    if told.is_empty() { rope } else { format!("{rope}: {told}") }
                }
            };
            vec![groove.number.to_string(), force(*heavy), force(*light), told]
        });
        let heads = [("groove", true), ("heavy side", true), ("light side", true), ("remark", false)];
        body.push(Block::table(&heads, rows.collect()));
        body.push(Block::text(format!(
            "Along the wrap the tension changes from T at the heavy end to T at the light end; the rope pushes with T per radian and drags with its change. Together the ropes pull with {}; the tractions on the seats add up to {}, the shaft answers with {}.",
            force(loads.pulls_n),
            force(loads.applied_n),
            force(loads.reaction_n)
        )));
        for variant in &self.result.variants {
            body.push(Block::text(format!(
                "If instead the {}: {}.",
                variant.name,
                percent(variant.change, 1)
            )));
        }
    }

    /// Where ropes lie on the wheel (rad, from and to).
    pub(super) fn wraps_rad(&self) -> Vec<[f64; 2]> {
        let ends = |middle: f64, wrap: f64| [middle - 0.5 * wrap, middle + 0.5 * wrap];
        match &self.survey.double_wrap {
            Some(double) => (0..2).map(|i| ends(double.middle_rad[i], double.wrap_rad[i])).collect(),
            None => vec![ends(0.0, self.survey.roping.wrap_rad)],
        }
    }

    fn given(&self) -> String {
        let load = &self.survey.load;
        let mass = |kg: f64| self.show(Quantity::Mass, kg);
        let roping = &self.survey.roping;
        let side = if roping.role == Role::Drive {
            ""
        } else {
            " The sheave drives nothing: both sides carry the same."
        };
        let wraps: Vec<String> =
            self.wraps_rad().iter().map(|[from, to]| self.show(Quantity::Angle, to - from)).collect();
        let wrap = match &wraps[..] {
            [one] => format!("wrap {one}"),
            all => format!("wraps {}", all.join(" and ")),
        };
        let computed = matches!(load.given, Given::PerRope { computed: true, .. });
        if roping.role == Role::Secondary {
            return format!(
                "The tension between the passes, from the drive sheave's survey, as the part on the double wrap says; {} ropes, {wrap}.{side}",
                roping.ropes
            );
        }
        if computed {
            return format!(
                "Tensions of every rope at the tightest moment of its history over the travel; {} ropes, {wrap}.{side}",
                roping.ropes
            );
        }
        match (&load.given, &load.masses) {
            (Given::Masses, Some(m)) => format!(
                "From the masses: car {}, rated load {}, counterweight {}, roped {}:1 with {} ropes, {wrap}. T = g × suspended mass / (roping ratio × ropes) and the rope's own weight on its side, g = 9.81 m/s² (EN 81-20:2020, clause 4). The car stands at the lowest landing.{side}",
                mass(m.car_kg),
                mass(m.rated_kg),
                mass(m.counterweight_kg),
                roping.ratio,
                roping.ropes
            ),
            (Given::PerRope { .. }, _) => {
                format!("Tensions were measured on every rope; {} ropes, {wrap}.{side}", roping.ropes)
            }
            _ => format!("Tensions per rope are stated in the survey; {} ropes, {wrap}.{side}", roping.ropes),
        }
    }
}
