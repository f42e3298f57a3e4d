//! Audio that is no kitchen: silence, hiss, tones, clipping, an offset, clicks, through echo canceller, gate and
//! recogniser faster than it would be heard. `COMMIS_HOURS=10 cargo test --test all absurd` plays ten hours of it.

use commis::bench::{Bench, Effect, Event, Options};
use commis::hear::{Echo, Hearing, Hypothesis, RATE};
use commis::time::Moment;

use super::hearing::recogniser;
use super::rehearsal::formula;

/// A second of the `n`th sound. Every kind lasts ten seconds, louder and softer.
fn second(n: usize, counter: &mut u32) -> Vec<i16> {
    let mut chance = || {
        *counter = counter.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (*counter >> 8) as f32 / 8_388_608.0 - 1.0
    };
    let rate = RATE as f32;
    let loud = [0.003, 0.03, 0.3, 1.0][n % 4];
    let note = 110.0 * 2_f32.powf((n * 7 % 40) as f32 / 12.0);
    (0..RATE as usize)
        .map(|i| {
            let t = i as f32 / rate;
            let tone = |f: f32| (std::f32::consts::TAU * f * t).sin();
            let sample = match n / 10 % 9 {
                0 => 0.0,
                1 => loud * chance(),
                2 => loud * (tone(note) + 0.5 * tone(2.0 * note)) / 1.5,
                3 => 4.0 * chance(),
                4 => 0.7 + 0.3 * loud * chance(),
                5 => f32::from(i % 4000 == 0),
                6 => tone(50.0 + 4000.0 * t),
                7 => (3.0 * t * std::f32::consts::TAU).sin().abs() * loud * chance(),
                _ => tone(note).signum(),
            };
            (sample.clamp(-1.0, 1.0) * 32_767.0) as i16
        })
        .collect()
}

fn resident_mib() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux");
    let line = status.lines().find_map(|l| l.strip_prefix("VmRSS:"));
    line.and_then(|l| l.split_whitespace().next()?.parse::<f64>().ok())
        .expect("a number")
        / 1024.0
}

#[test]
fn hours_of_absurd_audio_neither_stop_it_nor_make_it_grow() {
    let hours: f64 = std::env::var("COMMIS_HOURS").map_or(0.025, |h| h.parse().expect("hours"));
    let formula = formula("lemon-shortbread");
    let mut hearing = Hearing::new(recogniser(&formula), "commis");
    let mut bench = Bench::new(formula, Options::default()).expect("as written");
    let mut echo = Echo::default();
    let seconds = (hours * 3600.0) as usize;
    let (mut counter, mut heard, mut orders, mut early) = (1, 0, 0, None);
    for n in 0..seconds {
        let audio = second(n, &mut counter);
        if n % 45 < 8 {
            echo.plays(&audio);
        }
        let over = echo.sounds();
        let ended = hearing.take(&echo.clean(&audio), over);
        heard += ended.len();
        orders += ended
            .iter()
            .filter_map(Hypothesis::heard)
            .flat_map(|h| bench.handle(&Event::Heard(h), Moment(n as u64 * 1000)))
            .filter(|effect| matches!(effect, Effect::Understood { .. }))
            .count();
        if n + 1 == seconds.min(90) {
            early = Some(resident_mib());
        }
    }
    let (early, late) = (early.expect("some seconds"), resident_mib());
    println!(
        "{seconds} s: {heard} utterances, {orders} taken for orders; {early:.0} MiB after a minute and a half, {late:.0} at the end"
    );
    assert!(late < early + 16.0, "{early} MiB grew to {late}");
    // Common practice, no source: less than one in five minutes even of this.
    assert!(
        orders <= seconds / 300 + 1,
        "{orders} orders in {seconds} s"
    );
}
