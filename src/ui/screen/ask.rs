//! One line to type in: a page number, the name of a draft, the words of a keepsake.

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::{Next, Screen};
use crate::hand::{self, Cannot, Foretold, Ground};
use crate::layout;
use crate::model::{Change, Collection, PageFormat, Place, Step};
use crate::report;
use crate::supplies::Rings;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::screen::drafts::Drafts;
use crate::ui::theme::Role;

/// What is asked for.
#[derive(Clone, Debug)]
pub(crate) enum Question {
    Page,
    NewDraft {
        empty: bool,
    },
    CopyDraft,
    RenameDraft,
    Keepsake(Place),
    Room(Place),
    InsertPage(usize),
    ChangeFormat(usize),
    /// This run, to a page.
    RunToPage(Vec<Place>),
    /// The rings of the binder.
    Rings,
    /// This page, into another binder.
    PageOver(usize),
}

/// The window with the question.
#[derive(Debug)]
pub(crate) struct Ask {
    ground: Ground,
    question: Question,
    field: Field,
}

impl Ask {
    pub(crate) fn page(ground: Ground) -> Self {
        Self::of(ground, Question::Page, "")
    }

    /// With words to begin from.
    pub(crate) fn of(ground: Ground, question: Question, words: &str) -> Self {
        let mut field = Field::default();
        field.insert(words);
        field.begin_anew();
        Self {
            ground,
            question,
            field,
        }
    }

    fn title(&self) -> &'static str {
        match self.question {
            Question::Page => "Go to page",
            Question::NewDraft { .. } => "Name of the draft",
            Question::CopyDraft => "Name of the copy",
            Question::RenameDraft => "New name",
            Question::Keepsake(_) => "What is the keepsake?",
            Question::Room(_) => "Room for how many cards?",
            Question::RunToPage(_) => "To page",
            Question::Rings => "Rings: size in mm and D or round, such as 40 D",
            Question::PageOver(_) => "Into which binder: its title, or the beginning of it",
            Question::InsertPage(_) | Question::ChangeFormat(_) => {
                "Rows x columns: 3x3, or 3x3 1 for one side"
            }
        }
    }

    fn answer(&mut self, desk: &mut Desk) -> Next {
        // A wrong answer can be edited, or a new one typed over it.
        self.field.begin_anew();
        if let Question::Page = self.question {
            return self.go(desk);
        }
        match self.step(desk) {
            Ok(step) => {
                if !desk.commit(step) {
                    return Next::Stay;
                }
                match self.question {
                    Question::NewDraft { .. } | Question::CopyDraft => {
                        let drafts = desk.collection().binder(self.ground.binder);
                        let drafts = drafts.map_or(0, |binder| binder.drafts().len());
                        let ground = Ground {
                            draft: drafts.checked_sub(1),
                            ..self.ground
                        };
                        Next::GoTo(ground, desk.left_at(ground))
                    }
                    Question::RenameDraft => Next::instead(Drafts::of(desk, self.ground)),
                    _ => Next::Close,
                }
            }
            Err(why) => {
                desk.warn(text::sentence(&why));
                Next::Stay
            }
        }
    }

    fn go(&self, desk: &mut Desk) -> Next {
        let pages = self.ground.formats(desk.collection()).len();
        match self.field.value().trim().parse::<usize>() {
            Ok(page) if (1..=pages).contains(&page) => {
                Next::LeafTo(self.ground, self.ground.place(page - 1, 0))
            }
            _ if pages == 0 => {
                desk.warn("There are no pages here");
                Next::Stay
            }
            _ => {
                desk.warn(format!("The binder has pages 1 to {pages}"));
                Next::Stay
            }
        }
    }

    fn step(&self, desk: &Desk) -> Result<Step, String> {
        let (collection, ground, words) = (desk.collection(), self.ground, self.field.value());
        let done: Result<Step, Cannot> = match &self.question {
            Question::Page => return Err("no deed".into()),
            Question::NewDraft { empty } => {
                hand::begin_draft(collection, ground.binder, words, *empty)
            }
            Question::CopyDraft => hand::copy_draft(collection, ground, words),
            Question::RenameDraft => hand::rename_draft(collection, ground, words),
            Question::Keepsake(place) => {
                hand::keepsake(collection, ground, *place, words).map(Step::from)
            }
            Question::Room(place) => {
                return Ok(self.room(collection, *place)?.step);
            }
            Question::InsertPage(at) => {
                hand::insert_page(collection, ground, *at, self.format(collection, *at)?)
                    .map(Step::from)
            }
            Question::ChangeFormat(at) => {
                hand::change_format(collection, ground, *at, self.format(collection, *at)?)
            }
            Question::Rings => {
                let rings = Rings::parse(words).map_err(|error| error.to_string())?;
                hand::set_rings(collection, ground.binder, rings.size, rings.shape)
            }
            Question::RunToPage(run) => {
                return Ok(self.run_to_page(collection, run)?.step);
            }
            Question::PageOver(at) => {
                let other = report::binder_meant(collection, words)?;
                let pages = collection
                    .binder(other)
                    .map_or(0, |binder| binder.pages().len());
                hand::move_pages_over(collection, ground, *at..at + 1, other, pages)
                    .map(|moved| moved.step)
            }
        };
        done.map_err(|why| why.to_string())
    }

    fn room(&self, collection: &Collection, place: Place) -> Result<Foretold, String> {
        let words = self.field.value().trim();
        let pockets = words
            .parse()
            .map_err(|_| "a number of pockets, such as 3")?;
        let put = hand::leave_room(collection, self.ground, place, pockets);
        put.map_err(|why| why.to_string())
    }

    fn run_to_page(&self, collection: &Collection, run: &[Place]) -> Result<Foretold, String> {
        let words = self.field.value().trim();
        let page: usize = words.parse().map_err(|_| "a page, such as 3")?;
        let page = page.checked_sub(1).ok_or("pages count from 1")?;
        let put = hand::to_page(collection, self.ground, run, page);
        put.map_err(|why| why.to_string())
    }

    /// What the answer as it stands would do, or why it cannot be.
    fn beforehand(&self, desk: &Desk) -> Option<Result<String, String>> {
        let collection = desk.collection();
        let put = match &self.question {
            _ if self.field.value().trim().is_empty() => return None,
            Question::Room(place) => self.room(collection, *place),
            Question::RunToPage(run) => self.run_to_page(collection, run),
            _ => return None,
        };
        let key = |intent| desk.key(Context::Drafts, intent);
        let words = put.map(|put| {
            let words = text::sentence(&put.words);
            let carries = |change: &Change| matches!(change, Change::Lift { .. });
            if !put.step.changes.iter().any(carries) {
                return format!("{words}.");
            }
            let (drafts, new) = (
                desk.key(Context::Binder, Intent::Drafts),
                key(Intent::NewDraft),
            );
            format!(
                "{words}. They count as moved at once: do it when you move the cards. To try \
                 it first, {drafts}, then {new} begins a draft."
            )
        });
        Some(words.map_err(|why| text::sentence(&why)))
    }

    /// `3x3` is loaded on both sides, `3x3 1` on one.
    /// Opening and size of the pockets are those of the page at this place.
    fn format(&self, collection: &Collection, at: usize) -> Result<PageFormat, String> {
        let words = self.field.value().trim();
        let (grid, sides) = match words.rsplit_once(' ') {
            Some((grid, "1")) => (grid, 1),
            Some((grid, "2")) => (grid, 2),
            _ => (words, 2),
        };
        let (rows, columns) = layout::parse_grid(grid).map_err(|error| error.to_string())?;
        let formats = self.ground.formats(collection);
        let like = formats.get(at).or(formats.last()).copied();
        let like = like.unwrap_or_else(layout::default_format);
        Ok(PageFormat {
            rows,
            columns,
            sides,
            shared: like.shared && sides == 2,
            ..like
        })
    }
}

