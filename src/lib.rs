//! `commis`: an offline, hands-free kitchen assistant. A pure bench in the middle, devices at the edges.
//!
//! The bench needs no device and no clock: it is given events with their time and gives back what is to be done. A
//! program of your own needs no more of this crate than `default-features = false`:
//!
//! ```
//! use commis::bench::{Attention, Bench, Effect, Event, Heard, Options};
//! use commis::time::{Moment, Wall};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let text = r#"
//! name = "Plain rolls"
//! makes = { portions = 4, pieces = 4, piece = "roll" }
//! ingredient = [{ id = "flour", name = "plain flour", amount = "200 g" }, { id = "water", amount = "120 g" }]
//! step = [{ title = "Mix", text = "Stir the {water} into the {flour}.", uses = ["flour", "water"] }]
//! "#;
//! let options = Options { attention: Attention::Open, ..Options::default() };
//! let mut bench = Bench::new(commis::formula::read("rolls.toml", text)?, options)?;
//!
//! // What is said of an event: everything else that it brings is left to whoever has a screen and a loudspeaker.
//! let mut tell = |event: Event, seconds: u64| -> Vec<String> {
//!     let effects = bench.handle(&event, Moment(seconds * 1_000));
//!     let said = |e| if let Effect::Say { text, .. } = e { Some(text) } else { None };
//!     effects.into_iter().filter_map(said).collect()
//! };
//! // 2026-01-05 09:00 in a kitchen at UTC.
//! tell(Event::Start { wall: Wall::fixed(1_767_603_600_000, 0) }, 0);
//! assert_eq!(tell(Event::Heard(Heard::typed("how much flour")), 5), ["Two hundred grams of plain flour."]);
//! tell(Event::Heard(Heard::typed("ten minute timer")), 10);
//! assert!(tell(Event::Tick, 609).is_empty());
//! assert_eq!(tell(Event::Tick, 610), ["Timer one: time is up."]);
//! # Ok(())
//! # }
//! ```

#![forbid(unsafe_code)]

pub mod ask;
pub mod bench;
pub mod clean;
#[cfg(feature = "program")]
pub mod cli;
#[cfg(feature = "sound")]
pub mod devices;
pub mod dough;
pub mod formula;
pub mod hear;
#[cfg(feature = "program")]
pub mod import;
pub mod journal;
pub mod keypad;
pub mod keys;
#[cfg(feature = "program")]
pub mod kitchen;
pub mod measure;
pub mod order;
pub mod outside;
pub mod page;
#[cfg(feature = "program")]
pub mod paper;
pub mod plan;
pub mod reader;
pub mod safety;
pub mod say;
pub mod scale;
pub mod scale_port;
#[cfg(feature = "program")]
pub mod screen;
pub mod settings;
pub mod swap;
pub mod time;
pub mod timer;
pub mod titles;
pub mod understand;
#[cfg(feature = "program")]
pub mod writing;
