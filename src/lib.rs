//! `commis`: an offline, hands-free kitchen assistant. A pure bench in the middle, devices at the edges.

pub mod ask;
pub mod bench;
pub mod dough;
pub mod formula;
pub mod measure;
pub mod understand;
