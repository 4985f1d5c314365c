//! The sheave at values that differ from the survey's: its section, its tensions, its coarse and full analyses.

use super::Quantity;
use crate::chance::Spread;
use crate::hoist::{LoadCase, heavy_and_light, side_tensions_n};
use crate::material::Metal;
use crate::material::hardness::strength_mpa;
use crate::section::{Place, Section, State};
use crate::study::analysis::{Grid, Series, analyse, sizing};
use crate::study::refine::{Coarse, judge_first, refine};
use crate::study::sketch::Sketch;
use crate::study::{CheckFault, CheckResult};
use crate::survey::{Cut, Given, Role, StrengthDoubt, Survey, Underside, WallEntry};

/// The governing place with what may vary there.
pub(super) struct Wheel<'a> {
    pub survey: &'a Survey,
    pub metal: &'a Metal,
    pub section: &'a Section,
    state: State,
    place: Place,
    rated: LoadCase,
    /// Lowest hardness, where the strength comes from its band.
    hardness: Option<f64>,
    /// The strength in the middle of its distribution.
    pub strength_middle_mpa: f64,
    /// Least wall left at the governing place, where there is one.
    pub wall_left_mm: Option<f64>,
    /// The rope that the check takes for the hottest.
    pub worst_rope: usize,
    /// Ropes that may be the hottest.
    pub ropes: Vec<usize>,
    /// Spread of the tensions in the middle of its distribution.
    pub tension_spread: f64,
}

/// One sample's departure in geometry and loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Departure {
    /// What the wall is thicker (mm), before any cut.
    pub wall_mm: f64,
    pub cut_mm: f64,
    /// Tensions of the heavy and the light side over the survey's.
    pub levels: [f64; 2],
    pub tension_spread: f64,
    pub rope: usize,
}

impl<'a> Wheel<'a> {
    /// Relative hardness less one: usually 0.8 to 1.2, taken for two standard deviations.
    pub const RELATIVE_HARDNESS: Spread = Spread::Normal { sd: 0.1 };

    pub fn new(
        survey: &'a Survey,
        checked: &'a CheckResult,
        section: &'a Section,
        place: Place,
        rated: LoadCase,
    ) -> Self {
        let measured = matches!(survey.load.given, Given::PerRope { .. });
        let roped: Vec<usize> = (0..survey.grooves.count()).filter(|g| survey.grooves.roped[*g]).collect();
        let rope_of = |groove: usize| roped.iter().position(|at| at + 1 == groove).unwrap_or(0);
        let worst_rope = checked.loads.hottest_groove.map_or(0, rope_of);
        let stated = survey.doubt.hottest_groove.map(rope_of);
        let hardness = survey.material.hardness_hb.iter().copied().reduce(f64::min);
        let hardness = hardness.filter(|_| survey.doubt.strength_from == StrengthDoubt::HardnessBand);
        let tensile_mpa = checked.metal.tensile_mpa;
        Self {
            survey,
            metal: &checked.metal,
            section,
            state: checked.state,
            place,
            hardness,
            strength_middle_mpa: hardness.map_or(tensile_mpa, |hb| strength_mpa(hb, 1.0)),
            wall_left_mm: least_wall_mm(section),
            worst_rope,
            ropes: stated.map_or_else(|| (0..rated.heavy_n.len()).collect(), |rope| vec![rope]),
            // Measured tensions carry their own spread.
            tension_spread: if measured { 0.0 } else { survey.load.tension_spread },
            rated,
        }
    }

    /// The departure of a sample's row.
    pub fn departure(&self, row: &[f64]) -> Departure {
        let of = |quantity: Quantity| row[quantity as usize];
        let spread = self.tension_spread + of(Quantity::TensionSpread);
        let measured = matches!(self.survey.load.given, Given::PerRope { .. });
        let which = (of(Quantity::HottestRope) as usize).min(self.ropes.len() - 1);
        Departure {
            wall_mm: of(Quantity::Wall) + of(Quantity::SeatDepth),
            cut_mm: of(Quantity::CutDepth),
            levels: self.levels(of(Quantity::Heavy), of(Quantity::Light)),
            // The hottest rope is no cooler than the others.
            tension_spread: if measured { spread } else { spread.max(0.0) },
            rope: self.ropes[which],
        }
    }

