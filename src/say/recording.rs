//! Recordings of a cook's own voice: kept as FLAC (RFC 9639), which loses nothing and which any player reads.

use std::io::Cursor;

use flacenc::bitsink::ByteSink;
use flacenc::component::BitRepr as _;
use flacenc::error::Verify as _;

use super::Sound;

/// What is no louder than this was no voice; full scale is 1.
const SILENCE: f32 = 0.01;
/// How loud the loudest of a recording is made; full scale is 1.
const LOUDEST: f32 = 0.8;
/// The longest that is read, in samples: ten minutes at 48 kHz.
const MOST: usize = 48_000 * 600;

/// Why a recording is of no use.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RecordingError {
    /// Nobody spoke.
    #[error("I heard nothing")]
    Silent,
    /// It cannot be written.
    #[error("it cannot be written: {0}")]
    Write(String),
    /// It is none.
    #[error("it is no FLAC file that I can read: {0}")]
    Read(String),
}

/// A recording as the bytes of a FLAC file, its loudest made as loud as speech.
///
/// # Errors
/// Where it is silent, or cannot be written.
pub fn to_flac(sound: &Sound) -> Result<Vec<u8>, RecordingError> {
    let peak = sound
        .samples
        .iter()
        .fold(0.0_f32, |peak, x| peak.max(x.abs()));
    if peak < SILENCE {
        return Err(RecordingError::Silent);
    }
    let gain = LOUDEST / peak * 32_767.0;
    let samples: Vec<i32> = sound
        .samples
        .iter()
        .map(|x| (x * gain).round() as i32)
        .collect();
    let odd = |e: &dyn std::fmt::Debug| RecordingError::Write(format!("{e:?}"));
    let config = flacenc::config::Encoder::default()
        .into_verified()
        .map_err(|(_, e)| odd(&e))?;
    let source = flacenc::source::MemSource::from_samples(&samples, 1, 16, sound.rate as usize);
    let stream = flacenc::encode_with_fixed_block_size(&config, source, config.block_size)
        .map_err(|e| odd(&e))?;
    let mut sink = ByteSink::new();
    stream.write(&mut sink).map_err(|e| odd(&e))?;
    Ok(sink.as_slice().to_vec())
}

/// The sound of a FLAC file; several channels are mixed to one.
///
/// # Errors
/// Where it is none.
pub fn from_flac(bytes: &[u8]) -> Result<Sound, RecordingError> {
    let odd = |e: claxon::Error| RecordingError::Read(e.to_string());
    let mut reader = claxon::FlacReader::new(Cursor::new(bytes)).map_err(odd)?;
    let info = reader.streaminfo();
    let channels = info.channels.max(1) as usize;
    let full = 2_f32.powi(info.bits_per_sample.clamp(1, 32) as i32 - 1);
    let mut all = Vec::new();
    for sample in reader.samples() {
        all.push(sample.map_err(odd)? as f32 / full);
        if all.len() > MOST * channels {
            return Err(RecordingError::Read(
                "it is longer than ten minutes".to_owned(),
            ));
        }
    }
    let samples = all
        .chunks_exact(channels)
        .map(|frame| frame.iter().sum::<f32>() / channels as f32)
        .collect();
    Ok(Sound {
        rate: info.sample_rate,
        samples,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(loud: f32) -> Sound {
        let sample = |n: usize| (n as f32 * 0.1).sin() * loud;
        Sound {
            rate: 16_000,
            samples: (0..16_000).map(sample).collect(),
        }
    }

    #[test]
    fn what_is_kept_comes_back_by_another_reader() {
        let quiet = tone(0.05);
        let bytes = to_flac(&quiet).expect("written");
        assert!(bytes.starts_with(b"fLaC"), "RFC 9639, section 6");
        assert!(bytes.len() < quiet.samples.len() * 2, "smaller than it was");
        let back = from_flac(&bytes).expect("read");
        assert_eq!((back.rate, back.samples.len()), (16_000, 16_000));
        let peak = back
            .samples
            .iter()
            .fold(0.0_f32, |peak, x| peak.max(x.abs()));
        assert!((peak - LOUDEST).abs() < 0.01, "{peak}");
        let gain = LOUDEST / 0.05;
        let near = |(a, b): (&f32, &f32)| (a - b * gain).abs() < 0.002;
        assert!(back.samples.iter().zip(&quiet.samples).all(near));
    }

    #[test]
    fn silence_and_other_files_are_told() {
        assert_eq!(to_flac(&tone(0.001)), Err(RecordingError::Silent));
        assert!(from_flac(b"RIFF....WAVE").is_err());
        let mut torn = to_flac(&tone(0.5)).expect("written");
        torn.truncate(torn.len() / 2);
        assert!(from_flac(&torn).is_err());
        for at in 0..torn.len().min(400) {
            let mut odd = torn.clone();
            odd[at] ^= 0x55;
            let _ = from_flac(&odd);
        }
    }
}
