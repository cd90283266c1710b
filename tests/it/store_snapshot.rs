//! What a snapshot looks like, and what its reader takes and refuses.

use ringbound::model::{Change, Collection};
use ringbound::store::{Position, ReadError, Snapshot, read_snapshot, write_snapshot};

use crate::support::world::{at, collection, moss, state};

fn read(text: &str) -> Result<Snapshot, ReadError> {
    read_snapshot(text.as_bytes())
}

/// Line, column and words of the refusal.
fn refused(text: &str) -> (usize, usize, String) {
    match read(text) {
        Err(ReadError::At { line, column, what }) => (line, column, what),
        other => panic!("read as {other:?}"),
    }
}

#[test]
fn a_page_side_is_a_line_and_what_is_usual_is_left_out() {
    // Looked at by eye: the form that the design describes.
    let expected = r#"{"format":"ringbound-collection","version":1,
"through":{"seq":0,"chain":"00000000"},
"sets":[
{"code":"MIR","title":"The MIR season","symbol":"◆","shelf":"7",
"finishes":[["regular",""],["reverse","r"]],
"rarities":["common"],
"cards":[
{"number":"1","name":"Moss Owl","rarity":"common"},
{"number":"2","name":"Moss Owl","rarity":"common"},
{"number":"3a","name":"Moss Owl","rarity":"common","finishes":[""]},
{"number":"Q 4","name":"Moss Owl","rarity":"common"}]},
{"code":"TIN","title":"The TIN season","symbol":"◆","shelf":"7",
"finishes":[["regular",""]],
"rarities":[],
"cards":[
{"number":"1","name":"Moss Owl","size":[127.5,89]}]}],
"binders":[
{"id":"b1","spec":{"name":"moss","title":"Moss","set":"MIR","kind":"rings","size":25,"shape":"D","front_matter":["a contents sheet"]},
"format":{"rows":2,"columns":2,"sides":1},
"pages":[
{"id":"p1",
"front":["1",{"for":["MIR","Q 4","r"]},{"holds":["MIR","Q 4","r"],"blank":true},{"keepsake":"a \"ticket\""}]},
{"id":"p2","format":{"rows":2,"columns":2,"sides":1,"opening":"top","pocket":[64.5,89]},
"front":[{"holds":"1"},"TIN:1","",""]}]}],
"loose":[
["MIR:1",1]],
"#;
    let written = state(&collection());
    let (body, sum) = written.split_at(expected.len());
    assert_eq!(body, expected);
    // CRC-32 as of ISO 3309 and RFC 1952, here by the crc32fast library.
    let summed = crc32fast::hash(body.trim_end_matches(",\n").as_bytes());
    assert_eq!(sum, format!("\"sum\":\"{summed:08x}\"}}\n"));
}

#[test]
fn a_gap_is_its_number_in_parentheses() {
    let mut collection = collection();
    let lift = Change::Lift {
        place: at(0, 0),
        page: ringbound::model::PageId(1),
        printing: moss(0, 0),
    };
    lift.apply(&mut collection).unwrap();
    assert!(state(&collection).contains("\n\"front\":[\"(1)\",{\"for\""));
}

#[test]
fn contents_and_layout_that_do_not_go_page_by_page_are_two_lists() {
    let mut collection = collection();
    let swap = Change::MoveLayoutPage {
        binder: crate::support::world::FIRST,
        from: 0,
        to: 1,
    };
    swap.apply(&mut collection).unwrap();
    let written = state(&collection);
    assert!(written.contains("\"contents\":[\n{\"id\":\"p1\",\"front\":[\"MIR:1\",\"\","));
    assert!(written.contains("\"layout\":[\n{\"format\":{"));
    let read = read(&written).unwrap();
    assert_eq!(state(&read.collection), written);
    assert_eq!(read.collection.check(), vec![]);
}

#[test]
fn every_flipped_bit_is_noticed() {
    let whole = state(&collection()).into_bytes();
    for bit in 0..whole.len() * 8 {
        let mut bytes = whole.clone();
        bytes[bit / 8] ^= 1 << (bit % 8);
        if let Ok(read) = read_snapshot(&bytes) {
            assert!(read.is_altered, "bit {bit} went unnoticed");
        }
    }
}

