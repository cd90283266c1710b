//! Fonts: which has a character, and how wide words are, by the fonts' own advances.

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap};
use std::ops::Range;
use std::sync::Arc;

use rustybuzz::ttf_parser::OutlineBuilder;
use rustybuzz::{Direction, Face, Script, ShapePlan, UnicodeBuffer};
use unicode_segmentation::UnicodeSegmentation;

use crate::text::safe;

static PLAIN: &[u8] = include_bytes!("../../assets/fonts/DejaVuSans.ttf");
static BOLD: &[u8] = include_bytes!("../../assets/fonts/DejaVuSans-Bold.ttf");

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    #[default]
    Plain,
    Bold,
}

/// A font of [`Fonts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FontId(pub(super) usize);

/// The built-in fonts, and those that the collector names for characters that these lack.
pub struct Fonts<'f> {
    faces: Vec<Face<'f>>,
    data: Vec<&'f [u8]>,
    /// How a font sets a script is worked out once, which takes longer than to set a line.
    plans: RefCell<HashMap<(FontId, Script, bool), Arc<ShapePlan>>>,
}

impl std::fmt::Debug for Fonts<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Fonts")
            .field("faces", &self.faces.len())
            .finish()
    }
}

/// A drawn sign of a [`Run`]. Lengths are in em from the beginning of the run.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Glyph {
    pub(super) font: FontId,
    pub(super) id: u16,
    pub(super) x: f64,
    /// Upwards.
    pub(super) y: f64,
    pub(super) advance: f64,
    /// The bytes of the words that it shows.
    pub(super) range: Range<usize>,
}

/// Words in one line, measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    pub words: String,
    /// The em in millimetres.
    pub size: f64,
    pub(super) glyphs: Vec<Glyph>,
    /// In em.
    advance: f64,
    ascent: f64,
    descent: f64,
}

impl Run {
    /// In millimetres.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.advance * self.size
    }

    /// Above the line that the letters stand on, in millimetres.
    #[must_use]
    pub fn ascent(&self) -> f64 {
        self.ascent * self.size
    }

    /// Below it, in millimetres.
    #[must_use]
    pub fn descent(&self) -> f64 {
        self.descent * self.size
    }

    #[must_use]
    pub fn height(&self) -> f64 {
        self.ascent() + self.descent()
    }

    /// The same words in another size.
    #[must_use]
    pub fn at(self, size: f64) -> Self {
        Self { size, ..self }
    }
}

/// Why bytes are no font to use.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("it is no TrueType or OpenType font with drawn signs")]
pub struct FontError;

impl<'f> Fonts<'f> {
    const OWN: usize = 2;

    /// The built-in fonts alone: Latin, Greek, Cyrillic and many signs.
    #[must_use]
    pub fn own() -> Self {
        let data = [PLAIN, BOLD];
        let faces = data.iter().filter_map(|data| Face::from_slice(data, 0));
        Self {
            faces: faces.collect(),
            data: data.to_vec(),
            plans: RefCell::default(),
        }
    }

    /// Takes a font besides, of a collection of fonts the first. It is asked for characters that
    /// those before it lack.
    ///
    /// # Errors
    /// The bytes are no font.
    pub fn add(&mut self, data: &'f [u8]) -> Result<(), FontError> {
        let face = Face::from_slice(data, 0).ok_or(FontError)?;
        let tables = face.tables();
        let drawn = tables.glyf.is_some() || tables.cff.is_some() || tables.cff2.is_some();
        if !drawn || face.units_per_em() <= 0 {
            return Err(FontError);
        }
        self.faces.push(face);
        self.data.push(data);
        Ok(())
    }

