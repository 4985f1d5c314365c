//! The thinnest wall around the rim from a few readings: a once-around harmonic through them.
//!
//! A core that shifted stays round, so the wall it leaves is t(θ) = t0 + a·cos θ + b·sin θ, whose thinnest
//! place is t0 − √(a² + b²). Owns the fit and its bound. Lacks the survey's table: angles and walls
//! are handed in, with solid and unmeasured stations left out.
//! Units: mm and rad.
//!
//! The stated reading error (plus or minus) is taken as two standard deviations of one reading.

use super::schema::{Station, WallEntry};
use crate::seeded::{Fault, planted};
use nalgebra::{Matrix3, Vector3};
use serde::Serialize;
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Standard deviations that the bound lies below the estimate without spare readings.
const EXACT_FACTOR: f64 = 2.0;

/// How the thinnest wall was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// More than three readings: fit, with a one-sided 95 % prediction bound.
    Fit,
    /// Exactly three readings: the fit passes through them; the bound carries the reading error alone.
    Exact,
    /// Too few readings, or all of them in one part of the rim: the thinnest reading, with no bound.
    ThinnestReading,
}

/// The thinnest wall under one groove.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThinSpot {
    pub method: Method,
    /// Mean wall t0 around the rim; the mean of the readings when there is no fit.
    pub mean_mm: f64,
    /// √(a² + b²); zero when there is no fit.
    pub amplitude_mm: f64,
    /// Where the wall is thinnest, from 0 to 2π.
    pub thinnest_angle_rad: f64,
    /// t0 − √(a² + b²), or the thinnest reading when there is no fit.
    pub thinnest_mm: f64,
    /// Lower bound on a wall reading at the thinnest place; `None` when nothing bounds it.
    pub lower_bound_mm: Option<f64>,
    /// Standard deviation of the readings about the fit; `None` without spare readings.
    pub residual_sd_mm: Option<f64>,
    /// Readings beyond the three that the fit needs.
    #[serde(rename = "degrees_of_freedom")]
    pub dof: usize,
}

impl ThinSpot {
    /// Scale of the distribution that [`ThinSpot::lower_bound_mm`] is a quantile of (mm): Student's t about the
    /// estimate with spare readings, a normal one without.
    #[must_use]
    pub fn deviation_mm(&self) -> Option<f64> {
        let factor = if self.dof > 0 { student_95(self.dof) } else { EXACT_FACTOR };
        self.lower_bound_mm.map(|bound| (self.thinnest_mm - bound) / factor)
    }
}

/// Fits the wall readings under one groove: pairs of station angle (rad) and wall (mm).
///
/// Returns `None` without any reading. The bound at the thinnest place θ* is
/// t(θ*) − k·s·√(1 + xᵀ(XᵀX)⁻¹x), x = (1, cos θ*, sin θ*). With N > 3 readings k is Student's t at 95 %
/// one-sided with N − 3 degrees of freedom, and s the residual standard deviation, not below half
/// the reading error. With N = 3 no residual is left: s is half the reading error and k is 2.
///
/// ```
/// use rimproof::survey::thin_spot::thin_spot;
/// let quarter = std::f64::consts::FRAC_PI_2;
/// let walls = [13.0, 16.0, 19.0, 16.0].into_iter().enumerate();
/// let readings: Vec<_> = walls.map(|(i, wall)| (i as f64 * quarter, wall)).collect();
/// let spot = thin_spot(&readings, 0.5).unwrap();
/// assert!((spot.thinnest_mm - 13.0).abs() < 1e-12);
/// ```
pub fn thin_spot(readings: &[(f64, f64)], reading_error_mm: f64) -> Option<ThinSpot> {
    let thinnest = readings.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let count = readings.len();
    let Some(inverse) = normal_inverse(readings) else {
        return Some(ThinSpot {
            method: Method::ThinnestReading,
            mean_mm: readings.iter().map(|(_, wall)| wall).sum::<f64>() / count as f64,
            amplitude_mm: 0.0,
            thinnest_angle_rad: thinnest.0.rem_euclid(std::f64::consts::TAU),
            thinnest_mm: thinnest.1,
            lower_bound_mm: None,
            residual_sd_mm: None,
            dof: 0,
        });
    };
    let right: Vector3<f64> = readings.iter().map(|(angle, wall)| basis(*angle) * *wall).sum();
    let fit = inverse * right;
    let amplitude = fit.y.hypot(fit.z);
    // The wall is thinnest opposite to the direction (a, b).
    let angle = (-fit.z).atan2(-fit.y).rem_euclid(std::f64::consts::TAU);
    let estimate = fit.x - amplitude;
    let leverage = (basis(angle).transpose() * inverse * basis(angle)).x;
    let dof = count - 3;
    let reading_sd = reading_error_mm / 2.0;
    let residual_sd = (dof > 0).then(|| {
        let squares: f64 =
            readings.iter().map(|(angle, wall)| (wall - basis(*angle).dot(&fit)).powi(2)).sum();
        (squares / dof as f64).sqrt()
    });
    let spread = residual_sd.map_or(reading_sd, |sd| sd.max(reading_sd)) * (1.0 + leverage).sqrt();
    let factor = if dof > 0 { student_95(dof) } else { EXACT_FACTOR };
    Some(ThinSpot {
        method: if dof > 0 { Method::Fit } else { Method::Exact },
        mean_mm: fit.x,
        amplitude_mm: amplitude,
        thinnest_angle_rad: angle,
        thinnest_mm: estimate,
        lower_bound_mm: Some(estimate - factor * spread),
        residual_sd_mm: residual_sd,
        dof,
    })
}

