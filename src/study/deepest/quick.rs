//! The checks without a stress at any depth of cut: wall, diameters, traction, pressure, room for the shape.

use super::super::CheckFault;
use super::super::build::build_all;
use super::super::check::{place_result, unclean};
use super::super::consequences::consequences;
use super::super::findings::{Inputs, without_stress};
use super::super::hottest::unplaced;
use super::super::iron::cast_thickness_mm;
use super::super::places::places;
use super::super::result::PlaceResult;
use super::super::rules;
use crate::hoist::{LoadCase, load_cases};
use crate::material::Metal;
use crate::section::State;
use crate::survey::{Cut, Survey};
use crate::verdict::{Check, Standing, Status};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// A survey with its cut put to one depth.
pub(super) fn cut_to(survey: &Survey, depth_mm: f64) -> Survey {
    Survey { cut: Cut::ToDepth { depth_mm }, ..survey.clone() }
}

/// Whether a check leaves the answer favourable. A yardstick decides nothing, so its own number tells.
pub(super) fn is_fine(check: &Check) -> bool {
    match check.standing {
        Standing::Yardstick => check.margin().is_none_or(|margin| margin >= 0.0),
        _ => matches!(check.status, Status::Holds | Status::Noted),
    }
}

/// Every check of one depth, or why no section can be drawn there.
pub(super) type Found = Rc<Result<Vec<Check>, CheckFault>>;

/// The checks by depth, each depth looked at once.
pub(super) struct Quick<'a> {
    survey: &'a Survey,
    metal: Metal,
    safety_factor: f64,
    rated: LoadCase,
    judged: LoadCase,
    known: RefCell<BTreeMap<u64, Found>>,
}

impl<'a> Quick<'a> {
    /// # Errors
    /// When a strength or the rope tensions are missing.
    pub fn new(survey: &'a Survey) -> Result<Self, CheckFault> {
        let cases = load_cases(survey);
        let rated = cases.into_iter().next().ok_or(CheckFault::NoTensions)?;
        let judged = unplaced(survey, &rated);
        let metal = survey.material.metal_in(cast_thickness_mm(survey, &places(survey)?))?;
        let safety_factor = survey.judgement.safety_factor.unwrap_or(metal.safety_factor);
        Ok(Self { survey, metal, safety_factor, judged, rated, known: RefCell::default() })
    }

    pub fn at(&self, depth_mm: f64) -> Found {
        let known = self.known.borrow().get(&depth_mm.to_bits()).cloned();
        known.unwrap_or_else(|| {
            let found = Rc::new(self.checks(depth_mm));
            self.known.borrow_mut().insert(depth_mm.to_bits(), Rc::clone(&found));
            found
        })
    }

    fn checks(&self, depth_mm: f64) -> Result<Vec<Check>, CheckFault> {
        let survey = &cut_to(self.survey, depth_mm);
        let around = places(survey)?;
        let built = build_all(survey, State::Cut, &around)?;
        let Some((place, section)) =
            around.places.iter().zip(&built).find_map(|(place, built)| Some((place, built.as_ref().ok()?)))
        else {
            return Err(super::super::build::first_fault(&built, &around, State::Cut));
        };
        let places: Vec<PlaceResult> = around
            .places
            .iter()
            .zip(&built)
            .map(|(place, built)| place_result(survey, place, built, None))
            .collect();
        Ok(without_stress(&Inputs {
            survey,
            state: State::Cut,
            metal: &self.metal,
            safety_factor: self.safety_factor,
            around: &around,
            places: &places,
            facts: &rules::facts(survey, State::Cut, section, &self.judged),
            consequences: &consequences(survey, State::Cut, &self.rated, &self.judged),
            unclean: &unclean(survey, State::Cut, place, section),
            section,
        }))
    }
}
