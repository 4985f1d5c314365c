//! Why measurements make no valid section, in the trade's words.

use crate::geometry::{FilletFault, OutlineFault};
use thiserror::Error;

#[derive(Debug, Clone, PartialEq, Error)]
pub enum SectionFault {
    #[error("groove {number}: its {part} does not fit: {reason}")]
    Groove { number: usize, part: &'static str, reason: String },
    #[error(
        "grooves {left} and {right} overlap: their flanks meet {below_mm:.2} mm below the upper end of a seat; use a larger pitch, a smaller opening angle or a shallower depth"
    )]
    Overlap { left: usize, right: usize, below_mm: f64 },
    #[error(
        "groove {number} runs out of the rim's side: its mouth needs {need_mm:.2} mm beyond its middle, the rim gives {have_mm:.2} mm"
    )]
    RunsOut { number: usize, need_mm: f64, have_mm: f64 },
    #[error("groove {number}: the wall would be {wall_mm:.2} mm {at}: nothing is left to carry the rope")]
    NoWall { number: usize, wall_mm: f64, at: String },
    #[error(
        "no wall is known on the side of {side} of the {web}: measure the wall under one groove there at least"
    )]
    NoReading { side: &'static str, web: &'static str },
    #[error("groove {number} lies over the web, so its wall cannot be a number: write \"solid\" there")]
    OverWeb { number: usize },
    #[error("the {part}: {fault}; state a smaller radius or check the thicknesses around it")]
    Fillet { part: &'static str, fault: FilletFault },
    #[error("the {0}")]
    Wheel(String),
    #[error("the section closes onto itself: {0}")]
    Outline(OutlineFault),
}
