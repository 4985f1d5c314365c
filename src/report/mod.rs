//! One result, many writers: the page for a terminal, JSON, VTK.
//!
//! Owns layout and wording of outputs; computes nothing about the sheave.

mod compare;
mod deepest;
mod double_wrap;
mod doubt;
mod grooves;
mod growth;
mod json;
mod layout;
mod manual;
mod page;
mod solve;
pub mod vtk;
mod wraps;

pub use compare::{WhatIf, compare_json, compare_page, what_if_part};
pub use deepest::{deepest_exit_code, deepest_json, deepest_page};
pub use double_wrap::{double_part, sheave_line};
pub use doubt::{doubt_json, doubt_page};
pub use grooves::{grooves_csv, grooves_exit_code, grooves_json, grooves_page};
pub use json::{CheckDocument, Input, check_json};
pub use manual::{Closing, manual_files, manual_html, manual_json, manual_page};
pub use page::check_page;
pub use solve::{solve_json, solve_page};
pub use wraps::{wraps_csv, wraps_json, wraps_page};

use crate::verdict::Word;

/// Exit code of a verdict: 0 favourable, 1 reject, 3 undecided. 2 is kept for input without an answer.
pub fn exit_code(word: Word) -> u8 {
    match word {
        Word::MayBeCut | Word::MayStay => 0,
        Word::Reject => 1,
        Word::Undecided => 3,
    }
}
