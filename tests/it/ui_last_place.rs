//! Going on where one left off: a note beside the collection, which is never in the way.
//!
//! What is promised here is this program's own: no outside source.

use ringbound::demo;
use ringbound::session::{Access, LastPlace, Open, Session};
use ringbound::ui::Context;

use crate::scene::{PLAIN, Scene};
use crate::support::kept::{Folder, Place as _};

const NOTE: &str = "last-place";

/// A folder with the demo in it, closed.
fn demo_in_a_folder() -> Folder {
    let folder = Folder::default();
    let mut session = folder.open();
    for step in demo::step_by_step() {
        session.commit(step).unwrap();
    }
    session.close().unwrap();
    folder
}

/// The collection on the screen as it opens again.
fn again(folder: &Folder) -> Scene {
    let session = folder.open();
    let last_place = session.last_place();
    let mut scene = Scene::new(session, PLAIN, (80, 24));
    if let Some(last_place) = last_place {
        scene.app = scene.app.at_last_place(&last_place);
        scene.draw();
    }
    scene
}

/// Leaves the screen as the program does.
fn leave(scene: Scene) {
    let last_place = scene.app.last_place();
    let mut session = scene.app.into_session();
    if let Some(last_place) = last_place {
        session.keep_last_place(&last_place);
    }
    session.close().unwrap();
}

#[test]
fn the_binder_the_page_and_the_pocket_are_open_again() {
    let folder = demo_in_a_folder();
    let mut scene = again(&folder);
    assert_eq!(scene.app.context(), Context::Shelf);
    // From a window over the binder too.
    scene.keys("right enter pgdn pgdn pgdn right down");
    let last_place = scene.app.last_place().unwrap();
    assert!(matches!(last_place.open, Some((page, pocket)) if page > 0 && pocket > 0));
    scene.keys("l");
    leave(scene);
    let mut scene = again(&folder);
    assert_eq!(scene.app.context(), Context::Binder);
    assert_eq!(scene.app.last_place(), Some(last_place.clone()));
    // On the shelf the binder is marked.
    scene.keys("esc");
    leave(scene);
    let scene = again(&folder);
    assert_eq!(scene.app.context(), Context::Shelf);
    let at = scene.app.last_place().unwrap();
    assert_eq!((at.binder, at.open), (last_place.binder, None));
}

#[test]
fn a_damaged_a_foreign_and_a_huge_note_are_passed_over_and_so_is_a_folder() {
    let folder = demo_in_a_folder();
    let gone =
        r#"{"format":"ringbound-last-place","version":1,"binder":"GONE","page":1,"pocket":1}"#;
    let far =
        r#"{"format":"ringbound-last-place","version":1,"binder":"WOOD","page":9999,"pocket":99}"#;
    let huge = vec![b' '; 1 << 20];
    for note in [
        &b""[..],
        b"\xff\xfe{",
        b"[1,2]",
        gone.as_bytes(),
        far.as_bytes(),
        &huge,
    ] {
        folder.write(NOTE, note);
        let mut scene = again(&folder);
        // Whatever it opened, it can be worked with.
        scene.keys("esc enter n");
        assert_eq!(scene.app.context(), Context::Binder);
    }
    std::fs::remove_file(folder.file(NOTE)).unwrap();
    std::fs::create_dir(folder.file(NOTE)).unwrap();
    let mut scene = again(&folder);
    scene.keys("enter");
    leave(scene);
    assert!(folder.file(NOTE).is_dir());
}

#[test]
fn one_that_is_open_for_reading_writes_nothing() {
    let folder = demo_in_a_folder();
    let first = folder.open();
    let (mut second, _) = folder.open_as(Open::ForWriting);
    assert!(matches!(second.access(), Access::ReadOnly(_)));
    let last_place = LastPlace {
        binder: "WOOD".into(),
        open: Some((1, 1)),
    };
    second.keep_last_place(&last_place);
    assert!(!folder.file(NOTE).exists());
    drop(first);
    let (mut reader, _) = folder.open_as(Open::ForReading);
    reader.keep_last_place(&last_place);
    assert!(!folder.file(NOTE).exists());
    let mut own = folder.open();
    own.keep_last_place(&last_place);
    assert_eq!(own.last_place(), Some(last_place));
}

#[test]
fn the_demo_is_not_noted_and_nothing_is_of_a_collection_in_memory() {
    let folder = demo_in_a_folder();
    let mut scene = again(&folder);
    scene.keys("d enter pgdn");
    leave(scene);
    assert!(!folder.file(NOTE).exists());
    let mut session = Session::in_memory(demo::collection());
    session.keep_last_place(&LastPlace {
        binder: "WOOD".into(),
        open: None,
    });
    assert_eq!(session.last_place(), None);
}
