//! The thinnest wall from a few stations around the rim.

use super::sheet::Sheet;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::survey::Underside;
use crate::survey::thin_spot::{ThinSpot, readings_at, thin_spot};
use crate::units::{Kind, parse};
use std::fmt::Write;

const MISSED: Source = Source::exact(
    "wall t0 + e·cos θ with its thinnest place midway between two of N stations: missed is 1 − cos(π/N) of e",
);
const HARMONIC: Source = Source::exact("a first harmonic through readings of one: t0 − e");
const STUDENT: Source =
    Source::from_memory("Student's t, one-sided 95 %, N − 3 degrees of freedom (any statistical table)");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "thin-spot",
        title: "Thinnest wall from stations around the rim",
        chapter: Chapter::Measurements,
        about: "A round core that moved leaves a wall with one thin side. The thinnest reading misses a part of the \
                shift, the fit finds it; the bound below the fit uses Student's factor.",
        features: &[Feature::ThinSpot],
        run: direct,
    },
    Case {
        name: "thin-spot-of-a-survey",
        title: "Thinnest wall from a survey's stations",
        chapter: Chapter::Measurements,
        about: "The same walls written into surveys, angles in degrees and walls in inches with four decimals, and \
                read again.",
        features: &[Feature::ThinSpot, Feature::Units],
        run: through_a_survey,
    },
];

/// Stations and the part of the shift, in percent, that the thinnest reading misses at worst.
const STATIONS: [(usize, f64); 5] = [(3, 50.0), (4, 29.3), (6, 13.4), (8, 7.6), (12, 3.4)];

/// Angle of station `index` of `count`, in degrees.
fn station_deg(index: usize, count: usize) -> f64 {
    360.0 * index as f64 / count as f64
}

/// Where the wall is thinnest: midway between two stations, in degrees.
fn thinnest_deg(count: usize) -> f64 {
    180.0 / count as f64
}

/// The wall at a station for a mean `t0` and a shift `e`, in their unit.
fn wall(index: usize, count: usize, t0: f64, e: f64) -> f64 {
    t0 - e * (station_deg(index, count) - thinnest_deg(count)).to_radians().cos()
}

/// Part of the shift that the thinnest of the readings misses, in percent.
fn missed(readings: &[(f64, f64)], t0: f64, e: f64) -> f64 {
    let thinnest = readings.iter().map(|reading| reading.1).fold(f64::INFINITY, f64::min);
    (thinnest - (t0 - e)) / e * 100.0
}

fn fitted(readings: &[(f64, f64)], error_mm: f64) -> Result<ThinSpot, CaseFault> {
    thin_spot(readings, error_mm).ok_or_else(|| CaseFault::of("there are no readings"))
}

fn direct() -> Result<Record, CaseFault> {
    let (t0, e, error) = (16.0, 3.0, 0.5);
    let tolerance = Tolerance::Relative(1e-12);
    let reason = "readings without error, rounding only";
    let mut rows = Vec::new();
    for (count, share) in STATIONS {
        let readings: Vec<(f64, f64)> = (0..count)
            .map(|index| (station_deg(index, count).to_radians(), wall(index, count, t0, e)))
            .collect();
        let spot = fitted(&readings, error)?;
        let of = format!("{count} stations");
        let what = format!("{of}: part of the shift that the thinnest reading misses");
        rows.push(Row::new(what, "%", MISSED, share, missed(&readings, t0, e)).printed(1));
        let what = format!("{of}: thinnest wall by the fit, 16 − 3 mm");
        rows.push(Row::new(what, "mm", HARMONIC, t0 - e, spot.thinnest_mm).within(tolerance, reason));
        let what = format!("{of}: mean wall by the fit");
        rows.push(Row::new(what, "mm", HARMONIC, t0, spot.mean_mm).within(tolerance, reason));
        let what = format!("{of}: where it is thinnest");
        let computed = spot.thinnest_angle_rad.to_degrees();
        rows.push(Row::new(what, "°", HARMONIC, thinnest_deg(count), computed).within(tolerance, reason));
        // Equal stations give every place the leverage 3/N; the readings' own scatter is half the error.
        let spread = 0.5 * error * (1.0 + 3.0 / count as f64).sqrt();
        let factor = (spot.thinnest_mm - spot.lower_bound_mm.unwrap_or(f64::NAN)) / spread;
        let student = match count {
            4 => 6.314,
            6 => 2.353,
            8 => 2.015,
            12 => 1.833,
            _ => continue,
        };
        let what = format!("{of}: factor of the bound, in deviations of a further reading");
        rows.push(Row::new(what, "", STUDENT, student, factor).printed(3));
    }
    Ok(Record::of_rows(rows))
}

fn through_a_survey() -> Result<Record, CaseFault> {
    let (t0, e, step) = (1.0, 0.25, 1e-4);
    let inch = parse("1 in", Kind::Length).map_err(|fault| CaseFault::Other(fault.found))?.value;
    // Half a step in every wall moves mean by no more than that, and the harmonic by twice as much.
    let slip = 0.5 * step * inch;
    let mut rows = Vec::new();
    for (count, share) in STATIONS {
        let mut walls = String::from(
            "by = \"stations\"\nreading = \"radial\"\nfrom = \"seat\"\nreading_error = \"0.5 mm\"",
        );
        for index in 0..count {
            let wall = wall(index, count, t0, e);
            let _ = write!(
                walls,
                "\n\n[[walls.station]]\nangle = \"{} deg\"\nwall = [\"{wall:.4} in\", \"solid\", \"{wall:.4} in\"]",
                station_deg(index, count)
            );
        }
        let survey = Sheet { walls, ..Sheet::new(1000.0, 800.0, 3) }.read()?;
        let Underside::Stations { stations, .. } = &survey.walls.underside else {
            return Err(CaseFault::of("the stations were not read"));
        };
        let readings = readings_at(stations, 2);
        let spot = fitted(&readings, 0.5)?;
        let of = format!("{count} stations");
        let what = format!("{of}: part of the shift that the thinnest reading misses");
        rows.push(Row::new(what, "%", MISSED, share, missed(&readings, t0 * inch, e * inch)).printed(1));
        let reason = "every wall is written to 0.0001 in: once its half for the mean, twice for the harmonic";
        let what = format!("{of}: thinnest wall by the fit, 1 − 1/4 in");
        let row = Row::new(what, "mm", HARMONIC, 19.05, spot.thinnest_mm);
        rows.push(row.within(Tolerance::Absolute(3.0 * slip), reason));
        let what = format!("{of}: where it is thinnest");
        let computed = spot.thinnest_angle_rad.to_degrees();
        let turn = (2.0 * slip / (e * inch)).to_degrees();
        let reason = "every wall is written to 0.0001 in, which turns the harmonic by this over the shift";
        let row = Row::new(what, "°", HARMONIC, thinnest_deg(count), computed);
        rows.push(row.within(Tolerance::Absolute(turn), reason));
    }
    Ok(Record::of_rows(rows))
}
