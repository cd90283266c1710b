//! Which folders of a person's home are the program's.

use std::env;
use std::path::{Path, PathBuf};

use super::error::CliError;

/// What was asked for; else `ringbound` in the folder that XDG_DATA_HOME names (on every Unix);
/// else the platform's own.
pub(super) fn find(asked: Option<&Path>) -> Result<PathBuf, CliError> {
    if let Some(asked) = asked.filter(|path| !path.as_os_str().is_empty()) {
        return Ok(asked.to_owned());
    }
    let dirs = || project().map(|found| found.data_dir().to_owned());
    xdg("XDG_DATA_HOME").or_else(dirs).ok_or_else(|| {
        CliError::usage("there is no home folder to keep the collection in")
            .hint("name a folder with --data DIR or RINGBOUND_DATA")
    })
}

/// The program's folder in the one that this variable names (XDG Base Directory Specification 0.8:
/// relative paths are passed over), on every Unix.
pub(super) fn xdg(variable: &str) -> Option<PathBuf> {
    let home = env::var_os(variable).map(PathBuf::from);
    let home = home.filter(|path| cfg!(unix) && path.is_absolute());
    home.map(|home| home.join("ringbound"))
}

/// The platform's own folders.
pub(super) fn project() -> Option<directories::ProjectDirs> {
    directories::ProjectDirs::from("", "", "ringbound")
}
