//! Arguments of the work from what lies in the binders to what should.

use std::path::PathBuf;

use clap::Args;

use super::choice;
use crate::plan::Working;

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
    #[arg(long, value_parser = choice::working(), default_value = "two-passes")]
    pub working: Working,
    /// The work that this draft of the binder would take, instead of the layout in force
    #[arg(
        long,
        value_name = "NAME",
        requires = "first",
        conflicts_with = "after"
    )]
    pub draft: Option<String>,
    /// Leave every page where it is, though more cards are taken out for it
    #[arg(long)]
    pub pages_stay: bool,
}
