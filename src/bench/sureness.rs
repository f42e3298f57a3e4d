//! How sure a hearing is of its meaning: several wordings of one thing are one thing, and everyday talk may fit better.

use super::Bench;
use super::dialogue::is_stop;
use super::event::Heard;
use super::options::Attention;
use super::pending::{Pending, look_of};
use super::weighed::{Trust, Weighed};
use crate::order::Order;
use crate::understand::{Understood, parse, reading};

/// How far the order must fit better than talk does, in nats a word: above the first it is asked about, above the second
/// it is talk.
const OPEN: (f32, f32) = (-2.5, -1.5);
/// The same after the name, which is no word of everyday talk: of 213 orders that began with it, by natural voices in up to 6 dB of noise,
/// all fitted 2.5 nats a word better, 'come forward' 1.7.
const NAMED: (f32, f32) = (-2.5, -2.0);
/// The same without it where the cook is known to speak to it.
const SPOKEN_TO: (f32, f32) = (-1.0, 1.0);
/// An order that anybody may have said and that fits less than this much better must be this sure.
const CLEAR: (f32, f32) = (-4.0, 0.95);

impl Bench {
    /// What it means, by the weight of its readings.
    pub fn weighed(&self, heard: &Heard) -> Weighed {
        let understood = self.meant(parse(&heard.text, self.lexicon()));
        let understood = self.as_choice(understood, &heard.text);
        let understood = self.one_wanted_here(understood, &heard.text);
        Weighed::of(heard, understood, self.lexicon())
    }

    /// Is it sure enough to act on?
    pub(super) fn trust(&self, heard: &Heard, weighed: &Weighed) -> Trust {
        if heard.typed {
            return Trust::Act;
        }
        if weighed.sure < self.options.reject_below {
            return Trust::Ignore;
        }
        let is_called = self.is_called(heard);
        let anybody = self.may_be_anybody(heard);
        let order = match &weighed.understood {
            Understood::Order(order) => Some(order),
            _ => None,
        };
        // The end of a sentence that was talk is talk, and an answer to nothing was meant for somebody else.
        if anybody
            && (heard.follows_talk || order.is_some_and(Order::is_answer) && self.asks_nothing())
        {
            return Trust::Ignore;
        }
        let (ask_above, talk_above) = if is_called {
            NAMED
        } else if anybody {
            OPEN
        } else {
            SPOKEN_TO
        };
        // Talk of the same meaning tells nothing against it.
        let talk = || reading(heard.talk.as_deref()?, self.lexicon());
        let rival = match heard.rival {
            Some(rival) if order.is_none() || talk().as_ref() != order => rival,
            _ => f32::NEG_INFINITY,
        };
        // Where it has just spoken somebody may answer: a question does no harm then.
        let may_be_noise = anybody && self.asks_nothing() && heard.may_be_noise(rival);
        if may_be_noise && !self.dialogue.spoke_lately(self.now) {
            return Trust::Ignore;
        }
        let harmless = order.is_some_and(|i| is_stop(i) || matches!(i, Order::Repeat { .. }));
        if rival > talk_above {
            Trust::Ignore
        } else if !harmless
            && (may_be_noise
                || rival > ask_above
                || weighed.sure < self.options.doubt_below
                || anybody && rival > CLEAR.0 && weighed.sure < CLEAR.1
                || order.is_some_and(|i| self.is_alike(i, weighed)))
        {
            Trust::Ask
        } else {
            Trust::Act
        }
    }

    /// It may have been said to somebody else: nothing tells that it was said to the program.
    pub(super) fn may_be_anybody(&self, heard: &Heard) -> bool {
        let is_awaited = matches!(
            self.dialogue.question(),
            Some(Pending::Which { .. } | Pending::Confirm { .. })
        );
        self.options.attention == Attention::Open && !self.is_called(heard) && !is_awaited
    }

    /// Nothing of the program's waits for an answer.
    fn asks_nothing(&self) -> bool {
        self.dialogue.question().is_none()
            && self.rack.ringing().is_empty()
            && look_of(&self.rack.live(self.now)).is_none()
    }

    /// Fifteen and fifty, tea and table spoons, grams and kilograms are heard for one another.
    fn is_alike(&self, order: &Order, weighed: &Weighed) -> bool {
        // The answer to just that question is not asked about again.
        let answers = matches!(self.dialogue.question(), Some(Pending::Which { readings, .. }) if readings.contains(order));
        !answers && weighed.sounds_alike()
    }
}
