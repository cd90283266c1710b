//! Work that takes its time, beside the loop: keys are heard meanwhile, how far it is is told, and
//! it can be stopped. It has a copy of what it needs; what comes of it is taken by the loop.

use std::fmt;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

/// Wakes the loop.
#[derive(Clone)]
pub(super) struct Waker(Arc<dyn Fn() + Send + Sync>);

impl Waker {
    pub(super) fn new(wake: impl Fn() + Send + Sync + 'static) -> Self {
        Self(Arc::new(wake))
    }
}

impl fmt::Debug for Waker {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Waker")
    }
}

/// What work beside the loop tells, and is told.
#[derive(Debug)]
pub(crate) struct Reins {
    stop: AtomicBool,
    percent: AtomicU32,
    waker: Option<Waker>,
}

impl Reins {
    /// So much of so much is done; whether to go on.
    pub(crate) fn tell(&self, done: u64, of: u64) -> bool {
        let percent = (done.min(of) * 100).checked_div(of).unwrap_or(100) as u32;
        if self.percent.swap(percent, Ordering::Relaxed) != percent {
            self.wake();
        }
        !self.stop.load(Ordering::Relaxed)
    }

    fn wake(&self) {
        if let Some(Waker(wake)) = &self.waker {
            wake();
        }
    }
}

/// Work beside the loop that ends with a `T`.
#[derive(Debug)]
pub(crate) struct Job<T> {
    answer: Receiver<T>,
    reins: Arc<Reins>,
}

impl<T: Send + 'static> Job<T> {
    /// Begins. Without a waker there is no loop to go on meanwhile, and it is done at once; so it
    /// is where no thread can be had.
    pub(crate) fn begin(
        waker: Option<&Waker>,
        work: impl FnOnce(&Reins) -> T + Send + 'static,
    ) -> Self {
        let reins = Arc::new(Reins {
            stop: AtomicBool::new(false),
            percent: AtomicU32::new(0),
            waker: waker.cloned(),
        });
        let (out, answer) = mpsc::channel();
        let held = Arc::clone(&reins);
        let all = move || {
            let done = work(&held);
            // Nobody waits for it any more when this fails.
            drop(out.send(done));
            held.wake();
        };
        if waker.is_some() {
            let all = Arc::new(std::sync::Mutex::new(Some(all)));
            let of_thread = Arc::clone(&all);
            let run = move || {
                let work = of_thread.lock().ok().and_then(|mut work| work.take());
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
        } else {
            all();
        }
        Self { answer, reins }
    }

    /// What came of it, once. A job that ended without an answer (its thread panicked) gives
    /// `Err`.
    pub(crate) fn answer(&self) -> Option<Result<T, ()>> {
        match self.answer.try_recv() {
            Ok(answer) => Some(Ok(answer)),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(())),
        }
    }

    pub(crate) fn percent(&self) -> u32 {
        self.reins.percent.load(Ordering::Relaxed)
    }
}

impl<T> Drop for Job<T> {
    /// Who no longer waits for it lets it stop.
    fn drop(&mut self) {
        self.reins.stop.store(true, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_a_loop_it_is_done_at_once_and_answers_once() {
        let job = Job::begin(None, |reins| reins.tell(1, 4));
        assert_eq!(job.percent(), 25);
        assert_eq!(job.answer(), Some(Ok(true)));
        assert_eq!(job.answer(), Some(Err(())));
    }

    #[test]
    fn beside_a_loop_it_wakes_it_and_is_stopped_when_nobody_waits() {
        let (out, woken) = mpsc::channel();
        let waker = Waker::new(move || out.send(()).unwrap_or_default());
        let job = Job::begin(Some(&waker), |_| 7);
        while job.answer().is_none() {
            woken.recv().unwrap();
        }
        let (out, ended) = mpsc::channel();
        let job = Job::begin(Some(&waker), move |reins| {
            while reins.tell(0, 1) {
                thread::yield_now();
            }
            out.send(()).unwrap_or_default();
        });
        drop(job);
        ended.recv().unwrap();
    }
}
