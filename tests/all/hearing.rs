//! The live pipeline on audio: another vocabulary in the middle of an order, and talk.

use std::process::Command;
use std::time::{Duration, Instant};

use commis::bench::{self, Bench, Effect, Event, Options};
use commis::formula::Formula;
use commis::hear::{
    Echo, Hearing, Hypothesis, RATE, Recogniser, Standing, VoskRecogniser, gate::LOOK, wav,
};
use commis::time::Moment;
use commis::understand::network;

use super::rehearsal::{formula, root};

/// The shipped model with the words of a formula.
pub fn recogniser(formula: &Formula) -> Box<VoskRecogniser> {
    let words = network(&bench::lexicon(formula));
    Box::new(
        VoskRecogniser::with_network(&root().join("models/en-kitchen"), &words).expect("shipped"),
    )
}

/// What is heard in a recording with quiet around it, when something happens before each fiftieth of a second of it.
fn hear_while(
    hearing: &mut Hearing,
    clip: &[i16],
    mut before: impl FnMut(usize, &mut Hearing),
) -> Vec<Hypothesis> {
    let quiet = vec![0; RATE as usize * 3 / 2];
    let all = [&quiet[..], clip, &quiet[..]].concat();
    let mut heard = Vec::new();
    for (n, look) in all.chunks(LOOK).enumerate() {
        before(n, hearing);
        heard.extend(hearing.take(look, false));
    }
    heard
}

fn texts(heard: Vec<Hypothesis>) -> Vec<String> {
    heard.into_iter().map(|h| h.text).collect()
}

#[test]
fn another_vocabulary_takes_a_moment_and_loses_no_word() {
    let formula = formula("seeded-tin-loaf");
    let clip =
        wav::read(&root().join("shared/rehearsals/clips/how_much_salt.wav")).expect("shipped");
    let mut hearing = Hearing::new(recogniser(&formula), "commis");
    let heard = hear_while(&mut hearing, &clip, |_, _| {});
    assert_eq!(texts(heard), ["how much salt"]);
    // It comes before, at every tenth of a second of, and after the order.
    let mut longest = Duration::ZERO;
    for at in (65..65 + clip.len() / LOOK).step_by(5) {
        let mut next = Some(recogniser(&formula));
        let heard = hear_while(&mut hearing, &clip, |n, hearing| {
            if n == at
                && let Some(next) = next.take()
            {
                let began = Instant::now();
                hearing.swap(next);
                longest = longest.max(began.elapsed());
            }
        });
        assert_eq!(texts(heard), ["how much salt"], "changed at {at}");
    }
    let began = Instant::now();
    let made = recogniser(&formula);
    let making = began.elapsed();
    drop(made);
    println!("made beside the ear in {making:?}; the ear itself is held up {longest:?} at most");
    // The ear is fed by a ring of seconds; the bound is for a debug build on a busy machine.
    assert!(longest < Duration::from_millis(300), "{longest:?}");
}

#[test]
fn what_could_follow_tells_how_long_to_wait() {
    let formula = formula("seeded-tin-loaf");
    let ear = recogniser(&formula);
    for (said, stands) in [
        ("half the water", Standing::Complete),
        ("half the water please", Standing::Complete),
        ("repeat", Standing::Extendable),
        ("for a twenty by thirty tin", Standing::Hanging),
        (
            "for a twenty by thirty tin five centimetres deep",
            Standing::Complete,
        ),
        ("set a timer", Standing::Hanging),
        ("set a timer for", Standing::Unfinished),
        ("the weather", Standing::Outside),
    ] {
        assert_eq!(ear.standing(said), stands, "{said}");
    }
}

#[test]
fn an_order_follows_talk_only_without_a_pause_and_a_clatter_is_no_talk() {
    let clip = |name: &str| {
        wav::read(&root().join(format!("shared/rehearsals/clips/{name}.wav"))).expect("shipped")
    };
    let formula = formula("seeded-tin-loaf");
    let mut hearing = Hearing::new(recogniser(&formula), "commis");
    let (mut talk, order) = (clip("talk"), clip("half_the_water"));
    talk.truncate(RATE as usize * 37 / 10);
    let mut follows = |gap: &[i16]| {
        let heard = hear_while(&mut hearing, &[&talk, gap, &order].concat(), |_, _| {});
        let last = heard.last().cloned().expect("something");
        assert!(
            last.is_talk() || last.text.ends_with("the water"),
            "{last:?}"
        );
        last.is_talk() || last.follows_talk
    };
    assert!(follows(&[]));
    assert!(!follows(&vec![0; RATE as usize * 2]));
    // A plate every third of a second: never a silence of a second.
    let plates: Vec<i16> = (0..RATE as usize * 3)
        .map(|n| {
            let t = (n % (RATE as usize / 3)) as f32 / RATE as f32;
            (15_000.0 * (-60.0 * t).exp() * (17_000.0 * t).sin()) as i16
        })
        .collect();
    assert!(!follows(&plates));
}

