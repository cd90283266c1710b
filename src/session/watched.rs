//! Input that is told about while it is read, and can be stopped.

use std::io::{self, Read};

/// `watch` is told before each piece how many bytes are read, and says whether to go on.
#[derive(Debug)]
pub struct Watched<R, W> {
    input: R,
    read: u64,
    stopped: bool,
    watch: W,
}

impl<R, W: FnMut(u64) -> bool> Watched<R, W> {
    pub fn new(input: R, watch: W) -> Self {
        Self {
            input,
            read: 0,
            stopped: false,
            watch,
        }
    }

    /// Asks once more. What was stopped stays so.
    pub fn goes_on(&mut self) -> bool {
        self.stopped = self.stopped || !(self.watch)(self.read);
        !self.stopped
    }

    pub fn is_stopped(&self) -> bool {
        self.stopped
    }
}

impl<R: Read, W: FnMut(u64) -> bool> Read for Watched<R, W> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if !self.goes_on() {
            return Err(io::Error::other("stopped as asked"));
        }
        let read = self.input.read(into)?;
        self.read += read as u64;
        Ok(read)
    }
}
