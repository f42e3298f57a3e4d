//! The desktop's own voice: a small client of speech-dispatcher over its socket, after the Speech Synthesis Interface
//! Protocol (SSIP) as documented with it. It plays what it speaks itself, and tells when each message has ended.
//!
//! The crates for SSIP take an event that comes between a command and its answer for the answer; here they are told
//! apart.

use std::io::{BufRead, BufReader, Write};
use std::os::unix::net::UnixStream;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender, unbounded};

use super::{SayError, Sound, Voice, for_the_ear};
use crate::bench::VoiceSettings;
use crate::{clean, outside};

/// Rate and pitch -100 to 100: what each step adds to 0.
const STEP: i32 = 12;
/// Volume -100 to 100, where 100 is its usual and loudest: normal here leaves room to grow.
const VOLUME: (i32, i32) = (50, 10);
/// How long an answer may take.
const PATIENCE: Duration = Duration::from_secs(2);
/// How long a started daemon may take to open its socket.
const START: Duration = Duration::from_secs(3);
/// After a cancellation the voice counts as silent after this, told or not.
const SILENT_AFTER: Duration = Duration::from_millis(500);

/// The desktop's voice: connected, or to be connected with the next sentence.
pub struct Dispatcher {
    path: PathBuf,
    voice: Option<String>,
    link: Option<Link>,
}

/// A connection to speech-dispatcher.
struct Link {
    socket: UnixStream,
    answers: Receiver<Answer>,
    told: Arc<Told>,
    settings: Option<VoiceSettings>,
    /// The message being spoken, and when it is given up.
    speaking: Option<(u64, Instant)>,
}

/// What the reading thread has learnt from events.
#[derive(Default)]
struct Told {
    /// The last message that ended or was cancelled.
    ended: AtomicU64,
    /// The daemon has gone.
    closed: AtomicBool,
}

/// An answer: its code, the lines of data before it, its words.
struct Answer {
    code: u16,
    data: Vec<String>,
    words: String,
}

fn failed(what: impl ToString) -> SayError {
    SayError::Dispatcher(what.to_string())
}

/// The socket: `$SPEECHD_ADDRESS` where it names one, else the usual place under the runtime or the cache folder.
fn socket_path() -> Result<PathBuf, SayError> {
    let named = std::env::var("SPEECHD_ADDRESS").ok();
    if let Some(path) = named
        .as_deref()
        .and_then(|a| a.strip_prefix("unix_socket:"))
    {
        return Ok(PathBuf::from(path));
    }
    let folder = |name: &str| std::env::var_os(name).map(PathBuf::from);
    folder("XDG_RUNTIME_DIR")
        .or_else(|| folder("XDG_CACHE_HOME"))
        .or_else(|| folder("HOME").map(|home| home.join(".cache")))
        .map(|f| f.join("speech-dispatcher/speechd.sock"))
        .ok_or_else(|| failed("expected `XDG_RUNTIME_DIR` to be set, found nothing"))
}

impl Dispatcher {
    /// Connects to the daemon of this desktop, and starts it where that is allowed. `voice` is a language such as
    /// `en-gb` or the name of a voice.
    ///
    /// # Errors
    /// When there is none, or it does not answer.
    pub fn new(voice: Option<&str>) -> Result<Self, SayError> {
        Self::at(&socket_path()?, voice)
    }

    /// The same with a daemon at a socket of its own.
    ///
    /// # Errors
    /// When there is none, or it does not answer.
    pub fn at(path: &Path, voice: Option<&str>) -> Result<Self, SayError> {
        let link = Link::open(path, voice)?;
        Ok(Self {
            path: path.to_owned(),
            voice: voice.map(str::to_owned),
            link: Some(link),
        })
    }
}