/// A sentence by espeak-ng.
fn spoken(said: &str, test: &str) -> Vec<i16> {
    let file =
        std::env::temp_dir().join(format!("commis-hearing-{test}-{}.wav", std::process::id()));
    let made = Command::new("espeak-ng")
        .args(["-v", "en-gb", "-s", "150", "-w"])
        .arg(&file)
        .arg(said)
        .status();
    assert!(
        made.is_ok_and(|s| s.success()),
        "espeak-ng is installed by ./setup"
    );
    let clip = wav::read(&file).expect("a WAV file");
    let _ = std::fs::remove_file(&file);
    clip
}

/// The same by the voice that comes with the program.
#[cfg(feature = "natural-voice")]
fn said_naturally(text: &str) -> Vec<i16> {
    use commis::bench::VoiceSettings;
    use commis::say::{Natural, Voice};
    let mut voice = Natural::new().expect("it is compiled in");
    let sound = voice.speak(text, VoiceSettings::default());
    let sound = sound.expect("it speaks").expect("a sound");
    let scaled = sound
        .at_rate(RATE)
        .into_iter()
        .map(|x| (x * 32767.0) as i16);
    scaled.collect()
}

/// The loudspeaker stands beside the microphone in a room that rings.
#[test]
fn its_own_loud_voice_does_not_stop_it() {
    let own = |text: &str| spoken(text, "own");
    its_own_loud_voice_is_no_order(&own);
}

/// This voice is much like those that the recogniser learned from.
#[cfg(feature = "natural-voice")]
#[test]
fn its_own_loud_natural_voice_does_not_stop_it() {
    its_own_loud_voice_is_no_order(&said_naturally);
}

fn its_own_loud_voice_is_no_order(own: &dyn Fn(&str) -> Vec<i16>) {
    let formula = formula("seeded-tin-loaf");
    let mut hearing = Hearing::new(recogniser(&formula), "commis");
    let mut echo = Echo::default();
    let text: Vec<&str> = formula.steps.iter().map(|s| s.text.as_str()).collect();
    let own = own(&text.join(" "));
    let mut chance = 7_u32;
    let room: Vec<(usize, f32)> = (0..60)
        .map(|i| {
            chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let late = RATE as usize * 7 / 100 + i * 107;
            let gain = (chance >> 8) as f32 / 8_388_608.0 - 1.0;
            let fades = 10_f32.powf(-3.0 * (i * 107) as f32 / (0.4 * RATE as f32));
            (late, if i == 0 { 0.8 } else { 0.5 * gain * fades })
        })
        .collect();
    let mut heard = Vec::new();
    for (n, played) in own.chunks(LOOK).enumerate() {
        let at = |i: usize| {
            let back =
                |(late, gain): &(usize, f32)| Some(gain * f32::from(own[i.checked_sub(*late)?]));
            room.iter().filter_map(back).sum::<f32>() as i16
        };
        let microphone: Vec<i16> = (n * LOOK..n * LOOK + played.len()).map(at).collect();
        echo.plays(played);
        let over = echo.sounds();
        heard.extend(hearing.take(&echo.clean(&microphone), over));
    }
    let mut bench = Bench::new(formula, Options::default()).expect("as written");
    let acted = heard.iter().filter(|h| {
        let effects = h
            .heard()
            .map(|h| bench.handle(&Event::Heard(h), Moment(10_000)));
        let acts = |e: &Effect| matches!(e, Effect::Understood { .. });
        effects.is_some_and(|all| all.iter().any(acts))
    });
    let stops: Vec<_> = acted.collect();
    assert!(stops.is_empty(), "{stops:?}");
}

/// The voice is one of those that training heard, so it is understood as well as any.
#[test]
fn orders_in_a_clear_voice_are_acted_on_and_talk_is_not() {
    let formula = formula("seeded-tin-loaf");
    let mut bench = Bench::new(formula.clone(), Options::default()).expect("as written");
    let mut hearing = Hearing::new(recogniser(&formula), "commis");
    let mut acts = |said: &str| {
        let clip = spoken(said, "acts");
        hear_while(&mut hearing, &clip, |_, _| {})
            .iter()
            .filter_map(Hypothesis::heard)
            .flat_map(|h| bench.handle(&Event::Heard(h), Moment(10_000)))
            .any(|effect| matches!(effect, Effect::Understood { .. }))
    };
    let orders = [
        "how much salt",
        "what is next",
        "how long is left",
        "repeat that please",
    ];
    let talk = [
        "did you hear what she said about the car",
        "it was raining all the way home from work",
        "my brother never liked cheese when he was small",
        "they are going to build a new road by the river",
        "i told him three times and he still forgot",
        "the price of butter has gone up again this month",
        "we used to have a dog that could open doors",
        "well i do not know what you want me to say",
        "the train was late so i missed the beginning",
        "i would not put it in the oven if i were you",
    ];
    let right = orders.iter().filter(|said| acts(said)).count();
    let wrong: Vec<_> = talk.iter().filter(|said| acts(said)).collect();
    assert!(right >= 3, "{right} of {} orders", orders.len());
    assert!(wrong.is_empty(), "{wrong:?}");
}
