//! Work that takes its time, beside the loop: keys are heard meanwhile, how far it is is told, and
//! it can be stopped. It has what it needs for itself; what comes of it is taken by the loop.

use std::any::Any;
use std::cell::Cell;
use std::fmt;
use std::panic::{AssertUnwindSafe, Location, catch_unwind};
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, TryRecvError};
use std::sync::{Arc, Mutex, PoisonError, RwLock};
use std::thread;
use std::time::Duration;

/// Work as it is handed to whoever does it.
pub type Work = Box<dyn FnOnce() + Send>;

/// How long a key waits for an answer, so that a short one stands in the next frame already: half
/// of the 16 ms that a frame has.
const PATIENCE: Duration = Duration::from_millis(8);

/// Said of work that is gone without a word.
const UNANSWERED: &str = "no answer came";

/// Nothing was told yet of how far it is.
const UNKNOWN: u32 = u32::MAX;

thread_local! {
    static CAUGHT: Cell<bool> = const { Cell::new(false) };
    /// Where the last panic was that is caught here.
    static PLACE: Cell<Option<String>> = const { Cell::new(None) };
}

/// Whether a panic of this thread is caught here, so that the terminal stays as it is.
pub(super) fn is_caught() -> bool {
    CAUGHT.get()
}

/// Notes where a panic is that is caught here: its file below the sources, and the line.
pub(super) fn note_place(place: &Location<'_>) {
    let file = place.file();
    let file = file.rsplit_once("src/").map_or(file, |(_, file)| file);
    PLACE.set(Some(format!("{file}:{}", place.line())));
}

/// What a panic says, and where it was if that was noted.
fn words(payload: &(dyn Any + Send)) -> String {
    let said = payload.downcast_ref::<&str>().copied();
    let said = said.or_else(|| payload.downcast_ref::<String>().map(String::as_str));
    let said = said.unwrap_or("no reason given");
    match PLACE.take() {
        Some(place) => format!("{said} ({place})"),
        None => said.to_owned(),
    }
}

/// Who works beside the loop, and how the loop is woken.
#[derive(Clone)]
pub(super) struct Workers {
    wake: Arc<dyn Fn() + Send + Sync>,
    hand: Arc<dyn Fn(Work) + Send + Sync>,
    patience: Duration,
    /// Held by work that has a file in hand: the program does not end before.
    files: Arc<RwLock<()>>,
}

impl Workers {
    /// Threads, a new one for each piece of work.
    pub(super) fn threads(wake: impl Fn() + Send + Sync + 'static) -> Self {
        Self {
            wake: Arc::new(wake),
            hand: Arc::new(on_a_thread),
            patience: PATIENCE,
            files: Arc::default(),
        }
    }

    /// Whoever takes it by `hand`, whenever he does it.
    pub(super) fn handed(hand: impl Fn(Work) + Send + Sync + 'static) -> Self {
        Self {
            wake: Arc::new(|| {}),
            hand: Arc::new(hand),
            patience: Duration::ZERO,
            files: Arc::default(),
        }
    }

    /// Has something done of which nothing is heard.
    pub(super) fn does(&self, work: impl FnOnce() + Send + 'static) {
        (self.hand)(Box::new(work));
    }

    /// Waits for work that has a file in hand. It has been told to stop before.
    pub(super) fn end(&self) {
        drop(self.files.write());
    }
}

impl fmt::Debug for Workers {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Workers")
    }
}

/// Where no thread can be had it is done at once.
fn on_a_thread(work: Work) {
    let work = Arc::new(Mutex::new(Some(work)));
    let run = move || {
        let work = work.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(work) = work {
            work();
        }
    };
    let begun = thread::Builder::new()
        .name("work".into())
        .spawn(run.clone());
    if begun.is_err() {
        run();
    }
}

/// What work beside the loop tells, and is told.
#[derive(Debug)]
pub(crate) struct Progress {
    stop: AtomicBool,
    percent: AtomicU32,
    beside: Option<Workers>,
}

impl Progress {
    /// So much of so much is done; whether to go on.
    pub(crate) fn tell(&self, done: u64, of: u64) -> bool {
        let percent = (done.min(of) * 100).checked_div(of).unwrap_or(100) as u32;
        if self.percent.swap(percent, Ordering::Relaxed) != percent {
            self.wake();
        }
        self.goes_on()
    }

    /// Whether anybody still waits for it.
    pub(crate) fn goes_on(&self) -> bool {
        !self.stop.load(Ordering::Relaxed)
    }

    /// Does something with a file, before the end of which the program does not end: a file that
    /// is half written is taken away. `None` when it was stopped before.
    pub(crate) fn with_file<T>(&self, work: impl FnOnce() -> T) -> Option<T> {
        let files = self.beside.as_ref().map(|beside| beside.files.read());
        let done = self.goes_on().then(work);
        drop(files);
        done
    }

    fn wake(&self) {
        if let Some(beside) = &self.beside {
            (beside.wake)();
        }
    }
}

/// Why nothing came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NoAnswer {
    /// It was asked to stop.
    Stopped,
    /// It panicked, and said this.
    Failed(String),
}

/// Work beside the loop that ends with a `T`.
#[derive(Debug)]
pub(crate) struct Job<T> {
    /// What came of it, or what a panic said.
    answer: Receiver<Result<T, String>>,
    /// What came in time for the next frame.
    early: Option<Result<T, String>>,
    progress: Arc<Progress>,
}

