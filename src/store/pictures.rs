//! Pictures of cards that a collector keeps in a folder of their own, found by their names.
//!
//! The rule: a folder for each set, called by its code; in it a file for each card, called by its
//! number, or by number and finish where a finish looks otherwise.
//!
//! ```text
//! pictures/FEN/12.png            card 12 of set FEN, in every finish
//! pictures/FEN/12 reverse.jpg    its reverse
//! pictures/FEN/007.webp          card 7: zeros in front do not count
//! ```
//!
//! Small and capital letters are the same. A sign that no file name can hold is written `_`.

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use image::{DynamicImage, ImageReader, Limits};

use crate::model::{Collection, PrintingId};

/// The endings of file names that are read.
const ENDINGS: [&str; 4] = ["png", "jpg", "jpeg", "webp"];
/// The most bytes of a file.
const MOST_BYTES: u64 = 32 << 20;
/// The most points of a picture in each direction.
const MOST_POINTS: u32 = 8_192;
/// The most memory that one picture may take while it is read.
const MOST_MEMORY: u64 = 256 << 20;
/// The most files that are listed.
const MOST_FILES: usize = 1_000_000;

/// What a card's picture may be called, the nearest first.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PictureName {
    set: String,
    with_finish: String,
    number: String,
}

impl PictureName {
    /// What the picture of a printing is called; `None` for a printing that is not there.
    #[must_use]
    pub fn of(collection: &Collection, printing: PrintingId) -> Option<Self> {
        let set = collection.set(printing.set())?;
        let card = collection.card(printing)?;
        let finish = set.finishes().get(usize::from(printing.finish()))?;
        let number = card.number.to_string();
        Some(Self {
            set: folded(&set.head().code),
            with_finish: folded(&format!("{number} {}", finish.name)),
            number: folded(&number),
        })
    }
}

/// The names in a folder of pictures.
#[derive(Debug, Default)]
pub struct Pictures {
    /// By set and by what comes before the ending, both folded.
    files: HashMap<String, HashMap<String, PathBuf>>,
    /// Files that are no pictures by their ending, or do not lie in a set's folder.
    others: Vec<PathBuf>,
}

/// Which pictures are those of printings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matched<'p> {
    /// Printings that have one.
    pub pictured: usize,
    /// Files that are none's, in order of their names.
    pub strays: Vec<&'p Path>,
}

impl Pictures {
    /// Lists a folder; one that is not there is empty. Of two files for one card the first by name
    /// counts.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub fn in_folder(folder: &Path) -> io::Result<Self> {
        let mut found = Self::default();
        let mut count = 0;
        for path in entries(folder)? {
            if !path.is_dir() {
                found.others.push(path);
                continue;
            }
            let set = folded(&path.file_name().unwrap_or_default().to_string_lossy());
            for file in entries(&path)? {
                count += 1;
                if count > MOST_FILES {
                    return Ok(found);
                }
                let ending = file.extension().unwrap_or_default().to_ascii_lowercase();
                if !file.is_file() || !ENDINGS.iter().any(|known| ending == *known) {
                    found.others.push(file);
                    continue;
                }
                let stem = folded(&file.file_stem().unwrap_or_default().to_string_lossy());
                let of_set = found.files.entry(set.clone()).or_default();
                of_set.entry(stem).or_insert(file);
            }
        }
        Ok(found)
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.files.is_empty()
    }

    /// The file of this name: of the finish if there is one, else of the card.
    #[must_use]
    pub fn file(&self, name: &PictureName) -> Option<&Path> {
        let of_set = self.files.get(&name.set)?;
        let file = of_set.get(&name.with_finish);
        file.or_else(|| of_set.get(&name.number))
            .map(PathBuf::as_path)
    }

    /// Every file that could be a card's, in order of their names.
    #[must_use]
    pub fn files(&self) -> Vec<&Path> {
        let files = self.files.values().flat_map(HashMap::values);
        let mut files: Vec<_> = files.map(PathBuf::as_path).collect();
        files.sort_unstable();
        files
    }

    /// The files held against the printings of a collection.
    #[must_use]
    pub fn against(&self, collection: &Collection) -> Matched<'_> {
        let mut pictured = 0;
        let mut used = std::collections::HashSet::new();
        for (id, set) in collection.sets() {
            for printing in set.printings(id) {
                let name = PictureName::of(collection, printing);
                if let Some(file) = name.and_then(|name| self.file(&name)) {
                    pictured += 1;
                    used.insert(file);
                }
            }
        }
        let others = self.others.iter().map(PathBuf::as_path);
        let files = self.files().into_iter().chain(others);
        let mut strays: Vec<_> = files.filter(|file| !used.contains(file)).collect();
        strays.sort_unstable();
        Matched { pictured, strays }
    }
}

