//! `commis cook` without a formula: 'What shall we make?', answered by typing, by the keypad or by voice.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, never, select};

use super::chosen::Chosen;
use super::live_ear::{self, NamesEar, News};
use super::output::{print, remark};
use super::plain;
use super::shelf::{self, Kept};
use super::trouble::Trouble;
use super::typed::{Typed, TypedLines};
use crate::bench::{Effect, Heard, Why};
use crate::keys::KeyNews;
use crate::say::Mouth;
use crate::settings::Settings;
use crate::titles::{Asking, Reply};

/// How often typed input is looked at.
const LOOK: Duration = Duration::from_millis(50);
/// A keypad that is there is found within this.
const FOUND_WITHIN: Duration = Duration::from_secs(5);
/// So many names are printed as a list.
const MOST_LISTED: usize = 60;
/// How far talk may fit better than a name, in nats a word: above the first it is asked about, above the second it was
/// meant for somebody else. The cook has been asked, so that it is as after a question in a session.
const RIVAL: (f32, f32) = (-1.0, 1.0);

/// What may still come in.
struct Ways {
    typed: bool,
    keypad: bool,
    ear: bool,
}

/// The formula that the cook chooses, asked for in lines of at most so many letters. News of the keypad that the session should have are given on.
///
/// # Errors
/// Where there is none to choose, or nobody can answer.
pub(super) fn ask(
    chosen: &Chosen,
    keys: &Receiver<KeyNews>,
    again: &Sender<KeyNews>,
    columns: usize,
) -> Result<PathBuf, Trouble> {
    let print = |text: &str| {
        let lines = text.lines().flat_map(|line| plain::wrapped(line, columns));
        print(&lines.map(|line| line + "\n").collect::<String>())
    };
    let kept = shelf::all();
    if kept.is_empty() {
        return Err(Trouble::input("there is no formula in the book"));
    }
    let settings = &chosen.settings;
    let mut asking = Asking::among(kept.iter().map(Kept::title).collect());
    if kept.len() <= MOST_LISTED {
        let line = |(n, k): (usize, &Kept)| format!("{}: {}\n", n + 1, k.head.name);
        print(&kept.iter().enumerate().map(line).collect::<String>())?;
    }
    let (mouth, own) = mouth(settings);
    let tell = |text: &str| {
        if let Some(mouth) = &mouth {
            mouth.play(&Effect::Hush);
            let text = text.to_owned();
            mouth.play(&Effect::Say {
                text,
                why: Why::Ask,
            });
        }
        print(&format!("{text}\n"))
    };
    tell(&asking.opening())?;
    let options = settings.options();
    let mut ear = NamesEar::start(settings, asking.phrases(), own);
    let mut heard = ear.news().unwrap_or_else(never);
    let mut ways = Ways {
        typed: true,
        keypad: false,
        ear: !live_ear::NOT_BUILT,
    };
    let begun = Instant::now();
    let (mut lines, mut news_of_pad) = (TypedLines::default(), None);
    loop {
        let mut reply = None;
        select! {
            recv(keys) -> news => match news {
                Ok(KeyNews::Press(key)) => reply = Some(asking.key(key)),
                Ok(news @ (KeyNews::Plugged(_) | KeyNews::NoKeypad(_) | KeyNews::Unplugged)) => {
                    ways.keypad = matches!(news, KeyNews::Plugged(_));
                    news_of_pad = Some(news);
                }
                _ => {}
            },
            recv(heard) -> news => match news {
                Ok(News::Heard(heard)) => reply = hear(&mut asking, &heard, settings, options.doubt_below),
                Ok(News::Listening { .. } | News::MicrophoneBack) => ways.ear = true,
                Ok(News::NoMicrophone(why) | News::NoModel(why)) => {
                    ways.ear = false;
                    remark(&format_args!("{why}; type or use the keys"));
                }
                Ok(News::Dropped(_) | News::Noted { .. } | News::NothingNoted) => {}
                Err(_) => {
                    ways.ear = false;
                    heard = never();
                }
            },
            default(LOOK) => {}
        }
        if reply.is_none() && ways.typed {
            match lines.look() {
                Typed::Nothing => {}
                Typed::Line(text) => reply = Some(answer(&mut asking, &text)),
                Typed::End => ways.typed = false,
            }
        }
        match reply {
            Some(Reply::Chosen(at)) => {
                // The session is told of the keypad as if it had come just now.
                if let Some(news) = news_of_pad {
                    let _ = again.try_send(news);
                }
                return Ok(kept[at].path.clone());
            }
            Some(Reply::Leave) => return Err(Trouble::input("Nothing was chosen.")),
            Some(Reply::Say(text)) => {
                tell(&text)?;
                ear.set_phrases(asking.phrases(), settings);
            }
            None => {}
        }
        let waited = begun.elapsed() > FOUND_WITHIN;
        if !ways.typed && !ways.keypad && !ways.ear && waited {
            return Err(Trouble::input("Nothing was named, and nobody can answer."));
        }
    }
}

/// A typed line; `key 5` presses a key, as in a session.
fn answer(asking: &mut Asking, text: &str) -> Reply {
    match text.strip_prefix("key ").and_then(|k| super::key(k.trim())) {
        Some(key) => asking.key(key),
        None => asking.words(text),
    }
}

/// What was heard: taken, asked back, or left to whom it was said to.
fn hear(asking: &mut Asking, heard: &Heard, settings: &Settings, sure: f32) -> Option<Reply> {
    let rival = heard.rival.unwrap_or(f32::NEG_INFINITY);
    if heard.follows_talk || rival > RIVAL.1 {
        return None;
    }
    let called = heard.text.strip_prefix(settings.name.as_str());
    let text = called.unwrap_or(&heard.text).trim();
    if text.is_empty() {
        return None;
    }
    Some(if rival > RIVAL.0 || heard.confidence < sure {
        asking.doubtful(text)
    } else {
        asking.words(text)
    })
}

/// A mouth, where something can sound.
fn mouth(settings: &Settings) -> (Option<Mouth>, Option<live_ear::Own>) {
    let speaker = live_ear::speaker(settings);
    if speaker.name.is_err() {
        return (None, None);
    }
    let (sender, own) = live_ear::own_sound();
    let voices = super::stage::voices(settings);
    let (mouth, _) = Mouth::start(voices, settings.voice, speaker.sink, Some(sender));
    (Some(mouth), Some(own))
}
