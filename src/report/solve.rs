//! The answer to an explicit model: as a page of plain text, and as JSON.

use super::Input;
use super::growth::growth_words;
use super::page::proof;
use crate::elastic::Resultant;
use crate::manual::Citation;
use crate::problem::{Answer, CaseAnswer, NamedStress, ProbeAnswer};
use serde::Serialize;
use std::fmt::Write;

/// The JSON file: what it is, which input it belongs to, and the answer.
#[derive(Serialize)]
struct File<'a> {
    schema: &'static str,
    program: Program,
    conventions: Conventions,
    input: &'a Input,
    verified_by: &'a [Citation],
    #[serde(flatten)]
    answer: &'a Answer,
}

#[derive(Serialize)]
struct Program {
    name: &'static str,
    version: &'static str,
}

#[derive(Serialize)]
struct Conventions {
    frame: &'static str,
    resultants: &'static str,
    sign: &'static str,
    units: &'static str,
}

/// The whole answer as one JSON document.
///
/// # Errors
/// When a value cannot be written, which no finite answer does.
pub fn solve_json(
    answer: &Answer,
    citations: &[Citation],
    input: &Input,
) -> Result<String, serde_json::Error> {
    let file = File {
        schema: "rimproof.solve/1",
        program: Program { name: "rimproof", version: env!("CARGO_PKG_VERSION") },
        conventions: Conventions {
            frame: "displacements and stresses in the cylindrical frame r, theta, z",
            resultants: "forces and moments about the origin in the Cartesian frame: x at theta = 0, z along the shaft",
            sign: "tension positive",
            units: "unit of every number stands in its key; keys without unit are plain numbers",
        },
        input,
        verified_by: citations,
        answer,
    };
    let mut text = serde_json::to_string_pretty(&file)?;
    text.push('\n');
    Ok(text)
}

/// The whole page. Writing into a string cannot fail, so the results of `writeln!` are dropped.
pub fn solve_page(answer: &Answer, citations: &[Citation]) -> String {
    let mut out = String::new();
    if !answer.title.is_empty() {
        let _ = writeln!(out, "{}\n", answer.title);
    }
    let mesh = &answer.mesh;
    let _ = writeln!(
        out,
        "Mesh      {} triangles, {} nodes; smallest angle {:.1}°, shortest side {:.3} mm",
        mesh.triangles, mesh.nodes, mesh.smallest_angle_deg, mesh.shortest_side_mm
    );
    series(&mut out, answer);
    for case in &answer.cases {
        one_case(&mut out, case);
    }
    if !answer.probes.is_empty() {
        probes(&mut out, answer);
    }
    if !answer.not_searched.is_empty() {
        let _ = writeln!(out, "\nNot searched for the highest tension");
        for part in &answer.not_searched {
            if part.distance_mm > 0.0 {
                let _ = writeln!(out, "  {} (within {:.2} mm)", part.reason, part.distance_mm);
            } else {
                let _ = writeln!(out, "  {}", part.reason);
            }
        }
    }
    if !answer.growth.is_empty() {
        let _ = writeln!(out, "\nGrowth of the stress where it has no finite value, mesh by mesh");
        let wrapped = textwrap::Options::new(100).initial_indent("  ").subsequent_indent("    ");
        for growth in &answer.growth {
            for line in textwrap::wrap(&growth_words(growth), &wrapped) {
                let _ = writeln!(out, "{line}");
            }
        }
    }
    let _ = writeln!(out, "\nVerified beforehand, case by case (rimproof verify reruns them here)");
    let wrapped = textwrap::Options::new(100)
        .initial_indent("  ")
        .subsequent_indent("    ")
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    for sentence in proof(citations) {
        for line in textwrap::wrap(&sentence, &wrapped) {
            let _ = writeln!(out, "{line}");
        }
    }
    out
}

fn series(out: &mut String, answer: &Answer) {
    let cost = &answer.cost;
    let _ = writeln!(
        out,
        "Series    up to harmonic {}, {} solved with {} unknowns each; largest residual {:.0e}",
        answer.last_harmonic, cost.harmonics_solved, cost.unknowns, cost.residual
    );
    if answer.blocks.len() > 1 {
        let steps: Vec<String> =
            answer.blocks.iter().map(|b| format!("{} {:.4}", b.last_harmonic, b.peak_mpa)).collect();
        let _ =
            writeln!(out, "          highest tension on the surface as it grew (MPa): {}", steps.join(", "));
    }
}

fn one_case(out: &mut String, case: &CaseAnswer) {
    let _ = writeln!(out, "\nCase      {}", case.name);
    let _ = writeln!(out, "  {:<10}{:>42}{:>45}", "", "force x, y, z (N)", "moment x, y, z (N mm)");
    let mut row = |name: &str, sum: &Resultant| {
        let _ = write!(out, "  {name:<10}");
        for value in sum.force_n {
            let _ = write!(out, "{:>14}", digits(value));
        }
        let _ = write!(out, "   ");
        for value in sum.moment_nmm {
            let _ = write!(out, "{:>14}", digits(value));
        }
        let _ = writeln!(out);
    };
    row("applied", &case.applied);
    row("reaction", &case.reaction);
    row("gap", &Resultant { force_n: case.force_gap_n, moment_nmm: case.moment_gap_nmm });
    let _ = writeln!(
        out,
        "  strain energy {} N mm, half the work of the loads {} N mm; largest relative gap {:.1e}",
        digits(case.strain_energy_nmm),
        digits(case.half_work_nmm),
        case.largest_relative_gap
    );
    let peak = &case.peak;
    let around = peak.theta_deg.map_or("all around".to_owned(), |theta| format!("θ {theta:.1}°"));
    let on = if peak.on.is_empty() {
        "inside the body".to_owned()
    } else {
        format!("on {}", peak.on.join(" and "))
    };
    let _ = writeln!(
        out,
        "  highest tension {:.4} MPa at r {:.3}, z {:.3} mm, {around}, {on}",
        peak.principal_mpa[0], peak.r_mm, peak.z_mm
    );
    let _ = writeln!(out, "  stress there    {}", components(&peak.stress_mpa));
}

fn probes(out: &mut String, answer: &Answer) {
    let _ = writeln!(out, "\nProbes    u, v, w are radial, circumferential, axial");
    for probe in &answer.probes {
        let ProbeAnswer { name, case, r_mm, z_mm, theta_deg, displacement_mm: [u, v, w], .. } = probe;
        let _ = writeln!(out, "  {name}: r {r_mm}, z {z_mm} mm, θ {theta_deg:.1}°, case {case}");
        let _ = writeln!(out, "    moved    u {u:.6}, v {v:.6}, w {w:.6} mm");
        let _ = writeln!(out, "    stress   {}", components(&probe.stress_mpa));
        let [first, second, third] = probe.principal_mpa;
        let _ = writeln!(out, "    principal {first:.4}, {second:.4}, {third:.4} MPa");
    }
}

fn components(s: &NamedStress) -> String {
    format!(
        "rr {:.4}, tt {:.4}, zz {:.4}, rt {:.4}, tz {:.4}, rz {:.4} MPa",
        s.rr, s.tt, s.zz, s.rt, s.tz, s.rz
    )
}

/// A number of any size in a few digits.
fn digits(value: f64) -> String {
    if value == 0.0 || (1e-3..1e7).contains(&value.abs()) {
        format!("{value:.3}")
    } else {
        format!("{value:.3e}")
    }
}
