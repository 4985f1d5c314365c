//! The response surfaces: logarithm of the least factor over wall, depth, ratio and spread of the tensions, one
//! surface for every rope that may be the hottest.

use super::DoubtFault;
use super::inputs::{Doubtful, Quantity};
use super::result::Tested;
use super::wheel::{Departure, Wheel};
use crate::chance::{Spread, Surface, monomials};
use crate::hoist::LoadCase;
use crate::study::CheckFault;
use rayon::prelude::*;

/// A departure as coordinates from −1 to 1 over the designed range.
type Coordinates = [f64; 4];

/// Walls along the range, in equal steps of the logarithm of the wall left; at those marked the depth varies too.
const WALLS: [(f64, bool); 6] =
    [(-1.0, false), (-0.6, true), (-0.2, false), (0.2, false), (0.6, true), (1.0, false)];
/// Ratio and spread of the tensions at every section.
const LOADS: [[f64; 2]; 6] = [[0.0, 0.0], [-1.0, 0.0], [1.0, 0.0], [0.0, -1.0], [0.0, 1.0], [1.0, 1.0]];
/// Highest powers: wall, depth, ratio, spread.
const POWERS: [i32; 4] = [3, 1, 2, 2];
/// Share of samples that may lie beyond the range on either side.
const BEYOND: f64 = 1e-3;
/// Most that the wall left is varied, as a part of itself.
const MOST: f64 = 0.6;
/// Standard deviations of depth and loads that the design covers.
const REACH: f64 = 3.0;

/// From the middle and the half width of a range to its coordinate; no width, no coordinate.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Range {
    middle: f64,
    half: f64,
}

impl Range {
    fn of(low: f64, high: f64) -> Self {
        Self { middle: f64::midpoint(low, high), half: 0.5 * (high - low) }
    }

    fn coordinate(self, value: f64) -> f64 {
        if self.half > 0.0 { (value - self.middle) / self.half } else { 0.0 }
    }

    fn value(self, coordinate: f64) -> f64 {
        self.middle + coordinate * self.half
    }
}

/// The surfaces before the coarse mesh's own error is taken off.
pub(super) struct Response {
    surfaces: Vec<Surface>,
    ranges: [Range; 4],
    pub analyses: usize,
    pub cases: usize,
}

/// The surfaces, corrected so that they give the check's factor at the check's values.
pub(super) struct Calibrated<'a> {
    response: &'a Response,
    log_correction: f64,
}

impl Response {
    /// Runs the designed coarse analyses and fits a surface for every rope.
    pub fn fit(wheel: &Wheel<'_>, list: &[Doubtful]) -> Result<Self, DoubtFault> {
        let ranges = ranges(wheel, list)?;
        let on = ranges.map(|range| range.half > 0.0);
        let walls = WALLS.into_iter().filter(|(x, _)| on[0] || *x == 1.0);
        let sections: Vec<[f64; 2]> = walls
            .flat_map(|(x, depth)| {
                let x = if on[0] { x } else { 0.0 };
                let depths: &[f64] = if on[1] && (depth || !on[0]) { &[-1.0, 0.0, 1.0] } else { &[0.0] };
                depths.iter().map(move |c| [x, *c])
            })
            .collect();
        let loads: Vec<[f64; 2]> =
            LOADS.into_iter().filter(|load| (0..2).all(|i| on[2 + i] || load[i] == 0.0)).collect();
        let sketch = wheel.sketch()?;
        let one = |[x, c]: &[f64; 2]| -> Result<Vec<f64>, DoubtFault> {
            let (wall_mm, cut_mm) = ranges_to_mm(wheel, &ranges, *x, *c);
            let (survey, section) = wheel.built(wall_mm, cut_mm).ok_or(DoubtFault::NoRange)?;
            let cases: Vec<LoadCase> = wheel
                .ropes
                .iter()
                .flat_map(|rope| loads.iter().map(|load| (*rope, *load)))
                .map(|(rope, [ratio, spread])| {
                    wheel.case(&Departure {
                        wall_mm,
                        cut_mm,
                        levels: [1.0, ranges[2].value(ratio).exp()],
                        tension_spread: ranges[3].value(spread),
                        rope,
                    })
                })
                .collect();
            Ok(wheel.coarse((&survey, &section), &cases, sketch.grid(&section))?)
        };
        let found = sections.par_iter().map(one).collect::<Result<Vec<_>, DoubtFault>>()?;
        let points: Vec<Vec<f64>> = sections
            .iter()
            .flat_map(|[x, c]| loads.iter().map(move |[ratio, spread]| vec![*x, *c, *ratio, *spread]))
            .collect();
        let powers = std::array::from_fn::<i32, 4, _>(|i| if on[i] { POWERS[i] } else { 0 });
        let mut surfaces = Vec::new();
        for index in 0..wheel.ropes.len() {
            let own = index * loads.len()..(index + 1) * loads.len();
            let values: Vec<f64> =
                found.iter().flat_map(|factors| factors[own.clone()].iter().map(|f| f.ln())).collect();
            surfaces.push(surface(&powers, &points, &values)?);
        }
        let cases = found.iter().map(Vec::len).sum();
        Ok(Self { surfaces, ranges, analyses: found.len(), cases })
    }

