//! `print` from the command line: files are whole or not there, and what is wrong is told.

use std::path::Path;

use crate::support::Table;
use crate::support::pdf::Pdf;

/// The files beside the collection, without what the test itself put there.
fn files(table: &Table) -> Vec<String> {
    let folder = table.path("");
    let entries = std::fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names
        .filter(|name| !["shelf", "fen.csv"].contains(&name.as_str()))
        .collect();
    names.sort();
    names
}

fn bytes(table: &Table, name: &str) -> Vec<u8> {
    std::fs::read(table.path(name)).unwrap()
}

#[test]
fn the_labels_of_a_whole_shelf_come_out_in_one_command() {
    let table = Table::new();
    let output = table.output(&[
        "print", "labels", "--demo", "--spine", "25", "--out", "all.pdf",
    ]);
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(
        String::from_utf8(output.stdout).unwrap(),
        "Written: all.pdf\n"
    );
    let read = Pdf::read(&bytes(&table, "all.pdf"));
    let words: String = (1..=read.pages().len() as u32)
        .map(|page| read.words(page))
        .collect();
    for title in [
        "The Long Wood",
        "Moss Hall",
        "Tidewrack Notes",
        "Winter Post",
    ] {
        assert!(words.contains(title), "{title} in {words}");
    }
    assert_eq!(files(&table), ["all.pdf"]);
}

#[test]
fn every_kind_of_paper_is_written_in_every_format_that_can_hold_it() {
    let table = Table::with_fen();
    table.file("them.csv", "set,number,finish\nFEN,1,reverse\n");
    let kinds: [(&[&str], bool); 10] = [
        (&["labels", "--spine", "30"], false),
        (&["index", "FEN"], true),
        (&["wants"], true),
        (&["spares"], true),
        (&["swap", "them.csv", "them.csv"], true),
        (&["work-sheet"], true),
        (&["pile"], true),
        (&["shopping", "--from-nothing"], true),
        (&["pockets"], false),
        (&["page", "FEN", "1"], false),
    ];
    for (kind, words) in kinds {
        for ending in ["pdf", "svg", "png", "txt", "md"] {
            let file = format!("out.{ending}");
            let mut args = vec!["print"];
            args.extend(kind);
            args.extend(["--paper", "letter", "--out", &file]);
            let drawn = ["pdf", "svg", "png"].contains(&ending);
            if !words && !drawn {
                assert_eq!(table.exit(&args), 2, "{args:?}");
                assert!(!table.path(&file).exists());
                continue;
            }
            table.ok(&args);
            let made = bytes(&table, &file);
            match ending {
                "pdf" => assert!(made.starts_with(b"%PDF-")),
                "png" => {
                    assert!(made.starts_with(b"\x89PNG"));
                    assert_eq!(dots_to_the_metre(&made), (5906, 5906));
                }
                "svg" => {
                    let words = String::from_utf8(made).unwrap();
                    roxmltree::Document::parse(&words).unwrap();
                }
                _ => assert!(!made.is_empty()),
            }
            std::fs::remove_file(table.path(&file)).unwrap();
        }
    }
}

/// Of a PNG, across and down, as its chunk pHYs has them (ISO/IEC 15948:2003, 5.3 and 11.3.5.3): 150
/// to an inch of 25.4 mm are 5906 to the metre.
fn dots_to_the_metre(png: &[u8]) -> (u32, u32) {
    let number = |at: usize| u32::from_be_bytes(png[at..at + 4].try_into().unwrap());
    let mut at = 8;
    while &png[at + 4..at + 8] != b"pHYs" {
        at += 12 + number(at) as usize;
    }
    let data = at + 8;
    assert_eq!((number(at), png[data + 8]), (9, 1), "in metres");
    (number(data), number(data + 4))
}

#[test]
fn a_document_goes_to_standard_output_and_is_the_same_as_in_a_file() {
    let table = Table::with_fen();
    let args = ["print", "wants", "--format", "pdf", "--out", "-"];
    let piped = table.output(&args).stdout;
    table.ok(&["print", "wants", "--out", "wanted.PDF"]);
    assert_eq!(piped, bytes(&table, "wanted.PDF"));
    assert_eq!(table.exit(&["print", "wants", "--out", "-"]), 2);
}

