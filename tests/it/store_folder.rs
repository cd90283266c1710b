//! A collection's folder: what is in it, who may write, and what is done with damaged files.

use std::fs;
use std::path::Path;

use ringbound::model::Step;
use ringbound::session::{Access, Notice, Open, Session, StoreError};

use crate::support::kept::{Folder, Place, clock};
use crate::support::mutate::{of_later_version, sealed_snapshot};
use crate::support::world::{acquire, collection, moss, state, steps};

fn filled() -> Folder {
    let folder = Folder::default();
    let mut session = folder.open();
    for step in steps() {
        session.commit(step).unwrap();
    }
    folder
}

/// With a snapshot that holds the steps, and one more step in the journal.
fn rewritten() -> Folder {
    let folder = filled();
    let mut session = folder.open();
    session.rewrite().unwrap();
    session.commit(acquire(moss(1, 0), 1)).unwrap();
    folder
}

fn is_read_only(session: &Session) -> bool {
    matches!(session.access(), Access::ReadOnly(_))
}

fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        if entry.file_type().unwrap().is_dir() {
            found.extend(files(&entry.path()));
        } else {
            let name = entry.path().display().to_string();
            found.push((name, fs::read(entry.path()).unwrap()));
        }
    }
    found.sort();
    found
}

#[test]
fn reading_a_folder_that_is_not_there_makes_nothing() {
    let folder = Folder::default();
    let (mut session, notices) = folder.open_as(Open::ForReading);
    assert_eq!(notices, []);
    assert_eq!(session.collection().sets().len(), 0);
    assert!(is_read_only(&session));
    assert!(session.commit(steps().remove(0)).is_err());
    assert!(!folder.path().exists());
}

#[test]
fn a_new_folder_holds_a_snapshot_a_journal_and_a_lock() {
    let folder = Folder::default();
    drop(folder.open());
    let names: Vec<_> = fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    for name in ["collection.json", "journal", "lock"] {
        assert!(names.iter().any(|found| found == name), "{names:?}");
    }
    assert_eq!(names.len(), 3, "{names:?}");
}

#[cfg(unix)]
#[test]
fn files_and_folders_are_for_their_owner_only() {
    use std::os::unix::fs::PermissionsExt;
    let folder = rewritten();
    folder.open().rewrite().unwrap();
    fs::write(folder.file("journal"), folder.read("journal") + "torn").unwrap();
    drop(folder.open_as(Open::ForWriting));
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    for name in ["", "older", "set-aside"] {
        assert_eq!(mode(&folder.file(name)), 0o700, "{name}");
    }
    for (name, _) in files(&folder.path()) {
        assert_eq!(mode(Path::new(&name)), 0o600, "{name}");
    }
}

#[test]
fn who_comes_second_reads_and_is_told_why() {
    let folder = filled();
    let mut first = folder.open();
    let (mut second, notices) = folder.open_as(Open::ForWriting);
    assert!(
        matches!(&notices[..], [Notice::ReadOnly { .. }]),
        "{notices:?}"
    );
    let Access::ReadOnly(why) = second.access() else {
        panic!("two write");
    };
    assert!(why.contains("another program"), "{why}");
    assert!(second.commit(acquire(moss(0, 0), 1)).is_err());
    assert!(second.undo().is_err());
    assert_eq!(state(second.collection()), state(first.collection()));
    first.commit(acquire(moss(0, 0), 1)).unwrap();
    drop(first);
    drop(folder.open());
}

#[test]
fn reading_needs_no_lock_and_alters_nothing() {
    let folder = rewritten();
    let before = files(&folder.path());
    let writer = folder.open();
    let (reader, notices) = folder.open_as(Open::ForReading);
    assert_eq!(notices, []);
    assert_eq!(state(reader.collection()), state(writer.collection()));
    reader.close().unwrap();
    assert_eq!(files(&folder.path()), before);
}

