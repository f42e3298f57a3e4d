//! The journal of a live session: begun, or taken up where it was.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use serde_json::Value;

use super::trouble::Trouble;
use crate::bench::{Bench, Beside, Chime, DishId, Effect, Event, Options};
use crate::formula::Formula;
use crate::journal::{
    self, Clock, Entry, Header, Journal, JournalError, Note, Readings, Reopened, Scribe,
    Unfinished, UnfinishedState,
};
use crate::measure::words;
use crate::time::Moment;

/// So many lines of one journal may be set aside; after that it is given up.
const MOST_ASIDE: usize = 20;
/// So many other sessions that wait are told.
const MOST_OTHERS: usize = 3;

/// What the cook asked for.
pub(super) struct Wanted {
    /// Where the formula is, or was.
    pub path: String,
    /// The formula and its file's text, if it can be read.
    pub formula: Result<(Formula, String), Trouble>,
    pub options: Options,
    /// Begin anew.
    pub fresh: bool,
}

/// What a session begins with.
pub(super) struct Memory {
    /// The bench, with all that happened before.
    pub bench: Bench,
    /// What ended on a look just before the stop, for the bake log.
    pub took: Vec<(Moment, Effect)>,
    pub clock: Clock,
    /// When it began, in Unix milliseconds.
    pub began_ms: i64,
    /// For how long it was away in milliseconds, where it is taken up again.
    pub away_ms: Option<u64>,
    pub journal: Option<Scribe>,
    /// Why nothing can be written down.
    pub trouble: Option<String>,
    /// What the cook should be told: whole sentences.
    pub notes: Vec<String>,
    /// The text of the formula, where it was edited while the session waited: it goes on by that.
    pub edited: Option<String>,
    /// The dishes that the cook named besides, in a session that is taken up.
    pub besides: Vec<Beside>,
}

impl Memory {
    /// Begins a session, or takes up the unfinished one of the formula unless it is to be fresh.
    pub(super) fn open(
        folder: Result<PathBuf, JournalError>,
        wanted: Wanted,
        readings: &Readings,
    ) -> Result<Self, Trouble> {
        let mut notes = Vec::new();
        let mut trouble = None;
        let folder = match folder {
            Ok(folder) => Some(folder),
            Err(e) => {
                trouble = Some(e.spoken().to_owned());
                None
            }
        };
        let found = folder
            .as_deref()
            .map(|folder| find(folder, &wanted, &mut notes));
        let mine = found.and_then(|found| match found {
            Ok(mine) => mine,
            Err(e) => {
                trouble = Some(e.spoken().to_owned());
                None
            }
        });
        if let Some(found) = mine {
            match take_up(&found, &wanted, readings, notes.clone()) {
                Ok(Some(memory)) => return Ok(memory),
                Ok(None) => notes
                    .push("You had said goodbye before I stopped, so we begin anew.".to_owned()),
                Err(e) => trouble = Some(e.spoken().to_owned()),
            }
        }
        let (formula, text) = wanted.formula?;
        let settings = serde_json::to_value(&wanted.options).unwrap_or_default();
        let bench = Bench::new(formula, wanted.options).map_err(Trouble::input)?;
        let header = Header::new(&wanted.path, &text, settings, readings);
        let journal = folder.map(|folder| {
            journal::prune(&folder, std::time::SystemTime::now());
            // An old session that cannot be taken up does not keep this one from being written down.
            notes.extend(trouble.take());
            match Journal::create(&folder, &header) {
                Ok(journal) => Scribe::start(journal),
                Err(e) => {
                    trouble = Some(e.spoken().to_owned());
                    Scribe::later(folder, header)
                }
            }
        });
        Ok(Self {
            bench,
            took: Vec::new(),
            clock: Clock::begin(readings),
            began_ms: readings.wall.unix_ms,
            away_ms: None,
            journal,
            trouble,
            notes,
            edited: None,
            besides: Vec::new(),
        })
    }
}

