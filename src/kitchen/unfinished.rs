//! Sessions that ended without goodbye, by a crash or a power cut: what became of their dishes goes to the bake log all the
//! same, and again when they are taken up and end.

use std::path::Path;

use super::memory::bench_of;
use super::output::complain;
use crate::journal::{Bake, Journal, Log, UnfinishedState};

/// Puts into the log what unfinished sessions have come to since it was written last.
pub(super) fn write_down(folder: &Path) {
    let (Ok(found), Ok(log)) = (Journal::unfinished(folder), Log::read(folder)) else {
        return;
    };
    for found in found {
        let UnfinishedState::Ready { header, last } = &found.state else {
            continue;
        };
        let began_ms = header.wall.unix_ms;
        let at_ms = began_ms.saturating_add_unsigned(last.0);
        let known = |b: &Bake| b.began_ms == began_ms && b.at_ms >= at_ms;
        if log.bakes.iter().any(known) {
            continue;
        }
        let Some(bench) = bench_of(&found.path) else {
            continue;
        };
        for account in bench.accounts() {
            let offset_s = header.wall.offset_at(at_ms.div_euclid(1000));
            let bake = Bake {
                account,
                began_ms,
                at_ms,
                offset_s,
            };
            if let Err(e) = Log::append(folder, &bake) {
                complain(&e);
                return;
            }
        }
    }
}
