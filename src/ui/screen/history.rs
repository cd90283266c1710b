//! The list of what was done, newest first, and going back to any point of it: the chosen step is
//! the last one done then.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::session::Told;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows::Seen;
use crate::ui::theme::Role;

/// The most steps that are listed.
const MOST: usize = 1_000;

/// The list; undone steps stand above the line of the present.
#[derive(Debug, Default)]
pub(crate) struct History {
    /// Lines below the present, counted from it: 0 is the present itself; negative are undone. The
    /// line below the first step is the time before it.
    chosen: isize,
}

impl History {
    fn undone(desk: &Desk) -> Vec<Told> {
        desk.session.undone().take(MOST).collect()
    }

    fn done(desk: &Desk) -> Vec<Told> {
        desk.session.done().take(MOST).collect()
    }

    /// Takes back, or does again, until the chosen line is the present or a step cannot be kept.
    fn go(&mut self, desk: &mut Desk) -> Next {
        let steps = std::mem::take(&mut self.chosen);
        // The chosen step stays done: the newest is the present too.
        let many = match steps {
            1.. => steps.unsigned_abs() - 1,
            _ => steps.unsigned_abs(),
        };
        let back = steps > 0;
        let mut gone = 0;
        while gone < many && if back { desk.undo() } else { desk.redo() } {
            gone += 1;
        }
        let (done, key, way) = match back {
            true => ("taken back", Intent::Redo, "does them again"),
            false => ("done again", Intent::Undo, "takes them back"),
        };
        let words = text::count(gone as u64, "step", "steps");
        match (gone, many) {
            (_, 0) => desk.say("This is the present"),
            // What the desk says of it is enough.
            (0, _) | (1, 1) => {}
            _ if gone < many => desk.say_before(&format!("{words} {done}.")),
            _ => {
                let key = desk.key(Context::Binder, key);
                desk.say(format!("{words} {done}; {key} {way}, one by one"));
            }
        }
        Next::Close
    }

    /// Lines below the present for so many steps.
    fn below(done: usize) -> usize {
        done + usize::from(done > 0)
    }

    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        paint::centred(body, 78, body.height.saturating_sub(2))
    }

    /// The lines that are seen, the last undone step first.
    fn seen(&self, desk: &Desk, undone: usize, done: usize) -> Seen {
        let rows = paint::inside(self.window(desk));
        let many = undone + 1 + Self::below(done);
        let chosen = self.chosen.saturating_add_unsigned(undone).max(0) as usize;
        Seen::of(rows, chosen.min(many - 1), many)
    }
}

impl Screen for History {
    fn context(&self) -> Context {
        Context::History
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let least = -(Self::undone(desk).len() as isize);
        let most = Self::below(Self::done(desk).len()) as isize;
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.go(desk),
            _ => {}
        }
        let room = usize::from(self.window(desk).height.saturating_sub(3));
        let at = self.chosen.clamp(least, most) - least;
        let at = intent.stepped(at as usize, room, (most - least) as usize);
        self.chosen = least + at as isize;
        Next::Stay
    }

    /// A click chooses a line, and goes to it where it is chosen already.
    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let undone = Self::undone(desk).len();
        let seen = self.seen(desk, undone, Self::done(desk).len());
        let Some(row) = seen.under(at).filter(|_| mouse == Mouse::Left) else {
            return Next::Stay;
        };
        let chosen = row as isize - undone as isize;
        if chosen == self.chosen {
            return self.go(desk);
        }
        self.chosen = chosen;
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " what was done ", theme);
        let mut lines: Vec<(isize, String, Role)> = Vec::new();
        let undone = Self::undone(desk);
        for (at, told) in undone.iter().enumerate().rev() {
            // In front, where a long line is not cut.
            let words = format!("(taken back) {}", line(told));
            lines.push((-(at as isize) - 1, words, Role::Quiet));
        }
        let present = (0, "the present".to_owned(), Role::Strong);
        lines.push(present);
        let done = Self::done(desk);
        for (at, told) in (1isize..).zip(&done) {
            lines.push((at, line(told), Role::Text));
        }
        if !done.is_empty() {
            let words = "before all of these steps".to_owned();
            lines.push((done.len() as isize + 1, words, Role::Quiet));
        }
        if lines.len() == 1 && area.height > 3 {
            let words =
                "Nothing was done yet. What you do is listed here, and you can go back to it";
            let quiet = theme.style(Role::Quiet);
            let width = area.width.saturating_sub(5);
            paint::line(buf, (area.x + 3, area.y + 2), width, words, quiet);
        }
        for (y, at) in self.seen(desk, undone.len(), done.len()).rows() {
            let (at, words, role) = &lines[at];
            let here = *at == self.chosen;
            let role = if here { Role::Selected } else { *role };
            let sign = if here { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), sign, theme.style(Role::Cursor));
            let width = area.width.saturating_sub(5);
            paint::line(buf, (area.x + 3, y), width, words, theme.style(role));
        }
    }
}

/// The step with the day on which it was done.
fn line(told: &Told) -> String {
    match told.at.as_deref().and_then(|at| at.get(..10)) {
        Some(day) => format!("{day}  {}", told.label),
        None => told.label.clone(),
    }
}
