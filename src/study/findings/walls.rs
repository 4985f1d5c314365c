//! The wall rule at every station and at the estimated thinnest place.

use super::Inputs;
use crate::section::Kind;
use crate::survey::{Underside, WallEntry};
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};

const RULE: &str =
    "wall left under every seat at least the rope diameter: common practice, no published source";

pub(super) fn checks(inputs: &Inputs) -> Vec<Check> {
    let mut list = Vec::new();
    let print = &inputs.survey.print;
    let rope = inputs.survey.roping.rope_diameter_mm;
    let show = |mm: f64| print.show(Quantity::Length, mm);
    let limit = Amount::of(Quantity::Length, rope);
    let thinnest = |kinds: fn(&Kind) -> bool| {
        let walls = inputs.places.iter().filter(|place| kinds(&place.kind)).flat_map(|place| {
            place.walls.iter().filter_map(|wall| Some((wall.least_mm?, wall.groove, place.name.clone())))
        });
        walls.min_by(|a, b| a.0.total_cmp(&b.0))
    };
    match thinnest(|kind| *kind != Kind::LowerBound) {
        Some((wall, groove, place)) => list.push(
            Check::compare("wall", "wall left", Standing::Practice, Sense::AtLeast, Amount::of(Quantity::Length, wall), limit)
                .basis(format!(
                    "least distance from the groove's lowest iron to the underside, thinnest of all: groove {groove}, {place}"
                ))
                .source(RULE)
                .remark(format!(
                    "The wall left under groove {groove} ({place}) is {}, less than the rope diameter {}.",
                    show(wall),
                    show(rope)
                ))
                .settle("A shallower cut leaves more wall; the engineer may judge a wall below the rule of practice on its stress."),
        ),
        None => list.push(Check::without_numbers(
            "wall",
            "wall left",
            Standing::Practice,
            Status::Noted,
            "Every groove stands over solid iron: the wall rule does not apply.",
        )),
    }
    if let Some(place) = inputs.places.iter().find(|place| place.kind == Kind::Thinnest)
        && let Some(fault) = &place.fault
    {
        list.push(Check::without_numbers(
            "wall_estimate",
            "wall at the estimated thinnest place",
            Standing::Strength,
            Status::Fails,
            format!("At the estimated thinnest place no rim is left: {fault}."),
        ));
    }
    if let Some((wall, groove, _)) = thinnest(|kind| *kind == Kind::LowerBound) {
        let found = Amount::of(Quantity::Length, wall);
        let name = "wall left at the lower bound";
        let mut check = Check::compare("wall_bound", name, Standing::Practice, Sense::AtLeast, found, limit)
            .basis(format!("groove {groove}, one-sided 95 % bound of the once-around fit"))
            .source(RULE)
            .remark(format!(
                "Between the stations the wall under groove {groove} may be as thin as {}.",
                show(wall)
            ))
            .settle(
                "Measure the wall at more stations, or search for the thin spot with an ultrasonic scan.",
            );
        if check.status == Status::Fails {
            check.status = Status::Open;
        }
        list.push(check);
    }
    list.extend(stations(inputs));
    list.extend(never_read(inputs));
    list
}

/// A groove beside the web whose wall was read nowhere: its underside is drawn from its neighbours'.
fn never_read(inputs: &Inputs) -> Option<Check> {
    let Underside::Stations { stations, .. } = &inputs.survey.walls.underside else { return None };
    let read = |groove: usize| {
        stations.iter().any(|station| station.walls.get(groove) != Some(&WallEntry::NotMeasured))
    };
    let beside = inputs.places.iter().flat_map(|place| &place.walls).filter(|wall| !wall.solid);
    let mut never: Vec<usize> = beside.map(|wall| wall.groove).filter(|groove| !read(groove - 1)).collect();
    never.sort_unstable();
    never.dedup();
    if never.is_empty() {
        return None;
    }
    let numbers = never.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    let (grooves, walls) = if never.len() == 1 { ("groove", "wall") } else { ("grooves", "walls") };
    Some(
        Check::without_numbers(
            "walls_read",
            "a wall read under every groove",
            Standing::Practice,
            Status::Open,
            format!("No {walls} under {grooves} {numbers} was read at any station; the underside there is drawn from the other grooves' walls and the draft."),
        )
        .settle(format!("Measure the wall under {grooves} {numbers}.")),
    )
}

/// With fewer than three stations nothing is known of the wall between them.
fn stations(inputs: &Inputs) -> Option<Check> {
    let survey = inputs.survey;
    if matches!(survey.walls.underside, Underside::Solid) {
        return None;
    }
    let count = inputs.around.stations;
    let fitted = inputs.around.thin_spots.iter().flatten().any(|spot| spot.lower_bound_mm.is_some());
    let basis = "core shift thins the wall once around the rim; a fit needs three stations at least";
    let check = Check::compare(
        "stations",
        "stations around the rim",
        Standing::Practice,
        Sense::AtLeast,
        Amount::plain(count as f64),
        Amount::plain(3.0),
    )
    .basis(basis)
    .source("three unknowns of a once-around harmonic: arithmetic")
    .settle("Measure the wall under each groove at three stations or more, spread around the rim.");
    if survey.walls.thin_spot_found {
        let remark = "The survey says that the thin spot was searched for and is among the readings.";
        return Some(Check { status: Status::Noted, ..check }.remark(remark));
    }
    if count >= 3 && !fitted {
        return Some(
            Check { status: Status::Open, ..check }
                .remark("The stations lie too close together to tell the wall on the far side of the rim."),
        );
    }
    Some(check.remark(format!(
        "The wall was read at {count} station{} only: the thinnest place around the rim is not known.",
        if count == 1 { "" } else { "s" }
    )))
}
