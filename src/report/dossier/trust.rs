//! How far the numbers may be trusted: meshes, series, balance.

use super::Dossier;
use crate::report::growth::growth_words;
use crate::report::paper::{Block, Figure};
use crate::report::pictures;
use crate::units::Kind as Quantity;

impl Dossier<'_> {
    pub(super) fn trust(&self, body: &mut Vec<Block>) {
        let convergence = &self.result.convergence;
        let governing = &self.result.governing;
        body.push(Block::heading(2, "How far to trust the numbers", "trust"));
        body.push(Block::text(format!(
            "Highest tension {}: the last mesh's error by the step from the mesh before, by the energy, and the larger of those by the elements and across the surface, all added, and what the last harmonics moved, {}.",
            self.survey.print.show_bounded(Quantity::Stress, governing.peak.principal_mpa[0], governing.bound_mpa),
            self.show(Quantity::Stress, governing.series_bound_mpa)
        )));
        let rows = convergence.meshes.iter().enumerate().map(|(index, step)| {
            let share = |mpa: f64| format!("{:.2} %", 100.0 * mpa / step.peak_mpa);
            vec![
                (index + 1).to_string(),
                step.quality.triangles.to_string(),
                format!("{:.1}°", step.quality.smallest_angle_deg),
                step.unknowns.to_string(),
                step.last_harmonic.to_string(),
                self.survey.print.worked(Quantity::Length, step.side_mm),
                self.survey.print.worked(Quantity::Stress, step.peak_mpa),
                step.step_error_mpa.map_or("–".into(), share),
                share(step.disagreement_error_mpa),
                step.surface_error_mpa.map_or("–".into(), share),
                format!("{:.1} %", 100.0 * step.energy_error),
                share(step.energy_error_mpa),
            ]
        });
        let heads = [
            ("mesh", true),
            ("triangles", true),
            ("smallest angle", true),
            ("unknowns", true),
            ("harmonics", true),
            (&format!("side at the peak, {}", self.survey.print.name(Quantity::Length)), true),
            (&format!("peak, {}", self.survey.print.name(Quantity::Stress)), true),
            ("error by the step", true),
            ("by the elements", true),
            ("across the surface", true),
            ("error in energy", true),
            ("by the energy", true),
        ];
        body.push(Block::table(&heads, rows.collect()));
        let caption = "The peak on one mesh after the other, with its error bar.".to_owned();
        if let Some(svg) = pictures::convergence(self.result, &self.survey.print, &caption) {
            body.push(Block::Figure(Figure { name: "convergence".into(), caption, svg }));
        }
        let blocks: Vec<String> = convergence
            .blocks
            .iter()
            .map(|block| {
                let peak = self.survey.print.worked_whole(Quantity::Stress, block.peak_mpa);
                format!("{peak} with {} harmonics", block.last_harmonic)
            })
            .collect();
        body.push(Block::note(format!("The series on the last mesh: {}.", blocks.join(", "))));
        let balance = &convergence.balance;
        body.push(Block::note(format!(
            "Balance: applied load against the load asked for, gap {:.0e}; reaction and work against load and energy, gap {:.0e}; allowed 1e-6. Strain energy {}, half the work of the loads {}.",
            convergence.resultant_gap,
            balance.gap,
            self.energy(balance.energy_nmm),
            self.energy(balance.work_nmm)
        )));
        for exclusion in &convergence.exclusions {
            body.push(Block::note(format!("Not searched: {}.", exclusion.reason)));
        }
        for growth in &convergence.growth {
            body.push(Block::note(growth_words(growth)));
        }
    }

    /// Joules, or inch-pounds beside inches.
    fn energy(&self, newton_mm: f64) -> String {
        let print = &self.survey.print;
        let of = |kind| print.unit(kind).map_or(1.0, |unit| unit.to_inside(1.0));
        match (print.name(Quantity::Length), print.name(Quantity::Force)) {
            ("in", "lbf") => {
                format!("{:.5} in·lbf", newton_mm / (of(Quantity::Length) * of(Quantity::Force)))
            }
            _ => format!("{:.6} J", 1e-3 * newton_mm),
        }
    }
}
