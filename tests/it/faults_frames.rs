//! Events at random over every screen, a frame after each: nothing panics, the collection stays
//! whole, and no cell holds what could steer the terminal.

use std::collections::HashSet;
use std::path::Path;
use std::rc::Rc;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use ratatui::buffer::Buffer;
use ringbound::demo;
use ringbound::model::Collection;
use ringbound::session::{Access, Open, Session};
use ringbound::store::files::Files;
use ringbound::ui::{App, Colours, Context, Flow, Look, Theme, bindings};

use crate::scene::Scene;
use crate::support::files::{InMemory, Watched};
use crate::support::kept::clock;
use crate::ui_lists::their_lists;
use crate::ui_robust::hostile;

/// The largest terminal of these runs, in cells.
const LARGEST: (usize, usize) = (199, 59);

/// Numbers by chance from a seed: SplitMix64 (Steele, Lea, Flood 2014).
struct Chance(u64);

impl Chance {
    fn number(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, bound: usize) -> usize {
        (self.number() % bound as u64) as usize
    }

    fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    /// A cell, or a size: now and then none at all, now and then outside.
    fn cell(&mut self) -> (u16, u16) {
        let (width, height) = LARGEST;
        (self.below(width + 1) as u16, self.below(height + 1) as u16)
    }

    /// Never a slash, so that a file that is named so lies in the folder of the run.
    fn character(&mut self) -> char {
        let c = match self.below(8) {
            0..4 => self.pick(&[
                'a', 'e', 'r', 'm', 'M', 'Z', ' ', '0', '1', '2', '3', '9', '-', '.', ',', ';', '#',
            ]),
            4 => self.pick(&[
                '\u{1b}',
                '\u{9b}',
                '\u{7f}',
                '\0',
                '\r',
                '\n',
                '\t',
                '\u{7}',
                '\u{202e}',
                '\u{2066}',
                '\u{200b}',
                '\u{200d}',
                '\u{feff}',
                '\u{e0041}',
            ]),
            5 => self.pick(&[
                '漢',
                '\u{301}',
                '\u{1f468}',
                '\u{fe0f}',
                'ß',
                '\u{1f1e9}',
                'ه',
            ]),
            6 => char::from(0x20 + self.below(0x5f) as u8),
            _ => char::from_u32(self.below(0x11_0000) as u32).unwrap_or('\u{d7ff}'),
        };
        if matches!(c, '/' | '\\') { '_' } else { c }
    }

    fn text(&mut self, most: usize) -> String {
        (0..=self.below(most)).map(|_| self.character()).collect()
    }

    fn mouse(&mut self) -> Event {
        let (column, row) = self.cell();
        let kinds = [
            MouseEventKind::Down(MouseButton::Left),
            MouseEventKind::Down(MouseButton::Left),
            MouseEventKind::Down(MouseButton::Right),
            MouseEventKind::Down(MouseButton::Middle),
            MouseEventKind::Drag(MouseButton::Left),
            MouseEventKind::Up(MouseButton::Left),
            MouseEventKind::Moved,
            MouseEventKind::ScrollDown,
            MouseEventKind::ScrollUp,
        ];
        Event::Mouse(MouseEvent {
            kind: self.pick(&kinds),
            // The lower half of a large screen is often beyond a small one.
            column: if self.below(4) == 0 {
                column
            } else {
                column % 80
            },
            row: if self.below(4) == 0 { row } else { row % 24 },
            modifiers: KeyModifiers::NONE,
        })
    }

    fn event(&mut self, context: Context) -> Event {
        let key = |code| Event::Key(KeyEvent::new(code, KeyModifiers::NONE));
        match self.below(100) {
            0..55 => {
                let here: Vec<_> = bindings().iter().filter(|b| b.context == context).collect();
                Event::Key(self.pick(&here).key.event())
            }
            55..60 => Event::Key(bindings()[self.below(bindings().len())].key.event()),
            60..72 => key(KeyCode::Char(self.character())),
            72..75 => key(self.pick(&[
                KeyCode::Backspace,
                KeyCode::Delete,
                KeyCode::Home,
                KeyCode::End,
                KeyCode::Left,
                KeyCode::Right,
                KeyCode::F(5),
                KeyCode::Null,
            ])),
            75..86 => self.mouse(),
            86..97 => {
                let (width, height) = self.cell();
                Event::Resize(width, height)
            }
            97 => Event::Resize(self.below(3) as u16, self.below(3) as u16),
            98 => Event::Paste(self.text(20)),
            _ => match self.below(20) {
                0 => Event::Paste(self.text(20_000)),
                1 => Event::FocusLost,
                _ => Event::Paste(self.below(200).to_string()),
            },
        }
    }
}