impl Screen for Ask {
    fn context(&self) -> Context {
        Context::Prompt
    }

    fn word(&self, intent: Intent) -> &'static str {
        match (intent, &self.question) {
            (Intent::Accept, Question::Page) => "go there",
            (
                Intent::Accept,
                Question::NewDraft { .. } | Question::CopyDraft | Question::RenameDraft,
            ) => "name it so",
            (Intent::Accept, Question::Rings) => "note it",
            _ => intent.word(self.context()),
        }
    }

    fn has_field(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => Next::Close,
            Intent::Accept => self.answer(desk),
            _ => Next::Stay,
        }
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        self.field.key(event);
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        self.field.paste(words);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let theme = desk.theme;
        let body = desk.body();
        let room = body.width.min(60).saturating_sub(4);
        let (told, role) = match self.beforehand(desk) {
            Some(Ok(words)) => (words, Role::Text),
            Some(Err(why)) => (why, Role::Waiting),
            None => (String::new(), Role::Text),
        };
        let most = usize::from(body.height.saturating_sub(4).min(6));
        let more = theme.glyphs().more;
        let told = text::wrap(&text::safe(&told), usize::from(room), most, more);
        let area = paint::centred(body, 60, 4 + told.len() as u16);
        paint::window(buf, area, "", theme);
        let at = (area.x + 2, area.y + 1);
        paint::line(buf, at, room, self.title(), theme.style(Role::Quiet));
        self.field.draw((at.0, at.1 + 1), room, true, theme, buf);
        for (y, line) in (at.1 + 2..).zip(&told) {
            paint::line(buf, (at.0, y), room, line, theme.style(role));
        }
    }
}
