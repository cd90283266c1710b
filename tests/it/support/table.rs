//! The built binary in a folder of its own, without an environment.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder to work in; the collection is in `shelf/`.
pub(crate) struct Table {
    folder: tempfile::TempDir,
}

impl Table {
    pub(crate) fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// With a set of a binder of small pages, so that answers stay short.
    pub(crate) fn with_fen() -> Self {
        let table = Self::new();
        table.file("fen.csv", FEN);
        table.ok(&[
            "import",
            "checklist",
            "fen.csv",
            "--page",
            "2x1",
            "--sides",
            "one",
        ]);
        table
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn shelf(&self) -> PathBuf {
        self.path("shelf")
    }

    pub(crate) fn file(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), bytes).unwrap();
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringbound"));
        command
            .args(args)
            .env_clear()
            .env("RINGBOUND_DATA", self.shelf())
            // There is nothing of a person's own.
            .env("XDG_CONFIG_HOME", self.path("config"))
            .current_dir(self.folder.path())
            .stdin(Stdio::null());
        command
    }

    pub(crate) fn output(&self, args: &[&str]) -> Output {
        self.command(args).output().unwrap()
    }

    /// Standard output, standard error and how it ended, in one picture.
    pub(crate) fn run(&self, args: &[&str]) -> String {
        self.picture(&self.output(args))
    }

    pub(crate) fn run_with_input(&self, args: &[&str], input: &[u8]) -> String {
        let mut command = self.command(args);
        command.stdin(Stdio::piped());
        command.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        child.stdin.take().unwrap().write_all(input).unwrap();
        self.picture(&child.wait_with_output().unwrap())
    }

    fn picture(&self, output: &Output) -> String {
        let words = |bytes: &[u8]| {
            let text = String::from_utf8(bytes.to_vec()).unwrap();
            let folder = self.folder.path().display().to_string();
            without_times(&text.replace(&folder, "<folder>"))
        };
        let mut picture = words(&output.stdout);
        if !output.stderr.is_empty() {
            picture.push_str("-- told --\n");
            picture.push_str(&words(&output.stderr));
        }
        let code = output.status.code();
        let ended = code.map_or_else(|| output.status.to_string(), |code| code.to_string());
        picture.push_str(&format!("-- exit {ended} --"));
        picture
    }

    /// What must be done without a word of trouble; gives standard output.
    pub(crate) fn ok(&self, args: &[&str]) -> String {
        let output = self.output(args);
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(
            (output.status.code(), told.as_str()),
            (Some(0), ""),
            "{args:?}"
        );
        String::from_utf8(output.stdout).unwrap()
    }

    pub(crate) fn json(&self, args: &[&str]) -> serde_json::Value {
        serde_json::from_str(&self.ok(args)).unwrap()
    }

    /// As [`Table::json`], where something may be told beside it.
    pub(crate) fn json_told(&self, args: &[&str]) -> serde_json::Value {
        serde_json::from_slice(&self.output(args).stdout).unwrap()
    }

    pub(crate) fn exit(&self, args: &[&str]) -> i32 {
        self.output(args).status.code().unwrap()
    }

    /// Every file of the collection with its bytes.
    pub(crate) fn kept(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let mut kept = BTreeMap::new();
        gather(&self.shelf(), &mut kept);
        kept
    }
}

fn gather(folder: &Path, into: &mut BTreeMap<PathBuf, Vec<u8>>) {
    for entry in std::fs::read_dir(folder).into_iter().flatten() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(&path, into);
        } else {
            into.insert(path.clone(), std::fs::read(&path).unwrap());
        }
    }
}

/// `2026-01-02T03:04:05Z` becomes `<time>`.
fn without_times(text: &str) -> String {
    const SHAPE: &[u8] = b"dddd-dd-ddTdd:dd:ddZ";
    let fits = |window: &[u8]| {
        let pairs = SHAPE.iter().zip(window);
        window.len() == SHAPE.len()
            && pairs.into_iter().all(|(shape, byte)| match shape {
                b'd' => byte.is_ascii_digit(),
                shape => shape == byte,
            })
    };
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.as_bytes().windows(SHAPE.len()).position(fits) {
        out.push_str(&rest[..at]);
        out.push_str("<time>");
        rest = &rest[at + SHAPE.len()..];
    }
    out + rest
}

pub(crate) const FEN: &str = "\
set,set_title,number,name,rarity,finishes\r
FEN,The Fen,1,Mire Lamp,common,regular;reverse\r
FEN,The Fen,2,Reed Boat,common,regular\r
FEN,The Fen,12a,\"Heron, \"\"Old\"\"\",rare,regular;reverse\r
";
