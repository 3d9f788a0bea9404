//! Makes smaller what the tools before and after it leave large. A program of one file, made with `rustc`
//! alone (`server/front.sh`), because it is needed before anything else is built.
//!
//! `snip empty NAME FILE` empties every function of a linked wasm whose name has the word in it, so that
//! nothing stands for its own sake that only such functions need: for what nobody calls but the linker
//! must keep. A call of one would stop the app. One that is called by name, and not only by pointer, from
//! a function that stays is left as it is. What is emptied keeps its length, so that no address changes.
//!
//! `snip shorten WASM SCRIPT` gives short names to what a wasm asks its script for. The long ones end in a
//! hash each, which cannot be compressed, and stand in both.

use std::collections::{HashMap, HashSet};
use std::error::Error;
use std::ops::Range;
use std::{env, fs};

type Fallible<T> = Result<T, Box<dyn Error>>;

/// What tells wasm-bindgen of a function has its name in it, and is run by it.
const TOLD: &str = "__wbindgen_describe";
/// Shorter bodies are not worth it, and may be shared with functions of another name.
const WORTH: usize = 48;

/// Bytes, read from one place on.
struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Reader<'a> {
    const fn new(bytes: &'a [u8], at: usize) -> Self {
        Self { bytes, at }
    }

    fn byte(&mut self) -> Fallible<u8> {
        let byte = *self.bytes.get(self.at).ok_or("the file ends too early")?;
        self.at += 1;
        Ok(byte)
    }

    /// A number in LEB128; of signed ones only the length is right.
    fn number(&mut self) -> Fallible<usize> {
        let mut number: u64 = 0;
        for shift in (0..70).step_by(7) {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7f).checked_shl(shift).unwrap_or(0);
            if byte & 0x80 == 0 {
                return Ok(usize::try_from(number)?);
            }
        }
        Err("a number is too long".into())
    }

    fn text(&mut self) -> Fallible<&'a str> {
        let length = self.number()?;
        let text = self.bytes.get(self.at..self.at + length);
        self.at += length;
        Ok(std::str::from_utf8(text.ok_or("a text ends too late")?)?)
    }

    /// What is imported, behind its names; whether it is a function.
    fn import(&mut self) -> Fallible<bool> {
        let kind = self.byte()?;
        match kind {
            0 => {
                self.number()?;
            }
            1 => {
                self.byte()?;
                self.skip_limits()?;
            }
            2 => self.skip_limits()?,
            3 => self.at += 2,
            kind => return Err(format!("an import of kind {kind}").into()),
        }
        Ok(kind == 0)
    }

    fn skip_limits(&mut self) -> Fallible<()> {
        if self.byte()? & 1 == 1 {
            self.number()?;
        }
        self.number()?;
        Ok(())
    }
}

/// What of a module is looked at; all places are counted from the beginning of the file.
#[derive(Default)]
struct Module {
    imported: usize,
    code: usize,
    bodies: Vec<Range<usize>>,
    names: HashMap<usize, String>,
    /// By their number in the symbol table.
    functions: HashMap<usize, usize>,
    /// The whole section of what in the code points elsewhere.
    pointers: Range<usize>,
}

impl Module {
    fn read(bytes: &[u8]) -> Fallible<Self> {
        let mut module = Self::default();
        let mut reader = Reader::new(bytes, 8);
        while reader.at < bytes.len() {
            let whole = reader.at;
            let kind = reader.byte()?;
            let length = reader.number()?;
            let end = reader.at + length;
            let mut inner = Reader::new(bytes, reader.at);
            match kind {
                0 => match inner.text()? {
                    "name" => module.read_names(&mut inner, end)?,
                    "linking" => module.read_symbols(&mut inner, end)?,
                    "reloc.CODE" => module.pointers = whole..end,
                    _ => {}
                },
                2 => module.read_imports(&mut inner)?,
                10 => module.read_bodies(&mut inner)?,
                _ => {}
            }
            reader.at = end;
        }
        Ok(module)
    }

