//! The bench against a script and a simulated clock.

use std::path::Path;

use super::record::Record;
use super::script::{Act, Script};
use crate::bench::{Bench, Beside, Device, Effect, Event, Heard, Options, View, Why};
use crate::formula::Formula;
use crate::formula::ScaleError;
use crate::hear::HearError;
use crate::scale::LoadCell;
use crate::time::{Moment, Span, Wall};

/// Hears a recording.
pub trait Listener {
    /// Recognises a file as a whole: its audio at 16 kHz mono, and what was heard in it.
    ///
    /// # Errors
    /// When the file cannot be read as audio, or there is no recogniser.
    fn listen(
        &mut self,
        file: &Path,
        bench: &Bench,
    ) -> Result<(Vec<i16>, Option<Heard>), HearError>;
    /// What can be said has changed.
    fn vocabulary_changed(&mut self);
}

/// Where a rehearsal's sounds go.
pub trait Stage {
    /// Takes an effect at its moment.
    fn play(&mut self, effect: &Effect, at: Moment);
    /// Takes the cook's own voice, 16 kHz mono.
    fn cook(&mut self, audio: &[i16], at: Moment);
    /// The titles of a book from which another dish can be made.
    fn book(&self) -> Vec<String> {
        Vec::new()
    }
    /// A formula of the book as another dish, or a sentence for the cook; nothing where there is no book.
    fn fetch(&mut self, _: &str) -> Option<Result<Beside, String>> {
        None
    }
    /// Takes the bench as it stands after each event.
    fn seen(&mut self, _: &View, _: Moment) {}
}

/// No sound at all.
pub struct Silence;

impl Stage for Silence {
    fn play(&mut self, _: &Effect, _: Moment) {}
    fn cook(&mut self, _: &[i16], _: Moment) {}
}

/// Why a rehearsal could not be played to its end.
#[derive(Debug, thiserror::Error)]
pub enum RehearseError {
    /// A recording could not be heard.
    #[error(transparent)]
    Hear(#[from] HearError),
    /// The formula cannot be made in the size asked for.
    #[error(transparent)]
    Size(#[from] ScaleError),
}

/// Runs a script against a formula; `tell` gets every record in order of time.
///
/// # Errors
/// When a recording of the script cannot be heard, or the size is out of reach.
#[allow(clippy::too_many_arguments)]
pub fn rehearse(
    formula: Formula,
    options: Options,
    script: &Script,
    folder: &Path,
    listener: &mut dyn Listener,
    stage: &mut dyn Stage,
    tell: &mut dyn FnMut(&Record),
) -> Result<Bench, RehearseError> {
    let step_g = options.scale_step_g;
    let mut bench = Bench::new(formula, options)?;
    bench.set_book(stage.book());
    let mut run = Run {
        weighs: None,
        step_g,
        bench,
        shown: None,
        stage,
        tell,
        new_words: false,
    };
    let wall = opening_wall(script);
    run.event(&Event::Start { wall }, Moment(0));
    for line in &script.lines {
        let at = Moment(line.at.as_millis());
        run.until(at);
        match &line.act {
            Act::Note(text) => {
                (run.tell)(&Record::new(at, "note", text));
                let text = text.clone();
                let why = Why::Notice;
                run.stage.play(&Effect::Say { text, why }, at);
            }
            Act::Load { from, to, over } => run.load(*from, *to, at, *over),
            Act::Wait => run.event(&Event::Tick, at),
            Act::Say(text) => {
                let text = text.to_lowercase();
                run.event(&Event::Heard(Heard::spoken(text, 1.0)), at);
            }
            Act::Type(text) => run.event(&Event::Heard(Heard::typed(text.to_lowercase())), at),
            Act::Key(key) => run.event(&Event::Key { key: *key }, at),
            Act::Hold(key) => run.event(&Event::KeyHeld { key: *key }, at),
            Act::Device(device, present) => {
                if *device == Device::Scale {
                    run.weighs = None;
                }
                let note = device_note(*device, *present).to_owned();
                run.event(
                    &Event::Device {
                        device: *device,
                        present: *present,
                        note,
                    },
                    at,
                );
            }
            Act::Audio(file) => {
                if std::mem::take(&mut run.new_words) {
                    listener.vocabulary_changed();
                }
                let (audio, heard) = listener.listen(&folder.join(file), &run.bench)?;
                let end = Moment(at.0 + audio.len() as u64 * 1000 / u64::from(crate::hear::RATE));
                run.stage.cook(&audio, at);
                run.until(end);
                match heard {
                    Some(heard) => run.event(&Event::Heard(heard), end),
                    None => (run.tell)(&Record::new(end, "heard", "")),
                }
            }
        }
    }
    // What was poured last comes to rest.
    if let Some(end) = run.weighs.as_ref().map(|w| w.end.plus(SETTLED)) {
        run.until(end);
    }
    Ok(run.bench)
}

/// The wall clock at the beginning: 2026-01-05, a Monday, at the script's hour, in a zone without summer time, so that no
/// rehearsal depends on the day.
pub(super) fn opening_wall(script: &Script) -> Wall {
    Wall {
        unix_ms: 1_767_571_200_000 + i64::from(script.start_minutes) * 60_000,
        offset_s: 0,
        changes: Vec::new(),
    }
}

struct Run<'a> {
    bench: Bench,
    shown: Option<String>,
    stage: &'a mut dyn Stage,
    tell: &'a mut dyn FnMut(&Record),
    new_words: bool,
    /// What lies on the scale, once a script has one.
    weighs: Option<Weighs>,
    step_g: f64,
}

/// A load that changes, on a scale.
struct Weighs {
    cell: LoadCell,
    from: f64,
    to: f64,
    begin: Moment,
    end: Moment,
}

/// After so long without a change a scale has nothing new to tell.
const SETTLED: Span = Span::seconds(3);

impl Weighs {
    fn at(&self, now: Moment) -> f64 {
        if now >= self.end {
            return self.to;
        }
        let whole = self.end.since(self.begin).as_millis() as f64;
        let share = now.since(self.begin).as_millis() as f64 / whole.max(1.0);
        self.from + (self.to - self.from) * share
    }
}

impl Run<'_> {
    /// Lets time pass, stopping wherever the bench wants to be woken.
    fn until(&mut self, at: Moment) {
        loop {
            let wake = self.bench.wake_at().filter(|w| *w < at);
            let shows = self.weighs.as_ref().and_then(|w| {
                let next = w.cell.now().plus(Span::millis(LoadCell::EVERY_MS));
                (next <= at && next <= w.end.plus(SETTLED)).then_some(next)
            });
            match (wake, shows) {
                (None, None) => return,
                (Some(wake), shows) if shows.is_none_or(|s| wake <= s) => {
                    self.event(&Event::Tick, wake);
                }
                _ => self.reading(),
            }
        }
    }

