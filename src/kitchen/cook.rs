//! The live session: real clock, real devices, one short loop.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crossbeam_channel::{Receiver, Sender, bounded, never, select};
use signal_hook::consts::SIGINT;

use super::chosen::Chosen;
use super::display::Display;
use super::kept::Kept;
use super::memory::{Memory, Wanted};
use super::output::{Printer, complain, remark};
use super::recordings::Recordings;
use super::trouble::Trouble;
use super::{hush, plain, several, signals};
use crate::bench::{Bench, Chime, Device, DishId, Effect, Event, Heard, TakeDown, TimerState, Why};
use crate::cli::CookArgs;
use crate::formula::{Batch, Formula};
use crate::hear::HearError;
use crate::journal::{
    Bake, Clock, ClockWatch, CooksNote, Entry, JournalError, Log, Readings, Rise, Scribe,
    ScribeNews, WentIn, Word, make_private, wall_now,
};
use crate::keys::{self, KeyNews};
use crate::order::Key;
use crate::say::{Mouth, MouthNews, SayError};
use crate::scale_port::ScaleNews;
use crate::screen::{Ground, Theme};
use crate::settings::{ScreenKind, Settings};
use crate::time::{Moment, Wall};

/// The screen is drawn at least this often while timers run.
const REDRAW: Duration = Duration::from_millis(500);
/// How often the clocks are looked at. While the machine sleeps, waiting does not count; so this is also how late an
/// alarm may be that came due in its sleep. One look costs some 50 microseconds.
const CLOCK_LOOK: Duration = Duration::from_secs(1);
/// Nothing came for this long.
const QUIET: Duration = Duration::from_millis(120);

/// So many keys and lines wait for the bench; whoever types faster waits.
const WAITING: usize = 256;
/// How long the last words may take: when the cook leaves, and when the session is told to stop.
const LAST_WORDS: (Duration, Duration) = (Duration::from_secs(8), Duration::from_secs(4));
/// An order is acted on aloud when it is on the disk, or after this.
const ON_DISK_WITHIN: Duration = Duration::from_secs(2);

/// Where the conversation is shown.
enum Shown {
    Plain(Printer),
    Screen(Display),
    /// The terminal has gone.
    Nowhere,
}

/// Where the bake log is, and when this session began.
struct BakeLog {
    folder: Option<PathBuf>,
    began_ms: i64,
}

/// What was typed in lines.
#[derive(Default)]
struct Typed {
    any: bool,
    ended: bool,
}

struct Session {
    bench: Bench,
    clock: Clock,
    journal: Option<Scribe>,
    log: BakeLog,
    mouth: Mouth,
    /// Steps that a cook has spoken.
    recordings: Recordings,
    ear: super::live_ear::LiveEar,
    told_drops: bool,
    /// Something was said, and what may come after it has not been told to the voice.
    foresee: bool,
    /// The voice that was chosen makes sentences ahead.
    makes_ahead: bool,
    shown: Shown,
    /// The cook has been told that nothing is written down.
    unwritten: bool,
    kept: Kept,
    /// The book, and the settings that another dish from it needs.
    book: (Vec<super::shelf::Kept>, Settings),
    /// The loudspeaker is there: now, and when it was last looked at.
    speaker: (Arc<AtomicBool>, bool),
    /// On the first run: the devices found so far, until they are told.
    found: Option<Vec<String>>,
    /// Lines that were typed, and whether no more come.
    typed: Typed,
    /// A key of a typed line is being pressed.
    entered: bool,
    /// A keypad is there.
    keypad: bool,
    /// Letters of a plain line.
    columns: usize,
    /// The session stops, to be taken up again: the exit code.
    stopped: Option<u8>,
}