/// The newest unfinished session of the formula that is wanted; the others, and what is no journal, are told.
fn find(
    folder: &Path,
    wanted: &Wanted,
    notes: &mut Vec<String>,
) -> Result<Option<Unfinished>, JournalError> {
    let text = wanted.formula.as_ref().ok().map(|(_, text)| text.as_str());
    let is_mine = |header: &Header| {
        header.formula_path == wanted.path
            || besides_of(header).iter().any(|beside| beside.path == wanted.path)
            // The file has another name now.
            || text.is_some_and(|t| !header.formula_changed(t))
                && !Path::new(&header.formula_path).exists()
    };
    let (mut mine, mut others) = (Vec::new(), Vec::new());
    for found in Journal::unfinished(folder)? {
        match &found.state {
            UnfinishedState::Ready { header, .. } if is_mine(header) => mine.push(found),
            UnfinishedState::Ready { .. } => others.push(found),
            UnfinishedState::Busy => notes.push(
                "Another session is cooking at this moment; this one keeps a journal of its own."
                    .to_owned(),
            ),
            UnfinishedState::Unreadable { .. } => {
                // Put aside, so that it is told once.
                if Journal::abandon(&found).is_ok() {
                    notes.push(
                        "I can't read my notes of an earlier session, so I put them aside."
                            .to_owned(),
                    );
                }
            }
            UnfinishedState::Newer => notes.push(
                "A newer version of me has a session that is not finished, so I leave it to that."
                    .to_owned(),
            ),
            UnfinishedState::Foreign => {
                let name = found.path.file_name().unwrap_or_default().to_string_lossy();
                notes.push(format!(
                    "{name} among my notes is not mine, so I leave it alone."
                ));
            }
        }
    }
    if wanted.fresh {
        mine.iter().try_for_each(Journal::abandon)?;
        mine.clear();
    }
    let rest = mine.iter().skip(1).chain(&others);
    notes.extend(rest.take(MOST_OTHERS).filter_map(waiting_words));
    Ok(mine.into_iter().next())
}

/// `There is an unfinished vegetable soup, with one timer running.`
fn waiting_words(found: &Unfinished) -> Option<String> {
    let bench = bench_of(&found.path)?;
    if bench.is_over() {
        return None;
    }
    let (first, _) = bench.formula_of(DishId::default())?;
    let name = first.name.to_lowercase();
    let timers = bench.rack().live_count();
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    let running = match timers {
        0 => String::new(),
        1 => ", with a timer running".to_owned(),
        n => format!(", with {} timers running", words::cardinal(n as u64)),
    };
    Some(format!(
        "There is {article} {name} that is not finished{running}. Start me with it to go on."
    ))
}

/// The bench of a session as its journal tells it, where it can be played to its end; nothing of the file is changed, so that
/// a session that goes on is not disturbed.
pub(super) fn bench_of(path: &Path) -> Option<Bench> {
    let bytes = std::fs::read(path).ok()?;
    let (header, entries) = journal::contents(&bytes, path).ok()?;
    let formula = crate::formula::read(&header.formula_path, &header.formula_text).ok()?;
    let options = options_of(&header.settings, &mut Vec::new());
    let folded = fold(&formula, &options, &entries).ok()?;
    Some(folded.0)
}

/// What a replay shows: the bench, what ended on a look, and words that mean nothing here.
type Folded = (Bench, Vec<(Moment, Effect)>, Vec<String>);

/// Tells a fresh bench what happened before; nothing of it is said. The error is the place of an entry that made it
/// stumble.
fn fold(formula: &Formula, options: &Options, entries: &[Entry]) -> Result<Folded, Stumble> {
    fold_by(formula, options, entries, Entry::replay)
}

fn fold_by(
    formula: &Formula,
    options: &Options,
    entries: &[Entry],
    replay: impl Fn(&Entry, &mut Bench) -> Vec<Effect>,
) -> Result<Folded, Stumble> {
    let mut bench = Bench::new(formula.clone(), options.clone()).map_err(|_| Stumble::Size)?;
    let (mut took, mut unknown) = (Vec::new(), Vec::new());
    for (place, entry) in entries.iter().enumerate() {
        let effects = catch_unwind(AssertUnwindSafe(|| replay(entry, &mut bench)))
            .map_err(|_| Stumble::At(place))?;
        let unclear = |e: &Effect| {
            matches!(
                e,
                Effect::Chime {
                    chime: Chime::NotUnderstood,
                    ..
                }
            )
        };
        if let (Event::Heard(heard), None) = (&entry.event, &entry.taken)
            && effects.iter().any(unclear)
        {
            unknown.push(heard.text.clone());
        }
        let is_took = |e: &Effect| matches!(e, Effect::Took { .. });
        took.extend(effects.into_iter().filter(is_took).map(|e| (entry.at, e)));
    }
    Ok((bench, took, unknown))
}

