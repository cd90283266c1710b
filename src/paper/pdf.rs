//! Writes a document as PDF: the same bytes for the same document, no time in it, fonts embedded.

use std::collections::BTreeMap;

use krilla::Document;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::drawing::{Drawing, Item, Pen, Sheet, Turn};
use super::font::{FontId, Fonts, Run};
use super::measure::{Area, POINTS_PER_MM};

/// Why a document could not be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the PDF could not be made: {0}")]
pub struct PdfError(String);

/// The document as PDF.
///
/// # Errors
/// A font or a picture cannot be put into it.
pub fn pdf(drawing: &Drawing, fonts: &Fonts<'_>) -> Result<Vec<u8>, PdfError> {
    let made = watched(drawing, fonts, &mut |_, _| true)?;
    Ok(made.unwrap_or_default())
}

/// [`pdf`], with how many sheets of how many are done told to `watch`, which says whether to go
/// on. `None` when it does not.
pub(super) fn watched(
    drawing: &Drawing,
    fonts: &Fonts<'_>,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<Option<Vec<u8>>, PdfError> {
    let mut document = Document::new();
    document.set_metadata(Metadata::new().title(drawing.title.clone()));
    let mut writer = Writer {
        fonts,
        loaded: BTreeMap::new(),
    };
    let of = drawing.sheets.len() as u64;
    for (done, sheet) in (0..).zip(&drawing.sheets) {
        if !watch(done, of) {
            return Ok(None);
        }
        writer.sheet(&mut document, sheet)?;
    }
    let bytes = document.finish();
    bytes.map(Some).map_err(|e| PdfError(format!("{e:?}")))
}

struct Writer<'w, 'f> {
    fonts: &'w Fonts<'f>,
    loaded: BTreeMap<FontId, Font>,
}

impl Writer<'_, '_> {
    fn sheet(&mut self, document: &mut Document, sheet: &Sheet) -> Result<(), PdfError> {
        let settings = PageSettings::from_wh(points(sheet.size.width), points(sheet.size.height));
        let settings = settings.ok_or_else(|| PdfError("a sheet has no size".into()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for item in &sheet.items {
            match item {
                Item::Text { run, at, turn } => self.text(&mut surface, run, *at, *turn)?,
                Item::Line { from, to, pen } => {
                    let mut path = PathBuilder::new();
                    path.move_to(points(from.0), points(from.1));
                    path.line_to(points(to.0), points(to.1));
                    draw(&mut surface, path, *pen);
                }
                Item::Frame { area, pen } => {
                    let mut path = PathBuilder::new();
                    // A line is drawn half on each side of its path.
                    if let Some(rect) = rect(area.inset(pen.width / 2.0)) {
                        path.push_rect(rect);
                    }
                    draw(&mut surface, path, *pen);
                }
                Item::Picture { area, picture } => {
                    let image = Image::from_png(picture.png.clone().into(), true);
                    let image = image.map_err(PdfError)?;
                    let size = Size::from_wh(points(area.width), points(area.height));
                    if let Some(size) = size {
                        let at = Transform::from_translate(points(area.x), points(area.y));
                        surface.push_transform(&at);
                        surface.draw_image(image, size);
                        surface.pop();
                    }
                }
            }
        }
        surface.finish();
        page.finish();
        Ok(())
    }

    fn font(&mut self, id: FontId) -> Result<Font, PdfError> {
        if let Some(font) = self.loaded.get(&id) {
            return Ok(font.clone());
        }
        let font = Font::new(self.fonts.data(id).to_vec().into(), 0);
        let font = font.ok_or_else(|| PdfError("a font cannot be embedded".into()))?;
        self.loaded.insert(id, font.clone());
        Ok(font)
    }

    fn text(
        &mut self,
        surface: &mut Surface<'_>,
        run: &Run,
        (x, y): (f64, f64),
        turn: Turn,
    ) -> Result<(), PdfError> {
        let (x, y) = (points(x), points(y));
        surface.push_transform(&match turn {
            Turn::Across => Transform::from_translate(x, y),
            Turn::Down => Transform::from_row(0.0, 1.0, -1.0, 0.0, x, y),
            Turn::Up => Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y),
        });
        surface.set_fill(Some(Fill::default()));
        surface.set_stroke(None);
        let size = points(run.size);
        // One font after the other, each from where the one before has ended.
        let mut along = 0.0;
        for chunk in run.glyphs.chunk_by(|a, b| a.font == b.font) {
            let font = self.font(chunk[0].font)?;
            let start = Point::from_xy(points(along * run.size), 0.0);
            let mut glyphs = Vec::with_capacity(chunk.len());
            for glyph in chunk {
                glyphs.push(KrillaGlyph::new(
                    GlyphId::new(u32::from(glyph.id)),
                    glyph.advance as f32,
                    (glyph.x - along) as f32,
                    glyph.y as f32,
                    0.0,
                    glyph.range.clone(),
                    None,
                ));
                along += glyph.advance;
            }
            surface.draw_glyphs(start, &glyphs, font, &run.words, size, false);
        }
        surface.pop();
        Ok(())
    }
}

fn draw(surface: &mut Surface<'_>, path: PathBuilder, pen: Pen) {
    let dash = pen.dashed.then(|| StrokeDash {
        array: vec![points(super::DASHES.0), points(super::DASHES.1)],
        offset: 0.0,
    });
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        width: points(pen.width),
        dash,
        ..Stroke::default()
    }));
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

fn rect(area: Area) -> Option<Rect> {
    Rect::from_xywh(
        points(area.x),
        points(area.y),
        points(area.width),
        points(area.height),
    )
}

/// Millimetres in points.
fn points(mm: f64) -> f32 {
    (mm * POINTS_PER_MM) as f32
}
