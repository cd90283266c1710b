//! The list of what can be done to pages and pockets here, each with a letter. What cannot be done
//! is not on it.

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::ask::{Ask, Question};
use super::sections::Sections;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Behind, Cannot, Ground, Put};
use crate::layout::{self, Order};
use crate::model::{Change, Collection, Place, Step};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The letters that mean the same wherever they are offered, what they do, and other words for it.
pub(crate) const USUAL: &[(char, &str, &str)] = &[
    ('i', "put an empty page in before this one", "insert add"),
    ('j', "put an empty page in behind this one", "insert add"),
    ('f', "put in a page of another format", "insert add grid"),
    ('g', "give this page another format", "change grid"),
    ('x', "take this page out", "remove delete"),
    ('h', "carry this page into another binder", "move"),
    ('b', "leave this pocket empty on purpose", "blank"),
    ('c', "make this pocket free", "clear nothing"),
    ('k', "put a keepsake into this pocket", "pack art ticket"),
    ('o', "leave room from this pocket on", "gap free space"),
    (
        'l',
        "from here on pockets for the cards that have none",
        "fill free",
    ),
    ('r', "turn the marked cards round", "reverse order opposite"),
    ('1', "sort the marked cards by number", "order"),
    ('2', "sort the marked cards by name", "order alphabet"),
    ('3', "sort the marked cards by rarity", "order"),
    (
        '4',
        "sort the marked cards by the checklist",
        "order number",
    ),
    (
        '<',
        "carry the marked cards to the front",
        "move begin first",
    ),
    ('>', "carry the marked cards to the back", "move end last"),
    ('p', "carry the marked cards to a page", "move"),
    (
        's',
        "lay the binder out by sections",
        "rules templates order",
    ),
    ('A', "gather a rarity in front", "rares order"),
];

/// What a line of the list does.
#[derive(Clone, Debug)]
enum Deed {
    Sections,
    Step(Box<Step>),
    Ask(Question, String),
}

#[derive(Clone, Debug)]
struct Item {
    key: char,
    words: String,
    deed: Deed,
}

/// Columns beside the words of a line: the edges, the letter, and the spaces between them.
const BESIDE: u16 = 8;
/// Columns that the words have at least, where there are so many.
const LEAST: u16 = 58;

/// The window with the list.
#[derive(Debug)]
pub(crate) struct Menu {
    ground: Ground,
    items: Vec<Item>,
    chosen: usize,
}

impl Menu {
    /// Everything that can be done at this place, or to this run.
    pub(crate) fn of(desk: &Desk, ground: Ground, place: Place, run: Vec<Place>) -> Self {
        let collection = desk.collection();
        let mut items = Vec::new();
        pages(collection, ground, place, &mut items);
        pocket(collection, ground, place, &mut items);
        items.push(Item {
            key: 's',
            words: "Lay the binder out by sections\u{2026}".into(),
            deed: Deed::Sections,
        });
        if run.len() > 1 {
            runs(collection, ground, &run, &mut items);
        }
        rarities(collection, ground, &mut items);
        collected(collection, ground, &mut items);
        Self {
            ground,
            items,
            chosen: 0,
        }
    }

    fn accept(&mut self, desk: &mut Desk) -> Next {
        let Some(item) = self.items.get(self.chosen) else {
            return Next::Close;
        };
        match item.deed.clone() {
            Deed::Sections => {
                let sections = Sections::of(desk, self.ground);
                Next::instead(sections)
            }
            Deed::Step(step) => {
                desk.commit(*step);
                Next::Close
            }
            Deed::Ask(question, words) => Next::instead(Ask::of(self.ground, question, &words)),
        }
    }

    /// The window, as wide as its lines where there is room, and the words of each item in lines.
    fn window(&self, desk: &Desk) -> (Rect, Vec<Vec<String>>) {
        let body = desk.body();
        let words: Vec<_> = (self.items.iter())
            .map(|item| text::safe(&item.words))
            .collect();
        let widest = words.iter().map(|words| text::columns(words)).max();
        let most = body.width.saturating_sub(BESIDE);
        let width = (widest.unwrap_or(0) as u16).clamp(LEAST.min(most), most);
        let more = desk.theme.glyphs().more;
        let wrap = |words: &_| text::wrap(words, usize::from(width), 3, more);
        let lines: Vec<Vec<String>> = words.iter().map(|words| wrap(words)).collect();
        let high = lines.iter().map(Vec::len).sum::<usize>();
        let area = paint::centred(body, width + BESIDE, high as u16 + 2);
        (area, lines)
    }

