//! What keys and mouse do on the screens.

use crossterm::event::{Event, MouseEventKind};
use insta::assert_snapshot;
use ringbound::model::{BinderId, Place, PocketState};
use ringbound::session::Session;
use ringbound::ui::{Context, Flow};

use crate::scene::{PLAIN, Scene};

/// The first pocket of the demo in this state, in its first binder.
fn first(scene: &Scene, wanted: impl Fn(&PocketState) -> bool) -> Place {
    let collection = scene.app.session().collection();
    let binder = collection.binder_at(0).unwrap();
    let pages = binder.pages().iter().enumerate();
    let places = pages.flat_map(|(page, real)| {
        (0..real.cards().len()).map(move |pocket| Place {
            binder: binder.id(),
            page,
            pocket,
        })
    });
    places
        .into_iter()
        .find(|place| wanted(&collection.pocket(*place)))
        .expect("the demo has such a pocket")
}

fn state(scene: &Scene, place: Place) -> PocketState {
    scene.app.session().collection().pocket(place)
}

/// Opens the first binder with the cursor on this pocket.
fn go(scene: &mut Scene, place: Place) {
    let page = (place.page + 1).to_string();
    scene.keys("enter g").text(&page).keys("enter");
    let collection = scene.app.session().collection();
    let format = collection.binder(place.binder).unwrap().pages()[place.page].format();
    let at = format.at(place.pocket).unwrap();
    if at.side == ringbound::model::Side::Back {
        scene.keys("pgdn");
    }
    for _ in 0..at.row {
        scene.keys("down");
    }
    for _ in 0..at.column {
        scene.keys("right");
    }
}

#[test]
fn a_waiting_copy_is_put_in_and_undo_takes_it_back() {
    let mut scene = Scene::demo((80, 24));
    let place = first(&scene, |state| matches!(state, PocketState::Waiting(_)));
    go(&mut scene, place);
    scene.keys("p");
    assert!(matches!(state(&scene, place), PocketState::InPlace(_)));
    scene.at("u takes it back");
    scene.keys("u");
    assert!(matches!(state(&scene, place), PocketState::Waiting(_)));
    scene.at("Taken back:");
    scene.keys("r");
    assert!(matches!(state(&scene, place), PocketState::InPlace(_)));
}

#[test]
fn a_card_is_taken_out_and_lies_loose() {
    let mut scene = Scene::demo((80, 24));
    let place = first(&scene, |state| matches!(state, PocketState::InPlace(_)));
    let printing = state(&scene, place).held().unwrap();
    let loose = scene.app.session().collection().tally(printing).loose;
    go(&mut scene, place);
    scene.keys("t");
    let collection = scene.app.session().collection();
    assert_eq!(collection.held(place), None);
    assert_eq!(collection.tally(printing).loose, loose + 1);
}

#[test]
fn a_card_that_came_in_fills_the_gap_in_one_step() {
    let mut scene = Scene::demo((80, 24));
    let place = first(&scene, |state| matches!(state, PocketState::Gap(_)));
    go(&mut scene, place);
    scene.keys("+");
    assert!(matches!(state(&scene, place), PocketState::InPlace(_)));
    scene.keys("u");
    let printing = state(&scene, place).wanted().unwrap();
    assert_eq!(scene.app.session().collection().tally(printing).copies(), 0);
}

