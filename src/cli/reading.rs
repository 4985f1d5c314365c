//! A survey from the disk with what was set into it, as every command that judges one begins.

use super::files::{Disk, read_input};
use super::terminal;
use crate::diagnostics::Diagnostics;
use crate::document::Places;
use crate::report::Input;
use crate::study::CheckFault;
use crate::survey::{Change, Reading, Survey, read_with};
use crate::units::PrintUnits;
use sha2::{Digest, Sha256};
use std::path::Path;

/// The option that sets values, as messages name it.
pub(crate) const SET: &str = "--set";

/// A survey that can be judged.
pub(crate) struct Judged {
    pub survey: Survey,
    pub bytes: Vec<u8>,
    pub input: Input,
    pub changes: Vec<Change>,
    pub places: Option<Places>,
    diagnostics: Diagnostics,
}

/// Reads a survey; an error is the text for the user, all faults at once.
///
/// # Errors
/// The file cannot be read, or the survey has a fault.
pub(crate) fn judged(path: &Path, set: &[String]) -> Result<Judged, String> {
    let bytes = read_input(path, "survey")?;
    match read_with(&bytes, path, &Disk, set, SET) {
        Reading { survey: Some(survey), places, changes, diagnostics } => {
            let input = input(path, &bytes);
            Ok(Judged { survey, bytes, input, changes, places, diagnostics })
        }
        Reading { diagnostics, .. } => Err(diagnostics.render(terminal::look())),
    }
}

impl Judged {
    /// The warnings of the reading; empty without any.
    pub fn warnings(&self) -> String {
        if self.diagnostics.is_empty() { String::new() } else { self.diagnostics.render(terminal::look()) }
    }

    /// A fault that only the check itself found, at the places of the survey's fields.
    pub fn placed(&self, fault: &CheckFault) -> String {
        self.told(|diagnostics| fault.diagnose(&self.survey.print, self.places.as_ref(), diagnostics))
    }

    /// As [`Judged::placed`], for faults of other studies; `diagnose` adds them.
    pub fn told(&self, diagnose: impl FnOnce(&mut Diagnostics)) -> String {
        let mut diagnostics = self.diagnostics.clone();
        diagnostics.retain(|_| false);
        diagnose(&mut diagnostics);
        diagnostics.render(terminal::look())
    }
}

/// The name and the hash by which an answer says what it belongs to.
pub(crate) fn input(path: &Path, bytes: &[u8]) -> Input {
    let name =
        path.file_name().map_or_else(|| path.display().to_string(), |f| f.to_string_lossy().into_owned());
    Input { file: name, sha256: Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect() }
}

/// A fault of a check at the places of the survey's fields. The warnings of the reading were shown already.
pub(crate) fn placed(
    fault: &CheckFault,
    print: &PrintUnits,
    places: Option<&Places>,
    mut diagnostics: Diagnostics,
) -> String {
    diagnostics.retain(|_| false);
    fault.diagnose(print, places, &mut diagnostics);
    diagnostics.render(terminal::look())
}
