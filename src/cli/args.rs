//! Arguments and help: one definition.

mod pile;
mod print;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub(super) use pile::{PacksArgs, SortPileArgs, SparesArgs, SwapArgs, WantsArgs};
pub(super) use print::{
    FormatWord, LabelArgs, PageArgs, PaperArgs, PocketArgs, Print, ReadingWord,
};

const EXIT_CODES: &str = "\
Exit codes:
  0  done
  1  done, but something falls short and was told (for instance rows refused under --skip-bad)
  2  wrong usage
  3  bad input file
  4  the collection cannot be read, or is damaged
  5  another program is writing to the collection

With --json every command answers with one JSON document on standard output and nothing else
there; words go to standard error. Pages, rows and columns count from 1.";

const EXAMPLES: &str = "\
Examples:
  ringbound                                      open the binders on the screen
  ringbound demo                                 the same with an invented collection
  ringbound new FEN \"1 to 102 and P1 to P6, in regular and reverse\"
  ringbound import checklist fen.csv
  ringbound import copies shelf.csv --in-place   cards that already stand in their pockets
  ringbound gaps --set FEN                       what is missing, and which pocket it goes to
  ringbound export spares swap.csv               a list to swap from
  ringbound plan FEN                             what to do, to bring a binder in order

";

const PRINT_HELP: &str = "\
Examples:
  ringbound print labels --out labels.pdf                      the spines of the whole shelf
  ringbound print labels FEN --spine 30 --out fen.svg
  ringbound print wants --paper letter --out wanted.pdf
  ringbound print page FEN 3 --out spread.svg
  ringbound print labels --demo --out labels.pdf               of an invented collection

Print at 100 %, without scaling, and measure the line of 100 mm on the paper.";

/// Keeps a collector's binders: what is in them, what is missing, where each card goes.
///
/// Without a command the binders open on the screen. The collection is a folder of plain files
/// on this machine; nothing is sent anywhere.
#[derive(Debug, Parser)]
#[command(
    name = "ringbound",
    version,
    after_help = joined(EXAMPLES, EXIT_CODES),
    max_term_width = 100,
    subcommand_help_heading = "Commands",
    disable_help_subcommand = true
)]
pub struct Cli {
    /// The folder of the collection [default: the platform's data folder]
    #[arg(
        long,
        global = true,
        env = "RINGBOUND_DATA",
        hide_env_values = true,
        value_name = "DIR"
    )]
    pub data: Option<PathBuf>,

    /// Answer with one JSON document
    #[arg(long, global = true)]
    pub json: bool,

    #[command(subcommand)]
    pub command: Option<Command>,
}

fn joined(examples: &str, codes: &str) -> String {
    format!("{examples}{codes}")
}

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Take in a checklist or copies from a CSV file
    Import {
        #[command(subcommand)]
        what: Import,
    },
    /// Write a checklist, copies, gaps, wants or spares to a CSV file
    Export(ExportArgs),
    /// Make a set from a phrase, without a file
    New(NewArgs),
    /// Show a binder or one of its pages, pocket by pocket
    Show(ShowArgs),
    /// How far each set is
    Completion(Only),
    /// Pockets that do not hold their card, and cards without a pocket that are missing
    Gaps(Only),
    /// What to look for elsewhere: gaps for which there is no copy yet
    Wants(WantsArgs),
    /// Loose copies to swap away
    Spares(SparesArgs),
    /// Loose copies and the pockets that they go to
    Waiting(Only),
    /// The work from what lies in the binders to what should: the fewest cards touched
    Plan(PlanArgs),
    /// How to sort a stack by hand before it is filed: which numbers go on which heap
    SortPile(SortPileArgs),
    /// What could be swapped with another collector, one for one
    Swap(SwapArgs),
    /// How many further random packs until a set is complete, on average
    Packs(PacksArgs),
    /// Labels, lists and sheets on paper, at true size
    #[command(after_help = PRINT_HELP)]
    Print {
        #[command(subcommand)]
        what: Print,
    },
    /// Is the collection whole?
    Check(CheckArgs),
    /// Take back the last step
    Undo,
    /// Do again what was taken back last
    Redo,
    /// The steps that were done, the last one first
    History(HistoryArgs),
    /// Try it out with an invented collection; nothing is kept
    Demo(DemoArgs),
}

