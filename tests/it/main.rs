//! What the program promises, seen from outside its library.

mod layers;
mod quantities;
mod scene;
mod ui_deeds;
mod ui_pictures;
mod ui_robust;
