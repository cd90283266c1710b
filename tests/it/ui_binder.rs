//! An open binder: what the pointer aims at, what a click changes, what is told, and what there is
//! room for.

use crossterm::event::{Event, MouseButton, MouseEventKind};
use ringbound::hand;
use ringbound::intake::{BinderOptions, Phrase, new_set};
use ringbound::model::{
    BinderKind, BinderSpec, Change, Collection, Meaning, Page, PageFormat, PageId, Place, SetHead,
};
use ringbound::session::Session;
use ringbound::ui::{Context, Flow, bindings};

use crate::scene::{PLAIN, Scene};

const DOWN: MouseEventKind = MouseEventKind::Down(MouseButton::Left);
const DRAG: MouseEventKind = MouseEventKind::Drag(MouseButton::Left);
const UP: MouseEventKind = MouseEventKind::Up(MouseButton::Left);

fn revision(scene: &Scene) -> u64 {
    scene.app.session().revision()
}

fn page_ids(scene: &Scene) -> Vec<PageId> {
    let collection = scene.app.session().collection();
    let pages = collection.binder_at(0).unwrap().pages();
    pages.iter().map(Page::id).collect()
}

/// A set of so many cards in pages of this format, none of them there yet; its binder is open.
fn opened(cards: usize, format: PageFormat, size: (u16, u16)) -> Scene {
    let mut collection = Collection::new();
    let head = SetHead {
        code: "FEN".into(),
        title: "Fen and Ferry".into(),
        symbol: "".into(),
        shelf: "".into(),
    };
    let phrase = Phrase::parse(&format!("1 to {cards}")).unwrap();
    let kind = BinderKind::Fixed;
    let binder = BinderOptions { format, kind };
    let made = new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let mut scene = Scene::new(Session::in_memory(collection), PLAIN, size);
    scene.keys("enter");
    scene
}

#[test]
fn over_no_target_the_line_says_that_letting_go_puts_it_back_and_so_it_does() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let before = revision(&scene);
    let (from, to) = (scene.at("Acorn Warden"), scene.at("Fern Nuthatch"));
    scene.mouse(DOWN, from).mouse(DRAG, to);
    scene.at("Swap: 1 Acorn Warden");
    scene.at("▾1 Acorn");
    scene.mouse(DRAG, (20, 21));
    scene.at("1 Acorn Warden in hand: letting go here puts it back");
    assert!(scene.find("Swap:").is_none(), "{}", scene.picture());
    assert!(scene.find("▾1 Acorn").is_none(), "{}", scene.picture());
    scene.mouse(DRAG, (0, 10));
    scene.at("held here it leafs on, letting go puts it back");
    scene.mouse(DRAG, (20, 21)).mouse(UP, (20, 21));
    scene.at("1 Acorn Warden put back");
    assert_eq!(revision(&scene), before);
}

#[test]
fn just_above_and_below_the_strip_a_page_comes_first_or_last() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let before = page_ids(&scene);
    let from = scene.at(" 7 ");
    scene.mouse(DOWN, from).mouse(DRAG, (from.0, 0));
    scene.at("Page 7 becomes page 1: no card comes out");
    // Its columns have no more to show below.
    scene.mouse(DRAG, (from.0, 20));
    scene.at("Page 7 becomes page 34: no card comes out");
    scene.mouse(UP, (from.0, 20));
    assert_eq!(page_ids(&scene)[33], before[6]);
}

#[test]
fn dragged_by_its_edge_a_page_lands_on_the_other_page_of_the_spread() {
    for target in ["page 6 back", "page 7 front"] {
        let mut scene = Scene::demo((140, 40));
        scene.keys("enter g").text("7").keys("enter");
        let before = page_ids(&scene);
        let (left, right) = (scene.at("page 6 back"), scene.at("page 7 front"));
        let (from, to) = match target {
            "page 6 back" => (right, left),
            _ => (left, right),
        };
        scene.mouse(DOWN, from);
        for down in 1..8 {
            scene.mouse(DRAG, (to.0 + down, to.1 + down));
            scene.at(match target {
                "page 6 back" => "Page 7 becomes page 6: no card",
                _ => "Page 6 becomes page 7: no card",
            });
            assert!(!scene.app.turns());
        }
        scene.mouse(UP, (to.0 + 7, to.1 + 7));
        let mut after = before.clone();
        after.swap(5, 6);
        assert_eq!(page_ids(&scene), after, "{target}");
    }
    // On its own page it is where it was.
    let mut scene = Scene::demo((140, 40));
    scene.keys("enter g").text("7").keys("enter");
    let before = revision(&scene);
    for title in ["page 6 back", "page 7 front"] {
        let at = scene.at(title);
        scene.mouse(DOWN, at).mouse(DRAG, (at.0 + 2, at.1 + 3));
        scene.mouse(UP, (at.0 + 2, at.1 + 3));
        scene.at("put back");
    }
    assert_eq!(revision(&scene), before);
}

