//! Faults of a real machine: processes that are killed, disks that are full or break, power that
//! is cut.
//!
//! | needs | what | where it is not there |
//! |---|---|---|
//! | nothing | kills at calls of the store, a limit on file sizes | never left out |
//! | strace | kills at system calls, calls that fail | said by name; the long run fails on Linux |
//! | flock | a lock of another program | said by name |
//! | the superuser, `unshare` | full disks, read-only folders, bind mounts | said by name |
//! | these, python3 and `mkfs.ext4`, `mkfs.xfs` | power cuts | said by name |
#![cfg(unix)]

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use ringbound::session::{Access, Open};

use crate::child::{self, KILL, TOLD, command, kept, look, words};
use crate::support::Table;
use crate::support::files::Watched;
use crate::support::kept::{Folder, clock};
use crate::support::script::{long_session, play};

fn told(command: &mut Command) -> String {
    String::from_utf8_lossy(&command.output().unwrap().stdout).into_owned()
}

/// Whether a program is there, in words for who reads the figures.
fn has(program: &str, what: &str) -> bool {
    let found = Command::new("sh")
        .args(["-c", &format!("command -v {program}")])
        .output()
        .is_ok_and(|output| output.status.success());
    if !found {
        println!("skipped: {what}: {program} is not there");
    }
    found
}

/// Whether file systems can be mounted, out of sight of all others.
fn can_mount(what: &str) -> bool {
    let mounted = has("unshare", what)
        && Command::new("unshare")
            .args(["-m", "sh", "-c", "mount -t tmpfs -o size=8k none /mnt"])
            .output()
            .is_ok_and(|output| output.status.success());
    if !mounted {
        println!("skipped: {what}: file systems cannot be mounted here");
    }
    mounted
}

/// How often the store calls the file system while the script is played.
fn calls(steps: usize) -> usize {
    let watched = Watched::new(std::rc::Rc::new(crate::support::files::InMemory::default()));
    let files: std::rc::Rc<dyn ringbound::store::files::Files> = std::rc::Rc::new(watched.clone());
    let came = play(
        &long_session(steps),
        &files,
        Path::new("/home/shelf"),
        |_, _| {},
    );
    assert_eq!(came.failed, None);
    watched.calls()
}

/// Does this for each of them, on all processors, and counts how often it says so.
fn count<T: Sync>(all: &[T], each: impl Fn(&T) -> bool + Sync) -> usize {
    let next = AtomicUsize::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let counted = || {
        let more = || all.get(next.fetch_add(1, Ordering::SeqCst));
        std::iter::from_fn(more).filter(|one| each(one)).count()
    };
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..threads).map(|_| scope.spawn(counted)).collect();
        threads
            .into_iter()
            .map(|thread| thread.join().unwrap())
            .sum()
    })
}

/// Kills the process at every `nth` call of its store, and looks at what is left.
fn kill_at_calls(steps: usize, nth: usize) -> usize {
    let all: Vec<usize> = (1..=calls(steps)).step_by(nth).collect();
    count(&all, |call| {
        let folder = Folder::quick();
        let mut child = command(&words("child_plays"), &folder.path(), steps);
        let told = told(child.env(KILL, call.to_string()));
        if told.contains("done") {
            return false;
        }
        look(&folder.path(), &told, steps).unwrap_or_else(|why| panic!("call {call}: {why}"));
        true
    })
}

#[test]
fn a_process_that_is_killed_at_a_call_of_its_store_loses_nothing() {
    let kills = kill_at_calls(0, 4);
    println!("kills at calls of the store, a share: {kills}");
    assert!(kills > 25, "{kills}");
}

#[test]
#[ignore = "the long run"]
fn long_kills_at_every_call_of_the_store() {
    let kills = kill_at_calls(360, 1);
    println!("kills at calls of the store: {kills}");
    assert!(kills >= 1_000, "{kills}");
}

