//! The session: events in, effects out, nothing else touched.

mod clock;
mod effect;
mod event;
mod view;

pub use clock::{Moment, Wall};
pub use effect::{Chime, Effect, TimerChange, VoiceSettings, Why};
pub use event::{Device, Event, Heard, Key};
pub use view::{Big, Listening, TimerState, TimerView, View};
