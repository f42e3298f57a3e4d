//! The check before the bake.

use std::path::Path;
#[cfg(any(feature = "sound", feature = "recogniser"))]
use std::time::Instant;

use super::chosen::Chosen;
use super::output::print;
use super::trouble::Trouble;
use crate::settings::Settings;

/// Exit code of `ready` when only keys will do.
const KEYS_ONLY: u8 = 3;
/// Exit code of `ready` when neither voice nor keys will do.
const NOT_AT_ALL: u8 = 4;

/// One line of the check; what to do about it in a line of its own.
fn line(ok: bool, what: &str, said: &str) -> Result<(), Trouble> {
    let mark = if ok { "[ok]" } else { "[  ]" };
    // A device's own words begin with what it is.
    let said = said.strip_prefix(&format!("{what}: ")).unwrap_or(said);
    let (is, to_do) = said.split_once(". ").unwrap_or((said, ""));
    print(&format!("{mark} {what:<13} {is}\n"))?;
    if to_do.is_empty() {
        return Ok(());
    }
    print(&format!("{:18} {to_do}\n", ""))
}

pub(super) fn ready(chosen: &Chosen) -> Result<u8, Trouble> {
    super::hush::hush();
    let settings = &chosen.settings;
    settings.route_sound();
    match &chosen.path {
        Some(path) => line(true, "settings", &path.display().to_string())?,
        None => line(
            false,
            "settings",
            "there is no file; what you change is forgotten",
        )?,
    }
    let microphone = match microphone_level(settings) {
        Ok(said) => {
            line(true, "microphone", &said)?;
            true
        }
        Err(said) => {
            line(false, "microphone", &said)?;
            false
        }
    };
    if let Some(trouble) = server_trouble() {
        line(false, "sound server", &trouble)?;
    }
    could_be("[listening] microphone", &sound_devices(true))?;
    match super::live_ear::speaker(settings).name {
        Ok(name) => line(true, "loudspeaker", &format!("{name} opens"))?,
        Err(why) => line(
            false,
            "loudspeaker",
            &format!("{why}. Without it, read the screen; plug one in, or set the default output"),
        )?,
    }
    could_be("[loudspeaker] name", &sound_devices(false))?;
    let (speaks, trouble) = super::stage::tried(settings);
    for e in &trouble {
        line(false, "voice", &e.to_string())?;
    }
    if settings.engine == crate::settings::Engine::None {
        line(true, "voice", "none, as the settings say; alarms ring")?;
    }
    if let Some(name) = speaks {
        line(true, "voice", &format!("{name} speaks"))?;
    }
    let model = match model_loads(settings) {
        Ok(said) => {
            line(true, "model", &said)?;
            true
        }
        Err(said) => {
            line(false, "model", &format!("{said}. Run ./setup"))?;
            false
        }
    };
    let keypad = match keypad(settings) {
        Ok(name) => {
            line(true, "keypad", &name)?;
            true
        }
        Err(why) => {
            line(
                false,
                "keypad",
                &format!("{why}. The terminal's keys do the same"),
            )?;
            false
        }
    };
    could_be("[keypad] id", &keypads(settings))?;
    match scale(settings) {
        Ok(said) => line(true, "scale", &said)?,
        Err(why) => line(
            false,
            "scale",
            &format!("{why}. Without it, say done when it is in"),
        )?,
    }
    let terminal = std::io::IsTerminal::is_terminal(&std::io::stdin());
    line(
        terminal,
        "terminal",
        if terminal {
            "its keys work"
        } else {
            "standard input is no terminal; lines typed are orders"
        },
    )?;
    match settings
        .journal_folder()
        .map_err(|e| e.to_string())
        .and_then(|f| writable(&f))
    {
        Ok(said) => line(true, "journal", &said)?,
        Err(e) => line(
            false,
            "journal",
            &format!("{e}. Without it a power cut forgets the session"),
        )?,
    }
    let (code, said) = if microphone && model {
        (0, "Ready to cook by voice.")
    } else if terminal || keypad {
        (
            KEYS_ONLY,
            "Ready to cook by keys. For cooking by voice, see to the microphone and the model above.",
        )
    } else {
        (
            NOT_AT_ALL,
            "Not ready: there is neither a voice nor a key to listen to. Plug in a microphone or a keypad, or start me in a terminal.",
        )
    };
    print(&format!("\n{said}\n"))?;
    Ok(code)
}

/// What could be named in the settings, each with the text to write there.
fn could_be(setting: &str, found: &[(String, String)]) -> Result<(), Trouble> {
    for (id, name) in found {
        print(&format!(
            "{:18} for the settings: {setting} = \"{id}\" ({name})\n",
            ""
        ))?;
    }
    Ok(())
}

