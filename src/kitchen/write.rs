//! `commis write`: a formula made or changed in a dialogue, one question a line.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, bounded, never, select};

use super::chosen::Chosen;
use super::drafts::{DraftFile, taken_up};
use super::live_ear::{self, NamesEar, News};
use super::output::{print, remark};
use super::trouble::Trouble;
use super::typed::{Typed, TypedLines};
use super::{change, commands, import, shelf};
use crate::bench::{Effect, Why};
use crate::cli::WriteArgs;
use crate::hear::wav;
use crate::keys::KeyNews;
use crate::say::{Mouth, Sound};
use crate::settings::Settings;
use crate::writing::{AnswerKind, Answered, Pad, PadSays, Prompt, RECORDING, Writing, phrases};

/// How often the ways in are looked at.
const LOOK: Duration = Duration::from_millis(50);
/// A keypad that is there is found within this.
const FOUND_WITHIN: Duration = Duration::from_secs(1);
/// The longest recording of one step.
const LONGEST: Duration = Duration::from_mins(5);
/// So many keys wait.
const WAITING: usize = 256;
/// How long the last words may take.
const LAST_WORDS: Duration = Duration::from_secs(8);

/// What can be said to any question.
const HELP: &str = "An empty line takes what stands behind 'Enter for'. Undo takes the last answer back, again asks again, \
    pause keeps everything for another time. A step may be typed or spoken; record keeps its sound. On the keypad: a \
    number and Enter; Enter takes the guess, minus takes back, plus asks again, star is none, slash is done.";

/// What is said to name an ingredient that is none of those that are listened for.
const ELSE: &str = "something else";

pub(super) fn write(args: &WriteArgs, chosen: &Chosen) -> Result<u8, Trouble> {
    let mut desk = Desk::open(args, &chosen.settings);
    if let Some(file) = &args.file {
        let named = file.extension().is_some_and(|e| e == "toml");
        if file.exists() || !named && file.components().count() == 1 {
            return desk.change(&shelf::find(file)?);
        }
        if !named {
            let found = file.display();
            return Err(Trouble::input(format!(
                "expected a file that ends in .toml, found `{found}`"
            )));
        }
    }
    desk.make(args.file.as_deref())
}

/// What came in.
enum Came {
    Text(String),
    /// A step that was spoken: its sound, and what was heard of its words.
    Spoken(PathBuf, String),
    /// Free words that were heard: they are asked about.
    Heard(String),
    /// Nothing more can come.
    Nothing,
}

/// Where the dialogue is held: what is typed, pressed and heard, and what is printed and said.
struct Desk<'s> {
    settings: &'s Settings,
    lines: TypedLines,
    typed: bool,
    keys: Receiver<KeyNews>,
    pad: Pad,
    pad_there: bool,
    begun: Instant,
    mouth: Option<Mouth>,
    ear: Option<NamesEar>,
    /// Something can be heard now.
    hears: bool,
    /// Where free words go that are being said.
    said: PathBuf,
}

impl<'s> Desk<'s> {
    fn open(args: &WriteArgs, settings: &'s Settings) -> Self {
        let (sender, keys) = bounded(WAITING);
        #[cfg(feature = "keypad")]
        crate::keys::watch(settings.pad(), sender);
        #[cfg(not(feature = "keypad"))]
        drop(sender);
        let (mouth, ear) = if args.plain && !args.voice {
            (None, None)
        } else {
            voice(settings)
        };
        let said = format!("said-{}.flac", std::process::id());
        let folder = settings.journal_folder();
        Self {
            hears: ear.is_some() && !live_ear::NOT_BUILT,
            said: folder.unwrap_or_else(|_| std::env::temp_dir()).join(said),
            settings,
            lines: TypedLines::default(),
            typed: true,
            keys,
            pad: Pad::default(),
            pad_there: false,
            begun: Instant::now(),
            mouth,
            ear,
        }
    }

    fn tell(&self, text: &str) -> Result<(), Trouble> {
        if text.is_empty() {
            return Ok(());
        }
        if let Some(mouth) = &self.mouth {
            let text = text.to_owned();
            mouth.play(&Effect::Say {
                text,
                why: Why::Ask,
            });
        }
        print(&format!("{text}\n"))
    }

    /// What is being said ends: it is answered.
    fn hush(&self) {
        if let Some(mouth) = &self.mouth {
            mouth.play(&Effect::Hush);
        }
    }

