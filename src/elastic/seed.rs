//! Deliberate faults, for the proof that the tests of this room can fail.
//!
//! A build for use has no fault to choose: the kinds exist in test builds only.

/// What is done wrong on purpose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Seed {
    /// Nothing: the only choice outside tests.
    #[default]
    None,
    /// The radius is left out of the volume of revolution.
    #[cfg(test)]
    ForgottenRadius,
    /// The mean of a load is taken over a half turn instead of a whole one.
    #[cfg(test)]
    WrongPi,
    /// Two shear stresses change places.
    #[cfg(test)]
    SwappedShear,
    /// The circumferential displacement's share in the hoop strain has the wrong sign.
    #[cfg(test)]
    HoopSign,
    /// The drag turns the wrong way in the second family.
    #[cfg(test)]
    DragSign,
}

impl Seed {
    /// The radius that a volume is multiplied with.
    pub(super) fn radius(self, r: f64) -> f64 {
        #[cfg(test)]
        if self == Self::ForgottenRadius {
            return 48.0;
        }
        r
    }

    /// Factor on the coefficients of harmonic `n`.
    pub(super) fn mean(self, _n: usize) -> f64 {
        #[cfg(test)]
        if self == Self::WrongPi && _n == 0 {
            return 2.0;
        }
        1.0
    }

    /// Factor on v in the hoop strain.
    pub(super) fn hoop(self) -> f64 {
        #[cfg(test)]
        if self == Self::HoopSign {
            return -1.0;
        }
        1.0
    }

    /// Factor on circumferential loads in the sine family.
    pub(super) fn drag(self) -> f64 {
        #[cfg(test)]
        if self == Self::DragSign {
            return -1.0;
        }
        1.0
    }

    /// Stress as recovered.
    pub(super) fn stress(self, stress: [f64; 6]) -> [f64; 6] {
        #[cfg(test)]
        if self == Self::SwappedShear {
            let [rr, tt, zz, rt, tz, rz] = stress;
            return [rr, tt, zz, rz, tz, rt];
        }
        stress
    }
}
