//! Numbers of the machining sheet: always in the survey's unit and in the other one.

use crate::units::{Kind, PrintUnits};

/// Numbers in the survey's own units, with the other unit beside.
pub(super) struct Both<'a>(pub &'a PrintUnits);

impl Both<'_> {
    fn is_inch(&self) -> bool {
        self.0.name(Kind::Length) == "in"
    }

    /// Names of the two units of length, the survey's first.
    pub fn units(&self) -> [&'static str; 2] {
        if self.is_inch() { ["in", "mm"] } else { ["mm", "in"] }
    }

    /// A length in both units, as numbers with the digits of a machine's scale.
    pub fn numbers(&self, mm: f64) -> [String; 2] {
        let (inch, metric) = (format!("{:.3}", mm / 25.4), format!("{mm:.2}"));
        if self.is_inch() { [inch, metric] } else { [metric, inch] }
    }

    /// "0.670 in (17.02 mm)".
    pub fn length(&self, mm: f64) -> String {
        let ([own, other], [unit, beside]) = (self.numbers(mm), self.units());
        format!("{own} {unit} ({other} {beside})")
    }

    /// "+0 / −0.004" or "± 0.004", in both units.
    pub fn tolerance(&self, above: f64, below: f64) -> [String; 2] {
        let (more, less) = (self.numbers(above), self.numbers(below));
        let part = |index: usize| match (above == 0.0, below == 0.0) {
            _ if above == below => format!("± {}", more[index]),
            (true, _) => format!("+0 / −{}", less[index]),
            (_, true) => format!("+{} / −0", more[index]),
            _ => format!("+{} / −{}", more[index], less[index]),
        };
        [part(0), part(1)]
    }

    /// "0.670 (17.02)": for cells and drawings whose head names the units.
    pub fn cell(&self, mm: f64) -> String {
        let [own, other] = self.numbers(mm);
        format!("{own} ({other})")
    }
}

/// Degrees with one decimal where it says something.
pub(super) fn degrees(rad: f64) -> String {
    let text = format!("{:.1}", rad.to_degrees());
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{UnitVotes, parse};

    #[test]
    fn both_units_stand_beside_each_other() {
        let metric = PrintUnits::metric();
        assert_eq!(Both(&metric).length(17.018), "17.02 mm (0.670 in)");
        assert_eq!(Both(&metric).tolerance(0.0, 0.1), ["+0 / −0.10", "+0 / −0.004"]);
        let mut votes = UnitVotes::default();
        votes.add(parse("1/2 in", Kind::Length).unwrap().unit.unwrap());
        let inch = votes.print_units();
        assert_eq!(Both(&inch).length(17.018), "0.670 in (17.02 mm)");
        assert_eq!(Both(&inch).tolerance(0.1, 0.1), ["± 0.004", "± 0.10"]);
        assert_eq!(Both(&inch).tolerance(0.127, 0.0), ["+0.005 / −0", "+0.13 / −0"]);
        assert_eq!(Both(&inch).cell(17.018), "0.670 (17.02)");
        assert_eq!((degrees(0.610_865_238), degrees(1.1)), ("35°".into(), "63°".into()));
    }
}
