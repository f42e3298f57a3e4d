//! A private copy of a model folder with a `Gr.fst` of our own: links to everything else.

use std::fs;
use std::os::unix::fs::{DirBuilderExt, symlink};
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
        let name = format!(
            "commis-model-{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        let private = Self {
            path: std::env::temp_dir().join(name),
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