pub(super) fn cook(args: &CookArgs, chosen: Chosen) -> Result<u8, Trouble> {
    hush::hush();
    chosen.settings.route_sound();
    let keys = bounded(WAITING);
    #[cfg(feature = "keypad")]
    keys::watch(chosen.settings.pad(), keys.0.clone());
    let which = if args.formula.is_empty() {
        let columns = if is_plain(args, &chosen.settings) {
            chosen.settings.plain_line
        } else {
            0
        };
        Ok(vec![super::asking::ask(
            &chosen, &keys.1, &keys.0, columns,
        )?])
    } else {
        several::named(&args.formula)
    };
    let said = || vec![PathBuf::from(args.formula.join(" "))];
    let files = which.as_ref().map_or_else(|_| said(), Vec::clone);
    let (file, others) = files.split_first().unwrap_or((&files[0], &[]));
    let formula = which.and_then(|paths| super::commands::read_formula(&paths[0]));
    let mut options = chosen.settings.options();
    if !others.is_empty() {
        several::one_size(&args.size)?;
    }
    for path in others {
        let beside = several::beside(path, &args.size, options.region, Some(&chosen.settings))?;
        options.beside.push(beside);
    }
    if let Some(text) = &args.ready_at {
        options.ready_at = Some(super::service::minute("ready-at", text, &wall_now())?);
    }
    if let Ok((formula, _)) = &formula {
        options.size =
            super::size::scale_by(&args.size, options.region, formula).map_err(Trouble::input)?;
        options.remember(chosen.settings.remembered(formula, options.room_c));
    }
    let readings = Readings::now();
    let path = several::real(file);
    let wanted = Wanted {
        path,
        formula,
        options,
        fresh: args.fresh,
    };
    if let Ok(folder) = chosen.settings.journal_folder() {
        super::unfinished::write_down(&folder);
    }
    let besides = wanted.options.beside.clone();
    let folder = Path::new(&wanted.path).parent().map(Path::to_path_buf);
    let mut memory = Memory::open(chosen.settings.journal_folder(), wanted, &readings)?;
    let folder = folder.unwrap_or_default();
    let mut recordings = Recordings::default();
    if let Some((formula, _)) = memory.bench.formula_of(DishId::default()) {
        memory.notes.extend(recordings.add(formula, &folder));
    }
    for beside in &besides {
        let folder = Path::new(&beside.path).parent().unwrap_or(&folder);
        let known = |n: u32| memory.bench.formula_of(DishId(n));
        let formula = (1..).map_while(known).find(|(f, _)| beside.names(&f.name));
        if let Some((formula, _)) = formula {
            memory.notes.extend(recordings.add(formula, folder));
        }
    }
    memory.besides = besides;
    live(args, chosen, memory, recordings, &readings, keys)
}

/// Lines one after the other, for a screen reader, a pipe, or a terminal that can do nothing else.
fn is_plain(args: &CookArgs, settings: &Settings) -> bool {
    args.plain
        || settings.screen == ScreenKind::Plain
        || !std::io::stdout().is_terminal()
        || !std::io::stdin().is_terminal()
        || std::env::var_os("TERM").is_some_and(|term| term == "dumb")
}