    /// Logarithm of a row's strength over the one that the check uses.
    pub fn log_strength(&self, row: &[f64]) -> f64 {
        let off = row[Quantity::Strength as usize];
        match self.hardness {
            None => off,
            // Beyond the relation nothing is left of the strength; a hundredth keeps the logarithm finite.
            Some(hb) => (strength_mpa(hb, (1.0 + off).max(0.1)) / self.metal.tensile_mpa).max(0.01).ln(),
        }
    }

    /// Tensions of the heavy and light side over the survey's, for masses (or tensions) that differ by these parts.
    pub fn levels(&self, first: f64, second: f64) -> [f64; 2] {
        let pair = |first: f64, second: f64| match (&self.survey.load.given, &self.survey.load.masses) {
            (Given::Masses, Some(masses)) => {
                let mut other = masses.clone();
                other.car_kg *= 1.0 + first;
                other.counterweight_kg *= 1.0 + second;
                heavy_and_light(self.survey, side_tensions_n(self.survey, &other, masses.rated_kg, true, 0.0))
            }
            _ => {
                let sides =
                    [(1.0 + first) * self.rated.mean_heavy_n(), (1.0 + second) * self.rated.mean_light_n()];
                // A pulley has one tension; the larger of two readings of it would only lean to one side.
                let pulley = self.survey.roping.role != Role::Drive;
                heavy_and_light(self.survey, if pulley { [sides[0]; 2] } else { sides })
            }
        };
        let (now, other) = (pair(0.0, 0.0), pair(first, second));
        [other[0] / now[0], other[1] / now[1]]
    }

    pub fn case(&self, departure: &Departure) -> LoadCase {
        let mut case = self.rated.clone();
        case.heavy_n.iter_mut().for_each(|t| *t *= departure.levels[0]);
        case.light_n.iter_mut().for_each(|t| *t *= departure.levels[1]);
        if case.heavy_n.len() > 1 {
            case.with_hottest(departure.rope, departure.tension_spread)
        } else {
            case
        }
    }

    /// The survey and the section with another wall and another depth of the cut; `None` where no section can be
    /// built.
    pub fn built(&self, wall_mm: f64, cut_mm: f64) -> Option<(Survey, Section)> {
        let mut survey = self.survey.clone();
        match &mut survey.cut {
            Cut::CleanUp { allowance_mm } => *allowance_mm += cut_mm,
            Cut::ToDepth { depth_mm } => *depth_mm += cut_mm,
            Cut::None => {}
        }
        if let Underside::Draft { wall_mm: wall, .. } = &mut survey.walls.underside {
            *wall += wall_mm;
        }
        let mut place = self.place.clone();
        for entry in &mut place.walls {
            if let WallEntry::Wall(wall) = entry {
                *wall += wall_mm;
            }
        }
        if let Some(lines) = &mut place.lines {
            lines.wall_side.iter_mut().for_each(|point| point.r -= wall_mm);
        }
        let section = Section::build(&survey, self.state, &place).ok()?;
        Some((survey, section))
    }

    /// The mesh that all coarse analyses share.
    pub fn sketch(&self) -> Result<Sketch, CheckFault> {
        Sketch::new(self.survey, self.section, self.metal, &self.rated)
    }

    /// Least factors of one section under several cases, by coarse analyses that err alike.
    pub fn coarse(
        &self,
        (survey, section): (&Survey, &Section),
        cases: &[LoadCase],
        grid: Grid<'_>,
    ) -> Result<Vec<f64>, CheckFault> {
        let analysis = analyse(survey, section, self.metal, cases, grid, Series::Compare)?;
        Ok(analysis.worst.iter().map(|(_, factor)| *factor).collect())
    }

    /// Least factor at one departure by the whole analysis of a check: own coarse mesh, finer ones until the bar is
    /// within its limit.
    pub fn full(&self, survey: &Survey, section: &Section, case: &LoadCase) -> Result<f64, CheckFault> {
        let grid = Grid::Drawn(sizing(Vec::new()));
        let one = std::slice::from_ref(case);
        let coarse = Coarse::of(&analyse(survey, section, self.metal, one, grid, Series::Compare)?);
        let first = judge_first(survey, section, self.metal, case, &[], &coarse)?;
        // No stress decides here: the bar is only asked to be within its own limit.
        let refined = refine(survey, section, self.metal, case, (coarse, first), 0.0)?;
        Ok(refined.analysis.worst[0].1)
    }
}

fn least_wall_mm(section: &Section) -> Option<f64> {
    section.walls.iter().filter_map(|wall| wall.least_mm).reduce(f64::min)
}
