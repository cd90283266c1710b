//! Against the outside: sources stand beside each check, or in the data files.

mod bought;
mod fits;
mod needed;
mod paid;

use serde_json::Value;

use crate::checks::cases;

fn number(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}