    /// What is seen in so many lines: of which item each is, and the how manieth line of it. The
    /// chosen item is among them.
    fn seen(&self, lines: &[Vec<String>], room: usize) -> Vec<(usize, usize)> {
        let all = lines.iter().enumerate();
        let all: Vec<_> = all
            .flat_map(|(item, lines)| (0..lines.len()).map(move |line| (item, line)))
            .collect();
        let end = all.partition_point(|(item, _)| *item <= self.chosen);
        let first = end.saturating_sub(room.max(1));
        all.into_iter().skip(first).take(room).collect()
    }
}

impl Screen for Menu {
    fn context(&self) -> Context {
        Context::Menu
    }

    /// The letters of its lines.
    fn takes_letters(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.items.len().saturating_sub(1);
        self.chosen = match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.accept(desk),
            _ => intent.stepped(self.chosen, 1, last),
        };
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        let KeyCode::Char(c) = event.code else {
            return Next::Stay;
        };
        match self.items.iter().position(|item| item.key == c) {
            Some(at) => {
                self.chosen = at;
                self.accept(desk)
            }
            None => Next::Stay,
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        let (window, lines) = self.window(desk);
        if !window.contains((x, y).into()) {
            return Next::Close;
        }
        let room = usize::from(window.height.saturating_sub(2));
        let Some(row) = y.checked_sub(window.y + 1).map(usize::from) else {
            return Next::Stay;
        };
        let Some((at, _)) = self.seen(&lines, room).get(row).copied() else {
            return Next::Stay;
        };
        self.chosen = at;
        self.accept(desk)
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let ((area, lines), theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " arrange ", theme);
        let room = usize::from(area.height.saturating_sub(2));
        for (y, (at, line)) in (area.y + 1..).zip(self.seen(&lines, room)) {
            let chosen = at == self.chosen;
            let role = if chosen { Role::Selected } else { Role::Text };
            if line == 0 {
                let here = if chosen { theme.glyphs().here } else { " " };
                paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
                let key = self.items[at].key.to_string();
                paint::line(buf, (area.x + 3, y), 2, &key, theme.style(Role::Key));
            }
            let (width, words) = (area.width.saturating_sub(BESIDE), &lines[at][line]);
            paint::line(buf, (area.x + 6, y), width, words, theme.style(role));
        }
    }
}

/// A line for a step that can be done; it says what it would do.
fn offer(items: &mut Vec<Item>, key: char, put: Result<Put, Cannot>) {
    if let Ok(put) = put {
        items.push(Item {
            key,
            words: text::sentence(&put.words),
            deed: Deed::Step(Box::new(put.step)),
        });
    }
}

fn ask(items: &mut Vec<Item>, key: char, words: &str, question: Question, begin: &str) {
    items.push(Item {
        key,
        words: words.into(),
        deed: Deed::Ask(question, begin.into()),
    });
}

fn pages(collection: &Collection, ground: Ground, place: Place, items: &mut Vec<Item>) {
    let formats = ground.formats(collection);
    let here = formats.get(place.page).copied();
    let usual = here.unwrap_or_else(layout::default_format);
    let fixed = hand::insert_page(collection, ground, 0, usual).is_err();
    if fixed {
        return;
    }
    let grid = layout::grid_word(&usual);
    if formats.is_empty() {
        offer(items, 'i', hand::insert_page(collection, ground, 0, usual));
        ask(
            items,
            'f',
            "Put in a page of another format\u{2026}",
            Question::InsertPage(0),
            &grid,
        );
        return;
    }
    let (at, after) = (place.page, place.page + 1);
    offer(items, 'i', hand::insert_page(collection, ground, at, usual));
    offer(
        items,
        'j',
        hand::insert_page(collection, ground, after, usual),
    );
    ask(
        items,
        'f',
        "Put in a page of another format\u{2026}",
        Question::InsertPage(after),
        &grid,
    );
    ask(
        items,
        'g',
        "Give this page another format\u{2026}",
        Question::ChangeFormat(at),
        &grid,
    );
    offer(items, 'x', hand::remove_page(collection, ground, at));
    let others = collection
        .shelf()
        .filter(|binder| binder.id() != ground.binder && binder.spec().kind.pages_move());
    if ground.is_real() && others.count() > 0 {
        let words = "Carry this page into another binder\u{2026}";
        ask(items, 'h', words, Question::PageOver(at), "");
    }
}