    fn read_imports(&mut self, reader: &mut Reader<'_>) -> Fallible<()> {
        for _ in 0..reader.number()? {
            reader.text()?;
            reader.text()?;
            if reader.import()? {
                self.imported += 1;
            }
        }
        Ok(())
    }

    fn read_bodies(&mut self, reader: &mut Reader<'_>) -> Fallible<()> {
        self.code = reader.at;
        for _ in 0..reader.number()? {
            let length = reader.number()?;
            self.bodies.push(reader.at..reader.at + length);
            reader.at += length;
        }
        Ok(())
    }

    fn read_names(&mut self, reader: &mut Reader<'_>, end: usize) -> Fallible<()> {
        while reader.at < end {
            let of_functions = reader.byte()? == 1;
            let length = reader.number()?;
            let next = reader.at + length;
            if of_functions {
                for _ in 0..reader.number()? {
                    let function = reader.number()?;
                    self.names.insert(function, reader.text()?.to_owned());
                }
            }
            reader.at = next;
        }
        Ok(())
    }

    fn read_symbols(&mut self, reader: &mut Reader<'_>, end: usize) -> Fallible<()> {
        const UNDEFINED: usize = 0x10;
        const NAMED: usize = 0x40;
        reader.number()?;
        while reader.at < end {
            let of_symbols = reader.byte()? == 8;
            let length = reader.number()?;
            let next = reader.at + length;
            if of_symbols {
                for symbol in 0..reader.number()? {
                    let kind = reader.byte()?;
                    let flags = reader.number()?;
                    let defined = flags & UNDEFINED == 0;
                    if kind == 1 {
                        reader.text()?;
                        for _ in 0..if defined { 3 } else { 0 } {
                            reader.number()?;
                        }
                        continue;
                    }
                    let index = reader.number()?;
                    if kind == 0 {
                        self.functions.insert(symbol, index);
                    }
                    if kind != 3 && (defined || flags & NAMED != 0) {
                        reader.text()?;
                    }
                }
            }
            reader.at = next;
        }
        Ok(())
    }
}

