//! What the form would make: found out once for each change of it, not in every frame.

use super::{NO_CODE, NewSet};
use crate::model::Refused;
use crate::ui::desk::Desk;

/// Of more cards the form tells only how many they are: their pages are not made at each key.
const MOST_TRIED: usize = 5_000;

/// What the form would make.
#[derive(Clone, Copy, Debug)]
pub(super) struct Made {
    /// None of a set that is there; not known before they are typed in.
    pub(super) cards: Option<usize>,
    pub(super) pages: Option<usize>,
}

impl NewSet {
    /// Finds out what the form would make.
    pub(super) fn recount(&mut self, desk: &Desk) {
        self.made = match self.typed_in {
            true => self.empty(desk).map(|intake| Made {
                cards: (intake.added.pages > 0).then_some(0),
                pages: Some(intake.added.pages),
            }),
            false => self.named(desk),
        };
    }

    fn named(&self, desk: &Desk) -> Result<Made, String> {
        if let Ok(phrase) = self.phrase(desk)
            && phrase.numbers.len() > MOST_TRIED
        {
            let head = self.head()?;
            self.binder()?;
            return match (
                head.code.is_empty(),
                desk.collection().set_by_code(&head.code),
            ) {
                (true, _) => Err(NO_CODE.into()),
                (_, Some(_)) => Err(Refused::CodeTaken(head.code).to_string()),
                _ => Ok(Made {
                    cards: Some(phrase.numbers.len()),
                    pages: None,
                }),
            };
        }
        self.intake(desk).map(|intake| Made {
            cards: Some(intake.added.cards),
            pages: Some(intake.added.pages),
        })
    }
}
