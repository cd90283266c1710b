//! Drafts are kept like everything else: over a restart, with undo, and in the snapshot.

use std::path::Path;

use ringbound::demo;
use ringbound::model::LayoutPage;
use ringbound::model::{
    Binder, BinderId, Change, Collection, Draft, Meaning, PageFormat, Place, Step,
};
use ringbound::session::{Open, Session};
use ringbound::store::{read_snapshot, write_snapshot};

fn open(dir: &Path) -> Session {
    let clock = Box::new(|| "2026-01-01T00:00:00Z".to_owned());
    Session::open(dir, Open::ForWriting, clock).unwrap().0
}

fn first(collection: &Collection) -> &Binder {
    collection.binder_at(0).unwrap()
}

fn text(collection: &Collection) -> String {
    let start = ringbound::store::Position::default();
    String::from_utf8(write_snapshot(collection, start)).unwrap()
}

/// A draft is begun from the layout, changed in each of the ways there are, renamed and adopted.
fn steps(collection: &Collection) -> Vec<Step> {
    let binder = first(collection);
    let id: BinderId = binder.id();
    let draft = Draft {
        name: "rares in front".into(),
        layout: binder.layout().clone(),
    };
    let within = |change| Change::InDraft {
        draft: 0,
        change: Box::new(change),
    };
    let place = Place {
        binder: id,
        page: 0,
        pocket: 3,
    };
    let small = LayoutPage::empty(PageFormat::new(2, 2, 1));
    vec![
        Step::new(
            "begun",
            vec![Change::AddDraft {
                binder: id,
                at: 0,
                draft: Box::new(draft),
            }],
        ),
        Step::new(
            "a ticket, a page to the front, a small page",
            vec![
                within(Change::Mean {
                    place,
                    old: binder.layout().pages[0].meaning(3),
                    new: Meaning::Keepsake("ticket".into()),
                }),
                within(Change::MoveLayoutPage {
                    binder: id,
                    from: 4,
                    to: 0,
                }),
                within(Change::AddLayoutPage {
                    binder: id,
                    at: 2,
                    page: Box::new(small),
                }),
            ],
        ),
        Step::new(
            "named anew",
            vec![Change::RenameDraft {
                binder: id,
                at: 0,
                old: "rares in front".into(),
                new: "autumn".into(),
            }],
        ),
        Step::new("adopted", vec![Change::SwapLayout { binder: id, at: 0 }]),
    ]
}

#[test]
fn a_draft_is_found_with_its_undo_history_after_a_restart() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = open(dir.path());
    for step in demo::step_by_step() {
        session.commit(step).unwrap();
    }
    let mut states = vec![text(session.collection())];
    for step in steps(session.collection()) {
        session.commit(step).unwrap();
        assert_eq!(session.collection().check(), Vec::new());
        states.push(text(session.collection()));
    }
    session.close().unwrap();
    let mut session = open(dir.path());
    assert_eq!(&*first(session.collection()).drafts()[0].name, "autumn");
    for state in states.iter().rev() {
        assert_eq!(&text(session.collection()), state);
        session.undo().unwrap();
    }
    for state in &states {
        session.redo().unwrap();
        assert_eq!(&text(session.collection()), state);
    }
}

#[test]
fn a_snapshot_holds_the_drafts_and_follows_its_schema() {
    let schema: serde_json::Value =
        serde_json::from_str(include_str!("../../assets/collection.schema.json")).unwrap();
    let schema = jsonschema::validator_for(&schema).unwrap();
    let mut collection = demo::collection();
    for step in steps(&collection) {
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let written = text(&collection);
        let value = serde_json::from_str(&written).unwrap();
        assert!(schema.is_valid(&value), "{:?}", schema.validate(&value));
        let read = read_snapshot(written.as_bytes()).unwrap();
        assert!(!read.is_altered);
        assert_eq!(text(&read.collection), written);
    }
}

#[test]
fn a_draft_alters_no_count_until_it_is_adopted() {
    let mut collection = demo::collection();
    let before = first(&collection).tally();
    let steps = steps(&collection);
    for step in &steps[..3] {
        Change::apply_all(&step.changes, &mut collection).unwrap();
        assert_eq!(first(&collection).tally(), before);
    }
    Change::apply_all(&steps[3].changes, &mut collection).unwrap();
    assert_ne!(first(&collection).tally(), before);
    assert_eq!(collection.check(), Vec::new());
}
