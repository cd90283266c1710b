//! A CSV file comes in: its name is typed, what it needs stands below. It is read beside the keys,
//! and nothing changes before all of it is.

mod draw;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::intake::BinderOptions;
use crate::layout;
use crate::model::Refused;
use crate::session::{NotBrought, Ready, What, bring, ready};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::files;
use crate::ui::form::{stepped, turned};
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::{Context, letter};
use crate::ui::paint;

/// Pages to choose from; another one that is usual stands behind them.
const GRIDS: [&str; 5] = ["3x3", "3x4", "2x2", "4x3", "2x1"];

/// What stands before each line, and what may be chosen on it.
const ROWS: [(&str, &[&str]); 4] = [
    ("File", &[]),
    (
        "It is",
        &[
            "a checklist of cards",
            "what I own, in its pockets",
            "what I own, loose",
        ],
    ),
    ("New binders", &GRIDS),
    ("Bad rows", &["nothing comes in", "the good ones come in"]),
];
const IT_IS: usize = 1;
const PAGES: usize = 2;
const BAD: usize = 3;

/// What is written below the form after an attempt.
#[derive(Debug, Default)]
struct Outcome {
    lines: Vec<String>,
    amiss: bool,
    /// Lines above the first one that is seen.
    top: usize,
}

/// What has come of a file: nothing but to be kept.
#[derive(Debug)]
struct Taken {
    told: Vec<String>,
    /// Where something is new: on the collection as it was at that revision.
    ready: Option<(Ready, u64)>,
}

/// The form.
#[derive(Debug)]
pub(crate) struct Import {
    file: Field,
    /// What a new binder is without being asked, but for the page.
    usual: BinderOptions,
    /// The usual page, where it is none of [`GRIDS`].
    other_grid: Option<String>,
    choices: [usize; ROWS.len()],
    focus: usize,
    job: Option<Job<Result<Taken, NotBrought>>>,
    outcome: Outcome,
}

impl Import {
    /// New binders are as a person has set them, as on the command line.
    pub(crate) fn of(desk: &Desk) -> Self {
        let usual = desk.settings.collecting.binder();
        let grid = layout::grid_word(&usual.format);
        let known = GRIDS.iter().position(|known| *known == grid);
        let mut choices = [0; ROWS.len()];
        choices[PAGES] = known.unwrap_or(GRIDS.len());
        Self {
            file: Field::default(),
            usual,
            other_grid: known.is_none().then_some(grid),
            choices,
            focus: 0,
            job: None,
            outcome: Outcome::default(),
        }
    }

    /// What may be chosen on a line.
    fn choices(&self, row: usize) -> impl Iterator<Item = &str> {
        let other = self.other_grid.as_deref().filter(|_| row == PAGES);
        ROWS[row].1.iter().copied().chain(other)
    }

    fn what(&self) -> What {
        match self.choices[IT_IS] {
            0 => {
                let mut new = self.usual;
                let grid = self.choices(PAGES).nth(self.choices[PAGES]);
                if let Some(Ok((rows, columns))) = grid.map(layout::parse_grid) {
                    (new.format.rows, new.format.columns) = (rows, columns);
                }
                What::Checklist(new)
            }
            at => What::Copies { in_place: at == 1 },
        }
    }

    /// Reading begins; what comes of it is heard later.
    fn begin(&mut self, desk: &mut Desk) -> Next {
        self.file.begin_anew();
        let path = match desk.outside_path(self.file.value()) {
            Ok(path) => path,
            Err(_) if self.file.value().trim().is_empty() => {
                self.focus = 0;
                desk.warn("Type the name of the file, such as cards.csv or ~/lists/cards.csv");
                return Next::Stay;
            }
            Err(_) => files::path(self.file.value()),
        };
        let (what, skip) = (self.what(), self.choices[BAD] == 1);
        let (collection, revision) = (desk.collection().clone(), desk.session.revision());
        self.outcome = Outcome::default();
        let job = Job::begin(desk.beside.as_ref(), move |progress| {
            let tell = &mut |done, of| progress.tell(done, of);
            let brought = bring(&collection, &path, what, skip, tell)?;
            let ready = match brought.step.changes.is_empty() {
                true => None,
                false => Some(ready(collection, brought.step).map_err(unfit)?),
            };
            Ok(Taken {
                told: brought.told,
                ready: ready.map(|ready| (ready, revision)),
            })
        });
        self.job = Some(job);
        self.hear(desk)
    }

