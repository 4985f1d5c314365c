//! A model written back as the file that a person could have written, with comments.
//!
//! Owns the layout. What the format cannot say is a fault and is never left out silently.

mod ropes;

use super::Extras;
use crate::elastic::{Around, Case, Field, Model, Pattern};
use crate::geometry::{Curve, Edge, Outline, Point};
use crate::mesh::Sizing;
use std::f64::consts::TAU;
use thiserror::Error;

/// Why a model has no form in the file.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WriteFault {
    #[error("case '{case}' has a load whose course around the body has no form in a model file: {course}")]
    Course { case: String, course: String },
    #[error("case '{case}' has a rope on {tags} that is not one rope's pressure with its own drag")]
    Rope { case: String, tags: String },
    #[error(
        "case '{case}' has a load that varies at will over the section, which has no form in a model file"
    )]
    Terms { case: String },
}

/// Writes a model with its probes, limits and options; reading the text gives the same problem.
///
/// # Errors
/// When a load has no form in the file.
pub fn write(model: &Model, extras: &Extras) -> Result<String, WriteFault> {
    let mut out = String::from(
        "# An elastic problem of a body of revolution. r is the distance from the shaft's axis, z runs\n\
         # along the shaft; theta is counted from the middle of the rope wrap. Units stand in the keys.\n\
         model = 1\n",
    );
    line(&mut out, "title", text(&model.title));
    let iron = &model.iron;
    out.push_str("\n[material]\n");
    line(&mut out, "young_mpa", number(iron.young_mpa));
    line(&mut out, "poisson", number(iron.poisson));
    line(&mut out, "density_kg_m3", number(iron.density_t_mm3 * 1e12));
    line(&mut out, "expansion_per_k", number(iron.expansion_per_k));
    for (index, edges) in model.outline.loops.iter().enumerate() {
        out.push_str(if index == 0 {
            "\n# The outside of the section, counter-clockwise with r to the right and z upwards.\n"
        } else {
            "\n# A hole in the section, clockwise.\n"
        });
        one_loop(&mut out, &model.outline, edges);
    }
    sizing(&mut out, &model.sizing);
    for support in &model.supports {
        out.push_str("\n[[support]]\n");
        line(&mut out, "tag", text(&support.tag));
        let names = ["r", "theta", "z"].iter().zip(support.hold.flags());
        let held: Vec<String> = names.filter(|(_, held)| *held).map(|(name, _)| text(name)).collect();
        line(&mut out, "hold", format!("[{}]", held.join(", ")));
    }
    for case in &model.cases {
        one_case(&mut out, model, case)?;
    }
    asked(&mut out, extras);
    Ok(out)
}

fn line(out: &mut String, key: &str, value: String) {
    out.push_str(&format!("{key} = {value}\n"));
}

/// The shortest decimal that reads back as the same number.
fn number(value: f64) -> String {
    format!("{value:?}")
}

fn text(value: &str) -> String {
    toml::Value::String(value.to_owned()).to_string()
}

fn texts(values: &[String]) -> String {
    format!("[{}]", values.iter().map(|value| text(value)).collect::<Vec<_>>().join(", "))
}

fn point(p: Point) -> String {
    format!("[{}, {}]", number(p.r), number(p.z))
}

fn one_loop(out: &mut String, outline: &Outline, edges: &[Edge]) {
    out.push_str("[[loop]]\n");
    if let Some(first) = edges.first() {
        line(out, "start", point(first.start));
    }
    out.push_str("edges = [\n");
    for edge in edges {
        let arc = match edge.curve {
            Curve::Line => String::new(),
            Curve::Arc { centre, sweep } => {
                let turn = if sweep > 0.0 { "left" } else { "right" };
                format!(", centre = {}, turn = \"{turn}\"", point(centre))
            }
        };
        let tag = text(outline.tag_name(edge));
        out.push_str(&format!("  {{ to = {}{arc}, tag = {tag} }},\n", point(edge.end)));
    }
    out.push_str("]\n");
}

fn sizing(out: &mut String, sizing: &Sizing) {
    out.push_str("\n# Sizes of elements: see the manual for what each one bounds.\n[mesh]\n");
    if sizing.largest_mm.is_finite() {
        line(out, "largest_mm", number(sizing.largest_mm));
    }
    line(out, "growth", number(sizing.growth));
    line(out, "fillet_step_deg", number(sizing.fillet_step_rad.to_degrees()));
    line(out, "arc_step_deg", number(sizing.arc_step_rad.to_degrees()));
    line(out, "through_wall", number(sizing.through_wall));
    if sizing.halvings > 0 {
        line(out, "halvings", sizing.halvings.to_string());
    }
    let list = |entries: Vec<String>| format!("[\n{}]", entries.concat());
    if !sizing.on_tags.is_empty() {
        let entry = |(tag, size): &(String, f64)| {
            format!("  {{ tag = {}, size_mm = {} }},\n", text(tag), number(*size))
        };
        line(out, "tag_sizes", list(sizing.on_tags.iter().map(entry).collect()));
    }
    if !sizing.at_points.is_empty() {
        let entry = |p: &crate::mesh::PointSize| {
            format!("  {{ at = {}, size_mm = {} }},\n", point(p.at), number(p.size_mm))
        };
        line(out, "point_sizes", list(sizing.at_points.iter().map(entry).collect()));
    }
}

