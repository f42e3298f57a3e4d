//! The network: two layers of attention over wordpieces, in plain arithmetic. The same input gives the same output.

use std::collections::HashMap;

use serde::Deserialize;

use super::input::Features;

/// What the network makes of an input.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Output {
    /// Every frame's probability.
    pub(super) frames: Vec<f32>,
    /// For each word, the slot that it fills; empty for none.
    pub(super) slots: Vec<String>,
}

#[derive(Debug, Deserialize)]
struct Header {
    width: usize,
    heads: usize,
    layers: usize,
    longest: usize,
    pieces: Vec<String>,
    frames: Vec<String>,
    slots: Vec<String>,
    tags: Vec<String>,
    facts: Vec<String>,
    tensors: Vec<(String, usize, usize)>,
}

/// Rows of whole numbers of eight bits, each with its scale; or one row of numbers as they are.
#[derive(Debug)]
struct Matrix {
    columns: usize,
    scales: Vec<f32>,
    cells: Vec<i8>,
    plain: Vec<f32>,
}

impl Matrix {
    fn add_row(&self, row: usize, to: &mut [f32]) {
        let scale = self.scales[row];
        let cells = &self.cells[row * self.columns..(row + 1) * self.columns];
        for (x, c) in to.iter_mut().zip(cells) {
            *x += scale * f32::from(*c);
        }
    }

    fn times(&self, x: &[f32], bias: &[f32]) -> Vec<f32> {
        self.cells
            .chunks_exact(self.columns)
            .zip(&self.scales)
            .zip(bias)
            .map(|((row, scale), bias)| {
                // Eight sums side by side, so that the compiler can keep them in one register.
                let mut sums = [0.0_f32; 8];
                for (xs, cs) in x.chunks_exact(8).zip(row.chunks_exact(8)) {
                    for k in 0..8 {
                        sums[k] += xs[k] * f32::from(cs[k]);
                    }
                }
                bias + scale * sums.iter().sum::<f32>()
            })
            .collect()
    }
}

/// The trained network with its names.
#[derive(Debug)]
pub(super) struct Net {
    header: Header,
    pieces: HashMap<String, usize>,
    tags: HashMap<String, usize>,
    facts: HashMap<String, usize>,
    tensors: HashMap<String, Matrix>,
}

impl Net {
    /// Reads what training wrote; nothing for anything else.
    pub(super) fn read(bytes: &[u8]) -> Option<Self> {
        let bytes = bytes.strip_prefix(b"READER01")?;
        let (length, rest) = bytes.split_first_chunk::<4>()?;
        let (head, mut body) = rest.split_at_checked(u32::from_le_bytes(*length) as usize)?;
        let header: Header = serde_json::from_slice(head).ok()?;
        let mut tensors = HashMap::new();
        for (name, rows, columns) in &header.tensors {
            let floats = |bytes: &[u8]| {
                bytes
                    .chunks_exact(4)
                    .map(|b| f32::from_le_bytes([b[0], b[1], b[2], b[3]]))
                    .collect()
            };
            let mut matrix = Matrix {
                columns: *columns,
                scales: Vec::new(),
                cells: Vec::new(),
                plain: Vec::new(),
            };
            if *rows == 1 {
                let (own, after) = body.split_at_checked(4 * columns)?;
                matrix.plain = floats(own);
                body = after;
            } else {
                let (scales, after) = body.split_at_checked(4 * rows)?;
                let (cells, after) = after.split_at_checked(rows * columns)?;
                matrix.scales = floats(scales);
                matrix.cells = cells.iter().map(|b| i8::from_le_bytes([*b])).collect();
                body = after;
            }
            tensors.insert(name.clone(), matrix);
        }
        let numbered = |names: &[String]| names.iter().cloned().zip(0..).collect();
        Some(Self {
            pieces: numbered(&header.pieces),
            tags: numbered(&header.tags),
            facts: numbered(&header.facts),
            tensors,
            header,
        })
    }

    /// The names of the frames, in the order of their probabilities.
    pub(super) fn frames(&self) -> &[String] {
        &self.header.frames
    }

    fn matrix(&self, name: &str) -> &Matrix {
        &self.tensors[name]
    }

    fn linear(&self, name: &str, x: &[f32]) -> Vec<f32> {
        self.matrix(&format!("{name}.weight"))
            .times(x, &self.matrix(&format!("{name}.bias")).plain)
    }

    fn norm(&self, name: &str, x: &[f32]) -> Vec<f32> {
        let n = x.len() as f32;
        let mean = x.iter().sum::<f32>() / n;
        let spread = (x.iter().map(|v| (v - mean).powi(2)).sum::<f32>() / n + 1e-5).sqrt();
        let (weight, bias) = (
            &self.matrix(&format!("{name}.weight")).plain,
            &self.matrix(&format!("{name}.bias")).plain,
        );
        x.iter()
            .zip(weight)
            .zip(bias)
            .map(|((v, w), b)| (v - mean) / spread * w + b)
            .collect()
    }

