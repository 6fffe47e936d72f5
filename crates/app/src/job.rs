//! Long work beside the window: a typed job that can be followed, stopped and replaced.
//!
//! Whoever starts a job keeps showing the last answer until the new one is there. Starting again stops the older run
//! and drops its channel, so a late answer cannot land. A panic costs the job, not the work: it shows as
//! [`Outcome::Lost`]. Work that has something to show before it ends tells it as a part.

use std::fmt;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Instant;

use handspan_core::watch::{Piece, Unwatched, Watch};
use handspan_processors::Processors;

/// The shortest time between two wakes for progress, in milliseconds.
const WAKE_EVERY: u64 = 50;

/// Where jobs run.
#[derive(Clone)]
pub enum Lane {
    /// On a thread of their own; the closure wakes whoever waits.
    Threads(Arc<dyn Fn() + Send + Sync>),
    /// In place, for tests: the work is done at the next poll, unless it was replaced or stopped before.
    Inline,
}

impl fmt::Debug for Lane {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Threads(_) => "Threads",
            Self::Inline => "Inline",
        })
    }
}

/// What became of a job.
#[derive(Debug, PartialEq, Eq)]
pub enum Outcome<T> {
    /// It answered.
    Answer(T),
    /// It ended without an answer, by a fault of this program.
    Lost,
}

/// A question that is being worked on, or none.
#[derive(Debug)]
pub struct Job<T> {
    running: Option<Running<T>>,
}

#[derive(Debug)]
struct Running<T> {
    signals: Arc<Signals>,
    part: Part<T>,
    answer: Answer<T>,
}

/// What has been found so far, until somebody takes it.
type Part<T> = Arc<Mutex<Option<T>>>;

/// Where the answer comes from.
enum Answer<T> {
    Thread(Receiver<T>),
    InPlace(Box<dyn FnOnce() -> T + Send>),
}

impl<T> fmt::Debug for Answer<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Thread(_) => "Thread",
            Self::InPlace(_) => "InPlace",
        })
    }
}

impl<T> Default for Job<T> {
    fn default() -> Self {
        Self { running: None }
    }
}

impl<T: Send + 'static> Job<T> {
    /// Starts work on a question in place of the one before. The name is the thread's.
    pub fn start(
        &mut self,
        lane: &Lane,
        name: &str,
        question: impl FnOnce(&dyn Watch) -> T + Send + 'static,
    ) {
        self.start_in_parts(lane, name, |watch, _| question(watch));
    }

    /// The same for work that tells what it has found so far. In place nobody hears it: the whole follows at once.
    pub fn start_in_parts(
        &mut self,
        lane: &Lane,
        name: &str,
        question: impl FnOnce(&dyn Watch, &(dyn Fn(T) + Sync)) -> T + Send + 'static,
    ) {
        self.stop();
        let signals = Arc::new(Signals::default());
        let part: Part<T> = Arc::default();
        let answer = match lane {
            Lane::Inline => Answer::InPlace(Box::new(move || question(&Unwatched, &|_| {}))),
            Lane::Threads(wake) => {
                let told = Arc::clone(&part);
                let (sender, answer) = sync_channel(1);
                let watcher = Watcher { signals: Arc::clone(&signals), wake: Arc::clone(wake), begun: now() };
                let work = move || {
                    // Wakes on every way out, a panic among them.
                    let _woken = WakeAtEnd(Arc::clone(&watcher.wake));
                    // Dropped before the wake, so that whoever wakes finds an answer or a closed channel.
                    let sender = sender;
                    let tell = |found| {
                        if let Ok(mut part) = told.lock() {
                            *part = Some(found);
                        }
                        (watcher.wake)();
                    };
                    drop(sender.send(question(&watcher, &tell)));
                };
                // Where no thread can be had, the channel is closed and the job shows as lost.
                drop(thread::Builder::new().name(name.to_owned()).spawn(work));
                Answer::Thread(answer)
            }
        };
        self.running = Some(Running { signals, part, answer });
    }

    /// The answer, once.
    pub fn poll(&mut self) -> Option<Outcome<T>> {
        let running = self.running.take()?;
        let answer = match running.answer {
            Answer::InPlace(question) => return Some(Outcome::Answer(question())),
            Answer::Thread(answer) => answer,
        };
        match answer.try_recv() {
            Ok(answer) => Some(Outcome::Answer(answer)),
            Err(TryRecvError::Disconnected) => Some(Outcome::Lost),
            Err(TryRecvError::Empty) => {
                self.running = Some(Running { answer: Answer::Thread(answer), ..running });
                None
            }
        }
    }
}

