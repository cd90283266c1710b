//! A session by script: changes, taking back, an import, new snapshots, opening again. What it told
//! as kept is known at every moment, whatever happens to the disk under it.

use std::path::Path;
use std::rc::Rc;

use crate::support::files::InMemory;

use ringbound::model::{
    BinderKind, BinderSpec, Card, Change, Finish, PageFormat, PageId, PrintingId, SetHead, Step,
};
use ringbound::session::{Access, Notice, Open, Session, SessionError, StoreError};
use ringbound::store::files::Files;

use super::kept::clock;
use super::world::{FIRST, MOSS, TIN, acquire, at, moss, state, steps};

#[derive(Clone, Debug)]
pub(crate) enum Act {
    Commit(Step),
    Undo,
    Redo,
    /// A new snapshot.
    Rewrite,
    /// Let go and opened again, with a new snapshot where one is due.
    Close,
}

/// Where the scripts keep their collection.
pub(crate) const FOLDER: &str = "/home/shelf";

/// Many cards of one file, as one step.
fn import() -> Step {
    let cards = [(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (3, 0)];
    let mut changes: Vec<_> = cards
        .iter()
        .map(|(card, finish)| Change::Acquire {
            printing: moss(*card, *finish),
            count: 2,
        })
        .collect();
    let printing = PrintingId::new(TIN, 0, 0);
    changes.push(Change::Acquire { printing, count: 1 });
    Step::new("13 copies came in from copies.csv", changes)
}

/// The least collection that has something of everything: a set of two cards, a binder of one page
/// with one pocket, and a card in it.
fn small() -> Vec<Step> {
    let head = SetHead {
        code: "A".into(),
        ..SetHead::default()
    };
    let card = |number: &str| Card {
        number: number.into(),
        name: "".into(),
        rarity: None,
        size: None,
        finishes: 1,
    };
    let set = vec![
        Change::AddSet {
            set: MOSS,
            at: usize::from(MOSS.0),
            head: Box::new(head),
        },
        Change::AddFinish {
            set: MOSS,
            finish: Box::new(Finish {
                name: "f".into(),
                mark: "".into(),
            }),
        },
        Change::AddCards {
            set: MOSS,
            first: 0,
            cards: vec![card("1"), card("2")],
        },
    ];
    let spec = BinderSpec {
        name: "a".into(),
        title: "".into(),
        set: Some(MOSS),
        kind: BinderKind::Fixed,
        front_matter: Vec::new(),
    };
    let binder = vec![
        Change::AddBinder {
            binder: FIRST,
            at: 0,
            spec: Box::new(spec),
        },
        Change::AddPage {
            binder: FIRST,
            at: 0,
            page: PageId(1),
            format: PageFormat::new(1, 1, 1),
        },
    ];
    let card = vec![
        Change::Acquire {
            printing: moss(0, 0),
            count: 1,
        },
        Change::Seat {
            place: at(0, 0),
            page: PageId(1),
            printing: moss(0, 0),
        },
    ];
    vec![
        Step::new("set", set),
        Step::new("binder", binder),
        Step::new("card", card),
    ]
}

/// As [`session`], with the least collection: for what is looked at a hundred thousand times.
pub(crate) fn small_session() -> Vec<Act> {
    let import = [0, 1].map(|card| Change::Acquire {
        printing: moss(card, 0),
        count: 2,
    });
    let one = |card| Act::Commit(acquire(moss(card, 0), 1));
    let mut acts: Vec<_> = small().into_iter().map(Act::Commit).collect();
    acts.extend([
        Act::Undo,
        Act::Rewrite,
        Act::Redo,
        Act::Close,
        Act::Commit(Step::new("import", import.to_vec())),
        Act::Rewrite,
        one(1),
        Act::Undo,
        Act::Close,
        one(0),
    ]);
    acts
}

/// All that a session does with its files.
pub(crate) fn session() -> Vec<Act> {
    let mut acts: Vec<_> = steps().into_iter().map(Act::Commit).collect();
    acts.extend([
        Act::Undo,
        Act::Redo,
        Act::Rewrite,
        Act::Commit(acquire(moss(1, 0), 1)),
        Act::Close,
        Act::Commit(import()),
        Act::Undo,
        Act::Undo,
        Act::Redo,
        Act::Rewrite,
        Act::Commit(acquire(moss(0, 0), 2)),
        Act::Rewrite,
        Act::Undo,
        Act::Close,
        Act::Commit(acquire(moss(2, 0), 1)),
    ]);
    acts
}

/// Many small steps, with new snapshots among them.
pub(crate) fn long_session(steps_kept: usize) -> Vec<Act> {
    let mut acts = session();
    for number in 0..steps_kept {
        acts.push(match number % 9 {
            3 => Act::Undo,
            4 => Act::Redo,
            8 if number % 2 == 0 => Act::Rewrite,
            _ => Act::Commit(acquire(moss(number as u32 % 3, 0), 1)),
        });
    }
    acts
}

pub(crate) fn on(files: &Rc<dyn Files>, folder: &Path) -> Result<Session, StoreError> {
    opened(files, folder).map(|(session, _)| session)
}

pub(crate) fn opened(
    files: &Rc<dyn Files>,
    folder: &Path,
) -> Result<(Session, Vec<Notice>), StoreError> {
    Session::open_on(files.clone(), folder, Open::ForWriting, clock())
}

/// How far a script came.
#[derive(Debug)]
pub(crate) struct Came {
    /// Entries that were told as kept.
    pub(crate) kept: usize,
    /// The session as it stood in the end; `None` when it could not be opened.
    pub(crate) session: Option<Session>,
    /// Why it ended before its end.
    pub(crate) failed: Option<String>,
}

/// Plays a script in a folder until something cannot be kept. `kept` is called with the number of
/// entries that were kept so far, whenever one more was.
pub(crate) fn play(
    acts: &[Act],
    files: &Rc<dyn Files>,
    folder: &Path,
    mut kept: impl FnMut(usize, &Session),
) -> Came {
    let mut came = Came {
        kept: 0,
        session: None,
        failed: None,
    };
    let mut session = match on(files, folder) {
        Ok(session) => session,
        Err(error) => {
            came.failed = Some(error.to_string());
            return came;
        }
    };
    for act in acts {
        let done: Result<bool, SessionError> = match act {
            Act::Commit(step) => session.commit(step.clone()).map(|()| true),
            Act::Undo => session.undo().map(|told| told.is_some()),
            Act::Redo => session.redo().map(|told| told.is_some()),
            // A snapshot that is not written loses nothing and keeps nothing.
            Act::Rewrite => {
                session.rewrite().ok();
                Ok(false)
            }
            Act::Close => {
                session.close().ok();
                session = match on(files, folder) {
                    Ok(session) => session,
                    Err(error) => {
                        came.failed = Some(error.to_string());
                        return came;
                    }
                };
                Ok(false)
            }
        };
        match done {
            Ok(true) => {
                came.kept += 1;
                kept(came.kept, &session);
            }
            Ok(false) => {}
            Err(error) => {
                came.failed = Some(error.to_string());
                break;
            }
        }
    }
    came.session = Some(session);
    came
}

/// The state after each entry of a script, the first before any.
pub(crate) fn states(acts: &[Act]) -> Vec<String> {
    let files: Rc<dyn Files> = Rc::new(InMemory::default());
    let mut states = vec![state(&ringbound::model::Collection::new())];
    let came = play(acts, &files, Path::new(FOLDER), |_, session| {
        states.push(state(session.collection()));
    });
    assert_eq!(came.failed, None);
    states
}

/// What must hold for whatever a disk holds after `kept` entries were told as kept: it opens for
/// writing without damage, to these entries and at most the one that was under way. Gives how many
/// there are.
pub(crate) fn recovered(
    files: &Rc<dyn Files>,
    folder: &Path,
    states: &[String],
    kept: usize,
) -> Result<(usize, Session), String> {
    let (session, notices) =
        opened(files, folder).map_err(|error| format!("it cannot be opened: {error}"))?;
    if let Some(damage) = notices.iter().find(|notice| notice.is_damage()) {
        return Err(format!("damage: {damage}"));
    }
    if session.access() != Access::Writable {
        return Err(format!("it cannot be written: {:?}", session.access()));
    }
    let now = state(session.collection());
    for (number, state) in states.iter().enumerate().skip(kept).take(2) {
        if *state == now {
            return Ok((number, session));
        }
    }
    let other = states.iter().position(|state| *state == now);
    Err(match other {
        Some(other) => format!("{kept} entries were kept, {other} are there"),
        None => format!("{kept} entries were kept, and it is no prefix of them"),
    })
}
