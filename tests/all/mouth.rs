//! What comes out of the loudspeaker, with the real voice and the real chimes: never two sounds at once, and an alarm
//! within a blink whatever is being said.

use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use commis::bench::{Chime, Effect, VoiceSettings, Why};
use commis::say::{Espeak, Mouth, SayError, Sink, Sound, Voice, chime};

/// A loudspeaker that plays so many times faster than life.
const FASTER: u32 = 8;

/// A sound as it came out.
#[derive(Debug, Clone)]
struct Heard {
    what: String,
    from: Instant,
    until: Instant,
}

/// A loudspeaker that notes what it plays and when. It would play over a sound in progress, as a mixer does.
struct Speaker {
    tape: Arc<Mutex<Vec<Heard>>>,
    texts: Arc<Mutex<String>>,
}

impl Sink for Speaker {
    fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
        let rung = [Chime::Cue, Chime::Due, Chime::Asked]
            .into_iter()
            .find(|c| chime(*c, 0) == *sound)
            .map(|c| format!("{c:?}"));
        let what = rung.unwrap_or_else(|| self.texts.lock().expect("one thread").clone());
        let from = Instant::now();
        let until = from + Duration::from_millis(sound.millis()) / FASTER;
        let mut tape = self.tape.lock().expect("one thread");
        tape.push(Heard { what, from, until });
        Ok(())
    }

    fn busy(&self) -> bool {
        let tape = self.tape.lock().expect("one thread");
        tape.last().is_some_and(|h| h.until > Instant::now())
    }

    fn stop(&mut self) {
        let mut tape = self.tape.lock().expect("one thread");
        if let Some(last) = tape.last_mut() {
            last.until = last.until.min(Instant::now());
        }
    }
}

/// The real voice, telling what it speaks.
struct Telling(Box<dyn Voice>, Arc<Mutex<String>>);

impl Voice for Telling {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        text.clone_into(&mut self.1.lock().expect("one thread"));
        self.0.speak(text, settings)
    }
}

#[test]
fn speech_and_chimes_never_sound_at_once_and_an_alarm_passes_over_speech() {
    let voice = Espeak::new(Some("en-gb")).expect("espeak-ng is installed by ./setup");
    never_at_once(Box::new(voice));
}

#[cfg(feature = "natural-voice")]
#[test]
fn nor_do_the_natural_voice_and_chimes() {
    let mut voice = commis::say::Natural::new().expect("it is compiled in");
    // What an unoptimised build would be too slow for is made before, as a session makes it ahead.
    for text in [
        "Oil the bowl, turn the dough in it once, cover it and leave it in a warm place until it has doubled.",
        "Say start it for the first rise, one hour.",
        "Bake: turn the tin.",
        "First rise: time is up.",
        "Has the dough doubled?",
    ] {
        voice
            .speak(text, VoiceSettings::default())
            .expect("it speaks");
    }
    never_at_once(Box::new(voice));
}

fn never_at_once(voice: Box<dyn Voice>) {
    let (tape, texts) = (Arc::default(), Arc::default());
    let (mouth, _news) = Mouth::start(
        vec![Box::new(Telling(voice, Arc::clone(&texts)))],
        VoiceSettings::default(),
        Box::new(Speaker {
            tape: Arc::clone(&tape),
            texts,
        }),
        None,
    );
    let say = |text: &str, why| Effect::Say {
        text: text.to_owned(),
        why,
    };
    let ring = |chime| Effect::Chime { chime, urgency: 0 };
    // Waits until what begins so is on the tape.
    let sounds = |what: &str| {
        let tape: &Mutex<Vec<Heard>> = &tape;
        let until = Instant::now() + Duration::from_mins(1);
        let has = || {
            tape.lock()
                .expect("one thread")
                .iter()
                .any(|h| h.what.starts_with(what))
        };
        while !has() {
            assert!(Instant::now() < until, "`{what}` is not said");
            std::thread::sleep(Duration::from_millis(2));
        }
    };
    mouth.play(&say(
        "Step five. Oil the bowl, turn the dough in it once, cover it and leave it in a warm place until it has doubled.",
        Why::Answer,
    ));
    mouth.play(&say(
        "Say start it for the first rise, one hour.",
        Why::Answer,
    ));
    sounds("");
    // In the middle of a word, two alarms and a question at once; then quiet, and an alarm in spite of it.
    mouth.play(&ring(Chime::Cue));
    mouth.play(&say("Bake: turn the tin.", Why::Alarm));
    mouth.play(&ring(Chime::Due));
    mouth.play(&say("First rise: time is up.", Why::Alarm));
    mouth.play(&ring(Chime::Asked));
    mouth.play(&say("Has the dough doubled?", Why::Ask));
    sounds("First rise: time is up.");
    mouth.play(&Effect::Voice(VoiceSettings {
        volume: -5,
        ..VoiceSettings::default()
    }));
    mouth.play(&Effect::Hush);
    mouth.play(&ring(Chime::Due));
    mouth.play(&say("Soup: time is up.", Why::Alarm));
    mouth.finish(Duration::from_mins(1));

    let tape = tape.lock().expect("done").clone();
    for pair in tape.windows(2) {
        assert!(
            pair[0].until <= pair[1].from,
            "{:?} sounds over {:?}",
            pair[1].what,
            pair[0].what
        );
    }
    let order: Vec<&str> = tape.iter().map(|h| h.what.as_str()).collect();
    let at = |what: &str| {
        order
            .iter()
            .position(|w| *w == what)
            .unwrap_or_else(|| panic!("`{what}` is not heard: {order:#?}"))
    };
    assert!(at("Cue") < at("Bake: turn the tin."), "{order:#?}");
    assert!(at("Bake: turn the tin.") < at("Due"), "{order:#?}");
    assert!(at("Due") < at("First rise: time is up."), "{order:#?}");
    assert_eq!(order.last(), Some(&"Soup: time is up."));
    assert!(
        !order.iter().any(|w| w.starts_with("Say start it")),
        "the alarm passes over what waits to be said: {order:#?}"
    );
}

/// Louder and quieter are for the voice: an alarm rings as loud as ever.
#[test]
fn an_alarm_keeps_its_loudness_when_the_voice_is_low() {
    struct Keeps(Arc<Mutex<Vec<Sound>>>);
    impl Sink for Keeps {
        fn play(&mut self, sound: &Sound) -> Result<(), SayError> {
            self.0.lock().expect("one thread").push(sound.clone());
            Ok(())
        }
        fn busy(&self) -> bool {
            false
        }
        fn stop(&mut self) {}
    }
    let tape: Arc<Mutex<Vec<Sound>>> = Arc::default();
    let low = VoiceSettings {
        volume: -5,
        ..VoiceSettings::default()
    };
    let (mouth, _news) = Mouth::start(Vec::new(), low, Box::new(Keeps(Arc::clone(&tape))), None);
    mouth.play(&Effect::Hush);
    mouth.play(&Effect::Chime {
        chime: Chime::Due,
        urgency: 3,
    });
    mouth.finish(Duration::from_secs(5));
    assert_eq!(*tape.lock().expect("done"), [chime(Chime::Due, 3)]);
}
