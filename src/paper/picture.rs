//! A picture that the collector supplies: SVG or PNG.

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Error, Options, Tree};

/// A drawn picture. An SVG is drawn in so many dots that none is seen at the size of a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    pub(super) png: Vec<u8>,
    pub(super) width: u32,
    pub(super) height: u32,
    /// What of it is not drawn, to be told.
    pub note: Option<String>,
}

/// Why bytes are no picture to use.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    #[error("it has {0} bytes; a picture has at most {MOST_BYTES}")]
    TooManyBytes(usize),
    #[error("it is {0} x {1} dots; a picture has at most {MOST_DOTS} in all")]
    TooManyDots(u32, u32),
    #[error("it is neither SVG nor PNG")]
    Unknown,
    #[error("it is a broken SVG: {0}")]
    Svg(String),
    #[error("it is a broken PNG: {0}")]
    Png(String),
}

const MOST_BYTES: usize = 8_000_000;
const MOST_DOTS: u64 = 25_000_000;

/// The longer side of a drawn SVG in dots: 600 to the inch at 60 mm, and more on a narrow spine.
const DOTS: f32 = 1_417.0;

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";

impl Picture {
    /// Reads SVG or PNG. Nothing outside of the bytes is read: an SVG's links to other files are
    /// left out.
    ///
    /// # Errors
    /// The bytes are no such picture, or there are too many of them.
    pub fn read(bytes: &[u8]) -> Result<Self, PictureError> {
        if bytes.len() > MOST_BYTES {
            return Err(PictureError::TooManyBytes(bytes.len()));
        }
        let (pixels, note) = if bytes.starts_with(PNG) {
            (read_png(bytes)?, None)
        } else {
            read_svg(bytes)?
        };
        Ok(Self {
            width: pixels.width(),
            height: pixels.height(),
            png: pixels
                .encode_png()
                .map_err(|e| PictureError::Png(e.to_string()))?,
            note,
        })
    }

    /// Width by height.
    #[must_use]
    pub fn shape(&self) -> f64 {
        f64::from(self.width) / f64::from(self.height)
    }
}

fn read_png(bytes: &[u8]) -> Result<Pixmap, PictureError> {
    // Before anything is unpacked: the first chunk tells the size (ISO/IEC 15948, 11.2.2).
    let number = |at: usize| {
        let bytes = bytes.get(at..at + 4)?;
        bytes.try_into().map(u32::from_be_bytes).ok()
    };
    let (Some(width), Some(height)) = (number(16), number(20)) else {
        return Err(PictureError::Png("it ends too early".into()));
    };
    if u64::from(width) * u64::from(height) > MOST_DOTS {
        return Err(PictureError::TooManyDots(width, height));
    }
    Pixmap::decode_png(bytes).map_err(|e| PictureError::Png(e.to_string()))
}

fn read_svg(bytes: &[u8]) -> Result<(Pixmap, Option<String>), PictureError> {
    let words = std::str::from_utf8(bytes).map_err(|_| PictureError::Unknown)?;
    if !words.contains("<svg") {
        return Err(PictureError::Unknown);
    }
    let mut options = Options::default();
    // The usual resolver opens files; a picture brings its own parts along.
    options.image_href_resolver.resolve_string = Box::new(|_, _| None);
    let tree = Tree::from_str(words, &options).map_err(|e| PictureError::Svg(broken(&e)))?;
    let size = tree.size();
    let scale = DOTS / size.width().max(size.height());
    let dots = |length: f32| (length * scale).round().max(1.0) as u32;
    let (width, height) = (dots(size.width()), dots(size.height()));
    let Some(mut pixels) = Pixmap::new(width, height) else {
        return Err(PictureError::Svg("it has no size".into()));
    };
    let to_dots = Transform::from_scale(width as f32 / size.width(), height as f32 / size.height());
    resvg::render(&tree, to_dots, &mut pixels.as_mut());
    let note = words.contains("<text").then(|| {
        "words in the picture are not drawn; turn them into paths in a drawing program".to_owned()
    });
    Ok((pixels, note))
}

