//! Which binder or draft is meant, and by which rules.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use crate::cli::args::RulesArgs;
use crate::cli::error::CliError;
use crate::cli::named;
use crate::hand::Ground;
use crate::layout::{Section, Template, template_by_name, templates};
use crate::model::{Collection, Rules, limits};
use crate::session::cannot_read;
use crate::text::hint;

pub(super) fn ground(
    collection: &Collection,
    name: &str,
    draft: Option<&str>,
) -> Result<Ground, CliError> {
    let binder = named::binder(collection, name)?;
    let mut ground = Ground::real(binder.id());
    if let Some(wanted) = draft {
        ground.draft = Some(named::draft(binder, wanted)?);
    }
    Ok(ground)
}

/// The rules that are asked for: of a template, of a file, or those of the ground itself.
pub(super) fn rules_of(
    collection: &Collection,
    ground: Ground,
    args: &RulesArgs,
) -> Result<Rules, CliError> {
    let rules = rules_or_none(collection, ground, args)?;
    if rules.is_empty() && args.rules.is_none() {
        return Err(CliError::usage("there are no sections yet").hint(BEGIN_WITH));
    }
    Ok(rules)
}

/// What to do where there are none.
pub(super) const BEGIN_WITH: &str =
    "--template NAME begins with one of the usual ways, --rules FILE with your own";

/// [`rules_of`], none where the ground has none.
pub(super) fn rules_or_none(
    collection: &Collection,
    ground: Ground,
    args: &RulesArgs,
) -> Result<Rules, CliError> {
    if let Some(name) = &args.template {
        let binder = collection.binder(ground.binder);
        let all = binder.map_or_else(Vec::new, |binder| templates(collection, binder));
        let found = template_by_name(&all, name);
        return found
            .map(|template| template.rules.clone())
            .ok_or_else(|| no_template(&all, name));
    }
    if let Some(file) = &args.rules {
        return of_file(file);
    }
    let layout = ground.layout(collection).map_err(CliError::usage)?;
    Ok(layout.sections.clone())
}

/// None of this name, or more than one whose name begins so.
fn no_template(all: &[Template], name: &str) -> CliError {
    let names = || all.iter().map(|template| &*template.name);
    let begins_so = |known: &&str| known.to_lowercase().starts_with(&name.to_lowercase());
    let begin: Vec<_> = names().filter(begins_so).collect();
    let why = match begin[..] {
        [] => format!("there is no template “{name}”{}", hint(name, names())),
        _ => format!(
            "more than one template begins with “{name}”: “{}”",
            begin.join("”, “")
        ),
    };
    CliError::usage(why).hint("ringbound layout templates BINDER lists those that there are")
}

/// More is no list of sections.
const MOST_BYTES: u64 = 4 << 20;

/// A section a line; blank lines and such as begin with # are passed over. A line that cannot be
/// read is told with its number.
fn of_file(file: &Path) -> Result<Rules, CliError> {
    let name = file.display();
    let lost = |e: io::Error| CliError::input(cannot_read(&name, &e));
    let mut text = String::new();
    let read: Box<dyn Read> = if file.as_os_str() == "-" {
        Box::new(io::stdin())
    } else {
        Box::new(File::open(file).map_err(lost)?)
    };
    let size = read.take(MOST_BYTES + 1).read_to_string(&mut text);
    if size.map_err(lost)? as u64 > MOST_BYTES {
        return Err(CliError::input(format!(
            "{name} is too long for a list of sections"
        )));
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let mut rules = Rules::new();
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let section: Result<Section, _> = line.parse();
        let section =
            section.map_err(|why| CliError::input(format!("{name}, line {number}: {why}")))?;
        rules.push(section.to_string().into());
    }
    if rules.is_empty() {
        return Err(CliError::input(format!("{name} has no section")));
    }
    if rules.len() > limits::SECTIONS {
        let most = limits::SECTIONS;
        return Err(CliError::input(format!(
            "{name} has more than {most} sections"
        )));
    }
    Ok(rules)
}
