//! What setting a value did: the survey as it stands, checked beside the changed one.

use super::files::Disk;
use super::reading::placed;
use super::terminal::Progress;
use crate::report::WhatIf;
use crate::study::{Asked, CheckResult, check, compare};
use crate::survey::{Change, Reading, read};
use std::path::Path;

/// Checks the survey without what was set and sets the outcomes side by side.
pub(super) fn what_if(
    bytes: &[u8],
    path: &Path,
    set: Vec<Change>,
    changed: &CheckResult,
    progress: &Progress,
) -> WhatIf {
    let nothing = |without: String| WhatIf { set: Vec::new(), comparison: None, without: Some(without) };
    let told = match read(bytes, path, &Disk) {
        Reading { survey: Some(survey), places, diagnostics, .. } => {
            let asked = Asked { judged_only: true, ..Asked::default() };
            let found = check(&survey, &asked, &|doing| progress.tell(&format!("as surveyed: {doing}")));
            progress.clear();
            match found {
                Ok(outcome) => WhatIf {
                    set: Vec::new(),
                    comparison: Some(compare(&outcome.result, changed)),
                    without: None,
                },
                Err(fault) => nothing(format!(
                    "As surveyed there is no answer to compare with: {}",
                    placed(&fault, &survey.print, places.as_ref(), diagnostics)
                )),
            }
        }
        Reading { diagnostics, .. } => nothing(format!(
            "As surveyed there is nothing to compare with: the file alone has {} that the values set take away.",
            match diagnostics.error_count() {
                1 => "one fault".to_owned(),
                count => format!("{count} faults"),
            }
        )),
    };
    WhatIf { set, ..told }
}