fn live(
    args: &CookArgs,
    chosen: Chosen,
    mut memory: Memory,
    recordings: Recordings,
    readings: &Readings,
    (key_sender, key_news): (Sender<KeyNews>, Receiver<KeyNews>),
) -> Result<u8, Trouble> {
    let kept_book = super::shelf::all();
    let mut bench = memory.bench;
    bench.set_book(several::titles_of(&kept_book));
    if chosen.first {
        let text = "I have written a settings file; commis ready says where.";
        memory.notes.push(text.to_owned());
    }
    let settings = &chosen.settings;
    let plain = is_plain(args, settings);
    let mut found = Vec::new();
    let speaker = super::live_ear::speaker(settings);
    found.extend(speaker.name.iter().map(|n| format!("the loudspeaker {n}")));
    let (ear, own) =
        super::live_ear::LiveEar::start(&settings.model_folder(), settings, bench.lexicon());
    let spelt = bench.formula().spelt();
    let voices = super::stage::voices(settings).into_iter();
    let voices = voices.map(|voice| crate::say::respelt(voice, &spelt));
    let voices = voices.collect();
    let (mouth, mouth_news) = Mouth::start(voices, bench.voice_settings(), speaker.sink, own);
    let (scale_sender, scale_news) = bounded(WAITING);
    crate::scale_port::watch(settings.port(), scale_sender);
    let signals = signals::watch();
    let shown = if plain {
        keys::typed_lines(key_sender);
        Shown::Plain(Printer::start())
    } else {
        let ground = if settings.light {
            Ground::Light
        } else {
            Ground::Dark
        };
        let theme = Theme::from_environment(ground);
        let screen =
            Display::start(theme).map_err(|e| Trouble::failed(format!("the terminal: {e}")))?;
        keys::watch_terminal(key_sender);
        Shown::Screen(screen)
    };
    let mut session = Session {
        kept: Kept::new(chosen.path.clone(), &bench),
        book: (kept_book, settings.clone()),
        found: chosen.first.then_some(found),
        speaker: (speaker.there, speaker.name.is_ok()),
        bench,
        clock: memory.clock,
        journal: memory.journal,
        log: BakeLog {
            folder: settings.journal_folder().ok(),
            began_ms: memory.began_ms,
        },
        mouth,
        recordings,
        ear,
        told_drops: false,
        foresee: settings.engine == crate::settings::Engine::Natural,
        makes_ahead: settings.engine == crate::settings::Engine::Natural,
        shown,
        unwritten: false,
        typed: Typed::default(),
        entered: false,
        keypad: false,
        columns: settings.plain_line,
        stopped: None,
    };
    // What was looked at just before a crash may not have come into the log.
    for (at, effect) in &memory.took {
        session.log_rise(effect, *at);
    }
    let wall = readings.wall.clone();
    if let Some(gap_ms) = memory.away_ms {
        session.event(Event::Resumed {
            wall,
            gap_ms,
            notes: memory.notes,
            dish: DishId::default(),
            formula: memory.edited,
        });
        // What the cook names besides, and what was edited of it.
        for beside in memory.besides {
            if !session.bench.has(&beside) {
                let beside = Box::new(beside);
                session.event(Event::Beside { beside });
            }
        }
    } else {
        session.event(Event::Start { wall });
        if !memory.notes.is_empty() {
            let text = memory.notes.join(" ");
            session.event(Event::Told { text });
        }
    }
    if let Some(note) = memory.trouble {
        session.journal_news(false, note);
    }
    let mut missing = |device, note: Option<String>| {
        if let Some(note) = note {
            session.event(Event::Device {
                device,
                present: false,
                note,
            });
        }
    };
    missing(
        Device::Loudspeaker,
        speaker.name.err().map(|e| note(&e, "read the screen")),
    );
    missing(Device::Microphone, session_deaf());
    session.run(&mouth_news, &key_news, &scale_news, &signals, readings)
}

/// What would be said if one of the likeliest keys were pressed now: the session is played on in a copy.
fn foreseen(bench: &Bench, now: Moment) -> Vec<String> {
    let said = |key: Key| {
        let effects = bench.clone().handle(&Event::Key { key }, now);
        effects.into_iter().filter_map(|effect| match effect {
            Effect::Say { text, .. } => Some(text),
            _ => None,
        })
    };
    [Key::Enter, Key::Plus, Key::Minus]
        .into_iter()
        .flat_map(said)
        .collect()
}

/// The voice that was chosen cannot be used.
fn speaks_otherwise(why: &SayError) -> String {
    format!(
        "{}. Another voice speaks in its place.",
        crate::measure::words::capital(&why.to_string())
    )
}

/// What is wrong and what to do, as one clause.
fn note(wrong: &dyn std::fmt::Display, to_do: &str) -> String {
    format!("{}; {to_do}", wrong.to_string().trim_end_matches('.'))
}

/// A build without hearing says so once.
fn session_deaf() -> Option<String> {
    super::live_ear::NOT_BUILT.then(|| format!("{}; use the keys", HearError::NotBuilt))
}

