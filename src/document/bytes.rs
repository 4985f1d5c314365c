//! From the bytes of a file to its text.
//!
//! Owns the limits on a file: empty, too large, or no text. Each is one clear fault.

use crate::diagnostics::{Diagnostics, Place};

/// Bytes beyond which a file is refused unread.
pub const LARGEST_FILE: usize = 4 << 20;

/// What a file should be: code and advice for each way in which it is not.
#[derive(Debug)]
pub struct Expected {
    pub empty: (&'static str, &'static str),
    pub too_large: (&'static str, &'static str),
    pub not_text: (&'static str, &'static str),
}

/// The text of a file, unless it is empty, too large or no text.
pub fn text_of<'b>(
    bytes: &'b [u8],
    name: &str,
    expected: &Expected,
    diagnostics: &mut Diagnostics,
) -> Option<&'b str> {
    let mut refuse = |(code, help), message: String, before: &str| {
        let source = diagnostics.add_source(name, before);
        let span = before.len()..before.len();
        diagnostics.error(code, message, help, Some(Place { source, span }));
        None
    };
    if bytes.len() > LARGEST_FILE {
        let size = LARGEST_FILE >> 20;
        return refuse(expected.too_large, format!("The file has more than {size} MB and is not read."), "");
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(fault) => {
            let before = String::from_utf8_lossy(&bytes[..fault.valid_up_to()]);
            return refuse(expected.not_text, "The file is not text in UTF-8.".into(), &before);
        }
    };
    if text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}').is_empty() {
        return refuse(expected.empty, "The file is empty.".into(), "");
    }
    if let Some((before, _)) = text.split_once('\0') {
        return refuse(expected.not_text, "The file is not text.".into(), before);
    }
    Some(text)
}
