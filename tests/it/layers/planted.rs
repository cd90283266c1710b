//! The checker itself is checked: bad sources are planted, and each must be found, where it is.

use super::{Sources, check};

/// What is found in one source, as `line: what`.
fn found(file: &str, text: &str) -> Vec<String> {
    let sources = Sources::from([(file.to_owned(), text.to_owned())]);
    (check(&sources).into_iter())
        .map(|found| format!("{}: {}", found.line, found.what))
        .collect()
}

#[track_caller]
fn names(file: &str, text: &str, line: usize, forbidden: &str) {
    let told = found(file, text);
    let wanted = |told: &String| {
        told.starts_with(&format!("{line}: "))
            && told.ends_with(&format!("must not name {forbidden}"))
    };
    assert!(
        told.len() == 1 && told.iter().all(wanted),
        "{file} {text}: {told:?}"
    );
}

#[track_caller]
fn clean(file: &str, text: &str) {
    assert_eq!(found(file, text), [""; 0], "{file} {text}");
}

#[test]
fn a_module_above_is_found_however_it_is_named() {
    names(
        "src/model/set.rs",
        "use crate::session::Session;",
        1,
        "session",
    );
    names("src/report/gaps.rs", "\nuse crate::store;\n", 2, "store");
    names(
        "src/report/gaps.rs",
        "fn f() -> crate::ui::App { }",
        1,
        "ui",
    );
    names(
        "src/report.rs",
        "use super::session::Session;",
        1,
        "session",
    );
    names(
        "src/report/gaps.rs",
        "use super::super::store::Lock;",
        1,
        "store",
    );
    names(
        "src/report/gaps.rs",
        "use super::{words, super::store::Lock};",
        1,
        "store",
    );
    names(
        "src/report/gaps.rs",
        "use crate::{model::Set,\n store::{Lock, Kept}};",
        2,
        "store",
    );
    names("src/report/gaps.rs", "use crate::*;", 1, "*");
    names("src/report/gaps.rs", "use crate as all;", 1, "*");
    names("src/report/gaps.rs", "use crate::{self as all};", 1, "*");
    names("src/text/safe.rs", "use crate::model::Set;", 1, "model");
    names(
        "src/store/lock.rs",
        "pub(crate) use crate::report::gaps;",
        1,
        "report",
    );
    names("src/cli/gaps.rs", "use crate::ui::App;", 1, "ui");
    names("src/ui/app.rs", "use crate::cli::output;", 1, "cli");
    names("src/ui/app.rs", "use crate::store::Lock;", 1, "store");
    names("src/main.rs", "use ringbound::store::Lock;", 1, "store");
    names(
        "src/main.rs",
        "fn main() { ::ringbound::model::x() }",
        1,
        "model",
    );
}

#[test]
fn names_inside_a_module_of_the_file_are_counted_from_there() {
    clean("src/report.rs", "mod inner { use super::percent; }");
    names(
        "src/report.rs",
        "mod inner { use super::super::store; }",
        1,
        "store",
    );
    names(
        "src/report.rs",
        "mod inner { fn f() {} }\nuse super::store;",
        2,
        "store",
    );
}

#[test]
fn what_stands_under_may_be_named() {
    clean(
        "src/report/gaps.rs",
        "use crate::model::Set; use super::super::text::safe;",
    );
    clean(
        "src/report/gaps.rs",
        "use crate::report::words; use super::words; use self::x::y;",
    );
    clean(
        "src/cli/gaps.rs",
        "use crate::{store::csv, session, report::gaps};",
    );
    clean(
        "src/ui/app.rs",
        "use crate::session::Session; use super::super::model::Set;",
    );
    clean("src/main.rs", "use ringbound::{cli, ui};");
    clean(
        "src/model/apply/ensure.rs",
        "pub(in crate::model) fn f() {}",
    );
    clean("src/store/csv/table.rs", "use crate::intake::CardRow;");
}

#[test]
fn the_rule_of_a_part_counts_before_the_rule_of_the_whole() {
    names(
        "src/store/lock.rs",
        "use crate::intake::CardRow;",
        1,
        "intake",
    );
    // A longer name that begins alike is another module.
    names(
        "src/store/csvx.rs",
        "use crate::intake::CardRow;",
        1,
        "intake",
    );
}

#[test]
fn a_screen_is_found_where_ui_names_it_below_the_screens() {
    for (file, text) in [
        ("src/ui/desk.rs", "use super::screen::list::List;"),
        ("src/ui/desk.rs", "use super::{paint, screen::Screen};"),
        ("src/ui/spread/draw.rs", "use crate::ui::screen;"),
        ("src/ui/spread/draw.rs", "use super::super::screen::Next;"),
        ("src/ui/book.rs", "use crate::{ui::{screen::Next, paint}};"),
        ("src/ui/book.rs", "mod a { use super::super::screen; }"),
        (
            "src/ui/book.rs",
            "fn f(x: &dyn crate::ui::screen::Screen) {}",
        ),
        // A name that begins alike is another part.
        ("src/ui/screens.rs", "use super::screen::Next;"),
    ] {
        names(file, text, 1, "ui::screen");
    }
    for text in [
        "use super::*;",
        "use super as all;",
        "use super::{self as all};",
        "use crate::ui;",
        "use crate::{model, ui};",
        "use crate::ui::*;",
    ] {
        names("src/ui/desk.rs", text, 1, "ui::*");
    }
    for file in [
        "app",
        "app/far",
        "footer",
        "offers",
        "screen",
        "screen/list",
    ] {
        clean(&format!("src/ui/{file}.rs"), "use crate::ui::screen::Next;");
    }
    clean("src/ui.rs", "pub use self::screen::Next;");
    clean(
        "src/ui/desk.rs",
        "use super::{paint, keymap::screen}; use crate::ui::theme; pub(in crate::ui) fn f() {}",
    );
}