#[test]
fn the_strip_keeps_still_while_a_page_is_dragged_in_it() {
    let mut scene = rings(2_000, (80, 24));
    // More pages than the strip shows.
    scene.keys("g").text("60").keys("enter");
    let here = scene.at("▸ 60 ");
    let strip = (here.0 + 1, here.1);
    let shown = |scene: &Scene, y: u16| -> usize {
        let cells = (strip.0..strip.0 + 4).map(|x| scene.frame[(x, y)].symbol());
        cells.collect::<String>().trim().parse().unwrap()
    };
    let (a, b) = (strip.1, strip.1 + 14);
    let (from, aimed) = (shown(&scene, a), shown(&scene, b));
    let other = shown(&scene, b + 1);
    scene.mouse(DOWN, (strip.0 + 1, a));
    scene.mouse(DRAG, (strip.0 + 1, b));
    scene.at(&format!("Page {from} becomes page {aimed}: no card"));
    scene.mouse(DRAG, (strip.0 + 1, b + 1));
    scene.at(&format!("Page {from} becomes page {other}: no card"));
    // Held below it goes on page by page, and the strip with it.
    scene.mouse(DRAG, (strip.0 + 1, 20));
    assert!(scene.app.turns());
    for on in 1..20 {
        scene.app.turn();
        scene.draw();
        scene.at(&format!("Page {from} becomes page {}: no card", other + on));
    }
    scene.keys("esc");
    // A card of a miniature further on finds its page there.
    scene.keys("home");
    let card = scene.at("┌");
    scene.mouse(DOWN, (card.0 + 2, card.1 + 1));
    let over = scene.at(" 30 ");
    scene.mouse(DRAG, over);
    scene.at("held here page 30 opens, letting go puts it there");
    assert!(scene.app.turns());
    scene.app.turn();
    assert!(!scene.app.turns());
    for _ in 0..3 {
        scene.mouse(DRAG, over);
        scene.at("page 30 front");
    }
}

/// To the edge of the screen, to be carried on there, one comes across the miniatures.
#[test]
fn on_its_way_across_the_strip_a_card_opens_no_page_and_let_go_there_it_lies_on_that_page() {
    let mut scene = rings(2_000, (80, 24));
    let held = |scene: &Scene, page: usize| {
        let binder = scene.app.session().collection().binder_at(0).unwrap();
        binder.pages()[page].cards()[0]
    };
    let first = held(&scene, 0);
    let card = scene.at("┌");
    let over = scene.at(" 30 ");
    scene.mouse(DOWN, (card.0 + 2, card.1 + 1));
    for x in card.0 + 3..80 {
        scene.mouse(DRAG, (x, over.1));
        scene.at("page 1 front");
    }
    scene.mouse(DRAG, over).mouse(UP, over);
    assert_eq!(held(&scene, 29), first);
    scene.at("u takes it back.");
}

#[test]
fn the_name_of_what_is_dragged_stands_once_over_the_pocket_where_it_would_lie() {
    let mut scene = Scene::demo((200, 60));
    scene.keys("enter");
    let (from, to) = (scene.at("Acorn Warden"), scene.at("Fern Nuthatch"));
    scene.mouse(DOWN, from).mouse(DRAG, (to.0, to.1 + 3));
    let seen = scene.picture().matches("1 Acorn").count();
    // In the pocket, and in the words at the foot; what is told beside the pages is not asked for.
    let foot = scene.picture().lines().rev().take(2).collect::<String>();
    let head = foot.matches("1 Acorn").count();
    assert_eq!(seen - head, 1, "{}", scene.picture());
}