#[test]
fn every_shortened_snapshot_is_refused() {
    let whole = state(&collection());
    // Without its last line end it is still whole.
    for length in 0..whole.len() - 1 {
        let result = read_snapshot(&whole.as_bytes()[..length]);
        assert!(result.is_err(), "{length} of {} bytes", whole.len());
    }
}

#[test]
fn a_byte_order_mark_and_other_line_ends_are_let_pass() {
    let written = state(&collection());
    for other in [format!("\u{feff}{written}"), written.replace('\n', "\r\n")] {
        let read = read(&other).unwrap();
        assert!(!read.is_altered);
        assert_eq!(state(&read.collection), written);
    }
}

#[test]
fn a_hand_edit_is_read_and_noticed() {
    let written = state(&collection());
    let edited = written.replace("\"MIR:1\",1]", "\"MIR:1\",4]");
    let read = read(&edited).unwrap();
    assert!(read.is_altered);
    assert_eq!(read.collection.tally(moss(0, 0)).loose, 4);
}

#[test]
fn keys_may_stand_in_any_order() {
    let written = state(&collection());
    let value: serde_json::Value = serde_json::from_str(&written).unwrap();
    // serde_json sorts the keys of a generic value: binders before sets, pages before spec.
    let sorted = serde_json::to_string(&value).unwrap();
    assert!(sorted.find("\"binders\"") < sorted.find("\"sets\""));
    assert_eq!(state(&read(&sorted).unwrap().collection), written);
}

#[test]
fn a_key_that_stands_twice_is_refused() {
    // RFC 8259, section 4: names should be unique, or readers disagree on what is meant.
    let written = state(&collection());
    for (once, twice) in [
        ("\"version\":1,", "\"version\":1,\"version\":1,"),
        ("\"loose\":[", "\"loose\":[],\"loose\":["),
        ("{\"code\":\"TIN\",", "{\"code\":\"TIN\",\"code\":\"TIN\","),
        ("{\"number\":\"2\",", "{\"number\":\"2\",\"number\":\"2\","),
        ("{\"id\":\"p1\",", "{\"id\":\"p1\",\"id\":\"p1\","),
        ("{\"holds\":\"1\"}", "{\"holds\":\"1\",\"holds\":\"1\"}"),
        (
            "\"kind\":\"rings\",",
            "\"kind\":\"rings\",\"kind\":\"rings\",",
        ),
        ("{\"rows\":2,", "{\"rows\":2,\"rows\":2,"),
    ] {
        assert!(written.contains(once), "{once}");
        let (_, _, what) = refused(&written.replacen(once, twice, 1));
        let told = what.contains("duplicate field") || what.contains("version");
        assert!(told, "{once}: {what}");
    }
}

#[test]
fn what_is_wrong_is_told_with_line_and_column() {
    let written = state(&collection());
    for (right, wrong, expected) in [
        ("\"front\":[\"1\"", "\"front\":[\"9\"", "has no card \"9\""),
        (
            "\"front\":[\"1\"",
            "\"front\":[\"1 x\"",
            "no finish marked \"x\"",
        ),
        ("\"TIN:1\"", "\"TAN:1\"", "no set with the code \"TAN\""),
        ("\"TIN:1\"", "\"(TIN:1\"", "parenthesis"),
        (
            "\"rarity\":\"common\",\"finishes\":[\"\"]",
            "\"rarity\":\"odd\"",
            "no rarity \"odd\"",
        ),
        (
            "\"number\":\"2\"",
            "\"number\":\"1\"",
            "has a card 1 already",
        ),
        (",\"\",\"\"]", ",\"\"]", "has 4 pockets, not 3"),
        ("[\"MIR:1\",1]", "[\"MIR:1\",0]", "counted once"),
        ("\"id\":\"p2\"", "\"id\":\"p1\"", "a page p1 already"),
        (
            "\"id\":\"p2\"",
            "\"id\":\"p02\"",
            "a page such as \"p12\" expected",
        ),
        ("\"rows\":2,", "\"rows\":0,", "1 to 20 rows"),
        (
            "\"kind\":\"rings\"",
            "\"kind\":\"fixed\"",
            "fixed pages have no rings",
        ),
        (
            "\"pocket\":[64.5,",
            "\"pocket\":[64.55,",
            "at most one decimal",
        ),
        ("\"loose\":", "\"lose\":", "unknown field `lose`"),
        ("\"blank\":true", "\"blank\":false", "expected"),
    ] {
        assert!(written.contains(right), "{right}");
        let edited = written.replacen(right, wrong, 1);
        let (line, column, what) = refused(&edited);
        assert!(what.contains(expected), "{wrong}: {what}");
        // The refusal stands where the text was changed, or at the end of what encloses it.
        let start = written.find(right).unwrap();
        let told: usize = edited
            .lines()
            .take(line - 1)
            .map(|line| line.len() + 1)
            .sum();
        let told = told + column;
        let near = told >= start && told <= start + 700;
        assert!(
            near,
            "{wrong}: told at {line}:{column}, byte {told}, changed at {start}: {what}"
        );
    }
}

