//! Reading the lists of the other collector, beside the keys.

use std::path::PathBuf;

use super::sheet::{passed_lines, sheet};
use super::{Sheet, Swap};
use crate::hand;
use crate::report::{self, Stock};
use crate::session::their_file;
use crate::ui::desk::Desk;
use crate::ui::files;
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::Context;

/// What has come of the files; else which of them is amiss, and how.
pub(super) type Came = Result<Lists, (usize, String)>;

#[derive(Debug)]
pub(super) enum Lists {
    /// The first is as it should be; the second is still to be asked for.
    First,
    /// Both, as far as they were named, and which rows were passed over; of the collection of this
    /// revision.
    Both(Box<Sheet>, Option<String>, u64),
}

impl Swap {
    /// Reads both lists; one of them may be left open. What is amiss with the first file is told
    /// while one is at it.
    pub(super) fn read(&mut self, desk: &mut Desk) {
        let typed = |at: usize| self.fields[at].value().trim();
        let paths: [Option<PathBuf>; 2] =
            [0, 1].map(|at| (!typed(at).is_empty()).then(|| files::path(typed(at))));
        let alone = self.focus == 0 && paths[1].is_none();
        if !alone && paths.iter().all(Option::is_none) {
            self.focus = 0;
            return desk.warn("Name a file: CSV with the columns set and number");
        }
        let (keep, by_rarity) = (self.keep, self.by_rarity);
        let (collection, revision) = (desk.collection().clone(), desk.session.revision());
        self.job = Some(Job::begin(desk.beside.as_ref(), move |progress| {
            let mut stocks = [Stock::new(), Stock::new()];
            let mut passed = Vec::new();
            for (at, (path, stock)) in paths.iter().zip(&mut stocks).enumerate() {
                let Some(path) = path else {
                    continue;
                };
                let tell = &mut |done, of| progress.tell(done, of);
                let mut list = their_file(&collection, path, tell).map_err(|why| (at, why))?;
                *stock = std::mem::take(&mut list.stock);
                passed.push((["their wants", "their spares"][at], list));
            }
            if alone {
                return Ok(Lists::First);
            }
            let [wants, spares] = stocks;
            let told = hand::by_pages(&collection, None);
            let (passed, passed_over) = passed_lines(&passed);
            let swap = report::swap(&told, &wants, &spares, keep, by_rarity);
            let sheet = Sheet {
                lines: sheet(&collection, &swap),
                wants,
                spares,
                swap,
                at: 0,
                passed,
            };
            Ok(Lists::Both(
                Box::new(sheet.with_end()),
                passed_over,
                revision,
            ))
        }));
        self.take(desk);
    }

    /// Takes what was read, if it has been.
    pub(super) fn take(&mut self, desk: &mut Desk) {
        match desk.ended(&mut self.job) {
            None => {}
            Some(Err(_)) => desk.warn("The files could not be read: a fault of this program"),
            Some(Ok(Err((at, why)))) => {
                self.focus = at;
                desk.warn(why);
            }
            Some(Ok(Ok(Lists::First))) => {
                self.focus = 1;
                let key = desk.key(Context::SwapFiles, Intent::Accept);
                desk.say(format!(
                    "And what they have to spare? {key} goes on without"
                ));
            }
            Some(Ok(Ok(Lists::Both(sheet, passed_over, revision)))) => {
                if let Some(rows) = passed_over {
                    desk.say(format!("{rows}, and passed over: see the end"));
                }
                self.sheet = Some(*sheet);
                if revision != desk.session.revision() {
                    self.work_out(desk);
                }
            }
        }
    }
}
