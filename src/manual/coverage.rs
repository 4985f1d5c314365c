//! Which case covers which feature, and which features an answer rests on.

use super::{Feature, catalogue, features_of};
use crate::elastic::Model;
use crate::material::MetalKind;
use crate::study::doubt::{DoubtResult, Quantity};
use crate::study::{Outcome, by_hand};
use crate::survey::{Creep, Given, GrooveShape, Role, Survey, Underside, Wheel};
use serde::Serialize;
use std::collections::BTreeSet;

/// A comparison with an independent three-dimensional analysis. It needs outside software and is run by
/// the project's own checks, not by the program.
pub struct Outside {
    pub name: &'static str,
    pub title: &'static str,
    pub features: &'static [Feature],
}

const WHEEL: [Feature; 13] = [
    Feature::HarmonicZero,
    Feature::Torsion,
    Feature::HarmonicOne,
    Feature::HigherHarmonics,
    Feature::BothFamilies,
    Feature::WrapLoad,
    Feature::Drag,
    Feature::FixedEdge,
    Feature::StraightEdges,
    Feature::CurvedEdges,
    Feature::NotchStress,
    Feature::PeakSearch,
    Feature::OneWeb,
];

const fn with<const N: usize, const M: usize>(own: [Feature; N]) -> [Feature; M] {
    let mut all = [Feature::HarmonicZero; M];
    let mut i = 0;
    while i < M {
        all[i] = if i < N { own[i] } else { WHEEL[i - N] };
        i += 1;
    }
    all
}

/// The comparisons that `validation/INDEPENDENT.md` reports.
pub static OUTSIDE: &[Outside] = &[
    Outside {
        name: "3-D round seats",
        title: "Web wheel with round seats, full 3-D",
        features: &with::<3, 16>([Feature::RoundSeats, Feature::CosineBearing, Feature::WholeWrapCreep]),
    },
    Outside {
        name: "3-D undercut",
        title: "Web wheel with undercut seats, full 3-D",
        features: &with::<3, 16>([Feature::UndercutSeats, Feature::CosineBearing, Feature::ActiveArc]),
    },
    Outside {
        name: "3-D V grooves",
        title: "Web wheel with V grooves, full 3-D",
        features: &with::<3, 16>([Feature::VGrooves, Feature::EvenBearing, Feature::WholeWrapCreep]),
    },
    Outside {
        name: "3-D varying wall",
        title: "Web wheel whose wall varies around it, full 3-D",
        features: &with::<3, 16>([
            Feature::ThinnestAllRound,
            Feature::CosineBearing,
            Feature::WholeWrapCreep,
        ]),
    },
];

/// A feature with the names of the cases that cover it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Citation {
    pub group: &'static str,
    pub feature: &'static str,
    /// Names for `rimproof verify`.
    pub cases: Vec<&'static str>,
    /// Comparisons with independent three-dimensional analyses.
    pub outside: Vec<&'static str>,
}

impl Citation {
    /// Whether nothing covers the feature.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.cases.is_empty() && self.outside.is_empty()
    }
}

/// For every feature the cases that cover it.
#[must_use]
pub fn citations(features: &BTreeSet<Feature>) -> Vec<Citation> {
    let all = catalogue();
    let cite = |feature: &Feature| Citation {
        group: feature.group().title(),
        feature: feature.title(),
        cases: all.iter().filter(|case| case.features.contains(feature)).map(|case| case.name).collect(),
        outside: OUTSIDE.iter().filter(|o| o.features.contains(feature)).map(|o| o.name).collect(),
    };
    features.iter().map(cite).collect()
}

/// What solving an explicit model and looking for its highest tension rests on.
#[must_use]
pub fn used_by_model(model: &Model) -> BTreeSet<Feature> {
    let mut used = features_of(model);
    used.insert(Feature::PeakSearch);
    if model
        .outline
        .edges()
        .any(|edge| matches!(edge.curve, crate::geometry::Curve::Arc { sweep, .. } if sweep < 0.0))
    {
        used.insert(Feature::NotchStress);
    }
    used
}

/// What a check's answer rests on.
#[must_use]
pub fn used_by_check(survey: &Survey, outcome: &Outcome) -> BTreeSet<Feature> {
    let mut used = used_by_model(&outcome.analysis.model);
    used.extend([
        Feature::Units,
        Feature::ShaftLoad,
        Feature::CodeFactor,
        Feature::DiameterRatio,
        Feature::WallLeft,
        Feature::SectionStress,
    ]);
    used.insert(match survey.wheel {
        Wheel::SolidDisc { .. } => Feature::SolidDisc,
        Wheel::OneWeb { .. } => Feature::OneWeb,
        Wheel::TwoWebs { .. } => Feature::TwoWebs,
        Wheel::BoltedRim { .. } => Feature::FlangedRim,
    });
    for shape in survey.grooves.now.iter().chain(&survey.grooves.cut_to) {
        of_groove(shape, &mut used);
    }
    of_walls(survey, outcome, &mut used);
    of_loads(survey, outcome, &mut used);
    of_strength(survey, outcome, &mut used);
    used
}

/// What the report of a check rests on.
#[must_use]
pub fn used_by_report(survey: &Survey, outcome: &Outcome) -> BTreeSet<Feature> {
    let mut used = used_by_check(survey, outcome);
    if by_hand(survey, outcome).thin_rim.is_some() {
        used.insert(Feature::RimEstimate);
    }
    used
}

