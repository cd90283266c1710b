//! Written snapshots against the published schema (JSON Schema, draft 2020-12), checked by the
//! jsonschema library.

use jsonschema::Validator;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use ringbound::model::{Change, Collection};
use serde_json::{Value, json};

use crate::support::changes::step;
use crate::support::dice::Dice;
use crate::support::world::{collection, state};

fn schema() -> Validator {
    let schema = include_str!("../../assets/collection.schema.json");
    let schema: Value = serde_json::from_str(schema).unwrap();
    jsonschema::meta::validate(&schema).unwrap();
    jsonschema::options().build(&schema).unwrap()
}

fn ensure_valid(schema: &Validator, collection: &Collection) {
    let value: Value = serde_json::from_str(&state(collection)).unwrap();
    let errors: Vec<_> = schema
        .iter_errors(&value)
        .map(|error| error.to_string())
        .collect();
    assert!(errors.is_empty(), "{errors:?}\n{}", state(collection));
}

#[test]
fn written_snapshots_are_as_the_schema_says() {
    let schema = schema();
    ensure_valid(&schema, &Collection::new());
    ensure_valid(&schema, &collection());
    let mut runner = TestRunner::deterministic();
    let rolls = proptest::collection::vec(proptest::num::u32::ANY, 600..900);
    let (mut unpaired, mut misplaced, mut left_out) = (0, 0, 0);
    for _ in 0..70 {
        let mut dice = Dice::new(rolls.new_tree(&mut runner).unwrap().current());
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let changes = step(&collection, &mut dice);
            drop(Change::apply_all(&changes, &mut collection));
        }
        let written = state(&collection);
        unpaired += usize::from(written.contains("\"contents\""));
        misplaced += usize::from(written.contains("\"holds\""));
        left_out += usize::from(written.contains("\"left_out\""));
        ensure_valid(&schema, &collection);
    }
    let seen = (unpaired, misplaced, left_out);
    assert!(unpaired > 5 && misplaced > 5 && left_out > 5, "{seen:?}");
}

#[test]
fn what_the_reader_refuses_the_schema_refuses() {
    let schema = schema();
    let whole: Value = serde_json::from_str(&state(&collection())).unwrap();
    assert!(schema.is_valid(&whole));
    let set = |path: &str, value: Value| {
        let mut broken = whole.clone();
        *broken.pointer_mut(path).unwrap() = value;
        broken
    };
    let mut extra = whole.clone();
    extra["binders"][0]["pages"][0]["note"] = json!("x");
    let mut without = whole.clone();
    without.as_object_mut().unwrap().remove("through");
    let broken = [
        set("/version", json!(2)),
        set("/format", json!("other")),
        set("/sum", json!("ABCDEF01")),
        set("/through/chain", json!("1")),
        set("/sets/0/code", json!("two words")),
        set("/sets/0/cards/0/number", json!("")),
        set("/sets/0/finishes/0/0", json!(";")),
        set("/binders/0/id", json!("3")),
        set("/binders/0/spec/kind", json!("glued")),
        set("/binders/0/spec/shape", json!("d")),
        set("/binders/0/format/rows", json!(21)),
        set("/binders/0/format/sides", json!(3)),
        set("/binders/0/pages/0/id", json!("p01")),
        set("/binders/0/pages/0/front/0", json!(12)),
        set("/binders/0/pages/0/front/0", json!({"blank": false})),
        set(
            "/binders/0/pages/0/front/0",
            json!({"for": "1", "blank": true}),
        ),
        set("/binders/0/pages/0/front/0", json!(["MIR", "Q 4"])),
        set("/loose/0/1", json!(0)),
        extra,
        without,
    ];
    for broken in broken {
        assert!(!schema.is_valid(&broken), "{broken}");
        let text = serde_json::to_vec(&broken).unwrap();
        assert!(ringbound::store::read_snapshot(&text).is_err(), "{broken}");
    }
}
