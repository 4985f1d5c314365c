//! The places around the rim that are analysed: stations as read, and the estimated thinnest place.

use super::CheckFault;
use super::build::section_fault;
use crate::geometry::Point;
use crate::section::{Kind, Lines, Place, Section, SectionFault, State};
use crate::survey::thin_spot::{ThinSpot, readings_at, thin_spot};
use crate::survey::{ProfileStation, Station, Survey, Underside, WallEntry};

/// What the survey says about the walls around the rim.
pub(crate) struct Around {
    pub places: Vec<Place>,
    /// Once-around estimate per groove; `None` over the web or without readings.
    pub thin_spots: Vec<Option<ThinSpot>>,
    /// Number of stations with readings.
    pub stations: usize,
}

/// Places to analyse: every station, and with a fit the thinnest place and its lower bound.
///
/// # Errors
/// When a measured profile makes no section.
pub(crate) fn places(survey: &Survey) -> Result<Around, CheckFault> {
    let uniform = || Place { kind: Kind::Uniform, walls: Vec::new(), lines: None };
    match &survey.walls.underside {
        Underside::Solid => Ok(Around { places: vec![uniform()], thin_spots: Vec::new(), stations: 0 }),
        Underside::Draft { .. } => {
            Ok(Around { places: vec![uniform()], thin_spots: Vec::new(), stations: 1 })
        }
        Underside::Stations { stations, .. } => {
            let mut places: Vec<Place> = stations.iter().map(as_read).collect();
            let spots = fits(survey, stations);
            if wants_estimate(survey, &spots) {
                places.push(estimated(Kind::Thinnest, stations, &spots, |spot| Some(spot.thinnest_mm)));
                if spots.iter().flatten().any(|spot| spot.lower_bound_mm.is_some()) {
                    places.push(estimated(Kind::LowerBound, stations, &spots, |spot| spot.lower_bound_mm));
                }
            }
            Ok(Around { places, thin_spots: spots, stations: stations.len() })
        }
        Underside::Profiles { stations, reading_error_mm, corner_radius_mm } => {
            profiles(survey, stations, *reading_error_mm, *corner_radius_mm)
        }
    }
}

/// Without a scan for the thin spot, a fit through three stations or more tells where it is.
fn wants_estimate(survey: &Survey, spots: &[Option<ThinSpot>]) -> bool {
    !survey.walls.thin_spot_found && spots.iter().flatten().any(|spot| spot.lower_bound_mm.is_some())
}

fn as_read(station: &Station) -> Place {
    Place { kind: Kind::Station { angle_rad: station.angle_rad }, walls: station.walls.clone(), lines: None }
}

fn fits(survey: &Survey, stations: &[Station]) -> Vec<Option<ThinSpot>> {
    let error = survey.walls.reading_error_mm.unwrap_or(0.5);
    (0..survey.grooves.count()).map(|groove| thin_spot(&readings_at(stations, groove), error)).collect()
}

/// A place with every groove's own estimate at once: core shift thins them at the same angle.
fn estimated(
    kind: Kind,
    stations: &[Station],
    spots: &[Option<ThinSpot>],
    wall: impl Fn(&ThinSpot) -> Option<f64>,
) -> Place {
    let walls = spots
        .iter()
        .enumerate()
        .map(|(groove, spot)| {
            let estimate = spot.as_ref().and_then(|s| wall(s).or(Some(s.thinnest_mm)));
            let solid = stations.iter().any(|s| s.walls.get(groove) == Some(&WallEntry::Solid));
            match (estimate, solid) {
                (Some(wall), _) => WallEntry::Wall(wall),
                (None, true) => WallEntry::Solid,
                (None, false) => WallEntry::NotMeasured,
            }
        })
        .collect();
    Place { kind, walls, lines: None }
}

