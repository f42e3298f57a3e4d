//! Microphones and loudspeakers by name.

use std::os::unix::process::CommandExt;
use std::process::Command;
use std::time::Duration;

use cpal::Device;
use cpal::traits::{DeviceTrait, HostTrait};
use crossbeam_channel::bounded;

use crate::outside::{self, OutsideError};

/// Which way the sound goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Microphones.
    In,
    /// Loudspeakers.
    Out,
}

impl Way {
    /// The variable by which a sound server's library takes another device than its usual one.
    fn variable(self) -> &'static str {
        match self {
            Self::In => "PULSE_SOURCE",
            Self::Out => "PULSE_SINK",
        }
    }
}

/// A stream that fails is asked again after this: one whose server has died fails at once, over and over.
const FAULT_PAUSE: Duration = Duration::from_millis(20);

/// Whether a stream that told of this is lost for good. Called on the stream's own thread, which it slows down where the
/// fault would come again at once, so that a dead stream costs next to nothing until it is given up.
pub(crate) fn is_lost(fault: &cpal::Error) -> bool {
    use cpal::ErrorKind::{DeviceChanged, RealtimeDenied, Xrun};
    let lost = !matches!(fault.kind(), Xrun | DeviceChanged | RealtimeDenied);
    if lost {
        std::thread::sleep(FAULT_PAUSE);
    }
    lost
}

/// The ALSA device behind which a sound server stands.
const SERVER: &str = "pulse";

/// How long the sound server's program may take to list its devices.
const LIST_LIMIT: Duration = Duration::from_secs(2);

/// How long the devices that the settings name are looked for before the start.
const ROUTE_LIMIT: Duration = Duration::from_secs(6);

/// The devices of the sound server, if one runs: PulseAudio and PipeWire both answer `pactl`.
fn served(way: Way) -> Vec<FoundDevice> {
    ask_server(way).unwrap_or_default()
}

/// Why the sound server's devices are not known, where its program is missing or hangs.
pub fn server_trouble() -> Option<OutsideError> {
    ask_server(Way::Out).err()
}

fn ask_server(way: Way) -> Result<Vec<FoundDevice>, OutsideError> {
    let what = match way {
        Way::In => "sources",
        Way::Out => "sinks",
    };
    let mut list = Command::new("pactl");
    list.args(["-f", "json", "list", what]);
    let (_, text) = outside::run(&mut list, "", LIST_LIMIT)?;
    let all: Vec<serde_json::Value> = serde_json::from_slice(&text).unwrap_or_default();
    let word = |device: &serde_json::Value, key: &str| device[key].as_str().map(str::to_owned);
    let found = all.iter().filter_map(|device| {
        let id = word(device, "name")?;
        let name = word(device, "description").unwrap_or_else(|| id.clone());
        Some(FoundDevice { id, name })
    });
    Ok(found.collect())
}

/// Sees to it that devices of the sound server can be opened. Its library takes the name from a variable, and a
/// variable can only be set for a new process: where one is wanted and not set, the program starts anew in its place,
/// and this does not return.
pub fn route(microphone: Option<&str>, loudspeaker: Option<&str>) {
    let wanted = [(Way::In, microphone), (Way::Out, loudspeaker)];
    let wanted = wanted.map(|(way, name)| (way, name.map(str::to_owned)));
    let (sender, found) = bounded(1);
    // Whoever asks a sound server that hangs may wait for ever.
    let asked = std::thread::Builder::new().spawn(move || {
        let variables = wanted
            .into_iter()
            .filter_map(|(way, name)| variable(way, name?));
        sender.send(variables.collect::<Vec<_>>())
    });
    let variables = asked
        .ok()
        .and_then(|_| found.recv_timeout(ROUTE_LIMIT).ok());
    let Some(variables) = variables.filter(|v| !v.is_empty()) else {
        return;
    };
    if let Ok(program) = std::env::current_exe() {
        // It comes back only when it has failed; the device is then said to be missing.
        let _ = Command::new(program)
            .args(std::env::args_os().skip(1))
            .envs(variables)
            .exec();
    }
}

/// The variable that is still to be set so that a device of the sound server is taken, and to what.
fn variable(way: Way, name: String) -> Option<(&'static str, String)> {
    if all(way).iter().any(|(f, _)| f.is_called(&name)) {
        return None;
    }
    let found = served(way).into_iter().find(|f| f.is_called(&name));
    // One that is not there yet may be plugged in later.
    let id = found.map_or(name, |f| f.id);
    (std::env::var(way.variable()).as_ref() != Ok(&id)).then_some((way.variable(), id))
}

/// A device that the settings can name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoundDevice {
    /// What to write in the settings: the same after every plugging.
    pub id: String,
    /// Its name, for people.
    pub name: String,
}

