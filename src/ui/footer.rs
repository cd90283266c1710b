//! The foot of the screen: the message line and the keys that can be used here and now, each of
//! which can be clicked.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::app::App;
use super::desk::Tone;
use super::intent::Intent;
use super::keymap;
use super::paint;
use super::theme::Role;
use crate::session::Access;
use crate::text;

/// The keys shown, with where each stands.
fn shown(app: &App) -> Vec<(Intent, String, Rect)> {
    let context = app.top().context();
    let mut intents: Vec<_> = keymap::intents(context)
        .into_iter()
        .filter(|(intent, _, rank)| *rank > 0 && can(app, *intent))
        .collect();
    intents.sort_by_key(|(_, _, rank)| *rank);
    let area = app.desk.area;
    let mut x = area.x + 1;
    let mut out = Vec::new();
    for (intent, keys, _) in intents {
        let key = keys[0].to_string();
        let width = (text::columns(&key) + 1 + text::columns(intent.word(context))) as u16;
        if x + width > area.right() {
            continue;
        }
        let place = Rect::new(x, area.bottom() - 1, width, 1);
        out.push((intent, key, place));
        x += width + 2;
    }
    out
}

/// Whether the intent can be carried out on the screen that is on top.
pub(super) fn can(app: &App, intent: Intent) -> bool {
    match intent {
        Intent::Undo if app.top().has_own_undo() => app.top().can(&app.desk, intent),
        Intent::Undo => app.desk.can_write() && app.desk.session.last_done().is_some(),
        Intent::Redo => app.desk.can_write() && app.desk.session.last_undone().is_some(),
        _ => app.top().can(&app.desk, intent),
    }
}

/// The key hint under a point of the screen.
pub(super) fn intent_under(app: &App, at: (u16, u16)) -> Option<Intent> {
    if hidden(app) {
        return None;
    }
    let point = ratatui::layout::Position::from(at);
    let hints = shown(app);
    let hint = hints.iter().find(|(_, _, place)| place.contains(point));
    hint.map(|(intent, ..)| *intent)
}

/// On a low screen a message takes the place of the keys until the next key.
fn hidden(app: &App) -> bool {
    app.desk.chrome() == 1 && app.desk.message.is_some()
}

pub(super) fn draw(app: &App, buf: &mut Buffer) {
    let (area, theme) = (app.desk.area, app.desk.theme);
    let line = Rect::new(area.x, area.bottom() - app.desk.chrome(), area.width, 1);
    let message = app.desk.message.clone().or_else(|| app.top().says());
    match (message, app.desk.session.access()) {
        (Some((words, tone)), _) => {
            let role = match tone {
                Tone::Done => Role::Strong,
                Tone::Amiss => Role::Warning,
            };
            paint::line(
                buf,
                (line.x + 1, line.y),
                line.width.saturating_sub(2),
                &words,
                theme.style(role),
            );
        }
        (None, Access::ReadOnly(why)) if app.desk.chrome() == 2 => {
            let words = format!("For reading only: {why}");
            let style = theme.style(Role::Warning);
            paint::line(
                buf,
                (line.x + 1, line.y),
                line.width.saturating_sub(2),
                &words,
                style,
            );
        }
        _ => {}
    }
    if hidden(app) {
        return;
    }
    let context = app.top().context();
    for (intent, key, place) in shown(app) {
        let used = paint::line(
            buf,
            (place.x, place.y),
            place.width,
            &key,
            theme.style(Role::Key),
        );
        let at = (place.x + used + 1, place.y);
        paint::line(
            buf,
            at,
            place.width - used - 1,
            intent.word(context),
            theme.style(Role::Text),
        );
    }
}