impl Session {
    fn run(
        mut self,
        mouth: &Receiver<MouthNews>,
        keys: &Receiver<KeyNews>,
        scale: &Receiver<ScaleNews>,
        signals: &Receiver<i32>,
        readings: &Readings,
    ) -> Result<u8, Trouble> {
        let mut watch = ClockWatch::new(readings.wall.clone(), readings.boot_ms);
        let mut clock_looked = self.clock.now();
        let ear_news = self.ear.news().unwrap_or_else(never);
        let mut keys = keys.clone();
        let mut scale = scale.clone();
        let mut mouth = mouth.clone();
        let mut ear_news = ear_news;
        while !self.bench.is_over() && self.stopped.is_none() {
            self.draw();
            let now = self.clock.now();
            let until_wake = self.bench.wake_at().map_or(CLOCK_LOOK, |w| {
                Duration::from_millis(w.0.saturating_sub(now.0))
            });
            let redraw =
                matches!(self.shown, Shown::Screen(_)) && self.bench.rack().live_count() > 0;
            let wait = until_wake
                .min(CLOCK_LOOK)
                .min(if redraw { REDRAW } else { CLOCK_LOOK });
            // What may be said next is thought of when nothing else is to be done, and no alarm waits for it.
            let quiet = self.foresee && wait > QUIET;
            let wait = if quiet { QUIET } else { wait };
            select! {
                recv(keys) -> news => match news {
                    Ok(news) => self.key(news),
                    Err(_) => keys = never(),
                },
                recv(scale) -> news => match news {
                    Ok(news) => self.weigh(news),
                    Err(_) => scale = never(),
                },
                recv(mouth) -> news => match news {
                    Ok(MouthNews::OtherVoice(e)) => self.event(Event::Told { text: speaks_otherwise(&e) }),
                    Ok(MouthNews::NoVoice(e)) => self.gone(Device::Voice, note(&e, "read the screen")),
                    Ok(MouthNews::VoiceBack) => self.back(Device::Voice),
                    Ok(MouthNews::NoLoudspeaker(e)) => self.gone(Device::Loudspeaker, note(&e, "read the screen")),
                    Err(_) => mouth = never(),
                },
                recv(ear_news) -> news => match news {
                    Ok(news) => self.hear(news),
                    Err(_) => ear_news = never(),
                },
                recv(signals) -> signal => if let Ok(signal) = signal {
                    self.told_to_stop(signal);
                },
                default(wait) => if quiet {
                    self.foresee = false;
                    // Nothing is made ahead where nobody would hear it.
                    if !self.bench.lacks(Device::Loudspeaker) && !self.bench.lacks(Device::Voice) {
                        self.mouth.prepare(foreseen(&self.bench, now));
                    }
                }
            }
            self.look_at_loudspeaker();
            self.look_at_journal();
            let now = self.clock.now();
            if self.bench.wake_at().is_some_and(|w| w <= now) {
                self.event(Event::Tick);
            }
            if now.since(clock_looked).as_millis() >= CLOCK_LOOK.as_millis() as u64 {
                clock_looked = now;
                if let Some(wall) = watch.look() {
                    self.event(Event::WallChanged { wall });
                }
                self.leave_with_the_input();
            }
        }
        Ok(self.leave())
    }

    /// The exit code. A session that was told to stop is not over: its journal stays to be taken up again.
    fn leave(mut self) -> u8 {
        // The terminal is given back before the last words are spoken.
        let printer = match std::mem::replace(&mut self.shown, Shown::Nowhere) {
            Shown::Plain(printer) => Some(printer),
            Shown::Screen(screen) => {
                drop(screen);
                if self.stopped.is_some() {
                    remark(&self.bench.last_said());
                }
                None
            }
            Shown::Nowhere => None,
        };
        if self.stopped.is_none()
            && let Some(folder) = &self.log.folder
        {
            self.log_bakes(folder);
        }
        let patience = match self.stopped {
            None => LAST_WORDS.0,
            Some(_) => LAST_WORDS.1,
        };
        // Before the goodbye has been said: killed within it, the session is over all the same.
        if self.stopped.is_none()
            && let Some(journal) = self.journal
            && let Err(e) = journal.finish(self.clock.now(), ON_DISK_WITHIN)
        {
            complain(&e);
        }
        self.mouth.finish(patience);
        if let Some(printer) = printer {
            printer.finish(Duration::from_secs(1));
        }
        self.stopped.unwrap_or(0)
    }

    /// What became of each dish goes to the bake log.
    fn log_bakes(&self, folder: &Path) {
        let wall = wall_now();
        for account in self.bench.accounts() {
            let bake = Bake {
                account,
                began_ms: self.log.began_ms,
                at_ms: wall.unix_ms,
                offset_s: wall.offset_s,
            };
            if let Err(e) = Log::append(folder, &bake) {
                complain(&e);
            }
        }
    }

    /// A terminal that is closed takes nothing from a session but its screen; whoever asks it to stop is obeyed.
    fn told_to_stop(&mut self, signal: i32) {
        if signals::is_hang_up(signal) && signals::terminal_is_gone() {
            if !matches!(self.shown, Shown::Nowhere) {
                self.shown = Shown::Nowhere;
                let text = "The screen is gone. I go on by voice and keypad, and alarms ring.";
                self.event(Event::Told {
                    text: text.to_owned(),
                });
            }
            return;
        }
        self.stop("I am told to stop.", signals::exit_code(signal));
    }

