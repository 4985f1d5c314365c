//! The built program and its library from outside: one binary, because every binary of tests takes time to link.

mod bad_input;
mod check_mutations;
mod cut_effects;
mod demos;
mod double_wrap;
mod double_wrap_documents;
mod doubt;
mod grooves;
mod hand_calculation;
mod help;
mod json_units;
mod layering;
mod progress;
mod report;
mod settle;
mod shop;
mod solve;
mod survey_faults;
mod survey_mutations;
mod survey_read;
mod verify;
mod vtk_readback;
mod what_if;

/// The built program, run from the project's folder.
fn program() -> assert_cmd::Command {
    let mut command = assert_cmd::Command::cargo_bin("rimproof").unwrap();
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}
