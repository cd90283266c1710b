//! Parts of screens that draw plain data: a pocket, a page side, the strip of miniatures, a spine.

pub(super) mod pocket;
pub(super) mod side;
pub(super) mod spine;
pub(super) mod strip;
