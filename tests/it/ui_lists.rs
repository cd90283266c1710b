//! Lists and swaps on the screen.

use std::collections::BTreeSet;

use crossterm::event::MouseEventKind;
use insta::assert_snapshot;
use ringbound::demo;
use ringbound::model::{Change, Step};
use ringbound::report::{self, Asked, ListFilter};
use ringbound::session::{Session, their_file};

use crate::scene::{PLAIN, Scene};

fn listed(asked: Asked, filter: ListFilter<'_>) -> usize {
    report::listed(&demo::collection(), asked, filter).len()
}

#[test]
fn each_list_is_a_key_away_from_the_shelf_and_from_a_binder() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("l");
    let wants = listed(Asked::Wants, ListFilter::default());
    scene.at(&format!("wants: {wants}"));
    assert_snapshot!("wants_80x24", scene.picture());
    scene.keys("tab");
    scene.at(&format!(
        "gaps: {}",
        listed(Asked::Gaps, ListFilter::default())
    ));
    scene.keys("tab tab");
    scene.at("spares: ");
    scene.keys("tab esc enter l");
    scene.at("Only: in wood");
    let wood = demo::collection().binder_by_name("wood");
    let filter = ListFilter {
        binder: wood,
        ..ListFilter::default()
    };
    let of_wood = listed(Asked::Wants, filter);
    scene.at(&format!("wants: {of_wood} of {wants}"));
}

#[test]
fn words_narrow_the_list_and_are_told_as_they_are_understood() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("l").text("moss rev rare");
    scene.at("set MOSS, finish reverse, rarity rare");
    let demo = demo::collection();
    let filter = ListFilter {
        set: demo.set_by_code("MOSS"),
        finish: Some("reverse"),
        rarity: Some("rare"),
        ..ListFilter::default()
    };
    let right = report::listed(&demo, Asked::Wants, filter).len();
    scene.at(&format!("wants: {right} of "));
    assert_snapshot!("wants_of_moss_120x40", scene.picture());
    scene.text(" zzz");
    scene.at("Nothing on this list fits: fewer words show more");
}

#[test]
fn enter_goes_to_the_pocket_and_the_list_is_there_again_afterwards() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("l").text("moss 14").keys("enter");
    scene.at("14 Hazel Warden: a gap");
    scene.keys("l");
    scene.at("Only: moss 14");
}

/// Which list, how many are kept, and the line; what stands on it is as it is now.
#[test]
fn a_list_that_was_left_for_a_pocket_is_taken_up_at_its_line_and_tells_what_is_so_now() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("l tab tab tab + down down");
    let left = scene.picture();
    scene.at("keeping 1 of each");
    scene.keys("enter l");
    assert_eq!(scene.picture(), left);
    scene.keys("shift-tab shift-tab down down");
    let gaps = listed(Asked::Gaps, ListFilter::default());
    scene.at(&format!("gaps: {gaps}"));
    // The gap is filled meanwhile: the list is a line shorter.
    scene.keys("enter + l");
    scene.at(&format!("gaps: {}", gaps - 1));
    // It is taken up once.
    scene.keys("esc u l");
    scene.at("Only: in ");
}

#[test]
fn spares_beyond_a_number_to_keep_are_listed() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("l tab tab tab");
    let copies = |keep| {
        let filter = ListFilter {
            keep,
            ..ListFilter::default()
        };
        let rows = report::listed(&demo::collection(), Asked::Spares, filter);
        rows.iter().map(|row| row.count).sum::<u32>()
    };
    scene.at(&format!("spares: {} ", copies(0)));
    scene.keys("+");
    scene.at(&format!("spares: {}, keeping 1 of each", copies(1)));
    scene.keys("- - tab -");
    // Elsewhere the sign is a letter of what is looked for.
    scene.at("Only: -");
}

