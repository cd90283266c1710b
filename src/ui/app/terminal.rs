//! What the owner of the terminal asks before a frame.

use super::App;

impl App {
    /// What is to go to the clipboard of the terminal, once.
    pub fn take_clipboard(&mut self) -> Option<String> {
        self.desk.clipboard.take()
    }

    /// Whether the mouse is for the program.
    #[must_use]
    pub fn takes_mouse(&self) -> bool {
        self.desk.mouse
    }
}
