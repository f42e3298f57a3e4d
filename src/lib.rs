//! `commis`: an offline, hands-free kitchen assistant. A pure bench in the middle, devices at the edges.

pub mod ask;
pub mod bench;
pub mod cli;
#[cfg(feature = "sound")]
pub mod devices;
pub mod dough;
pub mod formula;
pub mod hear;
pub mod journal;
pub mod keys;
pub mod kitchen;
pub mod measure;
pub mod order;
pub mod plan;
pub mod safety;
pub mod say;
pub mod screen;
pub mod settings;
pub mod swap;
pub mod time;
pub mod timer;
pub mod understand;