#[test]
fn a_file_that_is_there_is_not_written_over_without_being_asked() {
    let table = Table::with_fen();
    table.file("wants.pdf", "mine");
    insta::assert_snapshot!(table.run(&["print", "wants", "--out", "wants.pdf"]), @r"
    -- told --
    error: wants.pdf is there already
    hint: name another file, or write over it with --overwrite
    -- exit 2 --
    ");
    assert_eq!(table.read("wants.pdf"), "mine");
    table.ok(&["print", "wants", "--out", "wants.pdf", "--overwrite"]);
    assert!(bytes(&table, "wants.pdf").starts_with(b"%PDF-"));
    let inside = ["print", "wants", "--out", "shelf/wants.pdf"];
    assert_eq!(table.exit(&inside), 2);
}

#[test]
fn sheets_of_svg_go_into_files_of_their_own_and_none_is_written_over() {
    let table = Table::new();
    let args = [
        "print", "labels", "--demo", "--spine", "25", "--out", "all.svg",
    ];
    table.file("all-2.svg", "mine");
    assert_eq!(table.exit(&args), 2);
    assert_eq!(files(&table), ["all-2.svg"]);
    std::fs::remove_file(table.path("all-2.svg")).unwrap();
    assert_eq!(table.ok(&args), "Written: all-1.svg\nWritten: all-2.svg\n");
    let second = [
        "print", "labels", "--demo", "--spine", "25", "--sheet", "2", "--out", "-", "--format",
        "svg",
    ];
    assert_eq!(table.ok(&second), table.read("all-2.svg"));
    let all = [
        "print", "labels", "--demo", "--spine", "25", "--out", "-", "--format", "svg",
    ];
    assert_eq!(table.exit(&all), 2);
    let none = [
        "print", "labels", "--demo", "--spine", "25", "--sheet", "3", "--out", "b.svg",
    ];
    assert_eq!(table.exit(&none), 2);
}

#[test]
fn bad_input_is_told_in_words_and_leaves_no_file() {
    let table = Table::with_fen();
    let here = ["broken.svg", "huge.svg", "no.png", "words.txt"];
    table.file(
        "broken.svg",
        "<svg xmlns='http://www.w3.org/2000/svg'><g></svg>",
    );
    table.file("huge.svg", vec![b' '; 8_000_001]);
    table.file("no.png", b"\x89PNG\r\n\x1a\n0000");
    table.file("words.txt", "no font at all");
    let told = |args: &[&str]| table.run(&[&["print"], args].concat());
    let words: Vec<String> = [
        // A place that cannot be written.
        &["wants", "--out", "nowhere/wants.pdf"][..],
        &["wants", "--out", "shelf"],
        &["wants", "--out", "wanted.doc"],
        // Pictures.
        &["labels", "--picture", "none.svg", "--out", "a.pdf"],
        &["labels", "--picture", "broken.svg", "--out", "a.pdf"],
        &["labels", "--picture", "huge.svg", "--out", "a.pdf"],
        &["labels", "--picture", "no.png", "--out", "a.pdf"],
        &["labels", "--picture", "words.txt", "--out", "a.pdf"],
        &["labels", "--demo", "--picture", "no.png", "--out", "a.pdf"],
        // Sizes.
        &["labels", "--spine", "3", "--out", "a.pdf"],
        &["labels", "--spine", "-3", "--out", "a.pdf"],
        &[
            "labels", "--spine", "25", "--height", "300", "--out", "a.pdf",
        ],
        &[
            "labels", "--spine", "25", "--height", "100", "--paper", "80x80", "--out", "a.pdf",
        ],
        &["labels", "--paper", "a9", "--out", "a.pdf"],
        &["labels", "--paper", "10x10", "--out", "a.pdf"],
        &["pockets", "--size", "300x400", "--out", "a.pdf"],
        &["pockets", "--size", "big", "--out", "a.pdf"],
        // Fonts.
        &["wants", "--font", "none.ttf", "--out", "a.pdf"],
        &["wants", "--font", "words.txt", "--out", "a.pdf"],
        // What is not there.
        &["index", "FENN", "--out", "a.pdf"],
        &["page", "FEN", "9", "--out", "a.pdf"],
        &["page", "FEN", "1", "--side", "back", "--out", "a.pdf"],
        &["wants", "--rarity", "rarer", "--out", "a.pdf"],
        &["labels", "--out", "a.txt"],
        &["wants", "--paper", "50x80", "--out", "a.pdf"],
    ]
    .iter()
    .map(|args| format!("{}\n{}", args.join(" "), told(args)))
    .collect();
    insta::assert_snapshot!("print_bad", words.join("\n\n"));
    assert_eq!(files(&table), here);
}

#[test]
fn a_title_of_400_letters_is_printed_and_told() {
    let table = Table::new();
    let title = "long ".repeat(80);
    table.ok(&["new", "LONG", "1 to 9", "--title", &title]);
    let args = ["print", "labels", "--spine", "20", "--out", "a.pdf"];
    insta::assert_snapshot!(table.run(&args), @r"
    Written: a.pdf
    -- told --
    note: the title is shortened on the label of LONG
    -- exit 1 --
    ");
    assert_eq!(Pdf::read(&bytes(&table, "a.pdf")).pages().len(), 1);
}

#[test]
fn a_character_without_a_sign_is_told_and_a_font_that_is_named_draws_it() {
    let table = Table::new();
    table.ok(&["new", "MORI", "1 to 9", "--title", "森"]);
    let font = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/two_blocks.ttf");
    std::fs::copy(font, table.path("blocks.ttf")).unwrap();
    let args = [
        "print", "labels", "--spine", "20", "--out", "a.pdf", "--json",
    ];
    let told = table.json_told(&args);
    assert_eq!(told["format"], "ringbound-print");
    assert_eq!(told["files"], serde_json::json!(["a.pdf"]));
    assert!(told["notes"][0].as_str().unwrap().contains("森"));
    let args = [&args[..], &["--overwrite", "--font", "blocks.ttf"]].concat();
    let told = table.json(&args);
    assert_eq!(told["notes"], serde_json::json!([]));
    let read = Pdf::read(&bytes(&table, "a.pdf"));
    assert!(read.words(1).contains('森'));
    assert!(read.fonts().iter().all(|(_, embedded)| *embedded));
}

#[test]
fn a_shopping_list_has_what_supplies_tells_with_boxes_and_the_sum() {
    let table = Table::with_fen();
    // Three pages of 2 x 1; in packs of two that is two packs, 3.00 each.
    table.file(
        "prices.csv",
        "item,size,pack,price,currency\npage,2x1 clear,2,3.00,EUR\n",
    );
    let args = ["--from-nothing", "--prices", "prices.csv"];
    let list = [
        &["print", "shopping", "--out", "-", "--format", "txt"],
        &args[..],
    ]
    .concat();
    insta::assert_snapshot!("print_shopping_text", table.run(&list));
    insta::assert_snapshot!(
        "supplies_beside",
        table.run(&[&["supplies"], &args[..]].concat())
    );
}

#[test]
fn the_same_lists_stand_in_text_and_in_markdown() {
    let table = Table::with_fen();
    table.file("have.csv", "set,number,count\nFEN,2,3\n");
    table.ok(&["import", "copies", "have.csv", "--in-place"]);
    let args = |what: &[&'static str], format: &'static str| {
        table.ok(&[&["print"], what, &["--out", "-", "--format", format]].concat())
    };
    insta::assert_snapshot!("print_index_text", args(&["index", "FEN"], "txt"));
    insta::assert_snapshot!("print_index_markdown", args(&["index", "FEN"], "md"));
    insta::assert_snapshot!("print_wants_text", args(&["wants"], "txt"));
    insta::assert_snapshot!("print_wants_markdown", args(&["wants"], "md"));
    insta::assert_snapshot!("print_spares_text", args(&["spares", "--keep", "1"], "txt"));
    insta::assert_snapshot!("print_sheet_markdown", args(&["work-sheet"], "md"));
    assert_eq!(
        args(&["work-sheet", "FEN"], "txt"),
        table.ok(&["plan", "FEN"])
    );
    insta::assert_snapshot!("print_pile_text", args(&["pile", "--heaps", "2"], "txt"));
}
