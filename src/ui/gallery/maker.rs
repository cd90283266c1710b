//! Reading and scaling pictures, on a thread of its own.

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use image::DynamicImage;
use image::imageops::FilterType;
use ratatui::layout::Size;
use ratatui_image::picker::cap_parser::QueryStdioOptions;
use ratatui_image::picker::{Picker, ProtocolType};
use ratatui_image::protocol::Protocol;
use ratatui_image::{FontSize, Resize};

use super::{Made, Wanted};
use crate::session::{Pictures, read_picture};
use crate::settings::PictureMode;
use crate::ui::theme::{Colours, Look};

/// How long a terminal may take to tell what it can show. One on this machine needs a
/// thousandth of it.
const ANSWER_WITHIN: Duration = Duration::from_millis(300);

/// How long the plain question of [`free_input`] may take.
const FREE_WITHIN: Duration = Duration::from_millis(60);

/// The name of the thread. A panic there is a picture that cannot be read, and no more.
pub(in crate::ui) const THREAD: &str = "pictures";

fn protocol(mode: PictureMode) -> Option<ProtocolType> {
    match mode {
        PictureMode::Auto | PictureMode::Off => None,
        PictureMode::Blocks => Some(ProtocolType::Halfblocks),
        PictureMode::Kitty => Some(ProtocolType::Kitty),
        PictureMode::Sixel => Some(ProtocolType::Sixel),
        PictureMode::Iterm2 => Some(ProtocolType::Iterm2),
    }
}

/// Makes pictures for the cells of one terminal.
#[derive(Debug)]
pub struct Maker {
    picker: Picker,
}

impl Maker {
    /// For a terminal that is ours already and from which nothing is read yet: it may be asked.
    /// `None` where no pictures are wanted, or none can be shown.
    #[must_use]
    pub fn for_terminal(mode: PictureMode, look: Look) -> Option<Self> {
        let is_plain = mode == PictureMode::Auto && look.colours == Colours::None;
        if mode == PictureMode::Off || look.ascii || is_plain {
            return None;
        }
        if mode == PictureMode::Blocks {
            return Some(Self::blocks());
        }
        let mut picker = Picker::from_query_stdio_with_options(QueryStdioOptions {
            timeout: ANSWER_WITHIN,
            ..QueryStdioOptions::default()
        })
        .unwrap_or_else(|_| Picker::halfblocks());
        if picker.capabilities().is_empty() {
            free_input();
        }
        if let Some(protocol) = protocol(mode) {
            picker.set_protocol_type(protocol);
        }
        // Half blocks in 256 colours look worse than a name.
        let blocks = picker.protocol_type() == ProtocolType::Halfblocks;
        (!blocks || look.colours == Colours::True).then_some(Self { picker })
    }

    /// Two points of colour in each cell, which needs nothing but colours.
    #[must_use]
    pub fn blocks() -> Self {
        Self {
            picker: Picker::halfblocks(),
        }
    }

    /// As large as there is room for, in its own proportions as far as whole cells allow: what is
    /// left of a cell at the edge would be filled with a colour that is not the picture's.
    #[must_use]
    pub fn make(&self, image: DynamicImage, size: Size) -> Option<(Protocol, usize)> {
        let font = self.picker.font_size();
        let size = cells_of((image.width(), image.height()), font, size)?;
        let (width, height) = (size.width * font.width, size.height * font.height);
        let image = image.resize_exact(width.into(), height.into(), FilterType::Triangle);
        let picture = self.picker.new_protocol(image, size, Resize::Scale(None));
        let picture = picture.ok()?;
        let cells = picture.size();
        let cells = usize::from(cells.width) * usize::from(cells.height);
        let bytes = match self.picker.protocol_type() {
            ProtocolType::Halfblocks => cells * 16,
            // Four bytes a point, written with a third more (base 64).
            _ => cells * usize::from(font.width) * usize::from(font.height) * 16 / 3,
        };
        Some((picture, bytes))
    }

    /// Reads the picture of this name and makes it.
    #[must_use]
    pub fn answer(&self, pictures: &Pictures, wanted: Wanted) -> Made {
        let file = pictures.file(&wanted.name);
        // What other people's files do to a decoder must not end the program.
        let made = file.and_then(|file| {
            let size = wanted.size;
            let make = || self.make(read_picture(file).ok()?, size);
            catch_unwind(AssertUnwindSafe(make)).ok().flatten()
        });
        let (picture, bytes) = made.map_or((None, 0), |(picture, bytes)| (Some(picture), bytes));
        Made {
            wanted,
            picture,
            bytes,
        }
    }
}

/// The cells that a picture of so many points takes, at most those of `room`; `None` for one without
/// points.
fn cells_of((width, height): (u32, u32), font: FontSize, room: Size) -> Option<Size> {
    if width == 0 || height == 0 || font.width == 0 || font.height == 0 {
        return None;
    }
    let of = |cells: u16, points: u16| f64::from(cells) * f64::from(points);
    let across = of(room.width, font.width) / f64::from(width);
    let down = of(room.height, font.height) / f64::from(height);
    let scale = across.min(down);
    let cells = |points: u32, of: u16, most: u16| {
        let cells = f64::from(points) * scale / f64::from(of);
        (cells.round() as u16).clamp(1, most.max(1))
    };
    Some(Size::new(
        cells(width, font.width, room.width),
        cells(height, font.height, room.height),
    ))
}

