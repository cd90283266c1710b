//! A list of what can be done, each with a letter: to pages and pockets here, or to a binder as a
//! whole. What cannot be done is not on it.

mod items;

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::ask::{Ask, Question};
use super::sections::Sections;
use super::{Mouse, Next, Screen};
use crate::hand::Ground;
use crate::model::{BinderId, Place, Step};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::{Context, Key, letter};
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
    (
        'r',
        "put the marked cards in the opposite order",
        "reverse backwards turn round",
    ),
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
];

/// What a line of the list does.
#[derive(Clone, Debug)]
enum Deed {
    Sections(Ground),
    Step(Box<Step>),
    Ask(Ground, Question, String),
    /// There are more than are listed.
    More,
}

#[derive(Clone, Debug)]
struct Item {
    /// None where there are more lines than letters: it is chosen with the arrows.
    key: Option<char>,
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
    title: &'static str,
    items: Vec<Item>,
    chosen: usize,
}

fn by_sections(ground: Ground) -> Item {
    Item {
        key: Some('s'),
        words: "Lay the binder out by sections\u{2026}".into(),
        deed: Deed::Sections(ground),
    }
}

impl Menu {
    /// Everything that can be done at this place, or to this run.
    pub(crate) fn of(desk: &Desk, ground: Ground, place: Place, run: Vec<Place>) -> Self {
        let collection = desk.collection();
        let mut all = Vec::new();
        items::pages(collection, ground, place, &mut all);
        items::pocket(collection, ground, place, &mut all);
        all.push(by_sections(ground));
        if run.len() > 1 {
            items::runs(collection, ground, &run, &mut all);
        }
        items::rarities(collection, ground, &mut all);
        items::collected(collection, ground, &mut all);
        Self::arranging(all)
    }

    /// What can be done to the binder as a whole: for as long as what is done to pages and pockets
    /// would be done to those that will stand here.
    pub(crate) fn of_binder(desk: &Desk, ground: Ground) -> Self {
        let mut all = vec![by_sections(ground)];
        items::rarities(desk.collection(), ground, &mut all);
        items::collected(desk.collection(), ground, &mut all);
        Self::arranging(all)
    }

    fn arranging(items: Vec<Item>) -> Self {
        Self {
            title: " arrange ",
            items,
            chosen: 0,
        }
    }

    /// The ways in which this binder leaves the shelf; and sets that have none, the collection.
    pub(crate) fn to_give_up(desk: &Desk, binder: Option<BinderId>) -> Self {
        let mut all = Vec::new();
        if let Some(binder) = binder {
            items::leaving(desk.collection(), binder, &mut all);
        }
        items::without_binder(desk.collection(), &mut all);
        Self {
            title: " give up ",
            items: all,
            chosen: 0,
        }
    }

    fn accept(&mut self, desk: &mut Desk) -> Next {
        let Some(item) = self.items.get(self.chosen) else {
            return Next::Close;
        };
        match item.deed.clone() {
            Deed::Sections(ground) => {
                let sections = Sections::of(desk, ground);
                Next::instead(sections)
            }
            Deed::Step(step) => {
                desk.commit(*step);
                Next::Close
            }
            Deed::More => Next::Stay,
            Deed::Ask(ground, question, words) => Next::instead(Ask::of(ground, question, &words)),
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
        let wrap = |words: &_| text::wrap(words, usize::from(width), 4, more);
        let lines: Vec<Vec<String>> = words.iter().map(|words| wrap(words)).collect();
        let high = lines.iter().map(Vec::len).sum::<usize>();
        let area = paint::centred(body, width + BESIDE, high as u16 + 2);
        (area, lines)
    }

    /// What is seen in so many lines: of which item each is, and the how manieth line of it. The
    /// chosen item is among them, its beginning where it has no room as a whole.
    fn seen(&self, lines: &[Vec<String>], room: usize) -> Vec<(usize, usize)> {
        let all = lines.iter().enumerate();
        let all: Vec<_> = all
            .flat_map(|(item, lines)| (0..lines.len()).map(move |line| (item, line)))
            .collect();
        let end = all.partition_point(|(item, _)| *item <= self.chosen);
        let begin = all.partition_point(|(item, _)| *item < self.chosen);
        let first = end.saturating_sub(room.max(1)).min(begin);
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
        let Some(c) = letter(event) else {
            if let (Some(key), KeyCode::Char(_)) = (Key::of(event), event.code) {
                desk.say(format!("{key} stands for nothing that can be done here"));
            }
            return Next::Stay;
        };
        match self.items.iter().position(|item| item.key == Some(c)) {
            Some(at) => {
                self.chosen = at;
                self.accept(desk)
            }
            None => {
                desk.say(format!("{c} stands for nothing that can be done here"));
                Next::Stay
            }
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
        if at == self.chosen {
            return self.accept(desk);
        }
        self.chosen = at;
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let ((area, lines), theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, self.title, theme);
        let room = usize::from(area.height.saturating_sub(2));
        for (y, (at, line)) in (area.y + 1..).zip(self.seen(&lines, room)) {
            let chosen = at == self.chosen;
            let role = if chosen { Role::Selected } else { Role::Text };
            if line == 0 {
                let here = if chosen { theme.glyphs().here } else { " " };
                paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
                let key = self.items[at].key.map_or_else(String::new, String::from);
                paint::line(buf, (area.x + 3, y), 2, &key, theme.style(Role::Key));
            }
            let (width, words) = (area.width.saturating_sub(BESIDE), &lines[at][line]);
            paint::line(buf, (area.x + 6, y), width, words, theme.style(role));
        }
    }
}