impl FoundDevice {
    fn of(device: &Device) -> Option<Self> {
        let id = device.id().ok()?.id().to_owned();
        let name = device
            .description()
            .map_or_else(|_| id.clone(), |d| d.name().to_owned());
        // 'Default ALSA Output (currently PulseAudio Sound Server)'
        let name = name.split(" (").next().unwrap_or_default().to_owned();
        Some(Self { id, name })
    }

    fn is_called(&self, wanted: &str) -> bool {
        self.id == wanted || self.name == wanted
    }

    /// ALSA gives a card under a dozen names; one of them converts what the card cannot do itself.
    fn is_of_use(&self) -> bool {
        let alsa = self.id.contains(":CARD=");
        let plugin = matches!(
            self.id.as_str(),
            "null"
                | "lavrate"
                | "samplerate"
                | "speexrate"
                | "jack"
                | "oss"
                | "speex"
                | "upmix"
                | "vdownmix"
        );
        // What a loudspeaker plays is no microphone.
        let monitor = self.id.ends_with(".monitor");
        !plugin && !monitor && (!alsa || self.id.starts_with("plughw:"))
    }
}

fn all(way: Way) -> Vec<(FoundDevice, Device)> {
    let host = cpal::default_host();
    let devices: Vec<Device> = match way {
        Way::In => host.input_devices().map(Iterator::collect),
        Way::Out => host.output_devices().map(Iterator::collect),
    }
    .unwrap_or_default();
    devices
        .into_iter()
        .filter_map(|d| FoundDevice::of(&d).map(|f| (f, d)))
        .collect()
}

/// The devices that are of use.
pub fn list(way: Way) -> Vec<FoundDevice> {
    let of_alsa = all(way).into_iter().map(|(f, _)| f);
    let found = served(way).into_iter().chain(of_alsa);
    found.filter(FoundDevice::is_of_use).collect()
}

/// The device of this name or id; without one, that which the system uses.
///
/// # Errors
/// When there is none, or none of this name.
pub fn choose(way: Way, wanted: Option<&str>) -> Result<(FoundDevice, Device), DeviceError> {
    let Some(wanted) = wanted else {
        let host = cpal::default_host();
        let device = match way {
            Way::In => host.default_input_device(),
            Way::Out => host.default_output_device(),
        };
        return device
            .and_then(|d| FoundDevice::of(&d).map(|f| (f, d)))
            .ok_or(DeviceError::None);
    };
    let routed = std::env::var(way.variable()).ok();
    let behind = served(way)
        .iter()
        .any(|f| f.is_called(wanted) && routed.as_ref() == Some(&f.id));
    let id = if behind { SERVER } else { wanted };
    all(way)
        .into_iter()
        .find(|(f, _)| f.is_called(id))
        .map(|(mut found, device)| {
            wanted.clone_into(&mut found.name);
            (found, device)
        })
        .ok_or_else(|| DeviceError::Away {
            wanted: wanted.to_owned(),
            there: list(way).into_iter().map(|f| f.id).collect(),
        })
}

/// Why there is no such device: one clause.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DeviceError {
    /// There is none at all.
    #[error("none is connected")]
    None,
    /// There is none of the wanted name.
    #[error("`{wanted}` is not connected{}", there_is(there))]
    Away {
        /// What the settings name.
        wanted: String,
        /// What there is.
        there: Vec<String>,
    },
}

fn there_is(there: &[String]) -> String {
    let names: Vec<String> = there.iter().map(|id| format!("`{id}`")).collect();
    match names.as_slice() {
        [] => String::new(),
        some => format!("; there is {}", some.join(", ")),
    }
}

/// What a library says of a device, as the first clause of a sentence of ours.
pub(crate) fn clause(trouble: &dyn std::fmt::Display) -> String {
    let text = trouble.to_string();
    let first = text.split(". ").next().unwrap_or_default();
    let mut chars = first.trim_end_matches('.').chars();
    let small = chars.next().map(|c| c.to_lowercase().to_string());
    small.unwrap_or_default() + chars.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clause_of_ours() {
        let said = "The requested device is not available. It may have been disconnected.";
        assert_eq!(clause(&said), "the requested device is not available");
    }

    #[test]
    fn one_name_for_each_card_and_no_plugins() {
        let of_use = |id: &str| {
            FoundDevice {
                id: id.to_owned(),
                name: String::new(),
            }
            .is_of_use()
        };
        for id in ["plughw:CARD=Headset,DEV=0", "default", "pulse"] {
            assert!(of_use(id), "{id}");
        }
        for id in ["hw:CARD=Headset,DEV=0", "surround51:CARD=PCH,DEV=0", "null"] {
            assert!(!of_use(id), "{id}");
        }
    }
}
