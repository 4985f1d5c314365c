//! Why no doubt is stated, with what to do.

use crate::chance::SurfaceFault;
use crate::diagnostics::Diagnostics;
use crate::document::Places;
use crate::study::CheckFault;
use crate::units::PrintUnits;

#[derive(Debug, Clone, PartialEq)]
pub enum DoubtFault {
    /// The check itself gives no answer.
    Check(CheckFault),
    /// The survey says that every value is exact.
    NothingToVary,
    /// The hardness lies below the relation between hardness and strength.
    HardnessTooLow {
        hb: f64,
    },
    Surface(SurfaceFault),
    /// The response surfaces do not follow the full analyses: root mean square of what they miss, as a part.
    Misfit {
        rms: f64,
    },
    /// The wall as surveyed can hardly be thinner: no range is left for a surface.
    NoRange,
}

impl From<CheckFault> for DoubtFault {
    fn from(fault: CheckFault) -> Self {
        Self::Check(fault)
    }
}

impl From<SurfaceFault> for DoubtFault {
    fn from(fault: SurfaceFault) -> Self {
        Self::Surface(fault)
    }
}

impl DoubtFault {
    /// Adds the fault at the place of the survey's field that explains it.
    pub fn diagnose(&self, print: &PrintUnits, places: Option<&Places>, diagnostics: &mut Diagnostics) {
        let (code, message, field, help) = match self {
            Self::Check(fault) => return fault.diagnose(print, places, diagnostics),
            Self::NothingToVary => (
                "doubt/nothing-in-doubt",
                "Every value of the survey is stated as exact, so there is no doubt to form.".to_owned(),
                Some("doubt"),
                "write in [doubt] how far the values may be off, or \"not measured\"",
            ),
            Self::HardnessTooLow { hb } => (
                "doubt/hardness",
                format!(
                    "The lowest hardness, {hb:.0} HB, lies below the relation of hardness and strength; at least 121 HB are expected."
                ),
                Some("material.hardness"),
                "check the reading, or write strength_from = \"strength in use\" in [doubt]",
            ),
            Self::Surface(fault) => (
                "doubt/surface",
                format!("No response surface can be fitted: {fault}."),
                None,
                "this is a limit of the program; state smaller doubts, or judge by the check alone",
            ),
            Self::Misfit { rms } => (
                "doubt/surface",
                format!(
                    "The response surface misses the full analyses by {:.0} % (root mean square), so no probability is stated; at most 10 % is accepted.",
                    100.0 * rms
                ),
                None,
                "smaller doubts of wall and depth make the surface follow; measure them, or judge by the check alone",
            ),
            Self::NoRange => (
                "doubt/no-wall",
                "The wall left is so thin that no thinner one can be analysed.".to_owned(),
                Some("walls"),
                "judge by the check alone",
            ),
        };
        let place = field.zip(places).and_then(|(field, places)| places.of(field));
        diagnostics.error(code, message, help, place);
    }
}
