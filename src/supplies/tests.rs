//! Against the outside: sources stand beside each check, or in the data files.

mod bought;
mod fits;
mod needed;
mod paid;

use serde_json::Value;

/// The cases of a kind in a file of `tests/data`.
fn cases(file: &str, kind: &str) -> Vec<Value> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let cases = all["cases"].as_array().unwrap().iter();
    let of = |case: &&Value| kind.is_empty() || case["kind"] == kind;
    let found: Vec<_> = cases.filter(of).cloned().collect();
    assert!(!found.is_empty(), "no cases of the kind {kind}");
    found
}

fn number(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}