/// Profiles carry their own walls; the estimate moves the thinnest station's wall side outwards.
fn profiles(
    survey: &Survey,
    stations: &[ProfileStation],
    reading_error_mm: f64,
    corner_radius_mm: f64,
) -> Result<Around, CheckFault> {
    let points = |list: &[[f64; 2]]| list.iter().map(|[z, r]| Point::new(*r, *z)).collect::<Vec<_>>();
    let mut places = Vec::new();
    let mut read: Vec<Station> = Vec::new();
    let mut faulty: Vec<(Place, Vec<SectionFault>)> = Vec::new();
    for station in stations {
        let lines = Lines {
            groove_side: points(&station.groove_side),
            wall_side: points(&station.wall_side),
            reading_error_mm,
            corner_radius_mm,
        };
        let kind = Kind::Station { angle_rad: station.angle_rad };
        let place = Place { kind, walls: Vec::new(), lines: Some(lines) };
        match Section::build(survey, State::Now, &place) {
            Ok(section) => {
                let walls = section.walls.iter();
                let walls = walls.map(|wall| wall.radial_mm.map_or(WallEntry::Solid, WallEntry::Wall));
                read.push(Station { angle_rad: station.angle_rad, walls: walls.collect() });
            }
            Err(faults) => faulty.push((place.clone(), faults)),
        }
        places.push(place);
    }
    if !faulty.is_empty() {
        let number = |place: &Place| places.iter().position(|other| other.kind == place.kind).unwrap_or(0);
        let list: Vec<(usize, &Place, &[SectionFault])> =
            faulty.iter().map(|(place, faults)| (number(place), place, faults.as_slice())).collect();
        return Err(section_fault(&list, State::Now));
    }
    let spots = fits(survey, &read);
    if wants_estimate(survey, &spots) {
        let thinnest = |station: &Station| {
            let walls = station.walls.iter();
            walls
                .filter_map(|w| if let WallEntry::Wall(t) = w { Some(*t) } else { None })
                .fold(f64::INFINITY, f64::min)
        };
        let base = (0..read.len()).min_by(|a, b| thinnest(&read[*a]).total_cmp(&thinnest(&read[*b])));
        if let Some(base) = base {
            for (kind, bound) in [(Kind::Thinnest, false), (Kind::LowerBound, true)] {
                let wanted = |spot: &ThinSpot| {
                    if bound { spot.lower_bound_mm.unwrap_or(spot.thinnest_mm) } else { spot.thinnest_mm }
                };
                let lines = places[base]
                    .lines
                    .as_ref()
                    .map(|lines| moved(survey, lines, &read[base], &spots, &wanted));
                places.push(Place { kind, walls: Vec::new(), lines });
            }
        }
    }
    Ok(Around { places, thin_spots: spots, stations: stations.len() })
}

/// The wall side moved outwards by what each groove's estimate is thinner, linear between grooves.
fn moved(
    survey: &Survey,
    lines: &Lines,
    base: &Station,
    spots: &[Option<ThinSpot>],
    wanted: &impl Fn(&ThinSpot) -> f64,
) -> Lines {
    let mut shifts: Vec<(f64, f64)> = Vec::new();
    for (groove, entry) in base.walls.iter().enumerate() {
        if let (WallEntry::Wall(wall), Some(spot)) = (entry, &spots[groove]) {
            shifts.push((crate::section::groove_place_mm(survey, groove), (wall - wanted(spot)).max(0.0)));
        }
    }
    let shift = |z: f64| {
        let above = shifts.partition_point(|(place, _)| *place < z);
        match (above.checked_sub(1).and_then(|i| shifts.get(i)), shifts.get(above)) {
            (Some((z0, s0)), Some((z1, s1))) => s0 + (s1 - s0) * (z - z0) / (z1 - z0),
            (Some((_, s)), None) | (None, Some((_, s))) => *s,
            (None, None) => 0.0,
        }
    };
    let wall_side = lines.wall_side.iter().map(|p| Point::new(p.r + shift(p.z), p.z)).collect();
    Lines { wall_side, ..lines.clone() }
}
