//! How far to trust the numbers: meshes, harmonics, what was not searched, what verifies the features used.

use super::file::{Cell, Table};
use crate::manual::Citation;
use crate::report::growth::growth_words;
use crate::study::CheckResult;

pub(super) fn meshes(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "meshes",
        &[
            "mesh",
            "triangles",
            "nodes",
            "smallest angle (deg)",
            "unknowns",
            "last harmonic",
            "side at the peak (mm)",
            "peak (MPa)",
            "error by the step (MPa)",
            "error by the elements (MPa)",
            "error by the surface (MPa)",
            "error in energy (share)",
            "error by the energy (MPa)",
            "error stated (MPa)",
        ],
    );
    for (index, step) in result.convergence.meshes.iter().enumerate() {
        table.row([
            Cell::Count(index + 1),
            Cell::Count(step.quality.triangles),
            Cell::Count(step.quality.nodes),
            step.quality.smallest_angle_deg.into(),
            Cell::Count(step.unknowns),
            Cell::Count(step.last_harmonic),
            step.side_mm.into(),
            step.peak_mpa.into(),
            step.step_error_mpa.into(),
            step.disagreement_error_mpa.into(),
            step.surface_error_mpa.into(),
            step.energy_error.into(),
            step.energy_error_mpa.into(),
            step.error_mpa.into(),
        ]);
    }
    table
}

pub(super) fn harmonics(result: &CheckResult) -> Table {
    let heads = ["harmonics up to", "peak (MPa)", "change against the block before (share)"];
    let mut table = Table::new("harmonics", &heads);
    for (index, block) in result.convergence.blocks.iter().enumerate() {
        // The first block has no block before it.
        let change = (index > 0).then_some(block.change);
        table.row([Cell::Count(block.last_harmonic), block.peak_mpa.into(), change.into()]);
    }
    table
}

pub(super) fn left_out(result: &CheckResult) -> Table {
    let mut table = Table::new("not_searched", &["why", "distance left out (mm)"]);
    for exclusion in &result.convergence.exclusions {
        table.row([Cell::text(&exclusion.reason), exclusion.distance_mm.into()]);
    }
    for growth in &result.convergence.growth {
        table.row([Cell::text(growth_words(growth)), Cell::Empty]);
    }
    table
}

pub(super) fn verified(citations: &[Citation]) -> Table {
    let heads = ["group", "feature used", "cases of rimproof verify", "outside analyses", "covered"];
    let mut table = Table::new("verified_by", &heads);
    for citation in citations {
        table.row([
            Cell::text(citation.group),
            Cell::text(citation.feature),
            Cell::text(citation.cases.join(" ")),
            Cell::text(citation.outside.join(" ")),
            Cell::yes(!citation.is_open()),
        ]);
    }
    table
}
