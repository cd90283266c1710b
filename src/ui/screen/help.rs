//! The help: what can be done on a screen here and now, with its keys, read from the key table; and
//! what cannot, with the reason.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::{Context, Key};
use crate::ui::paint;
use crate::ui::theme::Role;

/// The help of one context, as it is here and now.
#[derive(Debug)]
pub(crate) struct Help {
    context: Context,
    /// First what can be done.
    rows: Vec<Row>,
    top: usize,
    /// The row that was clicked once.
    chosen: Option<usize>,
}

/// One thing that can be asked for.
#[derive(Debug)]
pub(crate) struct Row {
    pub(crate) intent: Intent,
    pub(crate) keys: Vec<Key>,
    /// Why it cannot be done now, if it cannot.
    pub(crate) why_not: Option<String>,
}

/// What the signs on a page mean, for the binder's help: a sign and what it says, or only words.
const SIGNS: &[(&str, &str)] = &[
    ("", ""),
    (
        "",
        "Click a line above to choose it, and once more to do it.",
    ),
    ("", ""),
    ("", "On a page:"),
    ("solid outline, bar on top", "a card in its pocket"),
    (
        "broken outline, gap",
        "a pocket whose card is missing from it",
    ),
    (
        "broken outline, n loose",
        "a gap that a loose copy can fill",
    ),
    (
        "solid outline and \"for n\"",
        "a card in a pocket meant for another",
    ),
    ("double outline", "a keepsake"),
    ("corners only", "a free pocket, for nothing yet"),
    ("corners and a cross", "left empty on purpose"),
    ("", ""),
    (
        "",
        "In the small pages at the edge: a dot for an empty pocket that is meant for a card; beside a page's number \
         what it has to say: a card waits for it, one is misplaced on it, or, in a draft, it \
         differs from the layout.",
    ),
    ("", ""),
    (
        "",
        "With the mouse: click a pocket to choose it, a small page to go to it, a key below \
         to use it; the right button puts a waiting card in or takes one out; the wheel turns \
         pages. Drag a card to another pocket, a page by its edge or as a small page; held at an \
         edge of the screen it turns the pages.",
    ),
];

/// Columns of the keys.
const KEYS: usize = 17;
/// Columns of the signs.
const SIGN: usize = 30;

impl Help {
    pub(crate) fn new(context: Context, rows: Vec<Row>) -> Self {
        let (mut rows, mut not_now): (Vec<_>, Vec<_>) =
            rows.into_iter().partition(|row| row.why_not.is_none());
        // What finds everything else is worth the first line.
        rows.sort_by_key(|row| row.intent != Intent::Anything);
        not_now.retain(|row| !row.intent.is_plain());
        rows.extend(not_now);
        Self {
            context,
            rows,
            top: 0,
            chosen: None,
        }
    }

    /// The lines, none wider than `width`, and for those of a row which it is.
    fn lines(&self, width: usize) -> Vec<(String, Role, Option<usize>)> {
        let mut lines = Vec::new();
        let mut before = true;
        for (at, row) in self.rows.iter().enumerate() {
            let keys: Vec<_> = row.keys.iter().map(ToString::to_string).collect();
            let (keys, words) = (keys.join(", "), row.intent.sentence(self.context));
            let role = match row.why_not {
                None => Role::Text,
                Some(_) => Role::Quiet,
            };
            if row.why_not.is_some() && std::mem::take(&mut before) {
                lines.push((String::new(), Role::Text, None));
                lines.push(("Not now:".into(), Role::Quiet, None));
            }
            let rows = hung(&keys, KEYS, words, width);
            lines.extend(rows.into_iter().map(|line| (line, role, Some(at))));
            if let Some(why) = &row.why_not {
                let rows = hung("", KEYS + 2, why, width);
                lines.extend(rows.into_iter().map(|line| (line, Role::Quiet, None)));
            }
        }
        if self.context == Context::Binder {
            for (sign, words) in SIGNS {
                let indent = if sign.is_empty() { 0 } else { SIGN };
                let rows = hung(&format!("  {sign}"), indent, words, width);
                lines.extend(rows.into_iter().map(|line| (line, Role::Text, None)));
            }
        }
        lines
    }

    /// Columns of the text in the window.
    fn width(desk: &Desk) -> usize {
        usize::from(desk.body().width.min(78).saturating_sub(4))
    }

    fn window(&self, desk: &Desk) -> Rect {
        let height = self.lines(Self::width(desk)).len() as u16 + 2;
        paint::centred(desk.body(), 78, height)
    }

    /// How far the text can be scrolled.
    fn furthest(&self, desk: &Desk) -> usize {
        let room = usize::from(self.window(desk).height.saturating_sub(2));
        self.lines(Self::width(desk)).len().saturating_sub(room)
    }
}

impl Screen for Help {
    fn context(&self) -> Context {
        Context::Help
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if intent == Intent::Leave {
            return Next::Close;
        }
        let room = usize::from(self.window(desk).height.saturating_sub(3));
        self.top = intent.stepped(self.top, room, self.furthest(desk));
        Next::Stay
    }

    /// A click chooses a line; another one on it does what the line says.
    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        let window = self.window(desk);
        let is_row = (window.y + 1..window.bottom().saturating_sub(1)).contains(&y);
        match mouse {
            Mouse::Left if !window.contains((x, y).into()) => Next::Close,
            // The edge below tells that there is more.
            Mouse::Left if y + 1 == window.bottom() => self.act(desk, Intent::PageOn),
            Mouse::Left if is_row => {
                let at = self.top.min(self.furthest(desk)) + usize::from(y - window.y - 1);
                let row = self
                    .lines(Self::width(desk))
                    .get(at)
                    .and_then(|(.., row)| *row);
                let can = |at: &usize| self.rows[*at].why_not.is_none();
                let before = self.chosen;
                self.chosen = row.filter(can);
                match self.chosen {
                    Some(row) if self.chosen == before => Next::CloseAnd(self.rows[row].intent),
                    _ => Next::Stay,
                }
            }
            _ => Next::Stay,
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " help ", theme);
        let room = area.height.saturating_sub(2);
        let top = self.top.min(self.furthest(desk));
        let lines = self.lines(Self::width(desk));
        let shown = lines.iter().skip(top).take(usize::from(room));
        for (y, (line, role, row)) in (area.y + 1..).zip(shown) {
            let width = area.width.saturating_sub(4);
            let is_chosen = row.is_some() && *row == self.chosen;
            let role = if is_chosen { Role::Selected } else { *role };
            paint::line(buf, (area.x + 2, y), width, line, theme.style(role));
        }
        if top < self.furthest(desk) {
            let at = (area.right() - 2, area.bottom() - 1);
            paint::sign(buf, at, theme.glyphs().down, theme.style(Role::Waiting));
        }
    }
}

/// A head, and beside it words that begin at column `indent` on each of their lines. Where there is
/// no room beside it, they stand below it.
fn hung(head: &str, indent: usize, words: &str, width: usize) -> Vec<String> {
    let beside = width >= 48 && text::columns(head) < indent;
    let under = if beside || indent == 0 { indent } else { 4 };
    let lines = text::wrap(words, width.saturating_sub(under).max(1), usize::MAX, ' ');
    let mut out: Vec<String> = lines
        .iter()
        .map(|line| format!("{:under$}{line}", ""))
        .collect();
    match out.first_mut() {
        None => out.push(head.trim_end().to_owned()),
        Some(first) if beside => *first = text::pad(head, indent, ' ') + &lines[0],
        Some(_) if head.trim().is_empty() => {}
        Some(_) => out.insert(0, head.to_owned()),
    }
    out
}
