//! The list of what was done, newest first, and going back to any point of it: the chosen step is
//! the last one done then.

use std::cell::RefCell;
use std::rc::Rc;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen, WHEEL};
use crate::session::PastStep;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::message::as_sentence;
use crate::ui::paint;
use crate::ui::rows::Seen;
use crate::ui::theme::Role;

/// The most steps that are listed.
const MOST: usize = 1_000;

/// Columns beside the words of a line.
const BESIDE: u16 = 5;
/// From this width on the hour stands beside the day.
const WITH_HOUR: u16 = 80;

/// Steps that are gone before the next key has its turn: each of them waits for the disk.
const SLICE: usize = 4;

/// The list; undone steps stand above the line of the present.
#[derive(Debug, Default)]
pub(crate) struct History {
    /// Lines below the present, counted from it: 0 is the present itself; negative are undone. The
    /// line below the first step is the time before it.
    chosen: isize,
    /// On the way to a line, for as long as it is not reached.
    going: Option<Going>,
    /// The line is reached, or no further step could be kept.
    is_gone: bool,
    /// The list as it was put into words last: it is the same in every frame until a step is done.
    listed: RefCell<Option<Rc<Listed>>>,
}

/// All lines, measured.
#[derive(Debug)]
struct Listed {
    revision: u64,
    with_hour: bool,
    lines: Vec<Line>,
    /// Columns of the longest.
    widest: usize,
    undone: usize,
    done: usize,
}

/// The way to a line.
#[derive(Clone, Copy, Debug)]
struct Going {
    back: bool,
    gone: usize,
    many: usize,
}

impl Going {
    fn is_there(self) -> bool {
        self.gone >= self.many
    }

    /// Takes back, or does again, at most so many steps; whether each of them could be kept.
    fn on(&mut self, desk: &mut Desk, most: usize) -> bool {
        let most = self.many.min(self.gone + most);
        while self.gone < most {
            if !(if self.back { desk.undo() } else { desk.redo() }) {
                return false;
            }
            self.gone += 1;
        }
        true
    }

    /// Says what was done on the way; `ended` where no further step could be kept, which the desk
    /// has told.
    fn say(self, desk: &mut Desk, ended: bool) {
        let (done, key, way) = match self.back {
            true => ("taken back", Intent::Redo, "does them again"),
            false => ("done again", Intent::Undo, "takes them back"),
        };
        let words = text::count(self.gone as u64, "step", "steps");
        match (self.gone, self.many) {
            (_, 0) => desk.say("This is the present"),
            // What the desk says of it is enough.
            (1, 1) => {}
            (0, _) => {}
            _ if ended => desk.say_before(&format!("{words} {done}.")),
            (gone, many) => {
                let key = desk.key(Context::Binder, key);
                let of = match gone < many {
                    true => format!("Stopped: {gone} of {many} steps"),
                    false => words,
                };
                desk.say(format!("{of} {done}; {key} {way}, one by one"));
            }
        }
    }
}

impl History {
    /// Takes back, or does again, until the chosen line is the present or a step cannot be kept;
    /// what takes longer goes on between the keys.
    fn go(&mut self, desk: &mut Desk) -> Next {
        let steps = std::mem::take(&mut self.chosen);
        // The chosen step stays done: the newest is the present too.
        let many = match steps {
            1.. => steps.unsigned_abs() - 1,
            _ => steps.unsigned_abs(),
        };
        self.going = Some(Going {
            back: steps > 0,
            gone: 0,
            many,
        });
        self.go_on(desk);
        self.hear(desk)
    }

    fn go_on(&mut self, desk: &mut Desk) {
        let Some(mut going) = self.going else {
            return;
        };
        let ended = !going.on(desk, SLICE);
        if ended || going.is_there() {
            going.say(desk, ended);
            self.is_gone = true;
        }
        self.going = Some(going).filter(|_| !self.is_gone);
    }

    /// Lines below the present for so many steps.
    fn below(done: usize) -> usize {
        done + usize::from(done > 0)
    }

    /// As wide as the lines, where there is room for that.
    fn window(desk: &Desk, listed: &Listed) -> Rect {
        let body = desk.body();
        let width = u16::try_from(listed.widest + usize::from(BESIDE)).unwrap_or(u16::MAX);
        let width = width.max(78).min(body.width);
        // With room to wrap the chosen line below; a short list makes a small window.
        let height = u16::try_from(listed.lines.len()).unwrap_or(u16::MAX);
        let height = height.saturating_add(8).min(body.height.saturating_sub(2));
        paint::centred(body, width, height)
    }