/// How often a child calls the system, by the name of the call.
fn system_calls(folder: &Path, steps: usize) -> BTreeMap<String, usize> {
    let trace = folder.with_extension("trace");
    let mut strace: Vec<String> = ["strace", "-fqq", "-o"].map(String::from).to_vec();
    strace.push(trace.to_str().unwrap().into());
    strace.extend(words("child_plays"));
    let ended = told(&mut command(&strace, folder, steps));
    // strace counts the calls of each thread by themselves.
    let mut calls: BTreeMap<(String, String), usize> = BTreeMap::new();
    if ended.contains("done") {
        for line in std::fs::read_to_string(trace).unwrap().lines() {
            let (thread, call) = line.split_once(' ').unwrap_or_default();
            let name = call
                .trim_start()
                .split_once('(')
                .map_or("", |(name, _)| name);
            if !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') {
                *calls.entry((name.into(), thread.into())).or_default() += 1;
            }
        }
    }
    let mut most = BTreeMap::new();
    for ((name, _), times) in calls {
        let most = most.entry(name).or_default();
        *most = times.max(*most);
    }
    most
}

/// Kills the process at every `nth` system call of a session, counted for each kind by itself, as
/// strace injects signals: the process dies before the call is done.
fn kill_at_system_calls(steps: usize, nth: usize) -> Option<usize> {
    let what = "kills at each system call";
    if !has("strace", what) {
        return None;
    }
    let folder = Folder::quick();
    let calls = system_calls(&folder.path(), steps);
    if calls.is_empty() {
        println!("skipped: {what}: a process cannot be traced here");
        return None;
    }
    let all = calls
        .iter()
        .filter(|(name, _)| *name != "execve" && !name.starts_with("exit"))
        .flat_map(|(name, times)| (1..=*times).map(move |at| (name, at)));
    let all: Vec<_> = all.step_by(nth).collect();
    Some(count(&all, |(name, at)| {
        let folder = Folder::quick();
        let mut strace: Vec<String> = ["strace", "-fqq", "-o", "/dev/null", "-e"]
            .map(String::from)
            .to_vec();
        strace.push(format!("inject={name}:signal=KILL:when={at}"));
        strace.extend(words("child_plays"));
        let told = told(&mut command(&strace, &folder.path(), steps));
        // Calls that ask for random addresses or for the time differ a little from run to run.
        if told.contains("done") {
            return false;
        }
        if folder.path().exists() {
            look(&folder.path(), &told, steps).unwrap_or_else(|why| panic!("{name} {at}: {why}"));
        } else {
            assert_eq!(kept(&told), 0);
        }
        true
    }))
}

#[test]
fn a_process_that_is_killed_at_a_system_call_loses_nothing() {
    if let Some(kills) = kill_at_system_calls(0, 11) {
        println!("kills at system calls, a share: {kills}");
        assert!(kills > 20, "{kills}");
    }
}

#[test]
#[ignore = "the long run"]
fn long_kills_at_every_system_call() {
    match kill_at_system_calls(180, 1) {
        Some(kills) => {
            println!("kills at system calls: {kills}");
            assert!(kills >= 1_000, "{kills}");
        }
        None if cfg!(target_os = "linux") => {
            panic!("the long run needs strace and the right to use it")
        }
        None => {}
    }
}

/// strace(1): `inject=fdatasync:error=EIO`; and ENOLCK of flock(2), as a network folder answers.
#[test]
fn a_sync_that_fails_and_a_lock_that_cannot_be_had_are_told_and_lose_nothing() {
    if !has("strace", "failing system calls") {
        return;
    }
    let calls = system_calls(&Folder::default().path(), 0);
    if calls.is_empty() {
        println!("skipped: failing system calls: a process cannot be traced here");
        return;
    }
    for (name, error, nth) in [
        ("fdatasync", "EIO", 4),
        ("write", "ENOSPC", 6),
        ("fsync", "EIO", 6),
    ] {
        for at in (1..=calls[name]).step_by(nth) {
            let folder = Folder::default();
            let path = folder.path();
            let mut strace: Vec<String> = ["strace", "-fqq", "-o", "/dev/null", "-P"]
                .map(String::from)
                .to_vec();
            // The journal alone: what is written to the terminal must not fail.
            strace.push(path.join("journal").to_str().unwrap().into());
            strace.extend(["-P".into(), path.to_str().unwrap().into(), "-e".into()]);
            strace.push(format!("inject={name}:error={error}:when={at}+"));
            strace.extend(words("child_plays"));
            let told = told(&mut command(&strace, &path, 0));
            assert!(told.contains("done") || told.contains("failed: "), "{told}");
            look(&path, &told, 0).unwrap_or_else(|why| panic!("{name} {at}: {why}\n{told}"));
        }
    }
    let folder = Folder::default();
    let mut strace: Vec<String> = ["strace", "-fqq", "-o", "/dev/null", "-e"]
        .map(String::from)
        .to_vec();
    strace.push("inject=flock:error=ENOLCK".into());
    strace.extend(words("child_plays"));
    let told = told(&mut command(&strace, &folder.path(), 0));
    assert!(told.contains("failed: ") && told.contains("lock"), "{told}");
    assert_eq!(kept(&told), 0);
}

