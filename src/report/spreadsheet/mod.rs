//! The tables of a check as CSV files, one for each table, for spreadsheets and scripts.
//!
//! Numbers are in the program's own units, named in every head. Where the rows of a table have quantities of several
//! kinds, the unit stands in a column of its own. Texts are those of the page.

mod around;
mod checks;
mod double_wrap;
pub(super) mod file;
mod input;
mod loads;
mod strength;
mod trust;

use super::{CheckedPair, ReportBasis};
use file::Table;

/// Everything that a check says in tables: names of files, and their bytes. Tables without rows are written too, so
/// that a script finds the same files for every wheel.
///
/// # Errors
/// When a table cannot be formed.
pub fn check_csv(basis: &ReportBasis<'_>) -> Result<Vec<(String, Vec<u8>)>, csv::Error> {
    let ReportBasis { survey, outcome, citations, input, values } = *basis;
    let result = &outcome.result;
    let tables = [
        checks::verdict(survey, result, input),
        checks::checks(result),
        checks::consequences(result),
        checks::statements(survey, result),
        around::places(result),
        around::walls(result),
        around::thin_spots(result),
        around::grooves(survey, result),
        loads::cases(result),
        loads::tensions(survey, result),
        loads::traction(result),
        loads::equal_ropes(result),
        loads::assumptions(result),
        strength::stresses(result),
        strength::parts(result),
        strength::hardness_band(result),
        strength::settling(result),
        strength::one_turn(outcome),
        strength::fatigue(result),
        strength::cracks(result),
        trust::meshes(result),
        trust::harmonics(result),
        trust::left_out(result),
        trust::verified(citations),
        input::values(values),
    ];
    files(&tables)
}

/// Folders of the two sheaves of a double wrap, inside the one of their common tables.
pub const PAIR_FOLDERS: [&str; 2] = ["drive", "secondary"];

/// The tables of both sheaves of a double wrap, each sheave's in a folder of its own, and what they have in common.
///
/// # Errors
/// When a table cannot be formed.
pub fn pair_csv(checked: &CheckedPair<'_>) -> Result<Vec<(String, Vec<u8>)>, csv::Error> {
    let mut all = files(&double_wrap::tables(checked))?;
    let wheels = [Some(&checked.drive), checked.secondary.as_ref()];
    for (folder, own) in PAIR_FOLDERS.into_iter().zip(wheels) {
        let Some(own) = own else { continue };
        all.extend(check_csv(own)?.into_iter().map(|(name, bytes)| (format!("{folder}/{name}"), bytes)));
    }
    Ok(all)
}

fn files(tables: &[Table]) -> Result<Vec<(String, Vec<u8>)>, csv::Error> {
    let bytes = |table: &Table| Ok((format!("{}.csv", table.name), table.bytes()?));
    tables.iter().map(bytes).collect()
}
