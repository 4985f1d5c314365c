//! The governing section of a finished check, kept ready for other tensions and other depths.
//!
//! Other rope tensions need no new solution: the answers of the section's load patterns are kept. Another depth is
//! solved again on the same mesh drawn over to the new section, as far in the series as the check went. Owns the governing place alone: that another
//! place may govern at another depth is for a whole check to see. Units: mm, N, MPa, rad.

use super::analysis::{Grid, Highest, Series, analyse, reach_mm, searched, sharpened, sizing};
use super::build::section_fault;
use super::energetic::Energetic;
use super::loads::{Loaded, verify_resultant};
use super::refine::step;
use super::{CheckFault, Outcome, analysis};
use crate::elastic::{Connectivity, Peak, Response};
use crate::hoist::LoadCase;
use crate::material::Metal;
use crate::section::{Section, State};
use crate::survey::{Cut, Survey};

/// A governing section with all that other questions about it need.
pub struct Ready<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    connectivity: Connectivity,
}

/// The answers of a section's load patterns.
pub struct Answers<'a> {
    survey: &'a Survey,
    outcome: &'a Outcome,
    response: Response,
}

/// The highest stresses under other tensions or at another depth.
#[derive(Debug, Clone, Copy)]
pub struct Restated {
    /// The highest tension. Its `node` counts in the mesh that was solved.
    pub tension: Peak,
    /// Least factor on ultimate strength anywhere in rim and web.
    pub least_factor: f64,
    /// What the highest tension may be off (MPa): the same share of it as in the check, or at another depth more
    /// where the mesh is seen to be coarser at the place.
    pub bound_mpa: f64,
}

impl<'a> Ready<'a> {
    /// Keeps the governing section of a check of `survey`.
    ///
    /// # Errors
    /// When the mesh is too large to be ordered again.
    pub fn new(survey: &'a Survey, outcome: &'a Outcome) -> Result<Self, CheckFault> {
        let connectivity = Connectivity::new(&outcome.analysis.solution.mesh)?;
        Ok(Self { survey, outcome, connectivity })
    }

    /// Solves every load pattern of the section, so that other tensions need no solution any more.
    ///
    /// # Errors
    /// As an analysis of the section.
    pub fn answers(&self) -> Result<Answers<'a>, CheckFault> {
        let Outcome { section, analysis, .. } = self.outcome;
        let last = analysis.solution.last_harmonic();
        let response = Response::new(
            &analysis.model,
            analysis.solution.mesh.clone(),
            &self.connectivity,
            |mesh| searched(section, &analysis.model, mesh, last + 1),
            last,
        )?;
        Ok(Answers { survey: self.survey, outcome: self.outcome, response })
    }

    /// The governing place with its cut at another depth, under the judged tensions.
    ///
    /// # Errors
    /// When no section can be built at that depth, or its analysis fails.
    pub fn at_depth(&self, depth_mm: f64) -> Result<Restated, CheckFault> {
        let Outcome { section, analysis, place, result } = self.outcome;
        let survey = Survey { cut: Cut::ToDepth { depth_mm }, ..self.survey.clone() };
        let other = Section::build(&survey, State::Cut, place)
            .map_err(|faults| section_fault(&[(result.governing.place, place, &faults)], State::Cut))?;
        let mesh = analysis.solution.mesh.morphed(&section.outline, &other.outline);
        let grid = match mesh {
            Some(mesh) => Grid::Given { mesh, connectivity: &self.connectivity },
            // Where the sections differ by an edge, the same places get elements of the same size.
            None => Grid::Drawn(sizing(sharpened(analysis, 1.0))),
        };
        let series = Series::UpTo(analysis.solution.last_harmonic());
        let case = std::slice::from_ref(&result.loads.judged);
        let again = analyse(&survey, &other, &result.metal, case, grid, series)?;
        let restated = self.outcome.restated(again.tension[0], again.worst[0].1);
        // The mesh is fine where the check found its peak: one that has moved away from there has a bar of its own.
        let own = step(&again, None, &Energetic::of(&again)).error_mpa;
        Ok(Restated { bound_mpa: restated.bound_mpa.max(own), ..restated })
    }
}

