//! Arguments of what is done with a pile.

use clap::Args;

use super::from_one;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound sort-pile --cards 500 --places 8           how often 500 cards are dealt out
  ringbound sort-pile --places 6 --set FEN --set ASH   which numbers go on which heap
  ringbound sort-pile --loose                          the loose copies of the collection

The cards are sorted into the order of the shelf's pockets, so that they can be filed in one walk.
Lay out one heap for each range, pick the heaps up in order, and deal each of them out again.")]
pub struct SortPileArgs {
    /// How many cards the stack has; without it, any stack of the cards that may be in it
    #[arg(long, value_name = "NUMBER", value_parser = from_one)]
    pub cards: Option<usize>,
    /// How many heaps there is room for on the table
    #[arg(long, value_name = "NUMBER", default_value_t = 6, value_parser = clap::value_parser!(u32).range(2..=1_000))]
    pub places: u32,
    /// Only cards of this set are in the stack; may be given several times
    #[arg(long, value_name = "CODE")]
    pub set: Vec<String>,
    /// The stack is the collection's loose copies
    #[arg(long, conflicts_with = "cards")]
    pub loose: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound packs FEN --pack-size 10
  ringbound packs FEN --pack-size 10 --odds \"common=7,scarce=2,rare=1\"
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