/// Why a replay did not come to its end.
#[derive(Debug, PartialEq)]
enum Stumble {
    /// Today's size cannot be made.
    Size,
    /// The entry at this place.
    At(usize),
}

/// Takes a session up again; nothing where its cook had said goodbye.
fn take_up(
    found: &Unfinished,
    wanted: &Wanted,
    readings: &Readings,
    mut notes: Vec<String>,
) -> Result<Option<Memory>, JournalError> {
    let Reopened {
        header,
        mut entries,
        mut lines,
        notes: of_file,
        trouble,
        mut journal,
        resumption,
    } = Journal::reopen_at(&found.path, readings)?;
    notes.extend(of_file.iter().map(Note::spoken));
    let Some((formula, gone)) = formula_of(&header, wanted, &mut notes) else {
        return Err(JournalError::Header {
            path: found.path.clone(),
            found: "a formula that cannot be read".to_owned(),
        });
    };
    let mut options = options_of(&header.settings, &mut notes);
    if !wanted.options.size.is_empty() && wanted.options.size != options.size {
        notes.push("We go on in the size that we had; to change it, say the new one.".to_owned());
    }
    let mut aside = 0;
    let (bench, took, unknown) = loop {
        match fold(&formula, &options, &entries) {
            Ok(folded) => break folded,
            Err(Stumble::Size) => {
                if std::mem::take(&mut options.size).is_empty() {
                    return Err(JournalError::Header {
                        path: found.path.clone(),
                        found: "a formula that cannot be made".to_owned(),
                    });
                }
                notes.push("The size cannot be made any more: it is as written now.".to_owned());
            }
            Err(Stumble::At(place)) => {
                // It must not come back at every start.
                entries.remove(place);
                let _ = journal.set_aside(lines.remove(place));
                aside += 1;
                if aside == 1 {
                    notes.push(
                        "Something in my notes made me stumble, and I left it out: check where you are."
                            .to_owned(),
                    );
                }
                if aside > MOST_ASIDE {
                    entries.truncate(place);
                    lines.truncate(place);
                }
            }
        }
    };
    if !unknown.is_empty() {
        notes.push(Note::Unknown { what: unknown }.spoken());
    }
    if bench.is_over() {
        journal.finish(resumption.now)?;
        return Ok(None);
    }
    let edited = match &wanted.formula {
        Ok((now, text)) if is_first(&header, wanted) && bench.is_edited(now) => Some(text.clone()),
        _ => None,
    };
    if let Some(gone) = gone {
        let at = match bench.view(resumption.now).step {
            0 => "I am at the beginning.".to_owned(),
            n => format!("I am at step {}.", words::cardinal(n as u64)),
        };
        notes.push(format!("The formula has changed: {gone}. {at}"));
    }
    Ok(Some(Memory {
        bench,
        took,
        clock: resumption.clock,
        began_ms: header.wall.unix_ms,
        away_ms: Some(resumption.gap_ms),
        journal: Some(Scribe::start(journal)),
        trouble: trouble.map(|e| e.spoken().to_owned()),
        notes,
        edited,
        besides: Vec::new(),
    }))
}

/// The dishes beside the first that a session began with.
fn besides_of(header: &Header) -> Vec<Beside> {
    let all = header.settings.get("beside").cloned();
    all.and_then(|all| serde_json::from_value(all).ok())
        .unwrap_or_default()
}

/// The formula that is wanted is the session's first, and not one beside it.
fn is_first(header: &Header, wanted: &Wanted) -> bool {
    let besides = besides_of(header);
    !besides.iter().any(|beside| beside.path == wanted.path)
}

/// The formula of a session as it was or, where this version cannot read that any more, as its file is now; then what of
/// it is gone.
fn formula_of(
    header: &Header,
    wanted: &Wanted,
    notes: &mut Vec<String>,
) -> Option<(Formula, Option<String>)> {
    let as_it_was = crate::formula::read(&header.formula_path, &header.formula_text);
    match (as_it_was, &wanted.formula) {
        // What was edited in it the bench finds out, and tells.
        (Ok(was), Ok(_)) => Some((was, None)),
        (Ok(was), Err(_)) => {
            let why = if Path::new(&wanted.path).exists() {
                "has a fault now"
            } else {
                "is gone"
            };
            notes.push(format!(
                "The formula's file {why}; I go on with my own copy of it."
            ));
            Some((was, None))
        }
        (Err(_), Ok((now, _))) => Some((now.clone(), Some(gone_words(header, now)))),
        (Err(_), Err(_)) => None,
    }
}