/// setrlimit(2): beyond RLIMIT_FSIZE a write is short, and the next fails with EFBIG. The shell's
/// `ulimit -f` counts in blocks of 512 bytes (POSIX.1-2017).
#[test]
fn a_file_size_limit_is_a_step_that_is_not_kept() {
    let mut failed = 0;
    for blocks in 1..=12 {
        let folder = Folder::default();
        let line = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$@\"");
        let mut sh: Vec<String> = ["sh", "-c", &line, "sh"].map(String::from).to_vec();
        sh.extend(words("child_plays"));
        let told = told(&mut command(&sh, &folder.path(), 0));
        failed += usize::from(told.contains("failed: "));
        look(&folder.path(), &told, 0).unwrap_or_else(|why| panic!("{blocks}: {why}\n{told}"));
    }
    assert!(failed > 3, "the limit was never met");
}

/// The program itself, with no trap set for it: SIGXFSZ would end it without a word (setrlimit(2)).
#[test]
fn the_program_tells_of_a_file_size_limit_and_the_collection_stays_whole() {
    let mut failed = 0;
    for blocks in [0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 24, 64] {
        let table = Table::with_fen();
        table.file("many.csv", many_cards());
        let was = table.ok(&["completion"]);
        let limited = |arguments: &[&str]| {
            let real = table.command(arguments);
            let line = format!("ulimit -f {blocks}; exec \"$@\"");
            let mut sh = Command::new("/bin/sh");
            sh.args(["-c", &line, "sh"]).arg(real.get_program());
            sh.args(arguments)
                .env_clear()
                .env("RINGBOUND_DATA", table.shelf());
            sh.current_dir(real.get_current_dir().unwrap());
            sh.output().unwrap()
        };
        let output = limited(&["import", "checklist", "many.csv"]);
        let told = String::from_utf8(output.stderr).unwrap();
        let code = output.status.code();
        assert!(code.is_some(), "{blocks}: {} {told}", output.status);
        let now = match code {
            Some(0) => table.ok(&["completion"]),
            _ => {
                failed += 1;
                assert_eq!(code, Some(4), "{blocks}: {told}");
                assert!(told.contains("error: could not write"), "{blocks}: {told}");
                assert!(told.contains("journal: File too large"), "{blocks}: {told}");
                assert_eq!(output.stdout, b"", "{blocks}: nothing is told as done");
                was
            }
        };
        assert_eq!(table.ok(&["completion"]), now, "{blocks}");
        assert_eq!(
            table.ok(&["check"]),
            "The collection is whole.\n",
            "{blocks}"
        );
        // The limit gone, it goes on.
        assert_eq!(table.exit(&["import", "checklist", "many.csv"]), 0);
        assert_eq!(table.exit(&["check"]), 0);
        // Reading and printing need no file of the collection's.
        assert_eq!(limited(&["gaps"]).status.code(), Some(0));
    }
    assert!(failed > 5, "the limit was hardly met: {failed}");
}

/// Some 9 kB as a step.
fn many_cards() -> String {
    let rows = (1..=200).map(|number| format!("DAL,{number},Leaf of the dale\n"));
    format!("set,number,name\n{}", rows.collect::<String>())
}

