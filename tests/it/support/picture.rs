//! Binders as text, before and after a deed.
//!
//! ```text
//!   [1 2 . - k]   a page: two cards in their place, room, a blank, a keepsake
//!   (4)           a gap that is meant for 4
//!   9! 9!4 9!-    a card 9 in a pocket that is meant for nothing, for 4, for nothing on purpose
//!   [1 / 2]       two rows     [1 | 2] front and back     [1 # 2] front and back share a pocket
//!   {1}           a page of larger pockets
//!   [1!]^         the layout has no page here
//!   [1!]~<(2) 3>  the layout has another kind of page here
//!   <(1) (2)>     a page that only the layout has yet
//!   + 4 4         two loose copies
//!   [1] & [2]     two binders
//! ```
//!
//! In a draft nothing lies in the pockets, and `4` is a pocket meant for 4.

use std::collections::BTreeMap;

use ringbound::hand::{Cannot, Foretold, Ground, Manner, put_down};
use ringbound::model::{
    BinderId, BinderKind, BinderSpec, Card, Change, Collection, Draft, Finish, Layout, LayoutPage,
    Meaning, PageFormat, PageId, Place, PrintingId, RingShape, SetHead, SetId, Step,
};
use ringbound::session::Session;

use super::world::state;

pub(crate) const RINGS: BinderKind = BinderKind::Rings {
    size: 25,
    shape: RingShape::D,
};

/// In the order of the checklist, which is not that of the numbers; the names run backwards.
const NUMBERS: [&str; 12] = [
    "1", "2", "3", "4", "5", "6", "7", "8", "12", "12a", "9", "10",
];
const RARE: [&str; 3] = ["3", "6", "9"];
const WORDS: &str = "a ticket";

/// A binder (or two) and the ground on which deeds are done: the first one, or its draft.
#[derive(Debug)]
pub(crate) struct Picture {
    pub(crate) collection: Collection,
    pub(crate) ground: Ground,
}

impl Picture {
    pub(crate) fn rings(text: &str) -> Self {
        Self::real(&[RINGS, RINGS], text)
    }

    pub(crate) fn fixed(text: &str) -> Self {
        Self::real(&[BinderKind::Fixed, BinderKind::Fixed], text)
    }

    /// Binders of these kinds.
    pub(crate) fn real(kinds: &[BinderKind], text: &str) -> Self {
        let (binders, loose) = text.split_once('+').unwrap_or((text, ""));
        let mut changes = checklist();
        for (at, (pages, kind)) in binders.split('&').zip(kinds).enumerate() {
            binder(at as u32 + 1, *kind, &parse(pages), &mut changes);
        }
        for word in loose.split_whitespace() {
            let printing = printing(word);
            changes.push(Change::Acquire { printing, count: 1 });
        }
        let mut collection = Collection::new();
        Change::apply_all(&changes, &mut collection).unwrap();
        let ground = Ground::real(BinderId(1));
        let made = Self { collection, ground };
        assert_eq!(made.draw(), text, "the picture is drawn as it is read");
        made
    }

    pub(crate) fn draft(text: &str) -> Self {
        Self::drafted(RINGS, text)
    }

    /// A draft of a binder of this kind that has such pages, with nothing in them.
    pub(crate) fn drafted(kind: BinderKind, text: &str) -> Self {
        let sheets = parse(text);
        let empty = sheets.iter().map(|sheet| Sheet {
            format: sheet.format,
            pockets: vec![(None, Meaning::Nothing); sheet.format.pockets()],
            meant: Meant::Alike,
        });
        let mut changes = checklist();
        binder(1, kind, &empty.collect::<Vec<_>>(), &mut changes);
        let pages = sheets.iter().map(|sheet| {
            let mut page = LayoutPage::empty(sheet.format);
            for (at, (held, meaning)) in sheet.pockets.iter().enumerate() {
                let meant = held.map_or(meaning.clone(), Meaning::Printing);
                page.set_meaning(at, meant);
            }
            page
        });
        changes.push(Change::AddDraft {
            binder: BinderId(1),
            at: 0,
            draft: Box::new(Draft {
                name: "autumn".into(),
                layout: Layout::of_pages(pages.collect()),
            }),
        });
        let mut collection = Collection::new();
        Change::apply_all(&changes, &mut collection).unwrap();
        let ground = Ground {
            binder: BinderId(1),
            draft: Some(0),
        };
        let made = Self { collection, ground };
        assert_eq!(made.draw(), text, "the picture is drawn as it is read");
        made
    }