#[test]
fn what_cannot_be_done_is_not_offered_and_says_why_when_asked() {
    let mut scene = Scene::demo((80, 24));
    let place = first(&scene, |state| matches!(state, PocketState::Gap(_)));
    go(&mut scene, place);
    let footer = scene.picture().lines().last().unwrap().to_owned();
    assert!(
        !footer.contains("take out") && !footer.contains("put in"),
        "{footer}"
    );
    let before = scene.app.session().revision();
    scene.keys("t");
    scene.at("The pocket is empty");
    scene.keys("p");
    scene.at("There is no loose copy");
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn next_gap_goes_through_every_gap_of_the_binder_once() {
    let mut scene = Scene::demo((80, 24));
    let collection = scene.app.session().collection();
    let gaps = collection.binder_at(0).unwrap().tally().gaps();
    let starts_with_gap = collection
        .pocket(Place {
            binder: collection.binder_at(0).unwrap().id(),
            page: 0,
            pocket: 0,
        })
        .is_gap();
    assert!(!starts_with_gap);
    scene.keys("enter");
    let mut seen = 0;
    while scene.find("No gap after this one").is_none() {
        scene.keys("n");
        seen += 1;
        assert!(seen <= gaps + 1, "the walk through the gaps does not end");
    }
    assert_eq!(seen, gaps + 1);
}

#[test]
fn a_click_chooses_a_pocket_and_the_right_button_uses_it() {
    let mut scene = Scene::demo((80, 24));
    let place = first(&scene, |state| matches!(state, PocketState::InPlace(_)));
    go(&mut scene, place);
    scene.keys("t home");
    let number = "Dew Snail";
    let at = scene.at(number);
    scene.click(at);
    scene.at("page 1, front, row 1, pocket 2");
    let chosen = Place {
        binder: place.binder,
        page: 0,
        pocket: 1,
    };
    let held = scene.app.session().collection().held(chosen);
    assert!(held.is_some());
    scene.right_click(at);
    assert_eq!(scene.app.session().collection().held(chosen), None);
    scene.right_click(at);
    assert_eq!(scene.app.session().collection().held(chosen), held);
}

#[test]
fn a_second_click_never_takes_a_card_out() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let at = scene.at("Acorn Warden");
    let before = scene.app.session().revision();
    scene.click(at).click(at).click(at);
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn pages_are_leafed_with_keys_wheel_and_click() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    scene.keys("pgdn");
    scene.at("page 1 back");
    scene.mouse(MouseEventKind::ScrollDown, (20, 10));
    scene.at("page 2 front");
    scene.mouse(MouseEventKind::ScrollUp, (20, 10));
    scene.at("page 1 back");
    let miniature = scene.at(" 7 ");
    scene.click((miniature.0 + 3, miniature.1));
    scene.at("page 7 front");
    scene.keys("g").text("12").keys("enter");
    scene.at("page 12 front");
    scene.keys("g").text("99").keys("enter");
    scene.at("The binder has pages 1 to 34");
    scene.keys("esc end");
    scene.at("page 34 back");
}

#[test]
fn in_a_spread_leafing_turns_one_page_and_keeps_the_side() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("enter");
    scene.at("page 1 front");
    scene.keys("pgdn");
    scene.at("page 1 back");
    scene.at("page 2 front");
    scene.keys("left left left");
    scene.keys("pgdn");
    scene.at("page 2 back");
    scene.at("page 3 front");
    scene.keys("pgup pgup");
    scene.at("page 1 front");
}

#[test]
fn the_keys_below_can_be_clicked() {
    let mut scene = Scene::demo((80, 24));
    let open = scene.at("enter open");
    scene.click(open);
    scene.at("page 1 front");
    let leave = scene.at("esc shelf");
    scene.click((leave.0 + 5, leave.1));
    scene.at("The shelf: 10 binders");
}

#[test]
fn a_binder_opens_again_where_it_was_closed() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter pgdn pgdn pgdn esc right enter esc left enter");
    scene.at("page 2 back");
}

#[test]
fn the_finder_leads_to_the_pocket() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("f").text("moss 12a").keys("enter");
    scene.at("12a Moss Owl, Asleep");
    scene.at("Moss Hall");
}

#[test]
fn the_finder_leads_to_a_binder_by_its_title_and_to_where_it_was_left() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("right enter g").text("5").keys("enter esc home");
    scene.keys("f").text("hall");
    scene.at("the binder, 17 pages");
    scene.at("1 binder");
    scene.keys("enter");
    scene.at("Moss Hall");
    scene.at("page 5");
    // With cards that are called so, the binders come first and the cards are counted too.
    scene.keys("esc f").text("kite");
    assert_snapshot!("find_binder_80x24", scene.picture());
    scene.keys("down enter");
    assert_eq!(scene.app.context(), Context::Binder);
}

