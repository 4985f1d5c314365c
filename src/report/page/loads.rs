//! Rope loads, and how far the numbers can be trusted.

use super::Page;
use crate::survey::Given;
use crate::units::Kind as Quantity;
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn loads(&self, out: &mut String) {
        let loads = &self.result.loads;
        let force = |n: f64| self.show(Quantity::Force, n);
        self.title("Rope loads", out);
        let mut table =
            self.table(&["case", "heavy side per rope", "light side per rope", "ratio", "tension", "factor"]);
        let stress = |mpa: f64| self.survey.print.number(Quantity::Stress, mpa);
        for (index, case) in loads.cases.iter().enumerate() {
            let result = index.checked_sub(1).and_then(|i| self.result.cases.get(i));
            let (peak, factor) = result.map_or(
                (self.result.governing.peak.principal_mpa[0], self.result.governing.least_factor),
                |r| (r.peak_mpa, r.least_factor),
            );
            table.add_row(vec![
                case.kind.name().to_owned(),
                force(case.mean_heavy_n()),
                force(case.mean_light_n()),
                format!("{:.3}", case.ratio()),
                stress(peak),
                format!("{factor:.1}"),
            ]);
        }
        let _ = writeln!(out, "{table}");
        self.paragraph(
            &format!(
                "The first case is judged; the others are shown (coarse mesh, corrected; tension in {}). Wheel takes {} from the ropes.",
                self.survey.print.name(Quantity::Stress),
                force(loads.pulls_n)
            ),
            "",
            out,
        );
        if matches!(self.survey.load.given, Given::PerRope { computed: false, .. })
            && self.survey.load.masses.is_some()
        {
            self.paragraph(
                "The tensions were measured for the first case; the cases from masses share them equally.",
                "",
                out,
            );
        }
        for variant in &self.result.variants {
            self.paragraph(
                &format!("If instead the {}: {:+.1} %.", variant.name, 100.0 * variant.change),
                "- ",
                out,
            );
        }
        self.emergency(out);
    }

    pub(super) fn trust(&self, out: &mut String) {
        let convergence = &self.result.convergence;
        self.title("How far to trust the numbers", out);
        let mut table = self.table(&[
            "mesh",
            "triangles",
            "smallest angle",
            "unknowns",
            "harmonics",
            "side at the peak [mm]",
            "peak [MPa]",
            "error by the step",
            "by the elements",
            "across the surface",
            "error in energy",
            "by the energy",
        ]);
        for (index, step) in convergence.meshes.iter().enumerate() {
            let share = |mpa: f64| format!("{:.2} %", 100.0 * mpa / step.peak_mpa);
            table.add_row(vec![
                format!("{}", index + 1),
                step.quality.triangles.to_string(),
                format!("{:.1}°", step.quality.smallest_angle_deg),
                step.unknowns.to_string(),
                step.last_harmonic.to_string(),
                format!("{:.3}", step.side_mm),
                format!("{:.3}", step.peak_mpa),
                step.step_error_mpa.map_or("-".into(), share),
                share(step.disagreement_error_mpa),
                step.surface_error_mpa.map_or("-".into(), share),
                format!("{:.1} %", 100.0 * step.energy_error),
                share(step.energy_error_mpa),
            ]);
        }
        let _ = writeln!(out, "{table}");
        let governing = &self.result.governing;
        let blocks = convergence.blocks.iter();
        let blocks: Vec<String> = blocks
            .map(|block| format!("{:.3} MPa with {} harmonics", block.peak_mpa, block.last_harmonic))
            .collect();
        self.paragraph(
            &format!(
                "The bound {} is the last mesh's error by the step, by the energy, and the larger of those by the elements and across the surface, {} together, and what the last harmonics moved, {}. By the step: the change from the mesh before, times q²/(1 - q²), q being the ratio of their sides. By the elements: a third of what neighbouring elements disagree about at the peak. Across the surface: what is left on a surface without load, where nothing should be. Error in energy: the root of the stress error's share of the energy in rim and web at the peak's angle, which steers the mesh away from the peak; by the energy: two thirds of its square, for what errs far away. Last mesh: {}.",
                self.show(Quantity::Stress, governing.bound_mpa),
                self.show(Quantity::Stress, governing.bound_mpa - governing.series_bound_mpa),
                self.show(Quantity::Stress, governing.series_bound_mpa),
                blocks.join(", "),
            ),
            "",
            out,
        );
        let balance = &convergence.balance;
        let loads = &self.result.loads;
        self.paragraph(
            &format!(
                "Applied rope load {}, vector sum of the rope pulls {}, shaft's reaction {}; applied load against the load asked for: gap {:.0e}; reaction and work against load and energy: gap {:.0e}; allowed 1e-6.",
                self.show(Quantity::Force, loads.applied_n),
                self.show(Quantity::Force, loads.pulls_n),
                self.show(Quantity::Force, loads.reaction_n),
                convergence.resultant_gap,
                balance.gap
            ),
            "",
            out,
        );
        self.paragraph(
            &format!(
                "Strain energy {:.6} J, half the work of the loads {:.6} J. The drag acts on the seats, a little below the rope's centre line: its moment is kept exact, which adds {:.3} % to the resultant.",
                1e-3 * balance.energy_nmm,
                1e-3 * balance.work_nmm,
                100.0 * (loads.applied_n / loads.pulls_n - 1.0)
            ),
            "",
            out,
        );
        for exclusion in &convergence.exclusions {
            self.paragraph(&format!("Not searched: {}.", exclusion.reason), "", out);
        }
        for growth in &convergence.growth {
            self.paragraph(&crate::report::growth::growth_words(growth), "", out);
        }
    }
}
