//! A load cell and a cook, to try weighing without either.
//!
//! The cell follows the load as a damped spring does: it overshoots a sudden load by a twentieth and is within two percent of
//! it after 0.4 s. It trembles by 0.12 g (one standard deviation) and drifts by 0.3 g a minute, ten times a second it is read, in steps, and it is 'in motion' while
//! it changed by more than a step and a half in the last 0.3 s. Common practice for kitchen scales, no source.

use super::reading::{Reading, Status};
use crate::time::Moment;

/// Radians a second, and the damping: 4.5 % over, two percent after 0.4 s.
const SPRING: (f64, f64) = (14.0, 0.7);
const TREMBLES_G: f64 = 0.12;
const DRIFTS_G_A_MINUTE: f64 = 0.3;
/// Milliseconds of one step of the model.
const TICK_MS: u64 = 10;

/// Numbers as chance has them, the same every time.
#[derive(Debug, Clone, PartialEq)]
struct Chance(u64);

impl Chance {
    /// From 0 to 1.
    fn one(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// About normal, of deviation 1: the sum of twelve.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.one()).sum::<f64>() - 6.0
    }
}

/// A scale that is read ten times a second.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCell {
    step: f64,
    now: Moment,
    shown: f64,
    speed: f64,
    drift: f64,
    past: [f64; 3],
    chance: Chance,
}

impl LoadCell {
    /// How often it is read, in milliseconds.
    pub const EVERY_MS: u64 = 100;

    /// An empty scale of such a step, from a moment on.
    pub fn new(step: f64, from: Moment, seed: u64) -> Self {
        Self {
            step,
            now: from,
            shown: 0.0,
            speed: 0.0,
            drift: 0.0,
            past: [0.0; 3],
            chance: Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1),
        }
    }

    /// The moment of its last reading.
    pub fn now(&self) -> Moment {
        self.now
    }

    /// Time goes by in which nothing changes and nobody looks.
    pub fn skip_to(&mut self, now: Moment) {
        self.now = self.now.max(now);
    }

    /// The load has been lying there: nothing moves.
    pub fn rest_at(&mut self, grams: f64) {
        (self.shown, self.speed, self.past) = (grams, 0.0, [grams; 3]);
    }

    /// Until the next reading; `load` gives what lies on it at a moment.
    pub fn next(&mut self, mut load: impl FnMut(Moment) -> f64) -> (Moment, Reading) {
        let dt = TICK_MS as f64 / 1000.0;
        for _ in 0..Self::EVERY_MS / TICK_MS {
            self.now = Moment(self.now.0 + TICK_MS);
            let pull = SPRING.0 * SPRING.0 * (load(self.now) - self.shown)
                - 2.0 * SPRING.1 * SPRING.0 * self.speed;
            self.speed += pull * dt;
            self.shown += self.speed * dt;
        }
        let minute = Self::EVERY_MS as f64 / 60_000.0;
        self.drift += DRIFTS_G_A_MINUTE * minute;
        let exact = self.shown + self.drift + self.chance.normal() * TREMBLES_G;
        let grams = (exact / self.step).round() * self.step;
        let moves = (grams - self.past[0]).abs() > 1.5 * self.step;
        self.past.rotate_left(1);
        self.past[2] = grams;
        let status = match grams {
            _ if moves => Status::Moving,
            0.0 => Status::Zero,
            g if g < 0.0 => Status::UnderZero,
            _ => Status::Stable,
        };
        (self.now, Reading::grams(grams, self.step, status))
    }
}

/// A hand that pours: fast, slower when it hears that it is near, and not any more a little after it was told to stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Cook {
    target: f64,
    poured: f64,
    fast: f64,
    slow: f64,
    from: Moment,
    last: Moment,
    stop_at: Option<Moment>,
    near: bool,
    stopped: Option<Moment>,
    chance: Chance,
}

impl Cook {
    /// A hand that pours so many grams from a moment on, at so many grams a second.
    pub fn new(target: f64, fast: f64, slow: f64, from: Moment, seed: u64) -> Self {
        Self {
            target,
            poured: 0.0,
            fast,
            slow,
            from,
            last: from,
            stop_at: None,
            near: false,
            stopped: None,
            chance: Chance(seed.wrapping_mul(0xD134_2543_DE82_EF95) | 1),
        }
    }

    /// It hears what is called: `near` that little is to come, `there` that it is enough.
    pub fn hear(&mut self, near: bool, there: bool, now: Moment) {
        self.near |= near;
        if there && self.stop_at.is_none() {
            // From the ear to the hand: a fifth to a third of a second.
            let hand = 200.0 + 130.0 * self.chance.one();
            self.stop_at = Some(Moment(now.0 + hand as u64));
        }
    }

    /// What it has poured by a moment.
    pub fn poured(&mut self, now: Moment) -> f64 {
        let dt = now.since(self.last.max(self.from)).as_millis() as f64 / 1000.0;
        self.last = self.last.max(now);
        let done = self.stop_at.is_some_and(|at| now >= at) || self.poured > self.target * 1.5;
        if done {
            self.stopped.get_or_insert(now);
        } else if now > self.from {
            let near = self.near || self.target - self.poured < self.target * 0.12;
            let rate = if near { self.slow } else { self.fast };
            self.poured += rate * (0.7 + 0.6 * self.chance.one()) * dt;
        }
        self.poured
    }

    /// When the last gram fell.
    pub fn stopped(&self) -> Option<Moment> {
        self.stopped
    }
}