impl Link {
    fn open(path: &Path, voice: Option<&str>) -> Result<Self, SayError> {
        let socket = UnixStream::connect(path).or_else(|_| start(path))?;
        socket.set_write_timeout(Some(PATIENCE)).map_err(failed)?;
        let input = socket.try_clone().map_err(failed)?;
        let (sender, answers) = unbounded();
        let told = Arc::new(Told::default());
        let theirs = Arc::clone(&told);
        std::thread::Builder::new()
            .name("dispatcher".to_owned())
            .spawn(move || {
                read(BufReader::new(input), &sender, &theirs);
                theirs.closed.store(true, Ordering::Release);
            })
            .map_err(failed)?;
        let mut it = Self {
            socket,
            answers,
            told,
            settings: None,
            speaking: None,
        };
        let user = std::env::var("USER").unwrap_or_else(|_| "cook".to_owned());
        it.order(&format!("SET SELF CLIENT_NAME {user}:commis:kitchen"))?;
        it.order("SET SELF PRIORITY MESSAGE")?;
        for event in ["END", "CANCEL"] {
            it.order(&format!("SET SELF NOTIFICATION {event} ON"))?;
        }
        match voice {
            Some(v) if is_language(v) => it.order(&format!("SET SELF LANGUAGE {v}"))?,
            Some(v) => it.order(&format!("SET SELF SYNTHESIS_VOICE {v}"))?,
            None => it.order("SET SELF LANGUAGE en")?,
        };
        Ok(it)
    }

    /// Sends a line, which is one line whatever stands in it, and waits for its answer.
    fn order(&mut self, line: &str) -> Result<Answer, SayError> {
        self.send(&clean::spoken(line))
    }

    fn send(&mut self, lines: &str) -> Result<Answer, SayError> {
        self.socket
            .write_all(format!("{lines}\r\n").as_bytes())
            .map_err(failed)?;
        let answer = self
            .answers
            .recv_timeout(PATIENCE)
            .map_err(|_| failed("it does not answer"))?;
        if (200..300).contains(&answer.code) {
            Ok(answer)
        } else {
            Err(failed(answer.words))
        }
    }

    fn set(&mut self, settings: VoiceSettings) -> Result<(), SayError> {
        if self.settings == Some(settings) {
            return Ok(());
        }
        let rate = STEP * i32::from(settings.rate);
        let pitch = STEP * i32::from(settings.pitch);
        let volume = VOLUME.0 + VOLUME.1 * i32::from(settings.volume);
        for (what, value) in [("RATE", rate), ("PITCH", pitch), ("VOLUME", volume)] {
            self.order(&format!("SET SELF {what} {value}"))?;
        }
        self.settings = Some(settings);
        Ok(())
    }
}

/// `en`, `en-gb`, `en_US`.
fn is_language(name: &str) -> bool {
    let mut parts = name.split(['-', '_']);
    let short = |p: &str| p.len() == 2 && p.bytes().all(|b| b.is_ascii_alphabetic());
    parts.next().is_some_and(short) && parts.next().is_none_or(short) && parts.next().is_none()
}

/// Starts the daemon and waits for its socket.
fn start(path: &Path) -> Result<UnixStream, SayError> {
    let mut daemon = Command::new("speech-dispatcher");
    daemon
        .args([
            "--spawn",
            "--communication-method",
            "unix_socket",
            "--socket-path",
        ])
        .arg(path);
    if !outside::status(&mut daemon, START)?.success() {
        return Err(failed("it is not running, and may not be started"));
    }
    let until = Instant::now() + START;
    loop {
        match UnixStream::connect(path) {
            Ok(socket) => return Ok(socket),
            Err(e) if Instant::now() >= until => return Err(failed(e)),
            Err(_) => std::thread::sleep(Duration::from_millis(20)),
        }
    }
}

