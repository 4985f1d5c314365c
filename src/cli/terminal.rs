//! What the terminal is: its width, its colours, and a line of progress where somebody looks.

use crate::diagnostics::Look;
use std::io::{IsTerminal, Write};

/// Columns of the terminal; 100 where there is none.
pub(crate) fn width() -> usize {
    terminal_size::terminal_size().map_or(100, |(width, _)| usize::from(width.0))
}

/// Whether the page on standard output is coloured.
pub(crate) fn colour() -> bool {
    std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// Snippets for a person at a terminal, plain lines for a file or another program.
pub(crate) fn look() -> Look {
    if std::io::stderr().is_terminal() {
        Look::Snippets { colour: std::env::var_os("NO_COLOR").is_none(), width: width() }
    } else {
        Look::Plain
    }
}

/// One line that says what is being done, on a terminal only.
pub(crate) struct Progress {
    shown: bool,
}

impl Progress {
    pub fn new() -> Self {
        Self { shown: std::io::stderr().is_terminal() }
    }

    pub fn tell(&self, doing: &str) {
        if self.shown {
            eprint!("\r\x1b[2K{doing} …");
            // A line that cannot be shown is no reason to stop.
            let _ = std::io::stderr().flush();
        }
    }

    pub fn clear(&self) {
        if self.shown {
            eprint!("\r\x1b[2K");
            let _ = std::io::stderr().flush();
        }
    }
}
