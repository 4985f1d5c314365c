//! The blank survey's remarks as they stand on paper: without examples of how a value is typed.

const PHRASES: [&str; 2] = [", for instance ", ", a plain number such as "];
/// Where a quoted example or a list of them begins, and what closes it.
const QUOTES: [(&str, &str); 3] = [(": \"", "\""), (": [", "]"), (": ", "")];

/// `remark` without its examples.
pub(super) fn on_paper(remark: &str) -> String {
    let mut text = remark.replace(" (without quotes)", "");
    for phrase in PHRASES {
        while let Some(at) = text.find(phrase) {
            let end = clause_end(&text, at + phrase.len());
            text.replace_range(at..end, "");
        }
    }
    for (opening, closing) in QUOTES {
        let mut from = 0;
        while let Some(found) = text[from..].find(opening) {
            let (at, inside) = (from + found, from + found + opening.len());
            match example_end(&text, inside, closing) {
                Some(end) => text.replace_range(at..end, ""),
                None => from = inside,
            }
        }
    }
    text
}

/// End of an example that begins at `inside`; `None` where a choice stands there, which more words follow.
fn example_end(text: &str, inside: usize, closing: &str) -> Option<usize> {
    let begins = |c: char| c.is_ascii_digit() || c == '"' && closing == "]";
    text[inside..].starts_with(begins).then_some(())?;
    let end = match closing {
        "" => clause_end(text, inside),
        closing => inside + text[inside..].find(closing)? + closing.len(),
    };
    text[end..].starts_with(['.', ',', ';']).then_some(end)
}

/// The next mark that ends a clause, outside quotes; a decimal point ends nothing.
fn clause_end(text: &str, from: usize) -> usize {
    let mut quoted = false;
    for (index, c) in text[from..].char_indices() {
        let rest = &text[from + index + c.len_utf8()..];
        quoted ^= c == '"';
        if !quoted && matches!(c, '.' | ',' | ';') && (rest.is_empty() || rest.starts_with(' ')) {
            return from + index;
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::remarks;

    #[test]
    fn examples_go_and_choices_stay() {
        for (remark, paper) in [
            (
                "Nominal diameter, from the tag: \"1/2 in\"; not the worn one.",
                "Nominal diameter, from the tag; not the worn one.",
            ),
            ("One entry for each rope: [\"5200 N\", \"5400 N\"].", "One entry for each rope."),
            ("Trips in a day: 800; with the travel.", "Trips in a day; with the travel."),
            (
                "Its class, for instance 20 (without quotes), from papers only.",
                "Its class, from papers only.",
            ),
            ("Friction factor, a plain number such as 0.12.", "Friction factor."),
            (
                "Roping: \"1:1\" (ends at the car) or \"2:1\".",
                "Roping: \"1:1\" (ends at the car) or \"2:1\".",
            ),
            (
                "Where it starts: \"seat\" or \"slot bottom\".",
                "Where it starts: \"seat\" or \"slot bottom\".",
            ),
        ] {
            assert_eq!(on_paper(remark), paper);
        }
    }

    #[test]
    fn no_remark_of_the_survey_keeps_an_inch_or_loses_its_end() {
        for (path, remark) in remarks() {
            let paper = on_paper(remark);
            assert!(!paper.contains(" in\"") && !paper.contains("mm\"; "), "{path}: {paper}");
            assert!(paper.ends_with('.') && paper.len() > 4, "{path}: {paper}");
        }
    }
}