#[test]
fn what_is_shown_goes_to_a_file_and_never_over_another() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let mut scene = Scene::demo((200, 30));
    scene.keys("l").text("moss rev").keys("f2");
    scene
        .text(path("wants.csv").to_str().unwrap())
        .keys("enter");
    scene.at("Written: ");
    let text = std::fs::read_to_string(path("wants.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let demo = demo::collection();
    let filter = ListFilter {
        set: demo.set_by_code("MOSS"),
        finish: Some("reverse"),
        ..ListFilter::default()
    };
    assert_eq!(
        rows.len(),
        report::listed(&demo, Asked::Wants, filter).len()
    );
    let finishes: BTreeSet<&str> = rows.iter().map(|row| &row[2]).collect();
    assert_eq!(finishes, BTreeSet::from(["reverse"]));
    // The same name again is refused, and the file is as it was.
    scene
        .keys("backspace f2")
        .text(path("wants.csv").to_str().unwrap());
    scene.keys("enter");
    scene.at("is there already");
    assert_eq!(std::fs::read_to_string(path("wants.csv")).unwrap(), text);
    scene
        .text(path("wants.txt").to_str().unwrap())
        .keys("enter");
    let plain = std::fs::read_to_string(path("wants.txt")).unwrap();
    assert!(plain.starts_with("wants: "), "{plain}");
    assert!(
        plain.contains(
            "\n[ ] MOSS 5 Fern Wanderer, reverse (common); Moss Hall, page 9, front, row 2, pocket 2\n"
        ),
        "{plain}"
    );
}

/// Another collector's lists: they want what the demo has to spare, and have what it wants.
pub(crate) fn their_lists(folder: &std::path::Path) -> [String; 2] {
    let demo = demo::collection();
    let list = |asked, most: usize| {
        let mut text = String::from("set,number,finish,count\n");
        for row in report::listed(&demo, asked, ListFilter::default())
            .iter()
            .take(most)
        {
            let set = demo.set(row.printing.set()).unwrap();
            let finish = &set.finishes()[usize::from(row.printing.finish())].name;
            let number = &demo.card(row.printing).unwrap().number;
            text.push_str(&format!("{},{number},{finish},1\n", set.code()));
        }
        text
    };
    let write = |name: &str, text: String| {
        let path = folder.join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    [
        write("their-wants.csv", list(Asked::Spares, 4)),
        write("their-spares.csv", list(Asked::Wants, 3)),
    ]
}

#[test]
fn a_list_of_theirs_that_is_apart_by_semicolons_is_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("theirs.csv");
    std::fs::write(&path, "set;number\nFEN;1\n").unwrap();
    let why = their_file(&demo::collection(), &path, &mut |_, _| true).unwrap_err();
    assert!(
        why.ends_with(
            "; the columns seem to be separated by semicolons: save the file with commas"
        ),
        "{why}"
    );
}

/// The sheet of a swap with the collector of [`their_lists`].
fn swap_with(folder: &std::path::Path) -> Scene {
    let [wants, spares] = their_lists(folder);
    let mut scene = Scene::demo((100, 30));
    scene.keys("x").text(&wants).keys("tab").text(&spares);
    scene.keys("enter");
    scene
}

#[test]
fn a_swap_is_talked_over_carried_out_as_one_step_and_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = swap_with(folder.path());
    scene.at("One for one, 3 cards each way:");
    assert_snapshot!("swap_100x30", scene.picture());
    let collection = scene.app.session().collection().clone();
    let revision = scene.app.session().revision();
    scene
        .keys("f2")
        .text(folder.path().join("talk.txt").to_str().unwrap())
        .keys("enter");
    let sheet = std::fs::read_to_string(folder.path().join("talk.txt")).unwrap();
    // The sheet on paper: what the screen shows, in its order.
    let heads = [
        "One for one, 3 cards each way:",
        "You could get, the fullest pages first:",
        "You could give:",
    ];
    let at = heads.map(|head| {
        scene.at(head);
        sheet.find(head).unwrap_or_else(|| panic!("{sheet}"))
    });
    assert!(at.is_sorted() && sheet.contains("[ ] "), "{sheet}");
    scene.keys("c");
    scene.at("The shelf");
    assert_eq!(scene.app.session().revision(), revision + 1);
    let sum = |of: &ringbound::model::Collection| -> u32 {
        let printings = of.sets().flat_map(|(id, set)| set.printings(id));
        printings.map(|printing| of.tally(printing).copies()).sum()
    };
    let now = scene.app.session().collection();
    assert_eq!(sum(now), sum(&collection));
    assert_eq!(
        report::waiting(now, None).len(),
        report::waiting(&collection, None).len() + 3
    );
    scene.keys("u");
    let back = scene.app.session().collection();
    assert_eq!(
        report::waiting(back, None),
        report::waiting(&collection, None)
    );
    assert_eq!(
        report::spares(back, None),
        report::spares(&collection, None)
    );
}

