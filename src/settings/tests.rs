use std::path::Path;

use super::*;
use crate::scale::{Calls, Pattern};
use crate::scale_port::Wanted;

fn read(text: &str) -> Result<Settings, String> {
    Settings::parse(text, Path::new("s.toml")).map_err(|e| e.to_string())
}

#[test]
fn the_first_file_is_the_default_and_documents_every_key() {
    assert_eq!(read(FIRST), Ok(Settings::default()));
    assert_eq!(read(""), Ok(Settings::default()));
    let mut table = String::new();
    let mut seen = Vec::new();
    let mut before = "";
    for line in FIRST.lines() {
        if let Some(name) = line.strip_prefix('[') {
            table = format!("{}.", name.trim_end_matches(']'));
        } else if let Some((name, _)) = line.split_once(" = ").filter(|_| !line.starts_with('#')) {
            // The steps of the voice share one remark.
            let shared = before.starts_with("rate") || before.starts_with("pitch");
            assert!(before.starts_with('#') || shared, "`{name}` has no remark");
            seen.push(format!("{table}{name}"));
        }
        before = line;
    }
    assert_eq!(seen, KEYS);
}

#[test]
fn every_setting_is_read() {
    let all = r#"
region = "uk"
words = "american"
allergens = "codex"
scale_step = 0.1
large_masses = "kilos"
verbosity = "brief"
room = 19
screen = "plain"
plain_line = 20
theme = "light"
journal = "/var/bakes"
books = ["/home/cook/recipes", "/srv/recipes"]
kitchen = { cooks = 2, ovens = 2, hobs = 6, sleep = "23:00-6:30", judgement = "off" }
voice = { engine = "speech-dispatcher", name = "", rate = -2, pitch = 5, volume = 1 }
keypad.id = "0003:1234:5678@usb-1/input0"
keypad.map.113 = "plus"
keypad.map.69 = "7"
[listening]
attention = "name"
name = "Chef"
model = "/srv/model"
microphone = "USB headset"
[loudspeaker]
name = "Kitchen"
[scale]
device = "/dev/ttyUSB0"
baud = 4800
lines = "{skip}{weight} {unit}"
calls = "tones"
"#;
    let at = |hour, minute| crate::time::ClockTime {
        hour,
        minute,
        half: crate::time::HalfDay::Said,
    };
    let expected = Settings {
        region: Region::Uk,
        english: Some(crate::bench::English::American),
        allergen_law: Some(crate::safety::Law::Codex),
        scale_step_g: 0.1,
        kilos: true,
        brief: true,
        room_c: Some(19.0),
        screen: ScreenKind::Plain,
        plain_line: 20,
        light: true,
        scale: Wanted::At("/dev/ttyUSB0".into()),
        scale_rate: 4800,
        scale_lines: Pattern::read("{skip}{weight} {unit}").expect("a pattern"),
        calls: Calls::Tones,
        journal: Some("/var/bakes".into()),
        books: vec!["/home/cook/recipes".into(), "/srv/recipes".into()],
        cooks: 2,
        ovens: 2,
        hobs: 6,
        sleep: Some((at(23, 0), at(6, 30))),
        judgement: false,
        engine: Engine::SpeechDispatcher,
        voice_name: None,
        voice: VoiceSettings {
            volume: 1,
            rate: -2,
            pitch: 5,
        },
        attention: Attention::Name,
        name: "chef".into(),
        model: Some("/srv/model".into()),
        microphone: Some("USB headset".into()),
        loudspeaker: Some("Kitchen".into()),
        keypad: Some("0003:1234:5678@usb-1/input0".into()),
        key_map: [(113, Key::Plus), (69, Key::Digit(7))].into(),
    };
    assert_eq!(read(all), Ok(expected));
}

