//! The sections of all places around the rim, or every reason why there are none.

use super::places::Around;
use super::{CheckFault, PlacedFault};
use crate::section::{Kind, Place, Section, SectionFault, State};
use crate::survey::Survey;
use rayon::prelude::*;

pub(super) type Built = Result<Section, Vec<SectionFault>>;

/// Sections of all places. A station that makes none is a fault; an estimate that makes none is a finding.
pub(super) fn build_all(survey: &Survey, state: State, around: &Around) -> Result<Vec<Built>, CheckFault> {
    let built: Vec<Built> =
        around.places.par_iter().map(|place| Section::build(survey, state, place)).collect();
    let read = around.places.iter().zip(&built).enumerate();
    let faulty: Vec<(usize, &Place, &[SectionFault])> = read
        .filter(|(_, (place, _))| matches!(place.kind, Kind::Station { .. } | Kind::Uniform))
        .filter_map(|(index, (place, section))| Some((index, place, section.as_ref().err()?.as_slice())))
        .collect();
    if faulty.is_empty() { Ok(built) } else { Err(section_fault(&faulty, state)) }
}

/// Every fault once: what all stations share is shown at the first.
pub(super) fn section_fault(faulty: &[(usize, &Place, &[SectionFault])], state: State) -> CheckFault {
    let mut faults: Vec<PlacedFault> = Vec::new();
    for (index, place, list) in faulty {
        for fault in *list {
            if faults.iter().all(|known| known.fault != *fault) {
                let station = matches!(place.kind, Kind::Station { .. }).then_some(index + 1);
                faults.push(PlacedFault { fault: fault.clone(), station, place: place.name() });
            }
        }
    }
    CheckFault::Section { faults, state }
}

/// No place at all could be judged.
pub(super) fn first_fault(built: &[Built], around: &Around, state: State) -> CheckFault {
    let faulty: Vec<(usize, &Place, &[SectionFault])> = around
        .places
        .iter()
        .zip(built)
        .enumerate()
        .filter_map(|(index, (place, section))| Some((index, place, section.as_ref().err()?.as_slice())))
        .collect();
    section_fault(&faulty, state)
}
