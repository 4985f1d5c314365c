//! Rules on the wheel: webs, hub, flange and their fillets against the rim.

use super::super::form::Form;
use super::super::read::Draft;
use super::super::schema::*;
use super::{length, unusual};

pub(super) fn check(draft: &Draft, form: &mut Form) {
    let Some(wheel) = &draft.wheel else { return };
    let underside = underside_radius(draft);
    solid(draft, wheel, form);
    match wheel {
        Wheel::SolidDisc { bore_radius_mm } => {
            let seats = draft.rim.as_ref().zip(draft.grooves.as_ref()).map(|(rim, grooves)| {
                rim.edge_radius_mm - grooves.seat_depth_mm.iter().copied().fold(0.0, f64::max)
            });
            if seats.is_some_and(|seats| *bore_radius_mm >= seats) {
                form.error(
                    "survey/bore-hub",
                    "wheel.bore",
                    "The bore is as wide as the circle of the seats.".into(),
                    "check the bore's diameter and its unit",
                );
            }
        }
        Wheel::OneWeb { web, hub } => {
            hub_rules(form, hub, underside);
            web_rules(form, draft.rim.as_ref(), web, hub, underside, 1);
        }
        Wheel::TwoWebs { webs, hub } => {
            hub_rules(form, hub, underside);
            for (index, web) in webs.iter().enumerate() {
                web_rules(form, draft.rim.as_ref(), web, hub, underside, index + 1);
            }
            let gap =
                webs[1].place_mm - webs[0].place_mm - (webs[0].thickness_mm + webs[1].thickness_mm) / 2.0;
            if gap <= 0.0 {
                form.error("survey/webs-overlap", "wheel.web[2].place", "The two webs overlap.".into(), "check their places, counted from the middle of the rim and negative towards groove 1, and their thicknesses");
            } else if gap < webs[0].rim_fillet_mm + webs[1].rim_fillet_mm {
                let message = format!(
                    "Between the webs there is {}, and their fillets need {}.",
                    length(form, gap),
                    length(form, webs[0].rim_fillet_mm + webs[1].rim_fillet_mm)
                );
                form.error(
                    "survey/fillet-too-large",
                    "wheel.web[2].rim_fillet",
                    message,
                    "check the fillets and the places of the webs",
                );
            }
        }
        Wheel::BoltedRim { flange } => flange_rules(form, draft.rim.as_ref(), flange, underside),
    }
}

/// A solid disc has no underside, and every other wheel has one.
fn solid(draft: &Draft, wheel: &Wheel, form: &mut Form) {
    let Some(walls) = &draft.walls else { return };
    let disc = matches!(wheel, Wheel::SolidDisc { .. });
    let no_underside = matches!(walls.underside, Underside::Solid);
    if disc && !no_underside {
        form.error(
            "survey/conflict",
            "walls.by",
            "The wheel is a solid disc, yet walls under the grooves are given.".into(),
            "write by = \"solid\", or another kind of wheel",
        );
    }
    if !disc && no_underside {
        form.error(
            "survey/conflict",
            "walls.by",
            "The walls are given as solid to the shaft, yet the wheel has an underside.".into(),
            "measure the wall under the grooves, or write kind = \"solid disc\" under [wheel]",
        );
    }
}

/// The smallest radius of the underside that the readings speak of.
fn underside_radius(draft: &Draft) -> Option<f64> {
    let (rim, grooves, walls) = (draft.rim.as_ref()?, draft.grooves.as_ref()?, draft.walls.as_ref()?);
    let under = |groove: usize, wall: f64| {
        rim.edge_radius_mm - grooves.seat_depth_mm.get(groove).unwrap_or(&0.0) - wall
    };
    let radii: Vec<f64> = match &walls.underside {
        Underside::Solid => Vec::new(),
        Underside::Draft { wall_mm, at_groove, .. } => vec![under(at_groove - 1, *wall_mm)],
        Underside::Stations { stations, .. } => stations
            .iter()
            .flat_map(|station| station.walls.iter().enumerate())
            .filter_map(|(groove, entry)| match entry {
                WallEntry::Wall(wall) => Some(under(groove, *wall)),
                WallEntry::Solid | WallEntry::NotMeasured => None,
            })
            .collect(),
        Underside::Profiles { stations, .. } => {
            stations.iter().flat_map(|station| station.wall_side.iter().map(|point| point[1])).collect()
        }
    };
    radii.into_iter().min_by(f64::total_cmp)
}

