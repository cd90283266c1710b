//! Everything that is tested from outside, in one program: one link, one start.

// What helps the tests may panic as they do.
#![allow(clippy::unwrap_used)]

mod child;
mod cli_answers;
mod cli_files;
mod cli_import;
mod cli_layout;
mod cli_manual;
mod cli_pile;
mod cli_print;
mod cli_recover;
mod cli_runs;
mod cli_stopped;
mod cli_supplies;
mod faults_calls;
mod faults_crash;
mod faults_frames;
mod faults_fuzz;
mod faults_input;
mod faults_real;
mod faults_scalars;
mod hand_cards;
mod hand_drafts;
mod hand_order;
mod hand_pages;
mod hand_random;
mod hand_shape;
mod layers;
mod paper_files;
mod paper_sheets;
mod plan;
mod pty;
mod quantities;
mod scene;
mod store_crash;
mod store_damage;
mod store_drafts;
mod store_folder;
mod store_kept;
mod store_random;
mod store_schema;
mod store_snapshot;
mod support;
mod ui_carry;
mod ui_deeds;
mod ui_lists;
mod ui_pictures;
mod ui_pile;
mod ui_print;
mod ui_robust;
mod ui_sections;
mod ui_supplies;
mod ui_terminal;
mod ui_work;