#[test]
fn a_lock_that_cannot_be_had_means_reading() {
    let folder = filled();
    fs::remove_file(folder.file("lock")).unwrap();
    fs::create_dir(folder.file("lock")).unwrap();
    let (session, notices) = folder.open_as(Open::ForWriting);
    let Access::ReadOnly(why) = session.access() else {
        panic!("writes without a lock");
    };
    assert!(why.contains("lock"), "{why}");
    assert!(matches!(&notices[..], [Notice::ReadOnly { .. }]));
    assert_eq!(state(session.collection()), state(&collection()));
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_is_read() {
    use std::os::unix::fs::PermissionsExt;
    let folder = filled();
    fs::remove_file(folder.file("lock")).unwrap();
    let set = |mode| fs::set_permissions(folder.path(), fs::Permissions::from_mode(mode)).unwrap();
    set(0o500);
    // Modes do not bind the superuser, for whom the folder can be written.
    let binds = fs::write(folder.file("probe"), "").is_err();
    let (session, _) = folder.open_as(Open::ForWriting);
    assert_eq!(is_read_only(&session), binds);
    assert_eq!(state(session.collection()), state(&collection()));
    set(0o700);
}

#[test]
fn a_torn_end_is_set_aside_and_told_once() {
    let folder = filled();
    let journal = folder.read("journal");
    let kept = journal.trim_end().rfind('\n').unwrap() + 1;
    let torn = &journal[..journal.len() - 20];
    folder.write("journal", torn);
    let (reader, notices) = folder.open_as(Open::ForReading);
    assert!(
        matches!(notices[..], [Notice::TornTail { aside: None, .. }]),
        "{notices:?}"
    );
    assert_eq!(folder.read("journal"), torn);
    let (session, notices) = folder.open_as(Open::ForWriting);
    let [
        Notice::TornTail {
            line: 4,
            bytes,
            aside: Some(aside),
        },
    ] = &notices[..]
    else {
        panic!("{notices:?}");
    };
    assert_eq!(*bytes, torn.len() - kept);
    assert_eq!(fs::read_to_string(aside).unwrap(), torn[kept..]);
    assert_eq!(folder.read("journal"), journal[..kept]);
    assert_eq!(state(session.collection()), state(reader.collection()));
    assert_eq!(session.access(), Access::Writable);
    drop(session);
    let mut session = folder.open();
    session.commit(steps().remove(2)).unwrap();
    drop(session);
    assert_eq!(state(folder.open().collection()), state(&collection()));
}

/// What a reader sees of a write that is under way: POSIX.1-2017, write(): data may be read as
/// soon as it is written, and a write may be of fewer bytes than were asked for.
#[test]
fn a_line_that_another_program_is_writing_is_not_called_torn() {
    let folder = filled();
    let journal = folder.read("journal");
    let writer = folder.open();
    folder.write("journal", &journal[..journal.len() - 20]);
    for how in [Open::ForReading, Open::ForWriting] {
        let (reader, notices) = folder.open_as(how);
        let torn = |notice: &Notice| matches!(notice, Notice::TornTail { .. });
        assert!(!notices.iter().any(torn), "{notices:?}");
        assert_eq!(reader.done().count(), 2, "the step is not kept yet");
    }
    drop(writer);
    let (_, notices) = folder.open_as(Open::ForReading);
    assert!(
        matches!(notices[..], [Notice::TornTail { .. }]),
        "{notices:?}"
    );
}

#[test]
fn a_last_line_without_its_end_is_kept_and_gets_it() {
    let folder = filled();
    folder.write("journal", folder.read("journal").trim_end());
    let mut session = folder.open();
    session.commit(acquire(moss(1, 0), 1)).unwrap();
    drop(session);
    assert_eq!(folder.open().done().count(), 4);
}

#[test]
fn a_damaged_journal_is_read_up_to_the_damage_and_not_touched() {
    let folder = filled();
    let damaged = folder.read("journal").replacen("a binder", "a binger", 1);
    folder.write("journal", &damaged);
    let before = files(&folder.path());
    let (session, notices) = folder.open_as(Open::ForWriting);
    assert!(
        matches!(notices[..], [Notice::JournalDamaged { line: 3, .. }]),
        "{notices:?}"
    );
    assert!(notices[0].is_damage() && notices[0].to_string().contains("line 3"));
    assert!(is_read_only(&session));
    assert_eq!(session.done().count(), 1);
    session.close().unwrap();
    assert_eq!(files(&folder.path()), before);
    // The way out: what is offered becomes the collection, what was there is put aside.
    let (mut session, notices) = folder.open_as(Open::AsOffered);
    let [
        Notice::JournalDamaged { .. },
        Notice::TakenAsOffered { aside },
    ] = &notices[..]
    else {
        panic!("{notices:?}");
    };
    assert!(
        aside
            .iter()
            .any(|path| fs::read_to_string(path).unwrap() == damaged)
    );
    assert_eq!(session.access(), Access::Writable);
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    let now = state(session.collection());
    drop(session);
    let mut session = folder.open();
    assert_eq!(state(session.collection()), now);
    session.undo().unwrap().unwrap();
    assert_eq!(session.undo().unwrap().unwrap().label, "two sets");
}

#[test]
fn a_hand_edit_is_never_taken_silently() {
    let folder = rewritten();
    let edited = folder
        .read("collection.json")
        .replace("\"MIR:1\",1]", "\"MIR:1\",5]");
    folder.write("collection.json", &edited);
    let (session, notices) = folder.open_as(Open::ForWriting);
    assert_eq!(notices, [Notice::SnapshotAltered]);
    assert!(is_read_only(&session));
    assert_eq!(session.collection().tally(moss(0, 0)).loose, 5);
    assert_eq!(folder.read("collection.json"), edited);
    drop(session);
    let (session, notices) = folder.open_as(Open::AsOffered);
    assert!(
        matches!(notices[..], [_, Notice::TakenAsOffered { .. }]),
        "{notices:?}"
    );
    assert_eq!(session.collection().tally(moss(0, 0)).loose, 5);
    // The step in the journal was part of what was offered.
    assert_eq!(session.collection().tally(moss(1, 0)).loose, 1);
    let now = state(session.collection());
    drop(session);
    assert_eq!(state(folder.open().collection()), now);
}

/// What this version can read of it is shown, and no byte is changed, whatever is asked for.
#[test]
fn a_file_of_a_later_version_is_opened_for_reading_and_left_as_it_is() {
    for name in ["collection.json", "journal"] {
        let folder = rewritten();
        let mut session = folder.open();
        session.commit(acquire(moss(1, 0), 1)).unwrap();
        session.rewrite().unwrap();
        drop(session);
        let later = folder
            .read(name)
            .replacen("\"version\":1", "\"version\":2", 1);
        folder.write(name, later);
        let before = files(&folder.path());
        let shown = match name {
            "journal" => "collection.json",
            _ => "older/collection-3.json",
        };
        for how in [
            Open::ForReading,
            Open::ForWriting,
            Open::AsOffered,
            Open::PutBack,
            Open::Older(3),
        ] {
            let (session, notices) = folder.open_as(how);
            let [notice @ Notice::Later { version: 2, .. }] = &notices[..] else {
                panic!("{notices:?}");
            };
            let told = notice.to_string();
            assert!(told.contains(name) && told.contains(shown), "{told}");
            assert!(is_read_only(&session));
            assert_eq!(session.collection().sets().len(), 2);
            session.close().unwrap();
        }
        assert_eq!(files(&folder.path()), before);
    }
}

#[test]
fn a_snapshot_of_a_later_version_with_none_of_this_one_beside_it_is_left_as_it_is() {
    for name in ["collection.json"] {
        let folder = rewritten();
        let later = folder
            .read(name)
            .replacen("\"version\":1", "\"version\":2", 1);
        folder.write(name, later);
        let before = files(&folder.path());
        for how in [Open::ForReading, Open::ForWriting, Open::AsOffered] {
            let opened = Session::open(&folder.path(), how, clock());
            let Err(error @ StoreError::Later { version: 2, .. }) = opened else {
                panic!("{opened:?}");
            };
            assert!(error.to_string().contains(name), "{error}");
        }
        assert_eq!(files(&folder.path()), before);
    }
}

const EVERY_WAY: [Open; 5] = [
    Open::ForReading,
    Open::ForWriting,
    Open::AsOffered,
    Open::PutBack,
    Open::Older(3),
];

/// Names that this version does not know are passed over, and what is told says so.
#[test]
fn a_snapshot_of_a_later_version_is_shown_as_far_as_this_one_understands_it() {
    let folder = rewritten();
    let whole = state(folder.open().collection());
    let later = of_later_version(&folder.read("collection.json"));
    assert!(later.matches("\"worn\"").count() > 10);
    folder.write("collection.json", later);
    let before = files(&folder.path());
    for how in EVERY_WAY {
        let (mut session, notices) = folder.open_as(how);
        let [
            notice @ Notice::Later {
                version: 2,
                shown: None,
                ..
            },
        ] = &notices[..]
        else {
            panic!("{notices:?}");
        };
        assert!(notice.to_string().contains("some things may be missing"));
        // With the step since, which the journal has.
        assert_eq!(state(session.collection()), whole);
        assert!(is_read_only(&session));
        assert!(session.commit(acquire(moss(0, 0), 1)).is_err());
        assert!(session.rewrite().is_err());
        session.close().unwrap();
    }
    assert_eq!(files(&folder.path()), before);
}

#[test]
fn where_snapshot_and_journal_are_of_a_later_version_the_snapshot_is_shown() {
    let folder = rewritten();
    let shown = {
        let session = folder.open();
        let mut undone = session;
        undone.undo().unwrap();
        state(undone.collection())
    };
    for (name, later) in [
        (
            "collection.json",
            of_later_version(&folder.read("collection.json")),
        ),
        (
            "journal",
            folder
                .read("journal")
                .replacen("\"version\":1", "\"version\":7", 1),
        ),
    ] {
        folder.write(name, later);
    }
    let before = files(&folder.path());
    for how in EVERY_WAY {
        let (session, notices) = folder.open_as(how);
        assert!(
            matches!(
                notices[..],
                [
                    Notice::Later {
                        version: 2,
                        shown: None,
                        ..
                    },
                    Notice::Later {
                        version: 7,
                        shown: Some(_),
                        ..
                    }
                ]
            ),
            "{notices:?}"
        );
        assert_eq!(state(session.collection()), shown);
        assert!(is_read_only(&session));
    }
    assert_eq!(files(&folder.path()), before);
}

/// A known name with something else behind it, or bytes that are not as they were written: nothing
/// is guessed at, and an older snapshot is shown, or nothing.
#[test]
fn a_snapshot_of_a_later_version_that_is_not_understood_is_not_guessed_at() {
    for is_older_kept in [true, false] {
        let folder = rewritten();
        if is_older_kept {
            let mut session = folder.open();
            session.commit(acquire(moss(1, 0), 1)).unwrap();
            session.rewrite().unwrap();
        }
        let later = of_later_version(&folder.read("collection.json"));
        let otherwise = later.replacen("\"rows\":2", "\"rows\":\"2 or 3\"", 1);
        assert_ne!(otherwise, later);
        for bytes in [
            sealed_snapshot(&otherwise),
            later.replacen("Moss", "Mass", 1),
        ] {
            folder.write("collection.json", &bytes);
            let before = files(&folder.path());
            for how in EVERY_WAY {
                let opened = Session::open(&folder.path(), how, clock());
                match opened {
                    Ok((session, notices)) => {
                        let [
                            Notice::Later {
                                shown: Some(shown), ..
                            },
                        ] = &notices[..]
                        else {
                            panic!("{notices:?}");
                        };
                        assert!(is_older_kept && shown.ends_with("older/collection-3.json"));
                        assert!(is_read_only(&session));
                    }
                    Err(StoreError::Later { version: 2, .. }) => assert!(!is_older_kept),
                    Err(other) => panic!("{other}"),
                }
            }
            assert_eq!(files(&folder.path()), before);
        }
    }
}

#[test]
fn a_snapshot_that_cannot_be_read_is_told_and_an_older_one_is_offered() {
    let folder = rewritten();
    let mut session = folder.open();
    session.rewrite().unwrap();
    drop(session);
    folder.write("collection.json", "{\"format\":");
    folder.write(
        "journal",
        folder.read("journal").replacen("two sets", "tvo sets", 1),
    );
    let before = files(&folder.path());
    let (session, notices) = folder.open_as(Open::ForWriting);
    let [Notice::OlderOffered { older, what, .. }] = &notices[..] else {
        panic!("{notices:?}");
    };
    assert!(older.ends_with("older/collection-3.json"), "{older:?}");
    assert!(what.contains("line 1, column"), "{what}");
    assert!(is_read_only(&session));
    assert_eq!(state(session.collection()), state(&collection()));
    drop(session);
    assert_eq!(files(&folder.path()), before);
    fs::remove_dir_all(folder.file("older")).unwrap();
    let opened = Session::open(&folder.path(), Open::ForWriting, clock());
    let Err(error @ StoreError::Unreadable { line: 1, .. }) = opened else {
        panic!("{opened:?}");
    };
    assert!(error.to_string().contains("collection.json"), "{error}");
}

/// "Nothing is lost that stands in any file": the steps alone tell the collection, whether they
/// are the records of a first journal or were carried over into a later one.
#[test]
fn where_the_steps_reach_back_to_the_beginning_a_lost_snapshot_is_made_again_from_them() {
    for (folder, lost) in [(filled(), false), (rewritten(), false), (rewritten(), true)] {
        let now = state(folder.open().collection());
        fs::remove_dir_all(folder.file("older")).ok();
        match lost {
            true => fs::remove_file(folder.file("collection.json")).unwrap(),
            false => folder.write("collection.json", "x"),
        }
        let before = files(&folder.path());
        let (session, notices) = folder.open_as(Open::ForWriting);
        assert!(
            matches!(&notices[..], [notice @ Notice::JournalOffered { .. }] if notice.is_damage()),
            "{notices:?}"
        );
        assert!(is_read_only(&session));
        assert_eq!(state(session.collection()), now);
        session.close().unwrap();
        assert_eq!(files(&folder.path()), before);
        let (mut session, _) = folder.open_as(Open::AsOffered);
        session.commit(acquire(moss(0, 0), 1)).unwrap();
        let now = state(session.collection());
        drop(session);
        let mut session = folder.open();
        assert_eq!(state(session.collection()), now);
        while session.undo().unwrap().is_some() {}
        assert_eq!(session.collection().sets().len(), 0);
    }
}

#[test]
fn a_torn_journal_without_its_snapshot_is_read_up_to_its_torn_end() {
    let folder = filled();
    let journal = folder.read("journal");
    folder.write("journal", &journal[..journal.len() - 20]);
    folder.write("collection.json", "x");
    let (session, notices) = folder.open_as(Open::AsOffered);
    assert!(
        matches!(
            notices[..],
            [
                Notice::JournalOffered { .. },
                Notice::TornTail { .. },
                Notice::TakenAsOffered { .. }
            ]
        ),
        "{notices:?}"
    );
    assert_eq!(session.done().count(), 2);
}

/// A collection that was altered by hand is more than its steps tell.
#[test]
fn steps_that_do_not_tell_all_are_not_offered_for_a_lost_snapshot() {
    let folder = rewritten();
    let edited = folder
        .read("collection.json")
        .replace("\"MIR:1\",1]", "\"MIR:1\",5]");
    folder.write("collection.json", &edited);
    let (mut session, _) = folder.open_as(Open::AsOffered);
    session.rewrite().unwrap();
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    drop(session);
    folder.write("collection.json", "x");
    fs::remove_dir_all(folder.file("older")).ok();
    let opened = Session::open(&folder.path(), Open::ForWriting, clock());
    assert!(
        matches!(opened, Err(StoreError::Unreadable { .. })),
        "{opened:?}"
    );
}

/// A new snapshot that was written so many hours after the beginning of time.
fn rewrite_at(folder: &Folder, session: &mut Session, hour: u64) {
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    session.rewrite().unwrap();
    let file = fs::File::options()
        .write(true)
        .open(folder.file("collection.json"));
    let time = std::time::UNIX_EPOCH + std::time::Duration::from_secs(hour * 60 * 60);
    file.unwrap().set_modified(time).unwrap();
}

#[test]
fn an_older_snapshot_that_cannot_be_removed_is_told_and_the_new_one_stands() {
    let folder = filled();
    // A folder is not removed as a file is; the name is that of the oldest of all.
    fs::create_dir_all(folder.file("older/collection-0.json")).unwrap();
    let mut session = folder.open();
    for hour in (1..).map(|day| 24 * day).take(8) {
        rewrite_at(&folder, &mut session, hour);
    }
    let snapshot = folder.read("collection.json");
    let read = ringbound::store::read_snapshot(snapshot.as_bytes()).unwrap();
    assert_eq!(read.through.seq, 11, "the one of the last step");
    let told = session.close().unwrap();
    assert!(
        told.as_ref()
            .is_some_and(|told| told.to_string().contains("could not be removed")),
        "{told:?}"
    );
}

#[test]
fn of_the_older_snapshots_of_a_day_the_first_is_kept_and_always_the_newest() {
    let folder = filled();
    let mut session = folder.open();
    let older = || -> Vec<u64> {
        let names = files(&folder.file("older")).into_iter();
        let read = names.map(|(_, bytes)| ringbound::store::read_snapshot(&bytes).unwrap());
        let mut seqs: Vec<_> = read.map(|read| read.through.seq).collect();
        seqs.sort_unstable();
        seqs
    };
    // Records 4 to 9. The last is the present snapshot, which is not an older one yet.
    for hour in [1, 2, 3, 26, 27, 28] {
        rewrite_at(&folder, &mut session, hour);
    }
    assert_eq!(older(), [4, 7, 8]);
    rewrite_at(&folder, &mut session, 29);
    assert_eq!(older(), [4, 7, 9]);
    // A clock that was set back takes nothing away.
    rewrite_at(&folder, &mut session, 5);
    rewrite_at(&folder, &mut session, 6);
    rewrite_at(&folder, &mut session, 7);
    assert_eq!(older(), [4, 7, 11, 12]);
}

#[test]
fn who_takes_the_snapshot_alone_misses_no_more_than_a_little() {
    let through = |folder: &Folder| {
        let read = ringbound::store::read_snapshot(folder.read("collection.json").as_bytes());
        read.unwrap().through.seq
    };
    let folder = Folder::default();
    let mut session = folder.open();
    session.commit(steps().remove(0)).unwrap();
    session.close().unwrap();
    assert_eq!(through(&folder), 1, "the first session");
    assert!(
        !folder.file("older").exists(),
        "nothing is no older snapshot"
    );
    let mut session = folder.open();
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    session.close().unwrap();
    assert_eq!(through(&folder), 1, "a step costs no new snapshot");
    let mut session = folder.open();
    for _ in 0..60 {
        session.commit(acquire(moss(0, 0), 1)).unwrap();
    }
    let now = state(session.collection());
    session.close().unwrap();
    assert_eq!(through(&folder), 62, "an evening's steps");
    assert_eq!(state(folder.open().collection()), now);
    let journal = folder.read("journal");
    folder.open().close().unwrap();
    assert_eq!(
        folder.read("journal"),
        journal,
        "nothing new, nothing written"
    );
}

#[test]
fn the_newest_five_older_snapshots_are_kept_by_the_record_they_reach() {
    let folder = filled();
    let mut session = folder.open();
    for day in 0..7 {
        rewrite_at(&folder, &mut session, 24 * day);
    }
    drop(session);
    let mut names: Vec<_> = files(&folder.file("older"))
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    names.sort_by_key(|name| (name.len(), name.clone()));
    let ends: Vec<_> = names
        .iter()
        .map(|name| name.rsplit_once('-').unwrap().1)
        .collect();
    assert_eq!(ends, ["5.json", "6.json", "7.json", "8.json", "9.json"]);
    for (name, bytes) in files(&folder.file("older")) {
        let read = ringbound::store::read_snapshot(&bytes).unwrap();
        assert!(name.ends_with(&format!("-{}.json", read.through.seq)));
        assert!(!read.is_altered);
    }
}

/// Between the two renames of a new snapshot the old journal stands beside the new snapshot.
#[test]
fn a_crash_between_snapshot_and_journal_loses_nothing() {
    let folder = filled();
    let old = folder.read("journal");
    let mut session = folder.open();
    session.rewrite().unwrap();
    drop(session);
    folder.write("journal", &old);
    let mut session = folder.open();
    assert_eq!(state(session.collection()), state(&collection()));
    session.undo().unwrap().unwrap();
    session.commit(acquire(moss(1, 0), 1)).unwrap();
    let now = state(session.collection());
    drop(session);
    let session = folder.open();
    assert_eq!(state(session.collection()), now);
    assert_eq!(session.done().count(), 3);
}

#[test]
fn a_long_journal_becomes_a_new_snapshot_on_opening_and_closing() {
    let folder = filled();
    let long = |label: &str| Step::new(label.repeat(300 << 10), acquire(moss(1, 0), 1).changes);
    let mut session = folder.open();
    session.commit(long("x")).unwrap();
    drop(session);
    let through = |folder: &Folder| {
        let read = ringbound::store::read_snapshot(folder.read("collection.json").as_bytes());
        read.unwrap().through.seq
    };
    assert_eq!(through(&folder), 0);
    let mut session = folder.open();
    assert_eq!(through(&folder), 4);
    session.commit(long("y")).unwrap();
    let now = state(session.collection());
    session.close().unwrap();
    assert_eq!(through(&folder), 5);
    // What is carried over does not make a new journal long.
    let before = folder.read("journal");
    let session = folder.open();
    assert_eq!(folder.read("journal"), before);
    assert_eq!(session.done().count(), 5);
    assert_eq!(state(session.collection()), now);
}

#[test]
fn files_left_by_a_run_that_was_cut_off_are_cleared_and_no_others() {
    let folder = filled();
    folder.write(".ringbound-x1.tmp", "half");
    folder.write("notes.tmp", "mine");
    drop(folder.open());
    assert!(!folder.file(".ringbound-x1.tmp").exists());
    assert_eq!(folder.read("notes.tmp"), "mine");
}

#[cfg(unix)]
#[test]
fn a_snapshot_that_is_a_link_stays_one() {
    let folder = filled();
    let elsewhere = folder.file("elsewhere");
    fs::create_dir(&elsewhere).unwrap();
    let target = elsewhere.join("mine.json");
    fs::rename(folder.file("collection.json"), &target).unwrap();
    std::os::unix::fs::symlink(&target, folder.file("collection.json")).unwrap();
    let mut session = folder.open();
    session.rewrite().unwrap();
    drop(session);
    assert!(
        fs::symlink_metadata(folder.file("collection.json"))
            .unwrap()
            .is_symlink()
    );
    let written = fs::read(&target).unwrap();
    assert_eq!(
        ringbound::store::read_snapshot(&written)
            .unwrap()
            .through
            .seq,
        3
    );
    assert_eq!(state(folder.open().collection()), state(&collection()));
}

#[test]
fn an_error_names_its_path() {
    let folder = Folder::default();
    fs::write(folder.path(), "a file where a folder should be").unwrap();
    for how in [Open::ForReading, Open::ForWriting] {
        let error = Session::open(&folder.path(), how, clock()).unwrap_err();
        let path = folder.path().display().to_string();
        assert!(error.to_string().contains(&path), "{error}");
    }
}

/// POSIX.1-2017, open(): ENOTDIR where a part of the path is no folder, EACCES where one may not
/// be searched. Neither says that there is nothing.
#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_looked_for_is_no_empty_collection() {
    use std::os::unix::fs::PermissionsExt;
    let folder = filled();
    let beneath_a_file = folder.file("journal").join("x");
    let closed = folder.file("closed");
    fs::create_dir(&closed).unwrap();
    let set = |mode| fs::set_permissions(&closed, fs::Permissions::from_mode(mode)).unwrap();
    set(0o000);
    let beneath_closed = closed.join("x");
    // Modes do not bind the superuser, who sees that nothing is there.
    let binds = fs::read_dir(&closed).is_err();
    for (path, refused) in [(beneath_a_file, true), (beneath_closed, binds)] {
        let opened = Session::open(&path, Open::ForReading, clock());
        match opened {
            Err(error) => {
                let error = error.to_string();
                assert!(error.contains(&path.display().to_string()), "{error}");
            }
            Ok(_) => assert!(!refused, "{}", path.display()),
        }
    }
    set(0o700);
}
