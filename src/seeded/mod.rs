//! Deliberate faults, for the proof that the verification manual can fail.
//!
//! Owns their list and the switch. A program for use has no switch: without the feature
//! `seeded-faults`, which one test alone turns on, [`planted`] is constant and every fault's branch is
//! compiled away; with the feature a release build does not compile at all.

use serde::Serialize;

#[cfg(all(feature = "seeded-faults", not(debug_assertions)))]
compile_error!("deliberate faults belong in test builds only: build without the feature seeded-faults");

macro_rules! faults {
    ($($name:ident, $title:literal;)*) => {
        /// What is done wrong on purpose.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
        pub enum Fault { $($name),* }

        impl Fault {
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// The fault in words.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title),* }
            }
        }
    };
}

faults! {
    VolumeWithoutRadius, "the radius is left out of the volume of revolution";
    EdgeWithoutRadius, "the radius is left out of the area of a loaded edge";
    SpinWithoutRadius, "the radius is left out of the centrifugal force";
    HalfTurnMean, "the mean of a load is taken over a half turn (π in place of 2π for harmonic 0)";
    HoopSign, "n v/r has the wrong sign in the hoop strain";
    SwappedShears, "the shear stresses rz and rθ change places";
    SineFamilyLost, "the second family of harmonics is left out";
    TwistTurnsBack, "circumferential loads turn the wrong way in the second family";
    FirstHarmonicPhase, "the first harmonic of a load has the wrong phase";
    PlaneStressModulus, "the volume's stiffness is taken from plane stress";
    HeatStressKept, "the stress of hindered expansion is not taken off";
    ChordMidsides, "midside nodes stay on the chords of curved edges";
    CosineLawUnscaled, "the cosine law is not scaled to the rope's force";
    PeakAtMiddleOnly, "the highest tension is looked for at θ = 0 only";
    DragPulledBack, "the drag pulls towards the light side";
    DragAtSeat, "the drag's moment is taken at the seat in place of the rope's centre";
    CreepAtWrongEnd, "the active arc lies at the end where the rope comes on";
    SlotAngleNotHalved, "the slot's whole angle is used where its half belongs";
    GrooveAngleNotHalved, "the V's whole angle is used where its half belongs";
    BrakingSpeedForgotten, "the rope's speed is left out of the coefficient of friction";
    RopingForgotten, "the tension per rope is not divided by the roping";
    ReversedBendsOnce, "a reversed bend counts like a simple one";
    InchAsMillimetre, "an inch is taken for a millimetre";
    DegreesAsRadians, "station angles in degrees are taken for radians";
    MohrByTensionOnly, "the modified Mohr criterion drops its compressive part";
    MeanForAmplitude, "mean and amplitude change places in the fatigue locus";
    EdgeCrackAsThrough, "the factor 1.12 of an edge crack is left out";
    RangeForAmplitude, "a cycle's whole range is taken for its amplitude";
    BendingAsTension, "bending opens a crack as much as tension does";
    TwoDeviationsAsOne, "what is stated plus or minus is taken for one standard deviation";
    GripOfWrongPass, "each bound of a double wrap takes the grip of the other pass";
    SecondPassDropped, "the second pass of a double wrap drives nothing";
    CreepFromWrongEnd, "the tension between the passes settles to the end where the rope leaves";
}

#[cfg(feature = "seeded-faults")]
static PLANTED: std::sync::atomic::AtomicUsize = std::sync::atomic::AtomicUsize::new(usize::MAX);

/// Plants a fault in the whole process, or takes it out again.
#[cfg(feature = "seeded-faults")]
pub fn plant(fault: Option<Fault>) {
    PLANTED.store(fault.map_or(usize::MAX, |fault| fault as usize), std::sync::atomic::Ordering::SeqCst);
}

/// Whether this fault is planted.
#[cfg(feature = "seeded-faults")]
pub fn planted(fault: Fault) -> bool {
    PLANTED.load(std::sync::atomic::Ordering::Relaxed) == fault as usize
}

/// Whether this fault is planted: never.
#[cfg(not(feature = "seeded-faults"))]
#[inline]
#[must_use]
pub const fn planted(_: Fault) -> bool {
    false
}
