//! A PDF read back with `lopdf`, and what it draws followed as ISO 32000-1 (8.3, 8.5, 9.4) says.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};

/// Points in a millimetre: 72 to the inch of 25.4 mm.
const POINTS: f64 = 72.0 / 25.4;

type Matrix = [f64; 6];

/// What a page draws, in millimetres from its upper left corner.
#[derive(Debug, Default)]
pub(crate) struct Drawn {
    pub(crate) width: f64,
    pub(crate) height: f64,
    /// Each path: its points.
    pub(crate) paths: Vec<Vec<(f64, f64)>>,
    /// Where a run of glyphs begins.
    pub(crate) text: Vec<(f64, f64)>,
}

pub(crate) struct Pdf(Document);

impl Pdf {
    pub(crate) fn read(bytes: &[u8]) -> Self {
        Self(Document::load_mem(bytes).unwrap())
    }

    pub(crate) fn pages(&self) -> Vec<Drawn> {
        let pages = self.0.get_pages();
        pages.values().map(|id| self.page(*id)).collect()
    }

    /// The words of a page (from 1), put together again from glyphs by the font's own table.
    pub(crate) fn words(&self, page: u32) -> String {
        self.0.extract_text(&[page]).unwrap()
    }

    /// The fonts with whether each is embedded.
    pub(crate) fn fonts(&self) -> Vec<(String, bool)> {
        let objects = self.0.objects.values();
        let dictionaries = objects.filter_map(|object| object.as_dict().ok());
        let descriptors = dictionaries.filter(|dict| {
            dict.get(b"Type")
                .is_ok_and(|kind| name(kind) == "FontDescriptor")
        });
        let font = |dict: &Dictionary| {
            let embedded = [&b"FontFile"[..], b"FontFile2", b"FontFile3"];
            let embedded = embedded.iter().any(|key| {
                let file = dict.get(key).and_then(Object::as_reference);
                let file = file
                    .and_then(|id| self.0.get_object(id))
                    .and_then(Object::as_stream);
                file.is_ok_and(|stream| !stream.content.is_empty())
            });
            (name(dict.get(b"FontName").unwrap()), embedded)
        };
        descriptors.map(font).collect()
    }

    pub(crate) fn pictures(&self) -> usize {
        let streams = self
            .0
            .objects
            .values()
            .filter_map(|object| object.as_stream().ok());
        let picture = |stream: &&lopdf::Stream| {
            let kind = stream.dict.get(b"Subtype");
            // The mask of a picture is one more.
            kind.is_ok_and(|kind| name(kind) == "Image") && stream.dict.has(b"SMask")
        };
        streams.filter(picture).count()
    }

    fn page(&self, id: lopdf::ObjectId) -> Drawn {
        let page = self.0.get_dictionary(id).unwrap();
        let media = page.get(b"MediaBox").and_then(Object::as_array).unwrap();
        let media: Vec<f64> = media.iter().map(number).collect();
        assert_eq!((media[0], media[1]), (0.0, 0.0));
        let mut drawn = Drawn {
            width: media[2] / POINTS,
            height: media[3] / POINTS,
            ..Drawn::default()
        };
        let content = Content::decode(&self.0.get_page_content(id)).unwrap();
        follow(&content, media[3], &mut drawn);
        drawn
    }
}

fn follow(content: &Content, height: f64, drawn: &mut Drawn) {
    const NONE: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut now, mut kept) = (NONE, Vec::new());
    let (mut text, mut line) = (NONE, NONE);
    let mut path: Vec<(f64, f64)> = Vec::new();
    for operation in &content.operations {
        let n: Vec<f64> = operation.operands.iter().map(number).collect();
        let at = |matrix: Matrix, x: f64, y: f64| {
            let (x, y) = apply(matrix, x, y);
            (x / POINTS, (height - y) / POINTS)
        };
        match operation.operator.as_str() {
            "q" => kept.push(now),
            "Q" => now = kept.pop().unwrap(),
            "cm" => now = times([n[0], n[1], n[2], n[3], n[4], n[5]], now),
            "m" | "l" => path.push(at(now, n[0], n[1])),
            "c" => path.push(at(now, n[4], n[5])),
            "re" => {
                path.push(at(now, n[0], n[1]));
                path.push(at(now, n[0] + n[2], n[1] + n[3]));
            }
            "S" | "s" | "f" | "f*" | "B" | "b" | "n" => {
                drawn.paths.push(std::mem::take(&mut path));
            }
            "BT" => (text, line) = (NONE, NONE),
            "Tm" => {
                line = [n[0], n[1], n[2], n[3], n[4], n[5]];
                text = line;
            }
            "Td" | "TD" => {
                line = times([1.0, 0.0, 0.0, 1.0, n[0], n[1]], line);
                text = line;
            }
            "Tj" | "TJ" => drawn.text.push(at(times(text, now), 0.0, 0.0)),
            _ => {}
        }
    }
}

/// The first, and after it the second.
fn times(a: Matrix, b: Matrix) -> Matrix {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    ]
}

fn apply(m: Matrix, x: f64, y: f64) -> (f64, f64) {
    (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])
}

fn number(object: &Object) -> f64 {
    match object {
        Object::Integer(number) => *number as f64,
        Object::Real(number) => f64::from(*number),
        _ => 0.0,
    }
}

fn name(object: &Object) -> String {
    String::from_utf8_lossy(object.as_name().unwrap_or_default()).into_owned()
}
