//! `commis keys`: the card of the keys in a terminal, on paper and aloud, and the lesson for an odd keypad.

use std::io::IsTerminal;
use std::path::Path;
use std::time::Duration;

use super::chosen::Chosen;
use super::output::{complain, print};
use super::stage;
use super::trouble::Trouble;
use crate::bench::{Effect, Why};
use crate::cli::KeysArgs;
use crate::keypad::{card_html, card_spoken, card_svg, card_table, card_text};
use crate::say::{Mouth, Recorder};
use crate::settings::Settings;
use crate::time::Moment;

/// How long the whole card may take to be said.
const PATIENCE: Duration = Duration::from_mins(15);

pub(super) fn keys(args: &KeysArgs, file: Option<&Path>) -> Result<u8, Trouble> {
    let form = &args.form;
    if form.learn {
        return learn(&Chosen::load(file)?);
    }
    if form.speak {
        let settings = Chosen::load(file)?.settings;
        return match &args.record {
            Some(wav) => record(&settings, wav),
            None => speak(&settings),
        };
    }
    let card = if form.table {
        card_table()
    } else if form.svg {
        card_svg()
    } else if form.html {
        card_html()
    } else {
        card_text(columns())
    };
    print(&card).map(|()| 0)
}

/// Columns of the terminal; of a page, where the output is no terminal.
fn columns() -> usize {
    let terminal = std::io::stdout().is_terminal();
    let size = terminal
        .then(crossterm::terminal::size)
        .and_then(Result::ok);
    size.map_or(100, |(columns, _)| usize::from(columns))
}

fn say(text: &str) -> Effect {
    Effect::Say {
        text: text.to_owned(),
        why: Why::Answer,
    }
}

/// A mouth outside a session.
fn mouth(settings: &Settings) -> Result<Mouth, Trouble> {
    settings.route_sound();
    let (speaks, trouble) = stage::tried(settings);
    for e in &trouble {
        complain(&e);
    }
    if speaks.is_none() {
        return Err(Trouble::failed("there is no voice"));
    }
    let speaker = super::live_ear::speaker(settings);
    speaker.name.map_err(Trouble::failed)?;
    let voices = stage::voices(settings);
    Ok(Mouth::start(voices, settings.voice, speaker.sink, None).0)
}

/// Prints the card and reads it aloud.
fn speak(settings: &Settings) -> Result<u8, Trouble> {
    let mouth = mouth(settings)?;
    for sentence in card_spoken() {
        print(&format!("{sentence}\n"))?;
        mouth.play(&say(&sentence));
    }
    mouth.finish(PATIENCE);
    Ok(0)
}

/// Reads the card into a WAV file.
fn record(settings: &Settings, wav: &Path) -> Result<u8, Trouble> {
    let voice = stage::recorded(settings).map_err(Trouble::failed)?;
    let mut recorder = Recorder::new(wav, Some(voice), settings.voice);
    for sentence in card_spoken() {
        recorder.play(&say(&sentence), Moment(0));
    }
    let note = recorder.finish().map_err(Trouble::failed)?;
    print(&format!("{note}\n")).map(|()| 0)
}

#[cfg(not(feature = "keypad"))]
fn learn(_: &Chosen) -> Result<u8, Trouble> {
    Err(Trouble::input("this build has no keypad"))
}

/// The lesson: every key is asked for in print and, where there is a voice, aloud.
#[cfg(feature = "keypad")]
fn learn(chosen: &Chosen) -> Result<u8, Trouble> {
    let mouth = mouth(&chosen.settings);
    if let Err(e) = &mouth {
        complain(&format_args!("{e}: read the lesson here"));
    }
    let mut tell = |text: &str| {
        // A lesson that nobody reads may still be heard.
        let _ = print(&format!("{text}\n"));
        if let Ok(mouth) = &mouth {
            mouth.play(&Effect::Hush);
            mouth.play(&say(text));
        }
    };
    let map = crate::keys::learn(&chosen.settings.pad(), &mut tell).map_err(Trouble::failed)?;
    let path = chosen.path.as_deref();
    let path = path.ok_or_else(|| Trouble::failed("there is no settings file to write it in"))?;
    let odd = map.len();
    let remember = crate::settings::Remember {
        key_map: Some(map),
        ..crate::settings::Remember::default()
    };
    remember.write(path).map_err(Trouble::failed)?;
    tell(&match odd {
        0 => "That was the last. Your keypad is a usual one.".to_owned(),
        1 => "That was the last. One key is odd, and I know it now.".to_owned(),
        n => format!(
            "That was the last. {} keys are odd, and I know them now.",
            crate::measure::words::capital(&crate::measure::words::cardinal(n as u64))
        ),
    });
    if let Ok(mouth) = mouth {
        mouth.finish(PATIENCE);
    }
    Ok(0)
}
