//! Places of the rim in the trade's words.

use crate::geometry::Point;
use crate::section::{Section, tags};
use crate::survey::{Survey, Wheel};

/// For instance "slot corner of groove 3, over the web, 28° inside the heavy end of the wrap".
pub(crate) fn place_words(survey: &Survey, section: &Section, at: Point, theta: f64) -> String {
    let part = part_words(section, at);
    let web = web_words(survey, at);
    let angle = angle_words(survey.roping.wrap_rad, theta);
    [Some(part), web, Some(angle)].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn part_words(section: &Section, at: Point) -> String {
    let nearest = section
        .outline
        .edges()
        .map(|edge| (edge.distance(at), section.outline.tag_name(edge)))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((distance, tag)) = nearest else { return "inside the iron".into() };
    let groove = section
        .grooves
        .iter()
        .min_by(|a, b| (a.z_mm - at.z).abs().total_cmp(&(b.z_mm - at.z).abs()))
        .map_or(1, |groove| groove.number);
    let words = match tag {
        tags::UNDERSIDE => format!("{} under groove {groove}", tags::words(tag)),
        tags::LAND => format!("land beside groove {groove}"),
        _ => tags::words(tag),
    };
    if distance > 0.05 { format!("inside the iron, {distance:.1} mm below the {words}") } else { words }
}

fn web_words(survey: &Survey, at: Point) -> Option<String> {
    let webs: Vec<(f64, f64)> = match &survey.wheel {
        Wheel::SolidDisc { .. } => Vec::new(),
        Wheel::OneWeb { web, .. } => vec![(web.place_mm, web.thickness_mm)],
        Wheel::TwoWebs { webs, .. } => webs.iter().map(|w| (w.place_mm, w.thickness_mm)).collect(),
        Wheel::BoltedRim { flange } => vec![(flange.place_mm, flange.thickness_mm)],
    };
    let name = if matches!(survey.wheel, Wheel::BoltedRim { .. }) { "flange" } else { "web" };
    let (aside, _) = webs
        .iter()
        .map(|(place, thickness)| ((at.z - place).abs() - 0.5 * thickness, *place))
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    if aside <= 0.0 {
        return Some(format!("over the {name}"));
    }
    Some(format!("{aside:.0} mm beside the {name}"))
}

fn angle_words(wrap_rad: f64, theta: f64) -> String {
    let (half, degrees) = (0.5 * wrap_rad.to_degrees(), theta.to_degrees());
    let (end, inside) = if degrees < 0.0 { ("heavy", degrees + half) } else { ("light", half - degrees) };
    if degrees.abs() < 0.01 * half {
        "in the middle of the wrap".into()
    } else if inside >= 0.0 {
        format!("{inside:.0}° inside the {end} end of the wrap")
    } else {
        format!("{:.0}° beyond the {end} end of the wrap", -inside)
    }
}
