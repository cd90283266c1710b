//! A file while it is read: how much of it is, and whether the person has asked to stop. As long
//! as it is read nothing is altered, so stopping leaves nothing half done.

use std::io::{self, IsTerminal, Read, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crate::cli::error::CliError;

/// A file that is read sooner is not worth a word.
const SOON: Duration = Duration::from_millis(300);
/// How often the words change.
const AGAIN: Duration = Duration::from_millis(100);

/// Whether an interrupt (SIGINT) has come since it was listened for.
#[derive(Clone, Debug, Default)]
pub(super) struct Stop(Arc<AtomicBool>);

impl Stop {
    /// From now on an interrupt no longer ends the process at once.
    pub(super) fn listen() -> Self {
        let stop = Self::default();
        #[cfg(unix)]
        {
            let asked = Arc::clone(&stop.0);
            // Where it cannot be had, an interrupt ends the process as it did before.
            signal_hook::flag::register(signal_hook::consts::SIGINT, asked).ok();
        }
        stop
    }

    /// # Errors
    /// It has come.
    pub(super) fn ensure_not_asked(&self, undone: &str) -> Result<(), CliError> {
        if self.is_asked() {
            return Err(CliError::stopped(undone));
        }
        Ok(())
    }

    fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The input, with words on standard error while it takes long, where that is a terminal.
pub(super) struct Watched<R> {
    input: R,
    read: u64,
    bytes: Option<u64>,
    stop: Stop,
    begun: Instant,
    told: Option<Instant>,
    shows: bool,
}

impl<R: Read> Watched<R> {
    /// `bytes` is how many there are, if that is known.
    pub(super) fn new(input: R, bytes: Option<u64>, stop: Stop) -> Self {
        Self {
            input,
            read: 0,
            bytes,
            stop,
            begun: Instant::now(),
            told: None,
            shows: io::stderr().is_terminal(),
        }
    }

    fn tell(&mut self) {
        let now = Instant::now();
        let since = self.told.map_or(now - self.begun, |told| now - told);
        if since < self.told.map_or(SOON, |_| AGAIN) {
            return;
        }
        self.told = Some(now);
        // If it cannot be written there is nobody to tell.
        write!(
            io::stderr(),
            "\rreading: {}; Ctrl-C stops, nothing is changed yet",
            self.words()
        )
        .ok();
    }

    fn words(&self) -> String {
        let read = self.read / 1_000_000;
        match self.bytes {
            Some(bytes) => {
                let share = self.read.min(bytes) * 100 / bytes.max(1);
                format!("{read} MB, {share} %")
            }
            None => format!("{read} MB"),
        }
    }
}

impl<R: Read> Read for Watched<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.stop.is_asked() {
            return Err(io::Error::other("stopped as asked"));
        }
        let read = self.input.read(into)?;
        self.read += read as u64;
        if self.shows {
            self.tell();
        }
        Ok(read)
    }
}

impl<R> Drop for Watched<R> {
    fn drop(&mut self) {
        if self.told.is_some() {
            // The line is for what comes next.
            write!(io::stderr(), "\r\x1b[K").ok();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_watched_is_read_as_it_is_until_one_asks_to_stop() {
        let stop = Stop::default();
        let mut watched = Watched::new(&b"set,number\n"[..], Some(11), stop.clone());
        let mut first = [0; 3];
        watched.read_exact(&mut first).unwrap();
        assert_eq!(&first, b"set");
        assert_eq!(watched.words(), "0 MB, 27 %");
        stop.0.store(true, Ordering::Relaxed);
        assert!(watched.read_to_end(&mut Vec::new()).is_err());
        assert!(stop.ensure_not_asked("").is_err());
    }
}
