//! A list as a file.

use std::path::Path;

use super::draw::{card_words, name, place_words, rarity};
use super::{Done, List};
use crate::model::Collection;
use crate::report::Listed;
use crate::session::{Form, write_listed};
use crate::text;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::files;
use crate::ui::job::Job;

/// Rows between two looks whether to go on.
const BETWEEN: u64 = 256;

impl List {
    /// A name is proposed.
    pub(super) fn ask_file(&mut self, desk: &mut Desk) {
        if !self.is_told() {
            return;
        }
        if self.shown.is_empty() {
            return desk.say(self.nothing(desk));
        }
        let mut field = Field::default();
        field.insert(&format!("{}.csv", name(self.asked)));
        field.begin_anew();
        self.file = Some(field);
    }

    /// The list as the file without a table would have it.
    pub(super) fn to_copy(&self, desk: &Desk) -> Option<Copied> {
        if self.shown.is_empty() {
            return None;
        }
        let what = text::count(self.shown.len() as u64, "line", "lines");
        let (heading, rows) = (self.heading(), self.shown.iter().copied());
        let lines = plain(desk.collection(), &heading, rows);
        Some(Copied::lines(what, lines))
    }

    /// Writing begins; what comes of it is heard.
    pub(super) fn write(&mut self, desk: &mut Desk) {
        let Some(file) = &mut self.file else {
            return;
        };
        file.begin_anew();
        let path = match desk.outside_path(file.value()) {
            Ok(path) => path,
            Err(why) => return desk.warn(why),
        };
        let is_table = (path.extension()).is_some_and(|end| end.eq_ignore_ascii_case("csv"));
        let folder = desk.session.folder().map(Path::to_owned);
        let (collection, heading) = (desk.collection().clone(), self.heading());
        let shown = self.shown.clone();
        self.job = Some(Job::begin(desk.beside.as_ref(), move |progress| {
            let of = shown.len() as u64;
            let rows = (0..).zip(&shown).map_while(|(done, row)| {
                let goes_on = !u64::is_multiple_of(done, BETWEEN) || progress.tell(done, of);
                goes_on.then_some(*row)
            });
            let written = files::write_beside(progress, (&path, folder.as_deref()), |to| {
                if is_table {
                    write_listed(to, &collection, rows, Form::Guarded)
                } else {
                    (plain(&collection, &heading, rows))
                        .try_for_each(|line| writeln!(to, "{}", text::safe(&line)))
                }
            });
            Done::Written(path, written)
        }));
        self.take(desk);
    }

    pub(super) fn tell(&mut self, desk: &mut Desk, path: &Path, written: Result<(), String>) {
        match written {
            Ok(()) => {
                self.file = None;
                let lines = text::count(self.shown.len() as u64, "line", "lines");
                desk.say(format!("Written: {}, {lines}", path.display()));
            }
            Err(why) => desk.warn(why),
        }
    }
}

/// A line a card, with a box to tick.
fn plain(
    collection: &Collection,
    heading: &str,
    rows: impl Iterator<Item = Listed>,
) -> impl Iterator<Item = String> {
    let lines = rows.map(|row| {
        let rarity = match rarity(collection, &row) {
            "" => String::new(),
            name => format!(" ({name})"),
        };
        let place = place_words(collection, &row);
        format!("[ ] {}{rarity}; {place}", card_words(collection, &row))
    });
    std::iter::once(heading.to_owned()).chain(lines)
}
