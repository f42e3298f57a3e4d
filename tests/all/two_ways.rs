//! Whole bakes of each shipped formula by voice alone and by keys alone come to the same.
//!
//! 'The same' is what the bench knows, after each order of the cook: the step and its amounts, what has gone in, the big
//! thing, every timer with its time and state, the size, whether a question waits. What differs is only the way in.

use std::collections::BTreeMap;

use commis::bench::{Effect, Options, View};
use commis::kitchen::{Act, Script, Stage};
use commis::time::Moment;

use super::rehearsal::{Rehearsal, formula, root};

/// Keeps the view after the last event of each moment.
#[derive(Default)]
struct Watch(BTreeMap<Moment, View>);

impl Stage for Watch {
    fn play(&mut self, _: &Effect, _: Moment) {}
    fn cook(&mut self, _: &[i16], _: Moment) {}
    fn seen(&mut self, view: &View, at: Moment) {
        self.0.insert(at, view.clone());
    }
}

/// The view without the way in: what was heard and said, and the keys.
pub fn known(view: &View) -> View {
    View {
        heard: None,
        said: String::new(),
        keys: Vec::new(),
        ..view.clone()
    }
}

fn script(name: &str, way: &str) -> (String, Script) {
    let path = root().join(format!("shared/rehearsals/{name}-by-{way}.txt"));
    let text = std::fs::read_to_string(&path).expect("a shipped rehearsal is there");
    let script = Script::read(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    (text, script)
}

fn same_both_ways(name: &str) {
    let (by_voice, voice) = script(name, "voice");
    let (by_keys, keys) = script(name, "keys");
    assert!(
        voice.lines.iter().all(|l| matches!(l.act, Act::Say(_))),
        "{name}: voice alone"
    );
    assert!(
        keys.lines.iter().all(|l| matches!(l.act, Act::Key(_))),
        "{name}: keys alone"
    );
    let (mut spoken, mut pressed) = (Watch::default(), Watch::default());
    let said = Rehearsal::play_on(formula(name), Options::default(), &by_voice, &mut spoken);
    let keyed = Rehearsal::play_on(formula(name), Options::default(), &by_keys, &mut pressed);
    let orders: Vec<Moment> = voice
        .lines
        .iter()
        .map(|l| Moment(l.at.as_millis()))
        .collect();
    assert!(
        orders.len() > 25,
        "{name}: a whole bake is more than {} orders",
        orders.len()
    );
    for (order, line) in orders.iter().zip(&voice.lines) {
        let (a, b) = (known(&spoken.0[order]), known(&pressed.0[order]));
        assert_eq!(
            a,
            b,
            "{name}: not the same after {:?} at {} s",
            line.act,
            order.0 / 1000
        );
    }
    for (r, way) in [(&said, "voice"), (&keyed, "keys")] {
        assert!(r.bench.is_over(), "{name} by {way}: the cook has left");
        assert!(
            r.said()
                .iter()
                .any(|s| s.starts_with("That was the last step.")),
            "{name} by {way}: to the last step"
        );
    }
    assert_eq!(said.bench.batch().factor(), keyed.bench.batch().factor());
    assert_eq!(said.chimes("cue"), keyed.chimes("cue"), "{name}: cues");
    assert_eq!(said.chimes("due"), keyed.chimes("due"), "{name}: alarms");
}

#[test]
fn a_loaf_by_voice_and_by_keys() {
    same_both_ways("seeded-tin-loaf");
}

#[test]
fn a_soup_by_voice_and_by_keys() {
    same_both_ways("vegetable-soup");
}

#[test]
fn a_shortbread_by_voice_and_by_keys() {
    same_both_ways("lemon-shortbread");
}
