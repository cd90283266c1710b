//! The words and signs of a line.

use crate::model::limits;

/// Why a line is no section; the text says what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct SectionError(pub(super) String);

pub(super) fn wrong<T>(why: impl Into<String>) -> Result<T, SectionError> {
    Err(SectionError(why.into()))
}

/// A word of a line; what stood in quotes is never taken for anything but itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Word {
    pub(super) text: String,
    pub(super) is_quoted: bool,
}

/// Words with the signs that part them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Token {
    Word(Word),
    Colon,
    Semicolon,
    Comma,
}

pub(super) fn tokens(line: &str) -> Result<Vec<Token>, SectionError> {
    let mut found = Vec::new();
    // A tab between words parts them as a space does; in quotes it would be one of the words.
    let is_unseen = |c: char| c.is_control() && c != '\t';
    if line.chars().any(is_unseen) || line.split('"').skip(1).step_by(2).any(|w| w.contains('\t')) {
        return wrong("a section is one line of words, without control characters");
    }
    if line.len() > limits::RULE {
        return wrong(format!("a section has at most {} bytes", limits::RULE));
    }
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            ':' => found.push(Token::Colon),
            ';' => found.push(Token::Semicolon),
            ',' => found.push(Token::Comma),
            c if c.is_whitespace() => {}
            '"' => {
                let mut text = String::new();
                loop {
                    match chars.next() {
                        None => return wrong("a quote is opened and not closed"),
                        Some('"') if chars.peek() == Some(&'"') => {
                            chars.next();
                            text.push('"');
                        }
                        Some('"') => break,
                        Some(c) => text.push(c),
                    }
                }
                found.push(Token::Word(Word {
                    text,
                    is_quoted: true,
                }));
            }
            c => {
                let mut text = String::from(c);
                while let Some(c) = chars.next_if(|c| !c.is_whitespace() && !":;,\"".contains(*c)) {
                    text.push(c);
                }
                found.push(Token::Word(Word {
                    text,
                    is_quoted: false,
                }));
            }
        }
    }
    Ok(found)
}

/// The words in small letters, one space between; `None` where a sign stands among them.
pub(super) fn words_of(tokens: &[Token]) -> Option<String> {
    let words = tokens.iter().map(|token| match token {
        Token::Word(word) => Some(word.text.to_lowercase()),
        _ => None,
    });
    words
        .collect::<Option<Vec<_>>>()
        .map(|words| words.join(" "))
}

pub(super) fn is_word(token: Option<&Token>, word: &str) -> bool {
    matches!(token, Some(Token::Word(found)) if !found.is_quoted && found.text.eq_ignore_ascii_case(word))
}

pub(super) fn each(tokens: &[Token]) -> impl Iterator<Item = &[Token]> {
    tokens.split(|token| *token == Token::Comma)
}

/// Words that make one item, as they stood.
pub(super) fn one_item(tokens: &[Token]) -> Result<String, SectionError> {
    let words = tokens.iter().map(|token| match token {
        Token::Word(word) => Ok(word.text.as_str()),
        _ => wrong("a sign that does not belong there; words that hold , ; or : stand in quotes"),
    });
    let words = words.collect::<Result<Vec<_>, _>>()?.join(" ");
    if words.is_empty() {
        return wrong("something is missing between two signs");
    }
    Ok(words)
}

pub(super) fn list(tokens: &[Token]) -> Result<Vec<Box<str>>, SectionError> {
    each(tokens)
        .map(|item| one_item(item).map(Into::into))
        .collect()
}

/// A line in two at its first colon that does not stand in quotes.
pub(super) fn parted(line: &str) -> Option<(String, &str)> {
    // A quote within quotes is written twice, so that every other one closes what one opened.
    let mut quoted = false;
    let colon = line.find(|c| {
        quoted ^= c == '"';
        c == ':' && !quoted
    })?;
    let name = one_item(&tokens(&line[..colon]).ok()?).ok()?;
    Some((name, line[colon + 1..].trim_start()))
}