#[test]
fn while_a_page_is_in_hand_lists_and_titles_count_by_one_number() {
    let mut scene = Scene::demo((200, 60));
    scene.keys("enter");
    let listed = |scene: &Scene| {
        let picture = scene.picture();
        let lines = picture
            .lines()
            .filter_map(|line| line.split_once("◂ page "));
        let lines = lines.map(|(_, words)| words.trim_end().to_owned());
        lines.collect::<Vec<_>>()
    };
    let mut before = listed(&scene);
    assert!(!before.is_empty());
    scene.keys("C end");
    let mut now = listed(&scene);
    before.sort();
    now.sort();
    assert_eq!(now, before);
}

#[test]
fn the_list_beside_the_pages_keeps_its_place_whatever_is_told_above_it() {
    let mut scene = Scene::demo((200, 60));
    scene.keys("enter");
    let head = scene.at("Waiting or misplaced:");
    for down in 1..9 {
        scene.click((head.0 + 3, head.1 + down));
        assert_eq!(scene.at("Waiting or misplaced:"), head, "{down}");
    }
}

#[test]
fn a_loose_copy_waits_in_a_draft_and_does_not_lie_in_its_pocket() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter t d n").text("one").keys("enter");
    scene.at("1 Acorn Warden: a loose copy");
    let row = scene.at("┃ 1 ").1;
    let row = scene.picture().lines().nth(row.into()).unwrap().to_owned();
    assert!(row.contains("◂┃"), "{row}");
}

#[test]
fn below_a_draft_the_real_binder_is_told_as_it_is_where_it_is_open() {
    let mut scene = Scene::demo((120, 60));
    // A page of the layout in force is still to be moved.
    scene
        .keys("enter d n")
        .text("one")
        .keys("enter C end enter d a");
    let head = |scene: &Scene| {
        let picture = scene.picture();
        let told = picture.lines().filter(|line| line.contains("(w)"));
        let told = told.filter_map(|line| line.split_once(" of 34   "));
        told.map(|(_, words)| words.to_owned()).next()
    };
    let real = head(&scene);
    assert!(real.is_some(), "{}", scene.picture());
    scene.keys("home d n").text("two").keys("enter");
    assert_eq!(head(&scene), real, "{}", scene.picture());
    scene.at("will be page");
}

#[test]
fn a_draft_is_opened_where_the_binder_is_open() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter d n").text("one").keys("enter esc");
    scene.keys("g").text("5").keys("enter right d end enter");
    scene.at("DRAFT");
    scene.at("page 5, front, row 1, pocket 2");
}

#[test]
fn in_the_real_binder_the_draft_is_marked_that_one_has_come_from() {
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("enter d n")
        .text("one")
        .keys("enter d n")
        .text("two")
        .keys("enter esc d");
    scene.at("▸ two");
    scene.keys("esc d up enter esc d");
    scene.at("▸ one");
}

#[test]
fn the_whole_name_of_a_draft_stands_in_the_head_before_the_title_of_the_binder() {
    let mut scene = Scene::demo((80, 24));
    let name = "all in order, new ones at the end";
    scene.keys("enter d n").text(name).keys("enter");
    scene.at(&format!("DRAFT “{name}”"));
    scene.keys("d");
    scene.at(&format!("{name} "));
}

#[test]
fn where_the_numbers_of_two_sides_have_no_room_one_side_is_shown() {
    let mut scene = opened(1_600, PageFormat::new(20, 20, 2), (200, 60));
    scene.keys("pgdn");
    scene.at("page 1 back");
    assert_eq!(scene.find("page 2 front"), None, "{}", scene.picture());
    // Where there is too little for that the last figures stand there.
    let scene = opened(1_600, PageFormat::new(20, 20, 2), (80, 30));
    let row = scene.picture().lines().nth(4).unwrap().to_owned();
    for last in ["21", "29", "30", "39"] {
        let figure = last.chars().last().unwrap();
        assert!(row.contains(&format!("□{figure}")), "{last}: {row}");
    }
}

#[test]
fn what_a_page_is_that_others_are_not_stands_in_its_title() {
    let mut format = PageFormat::new(3, 3, 2);
    format.shared = true;
    format.opening = ringbound::model::Opening::Top;
    let scene = opened(40, format, (120, 40));
    scene.at(" page 1 front, front and back share a pocket ");
    let scene = opened(40, format, (200, 60));
    scene.at(" page 1 front, front and back share a pocket, open at the top ");
    let scene = opened(40, PageFormat::new(3, 3, 1), (80, 24));
    scene.at(" page 1 front, one side ");
}