/// The measured walls under one groove (counted from 0) with their station angles, rad and mm.
pub fn readings_at(stations: &[Station], groove: usize) -> Vec<(f64, f64)> {
    let wall_at = |station: &Station| match station.walls.get(groove) {
        Some(WallEntry::Wall(wall)) if planted(Fault::DegreesAsRadians) => {
            Some((station.angle_rad.to_degrees(), *wall))
        }
        Some(WallEntry::Wall(wall)) => Some((station.angle_rad, *wall)),
        Some(WallEntry::Solid | WallEntry::NotMeasured) | None => None,
    };
    stations.iter().filter_map(wall_at).collect()
}

fn basis(angle: f64) -> Vector3<f64> {
    Vector3::new(1.0, angle.cos(), angle.sin())
}

/// (XᵀX)⁻¹, unless the readings leave some harmonic undetermined.
fn normal_inverse(readings: &[(f64, f64)]) -> Option<Matrix3<f64>> {
    if readings.len() < 3 {
        return None;
    }
    let normal: Matrix3<f64> =
        readings.iter().map(|(angle, _)| basis(*angle) * basis(*angle).transpose()).sum();
    let values = normal.symmetric_eigenvalues();
    // The ratio is 7e-3 for three readings 45° apart, 1e-3 at 30° and 2e-4 at 20°. Below the limit a
    // reading error comes out some eight times larger, and nothing is known about the far side.
    (values.min() > 5e-3 * values.max()).then(|| normal.try_inverse()).flatten()
}