#[derive(Debug, Subcommand)]
pub enum Import {
    /// Sets and their cards: a row a card
    ///
    /// The file is CSV (RFC 4180) in UTF-8. Its first line names the columns, in any order:
    /// set, number, name; and if you like set_title, symbol, shelf, rarity, finishes (separated
    /// by ; and `regular` if nothing is said), width_mm, height_mm. Numbers are kept as written.
    ///
    /// Each new set gets a binder with a pocket for every card, each finish on pages of its own.
    /// New cards of a set that is there already go to the end of its binder. The same file again
    /// changes nothing; what differs from what is kept is told.
    ///
    /// If any row is bad nothing is imported, and each is told with its line and column. With
    /// --json, the document tells the first hundred of them too, under `refused`: line, column
    /// and its name, byte where the text is no CSV, and why; `refused_rows` counts all. Where
    /// nothing was imported its format is `ringbound-import-refused`, with `file` and `why`.
    #[command(after_help = "\
Example of a file:
  set,set_title,number,name,rarity,finishes
  FEN,The Fen,1,Mire Lamp,common,regular;reverse
  FEN,The Fen,12a,Reed Boat,rare,regular")]
    Checklist(ChecklistArgs),
    /// Copies that you have: a row a card
    ///
    /// The file is CSV (RFC 4180) in UTF-8. Its first line names the columns, in any order:
    /// set, number; and if you like finish (`regular` if nothing is said) and count (1).
    /// The copies come in loose, beside those that are there already.
    ///
    /// If any row is bad nothing is imported, and each is told with its line and column. With
    /// --json, the document tells the first hundred of them too, under `refused`: line, column
    /// and its name, byte where the text is no CSV, and why; `refused_rows` counts all. Where
    /// nothing was imported its format is `ringbound-import-refused`, with `file` and `why`.
    #[command(after_help = "\
Example of a file:
  set,number,finish,count
  FEN,1,regular,2
  FEN,12a,reverse,1")]
    Copies(CopiesArgs),
}

#[derive(Debug, Args)]
pub struct ChecklistArgs {
    /// The CSV file; - for standard input
    pub file: PathBuf,
    /// Take the good rows, list the others
    #[arg(long)]
    pub skip_bad: bool,
    /// Take over what differs from what is kept (names, rarities, sizes, titles)
    #[arg(long)]
    pub update: bool,
    #[command(flatten)]
    pub binder: BinderArgs,
}

