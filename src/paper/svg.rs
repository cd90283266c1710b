//! Writes a sheet as SVG at true size: width and height in millimetres, one unit a millimetre.
//!
//! Letters are drawn by their outlines, so that they look the same everywhere; their words stand
//! beside them for those who search or listen.

use std::collections::BTreeMap;
use std::fmt::Write;

use base64::Engine;

use super::drawing::{Item, Pen, Sheet, Turn};
use super::font::{FontId, Fonts, Run};
use super::number::number;

/// The sheet as an SVG document.
#[must_use]
pub fn svg(title: &str, sheet: &Sheet, fonts: &Fonts<'_>) -> String {
    let (width, height) = (length(sheet.size.width), length(sheet.size.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <title>{}</title>\n",
        escaped(title)
    );
    let signs = signs(sheet);
    out.push_str("<defs>\n");
    let mut drawn = BTreeMap::new();
    for (font, glyph) in signs {
        let outline = fonts.outline(font, glyph);
        if !outline.is_empty() {
            let name = format!("f{}g{glyph}", font.0);
            line(
                &mut out,
                format_args!("<path id=\"{name}\" d=\"{outline}\"/>"),
            );
            drawn.insert((font, glyph), name);
        }
    }
    out.push_str("</defs>\n");
    line(
        &mut out,
        format_args!("<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>"),
    );
    for item in &sheet.items {
        match item {
            Item::Text { run, at, turn } => text(&mut out, run, *at, *turn, &drawn),
            Item::Line { from, to, pen } => line(
                &mut out,
                format_args!(
                    "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>",
                    length(from.0),
                    length(from.1),
                    length(to.0),
                    length(to.1),
                    stroke(*pen)
                ),
            ),
            Item::Frame { area, pen } => {
                // A line is drawn half on each side of its path.
                let path = area.inset(pen.width / 2.0);
                line(
                    &mut out,
                    format_args!(
                        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>",
                        length(path.x),
                        length(path.y),
                        length(path.width),
                        length(path.height),
                        stroke(*pen)
                    ),
                );
            }
            Item::Picture { area, picture } => line(
                &mut out,
                format_args!(
                    "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" \
                     xlink:href=\"data:image/png;base64,{}\"/>",
                    length(area.x),
                    length(area.y),
                    length(area.width),
                    length(area.height),
                    base64::engine::general_purpose::STANDARD.encode(&picture.png)
                ),
            ),
        }
    }
    out.push_str("</svg>\n");
    out
}

/// The signs that are drawn, once each.
fn signs(sheet: &Sheet) -> std::collections::BTreeSet<(FontId, u16)> {
    let items = sheet.items.iter();
    let runs = items.filter_map(|item| match item {
        Item::Text { run, .. } => Some(run),
        _ => None,
    });
    runs.flat_map(|run| run.glyphs.iter().map(|glyph| (glyph.font, glyph.id)))
        .collect()
}

fn text(
    out: &mut String,
    run: &Run,
    (x, y): (f64, f64),
    turn: Turn,
    drawn: &BTreeMap<(FontId, u16), String>,
) {
    let turned = match turn {
        Turn::Across => "",
        Turn::Down => " rotate(90)",
        Turn::Up => " rotate(-90)",
    };
    let size = number(run.size, 5);
    line(
        out,
        format_args!(
            "<g role=\"img\" aria-label=\"{}\" transform=\"translate({} {}){turned} \
             scale({size} -{size})\">",
            escaped(&run.words),
            length(x),
            length(y)
        ),
    );
    for glyph in &run.glyphs {
        if let Some(name) = drawn.get(&(glyph.font, glyph.id)) {
            let x = number(glyph.x, 5);
            let y = match glyph.y {
                0.0 => String::new(),
                up => format!(" y=\"{}\"", number(up, 5)),
            };
            line(
                out,
                format_args!("<use xlink:href=\"#{name}\" x=\"{x}\"{y}/>"),
            );
        }
    }
    out.push_str("</g>\n");
}

fn stroke(pen: Pen) -> String {
    let dashes = if pen.dashed {
        let (dash, space) = super::DASHES;
        format!(" stroke-dasharray=\"{} {}\"", length(dash), length(space))
    } else {
        String::new()
    };
    format!(
        "fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"{dashes}",
        length(pen.width)
    )
}

fn line(out: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing into a text cannot fail.
    out.write_fmt(words).ok();
    out.push('\n');
}

fn length(mm: f64) -> String {
    number(mm, 4)
}

/// Text for XML 1.0: marks escaped, and the few characters that it does not know replaced.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            '\0'..='\x1f' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}
