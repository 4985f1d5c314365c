//! How deep a shape can be cut: from the shallowest cut that takes the wear away to what stops a deeper one.
//!
//! Owns the checks that cost nothing: geometry, wall, diameters, clean-up. Lacks stress. Units: mm.

use super::judged::with_cut;
use crate::hoist::rules::{SUSPENSION_RATIO, diameter_ratio, radial_cut_left_mm};
use crate::section::{Kind, Section, State};
use crate::study::CheckFault;
use crate::study::build::build_all;
use crate::study::check::CLEAN_MM;
use crate::study::deepest::grain_mm;
use crate::study::places::{Around, places};
use crate::survey::{GrooveShape, Survey};
use crate::units::Kind as Quantity;
use serde::Serialize;

/// Depths of the rope's lowest point below the rim edge that a shape can be cut to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Range {
    /// The shallowest that takes the wear of every groove away.
    pub from_mm: f64,
    pub to_mm: f64,
    /// What stops a deeper cut.
    pub stops: String,
}

/// The worn wheel, as every cut starts from it.
pub(super) struct Worn<'a> {
    pub survey: &'a Survey,
    pub around: Around,
    /// Sections as found, with the place each belongs to: one where shapes tell, all where profiles do.
    worn: Vec<(usize, Section)>,
    pub grain_mm: f64,
}

impl<'a> Worn<'a> {
    /// # Errors
    /// When the measurements make no section as found.
    pub fn new(survey: &'a Survey) -> Result<Self, CheckFault> {
        let around = places(survey)?;
        let sections = build_all(survey, State::Now, &around)?.into_iter().enumerate();
        let with_lines = around.places.iter().any(|place| place.lines.is_some());
        let mut worn: Vec<(usize, Section)> =
            sections.filter_map(|(place, section)| Some((place, section.ok()?))).collect();
        if !with_lines {
            worn.truncate(1);
        }
        Ok(Self { survey, around, worn, grain_mm: grain_mm(&survey.print) })
    }

    /// A section as found.
    pub fn any(&self) -> Option<&Section> {
        self.worn.first().map(|(_, section)| section)
    }

    /// Depth of the worst groove: no cut can be shallower.
    pub fn worst_mm(&self) -> f64 {
        self.survey.grooves.seat_depth_mm.iter().fold(0.0, |a: f64, b| a.max(*b))
    }

    /// The depth that the least ratio of diameters allows.
    pub fn deepest_by_diameter_mm(&self) -> f64 {
        let rope = self.survey.roping.rope_diameter_mm;
        let worst = self.worst_mm();
        let pitch = 2.0 * (self.survey.rim.edge_radius_mm - worst) + rope;
        worst + radial_cut_left_mm(pitch, rope, SUSPENSION_RATIO)
    }

    /// The section at one place; `None` where none can be cut.
    pub fn section(&self, form: &GrooveShape, depth_mm: f64, place: usize) -> Option<Section> {
        Section::build(&with_cut(self.survey, form, depth_mm), State::Cut, self.around.places.get(place)?)
            .ok()
    }

    /// What stands against a cut so deep, whatever the stress is.
    fn barrier(&self, form: &GrooveShape, depth_mm: f64) -> Option<String> {
        let show = |mm: f64| self.survey.print.show(Quantity::Length, mm);
        let rope = self.survey.roping.rope_diameter_mm;
        let ratio = diameter_ratio(2.0 * (self.survey.rim.edge_radius_mm - depth_mm) + rope, rope);
        if ratio < SUSPENSION_RATIO.value - 1e-9 {
            return Some(format!(
                "the pitch diameter would fall below {:.0} rope diameters",
                SUSPENSION_RATIO.value
            ));
        }
        let cut = with_cut(self.survey, form, depth_mm);
        for place in &self.around.places {
            let section = match Section::build(&cut, State::Cut, place) {
                Ok(section) => section,
                Err(faults) => {
                    let words: Vec<String> = faults.iter().map(|fault| fault.text(&show)).collect();
                    return Some(words.join("; "));
                }
            };
            let least = section.walls.iter().filter_map(|wall| wall.least_mm).fold(f64::INFINITY, f64::min);
            if least < rope {
                let which = if place.kind == Kind::LowerBound { ", at its lower bound," } else { "" };
                return Some(format!("the wall left{which} would fall below the rope diameter"));
            }
        }
        None
    }

