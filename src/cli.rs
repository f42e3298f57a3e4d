//! The command line: what can be asked of the program, and one call for each.

mod help;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

pub(crate) use help::{EXAMPLES, GROUPS};

/// An offline, hands-free kitchen assistant.
#[derive(Debug, Parser)]
#[command(name = "commis", version, about, max_term_width = 100)]
pub struct Cli {
    /// Another settings file than the usual one
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) settings: Option<PathBuf>,
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Cook a formula: by voice, by keypad or by both
    Cook(CookArgs),
    /// Run a formula against a script with a simulated clock
    Rehearse(RehearseArgs),
    /// Read utterances on standard input and print what each means, as JSON
    Understand {
        /// The formula whose names can be said
        formula: PathBuf,
    },
    /// Recognise sound files and print text, confidence, meaning and cost
    Hear(HearArgs),
    /// Check microphone, loudspeaker, voice, model, keypad and journal before the bake
    Ready,
    /// Print the weigh-up list at today's size
    Weigh(WeighArgs),
    /// Print a formula at today's size as a page in large print, or in braille
    Card(PageArgs),
    /// Plan one formula or several back from the hour of serving
    Plan(PlanArgs),
    /// Print how long rises and bakes really took in this kitchen
    Log(LogArgs),
    /// Answer one quantity question
    Ask {
        /// The question in plain words
        #[arg(required = true)]
        question: Vec<String>,
        /// One JSON object
        #[arg(long)]
        json: bool,
        /// Whose cups and spoons: us, uk, metric or au
        #[arg(long)]
        region: Option<String>,
    },
    /// Check formulas: faults, unknown words, allergens
    Check {
        /// Formula files
        #[arg(required = true)]
        formula: Vec<PathBuf>,
    },
    /// Take in recipes: pages, texts, notes; each becomes a formula in the book
    Import(ImportArgs),
    /// Change one thing of a formula: `commis change loaf salt to nine grams`; `undo` takes the last change back
    Change {
        /// The formula, by its file or its name in the book
        formula: PathBuf,
        /// What is to be changed: `salt to nine grams`, `step three to ...`, `heat of step two to 200 C`, `undo`
        #[arg(required = true)]
        what: Vec<String>,
    },
    /// Make a formula in a dialogue, or change one: no file format to know
    Write(WriteArgs),
    /// Give a formula out: as linked data of schema.org, or as Markdown
    Export {
        /// The formulas, each by its file or its name in the book
        #[arg(required = true)]
        formula: Vec<PathBuf>,
        /// In what form
        #[arg(long, value_enum, default_value_t = ExportAs::Jsonld)]
        format: ExportAs,
    },
    /// List the formulas in the book and those that come with the program, or in a folder
    Book {
        /// The folder; the book, its further folders and the shipped formulas when missing
        folder: Option<PathBuf>,
        /// Only those with this tag
        #[arg(long, value_name = "TAG")]
        tag: Option<String>,
    },
    /// The card of the keys: print it, hear it, or teach the program an odd keypad
    Keys(KeysArgs),
    /// Print the completions of a shell
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    Man,
    /// Print the JSON Schema of formula files
    Schema,
}

#[derive(Debug, Args)]
pub(crate) struct KeysArgs {
    #[command(flatten)]
    pub(crate) form: CardForm,
    /// With --speak: into a WAV file
    #[arg(long, value_name = "WAV", requires = "speak")]
    pub(crate) record: Option<PathBuf>,
}

/// The card's form: at most one of these.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub(crate) struct CardForm {
    /// As a table of every key path
    #[arg(long)]
    pub(crate) table: bool,
    /// The keypad as a drawing for printing (SVG, one page)
    #[arg(long)]
    pub(crate) svg: bool,
    /// The whole card in large print (HTML)
    #[arg(long)]
    pub(crate) html: bool,
    /// Read it aloud
    #[arg(long)]
    pub(crate) speak: bool,
    /// Teach the program an odd keypad: it asks for each key
    #[arg(long)]
    pub(crate) learn: bool,
}

#[derive(Debug, Args)]
pub(crate) struct WriteArgs {
    /// A file for the new formula, or the formula to change; a new one in the book when missing
    pub(crate) file: Option<PathBuf>,
    /// Lines and keys only: say nothing and listen to nothing
    #[arg(long)]
    pub(crate) plain: bool,
    /// Speak the questions and hear the answers: as without it, where a voice and a microphone are there
    #[arg(long, hide = true, conflicts_with = "plain")]
    pub(crate) voice: bool,
}

/// How a formula is given out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum ExportAs {
    /// Linked data of schema.org
    Jsonld,
    /// Markdown
    Markdown,
}

