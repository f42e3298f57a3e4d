use super::net::BINS;
use super::*;

fn net() -> &'static Net {
    NET.as_ref().expect("it is compiled in")
}

fn said(text: &str) -> Sound {
    make(net(), text, VoiceSettings::default())
}

/// Values that ONNX Runtime 1.27 gives with the model of hibari-tts 0.2.1 for these sounds, 18 frames less of silence at
/// the beginning: its products are of eight bits, ours are not, hence the width of the bounds.
#[test]
fn the_network_gives_what_the_reference_gives() {
    let spectra = net().run(&net().numbers("ði ˈʌvᵊn ɪz hˈɑt!"), 1.0, 1.0);
    assert_eq!(spectra.frames.dim(), (spectra.pitch.len(), 5 * BINS));
    for (frame, hertz) in [(8, 232.2), (10, 230.8), (11, 225.8)] {
        let ours = spectra.pitch[frame];
        assert!((ours - hertz).abs() < 35.0, "{frame}: {ours} for {hertz}");
    }
    // The first of the five spectra in the middle of a vowel: bins 10, 60, 110 and 160.
    for (bin, value) in [(10, -4.45), (60, -7.27), (110, -6.17), (160, -6.43)] {
        let ours = spectra.frames[[50, bin]];
        assert!((ours - value).abs() < 0.3, "{bin}: {ours} for {value}");
    }
    for (bin, value) in [(10, -10.83), (60, -12.01), (110, -10.63), (160, -10.96)] {
        let ours = spectra.frames[[50, 2 * BINS + bin]];
        assert!(
            (ours - value).abs() < 0.5,
            "noise {bin}: {ours} for {value}"
        );
    }
}

/// The sounds that the whole pipeline of hibari-tts 0.2.1 gives, tokenizer and tagger and all.
#[test]
fn sentences_are_read_as_the_reference_reads_them() {
    for (text, sounds) in [
        ("Step five, knead.", "stˈɛp fˈIv, nˈid."),
        ("The oven is hot.", "ði ˈʌvᵊn ɪz hˈɑt."),
        ("Add it to the dough.", "ˈæd ɪt tə ðə dˈO."),
        ("Ten to eight.", "tˈɛn tʊ ˈAt."),
        ("Use the oil.", "jˈuz ði ˈYl."),
        (
            "Two cloves of garlic chopped.",
            "tˈu klˈOvz ʌv ɡˈɑɹlɪk ʧˈɑpt.",
        ),
        ("Is it heated through?", "ˌɪz ɪt hˈiTᵻd θɹˈu?"),
    ] {
        assert_eq!(Natural::sounds(text), sounds, "{text}");
    }
}

/// No sentence may lose a word: what is in no list is read by its letters, whatever they are.
#[test]
fn every_word_has_sounds_that_the_network_knows() {
    for word in [
        "poolish",
        "levain",
        "gremolata",
        "zhoug",
        "furikake",
        "brûlée",
        "Jürgen",
        "qwrtz",
        "smörgåsbord",
        "naïve",
        "x",
    ] {
        let sounds = Natural::sounds(&format!("{word}."));
        assert!(net().numbers(&sounds).len() > 3, "{word}: {sounds}");
        let unknown: Vec<char> = sounds
            .chars()
            .filter(|c| net().numbers(&c.to_string()).len() < 3)
            .collect();
        assert!(unknown.is_empty(), "{word}: {unknown:?}");
    }
    assert_eq!(Natural::sounds(""), "");
}

/// The list of ours is read in the voice's own letters, and has its word.
#[test]
fn kitchen_words_are_said_as_a_kitchen_says_them() {
    for line in KITCHEN.lines() {
        let (word, sounds) = line.split_once('\t').expect("a word and its sounds");
        let known = net().numbers(sounds).len() - 2;
        assert_eq!(known, sounds.chars().count(), "{line}");
        let stresses = sounds.matches('ˈ').count();
        assert_eq!(stresses, 1, "{line}");
        assert!(Natural::sounds(word).starts_with(sounds), "{line}");
    }
    for (text, sounds) in [
        ("the crème fraîche", "ðə kɹˈɛm fɹˈɛʃ"),
        ("two jalapeños", "tˈu hˌɑləpˈAnjOz"),
    ] {
        assert_eq!(Natural::sounds(text), sounds);
    }
}

/// How loud each hundredth of a second is, in decibels under full scale.
fn levels(sound: &Sound) -> Vec<f32> {
    let look = sound.rate as usize / 100;
    let power = |part: &[f32]| part.iter().map(|x| x * x).sum::<f32>() / part.len() as f32;
    sound
        .samples
        .chunks(look)
        .map(|c| 10.0 * (power(c) + 1e-12).log10())
        .collect()
}