    /// Asks, and waits for what comes. Words that were heard and could be others are asked about.
    fn ask(&mut self, question: &Prompt, names: &[&str]) -> Result<Came, Trouble> {
        loop {
            self.tell(&question.line())?;
            match self.wait(question.kind, names)? {
                Came::Heard(words) => {
                    if let Some(came) = self.confirmed(words)? {
                        return Ok(came);
                    }
                }
                came => return Ok(came),
            }
        }
    }

    /// `I heard: carrot soup. Is that right?` None where it is not; other words than yes and no are the answer.
    fn confirmed(&mut self, words: String) -> Result<Option<Came>, Trouble> {
        self.tell(&format!("I heard: {words}. Is that right?"))?;
        Ok(match self.wait(AnswerKind::YesNo, &[])? {
            Came::Text(answer) => match answer.trim().to_lowercase().as_str() {
                "" | "yes" | "y" => Some(Came::Text(words)),
                "no" | "n" => None,
                _ => Some(Came::Text(answer)),
            },
            came => Some(came),
        })
    }

    /// Waits for what comes.
    fn wait(&mut self, kind: AnswerKind, names: &[&str]) -> Result<Came, Trouble> {
        let _ = std::io::stdout().flush();
        let free = matches!(kind, AnswerKind::Words | AnswerKind::Step);
        if let Some(ear) = &mut self.ear {
            ear.set_phrases(phrases(kind, names), self.settings);
            if free {
                ear.take_down(self.said.clone());
            }
        }
        let came = loop {
            match self.look(kind)? {
                Some(came) => break came,
                None if !self.typed
                    && !self.pad_there
                    && !self.hears
                    && self.begun.elapsed() > FOUND_WITHIN =>
                {
                    break Came::Nothing;
                }
                None => {}
            }
        };
        if let Some(ear) = self.ear.as_ref().filter(|_| free) {
            ear.end_note(false);
        }
        Ok(came)
    }

    /// What came within a moment.
    fn look(&mut self, kind: AnswerKind) -> Result<Option<Came>, Trouble> {
        let heard = self
            .ear
            .as_ref()
            .and_then(NamesEar::news)
            .unwrap_or_else(never);
        let keys = self.keys.clone();
        select! {
            recv(keys) -> news => match news {
                Ok(KeyNews::Press(key)) => {
                    self.hush();
                    match self.pad.key(key, kind) {
                        PadSays::Answer(text) => return Ok(Some(Came::Text(text))),
                        PadSays::Say(text) => self.tell(&text)?,
                    }
                }
                Ok(KeyNews::Plugged(_)) => self.pad_there = true,
                Ok(KeyNews::Unplugged | KeyNews::NoKeypad(_)) => self.pad_there = false,
                Ok(_) => {}
                Err(_) => {
                    self.pad_there = false;
                    self.keys = never();
                }
            },
            recv(heard) -> news => match news {
                Ok(news) => {
                    if let Some(came) = self.heard(news, kind)? {
                        return Ok(Some(came));
                    }
                }
                Err(_) => {
                    self.hears = false;
                    self.ear = None;
                }
            },
            default(LOOK) => {}
        }
        if self.typed {
            match self.lines.look() {
                Typed::Nothing => {}
                Typed::Line(text) => {
                    self.hush();
                    return Ok(Some(Came::Text(text)));
                }
                Typed::End => self.typed = false,
            }
        }
        Ok(None)
    }

