//! Microphones and loudspeakers by name.

use cpal::Device;
use cpal::traits::{DeviceTrait, HostTrait};

/// Which way the sound goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Microphones.
    In,
    /// Loudspeakers.
    Out,
}

/// A device that the settings can name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// What to write in the settings: the same after every plugging.
    pub id: String,
    /// Its name, for people.
    pub name: String,
}

impl Found {
    fn of(device: &Device) -> Option<Self> {
        let id = device.id().ok()?.id().to_owned();
        let name = device
            .description()
            .map_or_else(|_| id.clone(), |d| d.name().to_owned());
        // 'Default ALSA Output (currently PulseAudio Sound Server)'
        let name = name.split(" (").next().unwrap_or_default().to_owned();
        Some(Self { id, name })
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
        !plugin && (!alsa || self.id.starts_with("plughw:"))
    }
}

fn all(way: Way) -> Vec<(Found, Device)> {
    let host = cpal::default_host();
    let devices: Vec<Device> = match way {
        Way::In => host.input_devices().map(Iterator::collect),
        Way::Out => host.output_devices().map(Iterator::collect),
    }
    .unwrap_or_default();
    devices
        .into_iter()
        .filter_map(|d| Found::of(&d).map(|f| (f, d)))
        .collect()
}

/// The devices that are of use.
pub fn list(way: Way) -> Vec<Found> {
    let found = all(way).into_iter().map(|(f, _)| f);
    found.filter(Found::is_of_use).collect()
}

/// The device of this name or id; without one, that which the system uses.
///
/// # Errors
/// When there is none, or none of this name: one clause, with the names that there are.
pub fn choose(way: Way, wanted: Option<&str>) -> Result<(Found, Device), String> {
    let Some(wanted) = wanted else {
        let host = cpal::default_host();
        let device = match way {
            Way::In => host.default_input_device(),
            Way::Out => host.default_output_device(),
        };
        return device
            .and_then(|d| Found::of(&d).map(|f| (f, d)))
            .ok_or_else(|| "none is connected".to_owned());
    };
    all(way)
        .into_iter()
        .find(|(f, _)| f.id == wanted || f.name == wanted)
        .ok_or_else(|| {
            let there: Vec<String> = list(way)
                .into_iter()
                .map(|f| format!("`{}`", f.id))
                .collect();
            match there.as_slice() {
                [] => format!("`{wanted}` is not connected"),
                some => format!("`{wanted}` is not connected; there is {}", some.join(", ")),
            }
        })
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
            Found {
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