    /// The wordpieces of a word, the longest first.
    fn cut(&self, word: &str) -> Vec<usize> {
        const UNKNOWN: usize = 1;
        let mut out = Vec::new();
        for part in word.split(' ') {
            let before = out.len();
            let mut at = 0;
            while at < part.len() {
                let found = (at + 1..=part.len())
                    .rev()
                    .filter(|end| part.is_char_boundary(*end))
                    .find_map(|end| {
                        let piece = if at == 0 {
                            part[..end].to_owned()
                        } else {
                            format!("##{}", &part[at..end])
                        };
                        self.pieces.get(&piece).map(|id| (end, *id))
                    });
                let Some((end, id)) = found else {
                    out.truncate(before);
                    out.push(UNKNOWN);
                    break;
                };
                out.push(id);
                at = end;
            }
        }
        if out.is_empty() {
            out.push(UNKNOWN);
        }
        out
    }

    /// Runs the network.
    pub(super) fn run(&self, input: &Features) -> Output {
        const OPENING: usize = 2;
        let width = self.header.width;
        let mut rows: Vec<Vec<f32>> = vec![vec![0.0; width]];
        self.matrix("emb.weight").add_row(OPENING, &mut rows[0]);
        for fact in input.facts.iter().filter_map(|f| self.facts.get(f)) {
            self.matrix("facts").add_row(*fact, &mut rows[0]);
        }
        let mut first = Vec::new();
        for (word, tags) in input.words.iter().zip(&input.tags) {
            first.push(rows.len().min(self.header.longest - 1));
            for piece in self.cut(word) {
                let mut row = vec![0.0; width];
                self.matrix("emb.weight").add_row(piece, &mut row);
                for tag in tags.iter().filter_map(|t| self.tags.get(t)) {
                    self.matrix("tags").add_row(*tag, &mut row);
                }
                rows.push(row);
            }
        }
        rows.truncate(self.header.longest);
        for (place, row) in rows.iter_mut().enumerate() {
            self.matrix("place").add_row(place, row);
        }
        for layer in 0..self.header.layers {
            self.layer(layer, &mut rows);
        }
        let rows: Vec<Vec<f32>> = rows.iter().map(|r| self.norm("norm", r)).collect();
        let mut pooled = rows[0].clone();
        pooled
            .extend((0..width).map(|k| rows.iter().map(|r| r[k]).sum::<f32>() / rows.len() as f32));
        pooled.extend((0..width).map(|k| rows.iter().map(|r| r[k]).fold(f32::MIN, f32::max)));
        let frames = softmax(&self.linear("frame", &pooled));
        let slots = first
            .iter()
            .map(|at| {
                let both: Vec<f32> = rows[(*at).min(rows.len() - 1)]
                    .iter()
                    .chain(&rows[0])
                    .copied()
                    .collect();
                let scores = self.linear("slot", &both);
                let best = (0..scores.len())
                    .fold(0, |best, k| if scores[k] > scores[best] { k } else { best });
                self.header.slots[best].clone()
            })
            .collect();
        Output { frames, slots }
    }

    fn layer(&self, layer: usize, rows: &mut [Vec<f32>]) {
        let name = |part: &str| format!("layers.{layer}.{part}");
        let (width, heads) = (self.header.width, self.header.heads);
        let each = width / heads;
        let qkv: Vec<Vec<f32>> = rows
            .iter()
            .map(|r| self.linear(&name("qkv"), &self.norm(&name("n1"), r)))
            .collect();
        let scale = 1.0 / (each as f32).sqrt();
        for (row, mine) in rows.iter_mut().zip(&qkv) {
            let mut mixed = vec![0.0; width];
            for head in 0..heads {
                let (q, k, v) = (head * each, width + head * each, 2 * width + head * each);
                let scores: Vec<f32> = qkv
                    .iter()
                    .map(|other| dot(&mine[q..q + each], &other[k..k + each]) * scale)
                    .collect();
                for (share, other) in softmax(&scores).iter().zip(&qkv) {
                    for (to, from) in mixed[q..q + each].iter_mut().zip(&other[v..v + each]) {
                        *to += share * from;
                    }
                }
            }
            add(row, &self.linear(&name("out"), &mixed));
            let mut inner = self.linear(&name("up"), &self.norm(&name("n2"), row));
            for x in &mut inner {
                *x = x.max(0.0);
            }
            add(row, &self.linear(&name("down"), &inner));
        }
    }
}

fn add(to: &mut [f32], from: &[f32]) {
    to.iter_mut().zip(from).for_each(|(a, b)| *a += b);
}

fn dot(a: &[f32], b: &[f32]) -> f32 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn softmax(scores: &[f32]) -> Vec<f32> {
    let top = scores.iter().copied().fold(f32::MIN, f32::max);
    let powers: Vec<f32> = scores.iter().map(|s| (s - top).exp()).collect();
    let sum: f32 = powers.iter().sum();
    powers.iter().map(|p| p / sum).collect()
}
