//! The page that a pocket calculator can follow.

use super::Dossier;
use crate::report::paper::{Block, Tone};
use crate::study::{HandRow, ThinRim};
use crate::units::Kind as Quantity;
use crate::verdict::Amount;

impl Dossier<'_> {
    pub(super) fn hand(&self, body: &mut Vec<Block>) {
        body.push(Block::heading(2, "By hand", "by-hand"));
        body.push(Block::text(
            "Each line can be followed with a pocket calculator; beside it stands what the program has, and the ratio of both. Lengths in mm, forces in N, stresses in MPa (N/mm²), angles in rad unless a degree sign follows.",
        ));
        let row = |row: &HandRow| {
            vec![
                row.what.to_owned(),
                row.how.clone(),
                in_si(row.by_hand),
                in_si(row.program),
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
        body.push(Block::text(format!(
            "The rim that overhangs the web on the side of groove{} {} is taken as a long thin cylinder, clamped at the web's face: wall t = {:.2} mm, radius of its middle R = {:.1} mm, β = (3(1 − ν²))^¼/√(R·t) = {:.5}/mm. Each rope presses with P = T/R at its distance a from the web, and bends the rim at the web with (P/β)·e^(−βa)·sin βa (half-infinite beam on an elastic foundation; own derivation, agrees with Hetényi's beams). Their sum is M = {:.0} N·mm per mm of circumference, and 6M/t² = {}. As a bare cantilever strip, M = Σ P·a = {:.0}: {}.",
            if grooves.len() > 1 { "s" } else { "" },
            grooves.join(", "),
            rim.wall_mm,
            rim.radius_mm,
            rim.decay_per_mm,
            rim.moment_n,
            self.show(Quantity::Stress, rim.stress_mpa),
            rim.strip_moment_n,
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
}

/// The number in the units of the formulas.
fn in_si(amount: Amount) -> String {
    let value = amount.value;
    match amount.kind {
        Some(Quantity::Force) => format!("{value:.1} N"),
        Some(Quantity::Length) => format!("{value:.2} mm"),
        Some(Quantity::Stress) => format!("{value:.3} MPa"),
        _ => format!("{value:.3}"),
    }
}
