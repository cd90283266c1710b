//! Just enough of Rust's lexical structure (The Rust Reference, "Lexical structure") to tell code
//! from comments, strings and characters.

#[derive(Clone, Debug)]
pub(super) struct Token {
    /// A word, `::`, or one other sign.
    pub(super) text: String,
    pub(super) line: usize,
}

/// A source without its tests.
#[derive(Debug)]
pub(super) struct Scanned {
    pub(super) tokens: Vec<Token>,
    /// Lines of items under `#[cfg(test)]`.
    pub(super) test_lines: usize,
    /// Modules declared under `#[cfg(test)]` that lie in files of their own.
    pub(super) test_modules: Vec<String>,
}

pub(super) fn scan(source: &str) -> Scanned {
    let all = lex(source);
    let mut scanned = Scanned {
        tokens: Vec::new(),
        test_lines: 0,
        test_modules: Vec::new(),
    };
    let mut at = 0;
    while at < all.len() {
        let Some(end) = test_attribute(&all, at) else {
            scanned.tokens.push(all[at].clone());
            at += 1;
            continue;
        };
        let end = item_end(&all, end);
        let words = all[at..end].iter().map(|token| token.text.as_str());
        let words: Vec<_> = words.collect();
        if let [.., "mod", name, ";"] = words[..] {
            scanned.test_modules.push(name.into());
        }
        scanned.test_lines += all[end - 1].line - all[at].line + 1;
        at = end;
    }
    scanned
}

/// Where `#[cfg(test)]` (or `cfg(all(test, ..))`) that begins here ends.
fn test_attribute(all: &[Token], at: usize) -> Option<usize> {
    let end = attribute_end(all, at)?;
    let words: Vec<_> = all[at..end].iter().map(|t| t.text.as_str()).collect();
    let is = words.get(2) == Some(&"cfg") && words.contains(&"test") && !words.contains(&"not");
    is.then_some(end)
}

fn attribute_end(all: &[Token], at: usize) -> Option<usize> {
    if all[at].text != "#" || all.get(at + 1)?.text != "[" {
        return None;
    }
    let mut depth = 0;
    for (end, token) in all.iter().enumerate().skip(at + 1) {
        match token.text.as_str() {
            "[" => depth += 1,
            "]" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return Some(end + 1);
        }
    }
    None
}

/// Where the item that follows attributes ends: at its semicolon, or at the brace that closes it.
fn item_end(all: &[Token], mut at: usize) -> usize {
    while let Some(end) = all.get(at).and_then(|_| attribute_end(all, at)) {
        at = end;
    }
    // These end at a semicolon even when they hold braces.
    let plain = ["use", "const", "static", "type"];
    let braces = !(all[at..].iter().take(4)).any(|token| plain.contains(&token.text.as_str()));
    let mut depth = 0;
    for (end, token) in all.iter().enumerate().skip(at) {
        match token.text.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" => depth -= 1,
            "}" => {
                depth -= 1;
                if depth == 0 && braces {
                    return end + 1;
                }
            }
            ";" if depth == 0 => return end + 1,
            _ => {}
        }
    }
    all.len()
}

fn lex(source: &str) -> Vec<Token> {
    let chars: Vec<char> = source.chars().collect();
    let mut lexer = Lexer {
        chars: &chars,
        at: 0,
        line: 1,
        tokens: Vec::new(),
    };
    while lexer.at < chars.len() {
        lexer.step();
    }
    lexer.tokens
}

struct Lexer<'a> {
    chars: &'a [char],
    at: usize,
    line: usize,
    tokens: Vec<Token>,
}

impl Lexer<'_> {
    fn peek(&self, ahead: usize) -> char {
        self.chars.get(self.at + ahead).copied().unwrap_or('\0')
    }

    fn skip(&mut self, count: usize) {
        for _ in 0..count {
            if self.peek(0) == '\n' {
                self.line += 1;
            }
            self.at += 1;
        }
    }

    fn push(&mut self, count: usize) {
        let end = (self.at + count).min(self.chars.len());
        let text = self.chars[self.at..end].iter().collect();
        let line = self.line;
        self.tokens.push(Token { text, line });
        self.skip(count);
    }

    fn step(&mut self) {
        match (self.peek(0), self.peek(1)) {
            ('/', '/') => {
                while self.at < self.chars.len() && self.peek(0) != '\n' {
                    self.skip(1);
                }
            }
            ('/', '*') => self.block_comment(),
            ('"', _) => self.string(),
            ('\'', _) => self.character_or_lifetime(),
            (c, _) if c.is_whitespace() => self.skip(1),
            (c, _) if c == '_' || c.is_alphanumeric() => self.word(),
            (':', ':') => self.push(2),
            _ => self.push(1),
        }
    }

    fn block_comment(&mut self) {
        let mut depth = 0;
        while self.at < self.chars.len() {
            match (self.peek(0), self.peek(1)) {
                ('/', '*') => {
                    depth += 1;
                    self.skip(2);
                }
                ('*', '/') => {
                    depth -= 1;
                    self.skip(2);
                    if depth == 0 {
                        return;
                    }
                }
                _ => self.skip(1),
            }
        }
    }

    fn string(&mut self) {
        self.skip(1);
        while self.at < self.chars.len() && self.peek(0) != '"' {
            self.skip(if self.peek(0) == '\\' { 2 } else { 1 });
        }
        self.skip(1);
    }

    fn raw_string(&mut self, hashes: usize) {
        self.skip(hashes + 1);
        while self.at < self.chars.len() {
            let closes = self.peek(0) == '"' && (1..=hashes).all(|n| self.peek(n) == '#');
            self.skip(1);
            if closes {
                self.skip(hashes);
                return;
            }
        }
    }

    fn character_or_lifetime(&mut self) {
        if self.peek(1) == '\\' {
            // The character after the backslash may be a quote itself.
            self.skip(3);
            while self.at < self.chars.len() && self.peek(0) != '\'' {
                self.skip(1);
            }
            self.skip(1);
        } else if self.peek(2) == '\'' {
            self.skip(3);
        } else {
            self.skip(1);
        }
    }

    fn word(&mut self) {
        let mut length = 1;
        while self.peek(length) == '_' || self.peek(length).is_alphanumeric() {
            length += 1;
        }
        let word: String = self.chars[self.at..self.at + length].iter().collect();
        let hashes = (0..).take_while(|n| self.peek(length + n) == '#').count();
        let raw = ["r", "br", "cr"].contains(&word.as_str());
        match self.peek(length + hashes) {
            '"' if raw => {
                self.skip(length);
                self.raw_string(hashes);
            }
            // `r#type` is the word `type`.
            c if word == "r" && hashes == 1 && (c == '_' || c.is_alphabetic()) => self.skip(2),
            '"' | '\'' if hashes == 0 && ["b", "c"].contains(&word.as_str()) => self.skip(length),
            _ => self.push(length),
        }
    }
}
