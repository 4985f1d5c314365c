//! What a survey says of the tension between its passes: grips, bounds, creep, and the history over the travel.

use super::super::rules::grip;
use crate::hoist::double_wrap::{
    ActiveArc, Between, History, Machine, Rope, Run, Steady, WrapFault, between_by, march, steady,
};
use crate::hoist::friction::{TractionCase, friction_factor};
use crate::hoist::load_cases;
use crate::section::{State, shape_of};
use crate::survey::{DoubleWrap, Survey};
use serde::Serialize;

/// Most cycles that are marched until one repeats the one before.
const MOST_CYCLES: usize = 120;

/// The tensions of a double wrap, rope by rope, car at rest with rated load.
#[derive(Debug, Clone, Serialize)]
pub struct Tensions {
    pub ropes: Vec<RopeTensions>,
    /// Over the travel, where stiffness, free lengths and travel are known.
    pub history: Option<History>,
    /// Whether the friction factor was stated; else it is the grooves' own with μ = 0.2.
    pub friction_stated: bool,
    /// Free lengths and stiffness of rope 1, where known.
    #[serde(skip)]
    pub span: Option<Span>,
}

/// Free length between the wheels, stiffness and turns of a run.
#[derive(Debug, Clone, Copy)]
pub struct Span {
    pub between_mm: f64,
    pub stiffness_n: f64,
}

/// One rope's two passes.
#[derive(Debug, Clone, Serialize)]
pub struct RopeTensions {
    /// Grooves of its first and second pass, from 1.
    pub grooves: [usize; 2],
    #[serde(rename = "pitch_radius_mm")]
    pub radii_mm: [f64; 2],
    #[serde(rename = "friction_factor")]
    pub friction: [f64; 2],
    pub wrap_rad: [f64; 2],
    /// Car's side and counterweight's side.
    pub outer_n: [f64; 2],
    pub bounds: Between,
    /// Active and idle arcs at the equal ratio.
    pub equal_ratio_arcs: [ActiveArc; 2],
    /// Settled in a long run up and a long run down, where the stiffness is known.
    pub creep: Option<[Steady; 2]>,
    pub measured_n: Option<f64>,
}

impl Tensions {
    /// Forms them for a survey with a double wrap in a state of its grooves.
    ///
    /// # Errors
    /// When the ropes slide at rated load, or lengths and stiffness make no history.
    pub fn of(survey: &Survey, wrap: &DoubleWrap, state: State) -> Result<Self, WrapFault> {
        let tensions = Self::at(survey, wrap, state, None)?;
        let history = history(survey, wrap, &tensions.ropes)?;
        Ok(Self { history, ..tensions })
    }

    /// As [`Tensions::of`] without a history; with `mismatch_mm` the second pass's pitch diameters are those of the
    /// first and as much more.
    ///
    /// # Errors
    /// When the ropes slide at rated load.
    pub fn at(
        survey: &Survey,
        wrap: &DoubleWrap,
        state: State,
        mismatch_mm: Option<f64>,
    ) -> Result<Self, WrapFault> {
        let Some(rated) = load_cases(survey).into_iter().next() else {
            let friction_stated = wrap.friction.is_some();
            return Ok(Self { ropes: Vec::new(), history: None, friction_stated, span: None });
        };
        let roped = survey.grooves.roped.iter().enumerate().filter(|(_, roped)| **roped);
        let roped: Vec<usize> = roped.map(|(groove, _)| groove).collect();
        let mut ropes = Vec::new();
        for rope in 0..survey.roping.ropes {
            let in_pass = |second: bool| {
                let found =
                    (0..roped.len()).find(|i| wrap.layout.rope_in(*i, survey.roping.ropes) == (rope, second));
                found.unwrap_or(0)
            };
            let places = [in_pass(false), in_pass(true)];
            let of_rope =
                RopeInWrap { survey, wrap, state, mismatch_mm, rope, grooves: places.map(|i| roped[i]) };
            ropes.push(of_rope.tensions([rated.heavy_n[places[0]], rated.light_n[places[1]]])?);
        }
        let span = wrap.stiffness_n.as_ref().zip(wrap.between_length_mm.as_ref());
        let span =
            span.map(|(stiffness, between)| Span { between_mm: between[0], stiffness_n: stiffness[0] });
        Ok(Self { ropes, history: None, friction_stated: wrap.friction.is_some(), span })
    }
}

