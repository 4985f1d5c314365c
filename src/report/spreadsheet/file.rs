//! One table as a CSV file: RFC 4180, and safe to open in a spreadsheet program.
//!
//! Records end with CR LF; what holds commas, quotes or line ends is quoted. A cell of text that a spreadsheet would
//! take for a formula gets an apostrophe in front, which such programs show as text (source: OWASP, "CSV injection").
//! Line ends and tabs become blanks, other control characters are left out. Numbers stand as they are, minus signs included.

use crate::report::paper::printable;

/// What one cell holds.
pub(in crate::report) enum Cell {
    Text(String),
    Number(f64),
    Count(usize),
    Empty,
}

impl Cell {
    pub fn text(text: impl AsRef<str>) -> Self {
        Self::Text(text.as_ref().to_owned())
    }

    pub fn yes(flag: bool) -> Self {
        Self::text(if flag { "yes" } else { "no" })
    }

    /// An empty cell where there is no text.
    pub fn maybe(text: Option<&String>) -> Self {
        text.map_or(Self::Empty, Self::text)
    }

    fn written(&self) -> String {
        match self {
            Self::Text(text) => disarmed(&printable(text)),
            Self::Number(value) => number(*value),
            Self::Count(count) => count.to_string(),
            Self::Empty => String::new(),
        }
    }
}

impl From<f64> for Cell {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<Option<f64>> for Cell {
    fn from(value: Option<f64>) -> Self {
        value.map_or(Self::Empty, Self::Number)
    }
}

/// A table with the name of its file, without the end. The unit of every number stands in its head.
pub(in crate::report) struct Table {
    pub name: &'static str,
    pub heads: Vec<String>,
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    pub fn new(name: &'static str, heads: &[&str]) -> Self {
        Self { name, heads: heads.iter().map(|head| (*head).to_owned()).collect(), rows: Vec::new() }
    }

    pub fn row<const N: usize>(&mut self, cells: [Cell; N]) {
        self.rows.push(cells.into_iter().collect());
    }

    /// The file's bytes.
    ///
    /// # Errors
    /// When the rows are of unlike length.
    pub fn bytes(&self) -> Result<Vec<u8>, csv::Error> {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(&self.heads)?;
        for row in &self.rows {
            writer.write_record(row.iter().map(Cell::written))?;
        }
        writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
    }
}

/// Text that no spreadsheet program takes for a formula, whatever stands in front of it.
fn disarmed(text: &str) -> String {
    let first = text.trim_start().chars().next();
    // The wide forms are read as the plain ones by programs set to some languages.
    let formula = first.is_some_and(|c| "=+-@＝＋－＠".contains(c));
    if formula { format!("'{text}") } else { text.to_owned() }
}

/// Six decimals hold every quantity here far beyond what is known of it; what is smaller keeps six digits.
fn number(value: f64) -> String {
    if value != 0.0 && value.abs() < 1e-3 {
        return format!("{value:.5e}");
    }
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_cell_is_a_formula_or_a_second_record() {
        let mut table = Table::new("t", &["text", "number (mm)"]);
        for text in ["=cmd|' /C calc'!A0", " @SUM(1)", "+1", "－2+3", "a\r\nb\u{0},c", "say \"hi\"", "\t=1"]
        {
            table.row([Cell::text(text), Cell::Number(-1.5)]);
        }
        let bytes = table.bytes().unwrap();
        let text = String::from_utf8(bytes.clone()).unwrap();
        assert!(text.starts_with("text,number (mm)\r\n") && text.ends_with("\r\n"), "{text}");
        let rows: Vec<csv::StringRecord> =
            csv::Reader::from_reader(bytes.as_slice()).records().map(Result::unwrap).collect();
        let first: Vec<&str> = rows.iter().map(|row| &row[0]).collect();
        assert_eq!(
            first,
            ["'=cmd|' /C calc'!A0", "' @SUM(1)", "'+1", "'－2+3", "a  b,c", "say \"hi\"", "' =1"]
        );
        assert!(rows.iter().all(|row| &row[1] == "-1.5"), "a number is no text");
    }

    #[test]
    fn numbers_keep_what_is_known_of_them() {
        for (value, text) in
            [(17.018, "17.018"), (0.0, "0"), (-0.5, "-0.5"), (3.25e-9, "3.25000e-9"), (1e5, "100000")]
        {
            assert_eq!(number(value), text);
        }
    }
}