    /// What the ear tells.
    fn heard(&mut self, news: News, kind: AnswerKind) -> Result<Option<Came>, Trouble> {
        match news {
            News::Heard(heard) => {
                let talk = heard.follows_talk || heard.rival.is_some_and(|rival| rival > 0.0);
                let text = self.uncalled(&heard.text);
                if talk || text.is_empty() {
                    return Ok(None);
                }
                let sure = heard.confidence >= self.settings.options().doubt_below;
                print(&format!("   {text}\n"))?;
                Ok(match (sure, kind) {
                    (true, _) => {
                        self.echo(&text, kind);
                        Some(Came::Text(text))
                    }
                    // A yes that could be a no is waited for again.
                    (false, AnswerKind::YesNo) => None,
                    (false, _) => Some(Came::Heard(text)),
                })
            }
            News::Noted { text, kept } => {
                let text = self.uncalled(&text);
                if phrases(kind, &[]).contains(&text) {
                    print(&format!("   {text}\n"))?;
                    return Ok(Some(Came::Text(text)));
                }
                Ok(match (kind, kept) {
                    (AnswerKind::Step, Ok(file)) => Some(Came::Spoken(file, text)),
                    (AnswerKind::Step, Err(why)) => {
                        self.tell(&format!("I could not keep that: {why}."))?;
                        None
                    }
                    _ if text.is_empty() => {
                        self.tell("I did not get that. Say again to be asked again, or type it.")?;
                        None
                    }
                    _ => Some(Came::Heard(text)),
                })
            }
            News::NoMicrophone(why) | News::NoModel(why) => {
                remark(&format_args!("{why}; type or use the keys"));
                self.hears = false;
                Ok(None)
            }
            News::Listening { .. } | News::MicrophoneBack => {
                self.hears = true;
                Ok(None)
            }
            News::Dropped(_) | News::NothingNoted => Ok(None),
        }
    }

    /// Without the name that it is called by.
    fn uncalled(&self, text: &str) -> String {
        let called = text.strip_prefix(self.settings.name.as_str());
        called.unwrap_or(text).trim().to_owned()
    }

    /// What was heard and counts is said back: fifteen and fifty sound alike.
    fn echo(&self, text: &str, kind: AnswerKind) {
        let counts = matches!(
            kind,
            AnswerKind::Number
                | AnswerKind::Ingredient
                | AnswerKind::Amount
                | AnswerKind::Names
                | AnswerKind::Time
                | AnswerKind::Heat
        );
        if let Some(mouth) = self.mouth.as_ref().filter(|_| counts) {
            mouth.play(&Effect::Hush);
            mouth.play(&Effect::Say {
                text: format!("{}.", crate::measure::words::capital(text)),
                why: Why::Ask,
            });
        }
    }

    /// A new formula: into `file`, or into the book.
    fn make(&mut self, file: Option<&Path>) -> Result<u8, Trouble> {
        let state = self.settings.journal_folder().map_err(Trouble::failed)?;
        let name = file.map_or_else(|| "new".to_owned(), draft_name);
        let (mut draft, answers) = DraftFile::open(&state, &name)?;
        let (mut writing, lost) = taken_up(&answers);
        if writing.answers() > 0 {
            let of = match writing.draft().name() {
                "" => String::new(),
                name => format!(" of {name}"),
            };
            let left = match lost {
                0 => String::new(),
                n => format!(" {n} of its answers mean nothing to me now."),
            };
            let text = format!(
                "There is a draft{of}, {} answers long.{left} Go on with it?",
                writing.answers()
            );
            let guess = "yes".to_owned();
            let question = Prompt {
                text,
                guess,
                kind: AnswerKind::YesNo,
            };
            match self.ask(&question, &[])? {
                Came::Nothing => return Ok(0),
                Came::Text(text) if matches!(text.to_lowercase().as_str(), "no" | "n") => {
                    draft.put_aside()?;
                    (draft, _) = DraftFile::open(&state, &name)?;
                    writing = Writing::default();
                }
                _ => {}
            }
        } else {
            self.tell("Help tells what can be said. Every answer is kept at once.")?;
        }
        // The words of a step that was spoken, as they were heard.
        let mut words: Option<String> = None;
        loop {
            let question = writing.question();
            let names: Vec<String> = writing.names().map(str::to_owned).collect();
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            let asked = match words.take() {
                Some(heard) => self.confirmed(heard)?,
                None => None,
            };
            let came = match asked {
                Some(came) => came,
                None => self.ask(&question, &names)?,
            };
            let typed = matches!(came, Came::Text(_));
            let text = match came {
                Came::Nothing => return self.pause(),
                Came::Text(text) | Came::Heard(text) => text,
                Came::Spoken(file, heard) => match draft.take_sound(writing.steps() + 1, &file) {
                    Ok(name) => {
                        words = Some(heard).filter(|heard| !heard.is_empty());
                        format!("{RECORDING} {name}")
                    }
                    Err(e) => {
                        self.tell(&format!("{e}."))?;
                        continue;
                    }
                },
            };
            let text = match text.to_lowercase().as_str() {
                "pause" | "later" | "goodbye" | "quit" | "leave" => return self.pause(),
                "again" => continue,
                "help" | "?" => {
                    self.tell(HELP)?;
                    continue;
                }
                ELSE if question.kind == AnswerKind::Ingredient => {
                    let name = Prompt {
                        text: "What is it called?".to_owned(),
                        guess: String::new(),
                        kind: AnswerKind::Words,
                    };
                    match self.ask(&name, &[])? {
                        Came::Text(name) => name,
                        _ => continue,
                    }
                }
                lower
                    if question.kind == AnswerKind::Step
                        && (lower == "record" || lower.starts_with("record ")) =>
                {
                    let file = text["record".len()..].trim();
                    let file = (!file.is_empty()).then(|| Path::new(file));
                    match self.record(&draft, &writing, file) {
                        Ok((answer, heard)) => {
                            words = heard;
                            answer
                        }
                        Err(e) => {
                            self.tell(&format!("{e}."))?;
                            continue;
                        }
                    }
                }
                // Its names are the program's own.
                lower if typed && lower.starts_with(RECORDING) => continue,
                _ => text,
            };
            let came = writing.answer(&text);
            match &came {
                Answered::Not(why) => {
                    words = None;
                    self.tell(why)?;
                    continue;
                }
                _ => draft.keep(&text)?,
            }
            match came {
                Answered::Taken(words) => self.tell(&words)?,
                Answered::Undone => self.tell("Taken back.")?,
                Answered::Keep => return self.put_down(draft, &writing, file),
                Answered::Not(_) => {}
            }
        }
    }

