#![allow(clippy::unwrap_used, reason = "also in what tests share")]

mod store_crash;
mod store_damage;
mod store_folder;
mod store_kept;
mod store_random;
mod store_schema;
mod store_snapshot;
mod support;
