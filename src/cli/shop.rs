//! Files of a check for the workshop and for tables: machining sheet, drawing for the machine, CSV.

use super::files::{check_folder, check_target, write_fault};
use crate::manual::Citation;
use crate::report::{Input, check_csv, machining_dxf};
use crate::study::{NoCut, Outcome, machining};
use crate::survey::{Survey, written_values};
use clap::Args;
use std::path::{Path, PathBuf};

/// The options, as every help shows them.
#[derive(Args)]
pub(crate) struct ShopArgs {
    /// Write every table of the check into this folder, one CSV file for each, units in the heads.
    #[arg(long, value_name = "DIR")]
    csv: Option<PathBuf>,
    /// Write the finished grooves at 1:1 in mm as a DXF drawing, where the verdict allows the cut.
    #[arg(long, value_name = "FILE")]
    dxf: Option<PathBuf>,
}

/// What a check hands to these files.
pub(crate) struct Checked<'a> {
    pub survey: &'a Survey,
    pub outcome: &'a Outcome,
    pub citations: &'a [Citation],
    pub input: &'a Input,
    /// The survey's own bytes.
    pub bytes: &'a [u8],
}

impl ShopArgs {
    /// Faults of the files and folders that are to be written.
    pub fn targets(&self) -> Vec<String> {
        let file = |path: &Option<PathBuf>, option| {
            path.as_ref().and_then(|path| check_target(path, option).err())
        };
        let folder = self.csv.as_ref().and_then(|path| check_folder(path, "--csv").err());
        [file(&self.dxf, "--dxf"), folder].into_iter().flatten().collect()
    }

    /// The files with their bytes, and what is to be told where there is nothing to cut.
    ///
    /// # Errors
    /// The text for the user.
    pub fn files(&self, checked: &Checked<'_>) -> Result<(Vec<(PathBuf, Vec<u8>)>, String), String> {
        let (mut files, mut told) = (Vec::new(), String::new());
        let Checked { survey, outcome, citations, input, bytes } = *checked;
        if let Some(folder) = &self.csv {
            let tables = check_csv(survey, outcome, citations, input, &written_values(bytes))
                .map_err(|fault| format!("error: the tables cannot be written: {fault}. (check/csv)\n"))?;
            files.extend(tables.into_iter().map(|(name, bytes)| (folder.join(name), bytes)));
            std::fs::create_dir_all(folder).map_err(|fault| write_fault(folder, &fault))?;
        }
        if self.dxf.is_none() {
            return Ok((files, told));
        }
        match machining(survey, outcome) {
            Ok(cut) => {
                if let Some(path) = &self.dxf {
                    let bytes = machining_dxf(survey, outcome, &cut, input)
                        .map_err(|fault| format!("error: {fault}. (check/dxf)\n"))?;
                    files.push((path.clone(), bytes));
                }
            }
            Err(none) => told.extend(self.dxf.iter().map(|path| refusal(path, "drawing for the machine", &none))),
        }
        Ok((files, told))
    }
}

/// Why a file for the workshop is not written.
fn refusal(path: &Path, what: &str, none: &NoCut) -> String {
    let old = if path.exists() { " The older file of this name is not of this check: do not cut from it." } else { "" };
    let settle: String = none.settle.iter().map(|text| format!("    to settle it: {text}\n")).collect();
    format!(
        "{}: There is no {what}, because the verdict allows no cut: {}. Nothing is written.{old} (check/no-cut)\n    {}\n{settle}",
        path.display(),
        none.word.text(),
        none.reason
    )
}