/// Reads until the daemon goes: answers are handed on, events are noted.
fn read(input: impl BufRead, answers: &Sender<Answer>, told: &Told) {
    let mut data: Vec<String> = Vec::new();
    for line in input.lines().map_while(Result::ok) {
        let line = line.trim_end();
        let (Some(code), Some(rest)) = (line.get(..3).and_then(|c| c.parse().ok()), line.get(3..))
        else {
            continue;
        };
        if let Some(more) = rest.strip_prefix('-') {
            data.push(more.to_owned());
            continue;
        }
        let data = std::mem::take(&mut data);
        if (700..800).contains(&code) {
            // 702 END, 703 CANCELED; the first line of data is the message.
            if let Some(id) = data.first().and_then(|id| id.parse().ok()) {
                told.ended.fetch_max(id, Ordering::AcqRel);
            }
            continue;
        }
        let words = rest.trim().to_owned();
        if answers.send(Answer { code, data, words }).is_err() {
            return;
        }
    }
}

impl Link {
    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<(), SayError> {
        self.set(settings)?;
        self.order("SPEAK")?;
        let text = for_the_ear(text);
        let dot = if text.starts_with('.') { "." } else { "" };
        let queued = self.send(&format!("{dot}{text}\r\n."))?;
        let id = queued.data.first().and_then(|id| id.parse().ok());
        let id = id.ok_or_else(|| failed("it gave no message a number"))?;
        // Slow speech is some six letters a second.
        let longest = Duration::from_secs(5) + Duration::from_millis(170) * text.len() as u32;
        self.speaking = Some((id, Instant::now() + longest));
        Ok(())
    }

    fn is_closed(&self) -> bool {
        self.told.closed.load(Ordering::Acquire)
    }

    fn busy(&self) -> bool {
        self.speaking.is_some_and(|(id, until)| {
            !self.is_closed()
                && self.told.ended.load(Ordering::Acquire) < id
                && Instant::now() < until
        })
    }

    fn stop(&mut self) {
        if !self.busy() {
            return;
        }
        // A daemon that does not answer is found out by the next sentence.
        let _ = self.order("CANCEL SELF");
        if let Some((_, until)) = &mut self.speaking {
            *until = Instant::now() + SILENT_AFTER;
        }
    }
}

impl Voice for Dispatcher {
    fn plays_itself(&self) -> bool {
        true
    }

    fn speak(&mut self, text: &str, settings: VoiceSettings) -> Result<Option<Sound>, SayError> {
        // After a failure it is looked for again.
        let mut link = match self.link.take() {
            Some(link) if link.is_closed() => return Err(failed("it has gone")),
            Some(link) => link,
            None => Link::open(&self.path, self.voice.as_deref())?,
        };
        link.speak(text, settings)?;
        self.link = Some(link);
        Ok(None)
    }

    fn busy(&self) -> bool {
        self.link.as_ref().is_some_and(Link::busy)
    }

    fn stop(&mut self) {
        if let Some(link) = &mut self.link {
            link.stop();
        }
    }
}

impl Drop for Link {
    fn drop(&mut self) {
        let _ = self.socket.write_all(b"QUIT\r\n");
        let _ = self.socket.shutdown(std::net::Shutdown::Both);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn languages_and_names_of_voices() {
        for language in ["en", "en-gb", "en_US"] {
            assert!(is_language(language), "{language}");
        }
        for name in ["english", "English (Great Britain)+Linda", "en-gb-scotland"] {
            assert!(!is_language(name), "{name}");
        }
    }

    #[test]
    fn an_event_between_order_and_answer_is_no_answer() {
        // The forms of SSIP's documentation, chapter 'Events': two lines of data, message and client.
        let text = "208 OK CLIENT NAME SET\r\n702-21\r\n702-1\r\n702 END\r\n225-22\r\n225 OK MESSAGE QUEUED\r\n";
        let (sender, answers) = unbounded();
        let told = Told::default();
        read(text.as_bytes(), &sender, &told);
        let got: Vec<(u16, Vec<String>)> = answers.try_iter().map(|a| (a.code, a.data)).collect();
        assert_eq!(got, [(208, vec![]), (225, vec!["22".to_owned()])]);
        assert_eq!(told.ended.load(Ordering::Acquire), 21);
    }
}
