//! The `rimproof` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    rimproof::cli::main()
}