    /// Stops at once, with a word: the journal stays, and the session can be taken up again.
    fn stop(&mut self, why: &str, code: u8) {
        self.mouth.play(&Effect::Hush);
        let kept = if self.journal.is_some() && !self.unwritten {
            "Start me again with this formula, and I go on from here."
        } else {
            "Nothing of this session is written down."
        };
        let timers = if self.bench.rack().live_count() > 0 {
            " Until then no timer rings."
        } else {
            ""
        };
        let text = format!("{why} {kept}{timers}");
        self.event(Event::Told { text });
        self.stopped = Some(code);
    }

    /// Where nothing is typed any more and nobody can be heard or press a key, the session ends. One that was typed to ends
    /// with its lines; one that never had any may be there for the voice.
    fn leave_with_the_input(&mut self) {
        let deaf = self.bench.lacks(Device::Microphone)
            || self.bench.lacks(Device::Model)
            || !self.ear.hears();
        let alone = self.typed.any || std::io::stdin().is_terminal() || (deaf && !self.keypad);
        if !self.typed.ended || !alone || self.bench.is_over() || self.stopped.is_some() {
            return;
        }
        if self.bench.rack().live_count() > 0 {
            self.stop("Nothing more is typed, so I stop here.", 0);
        } else {
            self.event(Event::Heard(Heard::typed("goodbye")));
            self.event(Event::Heard(Heard::typed("yes")));
        }
    }

    /// That it went the mouth tells; that it came is seen when something is played again.
    fn look_at_loudspeaker(&mut self) {
        let there = self.speaker.0.load(Ordering::Relaxed);
        let was = std::mem::replace(&mut self.speaker.1, there);
        // What rang into it was not heard.
        if was && !there && !self.bench.rack().ringing().is_empty() {
            self.bell();
        }
        if there && !was {
            self.back(Device::Loudspeaker);
        }
    }

    fn back(&mut self, device: Device) {
        self.event(Event::Device {
            device,
            present: true,
            note: super::device_note(device, true).to_owned(),
        });
    }

    fn gone(&mut self, device: Device, note: String) {
        self.event(Event::Device {
            device,
            present: false,
            note,
        });
    }

    fn key(&mut self, news: KeyNews) {
        match news {
            KeyNews::Press(key) => self.event(Event::Key { key }),
            KeyNews::Held(key) => self.event(Event::KeyHeld { key }),
            KeyNews::Line(text) => self.line(&text),
            KeyNews::Keys(keys) => self.typed_keys(&keys),
            KeyNews::Plugged(name) => {
                self.keypad = true;
                self.find(format!("the keypad {name}"));
                self.event(Event::Device {
                    device: Device::Keypad,
                    present: true,
                    note: format!("the keypad is back: {name}"),
                });
            }
            KeyNews::Unplugged => {
                self.keypad = false;
                let note = "the keypad is gone; I take it up when it is back";
                self.gone(Device::Keypad, note.to_owned());
            }
            KeyNews::NoKeypad(why) => self.gone(Device::Keypad, why),
            KeyNews::Resized => {
                if let Shown::Screen(screen) = &self.shown {
                    screen.redraw();
                }
            }
            KeyNews::Leave if matches!(self.shown, Shown::Screen(_)) => {
                self.event(Event::Heard(Heard::typed("goodbye")));
            }
            KeyNews::Leave => {
                self.typed.ended = true;
                self.leave_with_the_input();
            }
            // What Control-C does to any other program.
            KeyNews::LeaveNow => self.stop("I am leaving.", signals::exit_code(SIGINT)),
        }
    }

    /// A typed line: an order, or keys. A bare number is one to a question, and else keys.
    fn line(&mut self, text: &str) {
        self.typed.any = true;
        let digits = || {
            text.chars()
                .map(|c| super::key(c.encode_utf8(&mut [0; 4])))
                .collect::<Option<Vec<Key>>>()
        };
        let is_number = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        let as_keys = self.bench.is_entering() || !self.bench.is_asking();
        // `key 5` presses a key.
        let keys = match text.strip_prefix("key ") {
            Some(key) => super::key(key.trim()).map(|key| vec![key]),
            None if is_number && as_keys => digits(),
            None => None,
        };
        match keys {
            Some(keys) => self.typed_keys(&keys),
            None => self.event(Event::Heard(Heard::typed(text.to_lowercase()))),
        }
    }