fn pocket(collection: &Collection, ground: Ground, place: Place, items: &mut Vec<Item>) {
    offer(items, 'b', hand::blank(collection, ground, place));
    offer(items, 'c', hand::make_free(collection, ground, place));
    let there = hand::keepsake(collection, ground, place, "something").is_ok();
    if there {
        ask(
            items,
            'k',
            "Put a keepsake into this pocket\u{2026}",
            Question::Keepsake(place),
            "",
        );
    }
    if hand::leave_room(collection, ground, place, 1).is_ok() {
        ask(
            items,
            'o',
            "Leave room from this pocket on\u{2026}",
            Question::Room(place),
            "1",
        );
    }
    offer(items, 'l', hand::fill(collection, ground, place));
}

fn runs(collection: &Collection, ground: Ground, run: &[Place], items: &mut Vec<Item>) {
    offer(items, 'r', hand::turn_round(collection, ground, run));
    for (key, by) in [
        ('1', Order::Number),
        ('2', Order::Name),
        ('3', Order::Rarity),
        ('4', Order::Checklist),
    ] {
        offer(items, key, hand::sort(collection, ground, run, by));
    }
    let carry = |put: Result<Put, Cannot>| {
        put.map(|put| Put {
            words: format!("carry {}", put.words),
            ..put
        })
    };
    offer(items, '<', carry(hand::to_front(collection, ground, run)));
    offer(items, '>', carry(hand::to_back(collection, ground, run)));
    let words = "Carry the marked cards to a page\u{2026}";
    ask(items, 'p', words, Question::RunToPage(run.to_vec()), "");
}

/// Gathering a rarity in front, for each rarity of the binder's set, in both ways.
fn rarities(collection: &Collection, ground: Ground, items: &mut Vec<Item>) {
    let id = collection
        .binder(ground.binder)
        .and_then(|binder| binder.spec().set);
    let Some((id, set)) = id.and_then(|id| Some((id, collection.set(id)?))) else {
        return;
    };
    let mut keys = 'A'..='Z';
    for (behind, how) in [
        (Behind::LeftFree, "their pockets stay free"),
        (Behind::ClosedUp, "the others close up"),
    ] {
        for (at, name) in (0u16..).zip(set.rarities()) {
            let gathered = hand::gather_with(collection, ground, id, at, behind);
            let (Ok(step), Some(key)) = (gathered, keys.next()) else {
                continue;
            };
            items.push(Item {
                key,
                words: format!("Gather in front: {name}; {how}{}", carried(&step)),
                deed: Deed::Step(Box::new(step)),
            });
        }
    }
}

/// How many cards a step has one carry by hand.
fn carried(step: &Step) -> String {
    let lifts = step.changes.iter();
    let lifts = lifts.filter(|change| matches!(change, Change::Lift { .. }));
    match lifts.count() as u64 {
        0 => String::new(),
        many => format!("; {} to take out", text::count(many, "card", "cards")),
    }
}

/// For each finish of the binder's set, that it is not collected or is again.
fn collected(collection: &Collection, ground: Ground, items: &mut Vec<Item>) {
    let id = collection
        .binder(ground.binder)
        .and_then(|binder| binder.spec().set);
    let Some((id, set)) = id.and_then(|id| Some((id, collection.set(id)?))) else {
        return;
    };
    // Where there is one finish, leaving it out would leave nothing.
    let finishes = set.finishes().len();
    if finishes < 2 || !ground.is_real() {
        return;
    }
    for (finish, key) in (0u8..finishes as u8).zip("nmqtuvwyz".chars()) {
        let put = if set.is_left_out(finish) {
            hand::collect(collection, id, finish)
        } else {
            hand::leave_out(collection, id, finish)
        };
        offer(items, key, put);
    }
}
