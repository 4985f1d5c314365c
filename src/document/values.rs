//! Getters for lists, numbers, choices and free text.

use super::{Bounds, Document, Section, Value, closest, number_text, type_name};
use crate::diagnostics::quoted;
use toml::de::DeValue;

impl Document {
    /// Pushes the fault of a field that nothing can stand in for.
    pub fn needed(&mut self, section: &Section<'_>, key: &str, what: &str, example: &str) {
        // A missing table is one fault, not one for each of its fields.
        if section.table.is_none() {
            return;
        }
        let path = section.path_of(key);
        if self.is_misspelt(&path) {
            return;
        }
        let message = format!("{path} is needed and {}: {what}.", self.rules.blank);
        let help = format!("{}write {key} = {example}", self.rules.no_stand_in);
        self.error(self.rules.codes.needed, &path, message, &help);
    }

    /// Refuses a number outside its bounds; `what` names it in words, with its article.
    pub fn bounded(
        &mut self,
        number: f64,
        path: &str,
        value: &Value<'_>,
        bounds: Bounds,
        what: &str,
    ) -> Option<f64> {
        let Some(words) = bounds.refuses(number) else {
            return Some(number);
        };
        let found = number_text(value.get_ref());
        let message = format!("{path} is {}, which {what} cannot be.", quoted(&found));
        let help = format!("allowed is {words}; check the number, its sign and its unit");
        self.error(self.rules.codes.out_of_range, path, message, &help);
        None
    }

    /// A plain finite number whose unit stands in its key; `what` names it in words, with its article.
    pub fn number(&mut self, section: &Section<'_>, key: &str, bounds: Bounds, what: &str) -> Option<f64> {
        let value = self.get(section, key)?;
        self.read_number(value, &section.path_of(key), bounds, what)
    }

    /// Reads one plain number that stands at a path, be it a field's or a list entry's.
    pub fn read_number(&mut self, value: &Value<'_>, path: &str, bounds: Bounds, what: &str) -> Option<f64> {
        self.places.set(path, value.span());
        let Some(number) = plain_number(value.get_ref()) else {
            let message = format!("{path} is {}, and a number is expected.", type_name(value.get_ref()));
            let help = "write a number with a decimal point and without quotes; its unit stands in the key";
            self.error(self.rules.codes.wrong_type, path, message, help);
            return None;
        };
        if !number.is_finite() {
            let found = number_text(value.get_ref());
            let message = format!("{path} is {}, which is no finite number.", quoted(&found));
            self.error(self.rules.codes.out_of_range, path, message, "allowed are finite numbers only");
            return None;
        }
        self.bounded(number, path, value, bounds, what)
    }

    /// The entries of a list, each with its path; a single value is a list of one.
    pub fn entries<'t>(&mut self, section: &Section<'t>, key: &str) -> Option<Vec<(String, &'t Value<'t>)>> {
        let value = self.get(section, key)?;
        let path = section.path_of(key);
        let list: Vec<&Value<'t>> = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            _ => vec![value],
        };
        let (longest, advice) = self.rules.longest_list;
        if list.len() > longest {
            let message = format!("{path} has {} entries.", list.len());
            self.error(self.rules.codes.list_length, &path, message, advice);
            return None;
        }
        let mut out = Vec::with_capacity(list.len());
        for (index, entry) in list.into_iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.places.set(&path, entry.span());
            out.push((path, entry));
        }
        Some(out)
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
                    self.rules.codes.not_a_count,
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
        let names = self.offered(choices);
        let list = names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let help = match closest(&text, &names) {
            Some(meant) => format!("did you mean \"{meant}\"? Allowed are: {list}"),
            None => format!("allowed are: {list}"),
        };
        let message = format!("{path} is {}, which is none of the choices.", quoted(&text));
        self.error(self.rules.codes.choice_unknown, &path, message, &help);
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
            let list: Vec<String> = self.offered(choices).iter().map(|name| format!("\"{name}\"")).collect();
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
                self.error(self.rules.codes.wrong_type, &path, message, &format!("write {key} = \"...\""));
                None
            }
            other => Some(number_text(other)),
        }
    }

    /// The choices to be offered.
    fn offered<'c, T>(&self, choices: &[(&'c str, T)]) -> Vec<&'c str> {
        let names = choices.iter().map(|(name, _)| *name);
        names.filter(|name| !self.rules.not_offered.contains(name)).collect()
    }
}

/// The value of a number in any of TOML's notations; `None` for what is no number.
fn plain_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix()).ok().map(|n| n as f64),
        DeValue::Float(float) => float.as_str().parse().ok(),
        _ => None,
    }
}
