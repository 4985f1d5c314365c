//! The stress cycle of one turn, and surface cracks against the iron's toughness.

use super::Page;
use crate::strength::surface_crack::Shape;
use crate::study::{CrackDepth, Flaw, Turns};
use crate::units::Kind as Quantity;
use std::fmt::Write as _;

impl Page<'_> {
    pub(super) fn turns(&self, out: &mut String) {
        self.title("One turn of the wheel is one stress cycle", out);
        let Some(turns) = &self.result.turns else {
            self.paragraph(
                "Fatigue is not covered for this metal: the program has no endurance limit with a source for it.",
                "",
                out,
            );
            return;
        };
        self.paragraph(
            &format!(
                "Fatigue factor {:.1} ± {:.1} in the {}, the least over {} searched places and all planes. There the stress normal to the worst plane swings by {} to both sides of {}; it is lowest {:.0}° further around. Endurance limit {}, {:.1} times that of a machined bar in bending.",
                turns.least_factor,
                at_least_a_digit(turns.factor_bound),
                turns.words,
                turns.searched_nodes,
                self.show(Quantity::Stress, turns.amplitude_mpa),
                self.show(Quantity::Stress, turns.mean_mpa),
                (turns.lowest_at_rad - turns.highest_at_rad).to_degrees().rem_euclid(360.0),
                self.show(Quantity::Stress, turns.endurance_mpa),
                turns.endurance_mpa / turns.bar_endurance_mpa
            ),
            "",
            out,
        );
        self.paragraph(
            &format!(
                "Were a compressive mean given no credit at all, the factor would be {:.1}, in the {}.",
                turns.uncredited_factor, turns.uncredited_words
            ),
            "",
            out,
        );
        self.paragraph(&self.yearly(turns), "", out);
        self.paragraph(
            "The limit is a mean of machined bars at about 1 to 10 million cycles (from memory); how gray iron behaves beyond, at a hundred million turns, and what the skin and thickness of a casting take away has no published number here. So a factor above one passes nothing, and no life is promised. Starts, stops and shocks are not in it.",
            "",
            out,
        );
    }

    fn yearly(&self, turns: &Turns) -> String {
        let Some(yearly) = turns.turns_per_year else {
            return "Turns per year are not known: trips per day and travel are wanted in the survey.".into();
        };
        let million = 1e6;
        format!(
            "At most {:.1} million turns a year, every trip taken over the whole travel: ten million after {}, a hundred million after {}.",
            yearly / million,
            years(10.0 * million / yearly),
            years(100.0 * million / yearly)
        )
    }

    pub(super) fn flaws(&self, out: &mut String) {
        self.title("Surface cracks against the iron's toughness", out);
        self.paragraph(
            "A visible crack takes the wheel out of service, whatever the numbers say, and gray iron is not welded (common practice, no source). The depths below only tell how little warning the iron gives.",
            "! ",
            out,
        );
        if self.result.flaws.is_empty() {
            let text = match self.result.metal.toughness_n_mm15 {
                Some(_) => "No way leads through a wall at the highest tension, so no depth is told.",
                None => "No depth is told: the toughness of this metal is not known.",
            };
            self.paragraph(text, "", out);
            return;
        }
        for flaw in &self.result.flaws {
            self.flaw(flaw, out);
        }
        self.paragraph(
            "Depth at which K reaches K_Ic under the rated load at rest, at the worst angle of the turn and the worst direction along the surface. Long: edge crack in a strip (Tada, Paris & Irwin, from memory). Half-round: Newman & Raju, 1981 (from memory, stated to 5 %). Toughness: EN 1561 annex A, this grade and one grade higher. Stress through the wall taken as straight, and again as raised to the surface's own; the worse counts.",
            "",
            out,
        );
    }

    fn flaw(&self, flaw: &Flaw, out: &mut String) {
        let length = |mm: f64| self.show(Quantity::Length, mm);
        let stress = |mpa: f64| self.show(Quantity::Stress, mpa);
        let place = if flaw.chosen { "Chosen place" } else { "Highest tension" };
        self.paragraph(
            &format!(
                "{place}, {} (r = {}, z = {}): wall {}; surface {}, membrane {}, bending {}.",
                flaw.words,
                length(flaw.at.r),
                length(flaw.at.z),
                length(flaw.wall_mm),
                stress(flaw.surface_mpa),
                stress(flaw.membrane_mpa),
                stress(flaw.bending_mpa)
            ),
            "",
            out,
        );
        let mut table = self.table(&["crack", "K_Ic [N/mm^1.5]", "depth", "of the wall"]);
        for crack in &flaw.cracks {
            let name = match crack.shape {
                Shape::Long => "long along the surface",
                Shape::HalfRound => "half-round",
            };
            let (depth, share) = self.depth(crack, flaw.wall_mm);
            table.add_row(vec![name.into(), format!("{:.0}", crack.toughness_n_mm15), depth, share]);
        }
        let _ = writeln!(out, "{table}");
    }

    fn depth(&self, crack: &CrackDepth, wall_mm: f64) -> (String, String) {
        match (crack.depth_mm, crack.wall_share) {
            (Some(depth), Some(share)) => (self.show(Quantity::Length, depth), format!("{share:.2}")),
            _ => (
                format!("deeper than {}", self.show(Quantity::Length, crack.covered_wall_share * wall_mm)),
                format!("over {:.1}, beyond the published solution", crack.covered_wall_share),
            ),
        }
    }
}

/// A bound that would print as nothing stands as one unit of its last digit.
fn at_least_a_digit(bound: f64) -> f64 {
    bound.max(0.1)
}

fn years(years: f64) -> String {
    match years {
        y if y < 1.0 => format!("{:.0} months", (12.0 * y).max(1.0)),
        y if y < 10.0 => format!("{y:.1} years"),
        y => format!("{y:.0} years"),
    }
}
