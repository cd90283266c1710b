//! A key as the table, a script and the help write it.

use std::fmt;

use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// A key with its modifiers, as `ctrl-l`, `pgdn`, `N`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    code: KeyCode,
    ctrl: bool,
    alt: bool,
}

impl Key {
    /// The key of an event; `None` for a release and for modifiers that no binding has.
    #[must_use]
    pub fn of(event: &KeyEvent) -> Option<Self> {
        if event.kind == KeyEventKind::Release {
            return None;
        }
        let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
        let code = match event.code {
            KeyCode::Char(c) if ctrl => KeyCode::Char(c.to_ascii_lowercase()),
            code => code,
        };
        Some(Self {
            code,
            ctrl,
            alt: event.modifiers.contains(KeyModifiers::ALT),
        })
    }

    /// The key as an event, for driving a screen from a script.
    #[must_use]
    pub fn event(self) -> KeyEvent {
        let mut modifiers = KeyModifiers::NONE;
        modifiers.set(KeyModifiers::CONTROL, self.ctrl);
        modifiers.set(KeyModifiers::ALT, self.alt);
        KeyEvent::new(self.code, modifiers)
    }

    /// Reads the notation that [`fmt::Display`] writes.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        let (ctrl, rest) = match word.strip_prefix("ctrl-") {
            Some(rest) if !rest.is_empty() => (true, rest),
            _ => (false, word),
        };
        let (alt, rest) = match rest.strip_prefix("alt-") {
            Some(rest) if !rest.is_empty() => (true, rest),
            _ => (false, rest),
        };
        let named = NAMES.iter().find(|(_, name)| *name == rest);
        let code = match (named, rest.strip_prefix('f').and_then(|n| n.parse().ok())) {
            (Some((code, _)), _) => *code,
            (None, Some(number @ 1..=MOST_F)) => KeyCode::F(number),
            (None, Some(_)) => return None,
            (None, None) => {
                let mut chars = rest.chars();
                let c = chars.next()?;
                if chars.next().is_some() || c.is_control() || c.is_whitespace() {
                    return None;
                }
                // Terminals send these as tab, enter and esc.
                if ctrl && matches!(c, 'i' | 'I' | 'm' | 'M' | '[') {
                    return None;
                }
                KeyCode::Char(if ctrl { c.to_ascii_lowercase() } else { c })
            }
        };
        Some(Self { code, ctrl, alt })
    }
}

/// The letter or sign that a key types: with ctrl or alt it types none.
pub(crate) fn letter(event: &KeyEvent) -> Option<char> {
    let others = KeyModifiers::all() - KeyModifiers::SHIFT;
    match event.code {
        KeyCode::Char(c) if !event.modifiers.intersects(others) => Some(c),
        _ => None,
    }
}

/// The highest function key that terminals tell (terminfo has kf0 to kf63).
const MOST_F: u8 = 63;

const NAMES: &[(KeyCode, &str)] = &[
    (KeyCode::Enter, "enter"),
    (KeyCode::Esc, "esc"),
    (KeyCode::Tab, "tab"),
    (KeyCode::BackTab, "shift-tab"),
    (KeyCode::Backspace, "backspace"),
    (KeyCode::Delete, "del"),
    (KeyCode::Left, "left"),
    (KeyCode::Right, "right"),
    (KeyCode::Up, "up"),
    (KeyCode::Down, "down"),
    (KeyCode::PageUp, "pgup"),
    (KeyCode::PageDown, "pgdn"),
    (KeyCode::Home, "home"),
    (KeyCode::End, "end"),
    (KeyCode::Char(' '), "space"),
];

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.ctrl {
            f.write_str("ctrl-")?;
        }
        if self.alt {
            f.write_str("alt-")?;
        }
        if let Some((_, name)) = NAMES.iter().find(|(code, _)| *code == self.code) {
            return f.write_str(name);
        }
        match self.code {
            KeyCode::Char(c) => write!(f, "{c}"),
            KeyCode::F(number) => write!(f, "f{number}"),
            _ => Ok(()),
        }
    }
}