    /// The rows of the list, and below them the lines for the chosen one in full, where any of them
    /// is cut.
    fn rooms(window: Rect, listed: &Listed) -> [Rect; 2] {
        let inside = paint::inside(window);
        let room = usize::from(window.width.saturating_sub(BESIDE));
        // Words that are too long for the end of a line leave it open.
        let full = listed.widest.div_ceil(room.max(1)) as u16 + 1;
        let foot = match full {
            ..=2 => 0,
            full => (full + 1).min(inside.height / 2),
        };
        let height = inside.height - foot;
        let rows = Rect { height, ..inside };
        [
            rows,
            Rect {
                y: rows.bottom(),
                height: foot,
                ..inside
            },
        ]
    }

    /// The list as it is, put into words once for each change of it.
    fn listed(&self, desk: &Desk) -> Rc<Listed> {
        let (revision, with_hour) = (desk.session.revision(), desk.body().width >= WITH_HOUR);
        let mut listed = self.listed.borrow_mut();
        let still =
            |listed: &Rc<Listed>| (listed.revision, listed.with_hour) == (revision, with_hour);
        let listed = match listed.take().filter(still) {
            Some(same) => listed.insert(same),
            None => listed.insert(Rc::new(Listed::of(desk, revision, with_hour))),
        };
        Rc::clone(listed)
    }

    /// The lines that are seen.
    fn seen(&self, rows: Rect, listed: &Listed) -> Seen {
        let many = listed.lines.len();
        let chosen = self.chosen.saturating_add_unsigned(listed.undone).max(0) as usize;
        Seen::of(rows, chosen.min(many - 1), many)
    }
}

impl Listed {
    /// All lines, the last undone step first. The hour stands beside the day where there is room.
    fn of(desk: &Desk, revision: u64, with_hour: bool) -> Self {
        let line = |at, told: &PastStep, role| Line {
            at,
            words: text::safe(&line(desk, told, with_hour)).into_owned(),
            role,
        };
        let mut lines = Vec::new();
        let undone: Vec<PastStep> = desk.session.undone().take(MOST).collect();
        for (at, told) in undone.iter().enumerate().rev() {
            let mut line = line(-(at as isize) - 1, told, Role::Quiet);
            // In front, where a long line is not cut.
            line.words.insert_str(0, "(taken back) ");
            lines.push(line);
        }
        lines.push(Line {
            at: 0,
            words: "The present".to_owned(),
            role: Role::Strong,
        });
        let done: Vec<PastStep> = desk.session.done().take(MOST).collect();
        let told = (1isize..).zip(&done);
        lines.extend(told.map(|(at, told)| line(at, told, Role::Text)));
        if !done.is_empty() {
            lines.push(Line {
                at: done.len() as isize + 1,
                words: "Before all of these steps".to_owned(),
                role: Role::Quiet,
            });
        }
        let widest = lines.iter().map(|line| text::columns(&line.words)).max();
        Self {
            revision,
            with_hour,
            widest: widest.unwrap_or(0),
            lines,
            undone: undone.len(),
            done: done.len(),
        }
    }
}