#[derive(Debug, Args)]
pub struct CopiesArgs {
    /// The CSV file; - for standard input
    pub file: PathBuf,
    /// Put each into its own pocket, as far as there are empty ones: for cards that already
    /// stand on the shelf
    #[arg(long)]
    pub in_place: bool,
    /// Take the good rows, list the others
    #[arg(long)]
    pub skip_bad: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Sides {
    One,
    Both,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum OpeningWord {
    Side,
    Top,
}

#[derive(Debug, Args)]
#[command(next_help_heading = "The binder of a new set")]
pub struct BinderArgs {
    /// Make no binder and no pages
    #[arg(long, conflicts_with_all = ["page", "sides", "opening", "shared", "pocket", "fixed"])]
    pub no_binder: bool,
    /// Pockets of a page, rows x columns: 3x3, 3x4, 2x2, 3x1, 1
    #[arg(long, value_name = "GRID", default_value = "3x3")]
    pub page: String,
    /// Sides of a page that are loaded
    #[arg(long, value_enum, default_value = "both")]
    pub sides: Sides,
    /// Where pockets are open
    #[arg(long, value_enum, default_value = "side")]
    pub opening: OpeningWord,
    /// Front and back of a place are one pocket, two cards back to back
    #[arg(long)]
    pub shared: bool,
    /// Inner size of a pocket in millimetres, width x height: 64x89
    #[arg(long, value_name = "SIZE")]
    pub pocket: Option<String>,
    /// The pages are bound in and do not move
    #[arg(long)]
    pub fixed: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ExportWhat {
    /// Every copy, wherever it lies; import copies reads it
    Copies,
    /// Every card; import checklist reads it
    Checklist,
    /// What is missing, with the pocket that it goes to
    Gaps,
    /// Loose copies to swap away, with where one of them sits
    Spares,
    /// Gaps for which there is no copy yet: a list to hand to somebody
    Wants,
}

#[derive(Debug, Args)]
pub struct ExportArgs {
    /// What to write
    pub what: ExportWhat,
    /// The file to write; - for standard output
    pub file: PathBuf,
    #[command(flatten)]
    pub only: Only,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

#[derive(Debug, Args)]
pub struct Only {
    /// Of this set only
    #[arg(long, value_name = "CODE")]
    pub set: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound new FEN \"1 to 102 and P1 to P6, in regular and reverse\" --title \"The Fen\"
  ringbound new ASH 001-064 --page 3x4 --sides one

A number is kept as written: 001 to 102 keeps its zeros, P1 to P6 its letter.
Names and rarities may follow later with: ringbound import checklist FILE")]
pub struct NewArgs {
    /// The set's code: one word, as on its cards
    pub code: String,
    /// The numbers and the finishes, for instance: 1 to 102 and P1 to P6, in regular and reverse
    #[arg(required = true, num_args = 1..)]
    pub phrase: Vec<String>,
    /// The set's title
    #[arg(long, default_value = "")]
    pub title: String,
    /// The set's symbol, one glyph
    #[arg(long, default_value = "")]
    pub symbol: String,
    /// The set's number on the shelf
    #[arg(long, default_value = "")]
    pub shelf: String,
    #[command(flatten)]
    pub binder: BinderArgs,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SideWord {
    Front,
    Back,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound show FEN           the whole binder
  ringbound show FEN 3         page 3, front and back
  ringbound show FEN 3 --side back")]
pub struct ShowArgs {
    /// The binder's name
    pub binder: String,
    /// The page, from 1; the whole binder without
    #[arg(value_parser = from_one)]
    pub page: Option<usize>,
    /// This side only
    #[arg(long, value_enum)]
    pub side: Option<SideWord>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WorkingWord {
    /// Take out everything that moves, front to back, then put it in, front to back
    TwoPasses,
    /// From pocket to pocket, at most one card aside
    HandToHand,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound plan                       a walk along the whole shelf
  ringbound plan FEN                   one binder: loose copies in, misplaced ones home
  ringbound plan FEN --working hand-to-hand
  ringbound plan before.json after.json > sheet.txt

The answer is a work sheet to print and tick off; with --json the steps for a program.
Cards taken out are the fewest that any plan can do with; then page moves are few, and it is
told whether their number is proven least.

An arrangement is binders with their pages in order, without a collection. Each string is a
printing (equal strings are copies that stand for each other), null an empty pocket:
  {\"format\":\"ringbound-arrangement\",\"version\":1,
   \"binders\":[{\"id\":\"b1\",\"pages_move\":true,
     \"pages\":[{\"id\":\"p1\",\"rows\":2,\"columns\":2,\"shared_pockets\":false,
               \"front\":[[\"7\",null],[\"8\",\"9\"]],\"back\":[[\"10\",null],[null,null]]}]}],
   \"loose\":[\"12\",\"12\"]}
`back` is left out on pages loaded on one side; `pages_move` is false where pages are bound in.
Binders are matched by id; which page becomes which is worked out.")]
pub struct PlanArgs {
    /// A binder of the collection, or the arrangement file before; without it the whole shelf
    #[arg(value_name = "BINDER|BEFORE")]
    pub first: Option<String>,
    /// The arrangement file after; - for standard input
    #[arg(value_name = "AFTER")]
    pub after: Option<PathBuf>,
    /// How to go about it
    #[arg(long, value_enum, default_value = "two-passes")]
    pub working: WorkingWord,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Where files are damaged, go on with what can be read of them
    ///
    /// The files as they are go to the folder set-aside inside the collection's own. What was
    /// taken and what was lost is told. Without damage nothing is done.
    #[arg(long)]
    pub mend: bool,
}

#[derive(Debug, Args)]
pub struct HistoryArgs {
    /// At most so many steps
    #[arg(long, value_name = "NUMBER", default_value_t = 50, value_parser = from_one)]
    pub last: usize,
}

/// A count or a place, which nobody writes as 0.
fn from_one(word: &str) -> Result<usize, String> {
    match word.parse() {
        Ok(number) if number > 0 => Ok(number),
        _ => Err("write a whole number from 1".into()),
    }
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Print one spread as text instead of opening the screen
    #[arg(long)]
    pub print: bool,
}
