//! Writes the made-up language: the sentences of `english/` with every letter marked and every vowel
//! doubled, which makes them about 40 % longer. Built with the feature `made-up-language`, the app
//! speaks it, so a test sees which words did not come from the language's folder, and what overflows
//! when sentences are longer.
//!
//! Works on tokens, not on lines: only string literals change, and in them neither escapes nor what
//! stands in braces (the arguments of a format string).

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

use proc_macro2::{Delimiter, Group, Literal, TokenStream, TokenTree};

/// Writes `$OUT_DIR/made_up.rs` from the folder of a language, relative to the crate.
///
/// # Errors
/// Where a file of the language cannot be read or is no Rust, or the result cannot be written.
pub(crate) fn write(folder: &str) -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join(folder);
    println!("cargo::rerun-if-changed={}", folder.display());
    let out = PathBuf::from(env::var("OUT_DIR")?).join("made_up.rs");
    fs::write(out, module(&folder.join("mod.rs"), &folder)?.to_string())?;
    Ok(())
}

/// A module's file; the modules it declares lie in `folder`.
fn module(file: &Path, folder: &Path) -> Result<TokenStream, Box<dyn Error>> {
    let text = fs::read_to_string(file).map_err(|error| format!("{}: {error}", file.display()))?;
    items(text.parse()?, folder)
}

/// Marks the literals, puts declared modules in their place, and leaves attributes and docs out of it:
/// those of a whole file are dropped, since a file that is included may not begin with any.
fn items(stream: TokenStream, folder: &Path) -> Result<TokenStream, Box<dyn Error>> {
    let mut out = Vec::new();
    let mut tokens = stream.into_iter().peekable();
    while let Some(token) = tokens.next() {
        match token {
            TokenTree::Punct(hash) if hash.as_char() == '#' => {
                let inner =
                    matches!(tokens.peek(), Some(TokenTree::Punct(p)) if p.as_char() == '!');
                if inner {
                    tokens.next();
                }
                let attribute = tokens.next();
                if !inner {
                    out.push(TokenTree::Punct(hash));
                    out.extend(attribute);
                }
            }
            TokenTree::Ident(word) if word == "mod" => {
                let name = tokens.next();
                out.push(TokenTree::Ident(word));
                let declared =
                    matches!(tokens.peek(), Some(TokenTree::Punct(p)) if p.as_char() == ';');
                if declared && let Some(TokenTree::Ident(name)) = &name {
                    tokens.next();
                    let (file, below) = (
                        folder.join(format!("{name}.rs")),
                        folder.join(name.to_string()),
                    );
                    let file = if file.exists() {
                        file
                    } else {
                        below.join("mod.rs")
                    };
                    let body = module(&file, &below)?;
                    out.push(TokenTree::Ident(name.clone()));
                    out.push(TokenTree::Group(Group::new(Delimiter::Brace, body)));
                } else {
                    out.extend(name);
                }
            }
            TokenTree::Group(group) => {
                let inside = items(group.stream(), folder)?;
                out.push(TokenTree::Group(Group::new(group.delimiter(), inside)));
            }
            TokenTree::Literal(literal) => out.push(TokenTree::Literal(marked(&literal)?)),
            other => out.push(other),
        }
    }
    Ok(out.into_iter().collect())
}

/// A string literal with its letters marked; any other literal as it is.
fn marked(literal: &Literal) -> Result<Literal, Box<dyn Error>> {
    let source = literal.to_string();
    if !source.starts_with('"') {
        return Ok(literal.clone());
    }
    let mut out = String::with_capacity(source.len() * 2);
    let mut chars = source.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\\' => {
                out.push(c);
                let escape = chars.next();
                out.extend(escape);
                // \u{a0}: the digits are no letters of a word.
                if escape == Some('u') {
                    out.extend(chars.by_ref().take_while(|&c| c != '}'));
                    out.push('}');
                }
            }
            '{' if chars.peek() == Some(&'{') => {
                out.push(c);
                out.extend(chars.next());
            }
            '{' => {
                out.push(c);
                out.extend(chars.by_ref().take_while(|&c| c != '}'));
                out.push('}');
            }
            other => {
                let mark = mark(other);
                out.push(mark);
                if "aeiouAEIOU".contains(other) {
                    out.push(mark.to_lowercase().next().unwrap_or(mark));
                }
            }
        }
    }
    Ok(out.parse::<Literal>()?)
}

/// The letter with a mark that no English word has.
fn mark(letter: char) -> char {
    const PLAIN: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    const MARKED: &str = "áƀćđéƒğĥíĵķļɱñóƥʠřšťúṽŵẋýžÁɃĆĐÉƑĞĤÍĴĶĻṀÑÓƤɊŘŠŤÚṼŴẊÝŽ";
    let mut pairs = PLAIN.chars().zip(MARKED.chars());
    pairs
        .find(|(plain, _)| *plain == letter)
        .map_or(letter, |(_, marked)| marked)
}
