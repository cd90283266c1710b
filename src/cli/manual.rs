//! `shell-completions` and `man`: what the system around the program needs to know of it, made from the
//! same definition as the arguments.

use crate::text::count;
use std::io;
use std::path::Path;

use clap::CommandFactory;
use clap_complete::Shell;

use super::args::Cli;
use super::error::CliError;
use super::output::Output;

pub(super) fn completions(shell: Shell, out: &mut Output) -> Result<(), CliError> {
    if out.is_json() {
        return Err(CliError::usage("completions are a script, not JSON"));
    }
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "ringbound", &mut bytes);
    out.raw(|to| to.write_all(&bytes))
}

pub(super) fn pages(into: Option<&Path>, out: &mut Output) -> Result<(), CliError> {
    if out.is_json() {
        return Err(CliError::usage("the manual is pages in words, not JSON"));
    }
    let mut program = Cli::command();
    program.build();
    let Some(folder) = into else {
        let page = page(program).map_err(|e| CliError::output("the manual", e))?;
        return out.raw(|to| to.write_all(&page));
    };
    if !folder.is_dir() {
        let folder = folder.display();
        return Err(CliError::usage(format!("there is no folder {folder}")));
    }
    let mut written = 0;
    write_all(&program, "", folder, &mut written)?;
    let pages = count(written as u64, "page", "pages");
    out.line(&format!("{pages} written to {}", folder.display()))
}

fn write_all(
    command: &clap::Command,
    before: &str,
    folder: &Path,
    written: &mut usize,
) -> Result<(), CliError> {
    let name = format!("{before}{}", command.get_name());
    let path = folder.join(format!("{name}.1"));
    let command = command.clone().display_name(&name);
    let page = page(command.clone()).and_then(|page| std::fs::write(&path, page));
    page.map_err(|e| CliError::output(format!("to {}", path.display()), e))?;
    *written += 1;
    let visible = command.get_subcommands().filter(|sub| !sub.is_hide_set());
    for sub in visible {
        write_all(sub, &format!("{name}-"), folder, written)?;
    }
    Ok(())
}

fn page(command: clap::Command) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(command).render(&mut bytes)?;
    Ok(bytes)
}
