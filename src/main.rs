//! Parse, run a face, turn the result into an exit code.

use std::io::IsTerminal;
use std::process::ExitCode;

use ringbound::cli::{self, Face, ScreenRequest};
use ringbound::settings::{Palette, Settings};
use ringbound::ui::{self, Begun, Given, Theme, UiError};

fn main() -> ExitCode {
    survive_file_size_limits();
    let look = theme(None, &Settings::default(), || None).look;
    let cli = match cli::parse(&look.to_string()) {
        Ok(cli) => cli,
        Err(exit) => return exit.into(),
    };
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    let exit = match cli::run(cli, terminal, ui::known()) {
        Face::Done(exit) => exit as u8,
        Face::Screen(request) => screen(*request),
    };
    cli::note(&format!("ended with {exit}"));
    exit.into()
}

fn theme(
    asked: Option<Palette>,
    settings: &Settings,
    is_light: impl FnOnce() -> Option<bool>,
) -> Theme {
    Theme::choose(|name| std::env::var(name).ok(), asked, settings, is_light)
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

fn screen(request: ScreenRequest) -> u8 {
    let theme = theme(request.asked, request.settings(), ui::is_light);
    cli::note(&format!("the screen: {}", theme.look));
    let shown = begun(&request, theme);
    let opened = match request.open() {
        Ok(opened) => opened,
        Err(e) => {
            // The terminal is given back before it is told.
            drop(shown);
            return cli::refused(&e) as u8;
        }
    };
    let given = Given {
        words: opened.words(),
        prices: opened.prices,
        prices_amiss: opened.prices_amiss,
        settings: opened.settings,
        spot: opened.spot,
        is_demo: opened.scratch.is_some(),
        pictures: opened.pictures,
    };
    let shown = shown.unwrap_or_else(|| ui::begin(theme));
    match shown.and_then(|shown| shown.run(opened.session, given)) {
        Ok(mut ended) => {
            if let Some(spot) = &ended.spot {
                ended.session.keep_spot(spot);
            }
            cli::close(ended.session);
            // As a shell tells a program that a signal ended.
            let code = ended
                .signal
                .and_then(|signal| u8::try_from(128 + signal).ok());
            code.unwrap_or_default()
        }
        Err(e) => cli::failed(&e) as u8,
    }
}

/// The terminal with words on it, where it takes long to open what is to be shown.
fn begun(request: &ScreenRequest, theme: Theme) -> Option<Result<Begun, UiError>> {
    let words = |mut begun: Begun| begun.say("Opening the collection").map(|()| begun);
    request.is_long().then(|| ui::begin(theme).and_then(words))
}
