//! Pages of which contents and layout are told together: the bulk of every snapshot.

use std::fmt;

use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

use super::each::{Each, Element, once};
use crate::model::{
    Builder, Collection, LayoutPage, Meaning, PageFormat, PageId, PageParts, PrintingId, limits,
};
use crate::store::parts::{FormatText, PageName, ensure_side};
use crate::store::strings::Str;
use crate::store::token::{Finder, Token, TokenVisitor};

/// A binder's usual format and the finder that knows its set.
#[derive(Clone, Copy)]
pub(super) struct Usual {
    pub(super) format: Option<PageFormat>,
    pub(super) finder: Finder,
}

/// The pages of a binder, as the builder takes them.
#[derive(Default)]
pub(super) struct Pages {
    pub(super) contents: Vec<PageParts>,
    pub(super) layout: Vec<LayoutPage>,
}

pub(super) struct PagesSeed<'b> {
    collection: &'b Collection,
    format: Option<PageFormat>,
    made: Pages,
    scratch: Scratch,
}

/// One page while it is read; the lists are used again for the next.
struct Scratch {
    finder: Finder,
    front: Side,
    back: Side,
}

#[derive(Default)]
struct Side {
    held: Vec<Option<PrintingId>>,
    meant: Vec<Option<PrintingId>>,
    /// Blanks and keepsakes, by their place in the side.
    other: Vec<(usize, Meaning)>,
}

impl<'b> PagesSeed<'b> {
    pub(super) fn new(builder: &'b Builder, usual: Usual) -> Self {
        Self {
            collection: builder.so_far(),
            format: usual.format,
            made: Pages::default(),
            scratch: Scratch {
                finder: usual.finder,
                front: Side::default(),
                back: Side::default(),
            },
        }
    }
}

impl<'de> DeserializeSeed<'de> for PagesSeed<'_> {
    type Value = Pages;

    fn deserialize<D: Deserializer<'de>>(mut self, from: D) -> Result<Pages, D::Error> {
        Each(&mut self).deserialize(from)?;
        Ok(self.made)
    }
}

impl<'de> Element<'de> for &mut PagesSeed<'_> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error> {
        from.deserialize_map(PageVisitor(self))
    }
}

#[derive(Deserialize)]
#[serde(field_identifier, rename_all = "snake_case")]
enum Key {
    Id,
    Format,
    Front,
    Back,
}

struct PageVisitor<'p, 'b>(&'p mut PagesSeed<'b>);

impl<'de> Visitor<'de> for PageVisitor<'_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a page")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let pages = self.0;
        let (mut id, mut own, mut front, mut back) = (None, None, false, false);
        let scratch = &mut pages.scratch;
        for side in [&mut scratch.front, &mut scratch.back] {
            side.held.clear();
            side.meant.clear();
            side.other.clear();
        }
        while let Some(key) = map.next_key::<Key>()? {
            match key {
                Key::Id => {
                    let name: PageName = map.next_value()?;
                    once("id", id.replace(name.0).is_some())?;
                }
                Key::Format => {
                    let text: FormatText = map.next_value()?;
                    let read = text.format().map_err(A::Error::custom)?;
                    once("format", own.replace(read).is_some())?;
                }
                Key::Front => {
                    once("front", std::mem::replace(&mut front, true))?;
                    let (finder, side) = (&mut scratch.finder, &mut scratch.front);
                    map.next_value_seed(Each(Pockets::new(pages.collection, finder, side)))?;
                }
                Key::Back => {
                    once("back", std::mem::replace(&mut back, true))?;
                    let (finder, side) = (&mut scratch.finder, &mut scratch.back);
                    map.next_value_seed(Each(Pockets::new(pages.collection, finder, side)))?;
                }
            }
        }
        let id = id.ok_or_else(|| A::Error::missing_field("id"))?;
        let format = own.or(pages.format);
        let format = format.ok_or_else(|| A::Error::missing_field("format"))?;
        pages
            .made
            .add(id, format, &mut pages.scratch)
            .map_err(A::Error::custom)
    }
}

