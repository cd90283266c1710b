//! A list or a sheet of words: headings, lines to tick, tables. Made once, told in four ways.

mod markdown;
mod pages;
mod plain;

/// Which edge of its column a cell stands at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    #[default]
    Left,
    Right,
}

/// Rows under headings.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    pub heads: Vec<(String, Align)>,
    pub rows: Vec<Vec<String>>,
    /// A box to tick before each row.
    pub boxes: bool,
}

impl Table {
    #[must_use]
    pub fn new(heads: &[(&str, Align)], boxes: bool) -> Self {
        Self {
            heads: heads
                .iter()
                .map(|(head, align)| ((*head).to_owned(), *align))
                .collect(),
            rows: Vec::new(),
            boxes,
        }
    }

    /// Adds a row; cells beyond the headings are left out.
    pub fn row<T: Into<String>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let mut row: Vec<String> = cells.into_iter().map(Into::into).collect();
        row.resize(self.heads.len(), String::new());
        self.rows.push(row);
    }

    /// The columns in which some row has something.
    fn used(&self) -> Vec<usize> {
        let some = |at: &usize| self.rows.iter().any(|row| !row[*at].is_empty());
        (0..self.heads.len()).filter(some).collect()
    }
}

/// A line to tick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    pub number: Option<usize>,
    pub words: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    Heading(String),
    /// Of less weight: a side of a page.
    Subheading(String),
    /// Line feeds in it begin a new line.
    Words(String),
    /// Lines without boxes, set in.
    Lines(Vec<String>),
    Ticks(Vec<Tick>),
    /// The same without boxes.
    Numbered(Vec<Tick>),
    /// A small picture of a page: rows of short words.
    Grid(Vec<Vec<String>>),
    /// Small pictures under their own words, side by side where there is room. A cell that begins
    /// with [`BOX`] is to be ticked.
    Tiles(Vec<(String, Vec<Vec<String>>)>),
    Table(Table),
}

/// A box to tick, among words.
pub const BOX: &str = "☐";

/// A document of words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listing {
    pub title: String,
    pub blocks: Vec<Block>,
}

impl Listing {
    #[must_use]
    pub fn new(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            blocks: Vec::new(),
        }
    }

    pub fn heading(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Heading(words.into()));
    }

    pub fn words(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Words(words.into()));
    }

    /// The same without boxes before rows and lines: to be read on a screen.
    #[must_use]
    pub fn without_boxes(mut self) -> Self {
        for block in &mut self.blocks {
            match block {
                Block::Table(table) => table.boxes = false,
                Block::Ticks(ticks) => *block = Block::Numbered(std::mem::take(ticks)),
                _ => {}
            }
        }
        self
    }

    /// A table without rows is left out.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }
}
