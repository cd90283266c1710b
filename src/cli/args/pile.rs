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
