//! The voices side by side on forty kitchen sentences with numbers: how soon each is heard, and what it costs. `cargo bench
//! --bench voices -- FOLDER` also writes what each says into the folder, a WAV a sentence, for other recognisers to read
//! (`benches/voices.py`).

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use commis::bench::{Effect, VoiceSettings, Why};
use commis::say::{Espeak, Mouth, Natural, SayError, Sink, Sound, Voice};

const SENTENCES: &str = include_str!("voices.txt");

/// Notes when a sound begins, and is done with it at once.
struct First(Arc<Mutex<Option<Instant>>>);

impl Sink for First {
    fn play(&mut self, _: &Sound) -> Result<(), SayError> {
        let mut first = self.0.lock().expect("one thread");
        first.get_or_insert_with(Instant::now);
        Ok(())
    }

    fn busy(&self) -> bool {
        false
    }

    fn stop(&mut self) {}
}

/// From the order to say it to the beginning of the sound, in a mouth of its own.
fn first_sound(voice: Box<dyn Voice>) -> Vec<Duration> {
    let first: Arc<Mutex<Option<Instant>>> = Arc::default();
    let sink = Box::new(First(Arc::clone(&first)));
    let (mouth, _news) = Mouth::start(vec![voice], VoiceSettings::default(), sink, None);
    let times = SENTENCES.lines().map(|text| {
        let asked = Instant::now();
        mouth.play(&Effect::Say {
            text: text.to_owned(),
            why: Why::Answer,
        });
        loop {
            if let Some(at) = first.lock().expect("one thread").take() {
                std::thread::sleep(Duration::from_millis(300));
                first.lock().expect("one thread").take();
                return at - asked;
            }
            std::thread::sleep(Duration::from_millis(1));
        }
    });
    times.collect()
}

/// Seconds of processor that this process and what it started have used (proc(5), a hundred ticks a second).
fn processor() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").expect("it runs");
    let after = stat.rsplit(')').next().unwrap_or_default();
    let fields = after.split_whitespace().skip(11).take(4);
    fields.filter_map(|f| f.parse::<f64>().ok()).sum::<f64>() / 100.0
}

/// What this process has in memory, in MB.
fn resident() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("it runs");
    let line = status.lines().find_map(|l| l.strip_prefix("VmRSS:"));
    let kilobytes = line.and_then(|l| l.split_whitespace().next()?.parse::<f64>().ok());
    kilobytes.expect("a number") / 1024.0
}

fn measure(name: &str, make: &dyn Fn() -> Box<dyn Voice>, folder: Option<&Path>) {
    let before = resident();
    let mut voice = make();
    let (began, mut seconds) = (processor(), 0.0);
    for (n, text) in SENTENCES.lines().enumerate() {
        let sound = voice.speak(text, VoiceSettings::default());
        let sound = sound.expect("it speaks").expect("it gives its sound");
        seconds += sound.millis() as f64 / 1000.0;
        if let Some(folder) = folder {
            write(&folder.join(format!("{name}-{n:02}.wav")), &sound);
        }
    }
    let cost = (processor() - began) / seconds;
    let memory = resident() - before;
    drop(voice);
    let mut times = first_sound(make());
    times.sort();
    println!(
        "{name}: first sound median {} ms, longest {} ms; {cost:.3} s of a core for a second of speech; {memory:.0} MB more in memory",
        times[times.len() / 2].as_millis(),
        times[times.len() - 1].as_millis(),
    );
}

fn write(path: &Path, sound: &Sound) {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: sound.rate,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut file = hound::WavWriter::create(path, spec).expect("the folder is there");
    for x in &sound.samples {
        let sample = (x.clamp(-1.0, 1.0) * 32767.0) as i16;
        file.write_sample(sample).expect("written");
    }
    file.finalize().expect("written");
}

fn main() {
    let folder = std::env::args().skip(1).find(|a| !a.starts_with('-'));
    let folder = folder.map(PathBuf::from);
    measure(
        "natural",
        &|| Box::new(Natural::new().expect("it is compiled in")),
        folder.as_deref(),
    );
    measure(
        "espeak-ng",
        &|| Box::new(Espeak::new(Some("en-gb")).expect("./setup installs it")),
        folder.as_deref(),
    );
}
