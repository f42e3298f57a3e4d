//! The network of the natural voice, in plain arithmetic: from the sounds of a sentence to the spectra of its frames. Two
//! encoders read the sounds; one tells how long each lasts, then its pitch and strength; the other, drawn out to those
//! lengths, becomes the spectra.

use std::collections::HashMap;

use ndarray::{Array1, Array2, ArrayView2, Axis, Slice, concatenate};
use serde::Deserialize;

/// Frames that a stop at the end may last, and the silence that the network would put before the first sound: 25 ms each.
/// It would last a third of a second, and somebody waits.
const SILENT: (usize, usize) = (4, 3);
/// Bins of a spectrum.
pub(super) const BINS: usize = 601;

/// Five spectra side by side for each frame of an eightieth of a second, and the pitch of each.
pub(super) struct Spectra {
    pub(super) frames: Array2<f32>,
    pub(super) pitch: Vec<f32>,
}

#[derive(Deserialize)]
struct Header {
    signs: HashMap<char, usize>,
    /// Name, shape, and the step and zero of numbers of eight bits.
    tensors: Vec<(String, Vec<usize>, f32, i8)>,
}

/// The trained network.
pub(super) struct Net {
    signs: HashMap<char, usize>,
    timbre: Encoder,
    prosody: Encoder,
    lasts: (Conv, Linear),
    pitch_in: Linear,
    pitch: Vec<Block>,
    pitch_out: Linear,
    decoder_in: Conv,
    decoder: Vec<Block>,
    decoder_norm: Norm,
    head: Linear,
}

impl Net {
    /// Reads what `models/voice/make.py` wrote; nothing for anything else.
    pub(super) fn read(bytes: &'static [u8]) -> Option<Self> {
        let bytes = bytes.strip_prefix(b"VOICE001")?;
        let (length, rest) = bytes.split_first_chunk::<4>()?;
        let (head, body) = rest.split_at_checked(u32::from_le_bytes(*length) as usize)?;
        let header: Header = serde_json::from_slice(head).ok()?;
        let mut weights = Weights::read(&header, body)?;
        let w = &mut weights;
        Some(Self {
            signs: header.signs,
            timbre: Encoder::take(w, "m.text", 4)?,
            prosody: Encoder::take(w, "pn.text", 6)?,
            lasts: (w.conv("pn.dur.0")?, Linear::from(w.conv("pn.dur.2")?)),
            pitch_in: w.conv("pn.pro_in")?.into(),
            pitch: w.blocks("pn.pro", 6)?,
            pitch_out: w.conv("pn.pro_out")?.into(),
            decoder_in: w.conv("m.dec_in")?,
            decoder: w.blocks("m.dec", 8)?,
            decoder_norm: w.norm("m.dec_norm")?,
            head: w.linear("m.head")?,
        })
    }

    /// The sounds of a sentence as the network numbers them; what it has no number for is left out.
    pub(super) fn numbers(&self, sounds: &str) -> Vec<usize> {
        let known = sounds.chars().filter_map(|c| self.signs.get(&c).copied());
        std::iter::once(0).chain(known).chain([0]).collect()
    }

    /// Runs the network: so many times faster than usual, at so many times the usual pitch.
    pub(super) fn run(&self, numbers: &[usize], speed: f32, pitch: f32) -> Spectra {
        let timbre = self.timbre.run(numbers);
        let prosody = self.prosody.run(numbers);
        let from = self.stretch(&prosody, speed);
        let mut x = self.pitch_in.run(&prosody.select(Axis(0), &from));
        for block in &self.pitch {
            x = block.run(x);
        }
        let curve = self.pitch_out.run(&x);
        // Two halves of each frame: the pitch of both, then the strength of both.
        let halves = 2 * curve.nrows();
        let half = |t: usize, of: usize| curve[[t / 2, of + t % 2]];
        let tones: Vec<f32> = (0..halves).map(|t| half(t, 0) * 100.0 * pitch).collect();
        let from: Vec<usize> = (0..halves).map(|t| from[t / 2]).collect();
        let timbre = timbre.select(Axis(0), &from);
        let beside = Array2::from_shape_fn((halves, 2), |(t, k)| match k {
            0 => (1.0 + tones[t].max(0.0)).ln() / 5.0,
            _ => half(t, 2),
        });
        let joined = concatenate![Axis(1), timbre, beside];
        let mut x = self.decoder_in.run(&joined.view());
        for block in &self.decoder {
            x = block.run(x);
        }
        let frames = self.head.run(&self.decoder_norm.run(x));
        Spectra {
            frames,
            pitch: tones,
        }
    }

