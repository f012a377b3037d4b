//! The process: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    groundsheet::cli::main()
}
