//! The blank survey: every field with a line that says what to measure, from where and with what.

/// A blank survey, in the order in which a person measures. It parses; nothing in it is measured.
pub fn template() -> &'static str {
    include_str!("blank.toml")
}

#[cfg(test)]
mod tests {
    use super::super::read::KEYS;
    use toml::Table;

    /// The keys of a table, and of the first entry of an array of tables.
    fn keys(table: &Table, path: &str) -> Vec<String> {
        let mut at = table;
        for part in path.split('.').filter(|part| !part.is_empty()) {
            at = match &at[part] {
                toml::Value::Table(table) => table,
                toml::Value::Array(list) => list[0].as_table().unwrap(),
                other => panic!("{path}: {other}"),
            };
        }
        at.keys().cloned().collect()
    }

    #[test]
    fn the_blank_form_has_every_field_and_no_other() {
        let form: Table = super::template().parse().unwrap();
        for (path, known) in KEYS {
            let mut expected: Vec<&str> = known.to_vec();
            // A worn groove stands on the form as a remark, for most sheaves have none.
            expected.retain(|key| *key != "worn");
            expected.sort_unstable();
            let mut found = keys(&form, path);
            found.sort_unstable();
            assert_eq!(found, expected, "{path}");
        }
    }

    #[test]
    fn every_field_has_its_remark() {
        for line in super::template().lines().filter(|line| line.contains(" = ") && !line.starts_with('#')) {
            assert!(line.contains("# ") && line.ends_with('.'), "{line}");
        }
    }
}