#[test]
fn a_set_is_begun_from_the_form_and_undone_in_one_step() {
    let mut scene = Scene::new(
        Session::in_memory(ringbound::model::Collection::new()),
        PLAIN,
        (80, 24),
    );
    scene
        .keys("s")
        .text("DUSK")
        .keys("tab")
        .text("Dusk Fair")
        .keys("tab tab tab");
    scene
        .text("1 to 120 and P1 to P6, in regular and reverse")
        .keys("enter");
    scene.at("Dusk Fair");
    let collection = scene.app.session().collection();
    let binder = collection.binder(BinderId(1)).unwrap();
    // 126 cards: 7 pages of 18 for each finish.
    assert_eq!(binder.pages().len(), 14);
    assert_eq!(binder.tally().meant, 252);
    scene.keys("u");
    assert_eq!(scene.app.session().collection().sets().len(), 0);
    scene.at("no longer there");
    scene.keys("esc");
    scene.at("No binder stands here yet");
}

#[test]
fn a_wrong_phrase_is_told_and_nothing_is_made() {
    let mut scene = Scene::demo((80, 24));
    let before = scene.app.session().revision();
    scene
        .keys("s")
        .text("DUSK")
        .keys("tab tab tab tab")
        .text("9 to 3")
        .keys("enter");
    scene.at("Not yet:");
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn pasted_text_goes_into_a_field_as_one_line_and_nowhere_else() {
    let mut scene = Scene::demo((80, 24));
    let before = scene.app.session().revision();
    scene.keys("enter");
    assert_eq!(scene.event(&Event::Paste("t\nt\n".into())), Flow::Same);
    scene.keys("f");
    scene.event(&Event::Paste("moss\n12a".into()));
    scene.at("12a Moss Owl");
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn the_finder_knows_finishes_and_tells_the_binder() {
    let mut scene = Scene::demo((100, 24));
    scene.keys("f").text("wood 200 rev");
    scene.at("1 card found");
    scene.at("200");
    scene.at("reverse");
    scene.at("The Long Wood, page");
}

#[test]
fn a_collection_open_for_reading_offers_no_change() {
    let dir = tempfile::tempdir().unwrap();
    let clock = || Box::new(|| "2026-01-01T00:00:00Z".to_owned());
    let open = |how| Session::open(dir.path(), how, clock()).unwrap().0;
    let mut writer = open(ringbound::session::Open::ForWriting);
    for step in ringbound::demo::step_by_step() {
        writer.commit(step).unwrap();
    }
    let reader = open(ringbound::session::Open::ForWriting);
    let mut scene = Scene::new(reader, PLAIN, (160, 24));
    scene.keys("enter");
    let footer = scene.picture().lines().last().unwrap().to_owned();
    for word in [
        "take out", "one more", "one less", "undo", "carry", "arrange",
    ] {
        assert!(!footer.contains(word), "{footer}");
    }
    scene.keys("t");
    scene.at("Not now: the collection is open for reading only");
    // No form is filled in only to be refused at its end.
    scene.keys("e");
    assert_eq!(scene.app.context(), Context::Binder);
    scene.keys("esc");
    for key in ["s", "k", "i", "t"] {
        scene.keys(key);
        scene.at("Not now: the collection is open for reading only");
        assert_eq!(scene.app.context(), Context::Shelf);
    }
}

#[test]
fn a_key_with_ctrl_or_alt_does_not_do_the_deed_of_the_bare_letter() {
    let mut scene = Scene::demo((80, 24));
    let before = scene.app.session().revision();
    let shelf = scene.app.session().collection().shelf().count();
    scene.keys("del");
    scene.at("give up");
    for key in ["ctrl-b", "alt-b", "ctrl-s", "alt-s"] {
        scene.keys(key);
        scene.at(&format!("{key} stands for nothing that can be done here"));
    }
    scene.keys("esc enter a");
    scene.at("arrange");
    scene.keys("ctrl-x alt-x ctrl-k ctrl-b alt-b");
    scene.at("alt-b stands for nothing that can be done here");
    assert_eq!(scene.app.session().revision(), before);
    assert_eq!(scene.app.session().collection().shelf().count(), shelf);
}

#[test]
fn a_choice_of_a_form_stays_where_ctrl_or_alt_is_held() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("s tab tab tab tab tab tab");
    scene.at("both sides");
    scene.keys("ctrl-space alt-space");
    scene.at("both sides");
    scene.keys("space");
    scene.at("one side");
}
