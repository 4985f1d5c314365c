//! Rope loads, diameters, and how far the numbers can be trusted.

use super::Page;
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
                "The first case is judged; the others are shown (first mesh; tension in {}). Wheel takes {} from the ropes.",
                self.survey.print.name(Quantity::Stress),
                force(loads.pulls_n)
            ),
            "",
            out,
        );
        for variant in &self.result.variants {
            self.paragraph(
                &format!("If instead the {}: {:+.1} %.", variant.name, 100.0 * variant.change),
                "- ",
                out,
            );
        }
        let facts = &self.result.facts;
        let length = |mm: f64| self.show(Quantity::Length, mm);
        let range = |get: fn(&crate::study::GrooveFacts) -> f64| {
            let values: Vec<f64> = facts.grooves.iter().map(get).collect();
            let (low, high) = (
                values.iter().copied().fold(f64::INFINITY, f64::min),
                values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
            );
            if high - low < 0.005 { length(low) } else { format!("{} to {}", length(low), length(high)) }
        };
        self.paragraph(
            &format!(
                "Pitch diameter as found {}, as judged {}.",
                range(|g| g.pitch_diameter_now_mm),
                range(|g| g.pitch_diameter_judged_mm)
            ),
            "",
            out,
        );
        let left = facts.cut_left_by_diameter_mm;
        let text = if left > 0.005 {
            format!("The pitch diameter leaves room for another cut of {} by its rule.", length(left))
        } else {
            "The pitch diameter leaves no room for a cut by its rule.".to_owned()
        };
        self.paragraph(&text, "", out);
        if let (Some(after), Some(before)) = (facts.car_speed_after_m_s, self.survey.roping.car_speed_m_s) {
            self.paragraph(
                &format!(
                    "Car speed {} becomes {} at the same motor speed.",
                    self.show(Quantity::Speed, before),
                    self.show(Quantity::Speed, after)
                ),
                "",
                out,
            );
        }
    }

    /// How the peak settled block by block on the last mesh, and what mesh and series leave.
    fn series(&self) -> String {
        let blocks: Vec<String> = self
            .result
            .convergence
            .blocks
            .iter()
            .map(|block| format!("{} up to harmonic {}", self.short_stress(block.peak_mpa), block.last_harmonic))
            .collect();
        let governing = &self.result.governing;
        format!(
            "Peak on the last mesh, block by block: {}. The bar of {} is {} from the mesh and {} from the series.",
            blocks.join(", "),
            self.show(Quantity::Stress, governing.bound_mpa),
            self.show(Quantity::Stress, governing.bound_mpa - governing.series_bound_mpa),
            self.show(Quantity::Stress, governing.series_bound_mpa)
        )
    }

    pub(super) fn trust(&self, out: &mut String) {
        let convergence = &self.result.convergence;
        self.title("How far to trust the numbers", out);
        let mut table = self.table(&["mesh", "triangles", "unknowns", "harmonics", "side at the peak", "peak", "mesh may err by"]);
        for (index, step) in convergence.meshes.iter().enumerate() {
            table.add_row(vec![
                format!("{}", index + 1),
                step.quality.triangles.to_string(),
                step.unknowns.to_string(),
                step.last_harmonic.to_string(),
                self.show(Quantity::Length, step.side_mm),
                self.show(Quantity::Stress, step.peak_mpa),
                self.show(Quantity::Stress, step.error_mpa),
            ]);
        }
        let _ = writeln!(out, "{table}");
        self.paragraph(&self.series(), "", out);
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
    }
}