    fn take(&mut self, desk: &mut Desk, taken: Taken) -> Next {
        if let Some((ready, revision)) = taken.ready
            && !desk.commit_ready(ready, revision)
        {
            return Next::Stay;
        }
        self.file = Field::default();
        self.focus = 0;
        let is_checklist = self.choices[IT_IS] == 0;
        if is_checklist {
            // What follows a checklist is what one has of it.
            self.choices[IT_IS] = 1;
        }
        let leave = desk.key(Context::Import, Intent::Leave);
        let mut lines = taken.told;
        lines.push(match is_checklist {
            true => format!("Now a file of what you own, or {leave} to the shelf."),
            false => format!("Another file, or {leave} to the shelf."),
        });
        // How it is taken back would be typed here, into the name of the next file.
        desk.message = None;
        self.outcome = Outcome {
            lines,
            ..Outcome::default()
        };
        Next::Stay
    }

    fn tell(&mut self, why: NotBrought) {
        let mut lines = Vec::new();
        match why {
            NotBrought::Stopped => lines.push("Stopped: nothing has come in.".into()),
            NotBrought::File(why) => lines.push(why),
            NotBrought::Rows { bad, rows } => {
                let words = text::count(bad, "row is bad", "rows are bad");
                lines.push(format!(
                    "{words}, so nothing has come in. Mend the file, or choose at \u{201c}{}\u{201d} that the \
                     good ones come in:",
                    ROWS[BAD].0
                ));
                lines.extend(rows);
            }
        }
        self.outcome = Outcome {
            lines,
            amiss: true,
            top: 0,
        };
    }

    fn choose(&mut self, by: isize) {
        let many = self.choices(self.focus).count();
        if many > 0 {
            let at = &mut self.choices[self.focus];
            *at = turned(*at, by, many);
            self.outcome = Outcome::default();
        }
    }

    /// The lines that are of use for what is chosen.
    fn rows(&self) -> Vec<usize> {
        let all = 0..ROWS.len();
        all.filter(|row| *row != PAGES || self.choices[IT_IS] == 0)
            .collect()
    }

    fn window(desk: &Desk) -> Rect {
        let body = desk.body();
        paint::centred(body, 78, body.height.min(20))
    }
}

fn unfit(why: Refused) -> NotBrought {
    NotBrought::File(format!("Not taken in: {why}"))
}

impl Screen for Import {
    fn context(&self) -> Context {
        Context::Import
    }

    fn has_field(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Accept => desk.can_write() && self.job.is_none(),
            Intent::PageOn | Intent::PageBack => self.is_longer(desk),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if self.job.is_some() {
            if intent == Intent::Leave {
                self.job = None;
                self.tell(NotBrought::Stopped);
            }
            return Next::Stay;
        }
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.begin(desk),
            Intent::NextField | Intent::PreviousField => {
                self.focus = stepped(&self.rows(), self.focus, intent);
            }
            Intent::PageOn | Intent::PageBack => self.scroll(desk, intent),
            Intent::Left | Intent::Right => {
                let left = intent == Intent::Left;
                if self.focus == 0 {
                    self.file.sideways(left);
                } else {
                    self.choose(if left { -1 } else { 1 });
                }
            }
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        match self.focus {
            _ if self.job.is_some() => {}
            0 => {
                self.file.key(event);
            }
            _ if letter(event) == Some(' ') => self.choose(1),
            _ => {}
        }
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        if self.job.is_none() {
            self.focus = 0;
            self.file.paste(words);
        }
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        let Some(answer) = desk.ended(&mut self.job) else {
            return Next::Stay;
        };
        match answer {
            Ok(Ok(taken)) => return self.take(desk, taken),
            Ok(Err(why)) => self.tell(why),
            Err(_) => self.tell(NotBrought::File("The file could not be taken in".into())),
        }
        Next::Stay
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let job = self.job.as_ref()?;
        Some(job.says(&desk.key(Context::Import, Intent::Leave), "Reading"))
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let under = Self::form(desk).under(&self.rows(), self.focus, at);
        if let Some(row) = under.filter(|_| mouse == Mouse::Left) {
            if row == self.focus {
                self.choose(1);
            }
            self.focus = row;
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
