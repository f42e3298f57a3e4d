//! WAV files in and out.

use std::io::Cursor;
use std::path::Path;

use hound::{SampleFormat, WavReader, WavSpec, WavWriter};

use super::{HearError, resample};
use crate::outside;

/// The largest recording that is read, in bytes: an hour and a half at 48 kHz.
const LARGEST: u64 = 512 << 20;

/// Reads a WAV file of any rate, mono or more, 8 to 32 bits or float, as 16 kHz mono.
///
/// # Errors
/// When it cannot be read, is no WAV file, or is cut short.
pub fn read(path: &Path) -> Result<Vec<i16>, HearError> {
    let bytes = outside::read(path, LARGEST).map_err(|source| HearError::Read {
        path: path.to_owned(),
        source,
    })?;
    decode(&bytes).map_err(|found| HearError::NotAudio {
        path: path.to_owned(),
        found,
    })
}

/// The same from bytes; on failure says what was found.
///
/// # Errors
/// When the bytes are no WAV file.
pub fn decode(bytes: &[u8]) -> Result<Vec<i16>, String> {
    if bytes.is_empty() {
        return Err("an empty file".to_owned());
    }
    if !bytes.starts_with(b"RIFF") {
        return Err("another kind of file (it does not begin with `RIFF`)".to_owned());
    }
    let reader = WavReader::new(Cursor::new(bytes))
        .map_err(|error| format!("a damaged one: {}", plain(&error)))?;
    let spec = reader.spec();
    if spec.channels == 0 || !(4_000..=384_000).contains(&spec.sample_rate) {
        return Err(format!(
            "{} channels at {} Hz",
            spec.channels, spec.sample_rate
        ));
    }
    let cut =
        |error: hound::Error| format!("one that ends too early or is damaged: {}", plain(&error));
    let samples: Vec<f32> = match spec.sample_format {
        SampleFormat::Float => reader
            .into_samples::<f32>()
            .collect::<Result<_, _>>()
            .map_err(cut)?,
        SampleFormat::Int => {
            let full = f64::from(2_u32).powi(i32::from(spec.bits_per_sample) - 1);
            let scaled = reader
                .into_samples::<i32>()
                .map(|s| s.map(|s| (f64::from(s) / full) as f32));
            scaled.collect::<Result<_, _>>().map_err(cut)?
        }
    };
    let channels = usize::from(spec.channels);
    let mono: Vec<f32> = samples.chunks_exact(channels).map(mix).collect();
    let at_rate = resample::whole(&mono, spec.sample_rate).map_err(|error| error.to_string())?;
    Ok(at_rate.into_iter().map(to_i16).collect())
}

/// Writes 16-bit mono.
///
/// # Errors
/// When the file cannot be written.
pub fn write(path: &Path, samples: &[i16], rate: u32) -> Result<(), HearError> {
    let write = |error: hound::Error| HearError::Write {
        path: path.to_owned(),
        source: match error {
            hound::Error::IoError(source) => source,
            other => std::io::Error::other(other),
        },
    };
    let spec = WavSpec {
        channels: 1,
        sample_rate: rate,
        bits_per_sample: 16,
        sample_format: SampleFormat::Int,
    };
    let mut writer = WavWriter::create(path, spec).map_err(write)?;
    for sample in samples {
        writer.write_sample(*sample).map_err(write)?;
    }
    writer.finalize().map_err(write)
}

/// The mean of one frame's channels; what is not a number counts as silence.
pub fn mix(frame: &[f32]) -> f32 {
    let sum: f32 = frame.iter().filter(|s| s.is_finite()).sum();
    sum / frame.len().max(1) as f32
}

/// From -1..1 to 16 bits, clipped.
pub fn to_i16(sample: f32) -> i16 {
    (sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16
}

fn plain(error: &hound::Error) -> String {
    match error {
        hound::Error::IoError(_) => "it is cut short".to_owned(),
        hound::Error::FormatError(what) => (*what).to_owned(),
        hound::Error::Unsupported => "a kind of WAV that is not plain samples".to_owned(),
        other => other.to_string(),
    }
}
