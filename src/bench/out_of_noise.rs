//! Is it an order at all? Pots, water and machines fit some order now and then, a little better than they fit talk.

use super::event::Heard;
use crate::understand::AFTER;

/// How much better than talk an order must fit that was heard in noise: nats a word, and nats in all, where what a courtesy adds tells nothing ('skip now').
/// Chosen with both halves of the recordings in sight, and counted from what was heard before there was this rule: of 122 sounds of a kitchen with nobody
/// in it that fitted an order, this and the lack of a voice leave 15; of 102 on the other half 16. In two hours of that noise 5 were acted on before, and
/// none would be. Of 702 orders in the same noise, at 12 and 6 dB, by voices
/// and writers that nothing was made with, 6 fit no better (3 of 252 on the first half, 3 of 450 on the other), and all of those were asked back before.
const LEAST: (f32, f32) = (-2.0, -7.0);
/// What fits so much better, in nats a word, is no noise, however short it is.
const SHORT: f32 = -6.0;

impl Heard {
    /// It may as well have been the noise that it was heard in. `rival`: how much better talk fits.
    pub fn may_be_noise(&self, rival: f32) -> bool {
        let kept: Vec<&str> = self.text.split(' ').collect();
        let courtesies = kept.iter().rev().take_while(|word| AFTER.contains(word));
        let words = (kept.len() - courtesies.count()).max(1) as f32;
        let stands_out = rival <= SHORT || rival <= LEAST.0 && rival * words <= LEAST.1;
        self.in_noise && !self.over && (self.voiceless || !stands_out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_noise_fits_is_told_from_orders() {
        let heard = |text: &str, voiceless| Heard {
            in_noise: true,
            voiceless,
            ..Heard::spoken(text, 0.9)
        };
        // As they were measured: three sounds of a kitchen, two orders at 6 dB of its noise.
        assert!(heard("skip now", false).may_be_noise(-5.2));
        assert!(heard("cooking", false).may_be_noise(-4.4));
        assert!(heard("for nine", true).may_be_noise(-4.1));
        assert!(!heard("what's next", false).may_be_noise(-3.9));
        assert!(!heard("quiet now", false).may_be_noise(-6.4));
        let quiet = Heard::spoken("skip now", 0.9);
        assert!(!quiet.may_be_noise(-4.2));
    }
}
