//! What setting a value did: the survey as it stands, checked beside the changed one.

use super::reading::{Judged, judged_bytes};
use super::terminal::Progress;
use crate::report::WhatIf;
use crate::study::Asked;
use crate::study::double_wrap::{Checked, check_any};
use std::path::Path;

/// Checks the survey without what was set and sets the outcomes side by side.
pub(super) fn what_if(changed: &Judged, path: &Path, result: &Checked, progress: &Progress) -> WhatIf {
    let without = |why: String| (None, Some(why));
    let (comparison, without) = match judged_bytes(changed.bytes.clone(), path, &[]) {
        Ok(judged) => {
            let asked = Asked { judged_only: true, ..Asked::default() };
            let found =
                check_any(&judged.survey, &asked, &|doing| progress.tell(&format!("as surveyed: {doing}")));
            progress.clear();
            match found {
                Ok(outcome) => (Some(Checked::compared(&outcome, result)), None),
                Err(fault) => without(format!(
                    "As surveyed there is no answer to compare with: {}",
                    judged.placed(&fault)
                )),
            }
        }
        Err(faults) => without(format!(
            "As surveyed there is nothing to compare with: the file alone has faults that the values set take away.\n{faults}"
        )),
    };
    WhatIf { set: changed.input.set.clone(), comparison, without }
}