    /// For each frame, which of the sounds it belongs to.
    fn stretch(&self, prosody: &Array2<f32>, speed: f32) -> Vec<usize> {
        let mut x = self.lasts.0.run(&prosody.view());
        x.mapv_inplace(gelu);
        let lasts = self.lasts.1.run(&x);
        let last = lasts.len() - 1;
        let mut from = Vec::new();
        for (sound, long) in lasts.iter().enumerate() {
            let frames = ((long.exp() - 1.0) / speed).round_ties_even().max(1.0) as usize;
            let frames = match sound {
                0 => frames.min(SILENT.0),
                _ if sound + 1 == last => frames.min(SILENT.1),
                _ => frames,
            };
            from.extend(std::iter::repeat_n(sound, frames));
        }
        from
    }
}

/// Numbers of the file.
enum Values {
    Whole(Vec<f32>),
    /// Of eight bits, where they lie in the program, with their step and zero.
    Eight(&'static [u8], f32, f32),
}

/// What was read of the file, by name.
struct Weights(HashMap<String, (Vec<usize>, Values)>);

impl Weights {
    fn read(header: &Header, mut body: &'static [u8]) -> Option<Self> {
        let mut all = HashMap::new();
        for (name, shape, step, zero) in &header.tensors {
            let count: usize = shape.iter().product();
            let eight = *step != 0.0;
            let (own, after) = body.split_at_checked(if eight { count } else { 4 * count })?;
            body = after;
            let values = if eight {
                Values::Eight(own, *step, f32::from(*zero))
            } else {
                let (words, _) = own.as_chunks::<4>();
                Values::Whole(words.iter().map(|b| f32::from_le_bytes(*b)).collect())
            };
            all.insert(name.clone(), (shape.clone(), values));
        }
        body.is_empty().then_some(Self(all))
    }

    /// What is not of eight bits.
    fn whole(&mut self, name: &str) -> Option<(Vec<usize>, Vec<f32>)> {
        match self.0.remove(name)? {
            (shape, Values::Whole(values)) => Some((shape, values)),
            (_, Values::Eight(..)) => None,
        }
    }

    fn row(&mut self, name: &str) -> Option<Array1<f32>> {
        Some(Array1::from_vec(self.whole(name)?.1))
    }

    fn table(&mut self, name: &str) -> Option<Array2<f32>> {
        let (shape, values) = self.whole(name)?;
        let &[rows, columns] = shape.as_slice() else {
            return None;
        };
        Array2::from_shape_vec((rows, columns), values).ok()
    }

    fn weight(&mut self, name: &str) -> Option<Weight> {
        let (shape, values) = self.0.remove(name)?;
        let &[rows, columns] = shape.as_slice() else {
            return None;
        };
        Some(match values {
            Values::Whole(values) => {
                Weight::Whole(Array2::from_shape_vec((rows, columns), values).ok()?)
            }
            Values::Eight(bytes, step, zero) => Weight::Eight {
                bytes: ArrayView2::from_shape((rows, columns), bytes).ok()?,
                step,
                zero,
            },
        })
    }

    fn linear(&mut self, name: &str) -> Option<Linear> {
        Some(Linear {
            weight: self.weight(&format!("{name}.weight"))?,
            times: None,
            bias: self.row(&format!("{name}.bias"))?,
        })
    }

    fn norm(&mut self, name: &str) -> Option<Norm> {
        Some(Norm {
            weight: self.row(&format!("{name}.weight"))?,
            bias: self.row(&format!("{name}.bias"))?,
        })
    }