/// What the doubt of a factor rests on besides the check.
#[must_use]
pub fn used_by_doubt(result: &DoubtResult) -> BTreeSet<Feature> {
    let mut used = BTreeSet::from([Feature::SampledShare, Feature::VarianceShares, Feature::ResponseSurface]);
    let of = |quantity| result.quantities.iter().any(|one| one.doubtful.quantity == quantity);
    if of(Quantity::Wall) {
        used.insert(Feature::ThinSpot);
    }
    if of(Quantity::HottestRope) {
        used.insert(Feature::UnequalTensions);
    }
    used
}

fn of_groove(shape: &GrooveShape, used: &mut BTreeSet<Feature>) {
    used.extend(match shape {
        GrooveShape::Round { .. } => [Feature::RoundSeats, Feature::SeatFriction, Feature::SeatPressure],
        GrooveShape::Undercut { .. } => {
            [Feature::UndercutSeats, Feature::SeatFriction, Feature::SeatPressure]
        }
        GrooveShape::V { .. } => [Feature::VGrooves, Feature::VFriction, Feature::VPressure],
        GrooveShape::Measured { .. } => {
            [Feature::MeasuredGrooves, Feature::ProfileFit, Feature::MeasuredGrooves]
        }
    });
}

fn of_walls(survey: &Survey, outcome: &Outcome, used: &mut BTreeSet<Feature>) {
    match survey.walls.underside {
        Underside::Solid | Underside::Draft { .. } => {}
        Underside::Stations { .. } => {
            used.insert(Feature::ThinnestAllRound);
        }
        Underside::Profiles { .. } => {
            used.extend([Feature::ThinnestAllRound, Feature::MeasuredUnderside, Feature::ProfileFit]);
        }
    }
    if outcome.result.thin_spots.iter().any(Option::is_some) {
        used.insert(Feature::ThinSpot);
    }
}

fn of_loads(survey: &Survey, outcome: &Outcome, used: &mut BTreeSet<Feature>) {
    if matches!(survey.load.given, Given::Masses) {
        used.insert(Feature::MassesToTensions);
    }
    if let Some(masses) = &survey.load.masses {
        if masses.travel_m.is_some() && (masses.rope_kg_m.is_some() || masses.compensation_kg_m.is_some()) {
            used.insert(Feature::HangingRopes);
        }
        if survey.roping.retardation_m_s2.is_some() {
            used.insert(Feature::Retardation);
        }
    }
    if survey.roping.ratio > 1 {
        used.insert(Feature::Roping);
    }
    if outcome.result.loads.hottest_groove.is_some() && survey.load.tension_spread > 0.0 {
        used.insert(Feature::UnequalTensions);
    }
    if survey.roping.role == Role::Drive {
        used.insert(match survey.roping.creep {
            Creep::WholeWrap => Feature::WholeWrapCreep,
            Creep::ActiveArcLight { .. } | Creep::ActiveArcHeavy { .. } => Feature::ActiveArc,
        });
    }
    if let Some(wrap) = &survey.double_wrap {
        used.extend([Feature::DoubleWrapBounds, Feature::DoubleWrapLoads]);
        if wrap.stiffness_n.is_some() {
            used.insert(Feature::DoubleWrapCreep);
        }
        let lengths = [&wrap.car_length_mm, &wrap.between_length_mm, &wrap.counterweight_length_mm];
        if wrap.stiffness_n.is_some() && lengths.iter().all(|list| list.is_some()) {
            used.insert(Feature::DoubleWrapHistory);
        }
    }
    if survey.load.emergency_multiple.is_some() {
        used.insert(Feature::Emergency);
    }
    if outcome.result.equalised.is_some() {
        used.insert(Feature::EqualTensions);
    }
    let found = &outcome.result.consequences;
    if found.after.is_some() {
        used.insert(Feature::CutEffects);
    }
    if found.after.as_ref().is_some_and(|after| after.hardness_hb.is_some()) {
        used.insert(Feature::HardnessByDepth);
    }
    if [Some(&found.now), found.after.as_ref()].into_iter().flatten().any(|s| s.rope_life.is_some()) {
        used.insert(Feature::RopeLife);
    }
    if found.rope_factor.is_some() {
        used.insert(Feature::RopeFactor);
    }
    let facts = &outcome.result.facts;
    if !facts.traction.is_empty() {
        used.insert(Feature::TractionLimit);
    }
    if facts.pressure_limit_mpa.is_some() {
        used.insert(Feature::PressureYardstick);
    }
}

fn of_strength(survey: &Survey, outcome: &Outcome, used: &mut BTreeSet<Feature>) {
    let iron = matches!(survey.material.kind, MetalKind::GrayIron | MetalKind::Unknown);
    used.insert(if iron { Feature::IronClass } else { Feature::OtherMetals });
    if outcome.result.hardness_band.is_some() {
        used.insert(Feature::Hardness);
    }
    if outcome.result.section_size.as_ref().is_some_and(|size| size.applied) {
        used.insert(Feature::SectionSize);
    }
    used.insert(if outcome.result.metal.brittle { Feature::ModifiedMohr } else { Feature::EquivalentStress });
    if outcome.result.governing.notch.is_some() {
        used.insert(Feature::CriticalDistance);
    }
    if outcome.result.turns.is_some() {
        used.extend([Feature::Fatigue, Feature::TurnCycle]);
    }
    if !outcome.result.flaws.is_empty() {
        used.insert(Feature::WallCrack);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_can_be_typed() {
        let all = catalogue();
        for case in &all {
            assert_eq!(all.iter().filter(|other| other.name == case.name).count(), 1, "{}", case.name);
            assert!(case.name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'));
        }
    }
}