/// Where no answer came, whoever waits for it would take the first key for one. Every terminal
/// answers this (ECMA-48, DSR 5), also a multiplexer that keeps the other questions from it.
fn free_input() {
    let mut out = std::io::stdout();
    let asked = out.write_all(b"\x1b[5n").and_then(|()| out.flush());
    if asked.is_ok() {
        thread::sleep(FREE_WITHIN);
    }
}

/// What is wanted now, for the thread that makes it.
#[derive(Debug, Default)]
struct Queue {
    wanted: Mutex<Vec<Wanted>>,
    more: Condvar,
}

/// The way to the thread. It ends with the process.
#[derive(Debug)]
pub(in crate::ui) struct Asker {
    queue: Arc<Queue>,
}

impl Asker {
    /// Starts the thread; what is made is handed to `send`, until that refuses it.
    ///
    /// # Errors
    /// No thread can be had.
    pub(in crate::ui) fn start(
        maker: Maker,
        folder: PathBuf,
        send: impl Fn(Made) -> bool + Send + 'static,
    ) -> std::io::Result<Self> {
        let queue = Arc::<Queue>::default();
        let asked = Arc::clone(&queue);
        thread::Builder::new().name(THREAD.into()).spawn(move || {
            // A folder that cannot be read has no pictures; `ringbound pictures` says why.
            let pictures = Pictures::in_folder(&folder).unwrap_or_default();
            while send(maker.answer(&pictures, asked.next())) {}
        })?;
        Ok(Self { queue })
    }

    /// These, and no others asked for before: what has been leafed over is not made.
    pub(in crate::ui) fn ask(&self, mut wanted: Vec<Wanted>) {
        wanted.reverse();
        // The list is whole whatever happened to the one who held it.
        *self
            .queue
            .wanted
            .lock()
            .unwrap_or_else(PoisonError::into_inner) = wanted;
        self.queue.more.notify_one();
    }
}

impl Queue {
    fn next(&self) -> Wanted {
        let mut wanted = self.wanted.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if let Some(next) = wanted.pop() {
                return next;
            }
            wanted = self
                .more
                .wait(wanted)
                .unwrap_or_else(PoisonError::into_inner);
        }
    }
}

#[cfg(test)]
mod tests {
    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;
    use ratatui::style::Color;
    use ratatui::widgets::Widget;
    use ratatui_image::Image;

    use super::*;

    #[test]
    fn a_picture_keeps_its_proportions() {
        // A card of 63 x 88 mm (common practice, no source) in cells twice as high as wide.
        let card = DynamicImage::new_rgb8(630, 880);
        let room = Size::new(22, 12);
        let (picture, bytes) = Maker::blocks().make(card, room).unwrap();
        let size = picture.size();
        assert_eq!(size.height, room.height);
        // 12 lines are 24 half cells; 24 x 63 / 88 = 17.2.
        assert!((17..=18).contains(&size.width), "{size:?}");
        assert!(bytes > 0);
    }

    #[test]
    fn a_picture_fills_its_cells_to_the_edge() {
        let blocks = Maker::blocks();
        let white = image::Rgb([255, 255, 255]);
        for (width, height) in [(630, 880), (1, 1), (88, 63), (3, 400), (400, 3)] {
            let image = image::RgbImage::from_pixel(width, height, white);
            for room in [(22, 12), (6, 4), (7, 5), (40, 20)] {
                let room = Size::new(room.0, room.1);
                let (picture, _) = blocks.make(image.clone().into(), room).unwrap();
                let size = picture.size();
                assert!(size.width <= room.width && size.height <= room.height);
                let area = Rect::new(0, 0, size.width, size.height);
                let mut buf = Buffer::empty(area);
                Image::new(&picture).render(area, &mut buf);
                for cell in buf.content() {
                    let points = [cell.fg, cell.bg];
                    assert_eq!(points, [Color::Rgb(255, 255, 255); 2], "{width}x{height}");
                }
            }
        }
    }

    #[test]
    fn a_small_picture_is_made_larger() {
        let (picture, _) = Maker::blocks()
            .make(DynamicImage::new_rgb8(3, 4), Size::new(20, 10))
            .unwrap();
        assert_eq!(picture.size().height, 10);
    }

    #[test]
    fn a_terminal_without_colours_has_no_pictures_unless_they_are_asked_for() {
        let plain = Look {
            colours: Colours::None,
            ascii: false,
        };
        assert!(Maker::for_terminal(PictureMode::Auto, plain).is_none());
        assert!(Maker::for_terminal(PictureMode::Off, plain).is_none());
        assert!(Maker::for_terminal(PictureMode::Blocks, plain).is_some());
    }
}
