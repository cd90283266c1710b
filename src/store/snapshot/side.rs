//! Writing the sides of a page of which contents and layout are told together.

use super::put::{json, text};
use super::usual;
use crate::model::{Collection, LayoutPage, Meaning, Page, PageFormat, PrintingId, Set, SetId};
use crate::store::parts::FormatText;
use crate::store::token::{Token, is_plain};

pub(super) fn write_page(
    to: &mut Vec<u8>,
    collection: &Collection,
    set: Option<SetId>,
    usual: Option<PageFormat>,
    page: &Page,
    meant: &LayoutPage,
) {
    let format = page.format();
    text(to, "{\"id\":");
    usual::page_name(to, page.id().0);
    if usual != Some(format) {
        text(to, ",\"format\":");
        json(to, &FormatText::from(format));
    }
    let mut writer = Writer {
        to,
        collection,
        set,
        near: None,
    };
    let per_side = format.per_side();
    for (key, pockets) in [("front", 0..per_side), ("back", per_side..format.pockets())] {
        let empty = |at: usize| page.cards()[at].is_none() && meant.meaning(at) == Meaning::Nothing;
        if pockets.clone().all(empty) {
            continue;
        }
        text(writer.to, ",\n\"");
        text(writer.to, key);
        text(writer.to, "\":[");
        for at in pockets.clone() {
            if at > pockets.start {
                writer.to.push(b',');
            }
            writer.pocket(page.cards()[at], meant.printing(at), || meant.meaning(at));
        }
        writer.to.push(b']');
    }
    to.push(b'}');
}

struct Writer<'w> {
    to: &'w mut Vec<u8>,
    collection: &'w Collection,
    /// The binder's set, whose code is left out.
    set: Option<SetId>,
    /// The set of the last card, which mostly is that of the next.
    near: Option<(SetId, &'w Set)>,
}

impl Writer<'_> {
    fn pocket(
        &mut self,
        held: Option<PrintingId>,
        wanted: Option<PrintingId>,
        meaning: impl FnOnce() -> Meaning,
    ) {
        match (held, wanted) {
            (Some(held), Some(wanted)) if held == wanted => self.card(held),
            (None, Some(wanted)) if self.is_usual(wanted, true) => {}
            (None, Some(wanted)) => match Token::of(self.collection, wanted) {
                Some(token) if is_simple(&token) => self.simple(wanted, &token, true),
                _ => self.unusual(held, &meaning()),
            },
            _ => self.unusual(held, &meaning()),
        }
    }

    /// Writes the card if it is nothing but usual.
    fn is_usual(&mut self, printing: PrintingId, is_gap: bool) -> bool {
        let id = printing.set();
        let near = self.near.filter(|(near, _)| *near == id);
        let found = near.or_else(|| Some((id, self.collection.set(id)?)));
        self.near = found;
        let parts = found.and_then(|(_, set)| {
            let finish = set.finishes().get(usize::from(printing.finish()))?;
            let code = if self.set == Some(id) { "" } else { set.code() };
            Some((code, &*set.card(printing.card())?.number, &*finish.mark))
        });
        parts.is_some_and(|parts| usual::token(self.to, parts, is_gap))
    }

    fn unusual(&mut self, held: Option<PrintingId>, meaning: &Meaning) {
        if held.is_none() && *meaning == Meaning::Nothing {
            return text(self.to, "\"\"");
        }
        let mut before = "{";
        if let Some(held) = held {
            text(self.to, "{\"holds\":");
            self.card(held);
            before = ",";
        }
        match meaning {
            Meaning::Nothing => {}
            Meaning::Blank => {
                text(self.to, before);
                text(self.to, "\"blank\":true");
            }
            Meaning::Keepsake(words) => {
                text(self.to, before);
                text(self.to, "\"keepsake\":");
                json(self.to, words.as_ref());
            }
            Meaning::Printing(wanted) => {
                text(self.to, before);
                text(self.to, "\"for\":");
                self.card(*wanted);
            }
        }
        self.to.push(b'}');
    }

    /// A printing as a string or as an array.
    fn card(&mut self, printing: PrintingId) {
        if self.is_usual(printing, false) {
            return;
        }
        match Token::of(self.collection, printing) {
            Some(token) if is_simple(&token) => self.simple(printing, &token, false),
            Some(token) => json(self.to, &token),
            None => text(self.to, "\"\""),
        }
    }

    fn simple(&mut self, printing: PrintingId, token: &Token<'_>, is_gap: bool) {
        self.to.push(b'"');
        if is_gap {
            self.to.push(b'(');
        }
        if self.set != Some(printing.set()) {
            text(self.to, &token.code);
            self.to.push(b':');
        }
        text(self.to, &token.number);
        if !token.mark.is_empty() {
            self.to.push(b' ');
            text(self.to, &token.mark);
        }
        if is_gap {
            self.to.push(b')');
        }
        self.to.push(b'"');
    }
}

/// Whether it can stand between quotes as it is. (A code may hold a backslash.)
fn is_simple(token: &Token<'_>) -> bool {
    is_plain(&token.number) && !token.code.as_bytes().contains(&b'\\')
}
