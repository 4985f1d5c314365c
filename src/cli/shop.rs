//! Files of a check for the workshop and for tables: machining sheet, drawing for the machine, CSV.

use super::files::{check_folder, check_target, write_fault};
use crate::report::{Paper, ReportBasis, check_csv, machining_dxf, machining_pdf};
use crate::study::{Machining, NoCut, machining};
use clap::Args;
use std::path::{Path, PathBuf};

/// The options, as every help shows them.
#[derive(Args)]
pub(crate) struct ShopArgs {
    /// Write every table of the check into this folder, one CSV file for each, units in the heads.
    #[arg(long, value_name = "DIR")]
    csv: Option<PathBuf>,
    /// Write the machining sheet as a PDF, where the verdict allows the cut: depth from its datum, shape, tolerances,
    /// walls at which to stop, hardness, and when to stop and call.
    #[arg(long, value_name = "FILE")]
    machining: Option<PathBuf>,
    /// Write the finished grooves at 1:1 in mm as a DXF drawing, where the verdict allows the cut.
    #[arg(long, value_name = "FILE")]
    dxf: Option<PathBuf>,
}

type Files = Vec<(PathBuf, Vec<u8>)>;

impl ShopArgs {
    /// Which of the options were given.
    pub fn asked(&self) -> [(bool, &'static str); 3] {
        [
            (self.csv.is_some(), "--csv"),
            (self.machining.is_some(), "--machining"),
            (self.dxf.is_some(), "--dxf"),
        ]
    }

    /// Faults of the files and folders that are to be written.
    pub fn targets(&self) -> Vec<String> {
        let file = |(path, option): (&Option<PathBuf>, &str)| check_target(path.as_ref()?, option).err();
        let folder = self.csv.as_ref().and_then(|path| check_folder(path, "--csv").err());
        let files = [(&self.machining, "--machining"), (&self.dxf, "--dxf")];
        files.into_iter().filter_map(file).chain(folder).collect()
    }

    /// The files with their bytes, and what is to be told where there is nothing to cut.
    ///
    /// # Errors
    /// The text for the user.
    pub fn files(&self, basis: &ReportBasis<'_>, paper: Paper) -> Result<(Files, String), String> {
        let (mut files, mut told) = (Vec::new(), String::new());
        if let Some(folder) = &self.csv {
            let tables = check_csv(basis)
                .map_err(|fault| format!("error: the tables cannot be written: {fault}. (check/csv)\n"))?;
            files.extend(tables.into_iter().map(|(name, bytes)| (folder.join(name), bytes)));
            std::fs::create_dir_all(folder).map_err(|fault| write_fault(folder, &fault))?;
        }
        if self.machining.is_none() && self.dxf.is_none() {
            return Ok((files, told));
        }
        match machining(basis.survey, basis.outcome) {
            Ok(cut) => files.extend(self.to_cut(basis, &cut, paper)?),
            Err(none) => {
                let asked = [(&self.machining, "machining sheet"), (&self.dxf, "drawing for the machine")];
                told.extend(
                    asked.iter().filter_map(|(path, what)| Some(refusal(path.as_ref()?, what, &none))),
                );
            }
        }
        Ok((files, told))
    }

    /// What a shop cuts from.
    fn to_cut(&self, basis: &ReportBasis<'_>, cut: &Machining, paper: Paper) -> Result<Files, String> {
        let mut files = Vec::new();
        if let Some(path) = &self.machining {
            let bytes = machining_pdf(basis, cut, paper)
                .map_err(|fault| format!("error: {fault}. (check/machining)\n"))?;
            files.push((path.clone(), bytes));
        }
        if let Some(path) = &self.dxf {
            let bytes =
                machining_dxf(basis, cut).map_err(|fault| format!("error: {fault}. (check/dxf)\n"))?;
            files.push((path.clone(), bytes));
        }
        Ok(files)
    }
}

/// Why a file for the workshop is not written.
fn refusal(path: &Path, what: &str, none: &NoCut) -> String {
    let old = if path.exists() {
        " The older file of this name is not of this check: do not cut from it."
    } else {
        ""
    };
    let settle: String = none.settle.iter().map(|text| format!("    to settle it: {text}\n")).collect();
    format!(
        "{}: There is no {what}, because the verdict allows no cut: {}. Nothing is written.{old} (check/no-cut)\n    {}\n{settle}",
        path.display(),
        none.word.text(),
        none.reason
    )
}
