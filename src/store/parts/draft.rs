//! The text of a draft.

use serde::{Deserialize, Serialize};

use super::page::LayoutPageText;
use crate::model::{Collection, Draft, Layout, PageFormat};
use crate::store::strings::Str;
use crate::store::token::Finder;

/// A draft: its name and its pages.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct DraftText<'a> {
    #[serde(borrow)]
    name: Str<'a>,
    #[serde(borrow)]
    pages: Vec<LayoutPageText<'a>>,
}

impl<'a> DraftText<'a> {
    /// `None` when a pocket is for a printing that is not there.
    pub(in crate::store) fn of(collection: &'a Collection, draft: &'a Draft) -> Option<Self> {
        let pages = draft.layout.pages.iter();
        Some(Self {
            name: draft.name.as_ref().into(),
            pages: pages
                .map(|page| LayoutPageText::of(collection, page))
                .collect::<Option<_>>()?,
        })
    }

    pub(in crate::store) fn without_formats_if(mut self, usual: Option<PageFormat>) -> Self {
        let pages = self.pages.into_iter();
        self.pages = pages.map(|page| page.without_format_if(usual)).collect();
        self
    }

    pub(in crate::store) fn draft(
        &self,
        collection: &Collection,
        finder: &mut Finder,
        usual: Option<PageFormat>,
    ) -> Result<Draft, String> {
        let pages = self.pages.iter();
        let pages = pages.map(|page| page.page(collection, finder, usual));
        Ok(Draft {
            name: self.name.boxed(),
            layout: Layout {
                pages: pages.collect::<Result<_, _>>()?,
            },
        })
    }
}
