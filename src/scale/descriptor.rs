//! The report descriptor of a HID device, item by item ('Device Class Definition for HID 1.11', 6.2.2).

/// No report of a scale has more bits than this.
const MOST_BITS: usize = 65_536;
/// No item of a scale's report has more usages, and no report more fields.
const MOST_USAGES: usize = 256;
/// How deep `Push` may go.
const DEEPEST: usize = 16;
/// The usage page of weighing devices.
pub(super) const PAGE: u32 = 0x8D;

/// One field of a report that the device sends.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    /// The report's id; 0 where reports have none.
    pub(super) id: u8,
    /// Where it begins, behind the id.
    pub(super) bit: usize,
    /// How wide it is.
    pub(super) bits: usize,
    /// The logical minimum: an array counts its usages from there.
    pub(super) min: i64,
    /// Usages with their page: one of a variable, all of an array.
    pub(super) usages: Vec<u32>,
    /// Its value says which of the usages holds.
    pub(super) array: bool,
}

/// All that is wanted of a descriptor.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Descriptor {
    /// Reports begin with their id.
    pub(super) numbered: bool,
    /// The usages of its collections, with their page.
    pub(super) collections: Vec<u32>,
    /// The fields that it sends.
    pub(super) fields: Vec<Field>,
    /// Bytes of its longest report, the id included.
    pub(super) longest: usize,
}

#[derive(Clone, Copy, Default)]
struct Global {
    page: u32,
    min: i64,
    size: usize,
    count: usize,
    id: u8,
}

#[derive(Default)]
struct Local {
    usages: Vec<u32>,
    from: Option<u32>,
}

impl Local {
    fn add(&mut self, usage: u32) {
        if self.usages.len() < MOST_USAGES {
            self.usages.push(usage);
        }
    }
}

impl Descriptor {
    /// Reads a descriptor; nothing where it is torn, or closes what was never opened.
    pub(super) fn read(bytes: &[u8]) -> Option<Self> {
        let mut out = Self::default();
        let (mut global, mut local, mut stack) = (Global::default(), Local::default(), Vec::new());
        let mut at = [0_usize; 256];
        let mut rest = bytes;
        while let Some((&head, after)) = rest.split_first() {
            if head == 0xFE {
                // A long item: its length, its tag, its data.
                rest = after.get(2 + usize::from(*after.first()?)..)?;
                continue;
            }
            let length = [0, 1, 2, 4][usize::from(head & 3)];
            let (data, after) = after.split_at_checked(length)?;
            rest = after;
            let raw = data.iter().rev().fold(0_u32, |a, b| a << 8 | u32::from(*b));
            let signed = match length {
                1 => i64::from(raw as u8 as i8),
                2 => i64::from(raw as u16 as i16),
                _ => i64::from(raw as i32),
            };
            let usage = if length == 4 {
                raw
            } else {
                (global.page & 0xFFFF) << 16 | raw
            };
            match head & 0xFC {
                0x04 => global.page = raw,
                0x14 => global.min = signed,
                0x74 => global.size = raw as usize,
                0x94 => global.count = raw as usize,
                0x84 => {
                    global.id = u8::try_from(raw).ok()?;
                    out.numbered = true;
                }
                0xA4 if stack.len() < DEEPEST => stack.push(global),
                0xB4 => global = stack.pop()?,
                0x08 => local.add(usage),
                0x18 => local.from = Some(usage),
                0x28 => {
                    let from = local.from.take().unwrap_or(usage);
                    for one in (from..=usage).take(MOST_USAGES) {
                        local.add(one);
                    }
                }
                0xA0 => {
                    if out.collections.len() < MOST_USAGES {
                        out.collections.extend(local.usages.last());
                    }
                    local = Local::default();
                }
                0x80 => {
                    let start = &mut at[usize::from(global.id)];
                    out.input(raw, &global, &local.usages, *start);
                    let bits = global.size.checked_mul(global.count)?;
                    *start = start.checked_add(bits).filter(|b| *b <= MOST_BITS)?;
                    local = Local::default();
                }
                0x90 | 0xB0 | 0xC0 => local = Local::default(),
                _ => {}
            }
        }
        let bytes = at.iter().max().map_or(0, |bits| bits.div_ceil(8));
        out.longest = bytes + usize::from(out.numbered);
        Some(out)
    }

    /// An input item: so many fields, of which padding is none.
    fn input(&mut self, flags: u32, global: &Global, usages: &[u32], start: usize) {
        let is_constant = flags & 1 == 1;
        if is_constant || usages.is_empty() || !(1..=32).contains(&global.size) {
            return;
        }
        let array = flags & 2 == 0;
        for at in 0..global.count.min(MOST_USAGES) {
            if self.fields.len() >= MOST_USAGES {
                return;
            }
            let own = usages.get(at).or(usages.last());
            self.fields.push(Field {
                id: global.id,
                bit: start + at * global.size,
                bits: global.size,
                min: global.min,
                usages: if array {
                    usages.to_vec()
                } else {
                    own.into_iter().copied().collect()
                },
                array,
            });
        }
    }
}

impl Field {
    /// Its value in a report, behind the id; nothing where the report is too short.
    pub(super) fn value(&self, body: &[u8]) -> Option<i64> {
        let mut value = 0_i64;
        for k in 0..self.bits {
            let at = self.bit + k;
            value |= i64::from(body.get(at / 8)? >> (at % 8) & 1) << k;
        }
        let negative = self.min < 0 && value >> (self.bits - 1) & 1 == 1;
        Some(if negative {
            value - (1 << self.bits)
        } else {
            value
        })
    }

    /// Which usage of an array holds.
    pub(super) fn usage(&self, body: &[u8]) -> Option<u32> {
        let at = self.value(body)?.checked_sub(self.min)?;
        self.usages.get(usize::try_from(at).ok()?).copied()
    }
}