#[test]
fn faults_have_their_line_and_the_nearest_name() {
    for (text, said) in [
        (
            "\nregoin = \"uk\"",
            "s.toml:2: expected a setting, found `regoin`; did you mean `region`?",
        ),
        (
            "[voice]\n\nspeed = 1\nrat = 1",
            "s.toml:3: expected a setting, found `voice.speed`; did you mean `voice.rate`?",
        ),
        (
            "[voice]\nrat = 1",
            "s.toml:2: expected a setting, found `voice.rat`; did you mean `voice.rate`?",
        ),
        (
            "rate = 1",
            "s.toml:1: expected a setting, found `rate`; did you mean `voice.rate`?",
        ),
        (
            "[keypda]\nid = \"\"",
            "s.toml:1: expected a setting, found `keypda`; did you mean `keypad`?",
        ),
        (
            "region = \"france\"",
            "s.toml:1: `region`: expected `us` or `uk` or `metric` or `au`, found `france`",
        ),
        (
            "[voice]\nrate = 9",
            "s.toml:2: `voice.rate`: expected a whole number from -5 to 5, found `9`",
        ),
        (
            "scale_step = 0",
            "s.toml:1: `scale_step`: expected a number from 0.01 to 100, found `0`",
        ),
        (
            "scale_step = nan",
            "s.toml:1: `scale_step`: expected a number from 0.01 to 100, found `nan`",
        ),
        (
            "voice = 3",
            "s.toml:1: `voice`: expected a table, found `3`",
        ),
        (
            "[keypad.map]\nfive = \"5\"",
            "s.toml:2: `keypad.map`: expected a code from 0 to 65535, found `five`",
        ),
        (
            "[keypad.map]\n5 = \"shift\"",
            "s.toml:2: `keypad.map.5`: expected a key such as `enter`, `plus` or `5`, found `shift`",
        ),
    ] {
        assert_eq!(read(text).expect_err(text), said);
    }
    let broken = read("region = \"uk\"\nscreen = \n").expect_err("no value");
    assert!(
        broken.starts_with("s.toml:2: expected TOML, found a fault: "),
        "{broken}"
    );
}

#[test]
fn what_is_remembered_keeps_the_remarks() {
    let remember = Remember {
        voice: Some(VoiceSettings {
            volume: 2,
            rate: -1,
            pitch: 0,
        }),
        brief: Some(true),
        keypad: Some("an id".into()),
        key_map: Some([(113, Key::Plus), (70, Key::Digit(0))].into()),
    };
    let changed = remember.change(FIRST).expect("the first file is TOML");
    let settings = read(&changed).expect("what was written is read");
    assert_eq!(settings.voice.rate, -1);
    assert_eq!(settings.voice.volume, 2);
    assert!(settings.brief);
    assert_eq!(settings.keypad.as_deref(), Some("an id"));
    assert_eq!(settings.key_map.len(), 2);
    let remarks = |text: &str| -> Vec<String> {
        text.lines()
            .filter(|l| l.starts_with('#'))
            .map(str::to_owned)
            .collect()
    };
    assert_eq!(remarks(&changed), remarks(FIRST));
    // A second time nothing moves, and what was forgotten goes.
    assert_eq!(remember.change(&changed).as_deref(), Ok(changed.as_str()));
    let less = Remember {
        key_map: Some([(113, Key::Minus)].into()),
        ..Remember::default()
    };
    let settings = read(&less.change(&changed).expect("TOML")).expect("read");
    assert_eq!(settings.key_map, [(113, Key::Minus)].into());
    // A file in another dress, and one with a remark behind a value.
    let dressed = remember
        .change("voice = { rate = 3 } # mine\nverbosity = 'full' # so far\n")
        .expect("TOML");
    assert!(dressed.contains("# so far"), "{dressed}");
    assert_eq!(read(&dressed).map(|s| s.voice.rate), Ok(-1));
}

#[test]
fn the_file_is_written_once_and_in_one_piece() {
    let folder = std::env::temp_dir().join(format!("commis-settings-{}", std::process::id()));
    let path = folder.join("commis/settings.toml");
    let _ = std::fs::remove_dir_all(&folder);
    assert!(matches!(
        Settings::read(&path),
        Err(SettingsError::Read { .. })
    ));
    assert!(Settings::write_first(&path).expect("written"));
    assert!(!Settings::write_first(&path).expect("there already"));
    assert_eq!(Settings::read(&path).expect("read"), Settings::default());
    assert_eq!(std::fs::read_to_string(&path).expect("there"), FIRST);
    let remember = Remember {
        brief: Some(true),
        ..Remember::default()
    };
    remember.write(&path).expect("written");
    assert!(Settings::read(&path).expect("read").brief);
    let files = std::fs::read_dir(folder.join("commis"))
        .expect("a folder")
        .count();
    assert_eq!(files, 1, "nothing is left lying about");
    let _ = std::fs::remove_dir_all(&folder);
}

#[test]
fn the_path_follows_the_specification() {
    let of = |config: Option<&str>, home: Option<&str>| {
        settings_path_of(config.map(Into::into), home.map(Into::into)).ok()
    };
    assert_eq!(
        of(Some("/etc/me"), Some("/home/me")),
        Some("/etc/me/commis/settings.toml".into())
    );
    for unset in [None, Some(""), Some("not/absolute")] {
        assert_eq!(
            of(unset, Some("/home/me")),
            Some("/home/me/.config/commis/settings.toml".into())
        );
    }
    assert_eq!(of(None, None), None);
}
