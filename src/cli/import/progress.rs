//! A file while it is read: how much of it is, and whether the person has asked to stop. As long
//! as it is read nothing is altered, so stopping leaves nothing half done.

use std::io::{self, IsTerminal, Write};
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

    pub(super) fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// Words on standard error while a file is read, where that is a terminal and it takes long.
#[derive(Debug)]
pub(super) struct Progress {
    bytes: Option<u64>,
    begun: Instant,
    told: Option<Instant>,
    shows: bool,
}

impl Progress {
    /// `bytes` is how many there are, if that is known.
    pub(super) fn new(bytes: Option<u64>) -> Self {
        Self {
            bytes,
            begun: Instant::now(),
            told: None,
            shows: io::stderr().is_terminal(),
        }
    }

    /// So many bytes are read.
    pub(super) fn tell(&mut self, read: u64) {
        let now = Instant::now();
        let since = self.told.map_or(now - self.begun, |told| now - told);
        if !self.shows || since < self.told.map_or(SOON, |_| AGAIN) {
            return;
        }
        self.told = Some(now);
        // If it cannot be written there is nobody to tell.
        write!(
            io::stderr(),
            "\rreading: {}; Ctrl-C stops, nothing is changed yet",
            self.words(read)
        )
        .ok();
    }

    fn words(&self, read: u64) -> String {
        let shown = read / 1_000_000;
        match self.bytes {
            Some(bytes) => {
                let share = read.min(bytes) * 100 / bytes.max(1);
                format!("{shown} MB, {share} %")
            }
            None => format!("{shown} MB"),
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.told.is_some() {
            // The line is for what comes next.
            write!(io::stderr(), "\r\x1b[K").ok();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;
    use crate::session::Watched;

    #[test]
    fn what_is_read_is_told_in_megabytes_and_as_a_share() {
        let of = |bytes, read| Progress::new(bytes).words(read);
        assert_eq!(of(Some(11), 3), "0 MB, 27 %");
        assert_eq!(of(Some(8_000_000), 2_000_000), "2 MB, 25 %");
        assert_eq!(of(None, 2_000_000), "2 MB");
    }

    #[test]
    fn what_is_read_is_as_it_is_until_one_asks_to_stop() {
        let stop = Stop::default();
        let mut read = Watched::new(&b"set,number\n"[..], |_| !stop.is_asked());
        let mut first = [0; 3];
        read.read_exact(&mut first).unwrap();
        assert_eq!(&first, b"set");
        stop.0.store(true, Ordering::Relaxed);
        assert!(read.read_to_end(&mut Vec::new()).is_err());
        assert!(stop.ensure_not_asked("").is_err());
    }
}
