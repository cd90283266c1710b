//! `settings`: where the file lies, whether it is there and what it changes; and reading it for
//! all the others.

use std::env;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::args::{Cli, SettingsArgs};
use super::error::CliError;
use super::folder;
use super::output::Output;
use super::words::count;
use crate::settings::{self, Known, MOST_BYTES, Settings, SettingsError};

const FILE: &str = "settings.toml";

/// Where the settings lie.
struct Home {
    path: PathBuf,
    /// Asked for by name: then it must be there.
    is_named: bool,
}

/// What was asked for; else `ringbound/settings.toml` in the folder that XDG_CONFIG_HOME names (on
/// every Unix); else in the platform's own. `None` where there is no home.
fn home(asked: Option<&Path>) -> Option<Home> {
    let asked = asked.filter(|path| !path.as_os_str().is_empty());
    if let Some(asked) = asked {
        return Some(Home {
            path: asked.to_owned(),
            is_named: true,
        });
    }
    let dirs = || folder::project().map(|found| found.config_dir().to_owned());
    let folder = folder::xdg("XDG_CONFIG_HOME").or_else(dirs)?;
    Some(Home {
        path: folder.join(FILE),
        is_named: false,
    })
}

/// The path for `--version`, without options.
pub(super) fn usual_path() -> Option<PathBuf> {
    let named = env::var_os("RINGBOUND_SETTINGS").map(PathBuf::from);
    home(named.as_deref()).map(|home| home.path)
}

/// The text of the file; `None` where there is none and none was named.
fn text(home: &Home) -> Result<Option<String>, CliError> {
    let path = home.path.display();
    let file = match File::open(&home.path) {
        Ok(file) => file,
        Err(e) if e.kind() == io::ErrorKind::NotFound && !home.is_named => return Ok(None),
        Err(e) => return Err(CliError::input(format!("cannot read {path}: {e}"))),
    };
    let mut bytes = Vec::new();
    // One byte more tells that there are too many.
    let read = file.take(MOST_BYTES as u64 + 1).read_to_end(&mut bytes);
    read.map_err(|e| CliError::input(format!("cannot read {path}: {e}")))?;
    String::from_utf8(bytes).map(Some).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let lines = e.as_bytes()[..good].iter().filter(|byte| **byte == b'\n');
        let line = 1 + lines.count();
        CliError::input(format!("{path}, line {line}: the file is no UTF-8 text"))
    })
}

/// What a person has set for good.
///
/// # Errors
/// The file cannot be read or taken; each thing that is wrong is told with its line.
pub(super) fn load(cli: &Cli, known: &Known) -> Result<Settings, CliError> {
    let Some(home) = home(cli.settings.as_deref()) else {
        return Ok(Settings::default());
    };
    let Some(text) = text(&home)? else {
        return Ok(Settings::default());
    };
    settings::read(&text, known).map_err(|errors| {
        let path = home.path.display();
        let lines: Vec<_> = errors.iter().map(|e| format!("{path}, {e}")).collect();
        CliError::input_lines(lines).hint("ringbound settings --example shows every entry")
    })
}

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<String>,
    there: bool,
    changed: Vec<String>,
    problems: Vec<Problem>,
}

#[derive(Serialize)]
struct Problem {
    line: usize,
    why: String,
}

impl From<SettingsError> for Problem {
    fn from(SettingsError { line, why }: SettingsError) -> Self {
        Self { line, why }
    }
}

pub(super) fn run(
    args: &SettingsArgs,
    cli: &Cli,
    known: &Known,
    out: &mut Output,
) -> Result<(), CliError> {
    if args.example {
        if out.is_json() {
            return Err(CliError::usage("--example is a file in words, not JSON"));
        }
        return out.raw(|to| to.write_all(settings::example(known).as_bytes()));
    }
    let home = home(cli.settings.as_deref());
    let text = home.as_ref().map(text).transpose()?.flatten();
    let (there, read) = (
        text.is_some(),
        settings::read(&text.unwrap_or_default(), known),
    );
    let (changed, problems) = match read {
        Ok(settings) => (settings::changed(&settings, known), Vec::new()),
        Err(problems) => (Vec::new(), problems),
    };
    if !problems.is_empty() {
        out.bad_input();
    }
    let path = home.map(|home| home.path.display().to_string());
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-settings",
            version: 1,
            file: path,
            there,
            changed,
            problems: problems.into_iter().map(Problem::from).collect(),
        });
    }
    let Some(path) = path else {
        return out
            .line("There is no home folder to keep settings in; name a file: --settings FILE");
    };
    out.line(&format!("The settings lie in {path}"))?;
    if !there {
        out.line("There is no such file yet: everything is as built in.")?;
        return out.line("ringbound settings --example shows one with every entry.");
    }
    if problems.is_empty() {
        let entries = count(changed.len() as u64, "entry differs", "entries differ");
        let end = if changed.is_empty() { "." } else { ":" };
        out.line(&format!(
            "It is there; {entries} from what is built in{end}"
        ))?;
        return changed
            .iter()
            .try_for_each(|line| out.line(&format!("  {line}")));
    }
    let lines = count(problems.len() as u64, "line", "lines");
    out.line(&format!("It is there, and {lines} cannot be taken:"))?;
    problems
        .iter()
        .try_for_each(|problem| out.line(&format!("  {problem}")))
}
