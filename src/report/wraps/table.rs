//! Sweeps as CSV: a row for every value, the unit of every column in its head.

use crate::study::double_wrap::Rule;
use crate::study::wraps::{Row, RowWheel};
use csv::Writer;
use std::error::Error;

/// Rules that every sweep has or may have, in the order of the columns.
const RULES: [(Rule, &str); 6] = [
    (Rule::HighestByFriction, "highest"),
    (Rule::LowestByFriction, "lowest"),
    (Rule::EqualRatio, "equal_ratio"),
    (Rule::CreepCarUp, "creep_up"),
    (Rule::CreepCarDown, "creep_down"),
    (Rule::Measured, "measured"),
];

const INPUTS: [&str; 14] = [
    "arrangement",
    "swept",
    "first_friction_factor [-]",
    "second_friction_factor [-]",
    "first_wrap [deg]",
    "second_wrap [deg]",
    "first_pitch_diameter [mm]",
    "second_pitch_diameter [mm]",
    "rope_stiffness [N]",
    "car_tension [N]",
    "counterweight_tension [N]",
    "slip_reserve [-]",
    "slipping_pass_up [-]",
    "slipping_pass_down [-]",
];

const OUTCOMES: [&str; 7] = [
    "between [N]",
    "drive_shaft [N]",
    "secondary_shaft [N]",
    "drive_peak [MPa]",
    "drive_factor [-]",
    "secondary_peak [MPa]",
    "secondary_factor [-]",
];

/// The rows of all sweeps. An empty field is a number that the survey does not allow.
///
/// # Errors
/// When the table cannot be written to memory.
pub fn wraps_csv(rows: &[Row]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut writer = Writer::from_writer(Vec::new());
    let of_rules = RULES.iter().flat_map(|(_, rule)| OUTCOMES.map(|what| format!("{rule}_{what}")));
    let mut head: Vec<String> = INPUTS.iter().map(ToString::to_string).collect();
    head.extend(of_rules);
    writer.write_record(&head)?;
    for row in rows {
        let mut record = vec![
            row.arrangement.clone(),
            row.swept.name().to_owned(),
            number(row.first_friction),
            number(row.second_friction),
            number(row.first_wrap_rad.to_degrees()),
            number(row.second_wrap_rad.to_degrees()),
            number(row.first_diameter_mm),
            number(row.second_diameter_mm),
            maybe(row.rope_stiffness_n),
            number(row.car_n),
            number(row.counterweight_n),
            number(row.relative_slip_reserve),
            row.slipping_pass_up.map_or(String::new(), |pass| pass.to_string()),
            row.slipping_pass_down.map_or(String::new(), |pass| pass.to_string()),
        ];
        for (rule, _) in RULES {
            record.extend(outcome(row.rules.iter().find(|wheel| wheel.rule == rule)));
        }
        writer.write_record(&record)?;
    }
    Ok(writer.into_inner()?)
}

fn outcome(wheel: Option<&RowWheel>) -> [String; 7] {
    let of = |get: &dyn Fn(&RowWheel) -> Option<f64>| maybe(wheel.and_then(get));
    [
        of(&|w| Some(w.between_n)),
        of(&|w| Some(w.drive_pull_n)),
        of(&|w| w.secondary_pull_n),
        of(&|w| Some(w.drive_peak_mpa)),
        of(&|w| Some(w.drive_least_factor)),
        of(&|w| w.secondary_peak_mpa),
        of(&|w| w.secondary_least_factor),
    ]
}

/// Ten significant digits: enough to form every column again from the others.
fn number(value: f64) -> String {
    let text = format!("{value:.9e}");
    text.parse::<f64>().map_or(text, |rounded| rounded.to_string())
}

fn maybe(value: Option<f64>) -> String {
    value.map_or(String::new(), number)
}