fn one_case(out: &mut String, model: &Model, case: &Case) -> Result<(), WriteFault> {
    for term in &case.terms {
        let constant = term.around == Around::Constant;
        match &model.patterns[term.pattern] {
            Pattern::Pressure { tags, value } => {
                load(out, case, tags);
                line(out, "pressure_mpa", field(value));
                course(out, case, &term.around)?;
            }
            Pattern::Traction { tags, value } => {
                load(out, case, tags);
                let parts: Vec<String> = value.iter().map(field).collect();
                out.push_str("# Radial, circumferential, axial.\n");
                line(out, "traction_mpa", format!("[{}]", parts.join(", ")));
                course(out, case, &term.around)?;
            }
            Pattern::Spread { .. } | Pattern::Body { .. } => {
                return Err(WriteFault::Terms { case: case.name.clone() });
            }
            Pattern::Bearing { .. } => ropes::rope(out, model, case, term)?,
            // Written with its bearing; a drag by itself is no rope.
            Pattern::Drag { tags, .. } => ropes::belongs(model, case, term, tags)?,
            Pattern::Thermal { temperature } if constant => {
                out.push_str("\n[[heat]]\n");
                line(out, "case", text(&case.name));
                line(out, "at_k", number(temperature.at));
                line(out, "per_mm_r", number(temperature.by_r));
                line(out, "per_mm_z", number(temperature.by_z));
            }
            Pattern::Spin { rad_s } if constant => {
                out.push_str("\n[[spin]]\n");
                line(out, "case", text(&case.name));
                line(out, "rpm", number(rad_s * 60.0 / TAU));
            }
            Pattern::Thermal { .. } | Pattern::Spin { .. } => return Err(no_form(case, &term.around)),
        }
    }
    Ok(())
}

fn load(out: &mut String, case: &Case, tags: &[String]) {
    out.push_str("\n[[load]]\n");
    line(out, "case", text(&case.name));
    line(out, "tags", texts(tags));
}

fn field(value: &Field) -> String {
    if value.by_r == 0.0 && value.by_z == 0.0 {
        return number(value.at);
    }
    format!(
        "{{ at = {}, per_mm_r = {}, per_mm_z = {} }}",
        number(value.at),
        number(value.by_r),
        number(value.by_z)
    )
}

fn course(out: &mut String, case: &Case, around: &Around) -> Result<(), WriteFault> {
    let value = match around {
        Around::Constant => text("constant"),
        Around::Cos(n) => format!("{{ cos = {n} }}"),
        Around::Sin(n) => format!("{{ sin = {n} }}"),
        Around::Arc { from, to } => {
            let (from, to) = (number(from.to_degrees()), number(to.to_degrees()));
            format!("{{ from_deg = {from}, to_deg = {to} }}")
        }
        Around::Stretches { .. } => return Err(no_form(case, around)),
    };
    line(out, "around", value);
    Ok(())
}

fn no_form(case: &Case, around: &Around) -> WriteFault {
    WriteFault::Course { case: case.name.clone(), course: format!("{around:?}") }
}

fn asked(out: &mut String, extras: &Extras) {
    let series = &extras.series;
    out.push_str("\n# Harmonics are added block by block until the highest tension settles.\n[series]\n");
    line(out, "block", series.block.to_string());
    line(out, "least", series.least.to_string());
    line(out, "most", series.most.to_string());
    line(out, "tolerance", number(series.tolerance));
    if let Some(radius) = extras.search.below_r_mm {
        out.push_str("\n# Nothing below this radius counts for the highest tension.\n[search]\n");
        line(out, "below_r_mm", number(radius));
    } else if !extras.search.tags.is_empty() {
        out.push_str("\n[search]\n");
    }
    if !extras.search.tags.is_empty() {
        line(out, "tags", texts(&extras.search.tags));
    }
    for probe in &extras.probes {
        out.push_str("\n[[probe]]\n");
        line(out, "name", text(&probe.name));
        line(out, "at", point(probe.at));
        let angles: Vec<String> = probe.theta_rad.iter().map(|t| number(t.to_degrees())).collect();
        line(out, "theta_deg", format!("[{}]", angles.join(", ")));
        if let Some(case) = &probe.case {
            line(out, "case", text(case));
        }
    }
}

#[cfg(test)]
mod tests;