struct RopeInWrap<'a> {
    survey: &'a Survey,
    wrap: &'a DoubleWrap,
    state: State,
    mismatch_mm: Option<f64>,
    rope: usize,
    grooves: [usize; 2],
}

impl RopeInWrap<'_> {
    fn tensions(&self, outer_n: [f64; 2]) -> Result<RopeTensions, WrapFault> {
        let (survey, wrap) = (self.survey, self.wrap);
        let shape = |groove: usize| shape_of(survey, self.state, groove);
        let mut radii_mm = self
            .grooves
            .map(|groove| survey.rim.edge_radius_mm - shape(groove).1 + 0.5 * survey.roping.rope_diameter_mm);
        if let Some(mismatch) = self.mismatch_mm {
            radii_mm[1] = radii_mm[0] + 0.5 * mismatch;
        }
        let friction = self.grooves.map(|groove| {
            let own = || friction_factor(grip(&shape(groove).0), TractionCase::Stalled).ok();
            wrap.friction.or_else(own).unwrap_or(f64::NAN)
        });
        let grips = [0, 1].map(|pass| friction[pass] * wrap.wrap_rad[pass]);
        let bounds = between_by(outer_n[0], outer_n[1], grips)?;
        let arc = |pass: usize, before: f64, after: f64| {
            ActiveArc::of(before, after, friction[pass], wrap.wrap_rad[pass])
        };
        let equal = bounds.equal_ratio_n;
        let settled = |run, stiffness| steady(run, outer_n, friction, wrap.wrap_rad, radii_mm, stiffness);
        let creep = match &wrap.stiffness_n {
            Some(list) => {
                Some([settled(Run::CarUp, list[self.rope])?, settled(Run::CarDown, list[self.rope])?])
            }
            None => None,
        };
        Ok(RopeTensions {
            grooves: self.grooves.map(|groove| groove + 1),
            radii_mm,
            friction,
            wrap_rad: wrap.wrap_rad,
            outer_n,
            bounds,
            equal_ratio_arcs: [arc(0, outer_n[0], equal), arc(1, equal, outer_n[1])],
            creep,
            measured_n: wrap.between_tensions_n.as_ref().map(|list| list[self.rope]),
        })
    }
}

/// Marches the ropes up and down the travel, from the equal ratio or the measured tensions.
fn history(survey: &Survey, wrap: &DoubleWrap, ropes: &[RopeTensions]) -> Result<Option<History>, WrapFault> {
    let lengths = [&wrap.car_length_mm, &wrap.between_length_mm, &wrap.counterweight_length_mm];
    let ([Some(car), Some(between), Some(counterweight)], Some(stiffness), Some(travel)) =
        (lengths, &wrap.stiffness_n, survey.load.travel_m)
    else {
        return Ok(None);
    };
    let list = ropes.iter().enumerate().map(|(index, rope)| Rope {
        stiffness_n: stiffness[index],
        lengths_mm: vec![car[index], between[index], counterweight[index]],
        tensions_n: vec![
            rope.outer_n[0],
            rope.measured_n.unwrap_or(rope.bounds.equal_ratio_n),
            rope.outer_n[1],
        ],
        radii_mm: rope.radii_mm.to_vec(),
        grips: (0..2).map(|pass| rope.friction[pass] * rope.wrap_rad[pass]).collect(),
    });
    let mut machine = Machine::new(list.collect())?;
    let way_mm = 1000.0 * travel * f64::from(survey.roping.ratio);
    march(&mut machine, way_mm, MOST_CYCLES).map(Some)
}