fn writable(folder: &Path) -> Result<String, String> {
    std::fs::create_dir_all(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let probe = folder.join(".probe");
    std::fs::write(&probe, [0; 4096])
        .and_then(|()| std::fs::remove_file(&probe))
        .map_err(|e| format!("{}: {e}", folder.display()))?;
    Ok(format!("{} can be written", folder.display()))
}

/// Why devices behind a sound server cannot be named.
#[cfg(feature = "sound")]
fn server_trouble() -> Option<String> {
    use crate::outside::OutsideError;
    crate::devices::server_trouble().map(|e| match e {
        OutsideError::Missing { .. } => format!(
            "{e}: `sudo apt-get install pulseaudio-utils`. Without it only the usual microphone and loudspeaker, and \
             those of ALSA, can be used"
        ),
        other => other.to_string(),
    })
}

#[cfg(not(feature = "sound"))]
fn server_trouble() -> Option<String> {
    None
}

/// Microphones or loudspeakers: id and name.
#[cfg(feature = "sound")]
fn sound_devices(microphones: bool) -> Vec<(String, String)> {
    use crate::devices::{Way, list};
    let way = if microphones { Way::In } else { Way::Out };
    list(way).into_iter().map(|f| (f.id, f.name)).collect()
}

#[cfg(not(feature = "sound"))]
fn sound_devices(_: bool) -> Vec<(String, String)> {
    Vec::new()
}

/// Keypads: id and name.
#[cfg(feature = "keypad")]
fn keypads(settings: &Settings) -> Vec<(String, String)> {
    let found = crate::keys::find(&settings.pad().folder).unwrap_or_default();
    let pads = found
        .facts
        .into_iter()
        .filter(crate::keys::Facts::is_keypad);
    pads.map(|f| (f.id, f.name)).collect()
}

#[cfg(not(feature = "keypad"))]
fn keypads(_: &Settings) -> Vec<(String, String)> {
    Vec::new()
}

/// The scale that would be used; having none is no trouble.
fn scale(settings: &Settings) -> Result<String, String> {
    use crate::scale_port::{PortError, Wanted, choose, find};
    let options = settings.port();
    match &options.wanted {
        Wanted::Off => Ok("switched off in the settings".to_owned()),
        Wanted::At(path) if path.exists() => Ok(format!("lines of {}", path.display())),
        Wanted::At(path) => Err(format!("{} is not there", path.display())),
        Wanted::Any => match choose(find(&options)) {
            Ok(found) => match std::fs::File::open(&found.path) {
                Ok(_) => Ok(format!("{} ({})", found.name, found.path.display())),
                Err(_) => {
                    let path = found.path;
                    Err(PortError::Denied { path }.to_string())
                }
            },
            Err(PortError::None) => Ok("none plugged in; you say when it is in".to_owned()),
            Err(e) => Err(e.to_string()),
        },
    }
}

#[cfg(feature = "keypad")]
fn keypad(settings: &Settings) -> Result<String, String> {
    let options = settings.pad();
    let pads = crate::keys::find(&options.folder).map_err(|e| e.to_string())?;
    let (facts, alone) = pads
        .choose(options.wanted.as_deref())
        .map_err(|e| e.to_string())?;
    let shared = if alone {
        ""
    } else {
        "; it has letters, so other programs get its keys as well"
    };
    Ok(format!("{} ({}){shared}", facts.name, facts.id))
}

#[cfg(not(feature = "keypad"))]
fn keypad(_: &Settings) -> Result<String, String> {
    Err("this build has no keypad".to_owned())
}

/// Three seconds of the microphone.
#[cfg(feature = "sound")]
fn microphone_level(settings: &Settings) -> Result<String, String> {
    use crate::hear::{Microphone, gate};
    use std::time::Duration;
    let mut microphone = Microphone::open(settings.microphone.as_deref())
        .map_err(|e| format!("{e}. Plug one in, or set the default input"))?;
    print("Say something for three seconds: ").map_err(|t| t.to_string())?;
    let (start, mut loudest, mut clipped, mut any) = (Instant::now(), 0_f32, false, false);
    let mut bar = Instant::now();
    while start.elapsed() < Duration::from_secs(3) {
        let audio = microphone
            .next(Duration::from_millis(200))
            .map_err(|e| e.to_string())?;
        any |= !audio.is_empty();
        clipped |= audio.iter().filter(|s| s.unsigned_abs() >= 32_700).count() > 8;
        let level = audio.chunks(1600).map(gate::rms).fold(0.0, f32::max);
        loudest = loudest.max(level);
        if bar.elapsed() > Duration::from_millis(250) {
            bar = Instant::now();
            let marks = ((20.0 * level.max(1e-5).log10() + 60.0) / 6.0).clamp(0.0, 10.0) as usize;
            print(&format!("{}|", "#".repeat(marks))).map_err(|t| t.to_string())?;
        }
    }
    print("\n").map_err(|t| t.to_string())?;
    let db = 20.0 * loudest.max(1e-5).log10();
    let verdict = match () {
        () if !any => return Err(format!("{} opens but gives no sound", microphone.name)),
        () if clipped => "too loud: turn the input down, or step back",
        () if db < -45.0 => "too quiet: turn the input up, or come nearer",
        () => "I hear you",
    };
    Ok(format!(
        "{}: {verdict} (loudest {db:.0} dB of full scale)",
        microphone.name
    ))
}

#[cfg(not(feature = "sound"))]
fn microphone_level(_: &Settings) -> Result<String, String> {
    Err("this build has no sound".to_owned())
}

#[cfg(feature = "recogniser")]
fn model_loads(settings: &Settings) -> Result<String, String> {
    let folder = settings.model_folder();
    let start = Instant::now();
    let ear = crate::hear::VoskRecogniser::open(&folder).map_err(|e| e.to_string())?;
    let loaded = start.elapsed().as_millis();
    let words = ear.lexicon().in_order().len();
    let said = format!("{}: {words} words, loaded in {loaded} ms", folder.display());
    let known = |word: &str| ear.lexicon().knows(word);
    Ok(match crate::hear::name::fault(&settings.name, &known) {
        Some(fault) => format!(
            "{said}; choose another name than `{}`: {fault}",
            settings.name
        ),
        None => format!("{said}; I answer to `{}`", settings.name),
    })
}

#[cfg(not(feature = "recogniser"))]
fn model_loads(_: &Settings) -> Result<String, String> {
    Err(crate::hear::HearError::NotBuilt.to_string())
}
