//! The blank survey: every field with a line that says what to measure, from where and with what.

/// A blank survey, in the order in which a person measures. It parses; nothing in it is measured.
pub fn template() -> &'static str {
    include_str!("blank.toml")
}

/// Every field of the blank survey with its dotted path and the remark that explains it, in the survey's order.
pub fn remarks() -> Vec<(String, &'static str)> {
    let mut table = "";
    let mut found = Vec::new();
    for line in template().lines().filter(|line| !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[') {
            table = name.trim_start_matches('[').trim_end_matches(']');
        } else if let (Some((key, _)), Some((_, remark))) = (line.split_once(" = "), line.split_once("# ")) {
            let path = if table.is_empty() { key.to_owned() } else { format!("{table}.{key}") };
            found.push((path, remark));
        }
    }
    found
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
    fn remarks_are_those_of_all_fields() {
        let form: Table = super::template().parse().unwrap();
        let remarks = super::remarks();
        for (path, known) in KEYS {
            let values = |key: &&&str| !["now", "cut_to", "worn", "web", "flange", "station"].contains(key);
            for key in known.iter().filter(values).filter(|key| **key != "hardness_by_depth") {
                if path.is_empty() && form[*key].is_table() {
                    continue;
                }
                let own = if path.is_empty() { (*key).to_owned() } else { format!("{path}.{key}") };
                assert_eq!(remarks.iter().filter(|(path, _)| *path == own).count(), 1, "{own}");
            }
        }
    }

    #[test]
    fn every_field_has_its_remark() {
        for line in super::template().lines().filter(|line| line.contains(" = ") && !line.starts_with('#')) {
            assert!(line.contains("# ") && line.ends_with('.'), "{line}");
        }
    }
}