impl Screen for History {
    fn context(&self) -> Context {
        Context::History
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if let Some(going) = self.going {
            if intent == Intent::Leave {
                self.going = None;
                going.say(desk, false);
                return Next::Close;
            }
            return Next::Stay;
        }
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.go(desk),
            _ => {}
        }
        let listed = self.listed(desk);
        let least = -(listed.undone as isize);
        let most = Self::below(listed.done) as isize;
        let [rows, _] = Self::rooms(Self::window(desk, &listed), &listed);
        let room = usize::from(rows.height.saturating_sub(1));
        let at = self.chosen.clamp(least, most) - least;
        let at = intent.stepped(at as usize, room, (most - least) as usize);
        self.chosen = least + at as isize;
        Next::Stay
    }

    fn is_at_work(&self, _: &Desk) -> bool {
        self.going.is_some()
    }

    fn work_on(&mut self, desk: &mut Desk) -> bool {
        self.go_on(desk);
        true
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let Going { back, gone, many } = self.going?;
        let key = desk.key(Context::History, Intent::Leave);
        let words = match back {
            true => "Taking back",
            false => "Doing again",
        };
        Some(format!("{words}: {gone} of {many} steps; {key} stops"))
    }

    fn hear(&mut self, _: &mut Desk) -> Next {
        match self.is_gone {
            true => Next::Close,
            false => Next::Stay,
        }
    }

    /// A click chooses a line, and goes to it where it is chosen already.
    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        if self.going.is_some() {
            return Next::Stay;
        }
        let wheel = match mouse {
            Mouse::WheelUp => Some(Intent::Up),
            Mouse::WheelDown => Some(Intent::Down),
            _ => None,
        };
        if let Some(intent) = wheel {
            for _ in 0..WHEEL {
                self.act(desk, intent);
            }
            return Next::Stay;
        }
        let listed = self.listed(desk);
        let [rows, _] = Self::rooms(Self::window(desk, &listed), &listed);
        let seen = self.seen(rows, &listed);
        let Some(row) = seen.under(at).filter(|_| mouse == Mouse::Left) else {
            return Next::Stay;
        };
        let chosen = row as isize - listed.undone as isize;
        if chosen == self.chosen {
            return self.go(desk);
        }
        self.chosen = chosen;
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (listed, theme) = (self.listed(desk), desk.theme);
        let area = Self::window(desk, &listed);
        let lines = &listed.lines;
        let title = match desk.body().width >= WITH_HOUR && lines.len() > 1 {
            true => " what was done (hours are UTC) ",
            false => " what was done ",
        };
        paint::window(buf, area, title, theme);
        if lines.len() == 1 && area.height > 3 {
            let words =
                "Nothing was done yet. What you do is listed here, and you can go back to it";
            let quiet = theme.style(Role::Quiet);
            let width = area.width.saturating_sub(BESIDE);
            let most = usize::from(area.height - 3);
            let lines = text::wrap(words, width.into(), most, theme.glyphs().more);
            for (y, line) in (area.y + 2..).zip(&lines) {
                paint::line(buf, (area.x + 3, y), width, line, quiet);
            }
        }
        let [rows, foot] = Self::rooms(area, &listed);
        let width = area.width.saturating_sub(BESIDE);
        for (y, at) in self.seen(rows, &listed).rows() {
            let line = &lines[at];
            let here = line.at == self.chosen;
            let role = if here { Role::Selected } else { line.role };
            let sign = if here { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), sign, theme.style(Role::Cursor));
            paint::line(buf, (area.x + 3, y), width, &line.words, theme.style(role));
        }
        let chosen = lines.iter().find(|line| line.at == self.chosen);
        if let Some(line) = chosen.filter(|_| foot.height > 1) {
            let (more, most) = (theme.glyphs().more, usize::from(foot.height - 1));
            let words = text::wrap(&line.words, usize::from(width), most, more);
            for (y, words) in (foot.y + 1..foot.bottom()).zip(&words) {
                paint::line(buf, (area.x + 3, y), width, words, theme.style(Role::Text));
            }
        }
    }
}

/// A line of the list.
#[derive(Debug)]
struct Line {
    /// Lines below the present.
    at: isize,
    words: String,
    role: Role,
}

/// The step with the day on which it was done, and the hour.
fn line(desk: &Desk, told: &PastStep, with_hour: bool) -> String {
    let label = as_sentence(desk.collection(), &told.label);
    let at = told.at.as_deref();
    let day = at.and_then(|at| at.get(..10));
    let hour = at.and_then(|at| at.get(11..16)).filter(|_| with_hour);
    match (day, hour) {
        (Some(day), Some(hour)) => format!("{day} {hour}  {label}"),
        (Some(day), None) => format!("{day}  {label}"),
        (None, _) => label,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::model::{Change, PrintingId, SetId, Step};
    use crate::session::Session;
    use crate::ui::theme::{Colours, Look, Theme};

    #[test]
    fn the_list_is_put_into_words_once_for_each_change() {
        let look = Look {
            colours: Colours::None,
            ascii: false,
        };
        let session = Session::in_memory(demo::collection());
        let mut desk = Desk::new(session, Theme::new(look), Rect::new(0, 0, 120, 40));
        let history = History::default();
        let first = history.listed(&desk);
        assert!(Rc::ptr_eq(&first, &history.listed(&desk)));
        let came = Change::Acquire {
            printing: PrintingId::new(SetId(0), 0, 0),
            count: 1,
        };
        assert!(desk.commit(Step::new("one came", vec![came])));
        let second = history.listed(&desk);
        assert!(!Rc::ptr_eq(&first, &second));
        let words = |listed: &Listed| {
            let lines = listed.lines.iter().map(|line| line.words.clone());
            lines.collect::<Vec<_>>().join("; ")
        };
        assert!(words(&second).contains("One came"), "{}", words(&second));
        assert!(Rc::ptr_eq(&second, &history.listed(&desk)));
        assert!(desk.undo());
        let third = history.listed(&desk);
        assert!(
            words(&third).starts_with("(taken back) "),
            "{}",
            words(&third)
        );
        // Another width: the hour stands there, or does not.
        desk.area.width = 60;
        assert!(!Rc::ptr_eq(&third, &history.listed(&desk)));
        assert_eq!(history.listed(&desk).lines.len(), third.lines.len());
    }
}