/// What is wrong with an SVG.
fn broken(e: &Error) -> String {
    match e {
        Error::NotAnUtf8Str => "it is no UTF-8 text".into(),
        Error::MalformedGZip => "it cannot be unpacked".into(),
        Error::ElementsLimitReached => "it has too many parts".into(),
        Error::InvalidSize => "it has no size".into(),
        Error::ParsingFailed(e) => {
            let at = e.pos();
            format!("line {}, column {} cannot be read", at.row, at.col)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TREE: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 40">
        <path d="M10 0 L20 30 H0 Z"/><rect x="8" y="30" width="4" height="10"/></svg>"#;

    #[test]
    fn an_svg_and_a_png_of_it_are_the_same_picture() {
        let drawn = Picture::read(TREE.as_bytes()).unwrap();
        assert_eq!(
            drawn.shape(),
            f64::from(drawn.width) / f64::from(drawn.height)
        );
        assert!((drawn.shape() - 0.5).abs() < 0.001);
        let again = Picture::read(&drawn.png).unwrap();
        assert_eq!((again.width, again.height), (drawn.width, drawn.height));
        assert_eq!(again.png, drawn.png);
        // Black where the trunk stands, nothing beside it.
        let pixels = Pixmap::decode_png(&drawn.png).unwrap();
        let alpha = |x: f64, y: f64| {
            let x = (x * f64::from(drawn.width)) as u32;
            let y = (y * f64::from(drawn.height)) as u32;
            pixels.pixel(x, y).unwrap().alpha()
        };
        assert_eq!((alpha(0.5, 0.9), alpha(0.1, 0.9)), (255, 0));
    }

    #[test]
    fn what_is_no_picture_is_told_in_words() {
        let why = |bytes: &[u8]| Picture::read(bytes).unwrap_err().to_string();
        assert_eq!(why(b""), "it is neither SVG nor PNG");
        assert_eq!(why(b"\xff\xfe"), "it is neither SVG nor PNG");
        assert!(why(b"<svg><g>").starts_with("it is a broken SVG: line 1, column "));
        let flat = TREE.replace("viewBox", "width=\"0\" viewBox");
        assert_eq!(why(flat.as_bytes()), "it is a broken SVG: it has no size");
        assert!(why(PNG).starts_with("it is a broken PNG: "));
        let whole = Picture::read(TREE.as_bytes()).unwrap().png;
        assert!(why(&whole[..whole.len() / 2]).starts_with("it is a broken PNG: "));
    }

    #[test]
    fn a_huge_picture_is_refused_before_it_is_unpacked() {
        let many = vec![b' '; MOST_BYTES + 1];
        assert_eq!(
            Picture::read(&many),
            Err(PictureError::TooManyBytes(MOST_BYTES + 1))
        );
        // The first 24 bytes of a PNG of 100,000 x 100,000 dots.
        let mut head = PNG.to_vec();
        head.extend(b"\0\0\0\rIHDR");
        head.extend(100_000u32.to_be_bytes());
        head.extend(100_000u32.to_be_bytes());
        assert_eq!(
            Picture::read(&head),
            Err(PictureError::TooManyDots(100_000, 100_000))
        );
        // Few bytes that would be a thousand million shapes.
        let mut bomb =
            String::from(r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">"#);
        bomb.push_str(r#"<defs><g id="l0"><rect width="1" height="1"/></g>"#);
        for level in 1..10 {
            let uses = format!(r##"<use href="#l{}"/>"##, level - 1).repeat(10);
            bomb.push_str(&format!(r#"<g id="l{level}">{uses}</g>"#));
        }
        bomb.push_str(r##"</defs><use href="#l9"/></svg>"##);
        assert!(matches!(
            Picture::read(bomb.as_bytes()),
            Err(PictureError::Svg(_))
        ));
        // So large that its drawing could have no size in dots.
        let wide = r#"<svg xmlns="http://www.w3.org/2000/svg" width="1e9" height="1e-9"/>"#;
        let read = Picture::read(wide.as_bytes());
        assert!(read.is_err() || read.is_ok_and(|p| p.width <= 1_417 && p.height >= 1));
    }

    #[test]
    fn a_picture_reads_no_other_file() {
        let outside = concat!(env!("CARGO_MANIFEST_DIR"), "/no/such/picture.png");
        let svg = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="{outside}" width="9" height="9"/></svg>"#
        );
        let drawn = Picture::read(svg.as_bytes()).unwrap();
        let pixels = Pixmap::decode_png(&drawn.png).unwrap();
        assert!(pixels.data().iter().all(|byte| *byte == 0));
    }

    #[test]
    fn words_in_a_picture_are_told_as_left_out() {
        let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text y="9">a</text></svg>"#;
        assert!(Picture::read(svg.as_bytes()).unwrap().note.is_some());
        assert_eq!(Picture::read(TREE.as_bytes()).unwrap().note, None);
    }
}
