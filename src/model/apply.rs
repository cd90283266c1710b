//! Applying a change, and keeping the running counts true while doing so.

mod binders;
mod copies;
mod drafts;
pub(crate) mod ensure;
mod layouts;
mod sections;
mod sets;

use super::change::Change;
use super::collection::Collection;
use super::refused::Refused;

impl Change {
    /// Applies the change, or alters nothing.
    ///
    /// # Errors
    /// Says what in the collection does not fit the change.
    pub fn apply(&self, on: &mut Collection) -> Result<(), Refused> {
        let result = self.apply_unchecked(on);
        #[cfg(debug_assertions)]
        on.check_often();
        result
    }

    /// Applies `changes` in order; when one is refused, those before it are taken back, so that
    /// the collection is as it was.
    ///
    /// # Errors
    /// The refusal of the first change that does not fit.
    pub fn apply_all(changes: &[Self], collection: &mut Collection) -> Result<(), Refused> {
        for (done, change) in changes.iter().enumerate() {
            if let Err(refused) = change.apply(collection) {
                Self::take_back_all(&changes[..done], collection)?;
                return Err(refused);
            }
        }
        Ok(())
    }

    /// Takes applied changes back, the last one first.
    ///
    /// # Errors
    /// [`Refused::NotTakenBack`], where the collection is not as it was right after them; it is
    /// then neither that nor what it was before them.
    pub fn take_back_all(changes: &[Self], collection: &mut Collection) -> Result<(), Refused> {
        for change in changes.iter().rev() {
            let back = change.inverse().apply(collection);
            back.map_err(Refused::not_taken_back)?;
        }
        Ok(())
    }

    fn apply_unchecked(&self, on: &mut Collection) -> Result<(), Refused> {
        match self {
            Self::AddSet { set, at, head } => on.add_set(*set, *at, head),
            Self::DropSet { set, at, head } => on.drop_set(*set, *at, head),
            Self::EditSet { set, old, new } => on.edit_set(*set, old, new),
            Self::AddFinish { set, finish } => on.add_finish(*set, finish),
            Self::DropFinish { set, finish } => on.drop_finish(*set, finish),
            Self::LeaveOut { set, finish } => on.leave_out(*set, *finish, true),
            Self::Collect { set, finish } => on.leave_out(*set, *finish, false),
            Self::AddRarity { set, name } => on.add_rarity(*set, name),
            Self::DropRarity { set, name } => on.drop_rarity(*set, name),
            Self::AddCards { set, first, cards } => on.add_cards(*set, *first, cards),
            Self::DropCards { set, first, cards } => on.drop_cards(*set, *first, cards),
            Self::EditCard {
                set,
                card,
                old,
                new,
            } => on.edit_card(*set, *card, old, new),
            Self::Acquire { printing, count } => on.acquire(*printing, *count),
            Self::PartWith { printing, count } => on.part_with(*printing, *count),
            Self::AddBinder { binder, at, spec } => on.add_binder(*binder, *at, spec),
            Self::RemoveBinder { binder, at, spec } => on.remove_binder(*binder, *at, spec),
            Self::EditBinder { binder, old, new } => on.edit_binder(*binder, old, new),
            Self::MoveBinder { binder, from, to } => on.move_binder(*binder, *from, *to),
            Self::AddPage {
                binder,
                at,
                page,
                format,
            } => on.add_page(*binder, *at, *page, *format),
            Self::RemovePage {
                binder,
                at,
                page,
                format,
            } => on.remove_page(*binder, *at, *page, *format),
            Self::MovePage { page, from, to } => on.move_page(*page, *from, *to),
            Self::Seat {
                place,
                page,
                printing,
            } => on.seat(*place, *page, *printing),
            Self::Lift {
                place,
                page,
                printing,
            } => on.lift(*place, *page, *printing),
            Self::AddLayoutPage { binder, at, page } => on.add_layout_page(*binder, *at, page),
            Self::RemoveLayoutPage { binder, at, page } => {
                on.remove_layout_page(*binder, *at, page)
            }
            Self::MoveLayoutPage { binder, from, to } => on.move_layout_page(*binder, *from, *to),
            Self::Mean { place, old, new } => on.mean(*place, old, new),
            Self::SetSections { binder, old, new } => on.set_sections(*binder, old, new),
            Self::SetTemplate { name, old, new } => {
                on.set_template(name, old.as_ref(), new.as_ref())
            }
            Self::AddDraft { binder, at, draft } => on.add_draft(*binder, *at, draft),
            Self::DropDraft { binder, at, draft } => on.drop_draft(*binder, *at, draft),
            Self::RenameDraft {
                binder,
                at,
                old,
                new,
            } => on.rename_draft(*binder, *at, old, new),
            Self::SwapLayout { binder, at } => on.swap_layout(*binder, *at),
            Self::InDraft { draft, change } => on.in_draft(*draft, change),
        }
    }
}
