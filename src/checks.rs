//! The vectors of `tests/data`, for the tests beside the code.

use serde_json::Value;

/// The cases of a kind in a file, or all of them where no kind is named.
pub(crate) fn cases(file: &str, kind: &str) -> Vec<Value> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let cases = all["cases"].as_array().unwrap().iter();
    let of = |case: &&Value| kind.is_empty() || case["kind"] == kind;
    let found: Vec<_> = cases.filter(of).cloned().collect();
    assert!(!found.is_empty(), "no cases of the kind {kind}");
    found
}
