//! The journal: what a session was told, on disk before it is acted on aloud; the clock that outlives a stop; and the log
//! of what was baked here.
//!
//! # The file
//!
//! One session is one file of UTF-8 lines, each ended by a line feed, each one JSON object:
//!
//! ```text
//! {"crc":"8f0c1d22","n":0,"head":{...}}             what the session is; the second line says it again
//! {"crc":"03be71aa","n":2,"at":0,"event":{...},"taken":{...}}
//!                                                   an event at its session time in milliseconds, and what it was taken
//!                                                   to mean: a replay does that, and understands nothing anew
//! {"crc":"77d1f09b","n":9,"anchor":{...}}           the session went on after a restart of the machine
//! {"crc":"11d0ab4e","n":10,"aside":7}               line 7 made the program stumble, and is left out from now on
//! {"crc":"c0ffee11","n":12,"end":{"at":5025000}}    the session ended properly
//! ```
//!
//! `crc` comes first and is eight lower-case hexadecimal digits: the CRC-32 (the one of ISO 3309, zip and PNG) of the
//! object as it would stand without that field, from its `{` to its `}`. `n` counts the lines from 0 without a gap.
//! A line is in the journal when its line feed is; the line feed is what a writer commits.
//!
//! Journals of the first format have no `taken` and one header: their words and keys are understood anew. What people
//! say that is no order is not in the file.
//!
//! # What a stop can do
//!
//! A line is written in one piece and flushed to the disk before [`Journal::append`] returns. What a power cut leaves
//! of the last line is dropped with a note. One bit that has flipped is put right by the checksum. A line that is damaged worse is
//! reported, the damaged file kept aside as a copy, and all but that line kept; time that passed stands in its place. When the disk refuses a line, the journal keeps it in memory and writes it
//! before the next one, so that there is never a hole in the middle. The [`Scribe`] does all this on a thread of its own:
//! an alarm never waits for the disk.

mod bake;
mod clock;
mod contents;
mod error;
mod file;
mod found;
mod header;
mod line;
mod log;
mod note;
mod place;
mod prune;
mod readings;
mod scribe;
mod watch;

pub use bake::{Bake, CooksNote, Forgotten, Rise, WentIn, Word};
pub use clock::{Basis, Clock, Resumption};
pub use contents::contents;
pub use error::JournalError;
pub use file::{Entry, Journal};
pub use found::{Reopened, Unfinished, UnfinishedState};
pub use header::{Anchor, FORMAT, Header};
pub use log::Log;
pub use note::Note;
pub use place::{make_private, state_folder, state_folder_of};
pub use prune::{KEPT_DAYS, KEPT_SESSIONS, prune};
pub use readings::{Readings, local_offset, wall_now};
pub use scribe::{Scribe, ScribeNews};
pub use watch::ClockWatch;

#[cfg(test)]
mod crashes;
#[cfg(test)]
mod scratch;
#[cfg(test)]
mod tests;
