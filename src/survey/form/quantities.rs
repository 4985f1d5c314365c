//! Getters for quantities: with their unit, their bounds and their stand-ins.

use super::{Field, Form, Section, Value};
use crate::document::{number_text, type_name};
use crate::units::{Kind, UnitFault, UnitFaultKind, bare_number, parse, parse_number};
use toml::de::DeValue;

impl Form {
    /// A quantity, or `None` when it is not measured.
    pub fn quantity(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        let value = self.get(section, field.key)?;
        self.read_quantity(value, &section.path_of(field.key), field)
    }

    pub fn need(&mut self, section: &Section<'_>, field: Field) -> Option<f64> {
        if self.get(section, field.key).is_none() {
            let example = format!("{} (for instance)", field.examples());
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
        self.places.set(path, value.span());
        let read = match value.get_ref() {
            DeValue::String(text) => parse(text, field.kind),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let text = number_text(value.get_ref());
                match parse_number(&text) {
                    Ok(number) if field.kind != Kind::Ratio => Err(bare_number(&text, number, field.kind)),
                    _ => parse(&text, field.kind),
                }
            }
            other => {
                let message =
                    format!("{path} is {}, and {} is expected.", type_name(other), field.kind.phrase());
                self.error(
                    "survey/wrong-type",
                    path,
                    message,
                    &format!("write {} = {}", field.key, field.examples()),
                );
                return None;
            }
        };
        match read {
            Ok(quantity) => {
                if let Some(unit) = quantity.unit {
                    self.votes.add(unit);
                }
                self.bounded(quantity.value, path, value, field.bounds, field.what)
            }
            Err(fault) => {
                self.unit_fault(&fault, path);
                None
            }
        }
    }

    /// A list of quantities without gaps; `None` when not measured or any entry is faulty.
    pub fn quantities(&mut self, section: &Section<'_>, field: Field) -> Option<Vec<f64>> {
        let entries = self.entries(section, field.key)?;
        let read: Vec<Option<f64>> = entries
            .iter()
            .map(|(path, value)| {
                if value.get_ref().as_str().is_some_and(super::is_not_measured) {
                    let message = format!("{path} is needed and not measured: {}.", field.what);
                    self.error("survey/needed", path, message, "every entry of this list is needed");
                    return None;
                }
                self.read_quantity(value, path, field)
            })
            .collect();
        read.into_iter().collect()
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
