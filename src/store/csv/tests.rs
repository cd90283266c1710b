//! Reading and writing whole files. What the columns are and mean is in the contract of the
//! commands ("CSV in"); the grammar is RFC 4180, October 2005.

use proptest::prelude::*;

use super::*;
use crate::intake::{Checklist, ChecklistOptions, Copies};
use crate::model::{Change, Collection};

/// What is told of a checklist that is bad, a line each.
fn told(text: impl AsRef<[u8]>) -> Vec<String> {
    let collection = Collection::new();
    let mut checklist = Checklist::new(&collection, ChecklistOptions::default());
    match read_checklist(text.as_ref(), |row| checklist.row(row)) {
        Ok(reading) => reading.problems.iter().map(ToString::to_string).collect(),
        Err(e) => vec![e.to_string()],
    }
}

fn told_of_copies(text: &str) -> Vec<String> {
    match read_copies(text.as_bytes(), |_| Ok(())) {
        Ok(reading) => reading.problems.iter().map(ToString::to_string).collect(),
        Err(e) => vec![e.to_string()],
    }
}

#[test]
fn columns_come_in_any_order_with_or_without_a_byte_order_mark() {
    for text in [
        "set,number,name\r\nFEN,012a,Mire Lamp\r\n",
        "name,number,set\nMire Lamp,012a,FEN",
        "\u{FEFF}set,number,name\r\nFEN,012a,Mire Lamp\r\n",
        "\u{FEFF}\"set\",Number, NAME \r\nFEN,012a,Mire Lamp\r\n\r\n\r\n",
    ] {
        let mut rows = Vec::new();
        let reading = read_checklist(text.as_bytes(), |row| {
            rows.push((
                row.set.to_owned(),
                row.number.to_owned(),
                row.name.to_owned(),
                row.line,
            ));
            Ok(())
        });
        assert_eq!(reading.unwrap().taken, 1);
        let expected = ("FEN".into(), "012a".into(), "Mire Lamp".into(), 2);
        assert_eq!(rows, [expected], "{text}");
    }
}

#[test]
fn number_and_name_are_kept_as_written() {
    let mut kept = Vec::new();
    let text = "set,number,name\r\nFEN, 007 ,\" \u{1b}[31m\r\nLamp\t\"\r\n";
    let reading = read_checklist(text.as_bytes(), |row| {
        kept.push((row.number.to_owned(), row.name.to_owned()));
        Ok(())
    });
    assert_eq!(reading.unwrap().bad, 0);
    assert_eq!(kept, [(" 007 ".into(), " \u{1b}[31m\r\nLamp\t".into())]);
}

#[test]
fn unknown_columns_are_left_out_and_named() {
    let text = "set,price,number,name,\r\nFEN,3,1,Mire Lamp,x\r\n";
    let reading = read_checklist(text.as_bytes(), |_| Ok(())).unwrap();
    assert_eq!(reading.unknown, [(2, "price".into()), (5, String::new())]);
    assert_eq!((reading.taken, reading.bad), (1, 0));
}

#[test]
fn a_column_that_may_be_meant_for_one_that_is_lacking_is_asked_about() {
    let asked = |first: &str| {
        let text = format!("{first}\r\n");
        let reading = read_checklist(text.as_bytes(), |_| Ok(())).unwrap();
        reading.ask_of_mistyped()
    };
    assert_eq!(
        asked("set,number,name,finishs").as_deref(),
        Some("the column “finishs” is not known: did you mean “finishes”?")
    );
    assert_eq!(asked("set,number,name,price"), None);
    // The one that may be meant is there.
    assert_eq!(asked("set,number,name,finishs,finishes"), None);
    // A list that this program wrote has a column for the side of a page.
    assert_eq!(asked("set,number,name,side"), None);
}

#[test]
fn of_very_many_unknown_columns_the_first_are_named_and_the_others_counted() {
    let more = (0..60_000).map(|at| format!(",c{at}"));
    let text = format!("set,number,name{}\r\n", more.collect::<String>());
    let reading = read_checklist(text.as_bytes(), |_| Ok(())).unwrap();
    assert_eq!(reading.unknown.len(), 20);
    assert_eq!(reading.unknown[0], (4, "c0".into()));
    assert_eq!(reading.unknown_more, 59_980);
    // Also behind those that are named, what may be meant is found.
    let text = text
        .replace("set,number,name,", "set,number,")
        .replace("\r\n", ",nmae\r\n");
    let told = read_checklist(text.as_bytes(), |_| Ok(())).unwrap_err();
    assert!(told.to_string().contains("there is “nmae”"), "{told}");
}

