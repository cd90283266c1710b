//! Parse, run a face, turn the result into an exit code.

use std::io::IsTerminal;
use std::process::ExitCode;

use ringbound::cli::{self, Face};

fn main() -> ExitCode {
    let cli = match cli::parse() {
        Ok(cli) => cli,
        Err(exit) => return exit.into(),
    };
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    match cli::run(&cli, terminal) {
        Face::Done(exit) => exit.into(),
        // The place of the screen.
        Face::Screen(request) => {
            drop(request);
            ExitCode::FAILURE
        }
    }
}
