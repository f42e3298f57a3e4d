//! A corpus line's situation, as a session would have it.

use commis::formula::Formula;
use commis::reader::{Printed, ReaderSituation};
use commis::understand::Lexicon;
use serde_json::Value;

/// The situation that stands in a line, and the names that can be said in it.
pub fn situated(line: &Value, formula: &Formula, lexicon: &Lexicon) -> (ReaderSituation, Lexicon) {
    let mut situation: ReaderSituation =
        serde_json::from_value(line["situation"].clone()).expect("a situation");
    situation.titles = formula.steps.iter().map(|s| s.title.clone()).collect();
    let step = situation.step.and_then(|s| formula.steps.get(s - 1));
    let offered = step.iter().flat_map(|s| &s.timers);
    situation.offered = offered.map(|t| t.name.clone()).collect();
    let timers = situation.timers.iter().map(|t| t.name.clone());
    let names = timers.chain(situation.rings.clone());
    let lexicon = lexicon.clone().with_timers((1..).zip(names));
    let asked = situation.asked.iter().flat_map(|a| &a.readings);
    let readings: Vec<_> = asked.filter_map(Printed::order).collect();
    if readings.is_empty() {
        return (situation, lexicon);
    }
    let lexicon = lexicon.with_choices(&readings);
    (situation, lexicon)
}
