//! The foot of the screen: the message line and the keys that can be used here and now, each of
//! which can be clicked.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::desk::Desk;
use super::intent::Intent;
use super::keymap::Key;
use super::message::Tone;
use super::paint;
use super::screen::Screen;
use super::theme::Role;
use crate::session::Access;
use crate::text;

/// The keys shown, with where each stands.
fn shown(top: &dyn Screen, desk: &Desk) -> Vec<(Intent, String, Rect)> {
    let context = top.context();
    let mut intents: Vec<_> = desk
        .keys
        .intents(context)
        .into_iter()
        .filter(|(intent, _, rank)| *rank > 0 && can(top, desk, *intent))
        .collect();
    intents.sort_by_key(|(intent, _, rank)| (!top.comes_first(*intent), *rank));
    let area = desk.area;
    let mut x = area.x + 1 + banner(desk).map_or(0, |words| text::columns(words) as u16 + 2);
    let mut out = Vec::new();
    let width_of = |intent: Intent, key: &Key| {
        (text::columns(&key.to_string()) + 1 + text::columns(top.word(intent))) as u16
    };
    // The way out is told wherever it has room beside the first.
    let out_of = intents.iter().find(|(intent, ..)| *intent == Intent::Leave);
    let mut kept = out_of.map_or(0, |(intent, keys, _)| width_of(*intent, &keys[0]) + 2);
    for (intent, keys, _) in intents {
        let (key, width) = (keys[0].to_string(), width_of(intent, &keys[0]));
        if intent == Intent::Leave {
            kept = 0;
        }
        let kept = if out.is_empty() { 0 } else { kept };
        if x + width + kept > area.right() {
            continue;
        }
        let place = Rect::new(x, area.bottom() - 1, width, 1);
        out.push((intent, key, place));
        x += width + 2;
    }
    out
}

/// Whether the intent can be carried out on the screen that is on top.
pub(super) fn can(top: &dyn Screen, desk: &Desk, intent: Intent) -> bool {
    match intent {
        // The program's own, whatever is shown.
        Intent::Help | Intent::Anything | Intent::Mouse | Intent::Redraw | Intent::Suspend => true,
        Intent::Undo if top.has_own_undo() => top.can(desk, intent),
        Intent::Undo => desk.can_write() && desk.session.last_done().is_some(),
        Intent::Redo => desk.can_write() && desk.session.last_undone().is_some(),
        _ => top.can(desk, intent),
    }
}

/// A message in lines: what happened, and the way back behind it. What has no room on its line
/// takes more of them; where they do not do either, what happened is cut and the way back stays.
fn lines(words: &str, way: Option<&str>, width: u16, most: u16) -> Vec<String> {
    let (width, most) = (usize::from(width), usize::from(most));
    let words = text::safe(words);
    let Some(way) = way else {
        return text::wrap(&words, width, most, '…');
    };
    // It is read at one glance, so it stays on one line.
    let unbroken = way.replace(' ', "\u{a0}");
    let mut room = text::columns(&words);
    loop {
        let whole = format!("{}. {unbroken}", text::fit(&words, room, '…'));
        let lines = text::wrap(&whole, width, most + 1, '…');
        if lines.len() <= most {
            return lines
                .iter()
                .map(|line| line.replace('\u{a0}', " "))
                .collect();
        }
        let Some(less) = room.checked_sub(1) else {
            return text::wrap(way, width, most, '…');
        };
        room = less.min(width * most);
    }
}

/// Words that have no room on their line grow upwards over the body.
fn message(buf: &mut Buffer, line: Rect, words: &str, way: Option<&str>, style: Style, most: u16) {
    let most = most.min(line.y.saturating_sub(1)).max(1);
    let width = line.width.saturating_sub(2);
    let lines = lines(words, way, width, most);
    let top = line.bottom().saturating_sub(lines.len() as u16);
    if lines.len() > 1 || most == LOW_LINES {
        paint::clear(buf, Rect::new(line.x, top, line.width, lines.len() as u16));
    }
    for (y, words) in (top..).zip(&lines) {
        paint::line(buf, (line.x + 1, y), width, words, style);
    }
}

/// The key hint under a point of the screen.
pub(super) fn intent_under(top: &dyn Screen, desk: &Desk, at: (u16, u16)) -> Option<Intent> {
    if hidden(desk) {
        return None;
    }
    let point = ratatui::layout::Position::from(at);
    let hints = shown(top, desk);
    let hint = hints.iter().find(|(_, _, place)| place.contains(point));
    hint.map(|(intent, ..)| *intent)
}