impl<T> Job<T> {
    /// What the work has found so far, once.
    pub fn part(&mut self) -> Option<T> {
        self.running.as_ref()?.part.lock().ok()?.take()
    }

    /// Asks the work to end; its answer, if it still comes, is not heard.
    pub fn stop(&mut self) {
        if let Some(running) = self.running.take() {
            running.signals.stop.store(true, Ordering::Relaxed);
        }
    }

    /// Whether an answer is being waited for.
    pub const fn is_running(&self) -> bool {
        self.running.is_some()
    }

    /// How much is done, from 0 to 1, where the work says so.
    pub fn progress(&self) -> Option<f32> {
        let signals = &self.running.as_ref()?.signals;
        let total = signals.total.load(Ordering::Relaxed);
        (total > 0).then(|| signals.done.load(Ordering::Relaxed).min(total) as f32 / total as f32)
    }
}

/// A job nobody waits for any more is stopped.
impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.stop();
    }
}

#[derive(Debug, Default)]
struct Signals {
    stop: AtomicBool,
    done: AtomicUsize,
    total: AtomicUsize,
    woken: AtomicU64,
}

struct Watcher {
    signals: Arc<Signals>,
    wake: Arc<dyn Fn() + Send + Sync>,
    begun: Instant,
}

impl Watch for Watcher {
    fn should_stop(&self) -> bool {
        self.signals.stop.load(Ordering::Relaxed)
    }

    fn progress(&self, done: usize, total: usize) {
        self.signals.done.store(done, Ordering::Relaxed);
        self.signals.total.store(total, Ordering::Relaxed);
        let time = self.begun.elapsed().as_millis() as u64;
        let last = self.signals.woken.load(Ordering::Relaxed);
        if time >= last + WAKE_EVERY {
            self.signals.woken.store(time, Ordering::Relaxed);
            (self.wake)();
        }
    }

    fn at_once(&self) -> usize {
        Processors.at_once()
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        Processors.side_by_side(pieces);
    }
}

struct WakeAtEnd(Arc<dyn Fn() + Send + Sync>);

impl Drop for WakeAtEnd {
    fn drop(&mut self) {
        (self.0)();
    }
}

#[expect(clippy::disallowed_methods, reason = "only how often the window is woken depends on it")]
fn now() -> Instant {
    Instant::now()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn threads() -> (Lane, Receiver<()>) {
        let (sender, woken) = sync_channel(64);
        let wake = move || {
            sender.try_send(()).ok();
        };
        (Lane::Threads(Arc::new(wake)), woken)
    }

    #[test]
    fn an_inline_job_answers_at_the_next_poll() {
        let mut job = Job::default();
        job.start(&Lane::Inline, "test", |_| 7);
        assert!(job.is_running());
        assert_eq!(job.poll(), Some(Outcome::Answer(7)));
        assert_eq!(job.poll(), None);
    }

    #[test]
    fn a_thread_wakes_whoever_waits_and_hears_the_stop() {
        let (lane, woken) = threads();
        let mut job = Job::default();
        let (told, hears) = sync_channel(1);
        job.start(&lane, "test", move |watch| {
            while !watch.should_stop() {
                thread::yield_now();
            }
            told.send(()).ok();
            1
        });
        job.start(&lane, "test", |_| 2);
        hears.recv().expect("the older run ends when a newer one begins");
        while job.is_running() {
            woken.recv().unwrap();
            if let Some(outcome) = job.poll() {
                assert_eq!(outcome, Outcome::Answer(2));
            }
        }
    }

    #[test]
    fn what_is_found_so_far_is_heard_before_the_answer() {
        let (lane, woken) = threads();
        let mut job = Job::default();
        let (go_on, heard) = sync_channel::<()>(1);
        job.start_in_parts(&lane, "test", move |_, tell| {
            tell(1);
            heard.recv().ok();
            2
        });
        woken.recv().unwrap();
        assert_eq!((job.part(), job.poll()), (Some(1), None));
        assert_eq!(job.part(), None);
        go_on.send(()).unwrap();
        woken.recv().unwrap();
        assert_eq!(job.poll(), Some(Outcome::Answer(2)));
    }

    #[test]
    fn a_panic_costs_the_job_alone() {
        let (lane, woken) = threads();
        let mut job: Job<u8> = Job::default();
        job.start(&lane, "test", |_| panic!("on purpose"));
        let outcome = loop {
            woken.recv().unwrap();
            if let Some(outcome) = job.poll() {
                break outcome;
            }
        };
        assert_eq!(outcome, Outcome::Lost);
    }
}
