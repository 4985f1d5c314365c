//! What the terminal is: its width, its colours, and a line of progress where somebody looks.

use crate::diagnostics::Look;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::time::Duration;

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

/// A line on standard error that says what is being done and for how long, on a terminal only: a pipe or a file gets
/// nothing of it.
pub(crate) struct Progress {
    bar: ProgressBar,
}

impl Progress {
    /// For work whose length is not known.
    pub fn new(doing: &str) -> Self {
        Self::drawn(None, "{spinner} {msg} … {elapsed}", doing)
    }

    /// For work of so many alike parts.
    pub fn counted(parts: usize, doing: &str) -> Self {
        Self::drawn(Some(parts as u64), "{spinner} {msg} {bar:30} {pos} of {len}, {elapsed}", doing)
    }

    fn drawn(parts: Option<u64>, template: &str, doing: &str) -> Self {
        /// Short enough to show that the program is alive, long enough to cost nothing.
        const TICK: Duration = Duration::from_millis(120);
        if !std::io::stderr().is_terminal() {
            return Self { bar: ProgressBar::hidden() };
        }
        let bar = ProgressBar::with_draw_target(parts, ProgressDrawTarget::stderr());
        let style =
            ProgressStyle::with_template(template).unwrap_or_else(|_| ProgressStyle::default_spinner());
        bar.set_style(style.tick_chars("◐◓◑◒●").progress_chars("━━─"));
        bar.set_message(doing.to_owned());
        bar.enable_steady_tick(TICK);
        Self { bar }
    }

    pub fn tell(&self, doing: &str) {
        self.bar.set_message(doing.to_owned());
    }

    /// One of the parts is done.
    pub fn step(&self) {
        self.bar.inc(1);
    }

    pub fn clear(&self) {
        self.bar.finish_and_clear();
    }
}
