//! Which folder the collection is in.

use std::env;
use std::path::{Path, PathBuf};

use super::error::CliError;

/// What was asked for; else `ringbound` in the folder that XDG_DATA_HOME names (on every Unix);
/// else the platform's own.
pub(super) fn find(asked: Option<&Path>) -> Result<PathBuf, CliError> {
    if let Some(asked) = asked.filter(|path| !path.as_os_str().is_empty()) {
        return Ok(asked.to_owned());
    }
    let xdg = env::var_os("XDG_DATA_HOME").map(PathBuf::from);
    if let Some(home) = xdg.filter(|path| cfg!(unix) && path.is_absolute()) {
        return Ok(home.join("ringbound"));
    }
    directories::ProjectDirs::from("", "", "ringbound")
        .map(|found| found.data_dir().to_owned())
        .ok_or_else(|| {
            CliError::usage("there is no home folder to keep the collection in")
                .hint("name a folder with --data DIR or RINGBOUND_DATA")
        })
}