impl Answers<'_> {
    /// The governing section under other rope tensions, in the order of the roped grooves.
    ///
    /// # Errors
    /// When the tractions do not add up to the rope pulls, or nothing is searched.
    pub fn under(&self, case: &LoadCase) -> Result<Restated, CheckFault> {
        let Outcome { section, analysis, result, .. } = self.outcome;
        let metal: &Metal = &result.metal;
        let cases = std::slice::from_ref(case);
        let Loaded { model, expected, .. } =
            super::loads::loaded(self.survey, section, cases, analysis::iron(metal), sizing(Vec::new()));
        let (harmonics, applied) = self.response.case(&model.cases[0]);
        let reach = reach_mm(&analysis.solution.mesh);
        verify_resultant(&applied, &expected[0], (&model.cases[0].name, reach))?;
        let found = Highest::of(metal, &self.response.mesh, &harmonics, &self.response.region)?;
        let tension = Peak { node: self.response.nodes[found.tension.node], ..found.tension };
        Ok(self.outcome.restated(tension, found.worst.1))
    }
}

impl Outcome {
    fn restated(&self, tension: Peak, least_factor: f64) -> Restated {
        let governing = &self.result.governing;
        let share = governing.bound_mpa / governing.peak.principal_mpa[0];
        Restated { tension, least_factor, bound_mpa: share * tension.principal_mpa[0] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::study::refine::{Coarse, judge_first, refine};
    use crate::study::{Asked, check};

    fn checked() -> (Survey, Outcome) {
        let mut survey = crate::section::tests::one_web();
        survey.cut = Cut::ToDepth { depth_mm: 18.0 };
        let outcome = check(&survey, &Asked::default(), &|_| ()).unwrap();
        (survey, outcome)
    }

    #[test]
    fn other_tensions_and_depths_answer_as_their_own_analyses_do() {
        let (survey, outcome) = checked();
        let ready = Ready::new(&survey, &outcome).unwrap();
        let answers = ready.answers().unwrap();
        let judged = &outcome.result.loads.judged;
        let peak = |restated: &Restated| restated.tension.principal_mpa[0];
        let governing = &outcome.result.governing;

        let reason = "the same equations: only the sums run in another order";
        let same = answers.under(judged).unwrap();
        let exactly = Tolerance::Relative(1e-9);
        assert_close("same tensions", peak(&same), governing.peak.principal_mpa[0], exactly, reason);
        assert_close("factor", same.least_factor, governing.least_factor, exactly, reason);
        assert_eq!(same.tension.node, governing.peak.node);

        // Unequal ropes whose ratios differ from groove to groove.
        let mut other = judged.clone();
        for (index, (heavy, light)) in other.heavy_n.iter_mut().zip(&mut other.light_n).enumerate() {
            *heavy *= 1.0 + 0.07 * index as f64;
            *light *= 1.2 - 0.05 * index as f64;
        }
        let restated = answers.under(&other).unwrap();
        let Outcome { section, analysis, result, .. } = &outcome;
        let grid = Grid::Given { mesh: analysis.solution.mesh.clone(), connectivity: &ready.connectivity };
        let series = Series::UpTo(analysis.solution.last_harmonic());
        let alone = analyse(&survey, section, &result.metal, &[other], grid, series).unwrap();
        assert_close("other tensions", peak(&restated), alone.peak_mpa(), exactly, reason);
        assert_close("their factor", restated.least_factor, alone.worst[0].1, exactly, reason);
        assert!((peak(&restated) / peak(&same) - 1.0).abs() > 0.02, "the other tensions change nothing");

        let stated = ready.at_depth(18.0).unwrap();
        assert_close("same depth", peak(&stated), governing.peak.principal_mpa[0], exactly, reason);
        let survey = Survey { cut: Cut::ToDepth { depth_mm: 19.0 }, ..survey.clone() };
        let section = Section::build(&survey, State::Cut, &outcome.place).unwrap();
        let grid = Grid::Drawn(sizing(Vec::new()));
        let (metal, case) = (&result.metal, std::slice::from_ref(judged));
        let coarse = Coarse::of(&analyse(&survey, &section, metal, case, grid, Series::Compare).unwrap());
        let first = judge_first(&survey, &section, metal, judged, &[], &coarse).unwrap();
        let refined = refine(&survey, &section, metal, judged, (coarse, first), f64::INFINITY).unwrap();
        let restated = ready.at_depth(19.0).unwrap();
        let bars = Tolerance::Absolute(restated.bound_mpa + refined.bound_mpa);
        let reason = "two meshes of the same section, each within its own bar";
        assert_close("deeper", peak(&restated), refined.analysis.peak_mpa(), bars, reason);
        assert!(restated.bound_mpa < 0.1 * peak(&restated), "a bar that allows everything");
        assert!(peak(&restated) > peak(&stated), "a deeper cut must raise the tension");
    }
}