/// A swap of three pairs, with the middle one left out: what is told, written and done is of the two
/// others.
#[test]
fn a_pair_of_a_swap_is_left_out_and_what_goes_in_is_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = swap_with(folder.path());
    let pair = |scene: &Scene, at: usize| {
        let picture = scene.picture();
        let lines = picture.lines().filter(|line| line.contains("you get "));
        lines.map(str::to_owned).nth(at).unwrap()
    };
    let (first, second) = (pair(&scene, 0), pair(&scene, 1));
    scene.keys("down");
    scene.at("space leave out");
    scene.keys("space");
    scene.at("One for one, 2 cards each way, 1 left out:");
    scene.at("space take in again");
    assert_snapshot!("swap_left_out_100x30", scene.picture());
    // It stays left out while other spares are kept, as long as it is proposed.
    scene.keys("y y");
    scene.at("One for one, 2 cards each way, 1 left out:");
    let path = folder.path().join("talk.txt");
    scene.keys("f2").text(path.to_str().unwrap()).keys("enter");
    let sheet = std::fs::read_to_string(&path).unwrap();
    let card = |line: &str| {
        let (_, line) = line.split_once("you get ").unwrap();
        line.split("  ").next().unwrap().to_owned()
    };
    let agreed = sheet.split("You could get").next().unwrap();
    assert!(agreed.contains(&card(&first)), "{sheet}");
    assert!(!agreed.contains(&card(&second)), "{sheet}");
    let before = scene.app.session().collection().clone();
    scene.keys("c");
    let now = scene.app.session().collection();
    let came = |of: &ringbound::model::Collection| {
        let printings = of.sets().flat_map(|(id, set)| set.printings(id));
        let more: Vec<_> = printings
            .filter(|p| of.tally(*p).copies() > before.tally(*p).copies())
            .map(|p| ringbound::hand::named(of, p))
            .collect();
        more
    };
    let came = came(now);
    assert_eq!(came.len(), 2, "{came:?}");
    let second = card(&second);
    assert!(
        came.iter().all(|name| !second.starts_with(name.as_str())),
        "{came:?}"
    );
    assert_eq!(now.check(), Vec::new());
}

#[test]
fn a_swap_of_which_all_is_left_out_is_not_carried_out() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = swap_with(folder.path());
    scene.keys("space down space down space");
    scene.at("Nothing goes one for one, 3 left out.");
    let revision = scene.app.session().revision();
    scene.keys("c");
    scene.at("othing goes one for one");
    assert_eq!(scene.app.session().revision(), revision);
    // A click on the pair one is at takes it in again; past the pairs there is nothing to leave out.
    let at = scene.at("you get ");
    scene.click(at).click(at);
    scene.at("One for one, 1 card each way, 2 left out:");
    scene.keys("end space");
    scene.at("One for one, 1 card each way, 2 left out:");
}

#[test]
fn rows_of_theirs_that_are_passed_over_stand_at_the_end_of_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("theirs.csv");
    let mut text = String::from("set,number\nZZZ,7\nMOSS,999\nMOSS,1\n");
    for number in 0..150 {
        text.push_str(&format!("YYY,{number}\n"));
    }
    std::fs::write(&path, text).unwrap();
    let mut scene = Scene::demo((100, 30));
    scene
        .keys("x tab")
        .text(path.to_str().unwrap())
        .keys("enter");
    scene.at("Passed over, 152 rows:");
    scene.at("151 rows are of sets that are not here, 1 of cards that no checklist has, and");
    for row in [
        ["their spares, line 2: ZZZ 7", "no set here has this code"],
        [
            "their spares, line 3: MOSS 999",
            "no such card is in its set",
        ],
    ] {
        let picture = scene.picture();
        let line = picture.lines().find(|line| line.contains(row[0]));
        assert!(line.unwrap().contains(row[1]), "{picture}");
    }
    scene.keys("end");
    scene.at("and 52 further rows");
    // They can be read when other spares are kept, too.
    scene.keys("+ end");
    scene.at("and 52 further rows");
}

