//! The set-up of an elastic problem in words, every number taken from the model itself.

use crate::elastic::{Around, Field, Law, Model, Pattern};

/// Material, supports and loads, one sentence each.
#[must_use]
pub fn setting(model: &Model) -> Vec<String> {
    let iron = &model.iron;
    let mut material = format!("Material: E = {} MPa, ν = {}", digits(iron.young_mpa), digits(iron.poisson));
    if model.patterns.iter().any(|p| matches!(p, Pattern::Spin { .. })) {
        material += &format!(", density {} kg/m³", digits(iron.density_t_mm3 * 1e12));
    }
    if model.patterns.iter().any(|p| matches!(p, Pattern::Thermal { .. })) {
        material += &format!(", expansion {} per K", digits(iron.expansion_per_k));
    }
    let mut lines = vec![material + "."];
    for support in &model.supports {
        let names = ["radial", "circumferential", "axial"];
        let held: Vec<&str> = names
            .into_iter()
            .zip(support.hold.flags())
            .filter(|(_, held)| *held)
            .map(|(name, _)| name)
            .collect();
        lines.push(format!("Support: '{}' does not move ({}).", support.tag, held.join(", ")));
    }
    if model.supports.is_empty() {
        lines.push("Support: none; the loads balance.".to_owned());
    }
    for case in &model.cases {
        for term in &case.terms {
            lines.push(format!("Load: {}, {}.", load(&model.patterns[term.pattern]), course(&term.around)));
        }
    }
    lines
}

fn load(pattern: &Pattern) -> String {
    let on = |tags: &[String]| tags.iter().map(|tag| format!("'{tag}'")).collect::<Vec<_>>().join(", ");
    let spread = |law: &Law| match law {
        Law::Cosine { centre } => {
            format!("spread by the cosine law about r {}, z {} mm", digits(centre.r), digits(centre.z))
        }
        Law::Uniform => "spread evenly".to_owned(),
    };
    match pattern {
        Pattern::Pressure { tags, value } => format!("pressure {} MPa on {}", field(value), on(tags)),
        Pattern::Traction { tags, value } => {
            let parts: Vec<String> = ["radial", "circumferential", "axial"]
                .into_iter()
                .zip(value)
                .filter(|(_, value)| **value != Field::default())
                .map(|(name, value)| format!("{name} {} MPa", field(value)))
                .collect();
            format!("traction {} on {}", parts.join(", "), on(tags))
        }
        Pattern::Spread { tags, .. } => format!("traction of the stated field on {}", on(tags)),
        Pattern::Body { .. } => "force through the volume of the stated field".to_owned(),
        Pattern::Bearing { tags, law } => {
            format!("1 N per radian towards the shaft on {}, {}", on(tags), spread(law))
        }
        Pattern::Drag { tags, law, moment_radius_mm } => format!(
            "drag with the moment of 1 N per radian at {} mm on {}, {}",
            digits(*moment_radius_mm),
            on(tags),
            spread(law)
        ),
        Pattern::Thermal { temperature } => format!("temperature {} K", field(temperature)),
        Pattern::Spin { rad_s } => format!("spin at {} rad/s", digits(*rad_s)),
    }
}

fn course(around: &Around) -> String {
    match around {
        Around::Constant => "the same all round".to_owned(),
        Around::Cos(1) => "times cos θ".to_owned(),
        Around::Cos(n) => format!("times cos {n}θ"),
        Around::Sin(1) => "times sin θ".to_owned(),
        Around::Sin(n) => format!("times sin {n}θ"),
        Around::Arc { from, to } => {
            format!("from θ = {}° to {}°", digits(from.to_degrees()), digits(to.to_degrees()))
        }
        Around::Stretches { stretches, run_in } => {
            let each: Vec<String> = stretches
                .iter()
                .map(|s| {
                    let (from, to) = (digits(s.from.to_degrees()), digits(s.to.to_degrees()));
                    let fall = if s.decay == 0.0 {
                        String::new()
                    } else {
                        format!("·exp({}(θ − {from}°))", digits(-s.decay))
                    };
                    format!("times {}{fall} from θ = {from}° to {to}°", digits(s.value))
                })
                .collect();
            let ends = if *run_in > 0.0 {
                format!(", its ends run in over {}°", digits(run_in.to_degrees()))
            } else {
                String::new()
            };
            each.join(", ") + &ends
        }
    }
}

fn field(value: &Field) -> String {
    let mut terms = Vec::new();
    if value.at != 0.0 || (value.by_r == 0.0 && value.by_z == 0.0) {
        terms.push(digits(value.at));
    }
    for (slope, name) in [(value.by_r, "r"), (value.by_z, "z")] {
        if slope != 0.0 {
            terms.push(format!("{}·{name}", digits(slope)));
        }
    }
    terms.join(" + ")
}

/// At most six significant digits, without trailing zeros.
pub(super) fn digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let size = value.abs().log10().floor() as i32;
    if !(-4..=7).contains(&size) {
        let text = format!("{value:.5e}");
        let (number, exponent) = text.split_once('e').unwrap_or((&text, "0"));
        return format!("{}e{exponent}", number.trim_end_matches('0').trim_end_matches('.'));
    }
    let decimals = (5 - size).max(0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_lose_no_more_than_their_noise() {
        for (value, text) in [
            (0.0, "0"),
            (110e3, "110000"),
            (0.26, "0.26"),
            (-4.25, "-4.25"),
            (2.3e-4, "0.00023"),
            (1.1e-5, "1.1e-5"),
            (7_200.000_000_000_001, "7200"),
            (1.0 / 3.0, "0.333333"),
            (-90.000_000_01, "-90"),
        ] {
            assert_eq!(digits(value), text);
        }
    }
}
