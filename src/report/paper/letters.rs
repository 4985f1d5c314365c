//! Text that every page can carry, whatever stands in a survey.

/// Begins and ends a stretch whose direction of writing concerns nothing around it.
const ISOLATE: char = '\u{2068}';
const END: char = '\u{2069}';

/// Text without what no page can show: line breaks become blanks; other control characters, and marks that
/// would turn the direction of everything behind them, are left out.
pub(in crate::report) fn printable(text: &str) -> String {
    text.chars()
        .filter_map(|c| match c {
            '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
            c if c.is_control() || turns(c) => None,
            '\u{feff}' | '\u{fff9}'..='\u{fffb}' => None,
            // No document of XML may hold these.
            '\u{fffe}' | '\u{ffff}' => None,
            c => Some(c),
        })
        .collect()
}

/// A text of the survey's author inside one of the program's own: printable, and with writing from right to left
/// kept to itself.
pub(in crate::report) fn isolated(text: &str) -> String {
    let text: String = printable(text).chars().filter(|c| !matches!(*c, ISOLATE | END)).collect();
    if text.chars().any(from_right) { format!("{ISOLATE}{text}{END}") } else { text }
}

/// A last word of no more characters goes whole when a text is cut.
const LAST_WORD: usize = 24;

/// As [`isolated`], and no longer than `most` characters; cut after a whole word where that leaves most of it.
pub(in crate::report) fn short(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return isolated(text);
    }
    let cut: String = text.chars().take(most.saturating_sub(1)).collect();
    let words = cut.rfind(' ').filter(|end| cut.len() - end <= LAST_WORD && *end > LAST_WORD);
    let kept = words.map_or(&*cut, |end| cut[..end].trim_end_matches([' ', ',', ';', ':', '(']));
    isolated(&format!("{kept}…"))
}

/// Marks of direction other than the isolate that the program sets itself.
fn turns(c: char) -> bool {
    matches!(c, '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{202a}'..='\u{202e}' | '\u{2066}' | '\u{2067}')
}

/// Letters that are written from right to left.
fn from_right(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}' | '\u{10800}'..='\u{10fff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_turns_or_breaks_what_follows() {
        assert_eq!(printable("a\u{202e}b\0c\nd\u{7}\u{fffe}"), "abc d");
        assert_eq!(isolated("lift <B> & \"C\""), "lift <B> & \"C\"");
        // A name may not end its own isolation.
        assert_eq!(isolated("\u{2069}מעלית\u{200f}"), "\u{2068}מעלית\u{2069}");
        assert_eq!(short("abcdef", 4), "abc…");
        let told = "The grooves' own friction stands in, because nobody measured it.";
        assert_eq!(short(told, 50), "The grooves' own friction stands in, because…");
        assert_eq!(short(told, 46), "The grooves' own friction stands in, because…");
        assert_eq!(short(told, 43), "The grooves' own friction stands in…");
    }
}
