//! A list that was left to look at a pocket: what has to be known to take it up again.

use super::field::Field;
use crate::model::BinderId;
use crate::report::Asked;

/// The list as it was left. What stands on it is listed anew.
#[derive(Debug)]
pub(super) struct LeftList {
    /// The binder that it was left for.
    pub(super) binder: BinderId,
    pub(super) asked: Asked,
    /// The words that narrow it.
    pub(super) field: Field,
    /// Of spares: how many copies of each card are kept.
    pub(super) keep: u32,
    /// The line that was chosen.
    pub(super) chosen: usize,
}