    /// Kept as outputs by inputs by taps; used as taps and inputs by outputs.
    fn conv(&mut self, name: &str) -> Option<Conv> {
        let (shape, values) = self.whole(&format!("{name}.weight"))?;
        let &[outputs, inputs, taps] = shape.as_slice() else {
            return None;
        };
        let weight = Array2::from_shape_fn((taps * inputs, outputs), |(row, output)| {
            values[(output * inputs + row % inputs) * taps + row / inputs]
        });
        let bias = self.row(&format!("{name}.bias"))?;
        let linear = Linear {
            weight: Weight::Whole(weight),
            times: None,
            bias,
        };
        Some(Conv { taps, linear })
    }

    fn block(&mut self, name: &str) -> Option<Block> {
        let part = |part: &str| format!("{name}.{part}");
        let (shape, values) = self.whole(&part("dw.weight"))?;
        let &[channels, 1, taps] = shape.as_slice() else {
            return None;
        };
        let mut down = self.linear(&part("pw2"))?;
        // What the block adds is weighed by channel.
        let gamma = self.row(&part("gamma"))?;
        down.bias *= &gamma;
        down.times = Some(gamma);
        Some(Block {
            taps: Array2::from_shape_fn((taps, channels), |(t, c)| values[c * taps + t]),
            bias: self.row(&part("dw.bias"))?,
            norm: self.norm(&part("norm"))?,
            up: self.linear(&part("pw1"))?,
            down,
        })
    }

    fn blocks(&mut self, name: &str, count: usize) -> Option<Vec<Block>> {
        (0..count)
            .map(|i| self.block(&format!("{name}.{i}")))
            .collect()
    }
}

/// A table of weights. Those of eight bits stay where they lie in the program, and are widened each time they are used: that
/// is cheap beside the product, and takes thirty megabytes less.
enum Weight {
    Whole(Array2<f32>),
    Eight {
        bytes: ArrayView2<'static, u8>,
        step: f32,
        zero: f32,
    },
}

struct Linear {
    weight: Weight,
    /// Each output so many times.
    times: Option<Array1<f32>>,
    bias: Array1<f32>,
}

impl Linear {
    fn run(&self, x: &Array2<f32>) -> Array2<f32> {
        let mut y = match &self.weight {
            Weight::Whole(weight) => x.dot(weight),
            Weight::Eight { bytes, step, zero } => {
                let wide = |b: &u8| (f32::from(b.cast_signed()) - zero) * step;
                x.dot(&bytes.map(wide))
            }
        };
        if let Some(times) = &self.times {
            y *= times;
        }
        y += &self.bias;
        y
    }
}

impl From<Conv> for Linear {
    fn from(conv: Conv) -> Self {
        conv.linear
    }
}

/// Each row made of the rows around it.
struct Conv {
    taps: usize,
    linear: Linear,
}

impl Conv {
    fn run(&self, x: &ArrayView2<f32>) -> Array2<f32> {
        let (rows, inputs) = x.dim();
        let before = self.taps / 2;
        let mut wide = Array2::zeros((rows, self.taps * inputs));
        for (tap, mut part) in wide.axis_chunks_iter_mut(Axis(1), inputs).enumerate() {
            let (to, from, count) = shift(rows, tap, before);
            part.slice_axis_mut(Axis(0), Slice::from(to..to + count))
                .assign(&x.slice_axis(Axis(0), Slice::from(from..from + count)));
        }
        self.linear.run(&wide)
    }
}

/// Which rows of a sequence a tap reads, and into which it goes: to, from, how many.
fn shift(rows: usize, tap: usize, before: usize) -> (usize, usize, usize) {
    if tap < before {
        let by = (before - tap).min(rows);
        (by, 0, rows - by)
    } else {
        let by = (tap - before).min(rows);
        (0, by, rows - by)
    }
}

struct Norm {
    weight: Array1<f32>,
    bias: Array1<f32>,
}

impl Norm {
    fn run(&self, mut x: Array2<f32>) -> Array2<f32> {
        for mut row in x.rows_mut() {
            let n = row.len() as f32;
            let mean = row.sum() / n;
            row -= mean;
            let spread = (row.dot(&row) / n + 1e-5).sqrt();
            row /= spread;
            row *= &self.weight;
            row += &self.bias;
        }
        x
    }
}

/// Rows around each row, by channel; then wide and narrow again; added to what was there.
struct Block {
    taps: Array2<f32>,
    bias: Array1<f32>,
    norm: Norm,
    up: Linear,
    down: Linear,
}

impl Block {
    fn run(&self, mut x: Array2<f32>) -> Array2<f32> {
        let rows = x.nrows();
        let mut y = Array2::zeros(x.dim());
        y += &self.bias;
        for (tap, weight) in self.taps.rows().into_iter().enumerate() {
            let (to, from, count) = shift(rows, tap, self.taps.nrows() / 2);
            for k in 0..count {
                y.row_mut(to + k)
                    .zip_mut_with(&(&x.row(from + k) * &weight), |a, b| *a += b);
            }
        }
        let mut wide = self.up.run(&self.norm.run(y));
        wide.mapv_inplace(gelu);
        x += &self.down.run(&wide);
        x
    }
}

/// Reads a row of sounds: what each is among the others.
struct Encoder {
    table: Array2<f32>,
    near: Vec<Block>,
    first_norm: Norm,
    look: Linear,
    merge: Linear,
    second_norm: Norm,
    up: Linear,
    down: Linear,
    last_norm: Norm,
    /// How often the one layer of attention is run.
    turns: usize,
}

/// Ways of looking, side by side.
const HEADS: usize = 2;

impl Encoder {
    fn take(w: &mut Weights, name: &str, turns: usize) -> Option<Self> {
        let part = |part: &str| format!("{name}.{part}");
        Some(Self {
            table: w.table(&part("emb.weight"))?,
            near: w.blocks(&part("convs"), 2)?,
            first_norm: w.norm(&part("attn.norm1"))?,
            look: Linear {
                weight: w.weight(&part("attn.self_attn.in_proj.weight"))?,
                times: None,
                bias: w.row(&part("attn.self_attn.in_proj_bias"))?,
            },
            merge: w.linear(&part("attn.self_attn.out_proj"))?,
            second_norm: w.norm(&part("attn.norm2"))?,
            up: w.linear(&part("attn.linear1"))?,
            down: w.linear(&part("attn.linear2"))?,
            last_norm: w.norm(&part("norm"))?,
            turns,
        })
    }

