//! Parse, run a face, turn the result into an exit code.

use std::io::IsTerminal;
use std::process::ExitCode;
use std::thread::{self, JoinHandle};

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
    let look = Look::asked_for(&request);
    // What takes long to open has words on the screen meanwhile, and for these the colours.
    let (theme, shown, opened) = if request.is_long() {
        let theme = look.found();
        (theme, Some(begun(theme)), request.open())
    } else {
        let opened = request.open();
        (look.found(), None, opened)
    };
    cli::note(&format!("the screen: {}", theme.look));
    let opened = match opened {
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
        last_place: opened.last_place,
        is_demo: opened.scratch.is_some(),
        pictures: opened.pictures,
    };
    let shown = shown.unwrap_or_else(|| ui::begin(theme));
    match shown.and_then(|shown| shown.run(opened.session, given)) {
        Ok(mut ended) => {
            if let Some(last_place) = &ended.last_place {
                ended.session.keep_last_place(last_place);
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

/// The terminal with words on it, while what is to be shown is opened.
fn begun(theme: Theme) -> Result<Begun, UiError> {
    let words = |mut begun: Begun| begun.say("Opening the collection").map(|()| begun);
    ui::begin(theme).and_then(words)
}

/// The colours and signs of the screen. The terminal may have to be asked for its background; until
/// it answers, the collection is read.
struct Look {
    asked: Option<Palette>,
    settings: Settings,
    answer: Option<JoinHandle<Theme>>,
}

impl Look {
    fn asked_for(request: &ScreenRequest) -> Self {
        let (asked, settings) = (request.asked, request.settings().clone());
        let ask = {
            let settings = settings.clone();
            move || theme(asked, &settings, ui::is_light)
        };
        Self {
            asked,
            settings,
            answer: thread::Builder::new().spawn(ask).ok(),
        }
    }

    /// Where the terminal could not be asked it is taken for one that does not tell.
    fn found(self) -> Theme {
        let answer = self.answer.map(JoinHandle::join);
        let unasked = || theme(self.asked, &self.settings, || None);
        answer.and_then(Result::ok).unwrap_or_else(unasked)
    }
}
