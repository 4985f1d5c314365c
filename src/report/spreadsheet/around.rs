//! Around the rim: places, walls left, once-around fits, grooves.

use super::file::{Cell, Table};
use crate::section::Kind;
use crate::study::CheckResult;
use crate::survey::Survey;
use crate::survey::thin_spot::Method;

pub(super) fn places(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "places",
        &[
            "place",
            "known by",
            "angle from the chalk mark (deg)",
            "governs",
            "highest tension (MPa)",
            "factor on ultimate",
            "where",
            "no section because",
        ],
    );
    for (index, place) in result.places.iter().enumerate() {
        let (known, angle) = match place.kind {
            Kind::Station { angle_rad } => ("readings", Some(angle_rad.to_degrees())),
            Kind::Thinnest => ("once-around fit", None),
            Kind::LowerBound => ("95 % bound of the fit", None),
            Kind::Uniform => ("the same all around", None),
        };
        table.row([
            Cell::text(&place.name),
            Cell::text(known),
            angle.into(),
            Cell::yes(index == result.governing.place),
            place.peak_mpa.into(),
            place.factor.into(),
            Cell::maybe(place.peak_place.as_ref()),
            Cell::maybe(place.fault.as_ref()),
        ]);
    }
    table
}

pub(super) fn walls(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "walls_left",
        &[
            "place",
            "groove",
            "over the web",
            "least distance from the lowest iron (mm)",
            "along the radius from the seat (mm)",
        ],
    );
    for place in &result.places {
        for wall in &place.walls {
            table.row([
                Cell::text(&place.name),
                Cell::Count(wall.groove),
                Cell::yes(wall.solid),
                wall.least_mm.into(),
                wall.radial_mm.into(),
            ]);
        }
    }
    table
}

pub(super) fn thin_spots(result: &CheckResult) -> Table {
    let mut table = Table::new(
        "thin_spots",
        &[
            "groove",
            "by",
            "mean wall as found (mm)",
            "core shift (mm)",
            "thinnest wall as found (mm)",
            "thinnest at, from the chalk mark (deg)",
            "one-sided 95 % bound (mm)",
            "standard deviation about the fit (mm)",
            "spare readings",
        ],
    );
    for (index, spot) in result.thin_spots.iter().enumerate() {
        let Some(spot) = spot else { continue };
        let by = match spot.method {
            Method::Fit => "fit",
            Method::Exact => "exact fit of three readings",
            Method::ThinnestReading => "thinnest reading",
        };
        table.row([
            Cell::Count(index + 1),
            Cell::text(by),
            spot.mean_mm.into(),
            spot.amplitude_mm.into(),
            spot.thinnest_mm.into(),
            spot.thinnest_angle_rad.to_degrees().into(),
            spot.lower_bound_mm.into(),
            spot.residual_sd_mm.into(),
            Cell::Count(spot.dof),
        ]);
    }
    table
}

pub(super) fn grooves(survey: &Survey, result: &CheckResult) -> Table {
    let mut table = Table::new(
        "grooves",
        &[
            "groove",
            "carries a rope",
            "seat depth now (mm)",
            "seat depth judged (mm)",
            "pitch diameter now (mm)",
            "pitch diameter judged (mm)",
            "worn beyond the finished shape by (mm)",
        ],
    );
    for groove in &result.facts.grooves {
        let unclean = result.unclean.iter().find(|other| other.groove == groove.groove);
        table.row([
            Cell::Count(groove.groove),
            Cell::yes(survey.grooves.roped.get(groove.groove - 1) == Some(&true)),
            groove.depth_now_mm.into(),
            groove.depth_judged_mm.into(),
            groove.pitch_diameter_now_mm.into(),
            groove.pitch_diameter_judged_mm.into(),
            unclean.map(|groove| groove.beyond_mm).into(),
        ]);
    }
    table
}