/// Keys that lead from the shelf to a screen, so that the deep ones are not met by luck alone.
pub(crate) const WAYS_IN: &[&str] = &[
    "",
    "enter",
    "enter c",
    "enter C",
    "enter m right",
    "enter a",
    "enter d",
    "enter d n",
    "enter g",
    "enter a s",
    "enter a s down down enter",
    "enter a s down down enter g",
    "enter a s down down enter enter",
    "enter a s down down enter t",
    "enter n +",
    "enter right + t",
    "w",
    "w enter",
    "e",
    "b",
    "b tab",
    "b g",
    "l",
    "l tab",
    "l f2",
    "x",
    "P",
    "enter P",
    "h",
    "f",
    "f 1",
    "s",
    "?",
];

/// The first character that must not be in a cell: controls of ECMA-48 (general category Cc),
/// bidirectional controls of UAX #9, and the zero-width characters, a filler that is blank, separators, annotations and
/// tags of the Unicode block charts. A joiner may stand inside a picture. More than four marks
/// without a width of their own are too many.
pub(crate) fn let_through(symbol: &str) -> Option<char> {
    let mut marks = 0;
    let last = symbol.chars().count().saturating_sub(1);
    symbol.chars().enumerate().find_map(|(at, c)| {
        marks = if unicode_width::UnicodeWidthChar::width(c) == Some(0) && c != '\u{200d}' {
            marks + 1
        } else {
            0
        };
        let steers = c.is_control()
            || matches!(
                c,
                '\u{ad}' | '\u{61c}' | '\u{115f}' | '\u{180e}' | '\u{200b}' | '\u{200c}'
            )
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}')
            || matches!(c, '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}')
            || matches!(c, '\u{e0000}'..='\u{e0fff}')
            || (c == '\u{200d}' && (at == 0 || at == last))
            || marks > 4;
        steers.then_some(c)
    })
}

/// No cell of the frame holds what steers a terminal.
pub(crate) fn assert_harmless(frame: &Buffer) {
    for cell in &frame.content {
        let symbol = cell.symbol();
        if symbol.len() == 1 && symbol.as_bytes()[0] >= 0x20 && symbol.as_bytes()[0] < 0x7f {
            continue;
        }
        assert_eq!(let_through(symbol), None, "{symbol:?}");
    }
}

/// An empty disk that breaks at this call of the store.
fn failing(from: usize) -> Session {
    let files = Watched::planned(Rc::new(InMemory::default()), move |call| {
        if call < from {
            Ok(())
        } else {
            Err(std::io::Error::other("the disk is gone"))
        }
    });
    let files: Rc<dyn Files> = Rc::new(files);
    let folder = Path::new("/home/shelf");
    let (mut session, _) = Session::open_on(files, folder, Open::ForWriting, clock()).unwrap();
    for step in demo::step_by_step() {
        // From some step on this fails, as it should.
        if session.commit(step).is_err() {
            break;
        }
    }
    session
}

/// What a run met.
#[derive(Default)]
struct Met {
    events: usize,
    frames: usize,
    sizes: HashSet<(u16, u16)>,
    /// Steps that were kept, done again or taken back.
    changes: usize,
    contexts: HashSet<Context>,
    /// Runs in which the disk broke, so that only reading was left.
    broken: usize,
}

struct Runs {
    collections: [Collection; 3],
    folder: tempfile::TempDir,
    swap: [String; 2],
    met: Met,
}

/// Tells the seed of a run that ended in a panic.
struct Told(u64);

impl Drop for Told {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("the seed of the run: {}", self.0);
        }
    }
}

