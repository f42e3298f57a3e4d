//! What calendars were given out: one that is given out again changed has a higher number (RFC 5545, 3.8.7.4).

use std::collections::BTreeMap;
use std::fs::OpenOptions;
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::outside;
use crate::plan::{self, Plan};

/// The largest list that is read, and how many calendars it keeps.
const LARGEST: u64 = 1 << 20;
const KEPT: usize = 200;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct GivenOut {
    /// What was in it.
    crc: u32,
    sequence: u32,
}

/// How often a plan was changed since it was first given out; noted in the folder. Where nothing can be noted, never:
/// the time stamp then tells which is the newer.
pub(super) fn sequence(folder: &Path, plan: &Plan) -> u32 {
    let file = folder.join("calendars.json");
    let read = outside::read_text(&file, LARGEST).ok();
    let mut all: BTreeMap<String, GivenOut> = read
        .and_then(|text| serde_json::from_str(&text).ok())
        .unwrap_or_default();
    let crc = crc32fast::hash(plan::calendar(plan, 0, 0).as_bytes());
    let name = plan::calendar_name(plan);
    let sequence = match all.get(&name) {
        Some(before) if before.crc == crc => return before.sequence,
        Some(before) => before.sequence.saturating_add(1),
        None => 0,
    };
    all.insert(name, GivenOut { crc, sequence });
    // Names begin with the day: the oldest go.
    while all.len() > KEPT {
        all.pop_first();
    }
    let text = serde_json::to_string_pretty(&all).unwrap_or_default();
    let beside = folder.join("calendars.json.new");
    let written = crate::journal::make_private(folder).is_ok()
        && OpenOptions::new()
            .create(true)
            .truncate(true)
            .write(true)
            .mode(0o600)
            .open(&beside)
            .and_then(|mut f| f.write_all(text.as_bytes()).and_then(|()| f.sync_data()))
            .and_then(|()| std::fs::rename(&beside, &file))
            .is_ok();
    if written { sequence } else { 0 }
}