#[test]
fn no_ring_hangs_beside_a_low_page() {
    for size in [(200, 60), (120, 40), (80, 24)] {
        let scene = in_rings(40, PageFormat::new(1, 20, 2), size);
        let rings = |line: &str| line.contains("══") && !line.contains("◉");
        let picture = scene.picture();
        let loose = picture.lines().filter(|line| rings(line)).count();
        assert_eq!(loose, 0, "{picture}");
    }
}

/// The same in a ring binder, which lets pages be moved, with every card in it.
fn rings(cards: usize, size: (u16, u16)) -> Scene {
    in_rings(cards, PageFormat::new(3, 3, 2), size)
}

fn in_rings(cards: usize, format: PageFormat, size: (u16, u16)) -> Scene {
    let scene = opened(cards, format, size);
    let mut collection = scene.app.into_session().collection().clone();
    let binder = collection.binder_at(0).unwrap();
    let (id, old) = (binder.id(), binder.spec().clone());
    let kind = BinderKind::Rings {
        size: 65,
        shape: ringbound::model::RingShape::D,
    };
    let new = BinderSpec {
        kind,
        ..old.clone()
    };
    let (old, new) = (Box::new(old), Box::new(new));
    let change = Change::EditBinder {
        binder: id,
        old,
        new,
    };
    change.apply(&mut collection).unwrap();
    let mut scene = Scene::new(Session::in_memory(collection), PLAIN, size);
    scene.keys("enter");
    scene
}

#[test]
fn a_left_click_changes_nothing_and_the_right_button_says_why_not_in_a_draft() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter t");
    let at = scene.at("Acorn Warden");
    let before = revision(&scene);
    scene.click(at).click(at).click(at);
    assert_eq!(revision(&scene), before);
    scene.right_click(at);
    assert_eq!(revision(&scene), before + 1);
    scene.keys("d n").text("x").keys("enter");
    let at = scene.at("Acorn Warden");
    scene.right_click(at);
    scene.at("This is a draft; the cards lie in the real binder; esc leads there");
}

#[test]
fn the_right_button_does_nothing_with_the_hands_full() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter c right");
    let before = scene.picture();
    let at = scene.at("Fern Nuthatch");
    scene.right_click(at);
    assert_eq!(scene.picture(), before);
}

#[test]
fn every_key_that_is_told_while_a_card_is_in_hand_does_something() {
    for binding in bindings() {
        if binding.context != Context::Carry {
            continue;
        }
        let mut scene = Scene::demo((80, 24));
        scene.keys("enter g").text("7").keys("enter");
        scene.keys("down right c right");
        let before = scene.picture();
        let flow = scene.event(&Event::Key(binding.key.event()));
        let seen = scene.picture() != before;
        let key = binding.key;
        assert!(
            seen || matches!(flow, Flow::DrawAnew | Flow::Suspend),
            "{key}"
        );
    }
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter c n");
    scene.at("1 Acorn Warden to page");
    scene.keys("esc C n");
    scene.at("Not now: only cards are carried to a gap");
}

#[test]
fn going_to_a_page_keeps_the_mark() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter m g").text("2").keys("enter");
    scene.at("page 2 front");
    scene.keys("m");
    scene.at("Nothing is marked");
}

#[test]
fn while_one_marks_the_foot_tells_how_much_and_what_can_be_done_with_it() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter m right right");
    scene.at("3 pockets marked: c carries, a arranges; esc lets go");
    // The first keys of the footer are those.
    let foot = scene.picture().lines().last().unwrap().to_owned();
    assert!(
        foot.starts_with(" esc let go  c carry  a arrange  "),
        "{foot}"
    );
    scene.keys("pgdn pgdn");
    scene.at("21 pockets on 2 pages marked: c carries, C the pages, a arranges; esc lets go");
    scene.keys("esc");
    assert_eq!(scene.find("marked"), None);
    scene.at("esc shelf");
}