    /// The pockets whose tokens these are, each the first that was not named before; `@3` is the
    /// third pocket of all.
    pub(crate) fn places(&self, tokens: &str) -> Vec<Place> {
        let all = self.all();
        let mut named: Vec<Place> = Vec::new();
        for token in tokens.split_whitespace() {
            let place = match token.strip_prefix('@') {
                Some(number) => all[number.parse::<usize>().unwrap() - 1].0,
                None => {
                    let mut of = all.iter().filter(|(p, t)| t == token && !named.contains(p));
                    of.next().unwrap_or_else(|| panic!("no {token}")).0
                }
            };
            named.push(place);
        }
        named
    }

    pub(crate) fn at(&self, token: &str) -> Place {
        self.places(token)[0]
    }

    fn all(&self) -> Vec<(Place, String)> {
        let mut all = Vec::new();
        for binder in self.collection.shelf() {
            let ground = match self.ground.draft {
                Some(_) => self.ground,
                None => Ground::real(binder.id()),
            };
            for (page, format) in ground.formats(&self.collection).iter().enumerate() {
                for pocket in 0..format.pockets() {
                    let place = ground.place(page, pocket);
                    all.push((place, self.token(place)));
                }
            }
        }
        all
    }

    fn token(&self, place: Place) -> String {
        let ground = Ground {
            binder: place.binder,
            ..self.ground
        };
        let unit = ground.unit(&self.collection, place);
        if ground.is_real() {
            token(unit.held, &unit.meaning)
        } else {
            match unit.meaning {
                Meaning::Printing(printing) => token_of(printing),
                other => token(None, &other),
            }
        }
    }

    pub(crate) fn draw(&self) -> String {
        let mut drawn = Vec::new();
        for binder in self.collection.shelf() {
            let mut text = String::new();
            let ground = Ground {
                binder: binder.id(),
                ..self.ground
            };
            let formats = ground.formats(&self.collection);
            for (page, format) in formats.iter().enumerate() {
                let tokens = (0..format.pockets()).map(|at| self.token(ground.place(page, at)));
                text.push_str(&page_text(
                    *format,
                    tokens.collect(),
                    page_brackets(*format),
                ));
                if !ground.is_real() {
                    continue;
                }
                match binder.layout().pages.get(page) {
                    None => text.push('^'),
                    Some(meant) if !binder.comparable(page) => {
                        text.push('~');
                        text.push_str(&meant_text(meant));
                    }
                    Some(_) => {}
                }
            }
            if ground.is_real() {
                for meant in binder.layout().pages.iter().skip(formats.len()) {
                    text.push_str(&meant_text(meant));
                }
            }
            drawn.push(text);
        }
        let mut text = drawn.join(" & ");
        let sets = self.collection.sets();
        let printings = sets.flat_map(|(id, set)| set.printings(id));
        let loose: String = printings
            .flat_map(|p| {
                vec![format!(" {}", token_of(p)); self.collection.tally(p).loose as usize]
            })
            .collect();
        if !loose.is_empty() {
            text.push_str(" +");
            text.push_str(&loose);
        }
        text
    }

    /// The picture after the step, or why it cannot be. Whatever the step is, it keeps the
    /// collection whole and is taken back to the identical state.
    pub(crate) fn after(&self, step: Result<impl Into<Step>, Cannot>) -> String {
        let step: Step = match step {
            Ok(step) => step.into(),
            Err(why) => return format!("no: {why}"),
        };
        assert!(!step.changes.is_empty(), "a step that does nothing");
        let before = state(&self.collection);
        let mut session = Session::in_memory(self.collection.clone());
        session.commit(step).unwrap();
        let after = Self {
            collection: session.collection().clone(),
            ground: self.ground,
        };
        assert_eq!(after.collection.check(), vec![]);
        session.undo().unwrap();
        assert_eq!(state(session.collection()), before);
        session.redo().unwrap();
        assert_eq!(state(session.collection()), state(&after.collection));
        after.draw()
    }

    pub(crate) fn put(&self, from: &str, to: &str, manner: Manner) -> Result<Foretold, Cannot> {
        let (from, to) = (self.places(from), self.at(to));
        put_down(&self.collection, self.ground, &from, to, manner)
    }

    pub(crate) fn swap(&self, from: &str, to: &str) -> String {
        self.after(self.put(from, to, Manner::Swap).map(|put| put.step))
    }

    pub(crate) fn push(&self, from: &str, to: &str) -> String {
        self.after(self.put(from, to, Manner::Push).map(|put| put.step))
    }

