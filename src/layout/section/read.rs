//! Reading a section from its line, and telling what is wrong with it.

use std::str::FromStr;

use super::token::{
    SectionError, Token, Word, each, is_word, list, one_item, tokens, words_of, wrong,
};
use super::{Begin, Order, Pick, Room, Section, Size, What};
use crate::layout::{default_format, parse_grid, parse_pocket};
use crate::model::{Opening, PageFormat, limits};
use crate::text::{Choice, one_of};

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
    /// What the clauses so far were about: of each there is one word.
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
            ("oversize", Some("")) => {
                self.once("size")?;
                self.pick.size = Size::Oversize;
            }
            ("usual", Some("size")) => {
                self.once("size")?;
                self.pick.size = Size::Usual;
            }
            ("the", Some("rest")) | ("rest", Some("")) => {
                self.once("the rest")?;
                self.pick.rest = true;
            }
            ("side", Some("by side")) | ("apart", Some("")) => {
                self.once("side by side or apart")?;
                self.pick.together = !rest.is_empty();
            }
            ("by", Some(order)) => {
                self.once("by")?;
                let Some(by) = Order::of_word(order) else {
                    return wrong(format!("cards stand by {}", one_of(&Order::words())));
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
            ("both", Some("sides")) => self.fronts_only(false)?,
            ("fronts", Some("only")) => self.fronts_only(true)?,
            ("top", Some("row empty")) => {
                self.once("top row empty")?;
                self.top_empty = true;
            }
            ("room", Some(words)) => {
                self.once("room")?;
                self.room = room(words)?;
            }
            (word, tail) => match tail.and_then(|tail| Begin::of_word(&format!("{word} {tail}"))) {
                Some(begin) => self.begin(begin)?,
                None => return unknown(clause),
            },
        }
        Ok(())
    }

    fn fronts_only(&mut self, only: bool) -> Result<(), SectionError> {
        self.once("both sides or fronts only")?;
        self.fronts_only = only;
        Ok(())
    }

    fn begin(&mut self, begin: Begin) -> Result<(), SectionError> {
        self.once("where it begins")?;
        self.begin = begin;
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
    let (words, begins) = (
        words_of(clause).unwrap_or_default(),
        Begin::words().join(", "),
    );
    wrong(format!(
        "\u{201c}{words}\u{201d} is not understood; a section says set, finish, rarity, numbers, \
         cards, oversize, usual size, the rest, by, side by side, apart, keepsakes, page, both sides, \
         fronts only, top row empty, {begins}, room"
    ))
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
        if let Some(opening) = Opening::of_word(word) {
            page.opening = opening;
            continue;
        }
        match word {
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