fn hub_rules(form: &mut Form, hub: &Hub, underside: Option<f64>) {
    if hub.bore_radius_mm >= hub.radius_mm {
        form.error(
            "survey/bore-hub",
            "wheel.bore",
            "The bore is not smaller than the hub.".into(),
            "check wheel.bore and wheel.hub_diameter: both are diameters",
        );
    }
    if let Some(underside) = underside.filter(|underside| hub.radius_mm >= *underside) {
        let message = format!(
            "The hub of {} reaches the underside of the rim, whose diameter is {}.",
            length(form, 2.0 * hub.radius_mm),
            length(form, 2.0 * underside)
        );
        form.error(
            "survey/hub-too-large",
            "wheel.hub_diameter",
            message,
            "check the hub's diameter, the rim edge, the seat depths and the walls",
        );
    }
}

/// What a web and a flange have in common where they meet the rim.
fn at_rim(form: &mut Form, rim: &Rim, (place, thickness, fillet): (f64, f64, f64), table: &str, name: &str) {
    let room = rim.width_mm / 2.0 - place.abs() - thickness / 2.0;
    if room < -1e-6 {
        let message = format!("{name} reaches {} beyond the side of the rim.", length(form, -room));
        form.error(
            "survey/web-outside-rim",
            &format!("{table}.place"),
            message,
            "check its place, counted from the middle of the rim, its thickness and the rim's width",
        );
    } else if room > 1e-6 && fillet > room {
        let message = format!(
            "Beside {} the rim goes on for {}, and the fillet of {} does not fit there.",
            name.to_lowercase(),
            length(form, room),
            length(form, fillet)
        );
        form.error("survey/fillet-too-large", &format!("{table}.rim_fillet"), message, "measure the fillet, the place and the thickness again; a web flush with the rim's side has no room beside it");
    }
}

fn web_rules(
    form: &mut Form,
    rim: Option<&Rim>,
    web: &Web,
    hub: &Hub,
    underside: Option<f64>,
    number: usize,
) {
    let table = format!("wheel.web[{number}]");
    if let Some(rim) = rim {
        at_rim(form, rim, (web.place_mm, web.thickness_mm, web.rim_fillet_mm), &table, "The web");
    }
    if let Some(height) = underside.map(|underside| underside - hub.radius_mm).filter(|height| *height > 0.0)
        && web.rim_fillet_mm + web.hub_fillet_mm > height
    {
        let message = format!(
            "The fillets of the web need {}, and between hub and rim there is {}.",
            length(form, web.rim_fillet_mm + web.hub_fillet_mm),
            length(form, height)
        );
        form.error(
            "survey/fillet-too-large",
            &format!("{table}.rim_fillet"),
            message,
            "check both fillets, the hub's diameter and the walls",
        );
    }
    let beside_hub = (web.place_mm - hub.place_mm).abs() + web.thickness_mm / 2.0 - hub.length_mm / 2.0;
    if beside_hub > 1e-6 {
        let text = format!("The web stands {} beyond the end of the hub.", length(form, beside_hub));
        unusual(
            form,
            "survey/web-beside-hub",
            &format!("{table}.place"),
            text,
            "check the places of web and hub, and the hub's length",
        );
    }
}

fn flange_rules(form: &mut Form, rim: Option<&Rim>, flange: &Flange, underside: Option<f64>) {
    let table = "wheel.flange";
    if let Some(rim) = rim {
        at_rim(form, rim, (flange.place_mm, flange.thickness_mm, flange.rim_fillet_mm), table, "The flange");
    }
    if flange.seating_radius_mm <= flange.inner_radius_mm {
        form.error(
            "survey/flange",
            "wheel.flange.seating_diameter",
            "The seating face ends inside the flange's own hole.".into(),
            "the seating diameter is the larger one, the inner diameter the smaller one",
        );
    }
    if let Some(underside) =
        underside.filter(|underside| flange.seating_radius_mm + flange.rim_fillet_mm > *underside)
    {
        let message = format!(
            "The seating face and its fillet reach {}, beyond the underside of the rim at {}.",
            length(form, 2.0 * (flange.seating_radius_mm + flange.rim_fillet_mm)),
            length(form, 2.0 * underside)
        );
        form.error(
            "survey/flange",
            "wheel.flange.seating_diameter",
            message,
            "check the seating diameter, the walls and the rim edge",
        );
    }
}
