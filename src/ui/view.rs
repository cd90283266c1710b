//! From the state of the program to a frame. Borrows everything and changes nothing.

use ratatui::buffer::Buffer;

use super::app::App;
use super::desk::LEAST;
use super::footer;
use super::paint;
use super::theme::Role;

/// Draws the program into a buffer of the terminal's size.
pub fn view(app: &App, buf: &mut Buffer) {
    let area = *buf.area();
    if area.is_empty() || area != app.desk.area {
        return;
    }
    if area.width < LEAST.0 || area.height < LEAST.1 {
        let words = "Too small: enlarge the window";
        let short = if area.width < 29 { "Too small" } else { words };
        let middle = (area.x, area.y + area.height / 2);
        paint::line(
            buf,
            middle,
            area.width,
            short,
            app.desk.theme.style(Role::Strong),
        );
        return;
    }
    // Windows stand over the last screen that fills the terminal.
    let base = app
        .screens
        .iter()
        .rposition(|screen| screen.is_full())
        .unwrap_or(0);
    for screen in &app.screens[base..] {
        screen.draw(&app.desk, buf);
    }
    if let Some(gallery) = &app.desk.gallery {
        for (wanted, place) in app.pictured() {
            gallery.draw(&wanted, place, buf);
        }
    }
    footer::draw(app.top(), &app.desk, buf);
    if app.desk.theme.look.ascii {
        plain(buf);
    }
}

/// On a terminal that shows ASCII only, words from outside lose their other characters here.
fn plain(buf: &mut Buffer) {
    for cell in &mut buf.content {
        if cell.symbol() == "…" {
            cell.set_symbol("~");
        } else if matches!(cell.symbol(), "\u{201c}" | "\u{201d}") {
            cell.set_symbol("\"");
        } else if !cell.symbol().is_ascii() {
            cell.set_symbol("?");
        }
    }
}
