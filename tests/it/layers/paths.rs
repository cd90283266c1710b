//! Which modules of the crate's top level a source names.

use super::tokens::Token;

/// The top-level modules that are named by `crate::`, `ringbound::` or enough `super::`, with the
/// line; `depth` is how deep the file's module lies under the root. A glob over the root is told
/// as `*`.
pub(super) fn top_level_names(tokens: &[Token], depth: usize) -> Vec<(usize, String)> {
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
                "::" => walk(tokens, at + 2, 0, &mut found),
                // Under another name the root could be reached unseen.
                "as" => found.push((tokens[at].line, "*".into())),
                _ => {}
            },
            "super" if begins_path(tokens, at) => {
                walk(tokens, at, depth + inner.len(), &mut found);
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

/// Follows a path that has come to a module `depth` under the root, to the names it takes there.
fn walk(tokens: &[Token], at: usize, depth: usize, found: &mut Vec<(usize, String)>) {
    match text(tokens, at) {
        "super" => {
            let up = depth.saturating_sub(1);
            match text(tokens, at + 1) {
                "::" => walk(tokens, at + 2, up, found),
                "as" if up == 0 => found.push((tokens[at].line, "*".into())),
                _ => {}
            }
        }
        "self" if text(tokens, at + 1) == "::" => walk(tokens, at + 2, depth, found),
        "self" if depth == 0 => found.push((tokens[at].line, "*".into())),
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
                    walk(tokens, next + 1, depth, found);
                }
            }
        }
        "" => {}
        name if depth == 0 => found.push((tokens[at].line, name.into())),
        _ => {}
    }
}
