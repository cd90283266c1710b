//! Parse, run a face, turn the result into an exit code.

use std::io::IsTerminal;
use std::process::ExitCode;

use ringbound::cli::{self, Face, PictureWord, ScreenRequest};
use ringbound::ui::{self, Given, Look, PictureMode};

fn main() -> ExitCode {
    survive_file_size_limits();
    let cli = match cli::parse() {
        Ok(cli) => cli,
        Err(exit) => return exit.into(),
    };
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    match cli::run(&cli, terminal) {
        Face::Done(exit) => exit.into(),
        Face::Screen(request) => screen(*request),
    }
}

/// A write beyond a limit on the size of files (setrlimit(2), RLIMIT_FSIZE) comes with a signal that
/// ends the process. Handled, the write fails instead, and what could not be kept is told.
fn survive_file_size_limits() {
    #[cfg(unix)]
    {
        use signal_hook::consts::SIGXFSZ;
        // Nobody asks the flag. Where it cannot be had, the process ends as it did without.
        signal_hook::flag::register(SIGXFSZ, Default::default()).ok();
    }
}

fn screen(request: ScreenRequest) -> ExitCode {
    let look = Look::from_env(|name| std::env::var(name).ok());
    let given = Given {
        words: request.words(),
        prices: request.prices,
        prices_amiss: request.prices_amiss,
        spot: request.spot,
        is_demo: request.scratch.is_some(),
        pictures: request.pictures,
        picture_mode: match request.picture_mode {
            PictureWord::Auto => PictureMode::Auto,
            PictureWord::Off => PictureMode::Off,
            PictureWord::Blocks => PictureMode::Blocks,
            PictureWord::Kitty => PictureMode::Kitty,
            PictureWord::Sixel => PictureMode::Sixel,
            PictureWord::Iterm2 => PictureMode::Iterm2,
        },
    };
    match ui::run(request.session, look, given) {
        Ok(mut ended) => {
            if let Some(spot) = &ended.spot {
                ended.session.keep_spot(spot);
            }
            cli::close(ended.session);
            // As a shell tells a program that a signal ended.
            let code = ended
                .signal
                .and_then(|signal| u8::try_from(128 + signal).ok());
            code.map_or(ExitCode::SUCCESS, ExitCode::from)
        }
        Err(e) => cli::failed(&e).into(),
    }
}
