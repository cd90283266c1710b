//! Arguments of what is done with a pile.

use std::path::PathBuf;

use clap::Args;

use super::{Only, from_one};
use crate::report::{LEAST_HEAPS, MOST_HEAPS};

/// What of a list is asked for.
#[derive(Debug, Args)]
pub struct Narrow {
    #[command(flatten)]
    pub only: Only,
    /// In this finish only
    #[arg(long, value_name = "NAME")]
    pub finish: Option<String>,
    /// Of this rarity only
    #[arg(long, value_name = "NAME")]
    pub rarity: Option<String>,
    /// With its pocket in this binder only
    #[arg(long, value_name = "NAME")]
    pub binder: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound sort-pile --cards 500 --heaps 8            how often 500 cards are dealt out
  ringbound sort-pile --heaps 6 --set FEN --set DAL   which numbers go on which heap
  ringbound sort-pile --loose                          the loose copies of the collection

The cards are sorted into the order of the shelf's pockets, so that they can be filed in one walk.
Lay out one heap for each range, pick the heaps up in order, and deal each of them out again.")]
pub struct SortPileArgs {
    /// How many cards the pile has; without it, any pile of the cards that may be in it
    #[arg(long, value_name = "NUMBER", value_parser = from_one)]
    pub cards: Option<usize>,
    /// How many heaps there is room for on the table
    #[arg(long, value_name = "NUMBER", default_value_t = 6, value_parser = clap::value_parser!(u32).range(i64::from(LEAST_HEAPS)..=i64::from(MOST_HEAPS)))]
    pub heaps: u32,
    /// Only cards of this set are in the pile; may be given several times
    #[arg(long, value_name = "CODE")]
    pub set: Vec<String>,
    /// The pile is the collection's loose copies
    #[arg(long, conflicts_with = "cards")]
    pub loose: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound packs FEN --pack-size 8
  ringbound packs FEN --pack-size 8 --odds \"common=5,scarce=2,rare=1\"
  ringbound packs FEN --pack-size 5 --odds \"common=4,rare=0.75,heirloom=0.25\"

A pack is taken to hold different cards, each card of a rarity as likely as any other. Of several
rarities each is drawn for itself. 0.25 means one in every fourth pack; 0 means that packs have
none. Odds that do not add up to the size of a pack are taken as shares of it.

The answer is what to expect of random packs on average. It is not advice to buy any.")]
pub struct PacksArgs {
    /// The set's code
    pub set: String,
    /// Cards of the set in a pack
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=200))]
    pub pack_size: u32,
    /// How many cards of each rarity a pack holds; without it all cards are alike
    #[arg(long, value_name = "RARITY=NUMBER,…")]
    pub odds: Option<String>,
    /// The finish that comes in the packs; without it the set's first
    #[arg(long, value_name = "NAME")]
    pub finish: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound wants --set FEN
  ringbound wants --finish reverse --rarity rare
  ringbound export wants wants.csv               the list to hand to somebody

A run (a set in one finish) is wanted if a pocket is meant for one of its cards; in a set without
any pocket every run is. A run that was left out (ringbound runs) is not. --all lists all.")]
pub struct WantsArgs {
    #[command(flatten)]
    pub narrow: Narrow,
    /// Runs that you do not collect too
    #[arg(long)]
    pub all: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound runs                                 which are collected
  ringbound runs --set FEN --leave-out reverse   the reverses of FEN are not
  ringbound runs --set FEN --collect reverse     they are again

A run is the cards of a set in one finish. Of one that is left out nothing is wanted, its empty
pockets are free, and loose copies are spare. Cards that lie in their pockets stay there.")]
pub struct RunsArgs {
    #[command(flatten)]
    pub only: Only,
    /// This finish is not collected
    #[arg(
        long,
        value_name = "FINISH",
        requires = "set",
        conflicts_with = "collect"
    )]
    pub leave_out: Option<String>,
    /// This finish is collected again; that alone gives it no pockets
    #[arg(long, value_name = "FINISH", requires = "set")]
    pub collect: Option<String>,
}

#[derive(Debug, Args)]
pub struct SparesArgs {
    #[command(flatten)]
    pub narrow: Narrow,
    /// Keep so many spare copies of each card, and list those beyond
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub keep: u32,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Both files are CSV with the columns set, number, and if you like finish (`regular`) and count (1):
what `ringbound export wants` and `ringbound export spares` write. Cards of sets that are not here
are passed over.

Examples:
  ringbound swap their-wants.csv their-spares.csv               a sheet to talk over
  ringbound swap their-wants.csv their-spares.csv --by-rarity   a rare one for a rare one
  ringbound swap their-wants.csv their-spares.csv --carry-out   done; ringbound undo takes it back")]
pub struct SwapArgs {
    /// What the other collector wants; - for standard input
    pub their_wants: PathBuf,
    /// What the other collector has to spare; - for standard input
    pub their_spares: PathBuf,
    /// Only for a card of the same rarity; cards without a rarity go with any
    #[arg(long)]
    pub by_rarity: bool,
    /// Keep so many spare copies of each card
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub keep: u32,
    /// Take the good rows, list the others
    #[arg(long)]
    pub skip_bad: bool,
    /// The proposed swap was made: what you gave leaves, what you got comes in loose
    #[arg(long)]
    pub carry_out: bool,
}