    fn run(&self, numbers: &[usize]) -> Array2<f32> {
        let mut x = self.table.select(Axis(0), numbers);
        for block in &self.near {
            x = block.run(x);
        }
        for _ in 0..self.turns {
            let seen = self.look(&self.first_norm.run(x.clone()));
            x += &self.merge.run(&seen);
            let mut wide = self.up.run(&self.second_norm.run(x.clone()));
            wide.mapv_inplace(gelu);
            x += &self.down.run(&wide);
        }
        self.last_norm.run(x)
    }

    fn look(&self, x: &Array2<f32>) -> Array2<f32> {
        let width = x.ncols();
        let each = width / HEADS;
        let all = self.look.run(x);
        let mut seen = Array2::zeros(x.dim());
        for head in 0..HEADS {
            let part = |kind: usize| {
                let at = kind * width + head * each;
                all.slice_axis(Axis(1), Slice::from(at..at + each))
            };
            let mut shares = part(0).dot(&part(1).t());
            shares /= (each as f32).sqrt();
            for mut row in shares.rows_mut() {
                let top = row.fold(f32::MIN, |a, b| a.max(*b));
                row.mapv_inplace(|v| (v - top).exp());
                let sum = row.sum();
                row /= sum;
            }
            let at = head * each;
            seen.slice_axis_mut(Axis(1), Slice::from(at..at + each))
                .assign(&shares.dot(&part(2)));
        }
        seen
    }
}

/// The bend of the network: x times the share of a normal distribution below x.
/// Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26: the error is below 1.5e-7.
fn gelu(x: f32) -> f32 {
    let z = x.abs() * std::f32::consts::FRAC_1_SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * z);
    let poly = t
        * (0.254_829_6
            + t * (-0.284_496_74 + t * (1.421_413_8 + t * (-1.453_152 + t * 1.061_405_4))));
    let above = 0.5 * poly * (-z * z).exp();
    x * if x < 0.0 { above } else { 1.0 - above }
}
