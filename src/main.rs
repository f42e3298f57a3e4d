//! The command line of `commis`.

fn main() {}
