//! The rehearsal builder: a script in, the conversation out, compared as a whole or searched.

use std::path::PathBuf;

use commis::bench::{Bench, Beside, Options};
use commis::kitchen::{Record, Script, Silence, Stage};

/// A shipped formula.
pub fn formula(name: &str) -> commis::formula::Formula {
    commis::formula::read(name, &beside(name).text).unwrap_or_else(|e| panic!("{e}"))
}

/// The file of a shipped formula.
pub fn shipped(name: &str) -> PathBuf {
    root()
        .join("shared/formulas")
        .join(name)
        .with_extension("toml")
}

/// A shipped formula as a dish beside the first.
pub fn beside(name: &str) -> Beside {
    let path = shipped(name);
    Beside {
        text: std::fs::read_to_string(&path).expect("a shipped formula is there"),
        path: path.display().to_string(),
        ..Beside::default()
    }
}

/// Options with these dishes beside the first.
pub fn with_dishes(others: &[&str]) -> Options {
    Options {
        beside: others.iter().map(|name| beside(name)).collect(),
        ..Options::default()
    }
}

/// The repository.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// What came of a script.
pub struct Rehearsal {
    pub records: Vec<Record>,
    pub bench: Bench,
}

struct Deaf;

impl commis::kitchen::Listener for Deaf {
    fn listen(
        &mut self,
        _: &std::path::Path,
        _: &Bench,
    ) -> Result<(Vec<i16>, Option<commis::bench::Heard>), commis::hear::HearError> {
        Err(commis::hear::HearError::NotBuilt)
    }
    fn vocabulary_changed(&mut self) {}
}

impl Rehearsal {
    /// Plays a script of words and keys.
    pub fn play(name: &str, script: &str) -> Self {
        Self::play_with(formula(name), Options::default(), script)
    }

    /// The same with several shipped formulas.
    pub fn dinner(dishes: &[&str], script: &str) -> Self {
        Self::play_with(formula(dishes[0]), with_dishes(&dishes[1..]), script)
    }

    /// The same with a formula and settings of one's own.
    pub fn play_with(formula: commis::formula::Formula, options: Options, script: &str) -> Self {
        Self::play_on(formula, options, script, &mut Silence)
    }

    /// The same on a stage that hears or sees.
    pub fn play_on(
        formula: commis::formula::Formula,
        options: Options,
        script: &str,
        stage: &mut dyn Stage,
    ) -> Self {
        let script = Script::read(script).unwrap_or_else(|e| panic!("{e}"));
        let mut records = Vec::new();
        let bench = commis::kitchen::rehearse(
            formula,
            options,
            &script,
            &root(),
            &mut Deaf,
            stage,
            &mut |r| records.push(r.clone()),
        )
        .unwrap_or_else(|e| panic!("{e}"));
        Self { records, bench }
    }

    /// Everything said, in order.
    pub fn said(&self) -> Vec<&str> {
        self.records
            .iter()
            .filter(|r| r.kind == "said")
            .map(|r| r.text.as_str())
            .collect()
    }

    /// The last thing said.
    pub fn last(&self) -> &str {
        self.said().last().copied().unwrap_or_default()
    }

    /// The seconds at which a chime rang.
    pub fn chimes(&self, name: &str) -> Vec<f64> {
        self.records
            .iter()
            .filter(|r| r.kind == "chime" && r.text == name)
            .map(|r| r.t)
            .collect()
    }
}