/// What lies in a folder, by name; what begins with a dot is passed over.
fn entries(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let listed = match fs::read_dir(folder) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        listed => listed?,
    };
    let mut paths = Vec::new();
    for entry in listed.take(MOST_FILES) {
        let entry = entry?;
        if !entry.file_name().as_encoded_bytes().starts_with(b".") {
            paths.push(entry.path());
        }
    }
    paths.sort_unstable();
    Ok(paths)
}

/// The same for all ways of writing a name: zeros before its first figure aside, for those behind
/// a sign may be what tells two cards apart (`1.05`, `1.5`).
fn folded(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let mut in_number = false;
    let mut signs = name.trim().chars().peekable();
    while let Some(sign) = signs.next() {
        if sign == '0' && !in_number && signs.peek().is_some_and(char::is_ascii_digit) {
            continue;
        }
        in_number |= sign.is_ascii_digit();
        match sign {
            '/' | '\\' | ':' | '*' | '?' | '"' | '<' | '>' | '|' => out.push('_'),
            sign if sign.is_control() => out.push('_'),
            sign => out.extend(sign.to_lowercase()),
        }
    }
    out
}

/// Reads a picture, within limits, whatever the file holds.
///
/// # Errors
/// Why not, in words for a person, without the name of the file.
pub fn read_picture(file: &Path) -> Result<DynamicImage, String> {
    let words = |e: io::Error| e.to_string();
    let about = fs::metadata(file).map_err(words)?;
    if !about.is_file() {
        return Err("it is no plain file".into());
    }
    if about.len() > MOST_BYTES {
        return Err(format!("it is larger than {} MiB", MOST_BYTES >> 20));
    }
    let mut bytes = Vec::new();
    let opened = File::open(file).map_err(words)?;
    opened
        .take(MOST_BYTES)
        .read_to_end(&mut bytes)
        .map_err(words)?;
    decode(&bytes)
}