#[test]
fn a_bad_list_of_the_other_collector_is_told_and_can_be_mended() {
    let folder = tempfile::tempdir().unwrap();
    let [_, spares] = their_lists(folder.path());
    let mut scene = Scene::demo((100, 30));
    scene.keys("x").text("nowhere.csv").keys("tab enter");
    scene.at("There is no file nowhere.csv");
    let bad = folder.path().join("bad.csv");
    std::fs::write(&bad, "set,number,count\nMOSS,1,some\n").unwrap();
    let mut scene = Scene::demo((200, 30));
    scene
        .keys("x")
        .text(bad.to_str().unwrap())
        .keys("tab")
        .text(&spares)
        .keys("enter");
    scene.at("line 2");
    // One list alone does as well.
    let mut scene = Scene::demo((100, 30));
    scene.keys("x tab").text(&spares).keys("enter");
    scene.at("You could get, the fullest pages first:");
    scene.at("Nothing goes one for one.");
}

#[test]
fn a_run_is_left_out_in_the_binder_and_its_pockets_are_free() {
    let mut scene = Scene::demo((100, 40));
    scene.keys("right enter a");
    scene.at("Do not collect MOSS reverse any more, ");
    scene.keys("m");
    let collection = scene.app.session().collection();
    let moss = collection.set_by_code("MOSS").unwrap();
    assert!(collection.set(moss).unwrap().is_left_out(1));
    let reverse = |gap: &report::Gap| gap.printing.set() == moss && gap.printing.finish() == 1;
    assert!(!report::gaps(collection, None).iter().any(reverse));
    scene.keys("e").text("2 r").keys("enter");
    scene.at("spare: you do not collect this run; you have 1");
    scene.keys("esc a m");
    let collection = scene.app.session().collection();
    assert!(!collection.set(moss).unwrap().is_left_out(1));
}

/// 199 of 200: no share of it is all of it, wherever one is shown.
#[test]
fn nothing_on_the_screen_says_that_199_of_200_are_all() {
    let mut collection = ringbound::model::Collection::new();
    let head = ringbound::model::SetHead {
        code: "FEN".into(),
        title: "The Fen".into(),
        ..Default::default()
    };
    let phrase = ringbound::intake::Phrase::parse("1 to 200").unwrap();
    let binder = ringbound::intake::BinderOptions {
        format: ringbound::model::PageFormat::new(3, 3, 2),
        kind: ringbound::model::BinderKind::Fixed,
    };
    let made = ringbound::intake::new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let places: Vec<_> = report::gaps(&collection, None);
    let mut step = Step::new("all but one", Vec::new());
    for gap in &places[..199] {
        let place = gap.place.unwrap();
        let page = collection.binder(place.binder).unwrap().pages()[place.page].id();
        let printing = gap.printing;
        step.changes.push(Change::Acquire { printing, count: 1 });
        step.changes.push(Change::Seat {
            place,
            page,
            printing,
        });
    }
    Change::apply_all(&step.changes, &mut collection).unwrap();
    for size in [(80, 24), (200, 60), (40, 10)] {
        let session = Session::in_memory(collection.clone());
        let mut scene = Scene::new(session, PLAIN, size);
        let mut seen = 0;
        let screens = [
            "", "enter", "e", "1 enter", "esc", "w", "esc", "a", "esc", "d", "esc", "l", "tab",
            "esc", "f", "esc", "h", "esc", "?", "esc", "esc",
        ];
        for keys in screens {
            scene.keys(keys);
            let picture = scene.picture();
            assert!(!picture.contains("100 %"), "{keys} {size:?}:\n{picture}");
            seen += picture.matches("99 %").count();
        }
        assert!(seen > 0, "no share was shown at {size:?}");
        // And with the last one it is all of them.
        scene.keys("enter n +");
        assert!(
            scene.picture().contains("100 %") || size.0 < 80,
            "{}",
            scene.picture()
        );
    }
}