    /// Keys of a typed line: what they enter is in the line, and is not said back.
    fn typed_keys(&mut self, keys: &[Key]) {
        self.typed.any = true;
        for key in keys {
            self.entered = true;
            self.event(Event::Key { key: *key });
            self.entered = false;
        }
    }

    fn weigh(&mut self, news: ScaleNews) {
        match news {
            ScaleNews::Plugged(name) => {
                self.find(format!("the scale {name}"));
                self.status(&format!("the scale is {name}"));
                self.back(Device::Scale);
            }
            ScaleNews::Unplugged => self.gone(
                Device::Scale,
                super::device_note(Device::Scale, false).to_owned(),
            ),
            ScaleNews::NoScale(why) => self.gone(Device::Scale, why),
            ScaleNews::Reading(reading) => {
                // What time brings is written down, and most readings are not.
                let now = self.clock.now();
                if self.bench.wake_at().is_some_and(|wake| wake <= now) {
                    self.event(Event::Tick);
                }
                self.event(Event::Scale { reading });
            }
        }
    }

    fn hear(&mut self, news: super::live_ear::News) {
        use super::live_ear::News;
        match news {
            News::Heard(heard) => self.event(Event::Heard(heard)),
            News::Listening { microphone } => {
                self.status(&format!("listening through {microphone}"));
                self.find(format!("the microphone {microphone}"));
                self.tell_found();
            }
            News::NoMicrophone(e) => {
                self.gone(Device::Microphone, note(&e, "use the keys"));
                self.tell_found();
            }
            News::MicrophoneBack => self.back(Device::Microphone),
            News::Dropped(pieces) => {
                self.status(&format!(
                    "{pieces} pieces of sound lost: this machine is busy"
                ));
                if !std::mem::replace(&mut self.told_drops, true) {
                    let text = "This machine is busy: I miss some of what is said.".to_owned();
                    self.event(Event::Told { text });
                }
            }
            News::Noted { text, kept } => {
                let name = |path: &PathBuf| Some(path.file_name()?.to_str()?.to_owned());
                let recording = kept.as_ref().ok().and_then(name);
                let failed = kept.is_err() && !self.unwritten;
                self.event(Event::Noted { text, recording });
                if failed {
                    let text = "I could not keep the sound of your note.".to_owned();
                    self.event(Event::Told { text });
                }
            }
            News::NothingNoted => {
                let (text, recording) = (String::new(), None);
                self.event(Event::Noted { text, recording });
            }
            News::NoModel(e) => {
                self.gone(Device::Model, note(&e, "use the keys"));
                self.tell_found();
            }
        }
    }

    fn find(&mut self, what: String) {
        if let Some(found) = &mut self.found {
            found.push(what);
        }
    }

    /// The first run says what it works with; what is missing has been told as such.
    fn tell_found(&mut self) {
        let Some(found) = self.found.take() else {
            return;
        };
        let text = match found.as_slice() {
            [] => "I found no device: the keys of this terminal will do.".to_owned(),
            some => format!("I found {}.", crate::bench::list(some)),
        };
        self.event(Event::Told { text });
    }

    fn status(&self, text: &str) {
        self.print(plain::wrapped(&format!("({text})"), self.columns));
    }

    fn print(&self, lines: Vec<String>) {
        if let Shown::Plain(printer) = &self.shown {
            for line in lines {
                printer.line(&line);
            }
        }
    }

    /// One event: an order into the journal first, then its effects to the world. What time brings rings first and is
    /// written after: an alarm does not wait for the disk, and a session that is taken up again knows the time.
    fn event(&mut self, event: Event) {
        let at = self.clock.now();
        let taken = self.bench.take(&event, at);
        let entry = Entry::kept(&event, &taken, at);
        let late = match entry {
            Some(entry) if event != Event::Tick => {
                self.write_first(entry, at);
                None
            }
            later => later,
        };
        if let Some(heard) = plain::heard(&event) {
            self.print(plain::wrapped(&heard, self.columns));
        }
        let effects = self.bench.apply(&event, &taken, at);
        self.perform(&effects);
        if let (Some(entry), Some(journal)) = (late, &self.journal) {
            journal.write(entry);
        }
        if let Some(text) = self.kept.look(&self.bench) {
            self.event(Event::Told { text });
        }
    }