#[derive(Debug, Args)]
pub(crate) struct ImportArgs {
    /// Pages, texts, notes, ODT, DOCX, RTF, or pictures; `-` for standard input
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Ask about what is not sure, one by one
    #[arg(long)]
    pub(crate) ask: bool,
    /// Where the formula goes, for one source; `-` prints it; into the book when missing
    #[arg(short, long)]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct HearArgs {
    /// The formula whose names can be said
    pub(crate) formula: PathBuf,
    /// Sound files (WAV)
    #[arg(required = true)]
    pub(crate) wav: Vec<PathBuf>,
    /// One JSON object a line
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct CookArgs {
    /// The formula, by its file or its name in the book, or several for one meal; asked for when missing
    pub(crate) formula: Vec<String>,
    /// When everything is to be on the table: '19:30', 'half past seven'
    #[arg(long, value_name = "TIME")]
    pub(crate) ready_at: Option<String>,
    #[command(flatten)]
    pub(crate) size: SizeArgs,
    /// Print lines only, for a screen reader or a braille display
    #[arg(long)]
    pub(crate) plain: bool,
    /// Begin anew: an unfinished session of this formula is not taken up
    #[arg(long)]
    pub(crate) fresh: bool,
}

#[derive(Debug, Args)]
pub(crate) struct RehearseArgs {
    /// The formula
    pub(crate) formula: PathBuf,
    /// The script: one line per moment
    pub(crate) script: PathBuf,
    /// Another formula for the same meal; may be given several times
    #[arg(long, value_name = "FORMULA")]
    pub(crate) with: Vec<PathBuf>,
    /// When everything is to be on the table: '19:30', 'half past seven'
    #[arg(long, value_name = "TIME")]
    pub(crate) ready_at: Option<String>,
    #[command(flatten)]
    pub(crate) size: SizeArgs,
    /// One JSON object a line
    #[arg(long)]
    pub(crate) json: bool,
    /// Write everything said and rung into a WAV file, silences shortened
    #[arg(long, value_name = "WAV")]
    pub(crate) record: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct WeighArgs {
    /// The formula
    pub(crate) formula: PathBuf,
    #[command(flatten)]
    pub(crate) size: SizeArgs,
    /// One JSON object
    #[arg(long, conflicts_with = "large")]
    pub(crate) json: bool,
    /// Large print, to be read at arm's length
    #[arg(long)]
    pub(crate) large: bool,
}

#[derive(Debug, Args)]
pub(crate) struct PageArgs {
    /// The formula, by its file or its name in the book
    pub(crate) formula: PathBuf,
    #[command(flatten)]
    pub(crate) size: SizeArgs,
    #[command(flatten)]
    pub(crate) form: PageForm,
    /// Columns of the text
    #[arg(long, value_name = "N", default_value_t = 80, value_parser = clap::builder::RangedU64ValueParser::<usize>::new().range(20..=400))]
    pub(crate) columns: usize,
    /// Into a file
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

/// The page's form: at most one of these.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub(crate) struct PageForm {
    /// As one HTML file in large print
    #[arg(long)]
    pub(crate) html: bool,
    /// As a PDF in large print, tagged for screen readers
    #[arg(long)]
    pub(crate) pdf: bool,
    /// As text; so it is when nothing is said
    #[arg(long)]
    pub(crate) text: bool,
    /// As a braille file for an embosser (BRF), by liblouis
    #[arg(long)]
    pub(crate) braille: bool,
}

#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The formulas; the settings say how many cooks and ovens there are for all of them
    #[arg(required_unless_present = "session")]
    pub(crate) formula: Vec<PathBuf>,
    /// When everything is to be ready: '19:30', 'tomorrow 7:00', '2026-11-26 07:00', 'half past seven'
    #[arg(long, value_name = "TIME", required_unless_present = "session")]
    pub(crate) ready_at: Option<String>,
    /// The plan of the session that you are cooking in, as it stands
    #[arg(long, conflicts_with_all = ["formula", "ready_at", "from", "room"])]
    pub(crate) session: bool,
    /// Nothing starts before; now when missing
    #[arg(long, value_name = "TIME")]
    pub(crate) from: Option<String>,
    /// The room: '19 C'. A dough rises faster in a warmer one
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) room: Option<String>,
    /// One JSON object
    #[arg(long, conflicts_with = "ical")]
    pub(crate) json: bool,
    /// A calendar (RFC 5545) with an alarm for everything that you do
    #[arg(long)]
    pub(crate) ical: bool,
    /// A picture in large print, as an SVG file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["json", "ical"])]
    pub(crate) picture: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct LogArgs {
    /// Only this formula: its file, or a part of its name
    pub(crate) formula: Option<String>,
    /// One JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// A table for a spreadsheet (RFC 4180)
    #[arg(long, conflicts_with = "json")]
    pub(crate) csv: bool,
    /// What was planned beside what it took, over the last bakes of one formula, in large print: an SVG file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["json", "csv"], requires = "formula")]
    pub(crate) picture: Option<PathBuf>,
    /// Forget a session, and what was learnt from it: 1 is the last one that is listed
    #[arg(long, value_name = "N", conflicts_with_all = ["json", "csv", "picture"])]
    pub(crate) forget: Option<usize>,
}

/// Today's size: one of these, and with it another hydration or no more than there is of something.
#[derive(Debug, Args, Default)]
pub(crate) struct SizeArgs {
    /// For so many portions
    #[arg(long, value_name = "N", group = "size")]
    pub(crate) portions: Option<f64>,
    /// With so much flour in all: '750g'
    #[arg(long, value_name = "MASS", group = "size")]
    pub(crate) flour: Option<String>,
    /// With so much dough in all: '2kg'
    #[arg(long, value_name = "MASS", group = "size")]
    pub(crate) dough: Option<String>,
    /// So many pieces of a mass: '8 x 95 g' of dough, or '8 x 95 g baked'
    #[arg(long, value_name = "N x MASS", group = "size")]
    pub(crate) pieces: Option<String>,
    /// So many times the formula
    #[arg(long, value_name = "N", group = "size")]
    pub(crate) factor: Option<f64>,
    /// For another tin: '30 x 20 cm', 'round 20 cm', 'loaf 23 x 13 x 7 cm'
    #[arg(long, value_name = "SIZE", group = "size")]
    pub(crate) tin: Option<String>,
    /// One part of the dish so many times: 'filling=2'
    #[arg(long, value_name = "PART=N")]
    pub(crate) part: Vec<String>,
    /// No more than there is of an ingredient: 'flour 380 g'
    #[arg(long, value_name = "INGREDIENT MASS")]
    pub(crate) limit: Option<String>,
    /// At another hydration, percent of flour
    #[arg(long, value_name = "PERCENT")]
    pub(crate) hydration: Option<f64>,
}
