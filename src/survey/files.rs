//! What the files of a survey should be, and the words for what a survey may hold.
//!
//! Owns the codes and the advice of faults that any document can have.

use crate::document::{Codes, Expected, Rules};

pub(super) const SURVEY_FILE: Expected = Expected {
    empty: ("survey/empty", "print a blank survey with `rimproof survey` and fill it in"),
    too_large: (
        "survey/too-large",
        "allowed are 4 MB; a survey has a few kilobytes: is this the right file?",
    ),
    not_text: (
        "survey/not-text",
        "a survey is plain text in UTF-8; save it as that, or is this the wrong file?",
    ),
};

pub(super) const PROFILE_FILE: Expected = Expected {
    empty: (
        "profile/empty",
        "write a first line such as axial_mm,radius_mm and one measured point on each line below",
    ),
    too_large: (
        "profile/too-large",
        "allowed are 4 MB; thin the points out to a few hundred for each profile",
    ),
    not_text: (
        "profile/not-text",
        "a profile is a CSV file, plain text in UTF-8; export it as that from the spreadsheet",
    ),
};

/// The general faults of a document in the words of a survey.
pub(super) static SURVEY_RULES: Rules = Rules {
    file: "a survey",
    codes: Codes {
        syntax: "survey/syntax",
        unknown_key: "survey/unknown-key",
        wrong_type: "survey/wrong-type",
        needed: "survey/needed",
        out_of_range: "survey/out-of-range",
        not_a_count: "survey/not-a-count",
        choice_unknown: "survey/choice-unknown",
        list_length: "survey/list-length",
    },
    is_blank: is_not_measured,
    blank: "not measured",
    no_stand_in: "nothing can stand in for it; ",
    longest_list: (1000, "a sheave has a few grooves and ropes; is this the right file?"),
    // Understood only to be refused.
    not_offered: &["arms"],
    syntax_help: "write one key = \"value\" on a line, text and quantities in quotes, headings such as [rim] alone on their line, and every key once",
};

/// True for a blank and for the words that mean one.
pub(crate) fn is_not_measured(text: &str) -> bool {
    let text = text.trim();
    text.is_empty() || text.eq_ignore_ascii_case("not measured") || text.eq_ignore_ascii_case("unmeasured")
}