    /// When this comes back the entry is on the disk, or the cook has been told that it is not; or an alarm is due, which
    /// waits for no disk.
    fn write_first(&mut self, entry: Entry, now: Moment) {
        let Some(journal) = &self.journal else {
            return;
        };
        let until_alarm = self.bench.wake_at().map_or(ON_DISK_WITHIN, |wake| {
            Duration::from_millis(wake.since(now).as_millis())
        });
        journal.write_first(entry, until_alarm.min(ON_DISK_WITHIN));
        self.look_at_journal();
    }

    fn look_at_journal(&mut self) {
        while let Some(news) = self.journal.as_ref().and_then(Scribe::news) {
            match news {
                ScribeNews::Refused(why) => self.journal_news(false, why.to_owned()),
                ScribeNews::Whole => {
                    let note = super::device_note(Device::Journal, true);
                    self.journal_news(true, note.to_owned());
                }
                ScribeNews::Deleted => {
                    let text = "My notes were deleted while we cook. I have written them again.";
                    let text = text.to_owned();
                    self.event(Event::Told { text });
                }
            }
        }
    }

    /// Told once until it changes, and not written down: a session that is taken up again finds out for itself.
    fn journal_news(&mut self, present: bool, note: String) {
        if self.unwritten != present {
            return;
        }
        self.unwritten = !present;
        let effects = self.bench.handle(
            &Event::Device {
                device: Device::Journal,
                present,
                note,
            },
            self.clock.now(),
        );
        self.perform(&effects);
    }

    fn perform(&mut self, effects: &[Effect]) {
        let says_back = |e: &Effect| matches!(e, Effect::Say { text, .. } if text.bytes().all(|b| b.is_ascii_digit()));
        if !(self.entered && effects.iter().any(says_back)) {
            self.print(plain::plain_lines(effects, self.columns));
        }
        self.foresee |= self.makes_ahead && effects.iter().any(|e| matches!(e, Effect::Say { .. }));
        for effect in effects {
            if let Effect::Chime {
                chime: Chime::Due | Chime::Cue,
                ..
            } = effect
                && !self.speaker.1
            {
                self.bell();
            }
            match effect {
                Effect::Took { .. } => self.log_rise(effect, self.clock.now()),
                Effect::Weighed {
                    dish,
                    ingredient,
                    wanted,
                    really,
                } => self.log_weighed(*dish, ingredient, *wanted, *really),
                Effect::Fetch { title } => self.fetch(title),
                Effect::Noted {
                    dish,
                    note,
                    recording,
                } => self.log_note(*dish, note, recording.as_deref()),
                Effect::TakeDown { what } => self.take_down(*what),
                Effect::PlayNote { recording, words } => self.play_note(recording, words),
                Effect::Judged { dish, word } => self.log_word(*dish, word),
                Effect::Vocabulary => self.ear.set_words(self.bench.lexicon()),
                other => self.recordings.play(
                    &self.mouth,
                    other,
                    &self.bench.formula().name,
                    self.bench.recorded(),
                ),
            }
        }
    }

    /// Another dish from the book.
    fn fetch(&mut self, title: &str) {
        let event = match several::fetch(title, &self.book.0, Some(&self.book.1)) {
            Ok(beside) => Event::Beside {
                beside: Box::new(beside),
            },
            Err(text) => Event::Told { text },
        };
        self.event(event);
    }

    /// The bell of the terminal, where there is one.
    fn bell(&self) {
        match &self.shown {
            Shown::Plain(printer) => printer.bell(),
            Shown::Screen(screen) => screen.bell(),
            Shown::Nowhere => {}
        }
    }

    /// What ended on a look goes to the bake log, once.
    fn log_rise(&mut self, effect: &Effect, at: Moment) {
        let Effect::Took {
            dish,
            timer,
            planned,
            took,
            room_c,
            asked,
        } = effect
        else {
            return;
        };
        let began_ms = self.log.began_ms;
        let ago = i64::try_from(self.clock.now().since(at).as_millis()).unwrap_or(0);
        let rise = |(formula, batch): (&Formula, &Batch), wall: Wall| Rise {
            formula: formula.name.clone(),
            timer: timer.clone(),
            planned: *planned,
            took: *took,
            room_c: *room_c,
            scale: batch.by().to_owned(),
            asked: *asked,
            began_ms,
            at_ms: wall.unix_ms.saturating_sub(ago),
            offset_s: wall.offset_s,
        };
        let once = |folder: &Path, rise: &Rise| {
            let is_same = |r: &Rise| (r.began_ms, &r.timer, r.took) == (began_ms, timer, *took);
            match Log::read(folder) {
                Ok(log) if log.rises.iter().any(is_same) => Ok(()),
                _ => Log::append(folder, rise),
            }
        };
        self.log_of(
            *dish,
            rise,
            once,
            "I could not write down how long it took.",
        );
    }

