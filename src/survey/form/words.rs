//! Getters for lists, whole numbers, choices and free text.

use super::{Field, Form, Section, Value, closest, is_not_measured, number_text, type_name};
use crate::diagnostics::quoted;
use toml::de::DeValue;

/// Entries beyond which a list is not about one sheave.
const LONGEST_LIST: usize = 1000;

impl Form {
    /// The entries of a list, each with its path; a single value is a list of one.
    pub fn entries<'t>(&mut self, section: &Section<'t>, key: &str) -> Option<Vec<(String, &'t Value<'t>)>> {
        let value = self.get(section, key)?;
        let path = section.path_of(key);
        let list: Vec<&Value<'t>> = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            _ => vec![value],
        };
        if list.len() > LONGEST_LIST {
            let message = format!("{path} has {} entries.", list.len());
            self.error(
                "survey/list-length",
                &path,
                message,
                "a sheave has a few grooves and ropes; is this the right file?",
            );
            return None;
        }
        let mut out = Vec::with_capacity(list.len());
        for (index, entry) in list.into_iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.places.spans.insert(path.clone(), entry.span());
            out.push((path, entry));
        }
        Some(out)
    }

    /// A list of quantities without gaps; `None` when not measured or any entry is faulty.
    pub fn quantities(&mut self, section: &Section<'_>, field: Field) -> Option<Vec<f64>> {
        let entries = self.entries(section, field.key)?;
        let read: Vec<Option<f64>> = entries
            .iter()
            .map(|(path, value)| {
                if value.get_ref().as_str().is_some_and(is_not_measured) {
                    let message = format!("{path} is needed and not measured: {}.", field.what);
                    self.error("survey/needed", path, message, "every entry of this list is needed");
                    return None;
                }
                self.read_quantity(value, path, field)
            })
            .collect();
        read.into_iter().collect()
    }

    /// A whole number from `low` to `high`.
    pub fn whole(&mut self, section: &Section<'_>, key: &str, low: u32, high: u32) -> Option<u32> {
        let value = self.get(section, key)?;
        self.read_whole(value, &section.path_of(key), low, high)
    }

    pub fn read_whole(&mut self, value: &Value<'_>, path: &str, low: u32, high: u32) -> Option<u32> {
        let text = number_text(value.get_ref());
        match text.trim().parse::<u32>() {
            Ok(number) if (low..=high).contains(&number) => Some(number),
            _ => {
                let message = format!("{path} is {}, and a whole number is expected.", quoted(&text));
                self.error(
                    "survey/not-a-count",
                    path,
                    message,
                    &format!("allowed is a whole number from {low} to {high}, written without quotes"),
                );
                None
            }
        }
    }

    /// One of several words; upper and lower case are not told apart.
    pub fn choice<T: Copy>(&mut self, section: &Section<'_>, key: &str, choices: &[(&str, T)]) -> Option<T> {
        let value = self.get(section, key)?;
        let path = section.path_of(key);
        let text = number_text(value.get_ref());
        if let Some((_, meant)) = choices.iter().find(|(name, _)| name.eq_ignore_ascii_case(text.trim())) {
            return Some(*meant);
        }
        let names = covered(choices);
        let list = names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let help = match closest(&text, &names) {
            Some(meant) => format!("did you mean \"{meant}\"? Allowed are: {list}"),
            None => format!("allowed are: {list}"),
        };
        let message = format!("{path} is {}, which is none of the choices.", quoted(&text));
        self.error("survey/choice-unknown", &path, message, &help);
        None
    }

    /// Like `choice`, for a field that nothing can stand in for.
    pub fn need_choice<T: Copy>(
        &mut self,
        section: &Section<'_>,
        key: &str,
        what: &str,
        choices: &[(&str, T)],
    ) -> Option<T> {
        if self.get(section, key).is_none() {
            let list: Vec<String> = covered(choices).iter().map(|name| format!("\"{name}\"")).collect();
            self.needed(section, key, what, &list.join(" or "));
            return None;
        }
        self.choice(section, key, choices)
    }

    /// Free text.
    pub fn text(&mut self, section: &Section<'_>, key: &str) -> Option<String> {
        let value = self.get(section, key)?;
        match value.get_ref() {
            DeValue::Array(_) | DeValue::Table(_) => {
                let path = section.path_of(key);
                let message = format!("{path} is {}, and text is expected.", type_name(value.get_ref()));
                self.error("survey/wrong-type", &path, message, &format!("write {key} = \"...\""));
                None
            }
            other => Some(number_text(other)),
        }
    }
}

/// The choices to be offered: words that are understood only to be refused are left out.
fn covered<'c, T>(choices: &[(&'c str, T)]) -> Vec<&'c str> {
    let names = choices.iter().map(|(name, _)| *name);
    names.filter(|name| !matches!(*name, "double wrap" | "arms")).collect()
}
