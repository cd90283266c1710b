//! Which cards have pictures.

use std::path::PathBuf;

use image::RgbImage;
use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

fn folder(table: &Table) -> PathBuf {
    let told = table.json(&["pictures", "--json"]);
    PathBuf::from(told["folder"].as_str().unwrap())
}

fn pictured() -> Table {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 3, in regular and reverse"]);
    let set = folder(&table).join("fen");
    std::fs::create_dir_all(&set).unwrap();
    for name in ["001.png", "2 reverse.png", "4.png"] {
        RgbImage::new(3, 4).save(set.join(name)).unwrap();
    }
    std::fs::write(set.join("3.jpg"), "no picture").unwrap();
    table
}

#[test]
fn without_pictures_it_is_told_where_they_would_go_and_what_they_are_called() {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 3"]);
    assert_snapshot!(table.run(&["pictures"]), @"
    Pictures are looked for in <folder>/shelf/pictures
    There are none. A folder for each set, called by its code; in it a file for each
    card:
      FEN/12.png            card 12, in every finish
      FEN/12 reverse.jpg    its reverse, where that looks otherwise
    PNG, JPEG and WebP are read. Zeros in front of a number do not count.
    -- exit 0 --
    ");
}

/// Card 1 in both finishes, the reverse of 2, card 3 in both: five printings of six.
#[test]
fn what_fits_no_card_and_what_cannot_be_read_is_told() {
    let table = pictured();
    assert_snapshot!(table.run(&["pictures", "--read"]), @"
    Pictures are looked for in <folder>/shelf/pictures
    5 printings have a picture.

    These files belong to no card, by their folder, number or ending:
      fen/4.png

    These cannot be read:
      fen/3.jpg: it is no PNG, JPEG or WebP
    -- exit 1 --
    ");
    let told = table.json_told(&["pictures", "--read", "--json"]);
    assert_eq!(told["pictured"], 5);
    assert_eq!(told["strays"], json!(["fen/4.png"]));
    assert_eq!(told["unreadable"][0]["file"], "fen/3.jpg");
}

#[test]
fn an_unknown_way_to_show_them_is_refused_with_those_that_there_are() {
    let words = Table::new().run(&["--pictures", "big"]);
    assert!(words.contains("blocks"), "{words}");
    assert!(words.contains("-- exit 2 --"), "{words}");
}
