//! Files of a check for the workshop and for tables: machining sheet, drawing for the machine, CSV.

use super::files::{check_folder, check_target, write_fault};
use crate::report::{
    CheckedPair, PAIR_FOLDERS, Paper, ReportBasis, check_csv, machining_dxf, machining_pdf, pair_csv,
};
use crate::study::double_wrap::Wheel;
use crate::study::{Machining, NoCut, machining};
use crate::verdict::Word;
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
            files.extend(in_folder(folder, check_csv(basis), &[""])?);
        }
        if self.cuts() {
            match machining(basis.survey, basis.outcome) {
                Ok(cut) => files.extend(self.to_cut(basis, &cut, paper, Wheel::Drive)?),
                Err(none) => told = self.refusals(&none),
            }
        }
        Ok((files, told))
    }

    /// The same of a double wrap: nothing is cut on either sheave unless the word for both allows it.
    ///
    /// # Errors
    /// The text for the user.
    pub fn pair_files(&self, pair: &CheckedPair<'_>, paper: Paper) -> Result<(Files, String), String> {
        let (mut files, mut told) = (Vec::new(), String::new());
        if let Some(folder) = &self.csv {
            let own = if pair.secondary.is_some() { &PAIR_FOLDERS[..] } else { &PAIR_FOLDERS[..1] };
            files.extend(in_folder(folder, pair_csv(pair), own)?);
        }
        if !self.cuts() {
            return Ok((files, told));
        }
        let verdict = &pair.double.verdict;
        if verdict.word != Word::MayBeCut {
            let (reason, settle) = (verdict.reason.clone(), verdict.settle.clone());
            return Ok((files, self.refusals(&NoCut { word: verdict.word, reason, settle })));
        }
        let wheels = [(Wheel::Drive, Some(&pair.drive)), (Wheel::Secondary, pair.secondary.as_ref())];
        for (wheel, own) in wheels {
            let Some(own) = own else { continue };
            match machining(own.survey, own.outcome) {
                Ok(cut) => files.extend(self.to_cut(own, &cut, paper, wheel)?),
                Err(none) => {
                    let (name, word) = (wheel.name(), none.word.text());
                    told += &format!(
                        "The {name} is not to be cut, and nothing is written for it: {word}. (check/no-cut)\n"
                    );
                }
            }
        }
        Ok((files, told))
    }

    fn cuts(&self) -> bool {
        self.machining.is_some() || self.dxf.is_some()
    }

    fn refusals(&self, none: &NoCut) -> String {
        let asked = [(&self.machining, "machining sheet"), (&self.dxf, "drawing for the machine")];
        asked.iter().filter_map(|(path, what)| Some(refusal(path.as_ref()?, what, none))).collect()
    }

    /// Faults of the files that a double wrap may add.
    ///
    /// # Errors
    /// The text for the user.
    pub fn pair_targets(&self) -> Result<(), String> {
        let files = [(&self.machining, "--machining"), (&self.dxf, "--dxf")];
        let file = |(path, option): (&Option<PathBuf>, &str)| {
            check_target(&of_wheel(path.as_ref()?, Wheel::Secondary), option).err()
        };
        let folder = |name| check_folder(&self.csv.as_ref()?.join(name), "--csv").err();
        let faults: String =
            files.into_iter().filter_map(file).chain(PAIR_FOLDERS.into_iter().filter_map(folder)).collect();
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }

    /// What a shop cuts from.
    fn to_cut(
        &self,
        basis: &ReportBasis<'_>,
        cut: &Machining,
        paper: Paper,
        wheel: Wheel,
    ) -> Result<Files, String> {
        let mut files = Vec::new();
        if let Some(path) = &self.machining {
            let bytes = machining_pdf(basis, cut, paper)
                .map_err(|fault| format!("error: {fault}. (check/machining)\n"))?;
            files.push((of_wheel(path, wheel), bytes));
        }
        if let Some(path) = &self.dxf {
            let bytes =
                machining_dxf(basis, cut).map_err(|fault| format!("error: {fault}. (check/dxf)\n"))?;
            files.push((of_wheel(path, wheel), bytes));
        }
        Ok(files)
    }
}

/// The file of a sheave: the drive sheave's is the one that was named, the secondary one's stands beside it.
fn of_wheel(path: &Path, wheel: Wheel) -> PathBuf {
    if wheel == Wheel::Drive {
        return path.to_owned();
    }
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push("_secondary");
    if let Some(ending) = path.extension() {
        name.push(".");
        name.push(ending);
    }
    path.with_file_name(name)
}

/// Tables with their places in a folder, which is made with those in it that they lie in.
fn in_folder(
    folder: &Path,
    tables: Result<Vec<(String, Vec<u8>)>, csv::Error>,
    own: &[&str],
) -> Result<Files, String> {
    let tables =
        tables.map_err(|fault| format!("error: the tables cannot be written: {fault}. (check/csv)\n"))?;
    for made in own.iter().map(|name| folder.join(name)) {
        std::fs::create_dir_all(&made).map_err(|fault| write_fault(&made, &fault))?;
    }
    Ok(tables.into_iter().map(|(name, bytes)| (folder.join(name), bytes)).collect())
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
