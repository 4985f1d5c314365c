//! What the program can do, in pieces small enough to be covered by a case or not.

use crate::elastic::{Around, Field, Law, Model, Pattern, Polynomial};
use crate::geometry::Curve;
use serde::Serialize;
use std::collections::BTreeSet;

/// Groups of features, as the coverage table shows them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Group {
    Stress,
    Section,
    Ropes,
    Grooves,
    Strength,
    Measurements,
    Doubt,
}

impl Group {
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Stress => "Stress analysis",
            Self::Section => "Section of the wheel",
            Self::Ropes => "Rope loads",
            Self::Grooves => "Groove and rope rules",
            Self::Strength => "Strength",
            Self::Measurements => "Measurements",
            Self::Doubt => "Doubt of the factor",
        }
    }
}

macro_rules! features {
    ($($name:ident, $group:ident, $title:literal;)*) => {
        /// One thing that the program does and that can be wrong by itself.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Feature { $($name),* }

        impl Feature {
            /// Every feature, in the order of the coverage table.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title),* }
            }

            #[must_use]
            pub fn group(self) -> Group {
                match self { $(Self::$name => Group::$group),* }
            }
        }
    };
}

features! {
    HarmonicZero, Stress, "loads the same all round (harmonic 0)";
    Torsion, Stress, "twist (harmonic 0, circumferential)";
    HarmonicOne, Stress, "sideways force and bending (harmonic 1)";
    HigherHarmonics, Stress, "harmonics 2 and above";
    BothFamilies, Stress, "both families, cosine and sine";
    Pressure, Stress, "pressure on an edge";
    Traction, Stress, "traction on an edge";
    BodyForce, Stress, "force through the volume";
    Heat, Stress, "temperature";
    Spin, Stress, "spin";
    ArcLoad, Stress, "load over part of the circumference";
    WrapLoad, Stress, "load of a rope around its wrap";
    RunIn, Stress, "run-in at the ends of the wrap";
    CosineBearing, Stress, "rope pressure by the cosine law";
    EvenBearing, Stress, "rope pressure even on its bands";
    Drag, Stress, "rope drag";
    FixedEdge, Stress, "edge held in all directions";
    GuidedEdge, Stress, "edge held in some directions";
    StraightEdges, Stress, "straight edges";
    CurvedEdges, Stress, "curved edges";
    SolidBody, Stress, "body that reaches the axis";
    Cavity, Stress, "cavity in the section";
    NotchStress, Stress, "peak stress in a notch";
    PeakSearch, Stress, "search for the highest tension over section and angle";
    SharpCorner, Stress, "corner without a radius, left out by name";
    RoundSeats, Section, "round seats";
    UndercutSeats, Section, "undercut seats";
    VGrooves, Section, "V grooves";
    MeasuredGrooves, Section, "grooves from a measured profile";
    MeasuredUnderside, Section, "underside from a measured profile";
    OneWeb, Section, "one web";
    TwoWebs, Section, "two webs with a cavity";
    SolidDisc, Section, "solid disc";
    FlangedRim, Section, "rim ring on a flange";
    ThinnestAllRound, Section, "thinnest section taken all round";
    WallLeft, Section, "wall left under a groove";
    RimEstimate, Section, "thin rim beside the web, by hand";
    DeepestByRule, Section, "deepest and shallowest cut by rules";
    MassesToTensions, Ropes, "tensions from masses";
    Roping, Ropes, "roping 2:1";
    HangingRopes, Ropes, "weight of ropes, compensation and cable";
    Retardation, Ropes, "braking";
    UnequalTensions, Ropes, "hottest rope";
    EqualTensions, Ropes, "equal rope tensions against unequal ones";
    Emergency, Ropes, "emergency multiple";
    WholeWrapCreep, Ropes, "creep over the whole wrap";
    ActiveArc, Ropes, "creep over an active arc";
    ShaftLoad, Ropes, "resultant on the shaft";
    DoubleWrapBounds, Ropes, "double wrap: bounds of the tension between the passes";
    DoubleWrapCreep, Ropes, "double wrap: tension settled by creep";
    DoubleWrapHistory, Ropes, "double wrap: ropes over the travel";
    DoubleWrapLoads, Ropes, "double wrap: loads on both sheaves";
    SeatFriction, Grooves, "friction of round and undercut seats";
    VFriction, Grooves, "friction of V grooves";
    TractionLimit, Grooves, "traction limit in the three cases";
    SeatPressure, Grooves, "pressure on seats";
    VPressure, Grooves, "pressure on V flanks";
    PressureYardstick, Grooves, "lapsed limit on pressure";
    DiameterRatio, Grooves, "ratio of diameters D/d";
    RopeLife, Grooves, "rope-life factor";
    RopeFactor, Grooves, "rope factor against the bends";
    CutEffects, Grooves, "diameters, speed and traction before and after a cut";
    DeepestByStrength, Strength, "deepest cut, wall and strength needed";
    EqualPitch, Grooves, "groove shapes at one pitch diameter";
    CleanUp, Grooves, "depth that takes the wear away";
    CodeFactor, Strength, "ultimate strength over the code's factor";
    IronClass, Strength, "strengths of gray iron by class";
    OtherMetals, Strength, "strengths of other metals";
    Hardness, Strength, "strength band from hardness";
    HardnessByDepth, Strength, "hardness that a cut lays bare";
    SectionSize, Strength, "strength by section thickness";
    ModifiedMohr, Strength, "modified Mohr criterion";
    EquivalentStress, Strength, "equivalent stress of ductile metals";
    SectionStress, Strength, "stress through the whole wall";
    CriticalDistance, Strength, "stress at the iron's critical distance";
    Fatigue, Strength, "fatigue by Smith-Dolan";
    TurnCycle, Strength, "stress cycle of one turn on its worst plane";
    CrackSize, Strength, "size of a critical crack";
    WallCrack, Strength, "crack in a wall under tension and bending";
    Units, Measurements, "units of the survey";
    ThinSpot, Measurements, "thin spot from stations";
    WhatIf, Measurements, "values set from outside, two surveys side by side";
    ProfileFit, Measurements, "curve through measured points";
    SampledShare, Doubt, "probability by samples, with its error";
    VarianceShares, Doubt, "shares of variance";
    ResponseSurface, Doubt, "response surface of the least factor";
}