/// The same at the screen.
#[test]
fn the_screen_tells_of_a_file_size_limit_and_shows_nothing_as_kept() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    let (mut session, _) =
        ringbound::session::Session::open(&data, Open::ForWriting, clock()).unwrap();
    for step in ringbound::demo::step_by_step() {
        session.commit(step).unwrap();
    }
    session.close().unwrap();
    let journal = data.join("journal");
    let before = std::fs::read(&journal).unwrap();
    // What is there already is beyond the limit, so nothing more can be written.
    assert!(before.len() > 512);
    let mut sh = portable_pty::CommandBuilder::new("/bin/sh");
    sh.args([
        "-c",
        "ulimit -f 1; exec \"$0\" --data \"$1\"",
        env!("CARGO_BIN_EXE_ringbound"),
    ]);
    sh.arg(&data);
    sh.env_clear();
    let mut pty = crate::pty::Pty::start_other(sh, (80, 24), home.path());
    pty.until("The shelf");
    pty.send("\rn+");
    pty.until("Not done: could not write");
    pty.send("\x1b[C");
    pty.until("For reading only: a step was not kept");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
    assert_eq!(std::fs::read(&journal).unwrap(), before);
    let again = ringbound::session::Session::open(&data, Open::ForWriting, clock()).unwrap();
    assert_eq!((again.0.access(), again.1), (Access::Writable, vec![]));
}

/// A disk in memory with so much room and so many files, on which a session is played until it is
/// full; then it gets room again, and what is there is looked at.
fn fill(options: &str) -> String {
    let work = tempfile::tempdir().unwrap();
    let mount = work.path().join("mount");
    std::fs::create_dir(&mount).unwrap();
    let script = format!(
        "mount -t tmpfs -o {options} none {mount} && ( {plays} > {told}; true ) && \
         mount -o remount,size=4m,nr_inodes=1000 {mount} && {looks}; cat {told}",
        mount = mount.display(),
        told = work.path().join("told").display(),
        plays = words("child_plays").join(" "),
        looks = words("child_looks").join(" "),
    );
    let sh = ["unshare", "-m", "sh", "-c", &script].map(String::from);
    let mut child = command(&sh, &mount.join("collection"), 30);
    told(child.env(TOLD, work.path().join("told")))
}

#[test]
fn a_full_disk_and_one_without_inodes_keep_what_was_kept() {
    if !can_mount("full disks") {
        return;
    }
    let sizes = (2..=14).map(|pages| format!("size={}k", 4 * pages));
    let inodes = (6..=13).map(|inodes| format!("size=4m,nr_inodes={inodes}"));
    let (mut full, mut disks) = (0, 0);
    for options in sizes.chain(inodes) {
        let told = fill(&options);
        assert!(told.contains("found "), "{options}: {told}");
        full += usize::from(told.contains("failed: "));
        disks += 1;
    }
    println!("full disks: {disks}, of which {full} ended the session");
    assert!(full > 2, "{full}");
}

/// The power is cut: XFS_IOC_GOINGDOWN (the same number on ext4), flag 2, forgets whatever was not
/// synced. The process is killed at a call of its store, then the file system is shut down, and
/// mounted again. Of all calls, every `parts`th from this one on.
fn cut_power(make: &str, part: usize, parts: usize) -> Option<usize> {
    let tool = make.split(' ').next()?;
    let what = format!("power cuts on {}", tool.trim_start_matches("mkfs."));
    if !can_mount(&what) || !has("python3", &what) || !has(tool, &what) {
        return None;
    }
    // What has reached the image counts as on the disk, wherever the image is.
    let work = tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir());
    let work = work.unwrap();
    let path = |name: &str| work.path().join(name).display().to_string();
    let (image, mount, told_in) = (path("image"), path("mount"), path("told"));
    std::fs::create_dir(&mount).unwrap();
    let size = if make.contains("xfs") { "320M" } else { "24M" };
    let script = format!(
        "truncate -s {size} {image} && {make} {image} > /dev/null 2>&1 || exit 9
         python=$(python3 -c 'import sys; print(sys.executable)')
         for call in $(seq {first} {parts} {calls}); do
           mount -o loop {image} {mount} || exit 9
           rm -rf {mount}/collection; sync
           {KILL}=$call {plays} > {told_in}
           $python -IS -c \"import fcntl,struct,os; fcntl.ioctl(os.open('{mount}', 0), 0x8004587d, struct.pack('I', 2))\" || exit 8
           umount {mount} && mount -o loop {image} {mount} || exit 9
           echo \"cut at call $call:\"; {looks}
           umount {mount} || exit 9
         done",
        first = part + 1,
        calls = calls(6),
        plays = words("child_plays").join(" "),
        looks = words("child_looks").join(" "),
    );
    let sh = ["unshare", "-m", "sh", "-c", &script].map(String::from);
    let mut child = command(&sh, &work.path().join("mount").join("collection"), 6);
    let output = child.env(TOLD, &told_in).output().unwrap();
    let told = String::from_utf8_lossy(&output.stdout);
    if !output.status.success() && !told.contains("cut at") {
        println!("skipped: {what}: it cannot be mounted and shut down here");
        return None;
    }
    assert!(output.status.success(), "{told}");
    let cuts = told.matches("cut at call").count();
    assert_eq!(told.matches("found ").count(), cuts, "{told}");
    Some(cuts)
}

