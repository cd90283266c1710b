//! Arguments of what looks after the files, and of the steps.

use clap::Args;

use super::from_one;

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
#[command(after_help = "\
Examples:
  ringbound recover                what earlier states and set-aside files there are
  ringbound recover --restore 12   go back to state 12
  ringbound recover --accept       collection.json was edited by hand, and that is right

Whatever the collection is now is kept first: as an earlier state where it is whole, and its
files in the folder set-aside. Nothing is overwritten.")]
pub struct RecoverArgs {
    /// Go back to this earlier state
    #[arg(long, value_name = "STATE", value_parser = state, conflicts_with_all = ["accept", "put_back"])]
    pub restore: Option<u64>,
    /// Take collection.json as it was edited by hand
    #[arg(long, conflicts_with = "put_back")]
    pub accept: bool,
    /// Put collection.json back as it was before it was edited by hand
    #[arg(long)]
    pub put_back: bool,
}

#[derive(Debug, Args)]
pub struct HistoryArgs {
    /// At most so many steps
    #[arg(long, value_name = "NUMBER", default_value_t = 50, value_parser = from_one)]
    pub last: usize,
}

/// The number of an earlier state.
fn state(word: &str) -> Result<u64, String> {
    let number = word.parse();
    number.map_err(|_| "write the number of a state; ringbound recover lists them".into())
}
