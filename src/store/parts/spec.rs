//! What names a set and what is said of a binder, as text.

use serde::{Deserialize, Serialize};

use crate::model::{BinderKind, BinderSpec, Collection, RingShape, SetHead};
use crate::store::strings::Str;
use crate::store::token::find_set;

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct HeadText<'a> {
    #[serde(borrow)]
    pub(in crate::store) code: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    pub(in crate::store) title: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    pub(in crate::store) symbol: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    pub(in crate::store) shelf: Str<'a>,
}

impl<'a> From<&'a SetHead> for HeadText<'a> {
    fn from(head: &'a SetHead) -> Self {
        Self {
            code: head.code.as_ref().into(),
            title: head.title.as_ref().into(),
            symbol: head.symbol.as_ref().into(),
            shelf: head.shelf.as_ref().into(),
        }
    }
}

impl HeadText<'_> {
    pub(in crate::store) fn head(&self) -> SetHead {
        SetHead {
            code: self.code.boxed(),
            title: self.title.boxed(),
            symbol: self.symbol.boxed(),
            shelf: self.shelf.boxed(),
        }
    }
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct SpecText<'a> {
    #[serde(borrow)]
    name: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    title: Str<'a>,
    /// The code of the set that it is mostly for.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    set: Option<Str<'a>>,
    kind: KindText,
    /// Of the rings, in millimetres; left out when not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    size: Option<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shape: Option<ShapeText>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    front_matter: Vec<Str<'a>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum KindText {
    Rings,
    Fixed,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
enum ShapeText {
    #[serde(rename = "round")]
    Round,
    D,
}

impl<'a> SpecText<'a> {
    /// `None` when the binder's set does not exist.
    pub(in crate::store) fn of(collection: &'a Collection, spec: &'a BinderSpec) -> Option<Self> {
        let set = match spec.set {
            None => None,
            Some(id) => Some(collection.set(id)?.code().into()),
        };
        let (kind, size, shape) = match spec.kind {
            BinderKind::Fixed => (KindText::Fixed, None, None),
            BinderKind::Rings { size, shape } => {
                let shape = match shape {
                    RingShape::Round => ShapeText::Round,
                    RingShape::D => ShapeText::D,
                };
                (KindText::Rings, (size != 0).then_some(size), Some(shape))
            }
        };
        Some(Self {
            name: spec.name.as_ref().into(),
            title: spec.title.as_ref().into(),
            set,
            kind,
            size,
            shape,
            front_matter: spec
                .front_matter
                .iter()
                .map(|line| line.as_ref().into())
                .collect(),
        })
    }

    /// # Errors
    /// Says what does not fit together.
    pub(in crate::store) fn spec(&self, collection: &Collection) -> Result<BinderSpec, String> {
        let set = match &self.set {
            None => None,
            Some(code) => Some(find_set(collection, code)?),
        };
        let kind = match (self.kind, self.shape) {
            (KindText::Fixed, None) if self.size.is_none() => BinderKind::Fixed,
            (KindText::Fixed, _) => return Err("fixed pages have no rings".into()),
            (KindText::Rings, None) => return Err("rings have a shape".into()),
            (KindText::Rings, Some(shape)) => BinderKind::Rings {
                size: self.size.unwrap_or(0),
                shape: match shape {
                    ShapeText::Round => RingShape::Round,
                    ShapeText::D => RingShape::D,
                },
            },
        };
        Ok(BinderSpec {
            name: self.name.boxed(),
            title: self.title.boxed(),
            set,
            kind,
            front_matter: self.front_matter.iter().map(Str::boxed).collect(),
        })
    }
}