    /// Whether the cut takes the wear of every groove away.
    fn cleans(&self, form: &GrooveShape, depth_mm: f64) -> bool {
        self.worn.iter().all(|(place, worn)| {
            let cut = self.section(form, depth_mm, *place);
            cut.is_some_and(|cut| cut.unclean(worn, CLEAN_MM).is_empty())
        })
    }

    /// The depths that a shape can be cut to.
    ///
    /// # Errors
    /// In words, when there are none.
    pub fn range(&self, form: &GrooveShape) -> Result<Range, String> {
        let show = |mm: f64| self.survey.print.show(Quantity::Length, mm);
        let worst = self.worst_mm();
        if let Some(barrier) = self.barrier(form, worst) {
            return Err(format!("even at the worst groove's own depth {barrier}"));
        }
        let most = self.deepest_by_diameter_mm().max(worst);
        let to_mm = match self.barrier(form, most) {
            None => most,
            Some(_) => {
                let edge =
                    last(worst, most, 0.25 * self.grain_mm, |depth| self.barrier(form, depth).is_none());
                ((edge / self.grain_mm).floor() * self.grain_mm).max(worst)
            }
        };
        let stops = self.barrier(form, to_mm + 2.0 * self.grain_mm).unwrap_or_default();
        if !self.cleans(form, to_mm) {
            return Err(format!("no cut down to {} takes the wear away, and deeper {stops}", show(to_mm)));
        }
        let from_mm = if self.cleans(form, worst) {
            worst
        } else {
            let edge = last(worst, to_mm, 0.25 * self.grain_mm, |depth| !self.cleans(form, depth));
            ((edge / self.grain_mm).ceil() * self.grain_mm).min(to_mm)
        };
        Ok(Range { from_mm, to_mm, stops })
    }
}

/// The last value from `low`, where `holds` is true, towards `high`, where it is not, to within `grain`.
fn last(mut low: f64, mut high: f64, grain: f64, holds: impl Fn(f64) -> bool) -> f64 {
    while high - low > grain {
        let middle = f64::midpoint(low, high);
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::super::shapes::proposals;
    use super::*;
    use crate::section::tests::one_web;

    fn range(survey: &Survey, name: &str) -> Result<Range, String> {
        let form = proposals(survey).list.into_iter().find(|proposal| proposal.name == name).unwrap().form;
        Worn::new(survey).unwrap().range(&form)
    }

    /// Every slot is worn to 90° and 4 mm below its seat: a round seat must go as deep as the worst slot.
    #[test]
    fn a_round_seat_must_take_the_worst_slot_away() {
        let survey = one_web();
        let slot = 0.61 * 25.4 + 4.0;
        let found = range(&survey, "round").unwrap();
        // A tenth of a millimetre counts as clean, and the slot's flat is wider than the seat's very bottom.
        assert!(found.from_mm > slot - 0.15 && found.from_mm < slot + 3.0, "{found:?} {slot}");
        assert!(found.stops.contains("wall left"), "{found:?}");
        // The same slot angle cleans at the worst groove's own depth.
        let same = range(&survey, "undercut 90°").unwrap();
        assert!((same.from_mm - 0.61 * 25.4).abs() < 1e-9, "{same:?}");
    }

    #[test]
    fn a_small_wheel_cannot_be_cut_at_all() {
        let mut survey = one_web();
        survey.rim.edge_radius_mm = 10.2 * 25.4;
        let why = range(&survey, "undercut 90°").unwrap_err();
        assert!(why.contains("below 40 rope diameters"), "{why}");
    }

    #[test]
    fn a_bracket_closes_on_its_edge() {
        let edge = last(1.0, 9.0, 1e-6, |x| x < 4.25);
        assert!((edge - 4.25).abs() < 1e-6);
    }
}
