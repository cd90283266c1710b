//! A document that was made, and the files that it becomes.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use super::drawing::Drawing;
use super::font::Fonts;
use super::listing::Listing;
use super::measure::Size;
use super::pdf::{self, PdfError};
use super::svg::svg;
use crate::text::Choice;

/// How a document is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    Pdf,
    Svg,
    /// At [`PNG_DOTS`] dots to the inch.
    Png,
    Text,
    Markdown,
}

/// By the endings of their files.
impl Choice for Format {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("pdf", Self::Pdf),
        ("svg", Self::Svg),
        ("png", Self::Png),
        ("txt", Self::Text),
        ("md", Self::Markdown),
    ];
}

impl Format {
    /// By the ending of a file's name, in any case.
    #[must_use]
    pub fn of_ending(ending: &str) -> Option<Self> {
        Self::of_word(&ending.to_lowercase())
    }

    /// On sheets of paper, with fonts; otherwise it is words alone.
    #[must_use]
    pub fn is_drawn(self) -> bool {
        !matches!(self, Self::Text | Self::Markdown)
    }
}

/// Dots to the inch of a PNG.
pub const PNG_DOTS: f64 = 150.0;

/// The narrowest paper for a list with several columns.
const LEAST_WIDTH: f64 = 90.0;

/// Words, or a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Document {
    Listing(Listing),
    Drawing(Drawing),
}

/// Why a document cannot be written so.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DocumentError {
    #[error("it is drawn: only PDF, SVG and PNG can hold it")]
    Drawn,
    #[error("a list needs paper that is {LEAST_WIDTH} mm wide")]
    Narrow,
    #[error("there is no sheet {0}: it has {1}")]
    NoSheet(usize, usize),
    #[error("it was stopped")]
    Stopped,
    #[error("the PNG could not be made: {0}")]
    Png(String),
    #[error(transparent)]
    Pdf(#[from] PdfError),
}

/// One file of a document. SVG and PNG hold one sheet each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// From 1, where the document has several sheets in a file each.
    pub sheet: Option<usize>,
    pub bytes: Vec<u8>,
}

impl Document {
    /// On sheets of paper. A drawing was made for its own paper and stays as it is.
    #[must_use]
    pub fn drawing(&self, paper: Size, fonts: &Fonts<'_>) -> Drawing {
        match self {
            Self::Listing(listing) => listing.pages(paper, fonts),
            Self::Drawing(drawing) => drawing.clone(),
        }
    }

    /// The files of the document, or of its sheet `only` (from 1).
    ///
    /// # Errors
    /// The format cannot hold it, or there is no such sheet.
    pub fn write(
        &self,
        format: Format,
        paper: Size,
        fonts: &Fonts<'_>,
        only: Option<usize>,
    ) -> Result<Vec<Written>, DocumentError> {
        let whole = |bytes| vec![Written { sheet: None, bytes }];
        if let Format::Text | Format::Markdown = format {
            let Self::Listing(listing) = self else {
                return Err(DocumentError::Drawn);
            };
            let words = match format {
                Format::Text => listing.text(),
                _ => listing.markdown(),
            };
            return Ok(whole(words.into_bytes()));
        }
        if matches!(self, Self::Listing(_)) && paper.width < LEAST_WIDTH {
            return Err(DocumentError::Narrow);
        }
        let mut drawing = self.drawing(paper, fonts);
        if let Some(only) = only {
            let of = drawing.sheets.len();
            if !(1..=of).contains(&only) {
                return Err(DocumentError::NoSheet(only, of));
            }
            drawing.sheets = vec![drawing.sheets.swap_remove(only - 1)];
        }
        drawn(&drawing, format, fonts, &mut |_, _| true)
    }

    /// The files of the document, whose sheets are there already: [`Document::drawing`] on this
    /// paper. How many sheets of how many are done is told to `watch`, which says whether to go on.
    ///
    /// # Errors
    /// The format cannot hold it, or it was not to go on.
    pub fn write_drawn(
        &self,
        drawing: &Drawing,
        format: Format,
        (paper, fonts): (Size, &Fonts<'_>),
        watch: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Result<Vec<Written>, DocumentError> {
        let is_narrow = matches!(self, Self::Listing(_)) && paper.width < LEAST_WIDTH;
        if !format.is_drawn() || is_narrow {
            return self.write(format, paper, fonts, None);
        }
        drawn(drawing, format, fonts, watch)
    }
}

fn drawn(
    drawing: &Drawing,
    format: Format,
    fonts: &Fonts<'_>,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<Vec<Written>, DocumentError> {
    if format == Format::Pdf {
        let bytes = pdf::watched(drawing, fonts, watch)?;
        let bytes = bytes.ok_or(DocumentError::Stopped)?;
        return Ok(vec![Written { sheet: None, bytes }]);
    }
    let of = drawing.sheets.len();
    let several = of > 1;
    let sheets = (1..).zip(&drawing.sheets);
    let files = sheets.map(|(number, sheet)| {
        if !watch(number as u64 - 1, of as u64) {
            return Err(DocumentError::Stopped);
        }
        let svg = svg(&drawing.title, sheet, fonts);
        Ok(Written {
            sheet: several.then_some(number),
            bytes: match format {
                Format::Png => png(&svg)?,
                _ => svg.into_bytes(),
            },
        })
    });
    files.collect()
}

/// An SVG in dots, on white.
fn png(svg: &str) -> Result<Vec<u8>, DocumentError> {
    let failed = |e: &dyn std::fmt::Display| DocumentError::Png(e.to_string());
    let options = Options {
        dpi: PNG_DOTS as f32,
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options).map_err(|e| failed(&e))?;
    let size = tree.size();
    let dots = |length: f32| length.round().max(1.0) as u32;
    let pixels = Pixmap::new(dots(size.width()), dots(size.height()));
    let mut pixels = pixels.ok_or_else(|| failed(&"it is too large"))?;
    pixels.fill(Color::WHITE);
    resvg::render(&tree, Transform::identity(), &mut pixels.as_mut());
    encoded(pixels).map_err(|e| failed(&e))
}

/// With how many dots there are to the metre, so that it is printed as large as it was drawn.
fn encoded(pixels: Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixels.width(), pixels.height());
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    let to_metre = (PNG_DOTS / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: to_metre,
        yppu: to_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&pixels.take_demultiplied())?;
    writer.finish()?;
    Ok(bytes)
}

/// The file for one sheet of several: `labels.svg` and 2 are `labels-2.svg`.
#[must_use]
pub fn numbered(path: &Path, sheet: usize) -> PathBuf {
    let mut name: OsString = path.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{sheet}"));
    if let Some(ending) = path.extension() {
        name.push(".");
        name.push(ending);
    }
    path.with_file_name(name)
}
