//! A program on a pseudo-terminal of 120 x 40 cells, and when its words are on the screen.

use std::io::{Read, Write};
use std::num::NonZero;
use std::sync::mpsc::{self, Receiver};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

const COLUMNS: u16 = 120;
const ROWS: u16 = 40;
const PATIENCE: Duration = Duration::from_secs(30);

pub(crate) struct Pty {
    child: Box<dyn Child + Send + Sync>,
    screen: vt100::Parser,
    writer: Box<dyn Write + Send>,
    /// The terminal is there as long as this is.
    _master: Box<dyn MasterPty + Send>,
    output: Receiver<(Instant, Vec<u8>)>,
    begun: Instant,
}

impl Pty {
    /// Starts a program with nothing of the environment but what a terminal gives. Its size is set
    /// and the clock runs before the program is there.
    pub(crate) fn start(words: &[&str]) -> Option<Self> {
        let size = PtySize {
            rows: ROWS,
            cols: COLUMNS,
            ..PtySize::default()
        };
        let pair = native_pty_system().openpty(size).expect("a terminal");
        let mut command = CommandBuilder::new(words[0]);
        command.args(&words[1..]);
        command.env_clear();
        command.env("PATH", std::env::var("PATH").unwrap_or_default());
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let writer = pair.master.take_writer().expect("its input");
        let (out, output) = mpsc::channel();
        std::thread::spawn(move || {
            let mut bytes = vec![0; 1 << 16];
            while let Ok(many @ 1..) = reader.read(&mut bytes) {
                if out.send((Instant::now(), bytes[..many].to_vec())).is_err() {
                    return;
                }
            }
        });
        let begun = Instant::now();
        let child = pair.slave.spawn_command(command).ok()?;
        drop(pair.slave);
        let cells = |many| NonZero::new(many).expect("some cells");
        Some(Self {
            child,
            screen: vt100::Parser::new(cells(ROWS), cells(COLUMNS), 0),
            writer,
            _master: pair.master,
            output,
            begun,
        })
    }

    /// Milliseconds from the start until all these words are on the screen.
    pub(crate) fn until(&mut self, words: &[&str]) -> f64 {
        loop {
            let read = self.output.recv_timeout(PATIENCE);
            let contents = |screen: &vt100::Parser| screen.screen().contents();
            let Ok((at, bytes)) = read else {
                panic!("waited for {words:?}:\n{}", contents(&self.screen));
            };
            self.screen.process(&bytes);
            // Asked what it can do (ECMA-48, DA), every terminal answers.
            if bytes.windows(3).any(|part| part == b"\x1b[c") {
                self.send("\x1b[?62;22c");
            }
            let contents = contents(&self.screen);
            if words.iter().all(|words| contents.contains(words)) {
                return (at - self.begun).as_secs_f64() * 1e3;
            }
        }
    }

    pub(crate) fn send(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).expect("keys sent");
        self.writer.flush().expect("keys sent");
    }

    /// Milliseconds for which all threads of the program were on a processor so far, as Linux
    /// tells it; `None` elsewhere.
    pub(crate) fn on_processor(&self) -> Option<f64> {
        let tasks = format!("/proc/{}/task", self.child.process_id()?);
        let mut nanoseconds = 0.0;
        for task in std::fs::read_dir(tasks).ok()? {
            let told = std::fs::read_to_string(task.ok()?.path().join("schedstat")).ok()?;
            nanoseconds += told.split(' ').next()?.parse::<f64>().ok()?;
        }
        Some(nanoseconds / 1e6)
    }

    /// Ends the program as a vanished terminal does.
    pub(crate) fn vanish(mut self) {
        self.child.kill().expect("an end");
        self.child.wait().expect("an end");
    }

    /// Asks the program to end with these keys, and waits for it.
    pub(crate) fn end(mut self, keys: &str) {
        self.send(keys);
        // Until nothing more comes: a program that cannot write does not end.
        while self.output.recv_timeout(PATIENCE).is_ok() {}
        self.child.wait().expect("an end");
    }
}