impl Pages {
    fn add(&mut self, id: PageId, format: PageFormat, read: &mut Scratch) -> Result<(), String> {
        ensure_side(read.front.held.len(), format, false)?;
        ensure_side(read.back.held.len(), format, true)?;
        let per_side = format.per_side();
        // A side that is left out is empty.
        read.front.held.resize(per_side, None);
        read.front.meant.resize(per_side, None);
        read.front.held.append(&mut read.back.held);
        read.front.meant.append(&mut read.back.meant);
        read.front.held.resize(format.pockets(), None);
        let mut layout = LayoutPage::of_printings(format, &read.front.meant);
        for (at, meaning) in read.front.other.drain(..) {
            layout.set_meaning(at, meaning);
        }
        for (at, meaning) in read.back.other.drain(..) {
            layout.set_meaning(per_side + at, meaning);
        }
        self.contents
            .push((id, format, read.front.held.as_slice().into()));
        self.layout.push(layout);
        Ok(())
    }
}

/// The pockets of a side, one after the other.
struct Pockets<'p> {
    collection: &'p Collection,
    finder: &'p mut Finder,
    side: &'p mut Side,
}

impl<'p> Pockets<'p> {
    fn new(collection: &'p Collection, finder: &'p mut Finder, side: &'p mut Side) -> Self {
        Self {
            collection,
            finder,
            side,
        }
    }

    fn find<E: Error>(&mut self, parts: (&str, &str, &str)) -> Result<PrintingId, E> {
        self.finder.find(self.collection, parts).map_err(E::custom)
    }

    fn push(&mut self, held: Option<PrintingId>, meant: Option<PrintingId>) {
        self.side.held.push(held);
        self.side.meant.push(meant);
    }
}

impl<'de> Element<'de> for Pockets<'_> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error> {
        // A hand edit could make a side of any length.
        let most = usize::from(PageFormat::MOST).pow(2);
        if self.side.held.len() == most {
            return Err(D::Error::custom(format_args!(
                "a side has at most {most} pockets"
            )));
        }
        from.deserialize_any(PocketVisitor(self))
    }
}

struct PocketVisitor<'v, 'p>(&'v mut Pockets<'p>);

impl<'de> Visitor<'de> for PocketVisitor<'_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("what is in a pocket and what it is for")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<(), E> {
        if text.is_empty() {
            self.0.push(None, None);
        } else if let Some(gap) = text.strip_prefix('(') {
            let gap = gap.strip_suffix(')');
            let gap = gap.ok_or_else(|| E::custom("a closing parenthesis is missing"))?;
            let printing = self.0.find(Token::split(gap))?;
            self.0.push(None, Some(printing));
        } else {
            let printing = self.0.find(Token::split(text))?;
            self.0.push(Some(printing), Some(printing));
        }
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, parts: A) -> Result<(), A::Error> {
        let token = TokenVisitor.visit_seq(parts)?;
        let printing = self.0.find((&token.code, &token.number, &token.mark))?;
        self.0.push(Some(printing), Some(printing));
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let (mut held, mut meant) = (None, None);
        while let Some(key) = map.next_key::<Str<'de>>()? {
            if *key == *"holds" {
                let token: Token<'de> = map.next_value()?;
                let printing = self.0.find((&token.code, &token.number, &token.mark))?;
                once("holds", held.replace(printing).is_some())?;
                continue;
            }
            let meaning = match &*key {
                "for" => {
                    let token: Token<'de> = map.next_value()?;
                    Meaning::Printing(self.0.find((&token.code, &token.number, &token.mark))?)
                }
                "blank" if map.next_value::<bool>()? => Meaning::Blank,
                "keepsake" => {
                    let words: Str<'de> = map.next_value()?;
                    if words.len() > limits::TEXT {
                        return Err(A::Error::custom("the keepsake's words are too long"));
                    }
                    Meaning::Keepsake(words.0.as_ref().into())
                }
                _ => return Err(A::Error::custom("holds, for, blank or keepsake expected")),
            };
            if meant.replace(meaning).is_some() {
                return Err(A::Error::custom("a pocket is for one thing"));
            }
        }
        let meant = match meant {
            Some(Meaning::Printing(printing)) => Some(printing),
            Some(other) => {
                let at = self.0.side.held.len();
                self.0.side.other.push((at, other));
                None
            }
            None => None,
        };
        self.0.push(held, meant);
        Ok(())
    }
}
