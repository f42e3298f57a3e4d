//! The journal of a live session: begun, or taken up where it was.

use std::path::{Path, PathBuf};

use crate::bench::Options;
use crate::formula::Formula;
use crate::journal::{Clock, Entry, Found, Header, Journal, JournalError, Note, Readings, State};

/// What a session begins with.
pub(super) struct Memory {
    pub formula: Formula,
    pub options: Options,
    pub clock: Clock,
    /// When it began, in Unix milliseconds.
    pub began_ms: i64,
    /// What happened before, when the session is taken up again.
    pub past: Vec<Entry>,
    /// How long it was away, in milliseconds.
    pub gap_ms: u64,
    pub journal: Option<Journal>,
    /// Why nothing can be written down.
    pub trouble: Option<String>,
    /// What the cook should be told: whole sentences.
    pub notes: Vec<String>,
}

impl Memory {
    /// Begins a session of a formula read from `path`, or takes up the unfinished one unless it is to be `fresh`.
    pub(super) fn open(
        folder: Result<PathBuf, JournalError>,
        path: &str,
        (formula, text): (Formula, String),
        options: Options,
        fresh: bool,
        readings: &Readings,
    ) -> Self {
        let mut memory = Self {
            formula,
            options,
            clock: Clock::begin(readings),
            began_ms: readings.wall.unix_ms,
            past: Vec::new(),
            gap_ms: 0,
            journal: None,
            trouble: None,
            notes: Vec::new(),
        };
        if let Err(e) = folder.and_then(|f| memory.find(&f, path, &text, fresh, readings)) {
            memory.trouble = Some(e.spoken().to_owned());
        }
        memory
    }

    fn find(
        &mut self,
        folder: &Path,
        path: &str,
        text: &str,
        fresh: bool,
        readings: &Readings,
    ) -> Result<(), JournalError> {
        let mut mine = Vec::new();
        for found in Journal::unfinished(folder)? {
            match &found.state {
                State::Ready { header, .. } if header.formula_path == path => mine.push(found),
                State::Ready { .. } => {}
                State::Busy => self.notes.push(
                    "Another session is cooking at this moment; this one keeps a journal of its own."
                        .to_owned(),
                ),
                State::Unreadable { .. } => {
                    // Put aside, so that it is told once.
                    if Journal::abandon(&found).is_ok() {
                        self.notes.push(
                            "I can't read my notes of an earlier session, so I put them aside."
                                .to_owned(),
                        );
                    }
                }
            }
        }
        if fresh {
            mine.iter().try_for_each(Journal::abandon)?;
        } else if let Some(newest) = mine.first() {
            return self.take_up(newest, path, text, readings);
        }
        let settings = serde_json::to_value(&self.options).unwrap_or_default();
        let header = Header::new(path, text, settings, readings);
        self.journal = Some(Journal::create(folder, &header)?);
        Ok(())
    }

    fn take_up(
        &mut self,
        found: &Found,
        path: &str,
        text: &str,
        readings: &Readings,
    ) -> Result<(), JournalError> {
        let again = Journal::reopen_at(&found.path, readings)?;
        self.notes.extend(again.notes.iter().map(Note::spoken));
        if again.header.formula_changed(text)
            && let Ok(was) = crate::formula::read(path, &again.header.formula_text)
        {
            self.formula = was;
            self.notes
                .push("The formula was changed since; I go on with it as it was.".to_owned());
        }
        if let Ok(was) = serde_json::from_value(again.header.settings.clone()) {
            self.options = was;
        }
        self.began_ms = again.header.wall.unix_ms;
        self.past = again.entries;
        self.clock = again.resumption.clock;
        self.gap_ms = again.resumption.gap_ms;
        self.trouble = again.trouble.map(|e| e.spoken().to_owned());
        self.journal = Some(again.journal);
        Ok(())
    }
}
