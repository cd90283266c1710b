//! The help: what can be done on a screen, with its keys, read from the key table.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The help of one context.
#[derive(Debug)]
pub(crate) struct Help {
    context: Context,
    top: usize,
}

/// What the signs on a page mean, for the binder's help.
const SIGNS: &[&str] = &[
    "",
    "Click a line above to do it.",
    "",
    "On a page:",
    "  solid outline, bar on top   a card in its pocket",
    "  broken outline, gap         a pocket that waits for a card",
    "  broken outline, n loose     a loose copy could go in: {put} puts it in",
    "  solid outline and \"for n\"   a card in a pocket meant for another",
    "  double outline              a keepsake",
    "  corners only                nothing planned, or left empty",
    "",
    "In the strip: a dot for an empty pocket that is meant for a card;",
    "beside a page's number what it has to say: a card waits for it, one",
    "is misplaced on it, or, in a draft, it differs from the layout.",
    "",
    "With the mouse: click a pocket to choose it, a miniature to leaf to",
    "its page, a key below to use it; the right button puts a waiting",
    "card in or takes one out; the wheel leafs. Drag a card to another",
    "pocket, a page by its edge or in the strip; held at an edge of the",
    "screen it turns the pages.",
];

impl Help {
    pub(crate) fn new(context: Context) -> Self {
        Self { context, top: 0 }
    }

    fn lines(&self, desk: &Desk) -> Vec<String> {
        let mut lines: Vec<String> = (desk.keys.intents(self.context))
            .into_iter()
            .map(|(intent, keys, _)| {
                let keys: Vec<_> = keys.iter().map(ToString::to_string).collect();
                format!("{:<16} {}", keys.join(", "), intent.sentence(self.context))
            })
            .collect();
        if self.context == Context::Binder {
            let put = desk.key(self.context, Intent::Put);
            lines.extend(SIGNS.iter().map(|line| line.replace("{put}", &put)));
        }
        lines
    }

    fn window(&self, desk: &Desk) -> Rect {
        let height = self.lines(desk).len() as u16 + 2;
        paint::centred(desk.body(), 78, height)
    }

    /// How far the text can be scrolled.
    fn furthest(&self, desk: &Desk) -> usize {
        let room = usize::from(self.window(desk).height.saturating_sub(2));
        self.lines(desk).len().saturating_sub(room)
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
        let room = usize::from(self.window(desk).height.saturating_sub(3)).max(1);
        self.top = match intent {
            Intent::Leave => return Next::Close,
            Intent::Up => self.top.saturating_sub(1),
            Intent::Down => self.top + 1,
            Intent::PageBack => self.top.saturating_sub(room),
            Intent::PageOn => self.top + room,
            _ => self.top,
        }
        .min(self.furthest(desk));
        Next::Stay
    }

    /// A click on a line does what the line says.
    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        let window = self.window(desk);
        let inside = window.contains((x, y).into()) && y > window.y;
        match mouse {
            Mouse::Left if inside => {
                let at = self.top.min(self.furthest(desk)) + usize::from(y - window.y - 1);
                let intents = desk.keys.intents(self.context);
                match intents.get(at) {
                    Some((intent, ..)) => Next::CloseAnd(*intent),
                    None => Next::Stay,
                }
            }
            Mouse::Left => Next::Close,
            _ => Next::Stay,
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " help ", theme);
        let room = area.height.saturating_sub(2);
        let top = self.top.min(self.furthest(desk));
        let lines = self.lines(desk);
        for (y, line) in (area.y + 1..).zip(lines.iter().skip(top).take(usize::from(room))) {
            paint::line(
                buf,
                (area.x + 2, y),
                area.width.saturating_sub(4),
                line,
                theme.style(Role::Text),
            );
        }
        if top < self.furthest(desk) {
            let at = (area.right() - 2, area.bottom() - 1);
            paint::sign(buf, at, theme.glyphs().down, theme.style(Role::Waiting));
        }
    }
}
