//! A survey from the disk with what was set into it, as every command that judges one begins.

use super::files::{Disk, read_input};
use super::terminal;
use crate::diagnostics::Diagnostics;
use crate::document::Places;
use crate::report::Input;
use crate::study::CheckFault;
use crate::survey::{Change, Reading, Survey, read_with};
use clap::Args;
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};

/// The option that sets values, as messages name it.
const SET: &str = "--set";

/// The survey that a command judges, and what is set into it.
#[derive(Args)]
pub(crate) struct SurveyGiven {
    /// The filled-in survey, as `rimproof survey` prints it; profiles that it names lie in its folder.
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// What if: set a value of the survey for this run alone, for instance --set "cut.depth=0.62 in". May be
    /// repeated.
    #[arg(long, value_name = "PATH=VALUE")]
    pub set: Vec<String>,
}

/// A survey that can be judged.
pub(crate) struct Judged {
    pub survey: Survey,
    pub bytes: Vec<u8>,
    /// Those of the secondary sheave's survey, where there is one.
    pub secondary_bytes: Option<Vec<u8>>,
    pub input: Input,
    pub places: Option<Places>,
    secondary_places: Option<Places>,
    diagnostics: Diagnostics,
}

/// Reads a survey; an error is the text for the user, all faults at once.
///
/// # Errors
/// The file cannot be read, or the survey has a fault.
pub(crate) fn judged(path: &Path, set: &[String]) -> Result<Judged, String> {
    judged_bytes(read_input(path, "survey")?, path, set)
}

/// As [`judged`], from a survey's bytes that were read before.
///
/// # Errors
/// The survey has a fault.
pub(crate) fn judged_bytes(bytes: Vec<u8>, path: &Path, set: &[String]) -> Result<Judged, String> {
    match read_with(&bytes, path, &Disk, set, SET) {
        Reading { survey: Some(survey), places, changes, secondary_places, diagnostics } => {
            let mut input = input(path, &bytes, changes);
            let (secondary, secondary_bytes) = secondary_input(path, &survey).unzip();
            input.secondary = secondary.map(Box::new);
            Ok(Judged { survey, bytes, secondary_bytes, input, places, secondary_places, diagnostics })
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
        let places = match fault {
            CheckFault::Secondary(_) => self.secondary_places.as_ref(),
            _ => self.places.as_ref(),
        };
        self.told(|diagnostics| fault.diagnose(&self.survey.print, places, diagnostics))
    }

    /// As [`Judged::placed`], for faults of other studies; `diagnose` adds them. The warnings of the reading were
    /// shown already.
    pub fn told(&self, diagnose: impl FnOnce(&mut Diagnostics)) -> String {
        let mut diagnostics = self.diagnostics.clone();
        diagnostics.retain(|_| false);
        diagnose(&mut diagnostics);
        diagnostics.render(terminal::look())
    }
}

/// The name and the hash by which an answer says what it belongs to.
pub(crate) fn input(path: &Path, bytes: &[u8], set: Vec<Change>) -> Input {
    let name =
        path.file_name().map_or_else(|| path.display().to_string(), |f| f.to_string_lossy().into_owned());
    let sha256 = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    Input { file: name, sha256, set, secondary: None }
}

/// The same of the secondary sheave's survey, which lies beside the drive sheave's.
fn secondary_input(path: &Path, survey: &Survey) -> Option<(Input, Vec<u8>)> {
    let name = survey.double_wrap.as_ref()?.secondary_file.as_ref()?;
    let path = path.parent().unwrap_or(Path::new("")).join(name);
    let bytes = read_input(&path, "survey").ok()?;
    Some((input(&path, &bytes, Vec::new()), bytes))
}
