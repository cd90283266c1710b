//! Screens that do not break: every size, any events, hostile words.

use std::collections::HashSet;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use proptest::prelude::*;
use ringbound::demo;
use ringbound::intake::{self, BinderOptions, Phrase};
use ringbound::model::{BinderKind, Change, Collection, Meaning, PageFormat, Place, SetHead, Step};
use ringbound::session::Session;
use ringbound::ui::{Flow, bindings};

use crate::faults_frames::{WAYS_IN, all_contexts};
use crate::scene::{PLAIN, Scene};
use crate::ui_lists::their_lists;

#[test]
fn every_screen_is_drawn_at_every_size() {
    for keys in ["", "enter"] {
        let mut scene = Scene::demo((80, 24));
        scene.keys(keys);
        for (width, height) in
            (0..130).flat_map(|w| [1, 2, 5, 6, 9, 12, 17, 24, 41].map(|h| (w, h)))
        {
            scene.event(&Event::Resize(width, height));
        }
        for height in 0..60 {
            scene.event(&Event::Resize(80, height));
        }
    }
    // And each of the others, wherever keys mean something.
    let folder = tempfile::tempdir().unwrap();
    let lists = their_lists(folder.path());
    let further = [
        "t",
        "enter k",
        "i",
        "f3",
        "enter ?",
        "enter d n x enter d",
        "x ",
    ];
    let mut met = HashSet::new();
    for keys in WAYS_IN.iter().chain(&further) {
        let mut scene = Scene::demo((80, 24));
        scene.keys(keys);
        if *keys == "x " {
            scene.event(&Event::Paste(lists[0].clone()));
            scene.keys("tab");
            scene.event(&Event::Paste(lists[1].clone()));
            scene.keys("enter");
        }
        met.insert(scene.app.context());
        for width in [0, 1, 2, 7, 16, 23, 24, 31, 40, 52, 60, 79, 80, 104, 131] {
            for height in [0, 1, 2, 3, 5, 6, 7, 9, 12, 17, 24, 41] {
                scene.event(&Event::Resize(width, height));
            }
        }
        scene.event(&Event::Resize(300, 100));
    }
    let missed: Vec<_> = all_contexts().difference(&met).copied().collect();
    assert_eq!(missed, []);
}

#[test]
fn too_small_is_said_and_not_drawn_over() {
    let mut scene = Scene::demo((20, 5));
    scene.at("Too small");
    scene.event(&Event::Resize(40, 5));
    scene.at("Too small: enlarge the window");
}

/// A collection of which every word tries to steer the terminal.
pub(crate) fn hostile() -> Collection {
    let evil = "\u{1b}[2J\u{1b}]0;x\u{7}\u{202e}\u{9b}31m\u{200b}\u{feff}\r\n\tA";
    let mut collection = Collection::new();
    let head = SetHead {
        code: "EVIL".into(),
        title: evil.into(),
        symbol: "\u{1b}".into(),
        shelf: "\u{85}".into(),
    };
    let phrase = Phrase::parse("1 to 20, in regular and reverse").unwrap();
    let binder = BinderOptions {
        format: PageFormat::new(3, 3, 2),
        kind: BinderKind::Fixed,
    };
    let made = intake::new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let (set, _) = collection.sets().next().unwrap();
    for card in 0..20 {
        let old = collection.set(set).unwrap().cards()[card as usize].clone();
        let mut new = old.clone();
        new.name = format!("{evil}{card}").into();
        let edit = Change::EditCard {
            set,
            card,
            old: Box::new(old),
            new: Box::new(new),
        };
        edit.apply(&mut collection).unwrap();
    }
    let binder = collection.binder_at(0).unwrap();
    let place = Place {
        binder: binder.id(),
        page: 0,
        pocket: 0,
    };
    let keepsake = Change::Mean {
        place,
        old: binder.layout().pages[0].meaning(0),
        new: Meaning::Keepsake(evil.into()),
    };
    keepsake.apply(&mut collection).unwrap();
    let (spec, id) = (
        binder_spec(&collection),
        collection.binder_at(0).unwrap().id(),
    );
    let mut new = spec.clone();
    new.front_matter = vec![evil.into()];
    let edit = Change::EditBinder {
        binder: id,
        old: Box::new(spec),
        new: Box::new(new),
    };
    edit.apply(&mut collection).unwrap();
    collection
}

fn binder_spec(collection: &Collection) -> ringbound::model::BinderSpec {
    collection.binder_at(0).unwrap().spec().clone()
}

/// Characters of ECMA-48 (C0, DEL, C1) and the bidirectional controls of UAX #9.
fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