#[test]
fn what_is_no_such_file_is_told_as_a_whole() {
    let head = "set,number,name\r\n";
    let picture = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
    assert_eq!(
        told(picture),
        [
            "it is not a CSV text file: line 1, byte 1: a byte that is not UTF-8; save the file as UTF-8"
        ]
    );
    assert!(told(b"MZ\0\0")[0].contains("line 1, byte 3: a byte of value 0"));
    assert!(told(vec![0; 1 << 20])[0].contains("line 1, byte 1: a byte of value 0"));
    assert!(told(b"\xFF\xFEs\0e\0t\0")[0].contains("UTF-16"));
    assert!(told("")[0].contains("it is empty; the first line names the columns: set,number,name"));
    assert!(told("\u{FEFF}")[0].contains("it is empty"));
    assert!(told("set,number,name\rFEN,1,x\r")[0].contains("carriage return"));
    assert_eq!(
        told("set,numbr,name\r\n"),
        [
            "the column “number” is missing; there is “numbr”: did you mean that? \
             Needed are set, number and name"
        ]
    );
    assert_eq!(
        told("set,title\r\n"),
        [
            "the column “number” is missing; the first line names “set”, “title”. \
             Needed are set, number and name"
        ]
    );
    assert!(told("set;number;name\r\n")[0].contains("the column “set” is missing"));
    assert!(told("set,number,name,SET\r\n")[0].contains("“set” twice"));
    assert_eq!(told(head), Vec::<String>::new());
}

#[test]
fn a_bad_row_is_told_with_line_and_column() {
    let sized = "set,number,name,width_mm,height_mm\n";
    let of = |row: &str| {
        let problems = told(format!("{sized}{row}\n"));
        assert_eq!(problems.len(), 1, "{row}: {problems:?}");
        problems[0].clone()
    };
    assert_eq!(
        of("FEN,1,Lamp,63,wide"),
        "line 2, column 5 (height_mm): “wide” is no length; write millimetres as 63 or 63.5"
    );
    assert!(of("FEN,1,Lamp,-63,88").contains("column 4 (width_mm)"));
    assert!(of("FEN,1,Lamp,0,88").contains("column 4 (width_mm)"));
    assert!(of("FEN,1,Lamp,\"63,5\",88").contains("63.5"));
    assert!(of("FEN,1,Lamp,63,").contains("column 5 (height_mm): a size needs both"));
    assert_eq!(
        of("FEN,1,Lamp"),
        "line 2: the row has 3 fields, the first line names 5 columns"
    );
    assert!(of("FEN,1,Lamp,,,,").contains("7 fields"));
    assert_eq!(
        of("FEN,,Lamp,,"),
        "line 2, column 2 (number): a card needs a number"
    );
    assert_eq!(
        of(",1,Lamp,,"),
        "line 2, column 1 (set): a card needs a set"
    );
    assert!(of("FEN,1,La\"mp,,").contains("line 2, byte 9, column 3 (name): a quote inside"));
    assert!(of("FEN,1,\"Lamp,,").contains("line 2, byte 7, column 3 (name): the quote that opens"));
    assert!(of("FEN,1,Lamp\0,,").contains("line 2, byte 11, column 3 (name): a byte of value 0"));
    let long = of(&format!("FEN,1,{},,", "x".repeat(10_000_000)));
    assert!(
        long.contains(", column 3 (name): the row is longer than 1 MiB"),
        "{long}"
    );
    assert_eq!(
        of(&format!("FEN,1,{},,", "x".repeat(1_001))),
        "line 2, column 3 (name): the field is 1001 bytes long; at most 1000 are taken"
    );
    assert_eq!(
        of("\nFEN,1,Lamp,,"),
        "line 2: the line is blank; take it out"
    );
}

#[test]
fn a_fault_tells_the_column_as_the_first_line_names_it() {
    let of = |head: &str, row: &str| told(format!("set,number,name,{head}\n{row}\n")).remove(0);
    let price = of("price\u{a0}paid", "FEN,1,Lamp,3\"");
    assert!(
        price.starts_with("line 2, byte 13, column 4 (price\u{a0}paid): "),
        "{price}"
    );
    let unnamed = of("", "FEN,1,Lamp,3\"");
    assert!(
        unnamed.starts_with("line 2, byte 13, column 4: "),
        "{unnamed}"
    );
    let beyond = of("price", "FEN,1,Lamp,3,\"");
    assert!(beyond.starts_with("line 2, byte 14: "), "{beyond}");
}

