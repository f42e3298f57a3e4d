//! A private copy of a model folder with a `Gr.fst` of our own: links to everything else.

use std::fs;
use std::os::unix::fs::{DirBuilderExt, MetadataExt, symlink};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::HearError;

/// How a model folder takes a grammar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ModelKind {
    /// It has `HCLr.fst` and `Gr.fst`: a strict grammar can be put in.
    Strict,
    /// It has one fixed graph: heard as it is.
    Fixed,
}

/// Looks at a folder and says how it takes a grammar.
///
/// # Errors
/// When it is no Vosk model folder.
pub fn kind_of(model: &Path) -> Result<ModelKind, HearError> {
    let not = |found: &str| HearError::NotAModel {
        path: model.to_owned(),
        found: found.to_owned(),
    };
    if !model.is_dir() {
        return Err(not(if model.exists() {
            "a file"
        } else {
            "nothing there"
        }));
    }
    if graph_folder(model).is_some() {
        return Ok(ModelKind::Strict);
    }
    let fixed = ["graph/HCLG.fst", "HCLG.fst"]
        .iter()
        .any(|name| model.join(name).exists());
    if !fixed {
        return Err(not("a folder without graph/HCLr.fst or graph/HCLG.fst"));
    }
    Ok(ModelKind::Fixed)
}

/// Where `HCLr.fst` and `Gr.fst` lie, relative to the model: newer models have a `graph` folder.
fn graph_folder(model: &Path) -> Option<&'static str> {
    ["graph", ""].into_iter().find(|inner| {
        model.join(inner).join("HCLr.fst").exists() && model.join(inner).join("Gr.fst").exists()
    })
}

/// What the names of private folders begin with; the number of their process follows.
const PREFIX: &str = "commis-model-";

/// Removes the private folders of this user that sessions have left which were killed meanwhile.
fn sweep(temporary: &Path) {
    let me = rustix::process::geteuid().as_raw();
    for entry in fs::read_dir(temporary).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let process = name
            .to_str()
            .and_then(|n| n.strip_prefix(PREFIX))
            .and_then(|n| n.split('-').next())
            .and_then(|n| n.parse::<u32>().ok());
        let left = process.is_some_and(|p| !Path::new("/proc").join(p.to_string()).exists());
        // A link is nobody's folder.
        let mine = entry
            .path()
            .symlink_metadata()
            .is_ok_and(|found| found.is_dir() && found.uid() == me);
        if left && mine {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

/// A folder that only this user can read, gone when dropped.
#[derive(Debug)]
pub struct PrivateModel {
    path: PathBuf,
}

impl PrivateModel {
    /// Links to `model`'s files beside our own `Gr.fst` and settings.
    ///
    /// # Errors
    /// When the temporary folder cannot be written.
    pub fn with_grammar(model: &Path, grammar: &[u8]) -> Result<Self, HearError> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let read = |path: &Path| {
            let path = path.to_owned();
            move |source| HearError::Read { path, source }
        };
        let model = model.canonicalize().map_err(read(model))?;
        let temporary = std::env::temp_dir();
        sweep(&temporary);
        let name = format!(
            "{PREFIX}{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        let private = Self {
            path: temporary.join(name),
        };
        let make = |folder: &Path| {
            fs::DirBuilder::new()
                .mode(0o700)
                .create(folder)
                .map_err(|source| HearError::Write {
                    path: folder.to_owned(),
                    source,
                })
        };
        // A folder left by a dead process of the same number would be ours; never follow somebody else's.
        if private
            .path
            .symlink_metadata()
            .is_ok_and(|found| found.is_dir())
        {
            let _ = fs::remove_dir_all(&private.path);
        }
        make(&private.path)?;
        let inner = graph_folder(&model).unwrap_or("graph");
        link_all(
            &model,
            &private.path,
            if inner.is_empty() { "Gr.fst" } else { inner },
        )?;
        let graph = private.path.join(inner);
        if !inner.is_empty() {
            make(&graph)?;
            link_all(&model.join(inner), &graph, "Gr.fst")?;
        }
        let path = graph.join("Gr.fst");
        fs::write(&path, grammar).map_err(|source| HearError::Write { path, source })?;
        Ok(private)
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Drop for PrivateModel {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.path);
    }
}

/// Links every entry of `from` into `to`, but for `except`.
fn link_all(from: &Path, to: &Path, except: &str) -> Result<(), HearError> {
    let read = |source| HearError::Read {
        path: from.to_owned(),
        source,
    };
    for entry in fs::read_dir(from).map_err(read)? {
        let entry = entry.map_err(read)?;
        if entry.file_name() == except {
            continue;
        }
        let path = to.join(entry.file_name());
        symlink(entry.path(), &path).map_err(|source| HearError::Write { path, source })?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_killed_session_left_is_removed_and_nothing_else() {
        let temporary = std::env::temp_dir().join(format!("commis-sweep-{}", std::process::id()));
        // No process has the number: the largest that Linux gives is 4,194,304 (proc(5), pid_max).
        let left = temporary.join(format!("{PREFIX}4194305-0"));
        let used = temporary.join(format!("{PREFIX}{}-7", std::process::id()));
        let other = temporary.join("somebody-else");
        for folder in [&left, &used, &other] {
            fs::create_dir_all(folder.join("graph")).expect("made");
        }
        symlink(&other, temporary.join(format!("{PREFIX}4194306-0"))).expect("linked");
        sweep(&temporary);
        assert!(!left.exists());
        assert!(used.exists() && other.join("graph").exists());
        fs::remove_dir_all(&temporary).expect("removed");
    }
}
