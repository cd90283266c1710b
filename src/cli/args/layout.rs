//! Arguments of what is done by sections.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};

#[derive(Debug, Subcommand)]
pub enum Layout {
    /// Ways to begin from: the usual ones, and your own
    Templates(TemplatesArgs),
    /// The sections of a binder or a draft, and what they come to; nothing is changed
    Show(ShowSectionsArgs),
    /// Make a draft by sections, or make a draft anew
    Draft(DraftArgs),
    /// When a set has grown: keep places, or all in order; with what each takes
    Growth(GrowthArgs),
    /// Keep sections under a name of your own, for other sets too
    Save(SaveArgs),
    /// Throw a template of your own away
    ThrowAway(ThrowAwayArgs),
}

pub(super) const LAYOUT_HELP: &str = "\
Examples:
  ringbound layout templates FEN
  ringbound layout draft FEN --template \"Rares in front; pack art\"
  ringbound layout show FEN --rules fen.txt           try rules from a file, a section a line
  ringbound layout draft FEN --rules fen.txt --name autumn
  ringbound layout growth FEN
  ringbound plan FEN --draft autumn                   what adopting it would take, step by step

A section is one line: its name, a colon, and then whatever you like of this, separated by
semicolons:
  which cards   set FEN; finish reverse; finish main (the first of the set); finish others (all
                but the first); rarity rare, scarce; rarity not rare; numbers 1 to 80, P1 to P6;
                cards 12, 7 (picked by hand); oversize; usual size; the rest (what no section
                before it has)
  or keepsakes  keepsakes 4 x pack art, a ticket
  their order   by number; by name; by rarity; by checklist; by list (that of cards); side by side
                (the finishes of a card beside each other)
  the pages     page 3x3; page 3x3 top pocket 64x89; page 3x3 shared; page 3x3 one-sided;
                fronts only; top row empty
  where         new page; new side; new row; flowing on
  growth        room 4 pockets; room 1 page
A card goes to the first section that matches it.
  Rares: finish main; rarity rare; by rarity; page 3x3
  Packaging: keepsakes 2 x packaging; page 3x1; top row empty";

#[derive(Debug, Args)]
pub struct TemplatesArgs {
    /// The binder's name; without it your own templates only
    pub binder: Option<String>,
}

/// Which rules: those of the binder or the draft, or others.
#[derive(Debug, Args)]
pub struct RulesArgs {
    /// By this template instead of its own sections; the beginning of its name will do
    #[arg(long, value_name = "NAME", conflicts_with = "rules")]
    pub template: Option<String>,
    /// By the sections in this file, one a line; - for standard input
    #[arg(long, value_name = "FILE")]
    pub rules: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct ShowSectionsArgs {
    /// The binder's name
    pub binder: String,
    /// Of this draft
    #[arg(long, value_name = "NAME")]
    pub draft: Option<String>,
    #[command(flatten)]
    pub rules: RulesArgs,
}

#[derive(Debug, Args)]
pub struct DraftArgs {
    /// The binder's name
    pub binder: String,
    /// Make this draft anew; what was done by hand in it is kept where it can be
    #[arg(long, value_name = "NAME")]
    pub draft: Option<String>,
    /// The name of a new draft
    #[arg(long, value_name = "NAME", conflicts_with = "draft")]
    pub name: Option<String>,
    #[command(flatten)]
    pub rules: RulesArgs,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WayWord {
    /// What is there keeps its place, new cards go into room and to the end
    KeepPlaces,
    /// All in the order of the sections
    InOrder,
}

#[derive(Debug, Args)]
pub struct GrowthArgs {
    /// The binder's name
    pub binder: String,
    /// Of this draft
    #[arg(long, value_name = "NAME")]
    pub draft: Option<String>,
    #[command(flatten)]
    pub rules: RulesArgs,
    /// Make a draft of this way
    #[arg(long, value_enum, value_name = "WAY")]
    pub make: Option<WayWord>,
}

#[derive(Debug, Args)]
pub struct SaveArgs {
    /// The name to keep them under
    pub name: String,
    /// The binder whose sections they are
    pub binder: String,
    /// Of this draft
    #[arg(long, value_name = "NAME")]
    pub draft: Option<String>,
    #[command(flatten)]
    pub rules: RulesArgs,
}

#[derive(Debug, Args)]
pub struct ThrowAwayArgs {
    /// The template's name
    pub name: String,
}
