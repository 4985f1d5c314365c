//! The tables of a check as CSV files, one for each table, for spreadsheets and scripts.
//!
//! Numbers are in the program's own units, named in every head. Where the rows of a table have quantities of several
//! kinds, the unit stands in a column of its own. Texts are those of the page.

mod around;
mod checks;
pub(super) mod file;
mod input;
mod loads;
mod strength;
mod trust;

use super::ReportBasis;
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
    let bytes = |table: &Table| Ok((format!("{}.csv", table.name), table.bytes()?));
    tables.iter().map(bytes).collect()
}
