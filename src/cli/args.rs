//! Arguments and help: one definition.

mod care;
mod choice;
mod files;
mod layout;
mod pile;
mod plan;
mod print;
mod settings;
mod supplies;
mod usual;

use std::collections::BTreeSet;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::model::Side;
use crate::settings::{Palette, PictureMode};

pub(super) use care::{CheckArgs, HistoryArgs, RecoverArgs};
pub(super) use files::{BinderArgs, ChecklistArgs, CopiesArgs, ExportArgs, ExportWhat, Import};
pub(super) use layout::{
    DraftArgs, GrowthArgs, Layout, RulesArgs, SaveArgs, ShowSectionsArgs, TemplatesArgs,
    ThrowAwayArgs, WayWord,
};
pub(super) use pile::{Narrow, PacksArgs, RunsArgs, SortPileArgs, SparesArgs, SwapArgs, WantsArgs};
pub(super) use plan::PlanArgs;
pub(super) use print::{LabelArgs, PageArgs, PaperArgs, PocketArgs, Print, ShoppingArgs};
pub(super) use settings::{SettingsArgs, colours};
use settings::{path, pictures};
pub(super) use supplies::{
    CompareArgs, CountedArgs, FitArgs, MeasureArgs, PriceArgs, RingsArgs, SuppliesArgs,
    SuppliesCommand,
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
there; words go to standard error. What has a form of its own (export and print to standard output,
demo --print, settings --example, shell-completions, man) refuses it. Pages, rows and columns count
from 1.";

/// The heading of the options that every command takes.
const EVERYWHERE: &str = "For every command";

/// What a report of a fault should begin with.
pub(super) const LONG_VERSION: &str = concat!(
    env!("CARGO_PKG_VERSION"),
    "\ncollection format 1, journal format 1"
);

const EXAMPLES: &str = "\
Examples:
  ringbound                                      open the binders on the screen
  ringbound demo                                 the same with an invented collection
  ringbound new FEN \"1 to 120 and P1 to P6, in regular and reverse\"
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
  ringbound print wants --paper letter --out wants.pdf
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
    long_version = LONG_VERSION,
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
        help_heading = EVERYWHERE,
        env = "RINGBOUND_DATA",
        hide_env_values = true,
        value_name = "DIR"
    )]
    pub data: Option<PathBuf>,

    /// The file with your settings [default: settings.toml in the platform's folder for them]
    #[arg(
        long,
        global = true,
        help_heading = EVERYWHERE,
        env = "RINGBOUND_SETTINGS",
        hide_env_values = true,
        value_name = "FILE",
        value_parser = path()
    )]
    pub settings: Option<PathBuf>,

    /// Add to this file what was opened, done and refused, and when
    #[arg(
        long,
        global = true,
        help_heading = EVERYWHERE,
        env = "RINGBOUND_LOG",
        hide_env_values = true,
        value_name = "FILE",
        value_parser = path()
    )]
    pub log: Option<PathBuf>,

    /// Colours of the screen: auto, dark, light or none [env: RINGBOUND_COLOURS]
    #[arg(long, global = true, help_heading = EVERYWHERE, alias = "colors", value_name = "WORD", value_parser = colours)]
    pub colours: Option<Palette>,

    /// Answer with one JSON document
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    pub json: bool,

    /// Begin at the shelf, not where the screen was last left
    #[arg(long)]
    pub at_shelf: bool,

    /// How pictures of cards are shown on the screen
    #[arg(
        long,
        env = "RINGBOUND_PICTURES",
        hide_env_values = true,
        value_parser = pictures(),
        default_value = "auto",
        value_name = "HOW"
    )]
    pub pictures: PictureMode,

    /// The arguments that were given, here or in the environment, by their names.
    #[arg(skip)]
    pub given: BTreeSet<String>,

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
    /// The binders as they stand on the shelf, and how far each is
    Shelf,
    /// The drafts of a binder with what each would cost; or adopt one
    Drafts(DraftsArgs),
    /// Find cards by number or name over all binders, or a binder by its title
    Find(FindArgs),
    /// Show a binder or one of its pages, pocket by pocket
    Show(ShowArgs),
    /// How far each set is
    Completion(Only),
    /// Pockets that do not hold their card, and cards without a pocket that are missing
    Gaps(Narrow),
    /// What to look for elsewhere: gaps for which there is no copy yet
    Wants(WantsArgs),
    /// Loose copies to swap away
    Spares(SparesArgs),
    /// Loose copies and the pockets that they go to
    Waiting(Narrow),
    /// Lay a binder out by sections: rules that make a draft
    #[command(after_help = layout::LAYOUT_HELP)]
    Layout {
        #[command(subcommand)]
        what: Layout,
    },
    /// The work from what lies in the binders to what should: the fewest cards taken out
    Plan(PlanArgs),
    /// How to sort a pile by hand before it is filed: which numbers go on which heap
    SortPile(SortPileArgs),
    /// Which runs are collected, and which are not
    Runs(RunsArgs),
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
    /// Does each binder close over its pages, and do the cards fit the pockets?
    Fit(FitArgs),
    /// Pages, binders and sleeves: what the layouts take, what is to be bought, what it costs
    Supplies(SuppliesArgs),
    /// Say which rings a binder has
    Rings(RingsArgs),
    /// Which cards have pictures of their own, and which files belong to no card
    Pictures(PicturesArgs),
    /// Is the collection whole?
    Check(CheckArgs),
    /// Go back to an earlier state, or decide about a hand edit; lists what is kept
    Recover(RecoverArgs),
    /// Take back the last step
    Undo,
    /// Do again what was taken back last
    Redo,
    /// The steps that were done, the last one first
    History(HistoryArgs),
    /// Where your settings lie and what they change; every entry with what is built in
    Settings(SettingsArgs),
    /// Try it out with an invented collection; nothing is kept
    Demo(DemoArgs),
    /// What a shell needs to complete commands and options
    ///
    /// Written to standard output. Your shell's own documentation says where it is to be put.
    ShellCompletions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// The manual as man pages
    ///
    /// The page of the program on standard output, or all pages into a folder.
    Man {
        /// Write every page into this folder, which must be there
        #[arg(long, value_name = "DIR")]
        into: Option<PathBuf>,
    },
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound pictures             what there is, and which files fit no card
  ringbound pictures --read      and whether each can be read