/// On a low screen a message takes the place of the keys until the next key.
fn hidden(desk: &Desk) -> bool {
    desk.chrome() == 1 && desk.message.is_some()
}

/// On a low screen there is no line for the reason: that nothing can be written stands before the
/// keys.
fn banner(desk: &Desk) -> Option<&'static str> {
    (desk.chrome() == 1 && !desk.can_write()).then_some(READ_ONLY)
}

const READ_ONLY: &str = "For reading only";

/// With the reason, or as much of it as goes onto one line: it was told in full when it came up.
fn read_only(why: &str, room: usize) -> String {
    let whole = format!("{READ_ONLY}: {why}");
    let is_short = |words: &&str| text::columns(&text::safe(words)) <= room;
    let ends = ["; ", ". ", " ("]
        .into_iter()
        .flat_map(|end| whole.match_indices(end));
    let parts = ends.map(|(at, _)| &whole[..at]).filter(is_short);
    let part = parts.max_by_key(|part| part.len());
    match is_short(&&*whole) {
        true => whole,
        false => part.map_or(whole.clone(), str::to_owned),
    }
}

/// A message may take so many lines of the body, until the next key.
const MOST_LINES: u16 = 6;
/// And so many of a low one, for what stays.
const LOW_LINES: u16 = 2;

pub(super) fn draw(top: &dyn Screen, desk: &Desk, buf: &mut Buffer) {
    let (area, theme) = (desk.area, desk.theme);
    let line = Rect::new(area.x, area.bottom() - desk.chrome(), area.width, 1);
    let said = |tone| match tone {
        Tone::Done => Role::Strong,
        Tone::Amiss => Role::Warning,
    };
    let told = desk.message.as_ref();
    let told = told.map(|message| message.told(desk, top.context()));
    let works = top.works(desk);
    let told = told.filter(|_| works.is_none());
    let works = works.map(|words| (words, Tone::Done));
    let says = works.or_else(|| top.says(desk));
    match (told, says, desk.session.access()) {
        (Some((words, way, tone)), ..) => {
            let style = theme.style(said(tone));
            message(buf, line, words, way.as_deref(), style, MOST_LINES);
        }
        (None, Some((words, tone)), _) => {
            // It stays as long as it is so: on a low screen above the keys, which are needed for it.
            let up = u16::from(desk.chrome() == 1);
            let line = Rect {
                y: line.y.saturating_sub(up),
                ..line
            };
            let most = if up == 1 { LOW_LINES } else { MOST_LINES };
            message(buf, line, &words, None, theme.style(said(tone)), most);
        }
        (None, None, Access::ReadOnly(why)) if desk.chrome() == 2 => {
            let room = usize::from(line.width.saturating_sub(2));
            let (at, words) = ((line.x + 1, line.y), read_only(&why, room));
            paint::line(buf, at, room as u16, &words, theme.style(Role::Warning));
        }
        _ => {}
    }
    if hidden(desk) {
        return;
    }
    if let Some(words) = banner(desk) {
        let at = (area.x + 1, area.bottom() - 1);
        paint::line(
            buf,
            at,
            area.width.saturating_sub(2),
            words,
            theme.style(Role::Warning),
        );
    }
    for (intent, key, place) in shown(top, desk) {
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
            top.word(intent),
            theme.style(Role::Text),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn what_has_no_room_beside_the_way_back_takes_another_line_and_nothing_is_cut() {
        let words = "carried MOSS 1 Acorn Wren to page 1, front, row 2, pocket 2, \
                     5 Fern Stalker the other way";
        let told = lines(words, Some("u takes it back."), 48, 6);
        assert_eq!(told.join(" "), format!("{words}. u takes it back."));
        assert!(told.len() > 1 && told.iter().all(|line| line.len() <= 48));
        assert!(told.iter().any(|line| line.contains("u takes it back.")));
    }

    #[test]
    fn where_there_are_not_lines_enough_the_way_back_is_whole() {
        let words = "a very long name that nobody would write ".repeat(9);
        for most in 1..4 {
            let told = lines(&words, Some("u takes it back."), 30, most);
            let whole = told.join(" ");
            assert!(told.len() <= usize::from(most), "{told:?}");
            assert!(whole.ends_with("u takes it back."), "{told:?}");
            assert!(whole.starts_with("a very"), "{told:?}");
        }
        assert_eq!(
            lines(&words, Some("u takes it back."), 10, 1),
            ["u takes i…"]
        );
    }
}
