//! What wakes the loop: keys and mouse on one thread, signals on another, so that a vanished
//! terminal ends the program at once and nothing runs while nothing happens.

use std::io;
use std::sync::mpsc::Sender;
use std::thread;

use crossterm::event::{self, Event};

use super::gallery::Made;

/// Something the loop has to look at.
#[derive(Debug)]
pub(super) enum Wake {
    Input(Event),
    /// What works beside the loop has something to tell.
    Told,
    /// No more input can be read.
    InputEnded,
    /// A signal that asks to end, by its number.
    End(i32),
    /// Asked to stop by the shell.
    Stop,
    /// Going on after a stop.
    Continued,
    /// A picture of a card is there.
    Picture(Made),
}

/// Listens to signals, on a thread that ends with the process.
///
/// # Errors
/// The signals cannot be had, or no thread.
pub(super) fn signals(out: &Sender<Wake>) -> io::Result<()> {
    #[cfg(unix)]
    {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
        let mut signals =
            signal_hook::iterator::Signals::new([SIGHUP, SIGINT, SIGTERM, SIGTSTP, SIGCONT])?;
        let out = out.clone();
        thread::Builder::new()
            .name("signals".into())
            .spawn(move || {
                for signal in signals.forever() {
                    let wake = match signal {
                        SIGTSTP => Wake::Stop,
                        SIGCONT => Wake::Continued,
                        signal => Wake::End(signal),
                    };
                    if out.send(wake).is_err() {
                        return;
                    }
                }
            })?;
    }
    #[cfg(not(unix))]
    drop(out);
    Ok(())
}

/// Reads keys and the mouse, on a thread that ends with the process.
///
/// # Errors
/// No thread can be had.
pub(super) fn input(out: Sender<Wake>) -> io::Result<()> {
    thread::Builder::new().name("input".into()).spawn(move || {
        loop {
            let (wake, ended) = match event::read() {
                Ok(event) => (Wake::Input(event), false),
                Err(_) => (Wake::InputEnded, true),
            };
            if out.send(wake).is_err() || ended {
                return;
            }
        }
    })?;
    Ok(())
}

/// Stops this process until the shell lets it go on.
pub(super) fn stop() {
    #[cfg(unix)]
    // SIGSTOP, since SIGTSTP is ours and is ignored in an orphaned process group.
    drop(signal_hook::low_level::raise(signal_hook::consts::SIGSTOP));
}
