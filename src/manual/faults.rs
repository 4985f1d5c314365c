//! Which case catches which deliberate fault. A test plants each one and runs the case.

use crate::seeded::Fault;

/// Every deliberate fault with the case that must miss when it is planted.
pub static CAUGHT_BY: &[(Fault, &str)] = &[
    (Fault::VolumeWithoutRadius, "thick-ring-inside"),
    (Fault::EdgeWithoutRadius, "thick-ring-inside"),
    (Fault::SpinWithoutRadius, "spinning-ring"),
    (Fault::HalfTurnMean, "thick-ring-inside"),
    (Fault::HoopSign, "shaft-bending"),
    (Fault::SwappedShears, "tube-in-shear"),
    (Fault::SineFamilyLost, "tube-in-shear"),
    (Fault::TwistTurnsBack, "shaft-bending-and-twist"),
    (Fault::FirstHarmonicPhase, "shaft-load-of-a-wheel"),
    (Fault::PlaneStressModulus, "thick-ring-inside"),
    (Fault::HeatStressKept, "heated-taper"),
    (Fault::ChordMidsides, "manufactured-solution"),
    (Fault::CosineLawUnscaled, "round-seat-pressure"),
    (Fault::PeakAtMiddleOnly, "shaft-bending"),
    (Fault::DragPulledBack, "shaft-load-of-a-wheel"),
    (Fault::DragAtSeat, "shaft-load-of-a-wheel"),
    (Fault::CreepAtWrongEnd, "tension-around-the-wrap"),
    (Fault::SlotAngleNotHalved, "seat-friction"),
    (Fault::GrooveAngleNotHalved, "v-friction"),
    (Fault::BrakingSpeedForgotten, "friction-coefficients"),
    (Fault::RopingForgotten, "tensions-from-masses"),
    (Fault::ReversedBendsOnce, "equivalent-bends"),
    (Fault::InchAsMillimetre, "units"),
    (Fault::DegreesAsRadians, "thin-spot-of-a-survey"),
    (Fault::MohrByTensionOnly, "modified-mohr"),
    (Fault::MeanForAmplitude, "smith-dolan"),
    (Fault::EdgeCrackAsThrough, "critical-cracks"),
    (Fault::RangeForAmplitude, "rotating-bending"),
    (Fault::BendingAsTension, "crack-in-a-wall"),
    (Fault::TwoDeviationsAsOne, "doubt-share"),
];
