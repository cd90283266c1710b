//! One arrangement.

use std::collections::HashMap;

use serde_json::value::RawValue;

use super::object::{Pocket, Text, Whole};
use super::{LineColumn, MOST_PAGES, MOST_POCKETS, Remark};
use crate::model::PageFormat;
use crate::plan::task::Grid;
use crate::store::strings::Str;
use crate::text::count;

const FORMAT: &str = "ringbound-arrangement";
const VERSION: i64 = 1;

/// What a file of binders holds. Printings are named as in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrangement {
    pub(super) binders: Vec<Binder>,
    pub(super) loose: Vec<String>,
    /// What was left out, with its place.
    pub notes: Vec<Remark>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Binder {
    pub(super) id: String,
    pub(super) pages_move: bool,
    pub(super) pages: Vec<Page>,
    pub(super) at: LineColumn,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Page {
    pub(super) id: String,
    pub(super) grid: Grid,
    /// Front row by row, then back.
    pub(super) pockets: Vec<Option<String>>,
    pub(super) at: LineColumn,
}

/// Reads an arrangement. A byte order mark is let pass.
///
/// # Errors
/// Says where the text is not an arrangement, and what would be right.
pub fn read_arrangement(bytes: &[u8]) -> Result<Arrangement, Remark> {
    let body = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let whole = std::str::from_utf8(body).map_err(|error| {
        let good = std::str::from_utf8(&body[..error.valid_up_to()]).unwrap_or_default();
        Remark {
            at: Text::new(good).at(&good[good.len()..]),
            what: "this is not UTF-8 text".into(),
        }
    })?;
    let mut reader = Reader {
        text: Text::new(whole),
        binders: HashMap::new(),
        pages: HashMap::new(),
        pockets: 0,
    };
    let mut arrangement = reader.top(whole)?;
    arrangement.notes = reader.text.notes;
    Ok(arrangement)
}

struct Reader<'t> {
    text: Text<'t>,
    /// Ids, and the line each is on.
    binders: HashMap<String, usize>,
    pages: HashMap<String, usize>,
    pockets: usize,
}

