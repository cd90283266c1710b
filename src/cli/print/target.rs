//! Where a document goes: a file, several, or standard output.

use std::path::Path;

use super::super::export::outside;
use crate::cli::args::PaperArgs;
use crate::cli::error::CliError;
use crate::cli::output::Output;
use crate::paper::{Format, Written, numbered};
use crate::session::Session;
use crate::text::{Choice, one_of};

pub(super) struct Target<'a> {
    pub(super) format: Format,
    /// `None` is standard output.
    path: Option<&'a Path>,
    overwrite: bool,
}

impl<'a> Target<'a> {
    /// Refuses a place that cannot be written, and a name that tells no format.
    pub(super) fn new(args: &'a PaperArgs, session: &Session) -> Result<Self, CliError> {
        let path = Some(args.out.as_path()).filter(|path| path.as_os_str() != "-");
        let ending = path.and_then(|path| path.extension()?.to_str());
        let format = (args.format).or_else(|| ending.and_then(Format::of_ending));
        let format = format.ok_or_else(|| {
            let why = match path {
                None => "standard output has no name that tells the format".into(),
                Some(path) => format!("the name of {} does not tell the format", path.display()),
            };
            CliError::usage(why).hint(format!("say --format {}", one_of(&Format::words())))
        })?;
        if let Some(path) = path {
            outside(session, path, args.overwrite)?;
        }
        Ok(Self {
            format,
            path,
            overwrite: args.overwrite,
        })
    }

    /// Whether it is a picture to look at, rather than paper.
    pub(super) fn is_picture(&self) -> bool {
        matches!(self.format, Format::Svg | Format::Png)
    }

    /// Writes all files, and tells their names. None is written if one of them may not be.
    pub(super) fn write(
        &self,
        session: &Session,
        files: &[Written],
        out: &mut Output,
    ) -> Result<Vec<String>, CliError> {
        let Some(path) = self.path else {
            let [only] = files else {
                return Err(CliError::usage(format!(
                    "there are {} sheets, and standard output takes one",
                    files.len()
                ))
                .hint("say which with --sheet, or write them to files, or take a PDF"));
            };
            out.raw(|to| to.write_all(&only.bytes))?;
            return Ok(Vec::new());
        };
        let mut outsides = Vec::new();
        for file in files {
            let path = match file.sheet {
                None => path.to_owned(),
                Some(sheet) => numbered(path, sheet),
            };
            outsides.push(outside(session, &path, self.overwrite)?);
        }
        let mut told = Vec::new();
        for (outside, file) in outsides.iter().zip(files) {
            let shown = outside.path().display();
            let written = outside.write(|to| to.write_all(&file.bytes));
            written.map_err(|e| CliError::output(shown, e))?;
            told.push(outside.path().display().to_string());
        }
        Ok(told)
    }
}