impl<T: Send + 'static> Job<T> {
    /// Begins, and waits a moment, in case that it is done in no time. Without anybody to work
    /// beside the loop it is done at once.
    pub(crate) fn begin(
        beside: Option<&Workers>,
        work: impl FnOnce(&Progress) -> T + Send + 'static,
    ) -> Self {
        let progress = Arc::new(Progress {
            stop: AtomicBool::new(false),
            percent: AtomicU32::new(UNKNOWN),
            beside: beside.cloned(),
        });
        let (out, answer) = mpsc::channel();
        let held = Arc::clone(&progress);
        let work = move || {
            if held.goes_on() {
                CAUGHT.set(true);
                let done = catch_unwind(AssertUnwindSafe(|| work(&held)));
                CAUGHT.set(false);
                // Nobody waits for it any more when this fails.
                drop(out.send(done.map_err(|panic| words(&*panic))));
            }
            drop(out);
            held.wake();
        };
        match beside {
            Some(beside) => (beside.hand)(Box::new(work)),
            None => work(),
        }
        let patience = beside.map_or(Duration::ZERO, |beside| beside.patience);
        let early = match answer.recv_timeout(patience) {
            Ok(done) => Some(done),
            Err(RecvTimeoutError::Disconnected) => Some(Err(UNANSWERED.into())),
            Err(RecvTimeoutError::Timeout) => None,
        };
        Self {
            answer,
            early,
            progress,
        }
    }

    /// What came of the work that is waited for, once: then it is waited for no longer. Screens ask
    /// the desk, which tells what a panic said.
    pub(crate) fn ended(waited: &mut Option<Self>) -> Option<Result<T, NoAnswer>> {
        let job = waited.as_mut()?;
        let ended = job.early.take().or_else(|| match job.answer.try_recv() {
            Ok(done) => Some(done),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(UNANSWERED.into())),
        })?;
        let stopped = !job.progress.goes_on();
        *waited = None;
        Some(ended.map_err(|said| match stopped {
            true => NoAnswer::Stopped,
            false => NoAnswer::Failed(said),
        }))
    }

    /// How far it is and how it is stopped, for the message line.
    pub(crate) fn says(&self, key: &str, what: &str) -> String {
        match self.progress.percent.load(Ordering::Relaxed) {
            UNKNOWN => format!("{what}. {key} stops it"),
            percent => format!("{what}: {percent} %. {key} stops it"),
        }
    }
}

impl<T> Job<T> {
    /// Asks it to stop; what comes of that can still be waited for.
    pub(crate) fn stop(&self) {
        self.progress.stop.store(true, Ordering::Relaxed);
    }
}

impl<T> Drop for Job<T> {
    /// Who no longer waits for it lets it stop.
    fn drop(&mut self) {
        self.stop();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_a_loop_it_is_done_at_once_and_answers_once() {
        let mut job = Some(Job::begin(None, |progress| progress.tell(1, 4)));
        let progress = Arc::clone(&job.as_ref().unwrap().progress);
        assert_eq!(progress.percent.load(Ordering::Relaxed), 25);
        assert_eq!(Job::ended(&mut job), Some(Ok(true)));
        assert_eq!(Job::ended(&mut job), None);
    }

    #[test]
    fn beside_a_loop_it_wakes_it_and_is_stopped_when_nobody_waits() {
        let (out, woken) = mpsc::channel();
        let beside = Workers::threads(move || out.send(()).unwrap_or_default());
        let (go, held) = mpsc::channel::<()>();
        let mut job = Some(Job::begin(Some(&beside), move |_| {
            held.recv().unwrap();
            7
        }));
        assert_eq!(Job::ended(&mut job), None);
        go.send(()).unwrap();
        woken.recv().unwrap();
        assert_eq!(Job::ended(&mut job), Some(Ok(7)));
        let (out, ended) = mpsc::channel();
        let (begun, has_begun) = mpsc::channel();
        let job = Job::begin(Some(&beside), move |progress| {
            begun.send(()).unwrap();
            while progress.tell(0, 1) {
                thread::yield_now();
            }
            out.send(()).unwrap_or_default();
        });
        // What nobody waits for any more before it begins is not begun.
        has_begun.recv().unwrap();
        drop(job);
        ended.recv().unwrap();
    }

    #[test]
    fn a_panic_is_told_and_wakes_the_loop_wherever_the_work_is_done() {
        let (out, woken) = mpsc::channel();
        let beside = Workers::threads(move || out.send(()).unwrap_or_default());
        for beside in [None, Some(&beside)] {
            let mut job = Some(Job::begin(beside, |_| -> u8 {
                assert!(is_caught());
                panic!("meant to");
            }));
            if beside.is_some() {
                woken.recv().unwrap();
            }
            let failed = NoAnswer::Failed("meant to".into());
            assert_eq!(Job::ended(&mut job), Some(Err(failed)));
            assert!(!is_caught());
        }
    }

    #[test]
    fn the_end_waits_for_a_file_in_hand_and_no_file_is_begun_after_it_was_stopped() {
        let (hold, held) = mpsc::channel();
        let beside = Workers::threads(|| {});
        let (begun, has_begun) = mpsc::channel();
        let (told, wrote) = mpsc::channel();
        let job = Job::begin(Some(&beside), move |progress| {
            progress.with_file(|| {
                begun.send(()).unwrap();
                held.recv().unwrap();
                told.send(()).unwrap();
            })
        });
        has_begun.recv().unwrap();
        drop(job);
        hold.send(()).unwrap();
        beside.end();
        assert_eq!(wrote.try_recv(), Ok(()));
        let progress = Progress {
            stop: AtomicBool::new(true),
            percent: AtomicU32::new(UNKNOWN),
            beside: Some(beside),
        };
        assert_eq!(progress.with_file(|| 1), None);
    }
}