    pub(super) fn data(&self, font: FontId) -> &'f [u8] {
        self.data[font.0]
    }

    /// The characters of the words that no font has, once each.
    #[must_use]
    pub fn missing(&self, words: &str) -> BTreeSet<char> {
        let words = harmless(words);
        let known = |c: char| {
            is_invisible(c) || (self.faces.iter()).any(|face| face.glyph_index(c).is_some())
        };
        words.chars().filter(|c| !known(*c)).collect()
    }

    /// Measures words in one line. Control characters become signs; a character that no font has
    /// is drawn as an empty box.
    #[must_use]
    pub fn run(&self, words: &str, weight: Weight, size: f64) -> Run {
        let words = harmless(words);
        let order = self.order(weight);
        let mut run = Run {
            size,
            glyphs: Vec::new(),
            advance: 0.0,
            ascent: 0.0,
            descent: 0.0,
            words: String::new(),
        };
        // The line is as high as the built-in font has it, whatever stands in it.
        self.heighten(&mut run, FontId(order[0]));
        let mut part: Option<(usize, Range<usize>)> = None;
        for (at, cluster) in words.grapheme_indices(true) {
            let font = self.font_of(cluster, &order);
            let end = at + cluster.len();
            match &mut part {
                Some((same, range)) if *same == font => range.end = end,
                _ => {
                    if let Some((font, range)) = part.replace((font, at..end)) {
                        self.shape(&mut run, &words, FontId(font), range);
                    }
                }
            }
        }
        if let Some((font, range)) = part {
            self.shape(&mut run, &words, FontId(font), range);
        }
        run.words = words;
        run
    }

    /// The fonts in the order in which they are asked.
    fn order(&self, weight: Weight) -> Vec<usize> {
        let own = match weight {
            Weight::Plain => [0, 1],
            Weight::Bold => [1, 0],
        };
        own.into_iter().chain(Self::OWN..self.faces.len()).collect()
    }

    fn font_of(&self, cluster: &str, order: &[usize]) -> usize {
        let has = |font: usize, c: char| self.faces[font].glyph_index(c).is_some();
        let seen = || cluster.chars().filter(|c| !is_invisible(*c));
        let whole = order.iter().find(|font| seen().all(|c| has(**font, c)));
        let first = || {
            let first = seen().next()?;
            order.iter().find(|font| has(**font, first))
        };
        *whole.or_else(first).unwrap_or(&order[0])
    }

    fn heighten(&self, run: &mut Run, font: FontId) {
        let face = &self.faces[font.0];
        let em = f64::from(face.units_per_em());
        run.ascent = run.ascent.max(f64::from(face.ascender()) / em);
        run.descent = run.descent.max(-f64::from(face.descender()) / em);
    }

    fn plan(&self, font: FontId, buffer: &UnicodeBuffer) -> Arc<ShapePlan> {
        let (script, direction) = (buffer.script(), buffer.direction());
        let key = (font, script, direction == Direction::RightToLeft);
        let mut plans = self.plans.borrow_mut();
        let plan = plans.entry(key).or_insert_with(|| {
            let face = &self.faces[font.0];
            Arc::new(ShapePlan::new(face, direction, Some(script), None, &[]))
        });
        plan.clone()
    }

    fn shape(&self, run: &mut Run, words: &str, font: FontId, part: Range<usize>) {
        self.heighten(run, font);
        let face = &self.faces[font.0];
        let em = f64::from(face.units_per_em());
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(&words[part.clone()]);
        buffer.guess_segment_properties();
        let shaped = rustybuzz::shape_with_plan(face, &self.plan(font, &buffer), buffer);
        let clusters: Vec<usize> = (shaped.glyph_infos().iter())
            .map(|info| info.cluster as usize)
            .collect();
        let mut starts = clusters.clone();
        starts.sort_unstable();
        starts.dedup();
        let end = |start: usize| {
            let next = starts.iter().find(|other| **other > start);
            next.copied().unwrap_or(part.len())
        };
        let infos = shaped.glyph_infos().iter().zip(shaped.glyph_positions());
        for ((info, position), cluster) in infos.zip(clusters) {
            run.glyphs.push(Glyph {
                font,
                // A font has at most 65,535 glyphs.
                id: info.glyph_id as u16,
                x: run.advance + f64::from(position.x_offset) / em,
                y: f64::from(position.y_offset) / em,
                advance: f64::from(position.x_advance) / em,
                range: part.start + cluster..part.start + end(cluster),
            });
            run.advance += f64::from(position.x_advance) / em;
        }
    }

    /// The outline of a glyph as the data of an SVG path, in em, upwards; empty where nothing is
    /// drawn.
    pub(super) fn outline(&self, font: FontId, glyph: u16) -> String {
        let face = &self.faces[font.0];
        let mut path = Path {
            data: String::new(),
            em: f32::from(u16::try_from(face.units_per_em()).unwrap_or(1_000)),
        };
        face.outline_glyph(rustybuzz::ttf_parser::GlyphId(glyph), &mut path);
        path.data
    }
}

/// Without control characters. The signs that stand for them on a screen are in few fonts.
fn harmless(words: &str) -> String {
    let sign = |c: char| matches!(c, '\u{2400}'..='\u{2421}');
    safe(words).replace(sign, "\u{fffd}")
}

