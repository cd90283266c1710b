//! Arguments of what goes on paper.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::{
    CountedArgs, Narrow, PlanArgs, SortPileArgs, SparesArgs, SwapArgs, WantsArgs, choice, from_one,
};
use crate::model::Side;
use crate::paper::{Format, Turn};

#[derive(Debug, Subcommand)]
pub enum Print {
    /// Spine labels of binders, or of the whole shelf
    Labels(LabelArgs),
    /// The page for the front of a binder: its layout, with a box to tick for each gap
    Index {
        /// The binder's name
        binder: String,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// What to look for elsewhere
    Wants {
        #[command(flatten)]
        wants: WantsArgs,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// What to swap away
    Spares {
        #[command(flatten)]
        spares: SparesArgs,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// The sheet to talk over with another collector
    Swap {
        #[command(flatten)]
        swap: SwapArgs,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// The work sheet: what to put where
    WorkSheet {
        #[command(flatten)]
        plan: PlanArgs,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// The shopping list: pages, binders and sleeves
    Shopping(ShoppingArgs),
    /// How to sort a pile by hand
    Pile {
        #[command(flatten)]
        pile: SortPileArgs,
        #[command(flatten)]
        paper: PaperArgs,
    },
    /// Paper in the size of a card for each gap, to stand in for the card that is missing
    Pockets(PocketArgs),
    /// A picture of a page, or of the spread that one sees with it
    Page(PageArgs),
}

impl Print {
    pub fn paper(&self) -> &PaperArgs {
        match self {
            Self::Labels(args) => &args.paper,
            Self::Pockets(args) => &args.paper,
            Self::Page(args) => &args.paper,
            Self::Shopping(args) => &args.paper,
            Self::Index { paper, .. }
            | Self::Wants { paper, .. }
            | Self::Spares { paper, .. }
            | Self::Swap { paper, .. }
            | Self::WorkSheet { paper, .. }
            | Self::Pile { paper, .. } => paper,
        }
    }

    pub fn paper_mut(&mut self) -> &mut PaperArgs {
        match self {
            Self::Labels(args) => &mut args.paper,
            Self::Pockets(args) => &mut args.paper,
            Self::Page(args) => &mut args.paper,
            Self::Shopping(args) => &mut args.paper,
            Self::Index { paper, .. }
            | Self::Wants { paper, .. }
            | Self::Spares { paper, .. }
            | Self::Swap { paper, .. }
            | Self::WorkSheet { paper, .. }
            | Self::Pile { paper, .. } => paper,
        }
    }
}

#[derive(Debug, Args)]
#[command(next_help_heading = "Paper")]
pub struct PaperArgs {
    /// The file to write: .pdf, .svg, .png, .txt or .md; - for standard output
    ///
    /// SVG and PNG hold one sheet each: of several, each goes into a file of its own, with its
    /// number at the end of the name.
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// a4, letter, a3, a5, or width x height in millimetres [default: a4]
    #[arg(long, value_name = "SIZE")]
    pub paper: Option<String>,
    /// Where none is named.
    #[arg(skip)]
    pub usual: Box<str>,
    /// The format, if the file's name does not say it
    #[arg(long, value_parser = choice::format())]
    pub format: Option<Format>,
    /// Of several sheets of paper only this one, from 1
    #[arg(long, value_name = "NUMBER", value_parser = from_one)]
    pub sheet: Option<usize>,
    /// Write over a file that is there
    #[arg(long)]
    pub overwrite: bool,
    /// A TrueType or OpenType font for characters that the built-in one lacks; may be given
    /// several times
    #[arg(long, value_name = "FILE")]
    pub font: Vec<PathBuf>,
    /// Of an invented collection, to see what it looks like
    #[arg(long)]
    pub demo: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
A label shows the symbol and the shelf number of the binder's set, and the binder's title. It is as
wide as the binder's rings are large: the spine is wider than that. Measure yours, and say --spine.

Examples:
  ringbound print labels --out labels.pdf
  ringbound print labels FEN DAL --spine 32 --height 220 --out two.pdf
  ringbound print labels FEN --picture boat.svg --out fen.pdf
  ringbound print labels --picture FEN=boat.svg --picture DAL=leaf.png --out all.pdf")]
pub struct LabelArgs {
    /// Names of binders; without them the whole shelf
    pub binders: Vec<String>,
    /// The width of the labels in millimetres
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = millimetres)]
    pub spine: Option<f64>,
    /// The height of the labels in millimetres [default: 190, or what the paper has room for]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = millimetres)]
    pub height: Option<f64>,
    /// Kept free inside the edges, in millimetres
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = millimetres, default_value = "2")]
    pub margin: f64,
    /// Kept free at the foot, in millimetres
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = millimetres, default_value = "30")]
    pub foot: f64,
    /// How the title runs
    #[arg(long, value_parser = choice::reading(), default_value = "down")]
    pub reading: Turn,
    /// A picture for the label, SVG or PNG; with several binders BINDER=FILE
    #[arg(long, value_name = "FILE")]
    pub picture: Vec<String>,
    #[command(flatten)]
    pub paper: PaperArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound print pockets --binder FEN --out gaps.pdf
  ringbound print pockets --set FEN --rarity rare --size 60x90 --out rares.pdf")]
pub struct PocketArgs {
    #[command(flatten)]
    pub narrow: Narrow,
    /// The size of a card in millimetres, where the checklist does not say it
    #[arg(long, value_name = "SIZE", default_value = "63.5x88.9")]
    pub size: String,
    #[command(flatten)]
    pub paper: PaperArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
What is counted, and the file with your prices, are those of: ringbound supplies --help")]
pub struct ShoppingArgs {
    #[command(flatten)]
    pub counted: CountedArgs,
    #[command(flatten)]
    pub paper: PaperArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Without --side it is the spread that one sees with the page: the back of the page before it at the
left, its front at the right. SVG and PNG have the size of the pages themselves, unless --paper is
given; in a PDF they are made small enough for the paper.

Examples:
  ringbound print page FEN 3 --out spread.svg
  ringbound print page FEN 3 --side back --out back.pdf --paper a4")]
pub struct PageArgs {
    /// The binder's name
    pub binder: String,
    /// The page, from 1
    #[arg(value_parser = from_one)]
    pub page: usize,
    /// This side only
    #[arg(long, value_parser = choice::side())]
    pub side: Option<Side>,
    #[command(flatten)]
    pub paper: PaperArgs,
}

/// A length from 0 to 2,000 mm, a comma or a point before its tenths.
fn millimetres(word: &str) -> Result<f64, String> {
    let word = word
        .trim()
        .trim_end_matches("mm")
        .trim_end()
        .replace(',', ".");
    let plain = word.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    match word.parse::<f64>() {
        Ok(length) if plain && length <= 2_000.0 => Ok(length),
        _ => Err("write millimetres as a number, for instance 25 or 27.5".into()),
    }
}
