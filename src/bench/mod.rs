//! The session: events in, effects out, nothing else touched.

mod act;
mod alarm;
mod asking;
mod attention;
mod context;
mod effect;
mod event;
mod help;
pub mod keypad;
mod moving;
mod options;
mod own_time;
mod pending;
mod service;
mod state;
mod sureness;
mod timing;
mod view;
mod view_of;
mod weighing;
mod words;

pub use crate::time::{Moment, Wall};
pub use context::{ask_context, kitchen_lexicon, lexicon, true_hydration};
pub use effect::{Chime, Effect, TimerChange, VoiceSettings, Why};
pub use event::{Device, Event, Heard, Key};
pub use options::{Attention, Options};
pub use own_time::{OwnTime, middle, rise_in};
pub use state::Bench;
pub use sureness::Weighed;
pub use view::{Big, Listening, TimerState, TimerView, View};
pub use words::list;
