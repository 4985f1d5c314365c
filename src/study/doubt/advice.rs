//! Which measurement would narrow the doubt, and by how much.

use super::inputs::{Doubtful, Quantity};
use super::response::Calibrated;
use super::result::{Band, Remedy};
use super::sample::Samples;
use super::wheel::Wheel;
use crate::chance::Spread;
use crate::survey::thin_spot::{Method, ThinSpot};
use crate::survey::{StrengthDoubt, Survey};

/// Stations that miss little of a core shift.
const STATIONS: usize = 8;
/// What a tensile test says of the casting, plus or minus: the program's own word, as for a measured strength.
const TESTED: f64 = 0.10;
/// What is called half.
const HALF: f64 = 0.5;

pub(super) struct Advice<'a> {
    list: &'a [Doubtful],
    samples: &'a Samples,
    surfaces: &'a Calibrated<'a>,
    wheel: &'a Wheel<'a>,
    survey: &'a Survey,
    spots: &'a [Option<ThinSpot>],
}

impl<'a> Advice<'a> {
    pub fn new(
        list: &'a [Doubtful],
        samples: &'a Samples,
        surfaces: &'a Calibrated<'a>,
        wheel: &'a Wheel<'a>,
        survey: &'a Survey,
        spots: &'a [Option<ThinSpot>],
    ) -> Self {
        Self { list, samples, surfaces, wheel, survey, spots }
    }

    fn band(&self, samples: &Samples) -> Band {
        samples.factors(self.surfaces, self.wheel).band()
    }

    /// What can be measured and is in doubt.
    fn measurable(&self) -> impl Iterator<Item = &Doubtful> {
        self.list.iter().filter(|one| one.spread.varies() && !one.quantity.is_own())
    }

    /// The samples with a quantity at its middle; the hottest rope where the check puts it.
    fn known(&self, samples: &Samples, quantity: Quantity) -> Samples {
        let worst = self.wheel.ropes.iter().position(|rope| *rope == self.wheel.worst_rope).unwrap_or(0);
        samples.known(quantity, if quantity == Quantity::HottestRope { worst as f64 } else { 0.0 })
    }

    /// Every single measurement, the best one first.
    pub fn remedies(&self, now: Band) -> Vec<Remedy> {
        let mut list: Vec<Remedy> = Vec::new();
        let mut add = |measurement: String, samples: Samples, stated_accuracy| {
            let band = self.band(&samples);
            let width_ratio = band.width() / now.width();
            list.push(Remedy { measurement, band, width_ratio, stated_accuracy });
        };
        for one in self.measurable() {
            let words = match one.quantity {
                Quantity::HottestRope => "hottest rope, known to run where it is worst".to_owned(),
                _ => format!("{}, known exactly", one.name),
            };
            add(words, self.known(self.samples, one.quantity), false);
        }
        if let Some(spread) = self.wall_by_stations() {
            let samples = self.samples.with(Quantity::Wall, spread);
            add(format!("walls, read at {STATIONS} stations evenly around the rim"), samples, true);
        }
        let untested = self.survey.material.tensile_mpa.is_none()
            && self.survey.doubt.strength.is_none()
            && self.survey.doubt.strength_from == StrengthDoubt::InUse;
        if untested {
            let samples = self.samples.with(Quantity::Strength, Spread::plus_or_minus(TESTED));
            let words =
                format!("tensile strength, tested on this casting's iron (± {:.0} %)", 100.0 * TESTED);
            add(words, samples, true);
        }
        list.sort_by(|a, b| a.width_ratio.total_cmp(&b.width_ratio));
        list
    }

    /// The wall's spread from eight stations with the same scatter; nothing where there are as many already.
    fn wall_by_stations(&self) -> Option<Spread> {
        let Spread::Student { scale, dof } = self.list[Quantity::Wall as usize].spread else { return None };
        let spot = self.spots.iter().flatten().find(|spot| {
            spot.method == Method::Fit && spot.dof == dof && spot.deviation_mm() == Some(scale)
        })?;
        if dof + 3 >= STATIONS {
            return None;
        }
        let reading = 0.5 * self.survey.walls.reading_error_mm.unwrap_or(0.0);
        let reading_sd = spot.residual_sd_mm.map_or(reading, |sd| sd.max(reading));
        // Evenly spread readings give every place the leverage 3/N.
        let scale = reading_sd * (1.0 + 3.0 / STATIONS as f64).sqrt();
        Some(Spread::Student { scale, dof: STATIONS - 3 })
    }

    /// One sentence: the measurement that halves the doubt, else the fewest together that do, else none.
    pub fn conclusion(&self, now: Band, remedies: &[Remedy]) -> String {
        let span = |band: Band| format!("{:.1}–{:.1}", band.p05, band.p95);
        if let Some(best) = remedies.iter().find(|remedy| remedy.width_ratio <= HALF) {
            return format!(
                "One measurement would halve the doubt: {}, would bring the factor's band from {} to {}.",
                best.measurement,
                span(now),
                span(best.band)
            );
        }
        let mut names: Vec<&str> = Vec::new();
        let mut samples = self.samples.clone();
        loop {
            let left = self.measurable().filter(|one| !names.contains(&one.name));
            let tried = left.map(|one| {
                let with = self.known(&samples, one.quantity);
                let band = self.band(&with);
                (one.name, with, band)
            });
            let Some((name, with, band)) = tried.min_by(|a, b| a.2.width().total_cmp(&b.2.width())) else {
                return "No measurement would halve the doubt, not even all together: what is left is the program's own."
                    .to_owned();
            };
            names.push(name);
            samples = with;
            if band.width() <= HALF * now.width() {
                return format!(
                    "No single measurement would halve the doubt; together they would: {}, with the factor's band from {} brought to {}.",
                    names.join(" and "),
                    span(now),
                    span(band)
                );
            }
        }
    }
}