    /// With the correction from the coarse mesh to the refined one at the check's own values.
    pub fn calibrated(&self, wheel: &Wheel<'_>, refined_factor: f64) -> Result<Calibrated<'_>, CheckFault> {
        let case = wheel.case(&Departure {
            wall_mm: 0.0,
            cut_mm: 0.0,
            levels: [1.0, 1.0],
            tension_spread: wheel.tension_spread,
            rope: wheel.worst_rope,
        });
        let sketch = wheel.sketch()?;
        let coarse = wheel.coarse((wheel.survey, wheel.section), &[case], sketch.grid(wheel.section))?;
        Ok(Calibrated { response: self, log_correction: (refined_factor / coarse[0]).ln() })
    }

    /// As the coarse mesh has it.
    pub fn uncorrected(&self) -> Calibrated<'_> {
        Calibrated { response: self, log_correction: 0.0 }
    }

    /// Root mean square of the leave-out errors, the worst of the surfaces.
    pub fn left_out(&self) -> f64 {
        self.surfaces.iter().map(|surface| surface.left_out).fold(0.0, f64::max)
    }

    pub fn surfaces(&self) -> usize {
        self.surfaces.len()
    }

    /// The thinnest wall left that is analysed (mm).
    pub fn least_wall_mm(&self, wheel: &Wheel<'_>) -> Option<f64> {
        wheel.wall_left_mm.map(|wall| wall * self.ranges[0].value(-1.0).exp())
    }
}

/// A surface through one rope's results; where there is nothing but one result, it stands alone.
fn surface(powers: &[i32], points: &[Vec<f64>], values: &[f64]) -> Result<Surface, DoubtFault> {
    if powers.iter().all(|power| *power == 0) {
        return Ok(Surface::level(values[0], powers.len()));
    }
    Ok(Surface::fit(monomials(powers), points, values)?)
}

impl Calibrated<'_> {
    /// Logarithm of the least factor of a sample's row. Beyond the thinnest or the thickest wall analysed that wall's
    /// own counts.
    pub fn log_factor(&self, wheel: &Wheel<'_>, row: &[f64]) -> f64 {
        let departure = wheel.departure(row);
        let mut at = self.coordinates(wheel, &departure);
        at[0] = at[0].clamp(-1.0, 1.0);
        let which = wheel.ropes.iter().position(|rope| *rope == departure.rope).unwrap_or(0);
        self.response.surfaces[which].at(&at) + self.log_correction - departure.levels[0].ln()
            + wheel.log_strength(row)
            - (1.0 + row[Quantity::Bar as usize]).ln()
            + row[Quantity::Surface as usize]
    }

    /// Whether a row's wall is thinner than any that could be analysed.
    pub fn is_below(&self, wheel: &Wheel<'_>, row: &[f64]) -> bool {
        self.coordinates(wheel, &wheel.departure(row))[0] < -1.0
    }

    fn coordinates(&self, wheel: &Wheel<'_>, departure: &Departure) -> Coordinates {
        let ranges = &self.response.ranges;
        let left = wheel.wall_left_mm.map_or(0.0, |wall| {
            let left = (wall + departure.wall_mm - departure.cut_mm) / wall;
            if left > 0.0 { left.ln() } else { f64::NEG_INFINITY }
        });
        [
            ranges[0].coordinate(left),
            ranges[1].coordinate(departure.cut_mm),
            ranges[2].coordinate((departure.levels[1] / departure.levels[0]).ln()),
            ranges[3].coordinate(departure.tension_spread),
        ]
    }
}