/// Joiners and variation selectors: without a sign of their own.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200d}' | '\u{fe00}'..='\u{fe0f}' | '\u{2060}' | '\u{ad}')
}

struct Path {
    data: String,
    em: f32,
}

impl Path {
    fn add(&mut self, letter: char, numbers: &[f32]) {
        self.data.push(letter);
        for (at, number) in numbers.iter().enumerate() {
            if at > 0 {
                self.data.push(' ');
            }
            let number = f64::from(*number) / f64::from(self.em);
            self.data.push_str(&super::number::number(number, 5));
        }
    }
}

impl OutlineBuilder for Path {
    fn move_to(&mut self, x: f32, y: f32) {
        self.add('M', &[x, y]);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.add('L', &[x, y]);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.add('Q', &[x1, y1, x, y]);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.add('C', &[x1, y1, x2, y2, x, y]);
    }

    fn close(&mut self) {
        self.data.push('Z');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two characters drawn as blocks, made for these tests.
    static BLOCKS: &[u8] = include_bytes!("../../tests/data/two_blocks.ttf");

    #[test]
    fn words_are_as_wide_as_the_advances_of_their_letters() {
        let fonts = Fonts::own();
        // Advances in the table hmtx of the built-in font, of 2,048 to the em, as fontTools 4 reads
        // them: H 1540, i 569, full stop 651.
        let width = |words| fonts.run(words, Weight::Plain, 2_048.0).width();
        assert!((width("H") - 1_540.0).abs() < 1e-6);
        assert!((width("Hi") - (1_540.0 + 569.0)).abs() < 1e-6);
        assert!((width("iii.") - (3.0 * 569.0 + 651.0)).abs() < 1e-6);
        let run = fonts.run("Hi", Weight::Plain, 10.0);
        assert!((run.width() - 10.0 * 2_109.0 / 2_048.0).abs() < 1e-9);
        // hhea: ascender 1901, descender -483.
        assert!((run.height() - 10.0 * 2_384.0 / 2_048.0).abs() < 1e-6);
    }

    #[test]
    fn accents_greek_and_cyrillic_are_built_in() {
        let fonts = Fonts::own();
        let words = "Ålder Øre Œuvre Žluť Ğ ß Ελληνική Кириллица Їжак Ő";
        for weight in [Weight::Plain, Weight::Bold] {
            assert_eq!(fonts.missing(words), BTreeSet::new());
            let run = fonts.run(words, weight, 4.0);
            assert!(run.glyphs.iter().all(|glyph| glyph.id != 0));
        }
        // The same letter in one character or in two (Unicode, canonical equivalence).
        let one = fonts.run("é", Weight::Plain, 4.0);
        let two = fonts.run("e\u{301}", Weight::Plain, 4.0);
        assert_eq!(one.width(), two.width());
    }

    #[test]
    fn a_character_that_no_font_has_is_told_and_a_named_font_is_asked_for_it() {
        let mut fonts = Fonts::own();
        let words = "Wood 森 and 橋";
        assert_eq!(fonts.missing(words), BTreeSet::from(['森', '橋']));
        fonts.add(BLOCKS).unwrap();
        assert_eq!(fonts.missing(words), BTreeSet::new());
        let run = fonts.run(words, Weight::Bold, 4.0);
        assert_eq!(
            run.glyphs.iter().filter(|glyph| glyph.font.0 == 2).count(),
            2
        );
        assert!(run.glyphs.iter().all(|glyph| glyph.id != 0));
        // Every byte of the words is shown by some glyph.
        let covered: BTreeSet<usize> = (run.glyphs.iter()).flat_map(|g| g.range.clone()).collect();
        assert_eq!(covered, (0..words.len()).collect());
    }

    #[test]
    fn bytes_that_are_no_font_are_refused() {
        let mut fonts = Fonts::own();
        assert_eq!(fonts.add(b""), Err(FontError));
        assert_eq!(fonts.add(b"no font at all"), Err(FontError));
        assert_eq!(fonts.add(&PLAIN[..1_000]), Err(FontError));
    }

    #[test]
    fn control_characters_are_drawn_as_signs() {
        let fonts = Fonts::own();
        let run = fonts.run("a\u{1b}[31m\nb", Weight::Plain, 4.0);
        assert!(run.words.chars().all(|c| !c.is_control()));
        assert_eq!(fonts.missing("a\u{1b}[31m\nb"), BTreeSet::new());
    }
}