    /// The scale shows what lies on it.
    fn reading(&mut self) {
        if let Some(mut weighs) = self.weighs.take() {
            let mut cell = weighs.cell.clone();
            let (at, reading) = cell.next(|now| weighs.at(now));
            weighs.cell = cell;
            self.weighs = Some(weighs);
            self.event(&Event::Scale { reading }, at);
        }
    }

    /// Something is put on the scale, taken off or poured.
    fn load(&mut self, from: Option<f64>, to: f64, at: Moment, over: Span) {
        let mut cell = match self.weighs.take() {
            Some(weighs) => weighs.cell,
            None => LoadCell::new(self.step_g, at, 1),
        };
        cell.skip_to(at);
        let what = match from {
            Some(from) => format!("{from} to {to} g in {} s", over.as_seconds()),
            None => format!("{to} g"),
        };
        (self.tell)(&Record::new(at, "load", what));
        self.weighs = Some(Weighs {
            cell,
            from: from.unwrap_or(to),
            to,
            begin: at,
            end: at.plus(over),
        });
    }

    fn event(&mut self, event: &Event, at: Moment) {
        if self.bench.is_over() {
            return;
        }
        if let Some(record) = Record::of_event(event, at) {
            (self.tell)(&record);
        }
        let mut wanted = None;
        for effect in self.bench.handle(event, at) {
            self.new_words |= matches!(effect, Effect::Vocabulary);
            if let Some(record) = Record::of_effect(&effect, at) {
                (self.tell)(&record);
            }
            self.stage.play(&effect, at);
            if let Effect::Fetch { title } = &effect {
                wanted = self.stage.fetch(title);
            }
        }
        if let Some(fetched) = wanted {
            let event = match fetched {
                Ok(beside) => Event::Beside {
                    beside: Box::new(beside),
                },
                Err(text) => Event::Told { text },
            };
            self.event(&event, at);
        }
        let view = self.bench.view(at);
        self.stage.seen(&view, at);
        let record = Record::of_view(&view, at);
        if self.shown.as_ref() != Some(&record.text) {
            (self.tell)(&record);
            self.shown = Some(record.text);
        }
    }
}

/// What the cook is told when a device goes or comes.
pub fn device_note(device: Device, present: bool) -> &'static str {
    match (device, present) {
        (Device::Microphone, false) => "the microphone is gone: use the keys",
        (Device::Microphone, true) => "the microphone is back: I am listening",
        (Device::Loudspeaker, false) => "the loudspeaker is gone: read the screen",
        (Device::Loudspeaker, true) => "the loudspeaker is back",
        (Device::Voice, false) => "there is no voice: read the screen",
        (Device::Voice, true) => "the voice is back",
        (Device::Model, false) => "there is no speech model: use the keys",
        (Device::Model, true) => "the speech model is ready",
        (Device::Keypad, false) => "the keypad is gone",
        (Device::Keypad, true) => "the keypad is back",
        (Device::Scale, false) => "the scale is gone: say done when it is in",
        (Device::Scale, true) => "the scale is back",
        (Device::Journal, false) => {
            "I cannot write down what happens: after a power cut I would not know where we were"
        }
        (Device::Journal, true) => "I write down what happens again",
    }
}