/// Coefficients below this are the rounding of a closed form that is zero.
const ROUNDING: f64 = 1e-12;

/// What solving this model exercises of the stress analysis.
#[must_use]
pub fn features_of(model: &Model) -> BTreeSet<Feature> {
    let mut found = BTreeSet::new();
    for edge in model.outline.edges() {
        found.insert(if edge.curve == Curve::Line { Feature::StraightEdges } else { Feature::CurvedEdges });
        if edge.start.r.abs() < 1e-9 && edge.end.r.abs() < 1e-9 {
            found.insert(Feature::SolidBody);
        }
    }
    if model.outline.loops.len() > 1 {
        found.insert(Feature::Cavity);
    }
    for support in &model.supports {
        let whole = support.hold.flags() == [true; 3];
        found.insert(if whole { Feature::FixedEdge } else { Feature::GuidedEdge });
    }
    for case in &model.cases {
        // Loads of one case may cancel in a family, so their sums count.
        let mut families = [[0.0; 2]; 8];
        for term in &case.terms {
            let pattern = &model.patterns[term.pattern];
            found.insert(of_pattern(pattern));
            if let Pattern::Bearing { law, .. } | Pattern::Drag { law, .. } = pattern {
                found.insert(match law {
                    Law::Cosine { .. } => Feature::CosineBearing,
                    Law::Uniform => Feature::EvenBearing,
                });
            }
            of_course(&term.around, pattern, &mut found);
            for (n, sum) in families.iter_mut().enumerate() {
                let part = term.around.fourier(n);
                // Circumferential loads that go with the sine belong to the cosine's family.
                let (in_even, in_odd) = if is_crossed(pattern) && n > 0 {
                    (part.sine, part.cosine)
                } else {
                    (part.cosine, part.sine)
                };
                sum[0] += in_even;
                sum[1] += in_odd;
            }
        }
        if [0, 1].iter().all(|family| families.iter().any(|sum: &[f64; 2]| sum[*family].abs() > ROUNDING)) {
            found.insert(Feature::BothFamilies);
        }
    }
    found
}

/// Whether a pattern acts along the circumference alone.
fn is_crossed(pattern: &Pattern) -> bool {
    let alone = |none: [bool; 3]| none == [true, false, true];
    match pattern {
        Pattern::Drag { .. } => true,
        Pattern::Traction { value, .. } => alone(value.map(|part| part == Field::default())),
        Pattern::Spread { value, .. } | Pattern::Body { force: value } => {
            alone(value.each_ref().map(|part| *part == Polynomial::default()))
        }
        _ => false,
    }
}

fn of_pattern(pattern: &Pattern) -> Feature {
    match pattern {
        Pattern::Pressure { .. } => Feature::Pressure,
        Pattern::Traction { .. } | Pattern::Spread { .. } => Feature::Traction,
        Pattern::Body { .. } => Feature::BodyForce,
        Pattern::Bearing { law: Law::Cosine { .. }, .. } => Feature::CosineBearing,
        Pattern::Bearing { .. } => Feature::EvenBearing,
        Pattern::Drag { .. } => Feature::Drag,
        Pattern::Thermal { .. } => Feature::Heat,
        Pattern::Spin { .. } => Feature::Spin,
    }
}

fn of_course(around: &Around, pattern: &Pattern, found: &mut BTreeSet<Feature>) {
    let turning = match pattern {
        Pattern::Drag { .. } => true,
        Pattern::Traction { value, .. } => value[1] != Field::default(),
        Pattern::Spread { value, .. } => value[1] != Polynomial::default(),
        Pattern::Body { force } => force[1] != Polynomial::default(),
        _ => false,
    };
    match around {
        Around::Constant => {}
        Around::Cos(_) | Around::Sin(_) => {}
        Around::Arc { .. } => {
            found.insert(Feature::ArcLoad);
        }
        Around::Stretches { run_in, .. } => {
            found.insert(Feature::WrapLoad);
            if *run_in > 0.0 {
                found.insert(Feature::RunIn);
            }
        }
    }
    for n in 0..=7 {
        let part = around.fourier(n);
        if part.cosine.abs().max(part.sine.abs()) > ROUNDING {
            found.insert(match n {
                0 if turning => Feature::Torsion,
                0 => Feature::HarmonicZero,
                1 => Feature::HarmonicOne,
                _ => Feature::HigherHarmonics,
            });
        }
    }
}
