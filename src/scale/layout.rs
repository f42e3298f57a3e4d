//! Where a weighing device puts what in its reports (USB-IF, 'HID Point of Sale Usage Tables', page 0x8D; the numbers of
//! the usages are from memory (m), as are the layouts in the tests).

use super::descriptor::{Descriptor, Field, PAGE};
use super::reading::{Reading, Status, WeightUnit};

const DATA_WEIGHT: u32 = PAGE << 16 | 0x40;
const DATA_SCALING: u32 = PAGE << 16 | 0x41;
const FIRST_UNIT: u32 = PAGE << 16 | 0x51;
const FIRST_STATUS: u32 = PAGE << 16 | 0x71;
/// Powers of ten that a scale can have.
const SCALING: std::ops::RangeInclusive<i8> = -9..=6;

/// Where a weighing device puts what.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    numbered: bool,
    longest: usize,
    weight: Field,
    scaling: Option<Field>,
    unit: Option<Field>,
    status: Option<Field>,
}

impl Layout {
    /// Reads a report descriptor; nothing when this is no weighing device.
    pub fn read(descriptor: &[u8]) -> Option<Self> {
        let read = Descriptor::read(descriptor)?;
        read.collections
            .iter()
            .any(|usage| usage >> 16 == PAGE)
            .then_some(())?;
        let find = |from: u32, to: u32| {
            let has = |f: &&Field| f.usages.iter().any(|u| (from..=to).contains(u));
            read.fields.iter().find(has).cloned()
        };
        Some(Self {
            numbered: read.numbered,
            longest: read.longest,
            weight: find(DATA_WEIGHT, DATA_WEIGHT).filter(|f| !f.array)?,
            scaling: find(DATA_SCALING, DATA_SCALING).filter(|f| !f.array),
            unit: find(FIRST_UNIT, FIRST_UNIT + 11).filter(|f| f.array),
            status: find(FIRST_STATUS, FIRST_STATUS + 7).filter(|f| f.array),
        })
    }

    /// Bytes of its longest report.
    pub fn longest(&self) -> usize {
        self.longest
    }
}

/// Reads reports. What a device tells in reports of its own, as some do with the status, is kept for the next weight.
#[derive(Debug, Clone)]
pub struct ReportDecoder {
    layout: Layout,
    status: Status,
    unit: WeightUnit,
    scaling: i8,
}

/// The field, where it stands in the report of this number.
fn here(field: Option<&Field>, id: u8) -> Option<&Field> {
    field.filter(|f| f.id == id)
}

impl ReportDecoder {
    /// A decoder for such a device.
    pub fn new(layout: Layout) -> Self {
        Self {
            layout,
            status: Status::Unsaid,
            unit: WeightUnit::Gram,
            scaling: 0,
        }
    }

    /// A report as hidraw gives it; nothing where it has no weight, is too short, or says what the tables do not have.
    pub fn reading(&mut self, report: &[u8]) -> Option<Reading> {
        let (id, body) = if self.layout.numbered {
            let (id, body) = report.split_first()?;
            (*id, body)
        } else {
            (0, report)
        };
        if let Some(field) = here(self.layout.status.as_ref(), id) {
            let at = field.usage(body)?.checked_sub(FIRST_STATUS)?;
            self.status = *Status::IN_ORDER.get(at as usize)?;
        }
        if let Some(field) = here(self.layout.unit.as_ref(), id) {
            let at = field.usage(body)?.checked_sub(FIRST_UNIT)?;
            self.unit = *WeightUnit::IN_ORDER.get(at as usize)?;
        }
        if let Some(field) = here(self.layout.scaling.as_ref(), id) {
            // Eight bits, and often declared without a sign: 0xFF is -1 all the same.
            let scaling = field.value(body)? as u8 as i8;
            self.scaling = Some(scaling).filter(|s| SCALING.contains(s))?;
        }
        let count = here(Some(&self.layout.weight), id)?.value(body)? as f64;
        let step = 10_f64.powi(i32::from(self.scaling));
        let reading = Reading::of(count * step, step, self.unit, self.status);
        reading.is_sane().then_some(reading)
    }
}