/// `step four is gone`: the steps of the old text whose heading the formula has no more.
fn gone_words(header: &Header, now: &Formula) -> String {
    let old: toml::Table = toml::from_str(&header.formula_text).unwrap_or_default();
    let steps = old.get("step").and_then(toml::Value::as_array);
    let gone: Vec<String> = steps
        .into_iter()
        .flatten()
        .enumerate()
        .filter(|(_, step)| {
            let title = step.get("title").and_then(toml::Value::as_str);
            title.is_some_and(|title| now.steps.iter().all(|s| s.title != title))
        })
        .map(|(at, _)| words::cardinal(at as u64 + 1))
        .collect();
    match gone.as_slice() {
        [] => "I go on with it as it is now".to_owned(),
        [one] => format!("step {one} is gone"),
        some => format!("steps {} are gone", crate::bench::list(some)),
    }
}

/// The options of a session: each that cannot be read is the usual one, and told.
fn options_of(settings: &Value, notes: &mut Vec<String>) -> Options {
    let mut good = serde_json::to_value(Options::default()).unwrap_or_default();
    let mut lost = Vec::new();
    for (name, value) in settings.as_object().into_iter().flatten() {
        let mut with = good.clone();
        if let Some(all) = with.as_object_mut() {
            all.insert(name.clone(), value.clone());
        }
        // What is usual is not written down, and a name that is not known is left out again.
        let read = serde_json::from_value::<Options>(with.clone());
        let again = read.ok().and_then(|read| serde_json::to_value(read).ok());
        match again {
            Some(again) if again.get(name).is_some() => good = with,
            _ => lost.push(name.replace('_', " ")),
        }
    }
    if !lost.is_empty() {
        notes.push(format!(
            "I could not carry over one of the settings: {}.",
            crate::bench::list(&lost)
        ));
    }
    serde_json::from_value(good).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TWO_STEPS: &str = "name = \"Toast\"\nmakes = \"2 slices\"\n[[ingredient]]\nid = \"bread\"\nname = \"bread\"\n\
         amount = \"100 g\"\n[[step]]\ntitle = \"Cut\"\ntext = \"Cut [[bread]].\"\n[[step]]\ntitle = \"Toast\"\n\
         text = \"Toast it.\"\n";

    fn key(at: u64) -> Entry {
        let event = Event::Key {
            key: crate::bench::Key::Enter,
        };
        Entry {
            at: Moment(at),
            event,
            taken: None,
        }
    }

    #[test]
    fn what_makes_the_fold_stumble_is_found() {
        let path = "shared/formulas/lemon-shortbread.toml";
        let text = std::fs::read_to_string(path).expect("a shipped formula");
        let formula = crate::formula::read(path, &text).expect("it reads");
        let entries = [key(1), key(2), key(3)];
        let stumbling = |entry: &Entry, bench: &mut Bench| {
            assert_ne!(entry.at, Moment(2), "a fault of the program");
            entry.replay(bench)
        };
        let folded = fold_by(&formula, &Options::default(), &entries, stumbling);
        assert_eq!(folded.err(), Some(Stumble::At(1)));
        let rest = [key(1), key(3)];
        assert!(fold_by(&formula, &Options::default(), &rest, stumbling).is_ok());
    }

    #[test]
    fn steps_that_are_gone_are_named() {
        let path = "shared/formulas/lemon-shortbread.toml";
        let text = std::fs::read_to_string(path).expect("a shipped formula");
        let formula = crate::formula::read(path, &text).expect("it reads");
        let readings = Readings::now();
        let header = |text: &str| Header::new(path, text, Value::Null, &readings);
        assert_eq!(
            gone_words(&header(&text), &formula),
            "I go on with it as it is now"
        );
        let words = gone_words(&header(TWO_STEPS), &formula);
        assert_eq!(words, "steps one and two are gone");
    }

    #[test]
    fn one_bad_option_does_not_reset_the_others() {
        let mut notes = Vec::new();
        let settings = serde_json::json!({
            "scale_step_g": 0.1, "attention": "whenever", "brief": true, "of_the_future": 3,
        });
        let options = options_of(&settings, &mut notes);
        assert_eq!((options.scale_step_g, options.brief), (0.1, true));
        assert_eq!(options.attention, Options::default().attention);
        assert_eq!(
            notes,
            ["I could not carry over one of the settings: attention and of the future."]
        );
    }
}
