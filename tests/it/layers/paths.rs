//! Which modules of the crate's top level a source names, and which parts of one of them.

use super::tokens::Token;

/// The top-level modules that are named by `crate::`, `ringbound::` or enough `super::`, with the
/// line; `depth` is how deep the file's module lies under the root. A glob over the root is told
/// as `*`.
pub(super) fn top_level_names(tokens: &[Token], depth: usize) -> Vec<(usize, String)> {
    names(tokens, depth, None)
}

/// The same of the parts of `home`, a top-level module that the source is in.
pub(super) fn names_within(tokens: &[Token], depth: usize, home: &str) -> Vec<(usize, String)> {
    names(tokens, depth, Some(home))
}

fn names(tokens: &[Token], depth: usize, home: Option<&str>) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    // Brace depths at which modules inside the file begin.
    let mut inner: Vec<usize> = Vec::new();
    let mut braces = 0;
    for at in 0..tokens.len() {
        match text(tokens, at) {
            "{" => {
                braces += 1;
                if at >= 2 && text(tokens, at - 2) == "mod" {
                    inner.push(braces);
                }
            }
            "}" => {
                if inner.last() == Some(&braces) {
                    inner.pop();
                }
                braces = braces.saturating_sub(1);
            }
            "crate" | "ringbound" if begins_path(tokens, at) => match text(tokens, at + 1) {
                "::" => walk(tokens, at + 2, 0, home, &mut found),
                // Under another name the root could be reached unseen.
                "as" if home.is_none() => found.push((tokens[at].line, "*".into())),
                _ => {}
            },
            "super" if begins_path(tokens, at) => {
                walk(tokens, at, depth + inner.len(), home, &mut found);
            }
            _ => {}
        }
    }
    found
}

fn text(tokens: &[Token], at: usize) -> &str {
    tokens.get(at).map_or("", |token| token.text.as_str())
}

fn begins_path(tokens: &[Token], at: usize) -> bool {
    // A `::` in front of all (`use ::ringbound::..`) belongs to no other path.
    let before = |n: usize| at.checked_sub(n).map_or("", |at| text(tokens, at));
    let follows_word = before(2).chars().all(|c| c == '_' || c.is_alphanumeric());
    before(1) != "::" || ["use", ""].contains(&before(2)) || !follows_word
}

/// Follows a path that has come to a module `depth` under the root, to the names it takes at the
/// top level, or within `home`.
fn walk(
    tokens: &[Token],
    at: usize,
    depth: usize,
    home: Option<&str>,
    found: &mut Vec<(usize, String)>,
) {
    let level = usize::from(home.is_some());
    match text(tokens, at) {
        "super" => {
            let up = depth.saturating_sub(1);
            match text(tokens, at + 1) {
                "::" => walk(tokens, at + 2, up, home, found),
                "as" if up == level => found.push((tokens[at].line, "*".into())),
                _ => {}
            }
        }
        "self" if text(tokens, at + 1) == "::" => walk(tokens, at + 2, depth, home, found),
        "self" if depth == level => found.push((tokens[at].line, "*".into())),
        "{" => {
            let mut braces = 0;
            for next in at..tokens.len() {
                match text(tokens, next) {
                    "{" => braces += 1,
                    "}" => braces -= 1,
                    _ => {}
                }
                if braces == 0 {
                    return;
                }
                let opens = ["{", ","].contains(&text(tokens, next));
                if braces == 1 && opens && text(tokens, next + 1) != "}" {
                    walk(tokens, next + 1, depth, home, found);
                }
            }
        }
        "" => {}
        name if depth == level => found.push((tokens[at].line, name.into())),
        name if depth < level && Some(name) == home => match text(tokens, at + 1) {
            "::" => walk(tokens, at + 2, level, home, found),
            // Who may see something, as in `pub(in crate::ui)`.
            ")" => {}
            // Through the whole of it a part could be reached unseen.
            _ => found.push((tokens[at].line, "*".into())),
        },
        _ => {}
    }
}
