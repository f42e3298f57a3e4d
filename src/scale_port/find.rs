//! Which scale: the one that is plugged in, or the one that the settings name.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::error::PortError;
use crate::clean;
use crate::scale::{Layout, Pattern};

/// The longest report descriptor that the kernel has, in bytes.
const LONGEST: u64 = 4096;

/// What is wanted of the scale.
#[derive(Debug, Clone)]
pub struct PortOptions {
    /// Which one.
    pub wanted: Wanted,
    /// What its lines look like, where it has lines.
    pub pattern: Pattern,
    /// Bits a second, where it is a serial line.
    pub rate: u32,
    /// Where the kernel tells of HID devices.
    pub tells: PathBuf,
    /// Where their nodes lie.
    pub nodes: PathBuf,
}

/// Which scale is wanted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Wanted {
    /// The one that is plugged in.
    #[default]
    Any,
    /// None.
    Off,
    /// The one at this path: a serial line, a file, a pipe, a socket, or a HID node.
    At(PathBuf),
}

impl Default for PortOptions {
    fn default() -> Self {
        Self {
            wanted: Wanted::Any,
            pattern: Pattern::default(),
            rate: 9600,
            tells: PathBuf::from("/sys/class/hidraw"),
            nodes: PathBuf::from("/dev"),
        }
    }
}

/// A scale that is plugged in.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundScale {
    /// Its node.
    pub path: PathBuf,
    /// Its name, as it gives it.
    pub name: String,
    /// Where it puts what.
    pub layout: Layout,
}

/// The layout of a HID node, by its name: `hidraw3`.
pub(super) fn layout(tells: &Path, node: &str) -> Option<Layout> {
    let file = fs::File::open(tells.join(node).join("device/report_descriptor")).ok()?;
    let mut bytes = Vec::new();
    file.take(LONGEST).read_to_end(&mut bytes).ok()?;
    Layout::read(&bytes)
}

/// The names of all HID nodes.
pub(super) fn names(tells: &Path) -> Vec<String> {
    let entries = fs::read_dir(tells).into_iter().flatten();
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

fn called(tells: &Path, node: &str) -> Option<String> {
    let text = crate::outside::read_text(&tells.join(node).join("device/uevent"), LONGEST).ok()?;
    let name = text.lines().find_map(|l| l.strip_prefix("HID_NAME="))?;
    let name = clean::shown(name.trim()).into_owned();
    (!name.is_empty()).then_some(name)
}

/// Every scale that is plugged in.
pub fn find(options: &PortOptions) -> Vec<FoundScale> {
    let scale = |node: String| {
        let layout = layout(&options.tells, &node)?;
        Some(FoundScale {
            path: options.nodes.join(&node),
            name: called(&options.tells, &node).unwrap_or_else(|| node.clone()),
            layout,
        })
    };
    names(&options.tells)
        .into_iter()
        .filter_map(scale)
        .collect()
}

/// The one to use of those that are plugged in.
///
/// # Errors
/// When there is none, or several.
pub fn choose(mut found: Vec<FoundScale>) -> Result<FoundScale, PortError> {
    match found.len() {
        0 => Err(PortError::None),
        1 => Ok(found.remove(0)),
        _ => Err(PortError::Several {
            paths: found.into_iter().map(|f| f.path).collect(),
        }),
    }
}
