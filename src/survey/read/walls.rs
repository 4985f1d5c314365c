//! The walls of a survey: how they were read, and the underside of the rim.
//!
//! Owns their keys and stand-ins. Units inside: mm and rad.

use super::super::form::Bounds::{self, Between, Positive};
use super::super::form::{Field, Form, Section, Value, field, is_not_measured};
use super::super::profile;
use super::super::schema::*;
use super::grooves::entries;
use super::loads::MOST_GROOVES;
use super::{Folder, file_name, required};
use crate::units::Kind::{Angle, Length};

pub(super) const WALL_KEYS: &[&str] = &[
    "by",
    "reading",
    "from",
    "reading_error",
    "thin_spot",
    "draft",
    "wall",
    "at_groove",
    "station",
    "profile_corner_radius",
];
pub(super) const STATION_KEYS: &[&str] = &["angle", "wall", "groove_profile", "wall_profile"];

#[derive(Clone, Copy, PartialEq)]
enum By {
    Draft,
    Stations,
    Profiles,
    Solid,
}

const WALL: Field = field("wall", Length, Positive, "the wall under the groove");

pub(super) fn walls(
    form: &mut Form,
    root: &Section<'_>,
    grooves: Option<&Grooves>,
    folder: &Folder<'_>,
) -> Option<Walls> {
    let sec = required(form, root, "walls", WALL_KEYS);
    let kinds = [
        ("draft and wall", By::Draft),
        ("stations", By::Stations),
        ("profiles", By::Profiles),
        ("solid", By::Solid),
    ];
    let by = form.need_choice(&sec, "by", "how the iron below the grooves was measured", &kinds)?;
    let (used, name): (&[&str], _) = match by {
        By::Draft => (&["by", "reading", "from", "thin_spot", "draft", "wall", "at_groove"], kinds[0].0),
        By::Stations => {
            (&["by", "reading", "from", "reading_error", "thin_spot", "draft", "station"], kinds[1].0)
        }
        By::Profiles => {
            (&["by", "reading_error", "thin_spot", "station", "profile_corner_radius"], kinds[2].0)
        }
        By::Solid => (&["by"], kinds[3].0),
    };
    form.unused(&sec, WALL_KEYS, used, &format!("walls.by = \"{name}\""));
    let read_here = matches!(by, By::Draft | By::Stations);
    let reading = reading(form, &sec, read_here);
    let from = from(form, &sec, grooves, read_here);
    let error_field = field("reading_error", Length, Positive, "the error of one reading, plus or minus");
    let reading_error = if matches!(by, By::Solid | By::Draft) {
        form.quantity(&sec, error_field)
    } else {
        form.assume(
            &sec,
            error_field,
            0.5,
            "The reading error of the walls is taken as 0.5 mm, plus or minus.",
        )
    };
    let found = thin_spot(form, &sec, by);
    let draft = field("draft", Angle, Between(-0.6, 0.6, "from -34 to 34 deg"), "the draft of the underside");
    let drafted = |form: &mut Form| {
        form.assume(&sec, draft, 0.0, "The underside of the rim is taken to have no draft.")
    };
    let underside = match by {
        By::Solid => Some(Underside::Solid),
        By::Draft => {
            let (draft, wall) = (drafted(form), form.need(&sec, WALL));
            if form.get(&sec, "at_groove").is_none() {
                form.needed(
                    &sec,
                    "at_groove",
                    "the number of the groove under which the wall was measured",
                    "3",
                );
            }
            let most = grooves.map_or(MOST_GROOVES, |grooves| grooves.count() as u32);
            let groove = form.whole(&sec, "at_groove", 1, most);
            draft.zip(wall).zip(groove).map(|((draft_rad, wall_mm), at_groove)| Underside::Draft {
                draft_rad,
                wall_mm,
                at_groove: at_groove as usize,
            })
        }
        By::Stations => {
            let draft = drafted(form);
            let stations = stations(form, &sec, grooves);
            draft.zip(stations).map(|(draft_rad, stations)| Underside::Stations { draft_rad, stations })
        }
        By::Profiles => {
            let corner = form.assume(
                &sec,
                field("profile_corner_radius", Length, Positive, "the radius of inner corners"),
                0.5,
                "Inner corners of the measured profiles are given a radius of 0.5 mm.",
            );
            let stations = profile_stations(form, &sec, folder);
            stations.zip(corner).zip(reading_error).map(|((stations, corner_radius_mm), reading_error_mm)| {
                Underside::Profiles { stations, reading_error_mm, corner_radius_mm }
            })
        }
    };
    Some(Walls {
        reading: reading?,
        from: from?,
        reading_error_mm: reading_error,
        thin_spot_found: found?,
        underside: underside?,
    })
}

fn reading(form: &mut Form, sec: &Section<'_>, read_here: bool) -> Option<WallReading> {
    if form.get(sec, "reading").is_some() {
        return form.choice(
            sec,
            "reading",
            &[("radial", WallReading::Radial), ("least distance", WallReading::Least)],
        );
    }
    if read_here {
        form.assumed("walls.reading", "The wall readings are taken as distances along the radius.");
    }
    Some(WallReading::Radial)
}