#[test]
fn a_place_in_what_is_read_at_the_end_is_the_place_in_the_file() {
    let (head, sets) = (
        "{\"format\":\"ringbound-collection\",\"version\":1,\
         \"through\":{\"seq\":0,\"chain\":\"00000000\"}",
        ",\"sets\":[]",
    );
    let loose = ",\n\"loose\":[\n  [\"MIR:1\",1]]";
    let tail = ",\"binders\":[],\"sum\":\"00000000\"}";
    let at_once = refused(&format!("{head}{sets}{loose}{tail}"));
    let at_the_end = refused(&format!("{head}{loose}{sets}{tail}"));
    assert_eq!(at_once.0, 3);
    assert!(at_once.2.contains("no set with the code"), "{at_once:?}");
    assert_eq!(at_the_end, at_once);
}

#[test]
fn a_later_version_is_named_and_not_guessed_at() {
    let written = state(&collection());
    let later = written.replace("\"version\":1", "\"version\":2");
    assert_eq!(read(&later).unwrap_err(), ReadError::Later(2));
    let unlike = "{\"shelves\":[],\"version\":7,\"format\":\"ringbound-collection\"}";
    assert_eq!(read(unlike).unwrap_err(), ReadError::Later(7));
    let (_, _, what) = refused("{\"shelves\":[],\"version\":7,\"format\":\"other\"}");
    assert!(what.contains("unknown field"), "{what}");
}

#[test]
fn text_that_is_not_utf8_is_refused_with_its_place() {
    let mut bytes = state(&collection()).into_bytes();
    let at = bytes.windows(4).position(|w| w == b"Moss").unwrap();
    bytes[at] = 0xff;
    let Err(ReadError::At { line, column, .. }) = read_snapshot(&bytes) else {
        panic!("read");
    };
    let line_before = bytes[..at].iter().filter(|b| **b == b'\n').count();
    let start = bytes[..at].iter().rposition(|b| *b == b'\n').unwrap();
    assert_eq!((line, column), (line_before + 1, at - start));
}

#[test]
fn the_record_that_it_reaches_up_to_is_kept() {
    let through = Position {
        seq: 12,
        chain: 0x0abc_def1,
    };
    let read = read_snapshot(&write_snapshot(&Collection::new(), through)).unwrap();
    assert_eq!(read.through, through);
}

/// `tests/data/json_syntax.json`: the grammar of RFC 8259, its source named in the file.
#[test]
fn what_the_grammar_of_json_refuses_is_refused_wherever_it_stands() {
    let vectors: serde_json::Value =
        serde_json::from_str(include_str!("../data/json_syntax.json")).unwrap();
    let empty = state(&Collection::new());
    let (mut refused, mut taken) = (0, 0);
    for case in vectors["cases"].as_array().unwrap() {
        let text = case["text"].as_str().unwrap();
        let edited = empty.replace("\"loose\":[]", &format!("\"loose\":{text}"));
        let result = read(&edited);
        if case["valid"] == false {
            // Only "nothing" can become valid by what stands around it; it is not here.
            assert!(result.is_err(), "{text:?} was read");
            refused += 1;
        } else if text.trim() == "[]" {
            assert!(result.is_ok());
            taken += 1;
        }
    }
    assert!(refused > 30 && taken == 1, "{refused} {taken}");
}