/// Student's t, 95 % one-sided.
fn student_95(dof: usize) -> f64 {
    // A distribution with at least one degree of freedom always exists.
    StudentsT::new(0.0, 1.0, dof as f64).map_or(f64::INFINITY, |t| t.inverse_cdf(0.95))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn stations(count: usize, mean: f64, shift: f64, phase: f64) -> Vec<(f64, f64)> {
        (0..count)
            .map(|i| {
                let angle = TAU * i as f64 / count as f64;
                (angle, mean + shift * (angle - phase).cos())
            })
            .collect()
    }

    #[test]
    fn the_thinnest_reading_misses_what_the_fit_finds() {
        // With the thinnest place midway between two of N equal stations the thinnest reading
        // misses 1 − cos(π/N) of the shift.
        for (count, missed) in [(3, 50.0), (4, 29.3), (6, 13.4), (8, 7.6), (12, 3.4)] {
            let phase = if count % 2 == 0 { TAU / 2.0 + TAU / 2.0 / count as f64 } else { 0.0 };
            let readings = stations(count, 16.0, 3.0, phase);
            let thinnest = readings.iter().map(|r| r.1).fold(f64::INFINITY, f64::min);
            let share = (thinnest - 13.0) / 3.0 * 100.0;
            assert!((share - missed).abs() < 0.06, "{count}: {share}");
            let spot = thin_spot(&readings, 0.5).unwrap();
            assert!((spot.thinnest_mm - 13.0).abs() < 1e-12, "{count}: {spot:?}");
            assert!((spot.mean_mm - 16.0).abs() < 1e-12);
            let opposite = (phase + TAU / 2.0).rem_euclid(TAU);
            assert!((spot.thinnest_angle_rad - opposite).abs() < 1e-9, "{count}: {spot:?}");
        }
    }

    #[test]
    fn uneven_stations_and_a_sine_are_recovered() {
        let wall = |angle: f64| 20.0 + 1.5 * angle.cos() - 2.0 * angle.sin();
        let readings: Vec<_> = [0.3, 1.9, 2.2, 4.0, 5.5].map(|angle| (angle, wall(angle))).to_vec();
        let spot = thin_spot(&readings, 0.4).unwrap();
        assert!((spot.thinnest_mm - 17.5).abs() < 1e-9 && spot.dof == 2);
        assert!((wall(spot.thinnest_angle_rad) - 17.5).abs() < 1e-9);
        assert!(spot.residual_sd_mm.unwrap() < 1e-9);
        assert!(spot.lower_bound_mm.unwrap() < 17.5);
    }

    #[test]
    fn bounds_follow_the_published_quantile() {
        // Four equal stations: leverage 1/4 + 2/4 = 3/4, Student's t with one degree 6.3138.
        let spot = thin_spot(&stations(4, 16.0, 3.0, 0.0), 0.5).unwrap();
        let expected = 13.0 - 6.313_752 * 0.25 * 1.75f64.sqrt();
        assert!((spot.lower_bound_mm.unwrap() - expected).abs() < 1e-5, "{spot:?}");
        assert!((spot.deviation_mm().unwrap() - 0.25 * 1.75f64.sqrt()).abs() < 1e-9, "{spot:?}");
        // Three equal stations: leverage 1, twice the standard deviation of the reading.
        let spot = thin_spot(&stations(3, 16.0, 3.0, 0.0), 0.5).unwrap();
        assert!((spot.lower_bound_mm.unwrap() - (13.0 - 0.5 * 2f64.sqrt())).abs() < 1e-9);
        assert_eq!(spot.method, Method::Exact);
    }

    #[test]
    fn a_scattered_set_uses_its_own_scatter() {
        let mut readings = stations(8, 16.0, 1.0, 0.0);
        for (index, reading) in readings.iter_mut().enumerate() {
            reading.1 += if index % 2 == 0 { 0.8 } else { -0.8 };
        }
        let spot = thin_spot(&readings, 0.1).unwrap();
        assert!(spot.residual_sd_mm.unwrap() > 0.8);
        assert!(spot.lower_bound_mm.unwrap() < spot.thinnest_mm - 1.6);
    }

    #[test]
    fn readings_in_one_spot_are_not_fitted() {
        for readings in [vec![(0.0, 14.0)], vec![(0.0, 14.0), (3.0, 12.0)], vec![(0.1, 14.0); 5]] {
            let spot = thin_spot(&readings, 0.5).unwrap();
            assert_eq!((spot.method, spot.lower_bound_mm), (Method::ThinnestReading, None));
            assert_eq!(spot.thinnest_mm, readings.iter().map(|r| r.1).fold(f64::INFINITY, f64::min));
        }
        let close: Vec<_> = [0.0, 0.1, 0.2, 0.3].map(|angle| (angle, 14.0)).to_vec();
        assert_eq!(thin_spot(&close, 0.5).unwrap().method, Method::ThinnestReading);
        assert!(thin_spot(&[], 0.5).is_none());
    }

    #[test]
    fn only_measured_walls_are_fitted() {
        let station = |angle_rad, entry| Station { angle_rad, walls: vec![WallEntry::Wall(9.0), entry] };
        let stations = [
            station(0.0, WallEntry::Wall(14.0)),
            station(1.0, WallEntry::Solid),
            station(2.0, WallEntry::NotMeasured),
        ];
        assert_eq!(readings_at(&stations, 1), [(0.0, 14.0)]);
        assert!(readings_at(&stations, 7).is_empty());
    }
}
