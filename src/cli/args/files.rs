//! Arguments of what comes in from files and goes out to them, and of a new set's binder.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};

use super::{Narrow, choice};
use crate::model::Opening;

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
    /// If any row is bad nothing is imported, and each is told with its line and column, in words
    /// the first hundred. With --json, the document tells each too, under `refused`: line, column
    /// and its name, byte where the text is no CSV, and why; `refused_rows` counts them. Where
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
    /// If any row is bad nothing is imported, and each is told with its line and column, in words
    /// the first hundred. With --json, the document tells each too, under `refused`: line, column
    /// and its name, byte where the text is no CSV, and why; `refused_rows` counts them. Where
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

#[derive(Debug, Args)]
#[command(next_help_heading = "The binder of a new set")]
pub struct BinderArgs {
    /// Make no binder and no pages
    #[arg(long, conflicts_with_all = ["page", "sides", "opening", "shared", "pocket", "fixed", "rings"])]
    pub no_binder: bool,
    /// Pockets of a page, rows x columns: 3x3, 3x4, 2x2, 3x1, 1
    #[arg(long, value_name = "GRID", default_value = "3x3")]
    pub page: String,
    /// Sides of a page that are loaded
    #[arg(long, value_parser = choice::sides(), default_value = "both")]
    pub sides: u8,
    /// Where pockets are open
    #[arg(long, value_parser = choice::opening(), default_value = "side")]
    pub opening: Opening,
    /// Front and back are one pocket, two cards back to back
    #[arg(long)]
    pub shared: bool,
    /// Inner size of a pocket in millimetres, width x height: 64x89
    #[arg(long, value_name = "SIZE")]
    pub pocket: Option<String>,
    /// The pages are bound in and do not move
    #[arg(long)]
    pub fixed: bool,
    /// Size of the rings in millimetres, and their shape: "40 D", "30 round"
    #[arg(long, value_name = "RINGS", conflicts_with = "fixed")]
    pub rings: Option<String>,
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
    pub narrow: Narrow,
    /// Of spares: keep so many copies of each card back
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub keep: u32,
    /// Write over a file that is there
    #[arg(long, alias = "force")]
    pub overwrite: bool,
    /// Letter for letter, for programs other than spreadsheets
    ///
    /// Without it a field that a spreadsheet would run as a formula, since it begins with = + - @
    /// or the like, gets an apostrophe before it. Import takes that away again.
    #[arg(long)]
    pub raw: bool,
}