    /// The ids of the pages, binder by binder.
    pub(crate) fn page_ids(&self) -> BTreeMap<BinderId, Vec<u32>> {
        let binders = self.collection.shelf();
        binders
            .map(|binder| {
                let ids = binder.pages().iter().map(|page| page.id().0);
                (binder.id(), ids.collect())
            })
            .collect()
    }
}

#[derive(Debug)]
struct Sheet {
    format: PageFormat,
    pockets: Vec<(Option<PrintingId>, Meaning)>,
    meant: Meant,
}

#[derive(Debug)]
enum Meant {
    Alike,
    None,
    Other(Box<Sheet>),
    /// The sheet is in the layout only.
    Only,
}

fn parse(text: &str) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut rest = text.trim();
    while let Some(first) = rest.chars().next() {
        match first {
            '^' => {
                sheets.last_mut().unwrap().meant = Meant::None;
                rest = rest[1..].trim_start();
            }
            '~' => {
                let end = rest.find('>').unwrap();
                let other = Box::new(sheet(&rest[1..=end]));
                sheets.last_mut().unwrap().meant = Meant::Other(other);
                rest = rest[end + 1..].trim_start();
            }
            _ => {
                let end = rest.find([']', '}', '>']).unwrap();
                sheets.push(sheet(&rest[..=end]));
                rest = rest[end + 1..].trim_start();
            }
        }
    }
    sheets
}

fn sheet(text: &str) -> Sheet {
    let inner = &text[1..text.len() - 1];
    let (sides, shared) = (inner.contains(['|', '#']), inner.contains('#'));
    let front = inner.split(['|', '#']).next().unwrap();
    let rows = front.split('/').count();
    let columns = front.split('/').next().unwrap().split_whitespace().count();
    let (width, height) = if text.starts_with('{') {
        (900, 1280)
    } else {
        (640, 890)
    };
    let format = PageFormat {
        shared,
        pocket_width: width,
        pocket_height: height,
        ..PageFormat::new(rows as u8, columns as u8, 1 + u8::from(sides))
    };
    let tokens = inner.split_whitespace();
    let pockets: Vec<_> = tokens
        .filter(|token| !["|", "#", "/"].contains(token))
        .map(pocket)
        .collect();
    assert_eq!(pockets.len(), format.pockets(), "{text}");
    let meant = if text.starts_with('<') {
        Meant::Only
    } else {
        Meant::Alike
    };
    Sheet {
        format,
        pockets,
        meant,
    }
}

fn pocket(token: &str) -> (Option<PrintingId>, Meaning) {
    match token.split_once('!') {
        Some((held, meant)) => (Some(printing(held)), meaning(meant)),
        None if token.starts_with('(') => (None, meaning(&token[1..token.len() - 1])),
        None => match meaning(token) {
            Meaning::Printing(printing) => (Some(printing), Meaning::Printing(printing)),
            other => (None, other),
        },
    }
}

fn meaning(token: &str) -> Meaning {
    match token {
        "" | "." => Meaning::Nothing,
        "-" => Meaning::Blank,
        "k" => Meaning::Keepsake(WORDS.into()),
        card => Meaning::Printing(printing(card)),
    }
}

fn token(held: Option<PrintingId>, meaning: &Meaning) -> String {
    let meant = match meaning {
        Meaning::Nothing => String::new(),
        Meaning::Blank => "-".into(),
        Meaning::Keepsake(_) => "k".into(),
        Meaning::Printing(printing) => token_of(*printing),
    };
    match held.map(token_of) {
        Some(held) if held == meant => held,
        Some(held) => format!("{held}!{meant}"),
        None if meant.is_empty() => ".".into(),
        None if matches!(meaning, Meaning::Printing(_)) => format!("({meant})"),
        None => meant,
    }
}

fn page_brackets(format: PageFormat) -> (char, char) {
    if format.pocket_width == 900 {
        ('{', '}')
    } else {
        ('[', ']')
    }
}

fn meant_text(page: &LayoutPage) -> String {
    let tokens = (0..page.format().pockets()).map(|at| token(None, &page.meaning(at)));
    page_text(page.format(), tokens.collect(), ('<', '>'))
}

