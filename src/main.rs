//! The program `commis`.

use std::process::ExitCode;

fn main() -> ExitCode {
    #[cfg(all(target_os = "linux", target_env = "gnu"))]
    give_large_blocks_back();
    commis::kitchen::run(commis::cli::Cli::read())
}

/// Blocks of memory from 256 KiB on go back to the system when they are freed. Left to itself glibc raises this limit
/// with every large block that is freed, and what recognisers and voices are done with stays: 60 MB in a session.
#[cfg(all(target_os = "linux", target_env = "gnu"))]
#[expect(unsafe_code, reason = "the one thing that no crate does safely")]
fn give_large_blocks_back() {
    // SAFETY: it sets a number of the allocator, and no other thread runs yet.
    unsafe { libc::mallopt(libc::M_MMAP_THRESHOLD, 256 * 1024) };
}