#[test]
fn an_open_draft_stays_the_same_when_others_come_and_go() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter d n").text("autumn").keys("enter");
    scene.keys("d n").text("winter").keys("enter");
    scene.keys("d up x esc d end enter");
    scene.at("DRAFT “winter”");
    scene.keys("u");
    scene.at("DRAFT “winter”");
    scene.keys("r");
    scene.at("DRAFT “winter”");
    scene.keys("u u");
    scene.at("This is no longer there: esc leads back");
    let before = revision(&scene);
    scene.keys("C end enter m c p");
    assert_eq!(revision(&scene), before, "another draft is not altered");
    scene.keys("r");
    scene.at("DRAFT “winter”");
    scene.keys("d r").text("spring").keys("enter esc");
    scene.at("DRAFT “spring”");
}

#[test]
fn without_pages_no_page_is_told_or_gone_to() {
    let mut collection = Collection::new();
    let mut opened = opened(1, PageFormat::new(3, 3, 2), (80, 24));
    opened.draw();
    let spec = opened.app.session().collection().binder_at(0).unwrap();
    let spec = BinderSpec {
        set: None,
        ..spec.spec().clone()
    };
    let binder = opened.app.session().collection().binder_at(0).unwrap().id();
    let change = Change::AddBinder {
        binder,
        at: 0,
        spec: Box::new(spec),
    };
    change.apply(&mut collection).unwrap();
    let mut scene = Scene::new(Session::in_memory(collection), PLAIN, (80, 24));
    scene.keys("enter");
    assert!(scene.find("page 1").is_none(), "{}", scene.picture());
    scene.keys("g");
    assert_eq!(scene.app.context(), Context::Binder);
    scene.at("Not now: the binder has no pages");
}

#[test]
fn below_a_draft_a_click_goes_to_the_real_binder() {
    let mut scene = Scene::demo((100, 60));
    scene.keys("enter d n").text("x").keys("enter");
    let lower = |scene: &Scene, words: &str| {
        let picture = scene.picture();
        let mut lines = (0u16..).zip(picture.lines()).skip(31);
        lines.find_map(|(y, line)| {
            let at = line.find(words)?;
            Some((line[..at].chars().count() as u16, y))
        })
    };
    let at = lower(&scene, "Fern Nuthatch").unwrap();
    scene.click(at);
    assert!(scene.find("DRAFT").is_none(), "{}", scene.picture());
    scene.at("page 1, front, row 2, pocket 2");
    scene.keys("esc");
    assert_eq!(scene.app.context(), Context::Shelf);
}

#[test]
fn a_click_on_a_line_of_the_news_goes_to_that_pocket() {
    let mut scene = Scene::demo((200, 60));
    scene.keys("enter");
    let head = scene.at("Waiting or misplaced:");
    let line = |scene: &Scene, y: u16| -> String {
        let cells = (head.0..200).map(|x| scene.frame[(x, y)].symbol());
        cells.collect::<String>().trim_end().to_owned()
    };
    for down in [1, 4] {
        let y = scene.at("Waiting or misplaced:").1 + down;
        let words = line(&scene, y);
        let (page, card) = words.split_once(": ").unwrap();
        let page = page.split_once("page ").unwrap().1.to_owned();
        scene.click((head.0 + 3, y));
        scene.at(&format!("page {page}, "));
        let told = (1..5).map(|y| line(&scene, y)).collect::<Vec<_>>();
        let told = told.join(" ");
        assert!(told.starts_with(card), "{card}: {told}");
    }
}

#[test]
fn the_foot_of_a_draft_says_where_escape_leads() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    scene.at("esc shelf");
    scene.keys("d n").text("x").keys("enter");
    scene.at("esc real binder");
    assert!(scene.find("esc shelf").is_none());
    scene.keys("w");
    scene.at("Work sheet of the real binder");
}

