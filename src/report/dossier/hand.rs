//! The page that a pocket calculator can follow.

use super::Dossier;
use crate::report::paper::{Block, Tone};
use crate::study::{HandRow, ThinRim, stress_factor, weight};
use crate::units::Kind as Quantity;
use crate::verdict::Amount;

impl Dossier<'_> {
    pub(super) fn hand(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "By hand", "by-hand"));
        let print = &self.survey.print;
        let name = |kind| print.name(kind);
        body.push(Block::text(format!(
            "Each line can be followed with a pocket calculator; beside it stands what the program has, and the ratio of both. Units: {} for lengths, {} for forces, {} for stresses, rad for angles unless a degree sign follows; a mass weighs {} (g = 9.81 m/s²).",
            name(Quantity::Length),
            name(Quantity::Force),
            name(Quantity::Stress),
            weight(print)
        )));
        let row = |row: &HandRow| {
            vec![
                row.what.to_owned(),
                row.how.clone(),
                self.worked(row.by_hand),
                self.worked(row.program),
                format!("{:.3}", row.ratio()),
            ]
        };
        let heads = [("what", false), ("how", false), ("by hand", true), ("program", true), ("ratio", true)];
        body.push(Block::table(&heads, self.by_hand.rows.iter().map(row).collect()));
        if let Some(rim) = &self.by_hand.thin_rim {
            self.thin_rim(rim, body);
        }
    }

    fn thin_rim(&self, rim: &ThinRim, body: &mut Vec<Block>) {
        body.push(Block::heading(3, "The thin rim beside the web", ""));
        let grooves: Vec<String> = rim.grooves.iter().map(ToString::to_string).collect();
        let print = &self.survey.print;
        let (length, force) = (print.name(Quantity::Length), print.name(Quantity::Force));
        let whole = |kind, value| print.worked_whole(kind, value);
        // A number per mm is as many per the survey's unit as that holds mm.
        let per_length = print.unit(Quantity::Length).map_or(1.0, |unit| unit.to_inside(1.0));
        body.push(Block::text(format!(
            "The rim that overhangs the web on the side of groove{} {} is taken as a long thin cylinder, clamped at the web's face: wall t = {}, radius of its middle R = {}, Poisson's ratio ν = {}, β = (3(1 − ν²))^¼/√(R·t) = {:.5}/{length}. Each rope presses with P = T/R at its distance a from the web, and bends the rim at the web with (P/β)·e^(−βa)·sin βa (half-infinite beam on an elastic foundation; own derivation, agrees with Hetényi's beams). Their sum is M = {} {force}·{length} per {length} of circumference, and 6M/t²{} = {}. As a bare cantilever strip, M = Σ P·a = {} {force}·{length} per {length}: {}.",
            if grooves.len() > 1 { "s" } else { "" },
            grooves.join(", "),
            whole(Quantity::Length, rim.wall_mm),
            whole(Quantity::Length, rim.radius_mm),
            self.result.metal.poisson,
            rim.decay_per_mm * per_length,
            print.worked(Quantity::Force, rim.moment_n),
            stress_factor(print),
            self.show(Quantity::Stress, rim.stress_mpa),
            print.worked(Quantity::Force, rim.strip_moment_n),
            self.show(Quantity::Stress, rim.strip_stress_mpa)
        )));
        let governing = &self.result.governing;
        let row = |name: &str, mpa: f64| {
            vec![
                name.to_owned(),
                self.show(Quantity::Stress, mpa),
                format!("{:.2}", mpa / rim.stress_mpa),
                format!("{:.2}", mpa / rim.strip_stress_mpa),
            ]
        };
        let mut rows = vec![row("highest tension anywhere", governing.peak.principal_mpa[0])];
        if let Some(wall) = &governing.wall {
            rows.push(row("through the whole wall at that place", wall.section_mpa));
        }
        let heads = [
            ("computed", false),
            ("stress", true),
            ("over the cylinder's", true),
            ("over the strip's", true),
        ];
        body.push(Block::table(&heads, rows));
        let caution = "An estimate of size, not of place: it knows no slots, no fillets and no end of the rim, and takes the load as the same all round. A ratio far from one asks for a look at the section, not for another number.";
        body.push(Block::Boxed { tone: Tone::Plain, blocks: vec![Block::note(caution)] });
    }

    /// A number with the digits and in the unit of the formulas.
    fn worked(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => self.survey.print.worked_whole(kind, amount.value),
            None => format!("{:.3}", amount.value),
        }
    }
}
