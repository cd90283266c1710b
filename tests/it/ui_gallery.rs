//! Pictures of cards in their pockets.

use std::path::Path;

use image::{Rgb, RgbImage};
use ratatui::style::Color;
use ringbound::demo;
use ringbound::model::Collection;
use ringbound::session::{Pictures, Session};
use ringbound::ui::{App, Colours, Flow, Look, Maker, Theme};

use crate::scene::Scene;

const COLOURED: Look = Look {
    colours: Colours::True,
    ascii: false,
};
const PEAR: [u8; 3] = [120, 180, 60];

/// A picture of one colour for each card of the first set.
fn with_pictures(folder: &Path, collection: &Collection) {
    let (_, set) = collection.sets().next().unwrap();
    let into = folder.join(&*set.head().code);
    std::fs::create_dir_all(&into).unwrap();
    for card in set.cards() {
        // 63 x 88 mm, an upright card (common practice, no source).
        let picture = RgbImage::from_pixel(63, 88, Rgb(PEAR));
        let name = card.number.to_string().replace('/', "_");
        picture.save(into.join(format!("{name}.png"))).unwrap();
    }
}

fn scene(size: (u16, u16)) -> Scene {
    let session = Session::in_memory(demo::collection());
    let mut scene = Scene::new(session, COLOURED, size);
    let app = App::new(
        Session::in_memory(demo::collection()),
        Theme::new(COLOURED),
        size,
    );
    scene.app = app.with_pictures();
    scene.draw();
    scene
}

/// Makes everything that is asked for now; tells how many pictures there were.
fn serve(scene: &mut Scene, pictures: &Pictures) -> usize {
    let maker = Maker::blocks();
    let mut shown = 0;
    for wanted in scene.app.pictures_wanted() {
        let made = maker.answer(pictures, wanted);
        if scene.app.take_picture(made) == Flow::Draw {
            shown += 1;
        }
    }
    scene.draw();
    shown
}

fn cells_in(scene: &Scene, colour: [u8; 3]) -> usize {
    let colour = Color::Rgb(colour[0], colour[1], colour[2]);
    let cells = scene.frame.content().iter();
    cells
        .filter(|cell| cell.bg == colour || cell.fg == colour)
        .count()
}

#[test]
fn a_card_in_its_pocket_shows_its_picture_and_a_gap_does_not() {
    let collection = demo::collection();
    let folder = tempfile::tempdir().unwrap();
    with_pictures(folder.path(), &collection);
    let pictures = Pictures::in_folder(folder.path()).unwrap();
    let mut scene = scene((120, 48));
    assert!(scene.app.pictures_wanted().is_empty(), "none on the shelf");
    scene.keys("enter");
    assert_eq!(cells_in(&scene, PEAR), 0, "drawing waits for nothing");
    let shown = serve(&mut scene, &pictures);
    assert!(shown > 0);
    let seen = cells_in(&scene, PEAR);
    assert!(seen >= shown * 24, "{seen} cells of {shown} pictures");
    let words = scene.picture();
    assert!(words.contains("gap"), "{words}");
    // The number stays, the name gives way.
    let (_, set) = collection.sets().next().unwrap();
    let first = &set.cards()[0];
    assert!(words.contains(&first.number.to_string()));
    assert!(scene.app.pictures_wanted().is_empty(), "asked for once");
}

#[test]
fn under_a_window_and_while_something_is_carried_there_are_no_pictures() {
    let folder = tempfile::tempdir().unwrap();
    with_pictures(folder.path(), &demo::collection());
    let pictures = Pictures::in_folder(folder.path()).unwrap();
    let mut scene = scene((120, 48));
    scene.keys("enter");
    serve(&mut scene, &pictures);
    let seen = cells_in(&scene, PEAR);
    assert!(seen > 0);
    scene.keys("?");
    assert_eq!(cells_in(&scene, PEAR), 0);
    scene.keys("esc");
    assert_eq!(cells_in(&scene, PEAR), seen);
    scene.keys("c");
    assert!(scene.picture().contains("in hand"), "{}", scene.picture());
    assert_eq!(cells_in(&scene, PEAR), 0);
}

#[test]
fn small_pockets_keep_their_names() {
    let folder = tempfile::tempdir().unwrap();
    with_pictures(folder.path(), &demo::collection());
    let mut scene = scene((40, 12));
    scene.keys("enter");
    assert!(scene.app.pictures_wanted().is_empty());
}

#[test]
fn a_picture_that_cannot_be_read_leaves_the_name_and_is_not_asked_for_again() {
    let collection = demo::collection();
    let folder = tempfile::tempdir().unwrap();
    with_pictures(folder.path(), &collection);
    let (_, set) = collection.sets().next().unwrap();
    for file in std::fs::read_dir(folder.path().join(&*set.head().code)).unwrap() {
        std::fs::write(file.unwrap().path(), "no picture").unwrap();
    }
    let pictures = Pictures::in_folder(folder.path()).unwrap();
    let mut scene = scene((120, 48));
    scene.keys("enter");
    let before = scene.picture();
    assert_eq!(serve(&mut scene, &pictures), 0);
    assert_eq!(scene.picture(), before);
    assert!(scene.app.pictures_wanted().is_empty());
}

/// The answers are those of the terminals' own descriptions: the graphics protocol of kitty
/// (`_Gi=31;OK`), a cell of 10 x 20 points (XTWINOPS 16) and the device status (ECMA-48, DSR).
#[cfg(unix)]
#[test]
fn a_terminal_that_says_it_can_is_sent_pictures() {
    use crate::pty::Pty;
    use ringbound::session::Open;

    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    let clock = Box::new(|| "2026-01-01T00:00:00Z".to_owned());
    let (mut session, _) = Session::open(&data, Open::ForWriting, clock).unwrap();
    for step in demo::step_by_step() {
        session.commit(step).unwrap();
    }
    session.close().unwrap();
    with_pictures(&data.join("pictures"), &demo::collection());
    let mut command = portable_pty::CommandBuilder::new(env!("CARGO_BIN_EXE_ringbound"));
    command.args(["--data", data.to_str().unwrap()]);
    command.env_clear();
    command.env("COLORTERM", "truecolor");
    let mut pty = Pty::start_other(command, (120, 48), home.path());
    pty.until_sent("\x1b[5n");
    pty.send("\x1b_Gi=31;OK\x1b\\\x1b[?62;4c\x1b[6;20;10t\x1b[0n");
    pty.until("The shelf: 10 binders");
    pty.send("\r");
    // A transmission (a=T) and its placeholders.
    pty.until_sent("\x1b_Gq=2,");
    pty.until_sent("\u{10EEEE}");
    pty.send("q");
    pty.until_gone("page 1");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}
