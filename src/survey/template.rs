//! The blank survey: every field with a line that says what to measure, from where and with what.

/// A blank survey, in the order in which a person measures. It parses; nothing in it is measured.
pub fn template() -> &'static str {
    include_str!("blank.toml")
}
