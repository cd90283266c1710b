//! The text of a draft.

use serde::{Deserialize, Serialize};

use super::page::LayoutPageText;
use crate::model::{Collection, Draft, Layout, PageFormat, Rules};
use crate::store::strings::Str;
use crate::store::token::Finder;

/// A draft: its name and its pages.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct DraftText<'a> {
    #[serde(borrow)]
    name: Str<'a>,
    /// The rules that the pages were made by.
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    sections: Vec<Str<'a>>,
    #[serde(borrow)]
    pages: Vec<LayoutPageText<'a>>,
}

impl<'a> DraftText<'a> {
    /// `None` when a pocket is for a printing that is not there.
    pub(in crate::store) fn of(collection: &'a Collection, draft: &'a Draft) -> Option<Self> {
        let pages = draft.layout.pages.iter();
        Some(Self {
            name: draft.name.as_ref().into(),
            sections: rules_text(&draft.layout.sections),
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
                sections: rules(&self.sections),
            },
        })
    }
}

/// The collector's own sections under a name.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct TemplateText<'a> {
    #[serde(borrow)]
    pub(in crate::store) name: Str<'a>,
    #[serde(borrow)]
    pub(in crate::store) sections: Vec<Str<'a>>,
}

pub(in crate::store) fn rules_text(rules: &Rules) -> Vec<Str<'_>> {
    rules.iter().map(|rule| rule.as_ref().into()).collect()
}

pub(in crate::store) fn rules(text: &[Str<'_>]) -> Rules {
    text.iter().map(Str::boxed).collect()
}