/// Departures of wall and depth (mm) at two coordinates.
fn ranges_to_mm(wheel: &Wheel<'_>, ranges: &[Range; 4], x: f64, c: f64) -> (f64, f64) {
    let cut_mm = ranges[1].value(c);
    let wall_mm = wheel.wall_left_mm.map_or(0.0, |wall| wall * ranges[0].value(x).exp() - wall + cut_mm);
    (wall_mm, cut_mm)
}

/// The ranges of the four coordinates: logarithm of the wall left, depth, logarithm of the ratio, spread.
fn ranges(wheel: &Wheel<'_>, list: &[Doubtful]) -> Result<[Range; 4], DoubtFault> {
    let spread = |quantity: Quantity| list[quantity as usize].spread;
    let reach = |quantity: Quantity| match spread(quantity) {
        Spread::Normal { sd } => REACH * sd,
        _ => 0.0,
    };
    let cut = reach(Quantity::CutDepth);
    let varies = spread(Quantity::Wall).varies() || spread(Quantity::SeatDepth).varies() || cut > 0.0;
    let wall = match wheel.wall_left_mm.filter(|_| varies) {
        None => Range::default(),
        Some(wall) => {
            let out = -spread(Quantity::Wall).quantile(BEYOND) + reach(Quantity::SeatDepth).hypot(cut);
            let out = out.min(MOST * wall);
            // As thin as a section can still be built, with the cut at its deepest.
            let built = |by: f64| [-cut, 0.0, cut].iter().all(|c| wheel.built(c - by, *c).is_some());
            let (mut fits, mut fails) = (0.0, out);
            if built(out) {
                fits = out;
            }
            while !built(out) && fails - fits > 1e-3 * wall {
                let middle = f64::midpoint(fits, fails);
                if built(middle) { fits = middle } else { fails = middle }
            }
            if fits < 1e-2 * out {
                return Err(DoubtFault::NoRange);
            }
            Range::of((1.0 - fits / wall).ln(), (1.0 + out / wall).ln())
        }
    };
    let (heavy, light) = (reach(Quantity::Heavy), reach(Quantity::Light));
    let ratio = |heavy: f64, light: f64| {
        let [heavy, light] = wheel.levels(heavy, light);
        (light / heavy).ln()
    };
    // Both sides off by their most at once is rarer than either alone.
    let share = 0.5f64.sqrt();
    let low = ratio(share * heavy, -share * light).min(ratio(heavy, 0.0)).min(ratio(0.0, -light));
    let high = ratio(-share * heavy, share * light).max(ratio(-heavy, 0.0)).max(ratio(0.0, light));
    let middle = wheel.tension_spread;
    let off = reach(Quantity::TensionSpread);
    let measured = wheel.tension_spread == 0.0 && spread(Quantity::TensionSpread).varies();
    let least = if measured { middle - off } else { (middle - off).max(0.0) };
    let spreads = if off > 0.0 { Range::of(least, middle + off) } else { Range { middle, half: 0.0 } };
    let cut = if cut > 0.0 { Range::of(-cut, cut) } else { Range::default() };
    Ok([wall, cut, Range::of(low.min(high), high.max(low)), spreads])
}

/// What the surfaces miss, drawn as additional scatter.
#[derive(Debug, Clone, Copy)]
pub(super) struct Misfit {
    pub rms: f64,
    tests: usize,
}

impl Misfit {
    /// From the full analyses, and no less than the surfaces' own leave-out error.
    pub fn of(tested: &[Tested], left_out: f64) -> Self {
        let squares: f64 = tested.iter().map(|one| one.log_difference().powi(2)).sum();
        let rms = (squares / tested.len().max(1) as f64).sqrt().max(left_out);
        Self { rms, tests: tested.len() }
    }

    /// Student's t with as many degrees of freedom as analyses: few of them say little.
    pub fn spread(self) -> Spread {
        Spread::Student { scale: self.rms, dof: self.tests }
    }
}