#[test]
fn no_word_from_outside_steers_the_terminal() {
    for keys in [
        "",
        "enter",
        "enter pgdn down",
        "enter ?",
        "enter +",
        "enter right + t",
    ] {
        for size in [(24, 6), (40, 12), (80, 24), (120, 40), (200, 60)] {
            let mut scene = Scene::new(Session::in_memory(hostile()), PLAIN, size);
            scene.keys(keys);
            let bad = scene
                .frame
                .content
                .iter()
                .find(|cell| cell.symbol().chars().any(steers));
            assert!(bad.is_none(), "{keys} at {size:?}: {bad:?}");
        }
    }
    let mut scene = Scene::new(Session::in_memory(hostile()), PLAIN, (100, 30));
    scene.keys("f");
    scene.event(&Event::Paste("\u{1b}]0;x\u{7}1".into()));
    scene.keys("backspace 1");
    assert!(
        !scene
            .frame
            .content
            .iter()
            .any(|cell| cell.symbol().chars().any(steers))
    );
}

#[test]
fn the_states_of_a_pocket_differ_without_colour() {
    // Page 1 of the demo's first binder with one pocket of each state, compared as drawn text.
    let mut collection = demo::collection();
    let binder = collection.binder_at(0).unwrap().id();
    let place = |pocket| Place {
        binder,
        page: 0,
        pocket,
    };
    for (pocket, new) in [
        (3, Meaning::Blank),
        (4, Meaning::Nothing),
        (5, Meaning::Keepsake("ticket".into())),
    ] {
        let page = collection.binder(binder).unwrap().pages()[0].id();
        if let Some(printing) = collection.held(place(pocket)) {
            let lift = Change::Lift {
                place: place(pocket),
                page,
                printing,
            };
            lift.apply(&mut collection).unwrap();
        }
        let old = collection.meaning(place(pocket));
        let mean = Change::Mean {
            place: place(pocket),
            old,
            new,
        };
        mean.apply(&mut collection).unwrap();
    }
    let mut session = Session::in_memory(collection);
    // In place (pocket 0), waiting (1: taken out), gap (2: taken out and left the collection).
    for (pocket, away) in [(1, false), (2, true)] {
        let step: Step = ringbound::hand::take(session.collection(), place(pocket)).unwrap();
        session.commit(step).unwrap();
        if away {
            let step = {
                let collection = session.collection();
                let state = collection.pocket(place(pocket));
                ringbound::hand::part_with(collection, &state).unwrap()
            };
            session.commit(step).unwrap();
        }
    }
    for ascii in [false, true] {
        let look = ringbound::ui::Look { ascii, ..PLAIN };
        let again = Session::in_memory(session.collection().clone());
        let mut scene = Scene::new(again, look, (80, 24));
        scene.keys("enter down down");
        let picture = scene.picture();
        let lines: Vec<Vec<char>> = picture.lines().map(|line| line.chars().collect()).collect();
        let corner = scene.at(" page 1 front ");
        let (left, top) = (usize::from(corner.0) - 1, usize::from(corner.1) + 1);
        let mut seen = HashSet::new();
        for pocket in 0..6usize {
            let (row, column) = (pocket / 3, pocket % 3);
            // Only outline and signs: words and numbers are left out.
            let signs: String = lines[top + row * 5..top + row * 5 + 5]
                .iter()
                .flat_map(|line| line.iter().skip(left + column * 16).take(16))
                .filter(|c| !c.is_alphanumeric() && **c != ' ')
                .collect();
            assert!(
                seen.insert(signs.clone()),
                "ascii {ascii}, pocket {pocket}: {signs}\n{picture}"
            );
        }
    }
}

fn any_event() -> impl Strategy<Value = Event> {
    let key = prop_oneof![
        4 => (0..bindings().len()).prop_map(|at| Event::Key(bindings()[at].key.event())),
        1 => any::<char>().prop_map(|c| Event::Key(KeyEvent::new(KeyCode::Char(c), KeyModifiers::NONE))),
    ];
    let mouse = (0..5u8, 0..140u16, 0..45u16).prop_map(|(kind, column, row)| {
        let kind = match kind {
            0 => MouseEventKind::ScrollDown,
            1 => MouseEventKind::Down(MouseButton::Right),
            2 => MouseEventKind::Drag(MouseButton::Left),
            3 => MouseEventKind::Up(MouseButton::Left),
            _ => MouseEventKind::Down(MouseButton::Left),
        };
        Event::Mouse(MouseEvent {
            kind,
            column,
            row,
            modifiers: KeyModifiers::NONE,
        })
    });
    prop_oneof![
        8 => key,
        3 => mouse,
        1 => (0..140u16, 0..45u16).prop_map(|(width, height)| Event::Resize(width, height)),
        1 => ".{0,12}".prop_map(Event::Paste),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn any_events_in_any_order_leave_a_whole_collection(events in prop::collection::vec(any_event(), 1..120)) {
        let mut scene = Scene::demo((80, 24));
        for event in &events {
            if scene.event(event) == Flow::Quit {
                break;
            }
        }
        prop_assert_eq!(scene.app.session().collection().check(), Vec::new());
    }
}
