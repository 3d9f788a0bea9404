//! Rust source as a row of words and signs: comments, characters, lifetimes and what is only compiled
//! for tests are left out.

/// One word, sign or text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Token {
    /// An identifier or a keyword.
    Word(String),
    /// A string literal without its quotation marks.
    Text(String),
    /// `::`.
    Path,
    /// Any other sign.
    Sign(char),
}

impl Token {
    pub(crate) fn is(&self, sign: char) -> bool {
        *self == Self::Sign(sign)
    }

    pub(crate) fn word(&self) -> Option<&str> {
        match self {
            Self::Word(word) => Some(word),
            _ => None,
        }
    }
}

/// All of it but what is left out.
pub(crate) fn tokens(source: &str) -> Vec<Token> {
    without_tests(&all(source))
}

fn all(source: &str) -> Vec<Token> {
    let of_word = |c: &char| c.is_alphanumeric() || *c == '_';
    let chars: Vec<char> = source.chars().collect();
    let starts = |at: usize, text: &str| {
        text.chars()
            .enumerate()
            .all(|(i, c)| chars.get(at + i) == Some(&c))
    };
    let find = |from: usize, text: &str| {
        (from..chars.len())
            .find(|at| starts(*at, text))
            .unwrap_or(chars.len())
    };
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(&c) = chars.get(at) {
        at = if starts(at, "//") {
            find(at, "\n")
        } else if starts(at, "/*") {
            find(at, "*/") + 2
        } else if starts(at, "::") {
            out.push(Token::Path);
            at + 2
        } else if starts(at, "r\"") || starts(at, "r#\"") {
            let hashes = usize::from(chars[at + 1] == '#');
            let (from, end) = (at + 2 + hashes, ["\"", "\"#"][hashes]);
            let to = find(from, end);
            out.push(Token::Text(chars[from..to].iter().collect()));
            to + 1 + hashes
        } else if c == '"' {
            let mut to = at + 1;
            while to < chars.len() && chars[to] != '"' {
                to += 1 + usize::from(chars[to] == '\\');
            }
            out.push(Token::Text(chars[at + 1..to].iter().collect()));
            to + 1
        } else if c == '\'' {
            match (chars.get(at + 1), chars.get(at + 2)) {
                (Some('\\'), _) => find(at + 3, "'") + 1,
                (_, Some('\'')) => at + 3,
                // a lifetime
                _ => at + 1 + chars[at + 1..].iter().take_while(|c| of_word(c)).count(),
            }
        } else if of_word(&c) {
            let word: String = chars[at..].iter().take_while(|c| of_word(c)).collect();
            at += word.chars().count();
            out.push(Token::Word(word));
            continue;
        } else {
            if !c.is_whitespace() {
                out.push(Token::Sign(c));
            }
            at + 1
        };
    }
    out
}

/// Leaves out each item under `#[cfg(test)]`.
fn without_tests(tokens: &[Token]) -> Vec<Token> {
    let test = all("#[cfg(test)]");
    let mut out = Vec::with_capacity(tokens.len());
    let mut rest = tokens;
    while let Some(first) = rest.first() {
        if rest.starts_with(&test) {
            rest = &rest[test.len()..];
            rest = &rest[item(rest)..];
        } else {
            out.push(first.clone());
            rest = &rest[1..];
        }
    }
    out
}

/// How many tokens an item has: up to its semicolon or the end of its first block.
fn item(tokens: &[Token]) -> usize {
    let mut depth = 0_usize;
    for (i, token) in tokens.iter().enumerate() {
        match token {
            Token::Sign('{') => depth += 1,
            Token::Sign('}') if depth == 1 => return i + 1,
            Token::Sign('}') => depth = depth.saturating_sub(1),
            Token::Sign(';') if depth == 0 => return i + 1,
            _ => {}
        }
    }
    tokens.len()
}
