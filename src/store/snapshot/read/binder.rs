//! One binder of a snapshot.

use std::fmt;

use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, Visitor};
use serde_json::value::RawValue;

use super::each::{Element, once};
use super::page::{Pages, PagesSeed, Usual};
use super::shared::Part;
use crate::model::{BinderId, BinderSpec, Builder, Draft, Layout, PageFormat, Refused, Rules};
use crate::store::error::json_words;
use crate::store::parts::{BinderName, DraftText, FormatText, LayoutPageText, SpecText, rules};
use crate::store::snapshot::unpaired::PageText;
use crate::store::strings::Str;
use crate::store::token::Finder;

pub(super) struct BinderSeed<'b> {
    pub(super) builder: &'b mut Builder,
}

impl<'de> Element<'de> for BinderSeed<'_> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error> {
        let builder = &mut *self.builder;
        let read = from.deserialize_map(BinderVisitor { builder })?;
        read.put(builder).map_err(D::Error::custom)
    }
}

/// A binder that has been read and is not in the collection yet.
pub(super) struct Read {
    id: BinderId,
    spec: BinderSpec,
    pages: Pages,
    sections: Rules,
    drafts: Vec<Draft>,
}

impl Part for Read {
    fn read(raw: &RawValue, so_far: &Builder) -> serde_json::Result<Self> {
        let mut json = serde_json::Deserializer::from_str(raw.get());
        json.deserialize_map(BinderVisitor { builder: so_far })
    }

    fn put(self, builder: &mut Builder) -> Result<(), Refused> {
        let layout = Layout {
            pages: self.pages.layout,
            sections: self.sections,
        };
        builder.binder(self.id, self.spec, self.pages.contents, layout)?;
        let mut drafts = self.drafts.into_iter();
        drafts.try_for_each(|draft| builder.draft(self.id, draft))
    }
}

#[derive(Deserialize)]
#[serde(field_identifier, rename_all = "snake_case")]
enum Key {
    Id,
    Spec,
    Format,
    Pages,
    Contents,
    Layout,
    Sections,
    Drafts,
}

struct BinderVisitor<'b> {
    builder: &'b Builder,
}

impl<'de> Visitor<'de> for BinderVisitor<'_> {
    type Value = Read;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a binder")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let collection = self.builder.so_far();
        let (mut id, mut spec, mut format) = (None, None::<BinderSpec>, None);
        let (mut pages, mut later) = (None, None::<&'de RawValue>);
        let (mut contents, mut layout) = (None::<Vec<PageText<'de>>>, None::<Vec<_>>);
        let (mut sections, mut drafts) = (None::<Rules>, None::<Vec<DraftText<'de>>>);
        while let Some(key) = map.next_key::<Key>()? {
            match key {
                Key::Id => {
                    let name: BinderName = map.next_value()?;
                    once("id", id.replace(name.0).is_some())?;
                }
                Key::Spec => {
                    let text: SpecText<'de> = map.next_value()?;
                    let read = text.spec(collection).map_err(A::Error::custom)?;
                    once("spec", spec.replace(read).is_some())?;
                }
                Key::Format => {
                    let text: FormatText = map.next_value()?;
                    let read = text.format().map_err(A::Error::custom)?;
                    once("format", format.replace(read).is_some())?;
                }
                Key::Pages => {
                    once("pages", pages.is_some() || later.is_some())?;
                    match &spec {
                        Some(spec) if format.is_some() => {
                            let seed = PagesSeed::new(self.builder, usual(spec, format));
                            pages = Some(map.next_value_seed(seed)?);
                        }
                        _ => later = Some(map.next_value()?),
                    }
                }
                Key::Contents => once("contents", contents.replace(map.next_value()?).is_some())?,
                Key::Layout => {
                    let read: Vec<LayoutPageText<'de>> = map.next_value()?;
                    once("layout", layout.replace(read).is_some())?;
                }
                Key::Sections => {
                    let read: Vec<Str<'de>> = map.next_value()?;
                    once("sections", sections.replace(rules(&read)).is_some())?;
                }
                Key::Drafts => {
                    let read: Vec<DraftText<'de>> = map.next_value()?;
                    once("drafts", drafts.replace(read).is_some())?;
                }
            }
        }
        let id = id.ok_or_else(|| A::Error::missing_field("id"))?;
        let spec = spec.ok_or_else(|| A::Error::missing_field("spec"))?;
        let mut usual = usual(&spec, format);
        let (sections, drafts) = (sections.unwrap_or_default(), drafts.unwrap_or_default());
        let drafts = drafts
            .iter()
            .map(|draft| draft.draft(collection, &mut usual.finder, usual.format));
        let drafts: Vec<Draft> = drafts.collect::<Result<_, _>>().map_err(A::Error::custom)?;
        if let Some(raw) = later {
            let mut json = serde_json::Deserializer::from_str(raw.get());
            let read = PagesSeed::new(self.builder, usual).deserialize(&mut json);
            // The place that this names is one within the pages.
            pages = Some(read.map_err(|error| within(id, &error))?);
        }
        let pages = match (pages, contents, layout) {
            (Some(pages), None, None) => pages,
            (None, Some(contents), Some(layout)) => {
                let pages = self.unpaired(&contents, &layout, usual);
                pages.map_err(A::Error::custom)?
            }
            _ => {
                return Err(A::Error::custom(
                    "a binder has either \"pages\" or both \"contents\" and \"layout\"",
                ));
            }
        };
        Ok(Read {
            id,
            spec,
            pages,
            sections,
            drafts,
        })
    }
}

impl BinderVisitor<'_> {
    fn unpaired(
        &self,
        contents: &[PageText<'_>],
        layout: &[LayoutPageText<'_>],
        mut usual: Usual,
    ) -> Result<Pages, String> {
        let (collection, finder) = (self.builder.so_far(), &mut usual.finder);
        let contents = contents
            .iter()
            .map(|page| page.page(collection, finder, usual.format));
        let contents = contents.collect::<Result<_, _>>()?;
        let layout = layout
            .iter()
            .map(|page| page.page(collection, finder, usual.format));
        Ok(Pages {
            contents,
            layout: layout.collect::<Result<_, _>>()?,
        })
    }
}

fn usual(spec: &BinderSpec, format: Option<PageFormat>) -> Usual {
    Usual {
        format,
        finder: Finder::new(spec.set),
    }
}

fn within<E: Error>(id: BinderId, error: &serde_json::Error) -> E {
    let what = json_words(error);
    E::custom(format_args!("in the pages of {id}: {what}"))
}