/// Without its page a line of a list leads nowhere.
#[test]
fn in_a_narrow_window_every_row_names_its_page_and_the_marked_one_all_of_it() {
    for size in [(59, 20), (40, 12), (30, 8)] {
        let mut scene = Scene::demo(size);
        scene.keys("l tab down");
        let picture = scene.picture();
        let rows = picture.lines().filter(|line| line.contains(" WOOD "));
        let rows: Vec<_> = rows.filter(|row| row.starts_with(['▸', ' '])).collect();
        assert!(rows.len() >= 2, "{size:?}\n{picture}");
        let shown = rows
            .iter()
            .filter(|row| row.contains("page 1 ") || row.contains("page 1, "));
        assert!(shown.count() >= 2, "{size:?}\n{picture}");
        let all: Vec<_> = picture.split_whitespace().collect();
        let all = all.join(" ");
        assert!(
            all.contains("page 1, back, row 2, pocket 2: WOOD 14"),
            "{all}"
        );
    }
    let mut scene = Scene::demo((40, 12));
    scene.keys("l tab tab tab");
    assert_snapshot!("spares_40x12", scene.picture());
    scene.keys("esc f").text("owl");
    assert_snapshot!("find_40x12", scene.picture());
}

/// A list that is looked at is among those that are named, however few have room.
#[test]
fn the_list_that_is_shown_is_named() {
    let mut scene = Scene::demo((24, 8));
    scene.keys("l");
    for name in ["wants: ", "gaps: ", "waiting: ", "spares: ", "wants: "] {
        scene.at(name);
        scene.keys("tab");
    }
}

#[test]
fn a_long_list_tells_where_one_is_and_the_wheel_goes_on_some_lines() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("l");
    let heading = |scene: &Scene| {
        let picture = scene.picture();
        let at = picture.find("line ").expect("the place in the list");
        picture[at..].lines().next().unwrap_or_default().to_owned()
    };
    assert!(
        heading(&scene).starts_with("line 1 of "),
        "{}",
        scene.picture()
    );
    scene.mouse(MouseEventKind::ScrollDown, (10, 10));
    assert!(
        heading(&scene).starts_with("line 4 of "),
        "{}",
        scene.picture()
    );
    scene.mouse(MouseEventKind::ScrollUp, (10, 10));
    scene.mouse(MouseEventKind::ScrollUp, (10, 10));
    assert!(
        heading(&scene).starts_with("line 1 of "),
        "{}",
        scene.picture()
    );
    // Where all of it is seen there is nothing to tell.
    scene.text("12a");
    assert_eq!(scene.find("line 1 of"), None);
}

/// The order is by it: how full a page is stands there whole, and the binder's name gives way.
#[test]
fn how_full_a_page_is_is_never_cut_on_the_sheet_of_a_swap() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("theirs.csv");
    std::fs::write(&file, "set,number\nWOOD,12\nWOOD,19\nMOSS,38\n").unwrap();
    for width in [80, 72, 64] {
        let mut scene = Scene::demo((width, 24));
        scene.keys("x tab").text(&file.display().to_string());
        scene.keys("enter");
        let picture = scene.picture();
        let cards = picture.lines().filter(|line| line.contains(", page "));
        assert!(cards.clone().count() >= 3, "{picture}");
        for line in cards {
            assert!(line.ends_with(" of 18 there"), "{line}");
        }
    }
}

#[test]
fn what_is_typed_for_a_swap_is_seen_in_the_smallest_window() {
    let mut scene = Scene::demo((24, 6));
    scene.keys("x").text("w.csv");
    scene.at("w.csv");
    scene.keys("tab").text("s.csv");
    scene.at("s.csv");
    assert_eq!(scene.find("w.csv"), None);
    scene.click((3, 2)).text("x");
    scene.at("s.csvx");
    scene.keys("tab");
    scene.at("w.csv");
    assert_eq!(scene.find("s.csvx"), None);
}