/// Where readings start. With a slot the two answers differ by its depth, so it is asked.
fn from(form: &mut Form, sec: &Section<'_>, grooves: Option<&Grooves>, read_here: bool) -> Option<WallFrom> {
    let choices = [("seat", WallFrom::Seat), ("slot bottom", WallFrom::SlotBottom)];
    if form.get(sec, "from").is_some() {
        return form.choice(sec, "from", &choices);
    }
    let shapes = || grooves.into_iter().flat_map(|grooves| grooves.now.iter().chain(&grooves.cut_to));
    if read_here && shapes().any(|shape| matches!(shape, GrooveShape::Undercut { .. })) {
        form.needed(
            sec,
            "from",
            "whether the wall readings start at the seat's bottom or at the slot's bottom",
            "\"seat\" or \"slot bottom\"",
        );
        return None;
    }
    if read_here && shapes().any(|shape| matches!(shape, GrooveShape::V { .. })) {
        form.assumed("walls.from", "The wall readings are taken to start at the rope's lowest point, not at the root of the V, which is on the strict side.");
    }
    Some(WallFrom::Seat)
}

fn thin_spot(form: &mut Form, sec: &Section<'_>, by: By) -> Option<bool> {
    if form.get(sec, "thin_spot").is_some() {
        return form.choice(sec, "thin_spot", &[("estimate", false), ("found by scan", true)]);
    }
    if matches!(by, By::Stations | By::Profiles) {
        form.assumed(
            "walls.thin_spot",
            "The thin spot was not searched for; it is estimated from the stations.",
        );
    }
    Some(false)
}

fn need_stations<'t>(form: &mut Form, sec: &Section<'t>) -> Vec<Section<'t>> {
    let list = form.sections(sec, "station", STATION_KEYS);
    if list.is_empty() {
        let message = "No station [[walls.station]] is given.".to_string();
        form.error(
            "survey/needed",
            "walls.by",
            message,
            "add one [[walls.station]] for each place around the rim, three at least, evenly spread",
        );
    }
    list
}

const STATION_ANGLE: Field = field("angle", Angle, Bounds::Any, "the angle of the station around the rim");

fn stations(form: &mut Form, sec: &Section<'_>, grooves: Option<&Grooves>) -> Option<Vec<Station>> {
    let list = need_stations(form, sec);
    let read: Vec<Option<Station>> = list
        .iter()
        .map(|station| {
            form.unused(station, STATION_KEYS, &["angle", "wall"], "walls.by = \"stations\"");
            let angle = form.need(station, STATION_ANGLE);
            let walls = station_walls(form, station, grooves);
            Some(Station { angle_rad: angle?, walls: walls? })
        })
        .collect();
    let all: Option<Vec<Station>> = read.into_iter().collect();
    let measured = |station: &Station| station.walls.iter().any(|wall| matches!(wall, WallEntry::Wall(_)));
    if let Some(all) = &all
        && !all.is_empty()
        && !all.iter().any(measured)
    {
        form.error(
            "survey/needed",
            "walls.station",
            "No wall is measured at any station.".into(),
            "write at least one wall, or by = \"solid\" when the wheel is solid to the shaft",
        );
        return None;
    }
    all.filter(|all| !all.is_empty())
}

fn station_walls(
    form: &mut Form,
    station: &Section<'_>,
    grooves: Option<&Grooves>,
) -> Option<Vec<WallEntry>> {
    let Some(list) = form.entries(station, "wall") else {
        form.needed(
            station,
            "wall",
            "the walls under the grooves at this station",
            "[\"1.13 in\", \"solid\", \"not measured\"], one entry for each groove",
        );
        return None;
    };
    let read: Vec<Option<WallEntry>> =
        list.iter().map(|(path, value)| wall_entry(form, path, value)).collect();
    if let Some(count) = grooves.map(Grooves::count).filter(|count| *count != list.len()) {
        let path = station.path_of("wall");
        let message = format!("{path} has {} and the sheave has {count} grooves.", entries(list.len()));
        form.error("survey/list-length", &path, message, "write one entry for each groove, \"solid\" over a web and \"not measured\" where nothing was read");
        return None;
    }
    read.into_iter().collect()
}

fn wall_entry(form: &mut Form, path: &str, value: &Value<'_>) -> Option<WallEntry> {
    match value.get_ref().as_str() {
        Some(text) if is_not_measured(text) => Some(WallEntry::NotMeasured),
        Some(text) if text.trim().eq_ignore_ascii_case("solid") => Some(WallEntry::Solid),
        _ => form.read_quantity(value, path, WALL).map(WallEntry::Wall),
    }
}

fn profile_stations(form: &mut Form, sec: &Section<'_>, folder: &Folder<'_>) -> Option<Vec<ProfileStation>> {
    let list = need_stations(form, sec);
    let read: Vec<Option<ProfileStation>> = list
        .iter()
        .map(|station| {
            let used = ["angle", "groove_profile", "wall_profile"];
            form.unused(station, STATION_KEYS, &used, "walls.by = \"profiles\"");
            let angle = form.need(station, STATION_ANGLE);
            let mut side = |key: &str, what: &str| {
                let (name, _) = file_name(form, station, key, what)?;
                profile::read(form, folder, &name, &station.path_of(key), "radius")
            };
            let groove_side = side("groove_profile", "the measured line of the groove side");
            let wall_side = side("wall_profile", "the measured line of the wall side");
            let (groove_side, wall_side) = (groove_side?, wall_side?);
            profile::check_pair(form, &groove_side, &wall_side);
            Some(ProfileStation {
                angle_rad: angle?,
                groove_side: groove_side.points,
                wall_side: wall_side.points,
            })
        })
        .collect();
    read.into_iter().collect::<Option<Vec<_>>>().filter(|all| !all.is_empty())
}