#[test]
#[ignore = "the long run"]
fn long_power_cuts() {
    const PARTS: usize = 8;
    for make in ["mkfs.ext4 -F", "mkfs.xfs -f"] {
        // The first says whether it can be done here.
        let Some(first) = cut_power(make, 0, PARTS) else {
            continue;
        };
        // Four times all calls: what the system has written by itself until then differs.
        let parts: Vec<usize> = (1..4 * PARTS).collect();
        let cuts = AtomicUsize::new(first);
        count(&parts, |part| {
            let more = cut_power(make, part % PARTS, PARTS).unwrap();
            cuts.fetch_add(more, Ordering::SeqCst);
            true
        });
        println!("power cuts, {make}: {}", cuts.into_inner());
    }
}

/// mount(8): a bind mount that is read-only holds for the superuser too, whom modes do not bind.
#[test]
fn a_folder_that_is_mounted_read_only_is_read() {
    if !can_mount("read-only folders") {
        return;
    }
    let folder = Folder::default();
    let steps = 0;
    let first = told(&mut command(&words("child_plays"), &folder.path(), steps));
    assert!(first.contains("done"));
    let script = format!(
        "mount --bind {0} {0} && mount -o remount,ro,bind {0} && {1}",
        folder.path().display(),
        words("child_plays").join(" ")
    );
    let sh = ["unshare", "-m", "sh", "-c", &script].map(String::from);
    let second = told(&mut command(&sh, &folder.path(), steps));
    assert!(second.contains("failed: "), "{second}");
    assert_eq!(kept(&second), 0);
    look(&folder.path(), &first, steps).unwrap();
}

/// rename(2): EBUSY, where the new name is a mount point. The old files serve on, and the reason is
/// told.
#[test]
fn a_snapshot_that_is_mounted_by_itself_is_left_and_the_journal_serves_on() {
    if !can_mount("bind mounts") {
        return;
    }
    let folder = Folder::default();
    drop(folder.open_as(Open::ForWriting));
    let file = folder.file("collection.json");
    let script = format!(
        "mount --bind {0} {0} && {1}",
        file.display(),
        words("child_plays").join(" ")
    );
    let sh = ["unshare", "-m", "sh", "-c", &script].map(String::from);
    let told = told(&mut command(&sh, &folder.path(), 0));
    assert!(told.contains("done"), "{told}");
    look(&folder.path(), &told, 0).unwrap();
}

/// flock(2) is asked without waiting: who cannot have the lock reads at once.
#[test]
fn a_lock_that_another_program_holds_is_never_waited_for() {
    if !has("flock", "a lock of another program") {
        return;
    }
    let folder = Folder::default();
    drop(folder.open_as(Open::ForWriting));
    let lock = folder.file("lock");
    let mut flock = vec!["flock".to_owned(), lock.to_str().unwrap().into()];
    flock.extend(words("child_plays"));
    let told = told(&mut command(&flock, &folder.path(), 0));
    assert!(told.contains("failed: another program"), "{told}");
    let again = ringbound::session::Session::open(&folder.path(), Open::ForWriting, clock());
    assert_eq!(again.unwrap().0.access(), Access::Writable);
    assert_eq!(child::kept(&told), 0);
}