impl Runs {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let swap = their_lists(folder.path());
        Self {
            collections: [demo::collection(), hostile(), Collection::new()],
            folder,
            swap,
            met: Met::default(),
        }
    }

    fn run(&mut self, seed: u64, events: usize) {
        let told = Told(seed);
        let mut chance = Chance(seed);
        let look = Look {
            colours: chance.pick(&[Colours::None, Colours::Indexed, Colours::True]),
            ascii: chance.below(3) == 0,
        };
        let session = match chance.below(20) {
            0..11 => Session::in_memory(self.collections[0].clone()),
            11..16 => Session::in_memory(self.collections[1].clone()),
            16..18 => Session::in_memory(self.collections[2].clone()),
            _ => failing(30 + chance.below(80)),
        };
        let size = (80, 24);
        let mut scene = Scene::new(Session::in_memory(Collection::new()), look, size);
        let app = App::new(session, Theme::new(look), size);
        let folder = self.folder.path().to_owned();
        scene.app = app
            .with_prices(demo::prices(), vec!["line 3".into()])
            .in_folder((chance.below(4) != 0).then_some(folder));
        let way = chance.pick(WAYS_IN);
        scene.keys(way);
        if way == "x" {
            scene.event(&Event::Paste(self.swap[0].clone()));
            scene.keys("tab");
            scene.event(&Event::Paste(self.swap[1].clone()));
            scene.keys("enter");
        }
        let mut revision = scene.app.session().revision();
        for _ in 0..events {
            let context = scene.app.context();
            self.met.contexts.insert(context);
            let flow = if scene.app.turns() && chance.below(2) == 0 {
                let flow = scene.app.turn();
                scene.draw();
                flow
            } else {
                scene.event(&chance.event(context))
            };
            self.met.events += 1;
            self.met.frames += 1;
            let area = scene.frame.area;
            self.met.sizes.insert((area.width, area.height));
            assert_harmless(&scene.frame);
            let now = scene.app.session().revision();
            if now != revision {
                revision = now;
                self.met.changes += 1;
                assert_eq!(scene.app.session().collection().check(), Vec::new());
            }
            if flow == Flow::Quit {
                break;
            }
        }
        let session = scene.app.session();
        self.met.broken += usize::from(session.access() != Access::Writable);
        assert_eq!(session.collection().check(), Vec::new());
        drop(told);
    }
}

impl Met {
    fn add(&mut self, other: Self) {
        self.events += other.events;
        self.frames += other.frames;
        self.sizes.extend(other.sizes);
        self.changes += other.changes;
        self.contexts.extend(other.contexts);
        self.broken += other.broken;
    }

    fn tell(&self) {
        println!(
            "events: {}, frames: {}, of sizes: {}, changes kept: {}, contexts: {}, broken disks: {}",
            self.events,
            self.frames,
            self.sizes.len(),
            self.changes,
            self.contexts.len(),
            self.broken
        );
    }
}

pub(crate) fn all_contexts() -> HashSet<Context> {
    bindings().iter().map(|binding| binding.context).collect()
}

#[test]
fn random_events_over_every_screen_break_nothing() {
    let here = || std::fs::read_dir(".").unwrap().count();
    let before = here();
    let mut runs = Runs::new();
    for seed in 0..96 {
        runs.run(seed, 60);
    }
    runs.met.tell();
    let missed: Vec<_> = all_contexts()
        .difference(&runs.met.contexts)
        .copied()
        .collect();
    assert_eq!(missed, [], "screens that were never met");
    assert_eq!(
        here(),
        before,
        "a file was written outside the folder of the run"
    );
    assert!(runs.met.changes > 15 && runs.met.broken > 0);
}

#[test]
#[ignore = "the long run"]
fn long_a_million_random_events_and_as_many_frames() {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let run = |first: usize| {
        let mut runs = Runs::new();
        let mut seed = 1_000 + first as u64;
        while runs.met.events < 1_000_000 / threads + 1 {
            runs.run(seed, 300);
            seed += threads as u64;
        }
        runs.met
    };
    let mut met = Met::default();
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..threads)
            .map(|first| scope.spawn(move || run(first)))
            .collect();
        for thread in threads {
            met.add(thread.join().unwrap());
        }
    });
    met.tell();
    assert!(met.events >= 1_000_000 && met.frames >= 100_000);
    assert_eq!(met.contexts, all_contexts());
    // There are 12,000 sizes from 0x0 to the largest; each tenth event or so draws one of them.
    assert!(met.sizes.len() > 11_000, "{}", met.sizes.len());
}
