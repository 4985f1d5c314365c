//! Which case catches which deliberate fault. A test plants each one and runs the case.

use crate::seeded::Fault;

/// Every deliberate fault with the case that must miss when it is planted.
pub static CAUGHT_BY: &[(Fault, &str)] = &[
    (Fault::VolumeWithoutRadius, "thick-ring-inside"),
    (Fault::EdgeWithoutRadius, "thick-ring-inside"),
    (Fault::HalfTurnMean, "thick-ring-inside"),
    (Fault::HoopSign, "manufactured-solution"),
    (Fault::SwappedShears, "manufactured-solution"),
    (Fault::SineFamilyLost, "manufactured-solution"),
    (Fault::TwistTurnsBack, "manufactured-solution"),
    (Fault::PlaneStressModulus, "thick-ring-inside"),
    (Fault::ChordMidsides, "manufactured-solution"),
];
