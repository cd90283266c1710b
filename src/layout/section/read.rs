//! Reading a section from its line, and telling what is wrong with it.

use std::str::FromStr;

use super::{Begin, Order, Pick, Room, Section, Size, What};
use crate::layout::{default_format, parse_grid, parse_pocket};
use crate::model::{Opening, PageFormat, limits};

/// Why a line is no section; the text says what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct SectionError(String);

fn wrong<T>(why: impl Into<String>) -> Result<T, SectionError> {
    Err(SectionError(why.into()))
}

/// A word of a line; what stood in quotes is never taken for anything but itself.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Word {
    text: String,
    is_quoted: bool,
}

/// Words with the signs that part them.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Token {
    Word(Word),
    Colon,
    Semicolon,
    Comma,
}

fn tokens(line: &str) -> Result<Vec<Token>, SectionError> {
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

impl FromStr for Section {
    type Err = SectionError;

    /// Reads what [`Section`]'s `Display` writes: `rares: rarity rare; by name; page 3x3`.
    fn from_str(line: &str) -> Result<Self, SectionError> {
        let tokens = tokens(line)?;
        let colon = tokens.iter().position(|token| *token == Token::Colon);
        let Some(colon) = colon else {
            return wrong("a section is written name: and then what it holds, separated by ;");
        };
        if colon == 0 {
            return wrong("a section needs a name before the colon");
        }
        let name = one_item(&tokens[..colon])?;
        let mut reader = Reader::default();
        for clause in tokens[colon + 1..].split(|token| *token == Token::Semicolon) {
            reader.clause(clause)?;
        }
        reader.section(&name)
    }
}

#[derive(Default)]
struct Reader {
    pick: Pick,
    keepsakes: Option<Vec<(u32, Box<str>)>>,
    page: Option<PageFormat>,
    fronts_only: bool,
    top_empty: bool,
    begin: Begin,
    room: Room,
    /// The first words of the clauses so far, each of which is said once.
    said: Vec<&'static str>,
}

impl Reader {
    fn once(&mut self, what: &'static str) -> Result<(), SectionError> {
        if self.said.contains(&what) {
            return wrong(format!("{what} is said twice"));
        }
        self.said.push(what);
        Ok(())
    }

    fn clause(&mut self, clause: &[Token]) -> Result<(), SectionError> {
        let Some((first, rest)) = clause.split_first() else {
            return Ok(());
        };
        let Token::Word(Word {
            text,
            is_quoted: false,
        }) = first
        else {
            return unknown(clause);
        };
        let tail = words_of(rest);
        match (text.to_lowercase().as_str(), tail.as_deref()) {
            ("set", _) => {
                self.once("set")?;
                self.pick.set = Some(one_item(rest)?.into());
            }
            ("finish", _) => {
                self.once("finish")?;
                self.pick.finishes = list(rest)?;
            }
            ("rarity", _) => {
                self.once("rarity")?;
                let not = is_word(rest.first(), "not");
                self.pick.but = not;
                self.pick.rarities = list(&rest[usize::from(not)..])?;
            }
            ("numbers", _) => {
                self.once("numbers")?;
                self.pick.numbers = each(rest).map(range).collect::<Result<_, _>>()?;
            }
            ("cards", _) => {
                self.once("cards")?;
                self.pick.list = list(rest)?;
            }
            ("oversize", Some("")) => self.pick.size = Size::Oversize,
            ("usual", Some("size")) => self.pick.size = Size::Usual,
            ("the", Some("rest")) | ("rest", Some("")) => self.pick.rest = true,
            ("side", Some("by side")) => self.pick.together = true,
            ("apart", Some("")) => self.pick.together = false,
            ("by", Some(order)) => {
                self.once("by")?;
                let found = Order::ALL.into_iter().find(|by| by.word() == order);
                let Some(by) = found else {
                    return wrong("cards stand by number, name, rarity, checklist or list");
                };
                self.pick.by = by;
            }
            ("keepsakes", _) => {
                self.once("keepsakes")?;
                self.keepsakes = Some(each(rest).map(keepsake).collect::<Result<_, _>>()?);
            }
            ("page", _) => {
                self.once("page")?;
                self.page = Some(page(rest)?);
            }
            ("both", Some("sides")) => self.fronts_only = false,
            ("fronts", Some("only")) => self.fronts_only = true,
            ("top", Some("row empty")) => self.top_empty = true,
            ("new", Some("page")) => self.begin = Begin::Page,
            ("new", Some("side")) => self.begin = Begin::Side,
            ("new", Some("row")) => self.begin = Begin::Row,
            ("flowing", Some("on")) => self.begin = Begin::On,
            ("room", Some(words)) => {
                self.once("room")?;
                self.room = room(words)?;
            }
            _ => return unknown(clause),
        }
        Ok(())
    }

    fn section(self, name: &str) -> Result<Section, SectionError> {
        let what = match self.keepsakes {
            None => What::Cards(self.pick),
            Some(_) if self.pick != Pick::default() => {
                return wrong("a section is for cards or for keepsakes, not for both");
            }
            Some(words) => What::Keepsakes(words),
        };
        let mut section = Section::new(name, self.page.unwrap_or_else(default_format), what);
        section.fronts_only = self.fronts_only;
        section.top_empty = self.top_empty;
        section.begin = self.begin;
        section.room = self.room;
        if section.pockets_a_page() == 0 {
            return wrong("no pocket of such a page is left for a card");
        }
        Ok(section)
    }
}

fn unknown<T>(clause: &[Token]) -> Result<T, SectionError> {
    let words = words_of(clause).unwrap_or_default();
    wrong(format!(
        "\u{201c}{words}\u{201d} is not understood; a section says set, finish, rarity, numbers, \
         cards, oversize, usual size, the rest, by, side by side, keepsakes, page, fronts only, top row empty, \
         new page, new side, new row, flowing on, room"
    ))
}

/// The words in small letters, one space between; `None` where a sign stands among them.
fn words_of(tokens: &[Token]) -> Option<String> {
    let words = tokens.iter().map(|token| match token {
        Token::Word(word) => Some(word.text.to_lowercase()),
        _ => None,
    });
    words
        .collect::<Option<Vec<_>>>()
        .map(|words| words.join(" "))
}

fn is_word(token: Option<&Token>, word: &str) -> bool {
    matches!(token, Some(Token::Word(found)) if !found.is_quoted && found.text.eq_ignore_ascii_case(word))
}

fn each(tokens: &[Token]) -> impl Iterator<Item = &[Token]> {
    tokens.split(|token| *token == Token::Comma)
}

/// Words that make one item, as they stood.
fn one_item(tokens: &[Token]) -> Result<String, SectionError> {
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

fn list(tokens: &[Token]) -> Result<Vec<Box<str>>, SectionError> {
    each(tokens)
        .map(|item| one_item(item).map(Into::into))
        .collect()
}

/// Items separated by commas, as a person types them into one field; `"` around what holds a comma.
///
/// # Errors
/// A quote that is not closed, or nothing between two commas.
pub fn read_item_list(words: &str) -> Result<Vec<Box<str>>, SectionError> {
    let tokens = tokens(words)?;
    if tokens.is_empty() {
        return Ok(Vec::new());
    }
    list(&tokens)
}

fn range(tokens: &[Token]) -> Result<(Box<str>, Box<str>), SectionError> {
    let to = tokens.iter().position(|token| is_word(Some(token), "to"));
    let (from, to) = match to {
        Some(at) => (one_item(&tokens[..at])?, one_item(&tokens[at + 1..])?),
        None => (one_item(tokens)?, one_item(tokens)?),
    };
    if crate::text::natural_cmp(&from, &to).is_gt() {
        return wrong(format!("numbers go upwards: {to} to {from}"));
    }
    Ok((from.into(), to.into()))
}

fn keepsake(tokens: &[Token]) -> Result<(u32, Box<str>), SectionError> {
    let (many, words) = keepsakes(tokens)?;
    if words.len() > limits::TEXT {
        return wrong(format!("a keepsake has at most {} bytes", limits::TEXT));
    }
    Ok((many, words.into()))
}

fn keepsakes(tokens: &[Token]) -> Result<(u32, String), SectionError> {
    if let [Token::Word(many), times, words @ ..] = tokens
        && is_word(Some(times), "x")
        && !many.is_quoted
    {
        let many: Option<u32> = many.text.parse().ok();
        let Some(many) = many.filter(|many| (1..=Room::MOST).contains(many)) else {
            return wrong("so many keepsakes: 4 x pack art");
        };
        return Ok((many, one_item(words)?));
    }
    Ok((1, one_item(tokens)?))
}

fn page(tokens: &[Token]) -> Result<PageFormat, SectionError> {
    let words = words_of(tokens).unwrap_or_default();
    let mut words = words.split(' ');
    let (rows, columns) = parse_grid(words.next().unwrap_or_default())
        .map_err(|why| SectionError(why.to_string()))?;
    let mut page = PageFormat::new(rows, columns, 2);
    while let Some(word) = words.next() {
        match word {
            "top" => page.opening = Opening::Top,
            "side" => page.opening = Opening::Side,
            "shared" => page.shared = true,
            "one-sided" => page.sides = 1,
            "pocket" => {
                let size = parse_pocket(words.next().unwrap_or_default());
                (page.pocket_width, page.pocket_height) =
                    size.map_err(|why| SectionError(why.to_string()))?;
            }
            other => {
                return wrong(format!(
                    "a page is 3x3 and, if need be, top, shared, one-sided, pocket 64x89; not {other}"
                ));
            }
        }
    }
    if !page.is_possible() {
        return wrong("a shared pocket needs a page that is loaded on both sides");
    }
    Ok(page)
}

fn room(words: &str) -> Result<Room, SectionError> {
    let (many, what) = words.split_once(' ').unwrap_or((words, "pockets"));
    let many: Option<u32> = many.parse().ok();
    match (many.filter(|many| *many <= Room::MOST), what) {
        (Some(0), _) => Ok(Room::None),
        (Some(many), "pocket" | "pockets") => Ok(Room::Pockets(many)),
        (Some(many), "page" | "pages") => Ok(Room::Pages(many)),
        _ => wrong(format!(
            "room is so many pockets or pages, at most {}: room 4 pockets",
            Room::MOST
        )),
    }
}
