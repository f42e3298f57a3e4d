//! Where the program's own files lie: beside the binary, or in the source tree that it was built in.

use std::path::{Path, PathBuf};

/// A shipped file or folder by its path in the repository. The first that is there: `$COMMIS_HOME`, the folders above
/// the binary, an installed `share/commis`, the current folder.
pub fn shipped(relative: &str) -> PathBuf {
    let mut roots: Vec<PathBuf> = Vec::new();
    roots.extend(std::env::var_os("COMMIS_HOME").map(PathBuf::from));
    if let Ok(exe) = std::env::current_exe().and_then(std::fs::canonicalize) {
        roots.extend(exe.ancestors().skip(1).take(4).map(Path::to_path_buf));
        roots.extend(exe.ancestors().nth(2).map(|p| p.join("share/commis")));
    }
    roots.push(PathBuf::from("."));
    roots
        .iter()
        .map(|r| r.join(relative))
        .find(|p| p.exists())
        .unwrap_or_else(|| PathBuf::from(relative))
}