fn page_text(format: PageFormat, tokens: Vec<String>, (open, close): (char, char)) -> String {
    let between = if format.shared { " # " } else { " | " };
    let sides = tokens.chunks(format.per_side()).map(|side| {
        let rows = side.chunks(usize::from(format.columns));
        rows.map(|row| row.join(" "))
            .collect::<Vec<_>>()
            .join(" / ")
    });
    let sides: Vec<String> = sides.collect();
    format!("{open}{}{close}", sides.join(between))
}

pub(crate) fn printing(token: &str) -> PrintingId {
    if let Some(number) = token.strip_prefix('b') {
        return PrintingId::new(SetId(1), number.parse::<u32>().unwrap() - 1, 0);
    }
    let (number, finish) = match token.strip_suffix('r') {
        Some(number) => (number, 1),
        None => (token, 0),
    };
    let card = NUMBERS.iter().position(|other| *other == number);
    let card = card.unwrap_or_else(|| panic!("no card {token}"));
    PrintingId::new(SetId(0), card as u32, finish)
}

fn token_of(printing: PrintingId) -> String {
    if printing.set() == SetId(1) {
        return format!("b{}", printing.card() + 1);
    }
    let mark = ["", "r"][usize::from(printing.finish())];
    format!("{}{mark}", NUMBERS[printing.card() as usize])
}

fn checklist() -> Vec<Change> {
    let mut changes = Vec::new();
    for (set, code, finishes, rarities) in [
        (
            SetId(0),
            "FEN",
            &["regular", "reverse"][..],
            &["common", "rare"][..],
        ),
        (SetId(1), "TIN", &["regular"][..], &["odd", "plain"][..]),
    ] {
        let head = SetHead {
            code: code.into(),
            ..SetHead::default()
        };
        changes.push(Change::AddSet {
            set,
            at: usize::from(set.0),
            head: Box::new(head),
        });
        for (name, mark) in finishes.iter().zip(["", "r"]) {
            let finish = Finish {
                name: (*name).into(),
                mark: mark.into(),
            };
            changes.push(Change::AddFinish {
                set,
                finish: Box::new(finish),
            });
        }
        for name in rarities {
            let name = (*name).into();
            changes.push(Change::AddRarity { set, name });
        }
    }
    let fen = NUMBERS.iter().zip('a'..='z').map(|(number, letter)| Card {
        number: (*number).into(),
        name: format!("{} Owl", (b'z' - (letter as u8 - b'a')) as char).into(),
        rarity: (*number != "8").then_some(u16::from(RARE.contains(number))),
        size: None,
        finishes: 0b11,
    });
    let tin = (1..=3).map(|number: u32| Card {
        number: number.to_string().into(),
        name: "Kettle".into(),
        rarity: Some(1),
        size: None,
        finishes: 1,
    });
    for (set, cards) in [(SetId(0), fen.collect()), (SetId(1), tin.collect())] {
        let first = 0;
        changes.push(Change::AddCards { set, first, cards });
    }
    changes
}

fn binder(id: u32, kind: BinderKind, sheets: &[Sheet], changes: &mut Vec<Change>) {
    let (binder, mut pages) = (BinderId(id), 0);
    let spec = BinderSpec {
        name: format!("b{id}").into(),
        title: format!("Fen {id}").into(),
        set: Some(SetId(0)),
        kind,
        front_matter: Vec::new(),
    };
    changes.push(Change::AddBinder {
        binder,
        at: id as usize - 1,
        spec: Box::new(spec),
    });
    for (at, sheet) in sheets.iter().enumerate() {
        let page = PageId(id * 100 + at as u32);
        if !matches!(sheet.meant, Meant::Only) {
            pages += 1;
            let format = sheet.format;
            changes.push(Change::AddPage {
                binder,
                at,
                page,
                format,
            });
        }
        let meant = match &sheet.meant {
            Meant::None => None,
            Meant::Other(other) => Some(&**other),
            Meant::Alike | Meant::Only => Some(sheet),
        };
        if let Some(meant) = meant {
            let mut page = LayoutPage::empty(meant.format);
            for (pocket, (_, meaning)) in meant.pockets.iter().enumerate() {
                page.set_meaning(pocket, meaning.clone());
            }
            changes.push(Change::AddLayoutPage {
                binder,
                at,
                page: Box::new(page),
            });
        }
        for (pocket, (held, _)) in sheet.pockets.iter().enumerate().filter(|_| at < pages) {
            let Some(printing) = *held else {
                continue;
            };
            let place = Place {
                binder,
                page: at,
                pocket,
            };
            changes.push(Change::Acquire { printing, count: 1 });
            changes.push(Change::Seat {
                place,
                page,
                printing,
            });
        }
    }
}