fn write_number(mut number: usize, out: &mut Vec<u8>) {
    while number > 0x7f {
        out.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

/// The section of pointers without those in emptied functions. What is called by name is struck from
/// those to be emptied; then, nothing is given and all has to be looked at once more.
fn pointers_left(
    bytes: &[u8],
    module: &Module,
    empty: &mut HashSet<usize>,
) -> Fallible<Option<Vec<u8>>> {
    let mut reader = Reader::new(bytes, module.pointers.start + 1);
    reader.number()?;
    let name = reader.text()?;
    let of_section = reader.number()?;
    let count = reader.number()?;
    let mut left = Vec::new();
    let mut kept = 0;
    let mut called = HashSet::new();
    for _ in 0..count {
        let from = reader.at;
        let kind = reader.byte()?;
        let place = module.code + reader.number()?;
        let symbol = reader.number()?;
        if matches!(kind, 3..=5 | 8 | 9 | 11 | 14..=17 | 21..=23 | 25) {
            reader.number()?;
        }
        let body = module.bodies.partition_point(|body| body.end <= place);
        let within = body + module.imported;
        if empty.contains(&within) {
            continue;
        }
        if kind == 0
            && let Some(function) = module.functions.get(&symbol)
            && empty.contains(function)
        {
            called.insert(*function);
        }
        left.extend_from_slice(&bytes[from..reader.at]);
        kept += 1;
    }
    if !called.is_empty() {
        empty.retain(|function| !called.contains(function));
        return Ok(None);
    }
    let mut inner = Vec::new();
    write_number(name.len(), &mut inner);
    inner.extend_from_slice(name.as_bytes());
    write_number(of_section, &mut inner);
    write_number(kept, &mut inner);
    inner.append(&mut left);
    let mut section = vec![0];
    write_number(inner.len(), &mut section);
    section.append(&mut inner);
    Ok(Some(section))
}

/// Empties all functions with a word in their names.
fn empty(word: &str, file: &str) -> Fallible<()> {
    let mut bytes = fs::read(file)?;
    let module = Module::read(&bytes)?;
    if module.pointers.is_empty() {
        return Err("the file was linked without --emit-relocs".into());
    }
    let bodies = (module.imported..).zip(&module.bodies);
    let mut emptied: HashSet<usize> = bodies
        .filter(|(function, body)| {
            let name = module.names.get(function);
            body.len() >= WORTH
                && name.is_some_and(|name| !name.starts_with(TOLD) && name.contains(word))
        })
        .map(|(function, _)| function)
        .collect();
    let pointers = loop {
        if let Some(pointers) = pointers_left(&bytes, &module, &mut emptied)? {
            break pointers;
        }
    };
    let mut taken = 0;
    for function in &emptied {
        let body = module.bodies[function - module.imported].clone();
        taken += body.len();
        let (last, rest) = bytes[body].split_last_mut().ok_or("a body is empty")?;
        // No variables, a trap, and nothing more.
        rest.fill(0x01);
        rest[..2].fill(0x00);
        *last = 0x0b;
    }
    bytes.splice(module.pointers.clone(), pointers);
    fs::write(file, bytes)?;
    println!(
        "Emptied {} functions of {taken} bytes: {word}",
        emptied.len()
    );
    Ok(())
}

/// Whether a name ends in a hash.
fn is_long(name: &str) -> bool {
    name.starts_with("__wbg_")
        && name.rsplit_once('_').is_some_and(|(_, hash)| {
            hash.len() == 16 && hash.bytes().all(|b| b.is_ascii_hexdigit())
        })
}

/// The script with other names, which stand in it as words of their own.
fn renamed(script: &str, names: &HashMap<String, String>) -> String {
    let in_word = |c: char| c == '_' || c.is_ascii_alphanumeric();
    let mut out = String::with_capacity(script.len());
    let mut rest = script;
    while let Some(start) = rest.find(in_word) {
        out.push_str(&rest[..start]);
        rest = &rest[start..];
        let end = rest.find(|c| !in_word(c)).unwrap_or(rest.len());
        let word = &rest[..end];
        out.push_str(names.get(word).map_or(word, String::as_str));
        rest = &rest[end..];
    }
    out.push_str(rest);
    out
}

/// Gives short names to what a wasm asks its script for.
fn shorten(wasm: &str, script: &str) -> Fallible<()> {
    let mut bytes = fs::read(wasm)?;
    let text = fs::read_to_string(script)?;
    let mut reader = Reader::new(&bytes, 8);
    let mut names = HashMap::new();
    while reader.at < bytes.len() {
        let whole = reader.at;
        let kind = reader.byte()?;
        let end = reader.number()? + reader.at;
        if kind != 2 {
            reader.at = end;
            continue;
        }
        let count = reader.number()?;
        let mut inner = Vec::new();
        write_number(count, &mut inner);
        for _ in 0..count {
            let from = reader.at;
            reader.text()?;
            inner.extend_from_slice(&bytes[from..reader.at]);
            let name = reader.text()?;
            let short = if is_long(name) {
                let short = format!("i{}", names.len());
                names.entry(name.to_owned()).or_insert(short).clone()
            } else {
                name.to_owned()
            };
            write_number(short.len(), &mut inner);
            inner.extend_from_slice(short.as_bytes());
            let from = reader.at;
            reader.import()?;
            inner.extend_from_slice(&bytes[from..reader.at]);
        }
        let mut section = vec![2];
        write_number(inner.len(), &mut section);
        section.append(&mut inner);
        bytes.splice(whole..end, section);
        break;
    }
    if names.keys().any(|name| !text.contains(name.as_str())) {
        return Err("the script does not have what the wasm asks for".into());
    }
    fs::write(script, renamed(&text, &names))?;
    fs::write(wasm, bytes)?;
    println!("Shortened {} names", names.len());
    Ok(())
}

fn main() -> Fallible<()> {
    let args: Vec<String> = env::args().collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    match args.as_slice() {
        [_, "empty", word, file] => empty(word, file),
        [_, "shorten", wasm, script] => shorten(wasm, script),
        _ => Err("snip empty NAME FILE, or snip shorten WASM SCRIPT".into()),
    }
}
