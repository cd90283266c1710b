//! A document as it will be on paper: sheets with words, lines, boxes and pictures at their places.
//!
//! Every document is made once as this description; [`super::pdf`] and [`super::svg`] write it.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::font::{Fonts, Run};
use super::measure::{Area, Size};
use super::picture::Picture;
use crate::text::{Choice, count};

/// Which way a line of words runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turn {
    /// From left to right.
    #[default]
    Across,
    /// From top to bottom; upright when what it stands on lies with its front up (ISO 6357).
    Down,
    /// From bottom to top.
    Up,
}

impl Choice for Turn {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("down", Self::Down),
        ("up", Self::Up),
        ("across", Self::Across),
    ];
}

impl Turn {
    /// Where a point lies that is `along` the line from its beginning and `below` it.
    #[must_use]
    pub fn point(self, (x, y): (f64, f64), along: f64, below: f64) -> (f64, f64) {
        match self {
            Self::Across => (x + along, y + below),
            Self::Down => (x - below, y + along),
            Self::Up => (x + below, y - along),
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// In millimetres.
    pub width: f64,
    pub dashed: bool,
}

impl Pen {
    pub const HAIR: Self = Self::solid(0.1);
    pub const FINE: Self = Self::solid(0.2);
    pub const STRONG: Self = Self::solid(0.5);

    #[must_use]
    pub const fn solid(width: f64) -> Self {
        Self {
            width,
            dashed: false,
        }
    }

    #[must_use]
    pub const fn dashed(width: f64) -> Self {
        Self {
            width,
            dashed: true,
        }
    }
}

/// Something drawn, in black.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Words in one line; `at` is where the line that the letters stand on begins.
    Text {
        run: Run,
        at: (f64, f64),
        turn: Turn,
    },
    Line {
        from: (f64, f64),
        to: (f64, f64),
        pen: Pen,
    },
    /// The outer edge of the line is the edge of the area.
    Frame {
        area: Area,
        pen: Pen,
    },
    Picture {
        area: Area,
        picture: Arc<Picture>,
    },
}

impl Item {
    /// The least rectangle around it. Of words it is the height of their line, not of the letters.
    #[must_use]
    pub fn area(&self) -> Area {
        match self {
            Self::Text { run, at, turn } => {
                let first = turn.point(*at, 0.0, -run.ascent());
                let last = turn.point(*at, run.width(), run.descent());
                around(first, last, 0.0)
            }
            Self::Line { from, to, pen } => around(*from, *to, pen.width / 2.0),
            Self::Frame { area, .. } | Self::Picture { area, .. } => *area,
        }
    }
}

fn around(a: (f64, f64), b: (f64, f64), margin: f64) -> Area {
    let (x, y) = (a.0.min(b.0), a.1.min(b.1));
    Area::new(x, y, (a.0 - b.0).abs(), (a.1 - b.1).abs()).inset(-margin)
}

/// A part of a sheet that belongs together: a label, a card, a line of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub area: Area,
    pub words: String,
}

/// One side of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    pub size: Size,
    pub items: Vec<Item>,
    /// What stands where, for a preview.
    pub parts: Vec<Part>,
}

impl Sheet {
    #[must_use]
    pub fn new(size: Size) -> Self {
        Self {
            size,
            items: Vec::new(),
            parts: Vec::new(),
        }
    }

    /// The whole of it.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::new(0.0, 0.0, self.size.width, self.size.height)
    }

    pub(super) fn text(&mut self, run: Run, at: (f64, f64), turn: Turn) {
        if !run.words.is_empty() {
            self.items.push(Item::Text { run, at, turn });
        }
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), pen: Pen) {
        self.items.push(Item::Line { from, to, pen });
    }

    pub(super) fn frame(&mut self, area: Area, pen: Pen) {
        self.items.push(Item::Frame { area, pen });
    }
}

/// A document on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    pub title: String,
    pub sheets: Vec<Sheet>,
    /// What the collector is to be told: words shortened, sizes assumed.
    pub notes: Vec<String>,
}

impl Drawing {
    /// The characters that no font has. Empty boxes stand in their places.
    #[must_use]
    pub fn missing(&self, fonts: &Fonts<'_>) -> BTreeSet<char> {
        (self.texts())
            .flat_map(|words| fonts.missing(words))
            .collect()
    }

    fn texts(&self) -> impl Iterator<Item = &str> {
        let items = self.sheets.iter().flat_map(|sheet| &sheet.items);
        items.filter_map(|item| match item {
            Item::Text { run, .. } => Some(run.words.as_str()),
            _ => None,
        })
    }

    /// Everything to be told: the notes, and the characters without a sign.
    #[must_use]
    pub fn told(&self, fonts: &Fonts<'_>) -> Vec<String> {
        const MOST: usize = 8;
        let mut told = self.notes.clone();
        let missing = self.missing(fonts);
        if !missing.is_empty() {
            let texts = self
                .texts()
                .filter(|words| !fonts.missing(words).is_empty());
            let texts = count(texts.count() as u64, "text has", "texts have");
            let named = missing.iter().take(MOST).map(char::to_string);
            let mut words = named.collect::<Vec<_>>().join(" ");
            if missing.len() > MOST {
                words.push_str(&format!(" and {} more", missing.len() - MOST));
            }
            told.push(format!(
                "{texts} letters that no font here has, printed as empty boxes: {words}; \
                 ringbound print takes a font that has them, --font FILE"
            ));
        }
        told
    }
}
