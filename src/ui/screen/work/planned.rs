//! Planning, beside the loop: what is asked, and what comes of it.

use std::sync::Arc;

use super::end::gone_words;
use super::ways::Ways;
use super::{Next, Screen, Work};
use crate::hand;
use crate::model::{BinderId, Change, Collection};
use crate::plan::{Deed, Way, WorkSheet};
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::job::{Job, Progress};
use crate::ui::keymap::Context;
use crate::ui::spread::to_put_in;

/// Why it is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// The sheet has just been opened.
    Opening,
    /// The collection has changed.
    AsIfNew,
    /// The other ways are wanted too.
    OtherWay,
    /// A deed is left for later.
    Skipped,
    /// One that was comes back.
    Back,
}

/// What is asked.
#[derive(Debug)]
pub(super) struct ToPlan {
    pub(super) what: What,
    pub(super) binder: Option<BinderId>,
    pub(super) way: Way,
    /// The sheet as it is, where that is still true.
    pub(super) sheet: Option<Arc<WorkSheet>>,
    /// Deeds that were left for later.
    pub(super) skipped: Vec<Deed>,
    /// Of the collection that it is planned from.
    pub(super) revision: u64,
}

/// What has come of it.
#[derive(Debug)]
pub(super) struct Planned {
    pub(super) what: What,
    pub(super) revision: u64,
    pub(super) sheet: Arc<WorkSheet>,
    /// Where they were asked for, and differ.
    pub(super) ways: Option<Ways>,
    pub(super) open: Vec<usize>,
    pub(super) elsewhere: usize,
}

/// Plans what is asked. What comes of it is of no use when it was stopped meanwhile.
pub(super) fn planned(collection: &Collection, asked: ToPlan, progress: &Progress) -> Planned {
    let ToPlan { binder, way, .. } = asked;
    let sheet = asked.sheet;
    let sheet = sheet.unwrap_or_else(|| Arc::new(hand::work_sheet(collection, binder, way)));
    let ways = match asked.what {
        What::Opening | What::OtherWay => Ways::of(collection, binder, (way, &sheet), progress),
        What::AsIfNew | What::Skipped | What::Back => None,
    };
    Planned {
        what: asked.what,
        revision: asked.revision,
        open: open(collection, &sheet, &asked.skipped),
        elsewhere: elsewhere(collection, binder),
        sheet,
        ways,
    }
}

/// Loose copies that go into other binders than this one.
fn elsewhere(collection: &Collection, binder: Option<BinderId>) -> usize {
    let others = collection.shelf();
    let others = others.filter(|other| binder.is_some_and(|binder| binder != other.id()));
    others.map(|other| to_put_in(collection, other)).sum()
}

/// The deeds that are open: where one was left for later, those that can be done in their order
/// without it.
fn open(collection: &Collection, sheet: &WorkSheet, skipped: &[Deed]) -> Vec<usize> {
    if skipped.is_empty() {
        return (0..sheet.deeds.len()).collect();
    }
    // Gone through on a copy: what needs the card that is missing is refused there.
    let mut tried = collection.clone();
    let deeds = sheet.deeds.iter().enumerate();
    let deeds = deeds.filter(|(_, deed)| !skipped.contains(deed));
    deeds
        .filter(|(_, deed)| Change::apply_all(&deed.changes, &mut tried).is_ok())
        .map(|(at, _)| at)
        .collect()
}

impl Work {
    /// Planning begins; what comes of it is heard.
    pub(super) fn plan(&mut self, desk: &Desk, what: What) {
        let revision = desk.session.revision();
        let asked = ToPlan {
            what,
            binder: self.binder,
            way: self.way,
            sheet: self.is_true(desk).then(|| Arc::clone(&self.sheet)),
            skipped: self.skipped.clone(),
            revision,
        };
        let collection = desk.collection().clone();
        let job = Job::begin(desk.beside.as_ref(), move |progress| {
            planned(&collection, asked, progress)
        });
        self.job = Some((what, job));
        self.show(desk);
    }

    /// Whether the sheet is that of the collection as it is.
    pub(super) fn is_true(&self, desk: &Desk) -> bool {
        self.planned_at == Some(desk.session.revision())
    }

    fn take(&mut self, desk: &mut Desk, planned: Planned) {
        if planned.revision != desk.session.revision() {
            return self.plan(desk, planned.what);
        }
        self.sheet = planned.sheet;
        self.planned_at = Some(planned.revision);
        self.elsewhere = planned.elsewhere;
        match (planned.what, planned.ways) {
            (What::OtherWay, None) => desk.say("Every way comes to the same here"),
            (What::OtherWay, ways) => self.ways = ways,
            (What::Opening, ways) => {
                self.ways = ways;
                // The way chosen last may not be offered here.
                self.take_marked();
                self.open = (0..self.sheet.deeds.len()).collect();
            }
            (What::AsIfNew | What::Back, _) => self.open = planned.open,
            (What::Skipped, _) => {
                self.open = planned.open;
                let key = desk.key(Context::Work, Intent::Undo);
                desk.say(format!(
                    "Left for later; what can be done without it goes on. {key} brings it back. \
                     {}",
                    gone_words(desk)
                ));
            }
        }
        self.show(desk);
    }

    /// Nothing is planned any more; back to what can be shown, as far as there is anything.
    pub(super) fn stopped(&mut self, desk: &mut Desk, what: What) -> Next {
        self.job = None;
        if !self.is_true(desk) || what == What::Back {
            return Next::Close;
        }
        if what == What::Skipped {
            self.take_back(desk);
        }
        Next::Stay
    }

    /// The sheet is that of the marked way from now on.
    pub(super) fn take_marked(&mut self) {
        if let Some(ways) = &mut self.ways {
            self.way = ways.chosen();
            if let Some(sheet) = ways.take_sheet() {
                self.sheet = Arc::new(sheet);
            }
        }
    }

    pub(super) fn hear_planned(&mut self, desk: &mut Desk) -> Next {
        while let Some((what, job)) = self.job.take() {
            let mut job = Some(job);
            match desk.ended(&mut job) {
                None => {
                    self.job = job.map(|job| (what, job));
                    break;
                }
                Some(Ok(planned)) => self.take(desk, planned),
                Some(Err(_)) => {
                    let next = self.stopped(desk, what);
                    desk.warn("The work could not be planned: a fault of this program");
                    return next;
                }
            }
        }
        Next::Stay
    }

    /// What is planned, for the message line.
    pub(super) fn says_planning(&self, desk: &Desk) -> Option<String> {
        let (what, job) = self.job.as_ref()?;
        let words = match what {
            What::Opening | What::AsIfNew => "Planning",
            What::OtherWay => "Planning the other ways",
            What::Skipped | What::Back => "Looking for what can be done without it",
        };
        Some(job.says(&desk.key(Context::Work, Intent::Leave), words))
    }
}