#[test]
fn a_line_in_quotes_counts_for_the_lines_after_it() {
    let problems = told("set,number,name\nFEN,1,\"a\nb\nc\"\nFEN,1,d\n");
    assert_eq!(
        problems,
        ["line 5, column 2 (number): the number “1” was given on line 2 already"]
    );
}

#[test]
fn a_bad_byte_is_told_with_line_and_byte() {
    let mut text = b"set,number,name\r\nFEN,1,ok\r\nFEN,2,L".to_vec();
    text.extend(b"\xE9ger\r\n");
    assert!(told(text)[0].starts_with("line 3, byte 8, column 3 (name): a byte that is not UTF-8"));
}

#[test]
fn a_count_is_a_whole_number_that_is_not_negative() {
    for count in [
        "-3",
        "1.5",
        "1e3",
        "many",
        "1000001",
        "99999999999999999999",
        "+1",
        "٣",
    ] {
        let problems = told_of_copies(&format!("set,number,count\nFEN,1,{count}\n"));
        let expected = format!(
            "line 2, column 3 (count): “{count}” is no count; write a whole number from 0 to 1000000"
        );
        assert_eq!(problems, [expected]);
    }
    for (written, count) in [
        ("0", 0),
        ("", 1),
        (" 7 ", 7),
        ("007", 7),
        ("1000000", 1_000_000),
    ] {
        let text = format!("set,number,count\nFEN,1,{written}\n");
        let mut found = None;
        read_copies(text.as_bytes(), |row| {
            found = Some(row.count);
            Ok(())
        })
        .unwrap();
        assert_eq!(found, Some(count), "{written}");
    }
}

#[test]
fn a_hundred_problems_are_kept_and_all_are_counted() {
    let text = format!("set,number,name\n{}", "FEN,,x\n".repeat(250));
    let reading = read_checklist(text.as_bytes(), |row| {
        Err(crate::intake::BadRow {
            line: row.line,
            column: "number",
            why: String::new(),
        })
    });
    let reading = reading.unwrap();
    assert_eq!(
        (reading.problems.len(), reading.bad, reading.taken),
        (100, 250, 0)
    );
}

/// tests/data/csv.json, the cases named "write": RFC 4180, section 2, rules 5 to 7.
#[test]
fn fields_are_quoted_where_the_grammar_asks_for_it() {
    let cases: serde_json::Value =
        serde_json::from_str(include_str!("../../../tests/data/csv.json")).unwrap();
    let mut written = 0;
    for case in cases["cases"].as_array().unwrap() {
        let Some(row) = case.get("row") else {
            continue;
        };
        let row: Vec<String> = serde_json::from_value(row.clone()).unwrap();
        let mut out = Vec::new();
        let mut writer = CsvWriter::new(&mut out, &["a", "b"], Form::Raw).unwrap();
        writer.row(&row).unwrap();
        writer.finish().unwrap();
        let expected = format!("a,b\r\n{}", case["text"].as_str().unwrap());
        assert_eq!(String::from_utf8(out).unwrap(), expected);
        written += 1;
    }
    assert_eq!(written, 5);
}

fn import_checklist(collection: &mut Collection, text: &[u8]) {
    let mut checklist = Checklist::new(collection, ChecklistOptions::default());
    let reading = read_checklist(text, |row| checklist.row(row)).unwrap();
    assert_eq!(reading.problems, []);
    let step = checklist.finish().step;
    Change::apply_all(&step.changes, collection).unwrap();
}

fn import_copies(collection: &mut Collection, text: &[u8]) {
    let mut copies = Copies::new(collection);
    let reading = read_copies(text, |row| copies.row(&row)).unwrap();
    assert_eq!(reading.problems, []);
    let step = copies.finish_step(true).step;
    Change::apply_all(&step.changes, collection).unwrap();
}

/// Rows as a file has them, made without the writer under test: the csv crate with CRLF.
fn file(rows: &[Vec<String>]) -> Vec<u8> {
    let mut builder = csv::WriterBuilder::new();
    builder.terminator(csv::Terminator::CRLF);
    let mut out = builder.from_writer(Vec::new());
    for row in rows {
        out.write_record(row).unwrap();
    }
    out.into_inner().unwrap()
}