    fn pause(&mut self) -> Result<u8, Trouble> {
        self.tell("Everything is kept. Start me again in the same way to go on.")?;
        self.farewell();
        Ok(0)
    }

    fn farewell(&mut self) {
        let _ = std::fs::remove_file(&self.said);
        if let Some(mouth) = self.mouth.take() {
            mouth.finish(LAST_WORDS);
        }
    }

    /// The formula and its recordings go where they belong; then it is checked as any other.
    fn put_down(
        &mut self,
        draft: DraftFile,
        writing: &Writing,
        file: Option<&Path>,
    ) -> Result<u8, Trouble> {
        let path = match file {
            Some(file) => file.to_path_buf(),
            None => shelf::place_for(writing.draft().name())?,
        };
        let stem = path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let rename = |recording: &str| format!("{stem}-{recording}");
        let folder = path.parent().unwrap_or(Path::new("."));
        for recording in writing.draft().recordings() {
            let (from, to) = (
                draft.folder().join(recording),
                folder.join(rename(recording)),
            );
            let copied = std::fs::copy(&from, &to);
            copied.map_err(|e| Trouble::failed(format!("{}: {e}", to.display())))?;
        }
        import::write(&path, &writing.draft().toml(rename))?;
        draft.done();
        self.tell(&format!("It is kept: {}.", path.display()))?;
        self.farewell();
        commands::check(&[path], self.settings)
    }

    /// A step that is spoken: from a sound file, or from the microphone until a pause, a line or a key ends it. The
    /// answer that names it, and what was heard of its words.
    fn record(
        &mut self,
        draft: &DraftFile,
        writing: &Writing,
        file: Option<&Path>,
    ) -> Result<(String, Option<String>), Trouble> {
        let n = writing.steps() + 1;
        let named = |name: String| format!("{RECORDING} {name}");
        let sound = match file {
            Some(file) => from_samples(wav::read(file).map_err(Trouble::input)?),
            None if self.hears => {
                let (file, heard) = self.take_down()?;
                let heard = Some(heard).filter(|heard| !heard.is_empty());
                return Ok((named(draft.take_sound(n, &file)?), heard));
            }
            None => self.listen()?,
        };
        Ok((named(draft.keep_sound(n, &sound)?), None))
    }

    /// What is said next, whatever it sounds like: its sound and its words.
    fn take_down(&mut self) -> Result<(PathBuf, String), Trouble> {
        self.tell("Speak now. A pause ends it, or Enter.")?;
        let nothing = || Trouble::input("I heard nothing");
        let ear = self.ear.as_ref().ok_or_else(nothing)?;
        let news = ear.news().ok_or_else(nothing)?;
        ear.take_down(self.said.clone());
        loop {
            match news.recv_timeout(LOOK) {
                Ok(News::Noted { text, kept }) => {
                    let file = kept.map_err(Trouble::failed)?;
                    return Ok((file, text));
                }
                Ok(News::NothingNoted | News::NoMicrophone(_) | News::NoModel(_)) => {
                    return Err(nothing());
                }
                Err(crossbeam_channel::RecvTimeoutError::Disconnected) => return Err(nothing()),
                _ => {}
            }
            let typed = self.typed && matches!(self.lines.look(), Typed::Line(_));
            if typed || matches!(self.keys.try_recv(), Ok(KeyNews::Press(_))) {
                ear.end_note(true);
            }
        }
    }

