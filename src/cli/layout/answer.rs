//! What sections come to, in words and as a document.

use serde::Serialize;

use crate::cli::cost::CostAnswer;
use crate::cli::error::CliError;
use crate::cli::output::Output;
use crate::cli::table::{Align, Table};
use crate::hand::{Ground, Proposal};
use crate::layout::Section;
use crate::model::{Binder, Collection};
use crate::text::count;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    draft: Option<&'a str>,
    pages: usize,
    sections: Vec<SectionAnswer<'a>>,
    #[serde(flatten)]
    cost: CostAnswer,
    exceptions_kept: usize,
    exceptions_lost: usize,
    /// Whether something has to be mended before a draft can be made.
    fault: bool,
    told: &'a [String],
}

#[derive(Serialize)]
struct SectionAnswer<'a> {
    rule: &'a str,
    items: usize,
    /// From 1; without it the section has no pocket.
    #[serde(skip_serializing_if = "Option::is_none")]
    first_page: Option<usize>,
    pages: usize,
}

pub(super) fn show(
    collection: &Collection,
    ground: Ground,
    proposal: &Proposal,
    out: &mut Output,
) -> Result<(), CliError> {
    let binder = collection.binder(ground.binder);
    let draft = ground.draft.and_then(|at| binder?.drafts().get(at));
    let draft = draft.map(|draft| &*draft.name);
    let name = binder.map_or("", Binder::name);
    let laid = &proposal.renewed.laid;
    let rules = proposal.layout.sections.iter().zip(&laid.filled);
    if out.is_json() {
        let sections = rules.map(|(rule, filled)| SectionAnswer {
            rule,
            items: filled.items,
            first_page: filled.first_page.map(|page| page + 1),
            pages: filled.pages,
        });
        return out.json(&Answer {
            format: "ringbound-layout",
            version: 1,
            binder: name,
            draft,
            pages: proposal.layout.pages.len(),
            sections: sections.collect(),
            cost: proposal.cost.into(),
            exceptions_kept: proposal.renewed.kept,
            exceptions_lost: proposal.renewed.lost.len(),
            fault: laid.has_fault(),
            told: &proposal.told,
        });
    }
    let of = draft.map_or_else(String::new, |draft| format!(", draft {draft}"));
    let pages = count(proposal.layout.pages.len() as u64, "page", "pages");
    out.line(&format!("{name}{of}: {pages}"))?;
    let mut table = Table::new(&[
        ("section", Align::Right),
        ("name", Align::Left),
        ("items", Align::Right),
        ("pages", Align::Right),
        ("rule", Align::Left),
    ]);
    for (number, (rule, filled)) in (1..).zip(rules) {
        let (name, rule) = Section::parted(rule).unwrap_or_else(|| (String::new(), &**rule));
        let pages = match (filled.first_page, filled.pages) {
            (None, _) => String::new(),
            (Some(first), 1) => format!("{}", first + 1),
            (Some(first), pages) => format!("{}-{}", first + 1, first + pages),
        };
        table.row([
            number.to_string(),
            name,
            filled.items.to_string(),
            pages,
            rule.to_owned(),
        ]);
    }
    table.print(out)?;
    out.line(&format!(
        "From what lies there now: {}.",
        proposal.cost.words()
    ))?;
    for words in &proposal.told {
        let end = if words.ends_with('\u{2026}') { "" } else { "." };
        out.line(&format!("{words}{end}"))?;
    }
    Ok(())
}
