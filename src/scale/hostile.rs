//! Faulty and hostile scales: nothing that they show is ever taken for an ingredient that is in.

use super::tests::NUMBERED;
use super::*;
use crate::time::Moment;

struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 16) % n
    }
    fn one(&mut self) -> f64 {
        self.below(1 << 30) as f64 / (1_u64 << 30) as f64
    }
}

fn report(status: u8, unit: u8, scaling: i8, grams: f64) -> Vec<u8> {
    let count = grams.abs().round().min(65_535.0) as u16;
    let [low, high] = count.to_le_bytes();
    vec![3, status, unit, scaling as u8, low, high]
}

const STABLE: u8 = 4;
const MOVING: u8 = 3;

/// What a broken or hostile scale shows at its `k`th report, on which a bowl of 300 g stands; `t` is what would be right.
fn shows(kind: u64, k: u64, t: f64, own: f64, dice: &mut Dice) -> Vec<u8> {
    let right = 300.0 + t;
    // It says for a while what is there, and then begins.
    if k < 12 {
        return report(STABLE, 2, 0, 300.0);
    }
    match kind {
        // It jumps to what is right, and stands.
        0 => report(STABLE, 2, 0, right),
        // It jumps away and there, again and again.
        1 => report(
            STABLE,
            2,
            0,
            if (k / (3 + (own * 9.0) as u64)).is_multiple_of(2) {
                right
            } else {
                300.0 + own * 900.0
            },
        ),
        // It drifts there.
        2 => report(
            STABLE,
            2,
            0,
            300.0 + (k as f64 * (0.02 + own * 0.07)).min(t),
        ),
        // It says that it moves, for ever.
        3 => report(MOVING, 2, 0, 300.0 + (k as f64 * 4.0).min(t)),
        // It shows the right number and says that it cannot weigh, is under zero or over the limit.
        4 => report([1, 5, 6, 7, 8][(own * 5.0) as usize % 5], 2, 0, right),
        // It shows the right number in another unit.
        5 => report(
            if k < 20 { MOVING } else { STABLE },
            [1, 3, 4, 5, 6, 7, 10, 11, 12][(own * 9.0) as usize % 9],
            0,
            right,
        ),
        // The right weight after all, but set to another unit in the middle.
        6 => {
            let ounces = (300.0 + (k as f64 * 4.0).min(t)) / 28.349_523_125;
            if k < 20 {
                report(MOVING, 2, 0, 300.0 + k as f64 * 4.0)
            } else {
                report(STABLE, 11, -2, ounces * 100.0)
            }
        }
        // It bounces around what is right.
        7 => {
            let off = (8.0 + own * 40.0) * (k as f64 * 1.3).sin();
            report(
                if k.is_multiple_of(3) { STABLE } else { MOVING },
                2,
                0,
                right + off,
            )
        }
        // Chance.
        8 => (0..dice.below(12)).map(|_| dice.below(256) as u8).collect(),
        // Chance, as far as a report may have it.
        9 => report(
            1 + dice.below(8) as u8,
            1 + dice.below(12) as u8,
            dice.below(256) as u8 as i8,
            dice.one() * 2_000.0,
        ),
        // Torn, doubled and foreign reports among those of a jump.
        10 => {
            let mut bytes = report(STABLE, 2, 0, right);
            match dice.below(4) {
                0 => bytes.truncate(dice.below(6) as usize),
                1 => bytes[0] = dice.below(256) as u8,
                2 => bytes.extend_from_within(..),
                _ => {}
            }
            bytes
        }
        // A large step and a small one, and then it stands.
        11 => match k {
            12 => report(STABLE, 2, 0, 303.0),
            _ => report(STABLE, 2, 0, right),
        },
        // It stands and trembles more than it should.
        12 => report(STABLE, 2, 0, right + (dice.one() - 0.5) * 14.0),
        // A hand leans on it now and then.
        13 => report(
            if k % 40 < 12 { MOVING } else { STABLE },
            2,
            0,
            if k % 40 < 6 {
                right + own * 50.0
            } else {
                300.0
            },
        ),
        // It stays behind where it was, whatever it says.
        _ => report(
            [STABLE, MOVING, 2][(k % 3) as usize],
            2,
            0,
            300.0 + own * (t * 0.9),
        ),
    }
}

#[test]
fn ten_thousand_faulty_and_hostile_sequences_check_nothing_off() {
    let mut asked = 0;
    for seed in 0..10_500_u64 {
        let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        let kind = seed % 15;
        let targets = [500.0, 320.0, 150.0, 60.0, 25.0, 10.0];
        // A spoonful of ten grams does as kind 11 does.
        let small = if kind == 11 { 5 } else { 6 };
        let grams = targets[dice.below(small) as usize];
        let own = dice.one();
        let mut decoder = ReportDecoder::new(Layout::read(NUMBERED).expect("a scale"));
        let mut pour = Pour::default();
        pour.aim(
            Some(Target {
                grams,
                tolerance: tolerance(grams, 1.0, false),
                pieces: false,
                bare: false,
            }),
            None,
            Moment(0),
        );
        let mut at = Moment(0);
        for k in 0..200 {
            let report = shows(kind, k, grams, own, &mut dice);
            // Clocks stand still and go back, too.
            at = match dice.below(40) {
                0 if kind >= 8 => Moment(at.0.saturating_sub(dice.below(500))),
                _ => Moment(at.0 + 100),
            };
            let Some(reading) = decoder.reading(&report) else {
                continue;
            };
            for news in pour.take(&reading, Calls::Both, at) {
                assert!(
                    !matches!(news, WeightNews::In { .. }),
                    "kind {kind}, seed {seed}, {grams} g at {k}: {news:?}"
                );
                asked += usize::from(matches!(news, WeightNews::Unclear { .. }));
            }
        }
    }
    println!("10,500 sequences of 200 reports; asked about {asked} times");
}

/// Hours of a load that nobody pours: it drifts, trembles, is leant on and bumped.
#[test]
fn hours_of_noise_check_nothing_off() {
    let mut dice = Dice(77);
    let mut pour = Pour::default();
    let target = Target {
        grams: 10.0,
        tolerance: tolerance(10.0, 1.0, false),
        pieces: false,
        bare: false,
    };
    pour.aim(Some(target), None, Moment(0));
    let mut load = 412.0;
    for k in 0..36_000_u64 * 3 {
        load += (dice.one() - 0.49) * 0.02;
        let leant = k % 700 < 5;
        let shown = load + (dice.one() - 0.5) * 0.6 + if leant { dice.one() * 200.0 } else { 0.0 };
        let status = if leant {
            Status::Moving
        } else {
            Status::Stable
        };
        let reading = Reading::grams(shown.round(), 1.0, status);
        for news in pour.take(&reading, Calls::Both, Moment(k * 100)) {
            assert!(
                !matches!(news, WeightNews::In { .. }),
                "{news:?} after {} s",
                k / 10
            );
        }
    }
}
