//! The real program on a real terminal: a pseudo-terminal that is read as a person reads a screen.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::Duration;

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// How long a text may take to appear before the test gives up; no test waits that long when all
/// is well.
const PATIENCE: Duration = Duration::from_secs(30);

/// A running program and what its terminal shows.
pub(crate) struct Pty {
    pub(crate) screen: vt100::Parser,
    pub(crate) child: Box<dyn Child + Send + Sync>,
    writer: Box<dyn Write + Send>,
    /// Kept open: the terminal is there as long as this is.
    master: Box<dyn MasterPty + Send>,
    /// How the terminal was set before the program came.
    set: String,
    output: Receiver<Vec<u8>>,
    /// Every byte that the program has sent.
    pub(crate) sent: Vec<u8>,
    /// What is said when the program asks what kind of terminal this is.
    pub(crate) answer: &'static str,
    answered: usize,
}

/// Asks a terminal what it can do (ECMA-48, DA), and how one with colours answers.
const ASKED: &[u8] = b"\x1b[c";
const ANSWER: &str = "\x1b[?62;22c";

impl Pty {
    /// Starts `ringbound` with these arguments on a terminal of this many columns and rows, with
    /// nothing of the environment but what is named here.
    pub(crate) fn start(arguments: &[&str], size: (u16, u16), home: &Path) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_ringbound"));
        command.args(arguments);
        command.env_clear();
        Self::start_other(command, size, home)
    }

    /// The same with another program.
    pub(crate) fn start_other(
        mut command: CommandBuilder,
        (cols, rows): (u16, u16),
        home: &Path,
    ) -> Self {
        let size = PtySize {
            rows,
            cols,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let set = settings(&*pair.master);
        command.env("HOME", home);
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.cwd(home);
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let (out, output) = mpsc::channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 8192];
            while let Ok(many) = reader.read(&mut bytes) {
                if many == 0 || out.send(bytes[..many].to_vec()).is_err() {
                    return;
                }
            }
        });
        Self {
            screen: vt100::Parser::new(nonzero(rows), nonzero(cols), 0),
            child,
            writer,
            master: pair.master,
            set,
            output,
            sent: Vec::new(),
            answer: ANSWER,
            answered: 0,
        }
    }

    /// Takes what the program has sent, and answers as a terminal does.
    fn take(&mut self, bytes: &[u8]) {
        self.screen.process(bytes);
        self.sent.extend_from_slice(bytes);
        let asked = self.sent.windows(ASKED.len());
        let asked = asked.filter(|part| *part == ASKED).count();
        while self.answered < asked {
            self.answered += 1;
            self.send(self.answer);
        }
    }

    pub(crate) fn send(&mut self, bytes: &str) {
        self.writer.write_all(bytes.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    pub(crate) fn contents(&self) -> String {
        self.screen.screen().contents()
    }

    /// Reads on until this text is on the screen.
    pub(crate) fn until(&mut self, words: &str) {
        self.until_there(words, true);
    }

    /// Reads on until this text is no longer on the screen.
    pub(crate) fn until_gone(&mut self, words: &str) {
        self.until_there(words, false);
    }

    fn until_there(&mut self, words: &str, there: bool) {
        while self.contents().contains(words) != there {
            match self.output.recv_timeout(PATIENCE) {
                Ok(bytes) => self.take(&bytes),
                Err(error) => panic!(
                    "waited for {words:?} to be {}there ({error}):\n{}",
                    if there { "" } else { "not " },
                    self.contents()
                ),
            }
        }
    }

    /// Reads on until the program has sent these bytes, whether or not they are seen.
    pub(crate) fn until_sent(&mut self, words: &str) {
        let words = words.as_bytes();
        while !self.sent.windows(words.len()).any(|part| part == words) {
            let bytes = self.output.recv_timeout(PATIENCE).unwrap();
            self.take(&bytes);
        }
    }

    /// Reads to the end of the output and gives the exit code.
    pub(crate) fn ended(&mut self) -> u32 {
        loop {
            match self.output.recv_timeout(PATIENCE) {
                Ok(bytes) => self.take(&bytes),
                Err(RecvTimeoutError::Disconnected) => break,
                Err(error) => panic!("the program has not ended ({error}):\n{}", self.contents()),
            }
        }
        self.child.wait().unwrap().exit_code()
    }

    pub(crate) fn signal(&self, name: &str) {
        let process = self.child.process_id().unwrap().to_string();
        let status = std::process::Command::new("kill")
            .args(["-s", name, &process])
            .status()
            .unwrap();
        assert!(status.success());
    }

    /// Takes the terminal away, as a window that is closed does, and waits for the program's end.
    pub(crate) fn vanish(self) {
        let Self {
            mut child,
            writer,
            master,
            output,
            ..
        } = self;
        // The reading thread ends when it has something that nobody takes.
        drop(output);
        let (out, ended) = mpsc::channel();
        std::thread::spawn(move || out.send(child.wait().is_ok()));
        let mut writer = writer;
        writer.write_all(b"?").unwrap();
        drop((writer, master));
        assert_eq!(ended.recv_timeout(PATIENCE), Ok(true), "it has not ended");
    }

    /// Goes on after a stop. Asked for again until this text appears, since the stop itself comes
    /// a moment after the terminal has been given back.
    pub(crate) fn resume_until(&mut self, words: &str) {
        let mut left = 300;
        // It may have been told to go on before it stood still; then it goes back and forth once.
        while !(self.contents().contains(words) && self.screen.screen().alternate_screen()) {
            self.signal("CONT");
            if let Ok(bytes) = self.output.recv_timeout(PATIENCE / 300) {
                self.take(&bytes);
            }
            left -= 1;
            assert!(left > 0, "it has not gone on:\n{}", self.contents());
        }
    }

    /// Reads on until the program has left the terminal to others.
    pub(crate) fn until_left(&mut self) {
        while self.screen.screen().alternate_screen() {
            let bytes = self.output.recv_timeout(PATIENCE).unwrap();
            self.take(&bytes);
        }
        // The settings of the line come back a moment after the last byte.
        let mut left = 300;
        while settings(&*self.master) != self.set && left > 0 {
            if let Ok(bytes) = self.output.recv_timeout(PATIENCE / 300) {
                self.take(&bytes);
            }
            left -= 1;
        }
    }

    /// Every mode that the program switched on is off again.
    pub(crate) fn assert_restored(&self) {
        assert_eq!(settings(&*self.master), self.set, "lines and echo");
        let screen = self.screen.screen();
        assert!(!screen.alternate_screen(), "the alternate screen is left");
        assert!(!screen.hide_cursor(), "the cursor is shown");
        assert!(!screen.bracketed_paste(), "pasted text is not marked");
        assert_eq!(
            screen.mouse_protocol_mode(),
            vt100::MouseProtocolMode::None,
            "the mouse is the terminal's own"
        );
    }
}

fn nonzero(cells: u16) -> NonZero<u16> {
    NonZero::new(cells).unwrap()
}

/// The settings of the line (POSIX termios), in words to compare.
fn settings(master: &dyn MasterPty) -> String {
    format!("{:?}", master.get_termios())
}