    /// What the scale showed goes to the bake log.
    fn log_weighed(&mut self, dish: DishId, ingredient: &str, wanted_g: f64, really_g: f64) {
        let began_ms = self.log.began_ms;
        let went_in = |(formula, batch): (&Formula, &Batch), wall: Wall| WentIn {
            formula: formula.name.clone(),
            ingredient: ingredient.to_owned(),
            wanted_g,
            really_g,
            scale: batch.by().to_owned(),
            began_ms,
            at_ms: wall.unix_ms,
            offset_s: wall.offset_s,
        };
        self.log_of(
            dish,
            went_in,
            Log::append,
            "I could not write down what went in.",
        );
    }

    /// What is said next is to be kept, or no more.
    fn take_down(&mut self, what: TakeDown) {
        match what {
            TakeDown::Begin => {
                let Some(folder) = self.log.folder.as_deref().map(Log::notes_folder) else {
                    return;
                };
                if make_private(&folder).is_ok() {
                    let file = Log::note_file(self.log.began_ms, wall_now().unix_ms);
                    self.ear.take_down(folder.join(file));
                }
            }
            TakeDown::Keep => self.ear.end_note(true),
            TakeDown::Drop => self.ear.end_note(false),
        }
    }

    /// Plays a note of the cook's; where that cannot be, its words are said.
    fn play_note(&self, recording: &str, words: &str) {
        let folder = self.log.folder.as_deref().map(Log::notes_folder);
        let sound = folder.and_then(|folder| super::recordings::load(&folder, recording).ok());
        match sound {
            Some(sound) => self.mouth.sound(sound),
            None => self.mouth.play(&Effect::Say {
                text: if words.is_empty() {
                    "I cannot play that note any more.".to_owned()
                } else {
                    words.to_owned()
                },
                why: Why::Notice,
            }),
        }
    }

    /// What is to be known the next time goes to the bake log.
    fn log_note(&mut self, dish: DishId, note: &str, recording: Option<&str>) {
        let began_ms = self.log.began_ms;
        let record = |(formula, _): (&Formula, &Batch), wall: Wall| CooksNote {
            note: note.to_owned(),
            recording: recording.map(str::to_owned),
            formula: formula.name.clone(),
            began_ms,
            at_ms: wall.unix_ms,
        };
        self.log_of(
            dish,
            record,
            Log::append,
            "I could not write down your note.",
        );
    }

    /// How it was goes to the bake log.
    fn log_word(&mut self, dish: DishId, word: &str) {
        let began_ms = self.log.began_ms;
        let record = |(formula, _): (&Formula, &Batch), wall: Wall| Word {
            word: word.to_owned(),
            formula: formula.name.clone(),
            began_ms,
            at_ms: wall.unix_ms,
        };
        self.log_of(
            dish,
            record,
            Log::append,
            "I could not write down how it was.",
        );
    }

    /// Writes a record of a dish to the bake log; the cook is told where that fails.
    fn log_of<R>(
        &mut self,
        dish: DishId,
        record: impl FnOnce((&Formula, &Batch), Wall) -> R,
        write: impl FnOnce(&Path, &R) -> Result<(), JournalError>,
        failed: &str,
    ) {
        let (Some(folder), Some(of)) = (&self.log.folder, self.bench.formula_of(dish)) else {
            return;
        };
        let written = write(folder, &record(of, wall_now()));
        // Where nothing at all can be written, that has been said.
        if written.is_err() && !self.unwritten {
            let text = failed.to_owned();
            self.event(Event::Told { text });
        }
    }

    fn draw(&self) {
        let Shown::Screen(screen) = &self.shown else {
            return;
        };
        let now = self.clock.now();
        let view = self.bench.view(now);
        let rings = view.timers.iter().any(|t| t.state == TimerState::Ringing);
        let odd = now.0 / REDRAW.as_millis() as u64 % 2 == 1;
        screen.show(view, rings && odd && !self.speaker.1);
    }
}
