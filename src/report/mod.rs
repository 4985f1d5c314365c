//! One result, many writers: the page for a terminal, the report as HTML and PDF, JSON, CSV, VTK, the sheets for
//! measuring and machining, DXF.
//!
//! Owns layout and wording of outputs; computes nothing about the sheave.

mod compare;
mod deepest;
mod dossier;
mod double_wrap;
mod doubt;
mod drafting;
mod drawing;
mod grooves;
mod growth;
mod json;
mod layout;
mod machining;
mod manual;
mod measuring;
mod page;
mod paper;
mod pictures;
mod solve;
mod spreadsheet;
mod view;
pub mod vtk;
mod wraps;

pub use compare::{WhatIf, compare_json, compare_page, what_if_part};
pub use deepest::{deepest_exit_code, deepest_json, deepest_page};
pub use dossier::{CheckedPair, ReportBasis, check_html, check_pdf, pair_html, pair_pdf, usual_paper};
pub use double_wrap::{double_part, sheave_line};
pub use doubt::{doubt_json, doubt_page};
pub use grooves::{grooves_csv, grooves_exit_code, grooves_json, grooves_page};
pub use json::{CheckDocument, Input, check_json};
pub use machining::{DxfFault, machining_dxf, machining_pdf};
pub use manual::{Closing, manual_files, manual_html, manual_json, manual_page};
pub use measuring::{SheetAsked, SheetUnits, measuring_pdf};
pub use page::check_page;
pub use paper::{Paper, PdfFault};
pub use solve::{solve_json, solve_page};
pub use spreadsheet::{PAIR_FOLDERS, check_csv, pair_csv};
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
