//! The answer of `fit` for a program.

use serde::Serialize;

use super::{Look, Looked};
use crate::layout::grid_word;
use crate::model::Collection;
use crate::supplies::{Fit, LayoutOf, Misfit, Play, Split, Splits, Verdict, shares};
use crate::text::Choice;

#[derive(Serialize)]
pub(super) struct Answer<'a> {
    format: &'static str,
    version: u32,
    sleeves: u32,
    binders: Vec<BinderAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    together: Option<FitAnswer>,
}

#[derive(Serialize)]
struct BinderAnswer<'a> {
    binder: &'a str,
    /// `layout`, `contents` or `draft`.
    of: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    draft: Option<&'a str>,
    #[serde(flatten)]
    fit: FitAnswer,
    #[serde(skip_serializing_if = "Option::is_none")]
    splits: Option<SplitsAnswer>,
    sets: Vec<ShareAnswer<'a>>,
    misfits: Vec<MisfitAnswer>,
}

/// Lengths in millimetres.
#[derive(Serialize)]
struct FitAnswer {
    pages: usize,
    thickness_mm: f64,
    verdict: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pages_lacking: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ring_size_mm: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ring_shape: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    takes_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    takes_perhaps_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    takes_pages: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    takes_pages_perhaps: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    wants_round_mm: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    wants_d_mm: Option<u16>,
}

#[derive(Serialize)]
struct SplitsAnswer {
    #[serde(skip_serializing_if = "Option::is_none")]
    balanced: Option<SplitAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_section: Option<SplitAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    least_handling: Option<SplitAnswer>,
}

#[derive(Serialize)]
struct SplitAnswer {
    /// The first page of the second binder.
    page: usize,
    first_mm: f64,
    second_mm: f64,
    ends_section: bool,
    /// That go into the second binder, or into a new first one.
    pages_over: u64,
}

#[derive(Serialize)]
struct ShareAnswer<'a> {
    set: &'a str,
    pockets: usize,
    pages: usize,
}

#[derive(Serialize)]
struct MisfitAnswer {
    grid: String,
    page: usize,
    cards: usize,
    card_width_mm: f64,
    card_height_mm: f64,
    play: &'static str,
}

fn mm(micrometres: u32) -> f64 {
    f64::from(micrometres) / 1_000.0
}

impl<'a> Answer<'a> {
    pub(super) fn new(
        collection: &'a Collection,
        looked: &[Looked<'a>],
        together: Option<&Fit>,
        look: &Look,
    ) -> Self {
        Self {
            format: "ringbound-fit",
            version: 1,
            sleeves: look.thickness.sleeves.count(),
            binders: (looked.iter())
                .map(|seen| BinderAnswer::new(collection, seen))
                .collect(),
            together: together.map(FitAnswer::new),
        }
    }
}

impl<'a> BinderAnswer<'a> {
    fn new(collection: &'a Collection, seen: &Looked<'a>) -> Self {
        let (of, draft) = match seen.of {
            LayoutOf::InForce => ("layout", None),
            LayoutOf::Contents => ("contents", None),
            LayoutOf::Draft(at) => ("draft", seen.binder.drafts().get(at)),
        };
        Self {
            binder: seen.binder.name(),
            of,
            draft: draft.map(|draft| draft.name.as_ref()),
            fit: FitAnswer::new(&seen.fit),
            splits: SplitsAnswer::new(&seen.splits),
            sets: (shares(seen.binder, seen.of).iter())
                .map(|share| ShareAnswer {
                    set: collection.set(share.set).map_or("", |set| set.code()),
                    pockets: share.pockets,
                    pages: share.pages,
                })
                .collect(),
            misfits: seen.misfits.iter().map(MisfitAnswer::new).collect(),
        }
    }
}

impl FitAnswer {
    fn new(fit: &Fit) -> Self {
        let (verdict, pages_lacking) = match fit.verdict {
            Verdict::Closes => ("closes", None),
            Verdict::Tight => ("may_close", None),
            Verdict::DoesNotClose => ("does_not_close", None),
            Verdict::Unknown => ("rings_not_known", None),
            Verdict::Fixed => ("fixed_pages", None),
            Verdict::FixedLacks(lacks) => ("fixed_pages_lacking", Some(lacks)),
        };
        Self {
            pages: fit.pages,
            thickness_mm: mm(fit.thickness),
            verdict,
            pages_lacking,
            ring_size_mm: fit.rings.map(|rings| rings.size),
            ring_shape: fit.rings.map(|rings| rings.shape.word()),
            takes_mm: fit.room.map(|room| mm(room.sure)),
            takes_perhaps_mm: fit.room.map(|room| mm(room.most)),
            takes_pages: fit.takes.map(|(sure, _)| sure),
            takes_pages_perhaps: fit.takes.map(|(_, most)| most),
            wants_round_mm: fit.wants.0,
            wants_d_mm: fit.wants.1,
        }
    }
}

impl SplitsAnswer {
    fn new(splits: &Splits) -> Option<Self> {
        let answer = |split: Split| SplitAnswer {
            page: split.at + 1,
            first_mm: mm(split.thickness.0),
            second_mm: mm(split.thickness.1),
            ends_section: split.ends_section,
            pages_over: split.handling,
        };
        splits.balanced?;
        Some(Self {
            balanced: splits.balanced.map(answer),
            at_section: splits.at_section.map(answer),
            least_handling: splits.least_handling.map(answer),
        })
    }
}

impl MisfitAnswer {
    fn new(misfit: &Misfit) -> Self {
        let tenths = |tenths: u32| f64::from(tenths) / 10.0;
        Self {
            grid: grid_word(&misfit.format),
            page: misfit.page + 1,
            cards: misfit.pockets,
            card_width_mm: tenths(misfit.card.width),
            card_height_mm: tenths(misfit.card.height),
            play: match misfit.play {
                Play::TooLarge(..) => "too_large",
                Play::Tight => "tight",
                Play::Fits => "fits",
                Play::Loose => "loose",
                Play::Unknown => "unknown",
            },
        }
    }
}
