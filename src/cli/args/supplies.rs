//! Arguments of supplies and fit.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::{choice, from_one};
use crate::supplies::Sleeves;

/// How thick things are. Makers differ: measure ten together and divide.
#[derive(Debug, Args)]
#[command(next_help_heading = "Measures")]
pub struct MeasureArgs {
    /// Sleeves of a card
    #[arg(long, value_parser = choice::sleeves(), default_value = "one")]
    pub sleeves: Sleeves,
    /// Thickness of a card in millimetres
    #[arg(long, value_name = "MM", default_value = "0.3")]
    pub card_mm: String,
    /// Thickness of one layer of a page
    #[arg(long, value_name = "MM", default_value = "0.08")]
    pub film_mm: String,
    /// Thickness of one layer of a sleeve
    #[arg(long, value_name = "MM", default_value = "0.06")]
    pub sleeve_mm: String,
}

/// Where prices stand.
#[derive(Debug, Args)]
pub struct PriceArgs {
    /// The price list; - for standard input [default: prices.csv in the folder of the collection]
    #[arg(long, value_name = "FILE")]
    pub prices: Option<PathBuf>,
    /// Take the good rows of the price list, list the others
    #[arg(long)]
    pub skip_bad: bool,
}

/// What is counted as needed, and by which prices.
#[derive(Debug, Args)]
pub struct CountedArgs {
    /// This binder only
    #[arg(long, value_name = "NAME")]
    pub binder: Option<String>,
    /// Count a binder by this draft instead of its layout; may be given several times
    #[arg(long, value_name = "BINDER=NAME")]
    pub draft: Vec<String>,
    /// Count from nothing: as if no binder and no page were there yet
    #[arg(long)]
    pub from_nothing: bool,
    #[command(flatten)]
    pub prices: PriceArgs,
    #[command(flatten)]
    pub measure: MeasureArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound fit                                 every binder: does it close?
  ringbound fit FEN                             one binder: where to split it, do the cards fit
  ringbound fit FEN --draft \"FEN=rares first\"   by a draft
  ringbound fit FEN DAL --together --rings \"40 D\"   both in one binder
  ringbound fit FEN --depth 38                  with the depth that you have measured

What rings hold is an estimate: a round ring holds at most its size, a D ring up to a quarter more
(one article of the trade, no standard), and a fifth of that is left free so that pages turn.
Thicknesses are common values, from no standard either. Your own measures count more.")]
pub struct FitArgs {
    /// The binders; if none is named, all
    pub binder: Vec<String>,
    /// Take this draft of a binder instead of its layout; may be given several times
    #[arg(long, value_name = "BINDER=NAME")]
    pub draft: Vec<String>,
    /// Take what lies in the binders now, instead of what should
    #[arg(long, conflicts_with = "draft")]
    pub contents: bool,
    /// All these in one binder
    #[arg(long)]
    pub together: bool,
    /// As if the rings were of this size and shape: \"40 D\", \"30 round\"
    #[arg(long, value_name = "RINGS")]
    pub rings: Option<String>,
    /// Depth for pages between the covers, in millimetres, as you have measured it
    #[arg(long, value_name = "MM")]
    pub depth: Option<String>,
    /// By how much a sleeve is wider and higher than its card [default: 2, with two sleeves 3]
    #[arg(long, value_name = "MM")]
    pub sleeve_adds: Option<String>,
    #[command(flatten)]
    pub measure: MeasureArgs,
}

#[derive(Debug, Args)]
#[command(
    args_conflicts_with_subcommands = true,
    after_help = "\
Examples:
  ringbound supplies                                  all layouts, against what is there
  ringbound supplies --binder FEN --from-nothing      what one binder takes from nothing
  ringbound supplies --draft \"FEN=rares first\"
  ringbound supplies --order \"page 3x3 backed=2\"      what an order of 2 packs leaves over
  ringbound supplies compare --cards 200              rings or fixed pages, backed or clear

Prices and what is in the drawer stand in a CSV file of yours, prices.csv in the folder of the
collection or the one that --prices names. Columns: item, size; and pack (pieces in a pack, 1 if
nothing is said), price, currency (ISO 4217), on_hand, note. A row gives a price, or what is on
hand, or both:
  item,size,pack,price,currency,on_hand
  page,3x3 backed,50,25.00,EUR,4
  page,3x3 backed,10,6.00,EUR,
  page,2x2 clear,10,5.50,EUR,
  ring binder,40 D,1,14.90,EUR,
  fixed binder,20 3x3 backed,1,24.00,EUR,
  sleeve,,50,3.00,EUR,120
  inner sleeve,,100,4.00,EUR,
  sleeve,130x180,10,2.50,EUR,

A backed page has pockets of their own in front and behind; a clear one takes one card in a pocket,
or two back to back. A sleeve without a size is for usual cards. The purchase is the cheapest there
is in these packs, exactly; of equal ones the one that leaves least over."
)]
pub struct SuppliesArgs {
    #[command(subcommand)]
    pub command: Option<SuppliesCommand>,
    #[command(flatten)]
    pub counted: CountedArgs,
    /// What so many packs of an item leave over; N, or NxPACK where it is sold in several
    #[arg(long, value_name = "ITEM=N")]
    pub order: Vec<String>,
}

#[derive(Debug, Subcommand)]
pub enum SuppliesCommand {
    /// Ways to keep so many cards, side by side
    Compare(CompareArgs),
}

#[derive(Debug, Args)]
pub struct CompareArgs {
    /// Cards to keep; without it those of all layouts
    #[arg(long, value_name = "NUMBER", value_parser = from_one)]
    pub cards: Option<usize>,
    /// Pockets of a page, rows x columns
    #[arg(long, value_name = "GRID", default_value = "3x3")]
    pub page: String,
    #[command(flatten)]
    pub prices: PriceArgs,
    #[command(flatten)]
    pub measure: MeasureArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound rings FEN 40 D
  ringbound rings DAL 30 round
  ringbound rings DAL unknown")]
pub struct RingsArgs {
    /// The binder's name
    pub binder: String,
    /// Size in millimetres and shape (D or round), or unknown
    #[arg(required = true, num_args = 1..)]
    pub rings: Vec<String>,
}