fn checklist_rows() -> impl Strategy<Value = Vec<Vec<String>>> {
    // Without apostrophes, which may be guards: those are looked at below.
    let text = "[a-zA-Z0-9 ,;\"é☂\r\n\t=@+-]{0,8}";
    let card = (
        0..3usize,
        "[0-9P/ ,\"]{1,4}",
        text,
        "(|common|rare|very \"rare\")",
        // No two that meet in one row do so in another order elsewhere: then a row's own order is
        // that of its set.
        "(regular|regular;reverse|regular;gold, edged|reverse)",
        proptest::option::of((1u32..2_000, 1u32..2_000)),
    );
    let heads = proptest::collection::vec((text, "[☂a]{0,2}", "[0-9,]{0,3}"), 3);
    (heads, proptest::collection::vec(card, 0..40)).prop_map(|(heads, cards)| {
        let names = card_rows::COLUMNS.map(|column| column.name.to_owned());
        let mut rows = vec![names.to_vec()];
        let mut seen = std::collections::HashSet::new();
        let mut by_set = [Vec::new(), Vec::new(), Vec::new()];
        for (set, number, name, rarity, finishes, size) in cards {
            if !seen.insert((set, number.clone())) {
                continue;
            }
            let (title, symbol, shelf) = heads[set].clone();
            let size = size.map_or_else(Default::default, |(width, height)| {
                (crate::text::tenths(width), crate::text::tenths(height))
            });
            let code = ["FEN", "DAL", "o-2"][set].to_owned();
            by_set[set].push(vec![
                code, number, name, title, symbol, shelf, rarity, finishes, size.0, size.1,
            ]);
        }
        // A file keeps a set's rows together: that is how they are written.
        rows.extend(by_set.into_iter().flatten());
        rows
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_was_imported_is_exported_row_by_row(rows in checklist_rows(), counts in proptest::collection::vec(1u32..5, 40)) {
        let mut collection = Collection::new();
        let given = file(&rows);
        import_checklist(&mut collection, &given);
        prop_assert!(collection.check().is_empty());
        let mut exported = Vec::new();
        write_checklist(&mut exported, &collection, None, Form::Raw).unwrap();
        let words = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        prop_assert_eq!(words(&exported), words(&given));

        let mut copies = vec![["set", "number", "finish", "count"].map(String::from).to_vec()];
        for (row, count) in rows[1..].iter().zip(counts) {
            let finish = row[7].split(';').next().unwrap();
            copies.push(vec![row[0].clone(), row[1].clone(), finish.into(), count.to_string()]);
        }
        let given = file(&copies);
        import_copies(&mut collection, &given);
        let mut exported = Vec::new();
        write_copies(&mut exported, &collection, None, Form::Raw).unwrap();
        prop_assert_eq!(words(&exported), words(&given));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A collection whose words look like formulas goes out for a spreadsheet and comes back as it
    /// was.
    #[test]
    fn what_is_guarded_on_its_way_out_is_the_same_when_it_comes_back(
        words in proptest::collection::vec("[ab'+\\-@;é]{1,6}", 6)
    ) {
        let card = |at: usize| {
            let set = format!("=a{}", words[0].replace(['\'', ';'], ""));
            let [title, name] = [&words[1], &words[2 + at]];
            let [number, rarity, end] = [format!("={at}"), "-rare".into(), String::new()];
            let finishes = "=f;@g".to_owned();
            vec![
                set, number, name.clone(), title.clone(), end.clone(), end.clone(), rarity,
                finishes, end.clone(), end,
            ]
        };
        let mut rows = vec![card_rows::COLUMNS.map(|column| column.name.to_owned()).to_vec()];
        rows.extend((0..4).map(card));
        let guarded: Vec<Vec<String>> = rows
            .iter()
            .map(|row| row.iter().map(|field| super::guard::guard(field).into_owned()).collect())
            .collect();
        let mut collection = Collection::new();
        import_checklist(&mut collection, &file(&guarded));
        let mut exported = Vec::new();
        write_checklist(&mut exported, &collection, None, Form::Guarded).unwrap();
        prop_assert_eq!(String::from_utf8(exported), String::from_utf8(file(&guarded)));
        let mut raw = Vec::new();
        write_checklist(&mut raw, &collection, None, Form::Raw).unwrap();
        prop_assert_eq!(String::from_utf8(raw), String::from_utf8(file(&rows)));
    }
}