#[test]
fn a_module_without_a_place_in_the_map_is_found() {
    let told = found("src/planner.rs", "");
    assert_eq!(told, ["1: planner has no place in the map of layers"]);
}

#[test]
fn comments_strings_and_characters_are_not_code() {
    clean(
        "src/model/set.rs",
        "// crate::ui::x\n/// crate::ui\n/* crate::ui /* crate::ui */ crate::ui */",
    );
    clean(
        "src/model/set.rs",
        r#"const A: &str = "crate::ui::x \" crate::ui";"#,
    );
    clean(
        "src/model/set.rs",
        r###"const A: &str = r#"crate::ui " crate::ui"#;"###,
    );
    clean(
        "src/model/set.rs",
        r#"const A: &[u8] = b"println!"; const B: u8 = b'"';"#,
    );
    // After each of these, code goes on.
    for before in [
        "'\"'",
        "'\\''",
        "b'\"'",
        "'\\u{22}'",
        "\"\\\\\"",
        "/* */",
        "r\"\\\"",
    ] {
        let text = format!("const A: X = {before};\nuse crate::ui;");
        names("src/model/set.rs", &text, 2, "ui");
    }
    names(
        "src/model/set.rs",
        "fn f<'a>(x: &'a str) -> &'a crate::ui::X {}",
        1,
        "ui",
    );
}

#[test]
fn tests_may_name_what_they_like_and_code_after_them_may_not() {
    clean(
        "src/model/set.rs",
        "#[cfg(test)]\nmod tests { use crate::demo; fn f() { println!() } }",
    );
    clean(
        "src/model/set.rs",
        "#[cfg(test)]\n#[allow(x)]\nuse crate::{demo, ui};",
    );
    names(
        "src/model/set.rs",
        "#[cfg(test)]\nuse crate::{demo};\nuse crate::ui;",
        3,
        "ui",
    );
    names(
        "src/model/set.rs",
        "#[cfg(test)]\nmod tests { fn f() { if x { } } }\nuse crate::ui;",
        3,
        "ui",
    );
    names(
        "src/model/set.rs",
        "#[cfg(not(test))]\nuse crate::ui;",
        2,
        "ui",
    );
}

#[test]
fn a_file_that_is_only_for_tests_is_left_alone_with_all_its_parts() {
    let sources = |declared: &str| {
        Sources::from([
            ("src/model.rs".to_owned(), declared.to_owned()),
            (
                "src/model/tests.rs".to_owned(),
                "use crate::demo;".to_owned(),
            ),
            (
                "src/model/tests/laws.rs".to_owned(),
                "use crate::demo;".to_owned(),
            ),
        ])
    };
    assert_eq!(check(&sources("#[cfg(test)]\npub(crate) mod tests;")), []);
    assert_eq!(check(&sources("mod tests;")).len(), 2);
}

#[test]
fn printing_is_found_outside_the_places_that_speak() {
    for print in ["print!()", "println!(\"x\")", "eprint!()", "eprintln!()"] {
        assert_eq!(found("src/cli/gaps.rs", print).len(), 1, "{print}");
        clean("src/cli/output.rs", print);
        clean("src/main.rs", print);
    }
    clean("src/cli/gaps.rs", "fn println() {}");
}

#[test]
fn the_screen_the_clock_and_the_environment_are_found_below_the_faces() {
    for text in [
        "use std::time::SystemTime;",
        "use std::time::{Duration, Instant};",
        "use directories::ProjectDirs;",
        "std::env::var(\"HOME\")",
        "use std::env;",
        "use std::{collections::HashMap, env};",
        "use std::{io::{Read, Write}, env};",
        "use std::io::stdout;",
    ] {
        assert_eq!(found("src/session.rs", text).len(), 1, "{text}");
        clean("src/cli/args.rs", text);
    }
    for text in ["use ratatui::style::Style;", "crossterm::execute!()"] {
        assert_eq!(found("src/cli/args.rs", text).len(), 1, "{text}");
        clean("src/ui/paint.rs", text);
    }
    for text in ["use std::fs;", "use std::{fs::File, io};"] {
        assert_eq!(found("src/model/set.rs", text).len(), 1, "{text}");
        clean("src/store/lock.rs", text);
    }
    // What is read while compiling is no environment, and a word of one's own is no module.
    clean(
        "src/session.rs",
        "const V: &str = env!(\"CARGO_PKG_VERSION\"); let env = 1;",
    );
}

#[test]
fn long_files_and_mod_rs_are_found() {
    let lines = "fn f() {}\n".repeat(400);
    clean("src/model/set.rs", &lines);
    clean(
        "src/model/set.rs",
        &format!("{lines}#[cfg(test)]\nmod tests {{\n}}\n"),
    );
    let told = found("src/model/set.rs", &format!("{lines}fn g() {{}}\n"));
    assert_eq!(told, ["401: 401 lines without tests, more than 400"]);
    assert_eq!(found("src/model/mod.rs", "").len(), 1);
}