/// The same from bytes.
///
/// # Errors
/// As [`read_picture`].
pub fn decode(bytes: &[u8]) -> Result<DynamicImage, String> {
    let reader = ImageReader::new(io::Cursor::new(bytes)).with_guessed_format();
    let mut reader = reader.map_err(|e| e.to_string())?;
    if reader.format().is_none() {
        return Err("it is no PNG, JPEG or WebP".into());
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_POINTS);
    limits.max_image_height = Some(MOST_POINTS);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    reader.decode().map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn put(folder: &Path, name: &str, bytes: &[u8]) {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }

    #[test]
    fn names_are_the_same_whatever_case_zeros_and_signs_they_are_written_with() {
        assert_eq!(folded("007"), folded("7"));
        assert_eq!(folded("P03"), folded("p3"));
        assert_eq!(folded("0"), "0");
        assert_eq!(folded("00"), "0");
        assert_eq!(folded("100"), "100");
        assert_eq!(folded("12/120"), folded("12_120"));
        assert_ne!(folded("12a"), folded("12b"));
    }

    /// Common practice, no source: what stands behind a sign of a number tells two cards apart.
    #[test]
    fn zeros_within_a_number_tell_two_cards_apart() {
        assert_ne!(folded("1.05"), folded("1.5"));
        assert_ne!(folded("A1-07"), folded("A1-7"));
        assert_eq!(folded("007/120"), folded("7/120"));
    }

    #[test]
    fn a_finish_has_its_own_picture_or_that_of_the_card() {
        let collection = demo::collection();
        let (id, set) = collection.sets().next().unwrap();
        let code = set.head().code.to_string();
        let mut printings = set.printings(id);
        let (first, second) = (printings.next().unwrap(), printings.next().unwrap());
        assert_eq!(
            first.card(),
            second.card(),
            "the demo's first set has two finishes"
        );
        let number = collection.card(first).unwrap().number.to_string();
        let finish = &set.finishes()[usize::from(second.finish())].name;
        let folder = tempfile::tempdir().unwrap();
        put(folder.path(), &format!("{code}/{number}.png"), b"x");
        let name = |printing| PictureName::of(&collection, printing).unwrap();
        let pictures = Pictures::in_folder(folder.path()).unwrap();
        let of_card = folder.path().join(format!("{code}/{number}.png"));
        assert_eq!(pictures.file(&name(first)), Some(of_card.as_path()));
        assert_eq!(pictures.file(&name(second)), Some(of_card.as_path()));
        let own = format!("{}/{number} {finish}.JPG", code.to_lowercase());
        put(folder.path(), &own, b"x");
        let both = Pictures::in_folder(folder.path()).unwrap();
        let own = folder.path().join(own);
        assert_eq!(both.file(&name(second)), Some(own.as_path()));
        assert_eq!(both.file(&name(first)), Some(of_card.as_path()));
    }

    #[test]
    fn files_that_are_no_cards_are_told() {
        let collection = demo::collection();
        let (_, set) = collection.sets().next().unwrap();
        let code = set.head().code.to_string();
        let folder = tempfile::tempdir().unwrap();
        put(folder.path(), &format!("{code}/1.png"), b"x");
        put(folder.path(), &format!("{code}/no such number.png"), b"x");
        put(folder.path(), &format!("{code}/notes.txt"), b"x");
        put(folder.path(), "loose.png", b"x");
        put(folder.path(), "NOSET/1.png", b"x");
        put(folder.path(), &format!("{code}/.hidden"), b"x");
        let pictures = Pictures::in_folder(folder.path()).unwrap();
        let Matched { pictured, strays } = pictures.against(&collection);
        assert_eq!(pictured, set.finishes().len(), "card 1 in each finish");
        let names: Vec<_> = strays
            .iter()
            .map(|file| {
                file.strip_prefix(folder.path())
                    .unwrap()
                    .display()
                    .to_string()
            })
            .collect();
        let mut wanted = vec![
            format!("{code}/no such number.png"),
            format!("{code}/notes.txt"),
            "NOSET/1.png".to_owned(),
            "loose.png".to_owned(),
        ];
        wanted.sort_unstable();
        assert_eq!(names, wanted);
    }

    #[test]
    fn a_folder_that_is_not_there_holds_no_pictures() {
        let folder = tempfile::tempdir().unwrap();
        let none = Pictures::in_folder(&folder.path().join("pictures")).unwrap();
        assert!(none.is_empty());
    }

    /// The signature and the size of a PNG as in its standard (ISO/IEC 15948, 5.2 and 11.2.2),
    /// with a size that would take 12 gigabytes of memory.
    #[test]
    fn a_broken_a_cut_or_a_huge_picture_is_refused_with_a_word() {
        let mut whole = io::Cursor::new(Vec::new());
        DynamicImage::new_rgb8(3, 4)
            .write_to(&mut whole, image::ImageFormat::Png)
            .unwrap();
        let whole = whole.into_inner();
        let read = decode(&whole).unwrap();
        assert_eq!((read.width(), read.height()), (3, 4));
        for end in 0..whole.len() - 12 {
            assert!(decode(&whole[..end]).is_err(), "cut at {end}");
        }
        let mut huge = whole.clone();
        huge[16..24].copy_from_slice(&[0, 1, 0, 0, 0, 1, 0, 0]);
        let sum = crc32fast::hash(&huge[12..29]);
        huge[29..33].copy_from_slice(&sum.to_be_bytes());
        let why = decode(&huge).unwrap_err();
        assert!(why.contains("limit") || why.contains("size"), "{why}");
    }
}