/// A card of the demo is misplaced; a loose copy of it comes in, for which there is no pocket besides
/// the one that the misplaced copy goes to.
#[test]
fn the_list_beside_the_pages_and_the_head_tell_of_as_many_loose_cards() {
    let mut scene = Scene::demo((200, 60));
    scene.keys("enter");
    scene.at("1 card to take out, 14 loose to go in (w)");
    scene.at("≠ page 3: 18 Larch Glowworm");
    let rows = |scene: &Scene| scene.picture().matches("◂ page ").count();
    assert_eq!(rows(&scene), 14);
    scene.keys("e").text("18").keys("enter esc");
    let held = scene.app.session().collection();
    let wood = held.set_by_code("WOOD").unwrap();
    let card = held.set(wood).unwrap().printings(wood);
    let loose = card.filter(|p| held.card(*p).is_some_and(|card| &*card.number == "18"));
    assert!(loose.map(|p| held.tally(p).loose).sum::<u32>() > 0);
    scene.at("1 card to take out, 14 loose to go in (w)");
    assert_eq!(rows(&scene), 14, "{}", scene.picture());
    scene.at("≠ page 3: 18 Larch Glowworm");
}

#[test]
fn the_head_tells_gaps_and_what_is_left_to_do() {
    let mut scene = opened(40, PageFormat::new(3, 3, 2), (120, 30));
    scene.at("0 of 40 in place, 40 gaps, 0 %");
    assert!(scene.find("(w)").is_none());
    // Three cards are in their pockets; one is taken out.
    scene.keys("+ right + right + t");
    scene.at("2 of 40 in place, 38 gaps, 5 %; 1 card to put in (w)");
    scene.event(&Event::Resize(80, 24));
    scene.at("2 of 40; to do: 1 card (w)");
    scene.keys("p");
    scene.at("3 of 40 in place, 37 gaps");
    assert!(scene.find("(w)").is_none());
}

#[test]
fn without_a_gap_and_of_a_keepsake_it_is_told_as_it_is() {
    let mut scene = opened(1, PageFormat::new(3, 3, 2), (80, 24));
    scene.keys("+ n");
    scene.at("This binder has no gaps");
    scene.keys("b");
    scene.at("This binder has no gaps");
    scene.keys("down a k").text("a stone").keys("enter");
    for key in ["t", "p", "+"] {
        scene.keys(key);
        scene.at("The pocket holds a keepsake: a, then c takes it out");
    }
    scene.keys("a c t");
    assert!(scene.find("keepsake").is_none(), "{}", scene.picture());
    // Where no copy can come in either, that is not offered.
    scene.keys("p");
    scene.at("The pocket is meant for no card; a arranges what it is for");
    let binder = scene.app.session().collection().binder_at(0).unwrap();
    assert_eq!(binder.layout().pages[0].meaning(3), Meaning::Nothing);
}

#[test]
fn onto_a_free_pocket_nothing_is_swapped_and_gaps_are_no_cards() {
    let mut scene = opened(4, PageFormat::new(3, 3, 2), (80, 24));
    scene.keys("+ c down down");
    scene.at(" 1 to page 1, front, row 3, pocket 1");
    assert!(scene.find("Swap").is_none(), "{}", scene.picture());
    scene.keys("x");
    assert!(scene.find("Push along").is_none(), "{}", scene.picture());
    scene.keys("esc m right right c");
    scene.at("1 card and 2 gaps in hand");
    scene.keys("esc m left c");
    scene.at("2 gaps in hand");
    let collection = scene.app.session().collection();
    let binder = collection.binder_at(0).unwrap().id();
    let place = |pocket| Place {
        binder,
        page: 0,
        pocket,
    };
    let run = [place(0), place(1)];
    let words = hand::carried(collection, hand::Ground::real(binder), &run);
    assert_eq!(words, "1 card and 1 gap");
}

#[test]
fn what_is_carried_covers_the_name_that_stands_there() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter m right right c down");
    let at = scene.at("▾3 cards");
    let cells = (at.0..at.0 + 14).map(|x| scene.frame[(x, at.1)].symbol());
    assert_eq!(cells.collect::<String>().trim_end(), "▾3 cards");
}

#[test]
fn on_a_low_screen_a_reverse_is_told_from_a_regular() {
    let mut scene = Scene::demo((40, 12));
    scene.keys("enter");
    let regular = scene.picture();
    scene.keys("g").text("18").keys("enter");
    let reverse = scene.picture();
    assert!(regular.contains("■1 "), "{regular}");
    let row = |picture: &str| -> String {
        let line = picture.lines().find(|line| line.contains(['■', '□']));
        line.unwrap().to_owned()
    };
    assert!(row(&reverse).contains('r'), "{reverse}");
    assert!(!row(&regular).contains('r'), "{regular}");
}
