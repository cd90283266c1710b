//! Parse, run a face, turn the result into an exit code.

use std::io::IsTerminal;
use std::process::ExitCode;

use ringbound::cli::{self, Face, PictureWord, ScreenRequest};
use ringbound::ui::{self, Begun, Given, Look, PictureMode, UiError};

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
    let shown = begun(&request, look);
    let opened = match request.open() {
        Ok(opened) => opened,
        Err(e) => {
            // The terminal is given back before it is told.
            drop(shown);
            return cli::refused(&e).into();
        }
    };
    let given = Given {
        words: opened.words(),
        prices: opened.prices,
        prices_amiss: opened.prices_amiss,
        pictures: opened.pictures,
        picture_mode: match opened.picture_mode {
            PictureWord::Auto => PictureMode::Auto,
            PictureWord::Off => PictureMode::Off,
            PictureWord::Blocks => PictureMode::Blocks,
            PictureWord::Kitty => PictureMode::Kitty,
            PictureWord::Sixel => PictureMode::Sixel,
            PictureWord::Iterm2 => PictureMode::Iterm2,
        },
    };
    let shown = shown.unwrap_or_else(|| ui::begin(look));
    match shown.and_then(|shown| shown.run(opened.session, given)) {
        Ok(ended) => {
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

/// The terminal with words on it, where it takes long to open what is to be shown.
fn begun(request: &ScreenRequest, look: Look) -> Option<Result<Begun, UiError>> {
    let words = |mut begun: Begun| begun.say("Opening the collection").map(|()| begun);
    request.is_long().then(|| ui::begin(look).and_then(words))
}