    #[cfg(not(feature = "sound"))]
    fn listen(&mut self) -> Result<Sound, Trouble> {
        Err(Trouble::input("this build has no microphone"))
    }

    #[cfg(feature = "sound")]
    fn listen(&mut self) -> Result<Sound, Trouble> {
        // Two may not have the microphone at once.
        let heard = self.ear.take().is_some();
        let mut microphone = crate::hear::Microphone::open(self.settings.microphone.as_deref())
            .map_err(Trouble::input)?;
        self.tell("Speak now. Enter ends it.")?;
        if let Some(mouth) = self.mouth.take() {
            // What it says itself is not to be on the recording.
            mouth.finish(LAST_WORDS);
        }
        while !microphone
            .next(Duration::ZERO)
            .map_err(Trouble::input)?
            .is_empty()
        {}
        let mut samples: Vec<i16> = Vec::new();
        let most = LONGEST.as_secs() as usize * crate::hear::RATE as usize;
        loop {
            samples.extend(microphone.next(LOOK).map_err(Trouble::input)?);
            let typed = self.typed && !matches!(self.lines.look(), Typed::Nothing);
            let pressed = matches!(self.keys.try_recv(), Ok(KeyNews::Press(_)));
            if typed || pressed || samples.len() >= most {
                break;
            }
        }
        drop(microphone);
        if heard {
            (self.mouth, self.ear) = voice(self.settings);
        }
        Ok(from_samples(samples))
    }

    /// A formula that is there: a change a line.
    fn change(&mut self, path: &Path) -> Result<u8, Trouble> {
        let (formula, _) = commands::read_formula(path)?;
        let begin = format!(
            "{}: a change a line, such as salt to nine grams, or step three to ...",
            formula.name
        );
        self.tell(&begin)?;
        let question = Prompt {
            text: "What is to be changed? Or done.".to_owned(),
            guess: "done".to_owned(),
            kind: AnswerKind::Words,
        };
        loop {
            let Came::Text(text) = self.ask(&question, &[])? else {
                break;
            };
            let text = text.trim().to_owned();
            let done = match text.to_lowercase().as_str() {
                "" | "done" | "pause" | "goodbye" | "quit" => break,
                "again" => continue,
                "undo" => change::undo(path),
                _ => change::obey(path, &text),
            };
            match done {
                Ok(told) => self.tell(&told)?,
                Err(e) => self.tell(&e.to_string())?,
            }
        }
        self.farewell();
        commands::check(&[path.to_path_buf()], self.settings)
    }
}

/// What speaks the questions and hears the answers, as far as it is there.
fn voice(settings: &Settings) -> (Option<Mouth>, Option<NamesEar>) {
    settings.route_sound();
    let speaker = live_ear::speaker(settings);
    let (sender, own) = live_ear::own_sound();
    let mouth = match &speaker.name {
        Ok(_) => {
            let voices = super::stage::voices(settings);
            Some(Mouth::start(voices, settings.voice, speaker.sink, Some(sender)).0)
        }
        Err(why) => {
            remark(&format_args!("{why}; read the questions here"));
            None
        }
    };
    let ear = NamesEar::start(settings, phrases(AnswerKind::Words, &[]), Some(own));
    (mouth, Some(ear))
}

fn from_samples(samples: Vec<i16>) -> Sound {
    Sound {
        rate: crate::hear::RATE,
        samples: samples.iter().map(|s| f32::from(*s) / 32_768.0).collect(),
    }
}

/// A draft for a file of the cook's is called by it.
fn draft_name(file: &Path) -> String {
    let path = std::path::absolute(file).unwrap_or_else(|_| PathBuf::from(file));
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    format!(
        "at{}",
        path.display()
            .to_string()
            .chars()
            .map(plain)
            .collect::<String>()
    )
}
