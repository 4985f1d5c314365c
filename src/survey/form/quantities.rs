//! Getters for quantities: with their unit, their bounds and their stand-ins.

use super::{Bounds, Field, Form, Section, Value, number_text, type_name};
use crate::diagnostics::quoted;
use crate::units::{Kind, UnitFault, UnitFaultKind, bare_number, parse, parse_number};
use toml::de::DeValue;

impl Form {
    /// Pushes the fault of a field that nothing can stand in for.
    pub fn needed(&mut self, section: &Section<'_>, key: &str, what: &str, example: &str) {
        // A missing table is one fault, not one for each of its fields.
        if section.table.is_none() {
            return;
        }
        let path = section.path_of(key);
        let message = format!("{path} is needed and not measured: {what}.");
        let help = format!("nothing can stand in for it; write {key} = {example}");
        self.error("survey/needed", &path, message, &help);
    }

    /// A quantity, or `None` when it is not measured.
    pub fn quantity(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        let value = self.get(section, field.key)?;
        self.read_quantity(value, &section.path_of(field.key), field)
    }

    pub fn need(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        if self.get(section, field.key).is_none() {
            let example = format!("{} (for instance)", field.kind.examples());
            self.needed(section, field.key, field.what, &example);
            return None;
        }
        self.quantity(section, field)
    }

    /// A quantity, or a stated value in its place with a note that says so.
    pub fn assume(
        &mut self,
        section: &Section<'_>,
        field: Field,
        stand_in: f64,
        sentence: &str,
    ) -> Option<f64> {
        if self.get(section, field.key).is_none() {
            self.assumed(&section.path_of(field.key), sentence);
            return Some(stand_in);
        }
        self.quantity(section, field)
    }

    /// Reads one quantity that stands at a path, be it a field's or a list entry's.
    pub fn read_quantity(&mut self, value: &Value<'_>, path: &str, field: Field) -> Option<f64> {
        self.places.spans.insert(path.to_string(), value.span());
        let read = match value.get_ref() {
            DeValue::String(text) => parse(text, field.kind),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let text = number_text(value.get_ref());
                match parse_number(&text) {
                    Ok(number) if field.kind != Kind::Ratio => Err(bare_number(&text, number, field.kind)),
                    _ => parse(&text, Kind::Ratio),
                }
            }
            other => {
                let message =
                    format!("{path} is {}, and {} is expected.", type_name(other), field.kind.phrase());
                self.error(
                    "survey/wrong-type",
                    path,
                    message,
                    &format!("write {} = {}", field.key, field.kind.examples()),
                );
                return None;
            }
        };
        match read {
            Ok(quantity) => {
                if let Some(unit) = quantity.unit {
                    self.votes.add(unit);
                }
                self.bounded(quantity.value, path, value, field)
            }
            Err(fault) => {
                self.unit_fault(&fault, path);
                None
            }
        }
    }

    fn bounded(&mut self, number: f64, path: &str, value: &Value<'_>, field: Field) -> Option<f64> {
        let (fits, words) = match field.bounds {
            Bounds::Any => (true, ""),
            Bounds::Positive => (number > 0.0, "more than zero"),
            Bounds::NotNegative => (number >= 0.0, "zero or more"),
            Bounds::Between(low, high, words) => ((low..=high).contains(&number), words),
        };
        if fits {
            return Some(number);
        }
        let found = number_text(value.get_ref());
        let message = format!("{path} is {}, which {} cannot be.", quoted(&found), field.what);
        self.error(
            "survey/out-of-range",
            path,
            message,
            &format!("allowed is {words}; check the number, its sign and its unit"),
        );
        None
    }

    fn unit_fault(&mut self, fault: &UnitFault, path: &str) {
        let code = match fault.kind {
            UnitFaultKind::Missing => "survey/unit-missing",
            UnitFaultKind::Unknown => "survey/unit-unknown",
            UnitFaultKind::WrongKind => "survey/unit-kind",
            UnitFaultKind::Comma => "survey/decimal-comma",
            UnitFaultKind::Malformed => "survey/not-a-quantity",
            UnitFaultKind::Magnitude => "survey/too-large-a-number",
        };
        let message = format!("{path}: {}.", fault.found);
        self.error(code, path, message, &format!("{}; {}", fault.allowed, fault.advice));
    }
}