impl<'t> Reader<'t> {
    fn top(&mut self, whole: &'t str) -> Result<Arrangement, Remark> {
        let keys = ["format", "version", "binders", "loose"];
        let top = self.text.object(whole, "the arrangement", &keys)?;
        let format = top.need("format")?;
        if *self.text.parse::<Str<'_>>(format)? != *FORMAT {
            return Err(self.wrong(format, format!("the format must be \"{FORMAT}\"")));
        }
        let version = top.need("version")?;
        let Whole(found) = self.text.parse(version)?;
        if found != VERSION {
            return Err(self.wrong(
                version,
                format!(
                    "this is version {found} of the format; this program reads version {VERSION}"
                ),
            ));
        }
        let raw: Vec<&'t RawValue> = self.text.parse(top.need("binders")?)?;
        let binders = raw.iter().map(|raw| self.binder(raw.get()));
        let binders = binders.collect::<Result<_, _>>()?;
        let mut loose = Vec::new();
        if let Some(raw) = top.get("loose") {
            let cards: Vec<&'t RawValue> = self.text.parse(raw)?;
            for card in cards {
                let Pocket(name) = self.text.parse(card.get())?;
                let name = name.ok_or_else(|| {
                    self.wrong(
                        card.get(),
                        "a loose copy is a card as a string, not null".into(),
                    )
                })?;
                loose.push((*name).to_owned());
                self.count(1, card.get())?;
            }
        }
        Ok(Arrangement {
            binders,
            loose,
            notes: Vec::new(),
        })
    }

    fn binder(&mut self, part: &'t str) -> Result<Binder, Remark> {
        let keys = ["id", "pages_move", "pages"];
        let object = self.text.object(part, "the binder", &keys)?;
        let id = self.id(object.need("id")?, "binder", |reader| &mut reader.binders)?;
        let pages_move = self.text.parse(object.need("pages_move")?)?;
        let raw: Vec<&'t RawValue> = self.text.parse(object.need("pages")?)?;
        let pages = raw.iter().map(|raw| self.page(raw.get()));
        let pages = pages.collect::<Result<_, _>>()?;
        Ok(Binder {
            id,
            pages_move,
            pages,
            at: object.at,
        })
    }

    fn page(&mut self, part: &'t str) -> Result<Page, Remark> {
        let keys = ["id", "rows", "columns", "shared_pockets", "front", "back"];
        let object = self.text.object(part, "the page", &keys)?;
        let id = self.id(object.need("id")?, "page", |reader| &mut reader.pages)?;
        if self.pages.len() > MOST_PAGES {
            let what = format!("there are more than {MOST_PAGES} pages; plan fewer at a time");
            return Err(self.wrong(part, what));
        }
        let rows = self.size(object.need("rows")?, "rows")?;
        let columns = self.size(object.need("columns")?, "columns")?;
        let shared = match object.get("shared_pockets") {
            Some(raw) => self.text.parse(raw)?,
            None => false,
        };
        let back = object.get("back");
        let grid = Grid {
            rows,
            columns,
            sides: if back.is_some() { 2 } else { 1 },
            shared,
        };
        if shared && back.is_none() {
            let what = "front and back share their pockets, but the page has no “back”; add it, or \
                        say \"shared_pockets\":false";
            return Err(self.wrong(part, what.into()));
        }
        self.count(grid.per_side() * usize::from(grid.sides), part)?;
        let mut pockets = Vec::with_capacity(grid.per_side() * usize::from(grid.sides));
        self.side(object.need("front")?, "front", grid, &mut pockets)?;
        if let Some(back) = back {
            self.side(back, "back", grid, &mut pockets)?;
        }
        Ok(Page {
            id,
            grid,
            pockets,
            at: object.at,
        })
    }

    fn side(
        &self,
        part: &'t str,
        side: &str,
        grid: Grid,
        pockets: &mut Vec<Option<String>>,
    ) -> Result<(), Remark> {
        let rows: Vec<&'t RawValue> = self.text.parse(part)?;
        if rows.len() != usize::from(grid.rows) {
            return Err(self.wrong(
                part,
                format!(
                    "the {side} has {}; the page says {}",
                    count(rows.len() as u64, "row", "rows"),
                    grid.rows
                ),
            ));
        }
        for row in rows {
            let cells: Vec<&'t RawValue> = self.text.parse(row.get())?;
            if cells.len() != usize::from(grid.columns) {
                return Err(self.wrong(
                    row.get(),
                    format!(
                        "this row of the {side} has {}; the page says {}",
                        count(cells.len() as u64, "pocket", "pockets"),
                        grid.columns
                    ),
                ));
            }
            for cell in cells {
                let Pocket(card) = self.text.parse(cell.get())?;
                pockets.push(card.map(|card| (*card).to_owned()));
            }
        }
        Ok(())
    }

    /// Rows or columns.
    fn size(&self, part: &'t str, what: &str) -> Result<u8, Remark> {
        let Whole(size) = self.text.parse(part)?;
        let fits = u8::try_from(size).ok();
        let fits = fits.filter(|size| (1..=PageFormat::MOST).contains(size));
        fits.ok_or_else(|| {
            let what = format!("{size} {what}; a page has 1 to {}", PageFormat::MOST);
            self.wrong(part, what)
        })
    }

    fn id(
        &mut self,
        part: &'t str,
        what: &str,
        known: impl Fn(&mut Self) -> &mut HashMap<String, usize>,
    ) -> Result<String, Remark> {
        let id: Str<'_> = self.text.parse(part)?;
        if id.is_empty() {
            return Err(self.wrong(part, format!("the {what} needs an id that is not empty")));
        }
        let at = self.text.at(part);
        match known(self).insert((*id).to_owned(), at.line) {
            None => Ok((*id).to_owned()),
            Some(line) => Err(Remark {
                at,
                what: format!(
                    "there is a {what} “{}” already, in line {line}; give each an id of its own",
                    &*id
                ),
            }),
        }
    }

    fn count(&mut self, pockets: usize, part: &str) -> Result<(), Remark> {
        self.pockets += pockets;
        if self.pockets > MOST_POCKETS {
            let what = format!("there are more than {MOST_POCKETS} pockets; plan fewer at a time");
            return Err(self.wrong(part, what));
        }
        Ok(())
    }

    fn wrong(&self, part: &str, what: String) -> Remark {
        Remark {
            at: self.text.at(part),
            what,
        }
    }
}
