//! Groove shapes side by side: the page, JSON and CSV.

mod data;
mod page;
mod table;

pub use data::{grooves_csv, grooves_json};
pub use page::grooves_page;

use crate::study::grooves::GrooveStudy;
use crate::verdict::Word;

/// Exit code: that of the best cut; without one 3 where a cut is undecided, and 1 where all are rejected.
pub fn grooves_exit_code(study: &GrooveStudy) -> u8 {
    let word = |cut: &crate::study::grooves::JudgedCut| cut.found.as_ref().map(|found| found.word);
    if let Some(word) = study.search.best.as_ref().and_then(word) {
        return super::exit_code(word);
    }
    let all = study.compared.iter().chain(&study.search.trade_off);
    let open = all.filter_map(word).any(|word| word != Word::Reject);
    super::exit_code(if open { Word::Undecided } else { Word::Reject })
}
