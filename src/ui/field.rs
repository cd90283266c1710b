//! A line to type in: editing by whole characters, a limit on length, pasted text made one line.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::buffer::Buffer;
use tui_input::{Input, InputRequest};

use super::keymap::letter;
use super::paint;
use super::theme::{Role, Theme};
use crate::text;

/// The most bytes a field takes: more than any code, title or phrase needs.
const MOST: usize = 1_000;

/// A text field.
#[derive(Clone, Debug, Default)]
pub(super) struct Field {
    input: Input,
    /// The text was answered or only proposed: the next letter begins anew.
    is_stale: bool,
}

impl Field {
    pub(super) fn value(&self) -> &str {
        self.input.value()
    }

    /// The next letter, or what is pasted next, takes the place of the text; any other key edits
    /// it.
    pub(super) fn begin_anew(&mut self) {
        self.is_stale = true;
    }

    /// Takes a key; tells whether the text changed.
    pub(super) fn key(&mut self, event: &KeyEvent) -> bool {
        let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
        let letter = letter(event);
        if std::mem::take(&mut self.is_stale) && letter.is_some() {
            self.input = Input::default();
        }
        if let Some(letter) = letter {
            self.insert(letter.encode_utf8(&mut [0; 4]));
            return true;
        }
        let request = match event.code {
            KeyCode::Char('a') if ctrl => InputRequest::GoToStart,
            KeyCode::Char('e') if ctrl => InputRequest::GoToEnd,
            KeyCode::Char('u') if ctrl => InputRequest::DeleteLine,
            KeyCode::Char('w') if ctrl => InputRequest::DeletePrevWord,
            KeyCode::Backspace => InputRequest::DeletePrevChar,
            KeyCode::Delete => InputRequest::DeleteNextChar,
            KeyCode::Left => InputRequest::GoToPrevChar,
            KeyCode::Right => InputRequest::GoToNextChar,
            KeyCode::Home => InputRequest::GoToStart,
            KeyCode::End => InputRequest::GoToEnd,
            _ => return false,
        };
        self.input
            .handle(request)
            .is_some_and(|change| change.value)
    }

    /// Moves the cursor a letter to the left or to the right.
    pub(super) fn sideways(&mut self, left: bool) {
        let code = if left { KeyCode::Left } else { KeyCode::Right };
        self.key(&KeyEvent::new(code, KeyModifiers::NONE));
    }

    /// Takes pasted text, without the space around it.
    pub(super) fn paste(&mut self, words: &str) {
        if std::mem::take(&mut self.is_stale) {
            self.input = Input::default();
        }
        self.insert(words.trim());
    }

    /// Inserts text at the cursor. Line breaks and tabs become spaces; what is over the limit is
    /// left out.
    pub(super) fn insert(&mut self, words: &str) {
        for c in words.chars() {
            if self.input.value().len() + c.len_utf8() > MOST {
                return;
            }
            let c = if matches!(c, '\n' | '\r' | '\t') {
                ' '
            } else {
                c
            };
            self.input.handle(InputRequest::InsertChar(c));
        }
    }

    /// Draws the text with its cursor into `width` columns at `at`, scrolled so that the cursor
    /// is seen.
    pub(super) fn draw(
        &self,
        at: (u16, u16),
        width: u16,
        focus: bool,
        theme: Theme,
        buf: &mut Buffer,
    ) {
        let before: String = self
            .input
            .value()
            .chars()
            .take(self.input.cursor())
            .collect();
        let after: String = self
            .input
            .value()
            .chars()
            .skip(self.input.cursor())
            .collect();
        let (before, after) = (text::safe(&before), text::safe(&after));
        let room = usize::from(width.saturating_sub(1));
        let mut shown = before.as_ref();
        while text::columns(shown) > room {
            let next = shown.chars().next().map_or(0, char::len_utf8);
            shown = &shown[next..];
        }
        let style = theme.style(if focus { Role::Strong } else { Role::Text });
        let used = paint::line(buf, at, width, shown, style);
        let rest = width - used;
        paint::line(buf, (at.0 + used, at.1), rest, &after, style);
        if focus && let Some(cell) = buf.cell_mut((at.0 + used, at.1)) {
            cell.set_style(theme.style(Role::Selected));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn proposed() -> Field {
        let mut field = Field::default();
        field.insert("13");
        field.begin_anew();
        field
    }

    #[test]
    fn what_is_typed_or_pasted_takes_the_place_of_what_was_proposed() {
        let mut field = proposed();
        field.key(&KeyEvent::new(KeyCode::Char('2'), KeyModifiers::NONE));
        assert_eq!(field.value(), "2");
        let mut field = proposed();
        field.paste(" 27\n");
        assert_eq!(field.value(), "27");
        field.paste("5");
        assert_eq!(field.value(), "275");
    }

    #[test]
    fn keys_that_only_move_the_cursor_leave_what_was_proposed() {
        for (code, modifiers) in [
            (KeyCode::Char('a'), KeyModifiers::CONTROL),
            (KeyCode::Char('x'), KeyModifiers::ALT),
            (KeyCode::Home, KeyModifiers::NONE),
        ] {
            let mut field = proposed();
            field.key(&KeyEvent::new(code, modifiers));
            assert_eq!(field.value(), "13", "{code:?}");
        }
    }
}