The folder is pictures in the folder of the collection. In it a folder for each set, called by its
code; in that a file for each card, called by its number, or by number and finish:
  FEN/12.png, FEN/12 reverse.jpg, FEN/007.webp")]
pub struct PicturesArgs {
    /// Read every picture, to see whether it can be
    #[arg(long)]
    pub read: bool,
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
  ringbound new FEN \"1 to 120 and P1 to P6, in regular and reverse\" --title \"The Fen\"
  ringbound new DAL 001-080 --page 3x4 --sides one

A number is kept as written: 001 to 120 keeps its zeros, P1 to P6 its letter.
Names and rarities may follow later with: ringbound import checklist FILE")]
pub struct NewArgs {
    /// The set's code: one word, as on its cards
    pub code: String,
    /// The numbers and the finishes, for instance: 1 to 120 and P1 to P6, in regular and reverse
    ///
    /// Without them a set that is there and has no binder gets one.
    #[arg(num_args = 0..)]
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

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound show FEN           the whole binder
  ringbound show FEN 3         page 3, front and back
  ringbound show FEN 3 --side back")]
pub struct ShowArgs {
    /// The binder's name
    pub binder: String,
    /// The page, counted from 1; without it the whole binder
    #[arg(value_parser = from_one)]
    pub page: Option<usize>,
    /// This side only
    #[arg(long, value_parser = choice::side())]
    pub side: Option<Side>,
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

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound drafts FEN                  what each draft would cost
  ringbound drafts FEN --adopt autumn   it is the layout now; no card moves by that")]
pub struct DraftsArgs {
    /// The binder's name
    pub binder: String,
    /// Adopt this draft as the layout; the cards follow as you work off `ringbound plan`
    #[arg(long, value_name = "DRAFT")]
    pub adopt: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound find 12a
  ringbound find fen heron        a set's code and a part of a name")]
pub struct FindArgs {
    /// A number, parts of a name, the code or the title of a set
    #[arg(required = true)]
    pub words: Vec<String>,
    /// At most so many cards, the best first
    #[arg(long, default_value_t = 20, value_name = "CARDS")]
    pub most: usize,
}
