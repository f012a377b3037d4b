//! The process: arguments in, exit code out.
fn main() {}