#[test]
fn it_begins_at_once_ends_softly_and_is_not_cut_off() {
    for (text, least, most) in [
        ("Has the dough doubled?", 900, 1600),
        ("First rise: time is up.", 1200, 2100),
        ("Strong white flour: six hundred grams,", 1800, 3000),
    ] {
        let sound = said(text);
        assert_eq!(sound.rate, 24_000);
        assert!(
            (least..most).contains(&sound.millis()),
            "{text}: {} ms",
            sound.millis()
        );
        let peak = sound.samples.iter().fold(0.0_f32, |a, b| a.max(b.abs()));
        assert!((0.3..1.0).contains(&peak), "{text}: {peak}");
        let levels = levels(&sound);
        let first = levels.iter().position(|l| *l > -45.0).expect("it sounds");
        assert!(
            first < 12,
            "{text}: silent for {first} hundredths of a second"
        );
        // No click where the next begins: the end is silence.
        assert!(
            levels[levels.len() - 4..].iter().all(|l| *l < -60.0),
            "{text}"
        );
        assert!(sound.samples[0].abs() < 0.01);
        // Within, an s or a tap may leap as far as it likes; where another sound joins, nothing does.
        let edge = sound.rate as usize / 200;
        let ends = sound.samples[..edge]
            .iter()
            .chain(&sound.samples[sound.samples.len() - edge..]);
        assert!(ends.map(|x| x.abs()).fold(0.0, f32::max) < 0.02, "{text}");
    }
}

#[test]
fn the_same_sentence_is_the_same_sound_and_settings_do_what_they_say() {
    let text = "Turn the tin.";
    let usual = said(text);
    assert_eq!(usual, said(text));
    let with = |rate, pitch, volume| {
        make(
            net(),
            text,
            VoiceSettings {
                volume,
                rate,
                pitch,
            },
        )
    };
    let loudest = |s: &Sound| levels(s).into_iter().fold(f32::MIN, f32::max);
    assert!(with(4, 0, 0).millis() < usual.millis() * 85 / 100);
    assert!(with(-4, 0, 0).millis() > usual.millis() * 115 / 100);
    let quieter = loudest(&usual) - loudest(&with(0, 0, -2));
    assert!((4.0..8.0).contains(&quieter), "{quieter} dB");
    // Every setting gives sound within full scale.
    for (rate, pitch, volume) in [(5, 5, 5), (-5, -5, 5), (5, -5, -5)] {
        let sound = with(rate, pitch, volume);
        assert!(sound.samples.iter().all(|x| x.abs() <= 1.0));
        assert!(loudest(&sound) > -40.0);
    }
}

#[test]
fn what_is_prepared_is_there_when_it_is_said() {
    let mut voice = Natural::new().expect("it is compiled in");
    let settings = VoiceSettings::default();
    let texts = ["Cover the bowl.", "Oil the tin."].map(str::to_owned);
    voice.prepare(texts.to_vec(), settings);
    let until = std::time::Instant::now() + std::time::Duration::from_mins(1);
    let has = |text: &str| voice.kept.lock().expect("no panic").has(text, settings);
    while !texts.iter().all(|t| has(t)) {
        assert!(std::time::Instant::now() < until, "nothing was made ahead");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let kept = voice
        .speak("Oil the tin.", settings)
        .expect("it speaks")
        .expect("a sound");
    let made = said("Oil the tin.");
    assert_eq!(kept.samples.len(), made.samples.len());
    let apart = kept
        .samples
        .iter()
        .zip(&made.samples)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f32::max);
    assert!(apart < 1e-4, "{apart}");
}

#[test]
fn a_long_text_is_made_in_parts_and_no_part_is_lost() {
    let long = "stˈɛp fˈIv, nˈid ".repeat(60) + ". ˌɪz ɪt?";
    let parts = parts(&long);
    assert!(
        parts.iter().all(|p| p.chars().count() <= LONGEST),
        "{parts:?}"
    );
    let bare = |text: &str| text.replace(' ', "");
    assert_eq!(bare(&parts.concat()), bare(&long));
    assert_eq!(super::parts(" , . "), Vec::<&str>::new());
}

/// A network that is not whole is told of, and speaks no noise.
#[test]
fn a_damaged_network_is_none() {
    let whole = include_bytes!("../../../models/voice/voice.bin");
    assert!(Net::read(&whole[..whole.len() - 1]).is_none());
    assert!(Net::read(&whole[..1000]).is_none());
    assert!(Net::read(b"READER01").is_none());
    assert!(Net::read(b"").is_none());
}
