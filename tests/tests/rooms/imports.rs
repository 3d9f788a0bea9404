//! Which file of a crate uses names of which other, and the circles in that.

use std::collections::{BTreeMap, BTreeSet};

use crate::scan::{Token, tokens};

/// Files by their path below the crate's `src`.
pub(crate) type Sources = BTreeMap<String, String>;

/// A path of modules from the crate's root.
type Module = Vec<String>;

/// What stands in one module.
#[derive(Default)]
struct Contents {
    file: String,
    /// Names it defines.
    defines: BTreeSet<String>,
    /// Names it hands on, and the path each comes from.
    hands_on: BTreeMap<String, Module>,
    /// Modules of which it hands on everything.
    hands_all_on: Vec<Module>,
}

/// A path in the code: where it stands and where it leads, from the root.
struct Mention {
    from: Module,
    path: Module,
}

/// Every import of a crate: from file, to file, by which names.
pub(crate) struct Imports(BTreeMap<String, BTreeMap<String, BTreeSet<String>>>);

impl Imports {
    /// Reads the crate whose root is `lib.rs`, or `main.rs` beside it.
    pub(crate) fn of(sources: &Sources) -> Self {
        let mut reader = Reader {
            sources,
            modules: BTreeMap::new(),
            mentions: Vec::new(),
        };
        reader.file("lib.rs", Vec::new());
        reader.imports()
    }

    /// From which file to which, and by which names.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&str, &str, &BTreeSet<String>)> {
        self.0.iter().flat_map(|(from, targets)| {
            let to = targets.iter();
            to.map(move |(to, names)| (from.as_str(), to.as_str(), names))
        })
    }

    /// How many there are, file by file.
    pub(crate) fn count(&self) -> usize {
        self.0.values().map(BTreeMap::len).sum()
    }

    /// Files that lead back to themselves, each with all that it shares circles with.
    pub(crate) fn circles(&self) -> Vec<Vec<String>> {
        let reach: BTreeMap<&String, BTreeSet<&String>> =
            self.0.keys().map(|file| (file, self.reach(file))).collect();
        let back = |one: &String, other: &String| reach.get(one).is_some_and(|r| r.contains(other));
        let mut circles: Vec<Vec<String>> = Vec::new();
        for file in self.0.keys().filter(|file| back(file, file)) {
            if !circles.iter().flatten().any(|known| known == file) {
                let circle = self
                    .0
                    .keys()
                    .filter(|other| back(file, other) && back(other, file));
                circles.push(circle.cloned().collect());
            }
        }
        circles
    }

    /// All files that a file leads to.
    fn reach<'a>(&'a self, file: &'a String) -> BTreeSet<&'a String> {
        let mut found = BTreeSet::new();
        let mut open: Vec<&String> = vec![file];
        while let Some(here) = open.pop() {
            let next = self.0.get(here).into_iter().flat_map(BTreeMap::keys);
            open.extend(next.filter(|file| found.insert(*file)));
        }
        found
    }

    /// A circle and what ties it.
    pub(crate) fn tell(&self, folder: &str, circle: &[String]) -> String {
        let files: Vec<String> = circle
            .iter()
            .map(|file| format!("{folder}/{file}"))
            .collect();
        let mut told = files.join(", ") + "\n";
        for file in circle {
            for (other, names) in self.0.get(file).into_iter().flatten() {
                if circle.contains(other) {
                    let names: Vec<&str> = names.iter().map(String::as_str).collect();
                    let names = names.join(", ");
                    told += &[
                        "  ", folder, "/", file, " -> ", folder, "/", other, ": ", &names, "\n",
                    ]
                    .concat();
                }
            }
        }
        told
    }
}

struct Reader<'a> {
    sources: &'a Sources,
    modules: BTreeMap<Module, Contents>,
    mentions: Vec<Mention>,
}

impl Reader<'_> {
    /// Reads a file as a module, and the modules it declares.
    fn file(&mut self, file: &str, module: Module) {
        let Some(text) = self.sources.get(file) else {
            return;
        };
        let tokens = tokens(text);
        self.module(file, module, &tokens);
    }

    fn module(&mut self, file: &str, module: Module, tokens: &[Token]) {
        let mut contents = Contents {
            file: file.to_owned(),
            ..Contents::default()
        };
        let mut children = Vec::new();
        let mut at_path = None;
        let mut i = 0;
        while let Some(token) = tokens.get(i) {
            let (before, rest) = (
                i.checked_sub(1).and_then(|i| tokens.get(i)),
                &tokens[i + 1..],
            );
            match (token.word(), rest) {
                (Some("path"), [Token::Sign('='), Token::Text(path), ..]) => at_path = Some(path),
                (Some("mod"), [Token::Word(name), Token::Sign(';'), ..]) => {
                    children.push((name.clone(), at_path.take().cloned(), None));
                }
                (Some("mod"), [Token::Word(name), Token::Sign('{'), inner @ ..]) => {
                    let length = block(inner);
                    children.push((name.clone(), None, Some(&inner[..length])));
                    i += 3 + length;
                    continue;
                }
                (Some("use"), _) => {
                    let handed = before.is_some_and(|t| t.is(')') || t.word() == Some("pub"));
                    i += 1 + self.import(rest, &module, &mut contents, handed);
                    continue;
                }
                (Some(kind), [Token::Word(name), ..]) if DEFINING.contains(&kind) => {
                    contents.defines.insert(name.clone());
                }
                // not the reach of a visibility
                (Some(_), [Token::Path, ..])
                    if before != Some(&Token::Path)
                        && before.and_then(Token::word) != Some("in") =>
                {
                    let path = written(&tokens[i..]);
                    self.mention(&module, &path);
                }
                _ => {}
            }
            i += 1;
        }
        let (folder, name) = file.rsplit_once('/').map_or(("", file), |(f, n)| (f, n));
        let below = |name: &str| {
            [folder, name]
                .iter()
                .filter(|p| !p.is_empty())
                .copied()
                .collect::<Vec<_>>()
                .join("/")
        };
        let inner = match name {
            "lib.rs" | "main.rs" | "mod.rs" => folder.to_owned(),
            _ => below(name.trim_end_matches(".rs")),
        };
        self.modules.insert(module.clone(), contents);
        for (name, path, tokens) in children {
            let child = [&module[..], std::slice::from_ref(&name)].concat();
            // one of several for different features: the first stands for all
            if self.modules.contains_key(&child) {
                continue;
            }
            let within = |file: String| {
                if inner.is_empty() {
                    file
                } else {
                    format!("{inner}/{file}")
                }
            };
            match (tokens, path) {
                (Some(tokens), _) => self.module(file, child, tokens),
                (None, Some(path)) => self.file(&below(&path), child),
                (None, None) => {
                    let [beside, folder] =
                        [format!("{name}.rs"), format!("{name}/mod.rs")].map(within);
                    let file = if self.sources.contains_key(&beside) {
                        beside
                    } else {
                        folder
                    };
                    self.file(&file, child);
                }
            }
        }
    }

    /// Reads what follows `use`; tells how many tokens that is.
    fn import(
        &mut self,
        tokens: &[Token],
        module: &Module,
        contents: &mut Contents,
        handed: bool,
    ) -> usize {
        let end = tokens
            .iter()
            .position(|t| t.is(';'))
            .unwrap_or(tokens.len());
        let mut paths = Vec::new();
        tree(&tokens[..end], &[], &mut paths);
        for (path, name) in paths {
            let Some(absolute) = absolute(module, &path) else {
                continue;
            };
            if handed {
                if name == "*" {
                    contents.hands_all_on.push(absolute.clone());
                } else {
                    contents.hands_on.insert(name, absolute.clone());
                }
            }
            self.mentions.push(Mention {
                from: module.clone(),
                path: absolute,
            });
        }
        end
    }

    fn mention(&mut self, module: &Module, path: &[String]) {
        if let Some(path) = absolute(module, path) {
            self.mentions.push(Mention {
                from: module.clone(),
                path,
            });
        }
    }

    fn imports(&self) -> Imports {
        let mut imports: BTreeMap<String, BTreeMap<_, BTreeSet<_>>> = BTreeMap::new();
        for Mention { from, path } in &self.mentions {
            let Some((file, name)) = self.resolve(from, path, 0) else {
                continue;
            };
            let here = &self.modules[from].file;
            if file != *here {
                let names = imports
                    .entry(here.clone())
                    .or_default()
                    .entry(file)
                    .or_default();
                names.insert(name);
            }
        }
        Imports(imports)
    }

    /// The file that a path leads to, and the name that is taken from it.
    fn resolve(&self, from: &Module, path: &[String], depth: usize) -> Option<(String, String)> {
        let longest = (0..=path.len())
            .rev()
            .find(|n| self.modules.contains_key(&path[..*n]))?;
        let module = &path[..longest];
        let contents = &self.modules[module];
        let Some(name) = path.get(longest) else {
            return Some((
                contents.file.clone(),
                module.last().cloned().unwrap_or_default(),
            ));
        };
        let inside = from.starts_with(module);
        if !inside && depth < 8 && !contents.defines.contains(name) {
            if let Some(next) = contents.hands_on.get(name) {
                let next = [&next[..], &path[longest + 1..]].concat();
                return self.resolve(from, &next, depth + 1);
            }
            let all = contents.hands_all_on.iter().find(|all| self.has(all, name));
            if let Some(all) = all {
                let next = [&all[..], &path[longest..]].concat();
                return self.resolve(from, &next, depth + 1);
            }
        }
        Some((contents.file.clone(), name.clone()))
    }

    fn has(&self, module: &[String], name: &String) -> bool {
        let child = [module, std::slice::from_ref(name)].concat();
        self.modules.contains_key(&child)
            || self
                .modules
                .get(module)
                .is_some_and(|c| c.defines.contains(name) || c.hands_on.contains_key(name))
    }
}

const DEFINING: [&str; 8] = [
    "fn", "struct", "enum", "trait", "type", "const", "static", "union",
];

/// A path as it is written at the head of these tokens.
fn written(tokens: &[Token]) -> Vec<String> {
    let mut path = Vec::new();
    for pair in tokens.chunks(2) {
        match pair {
            [Token::Word(word), Token::Path] => path.push(word.clone()),
            [Token::Word(word), ..] => {
                path.push(word.clone());
                break;
            }
            _ => break,
        }
    }
    path
}

/// The same from the crate's root. What begins with none of the three words may be a module of this
/// one, or another crate.
fn absolute(module: &[String], path: &[String]) -> Option<Module> {
    let mut base = module.to_vec();
    let mut path = path;
    match path.first()?.as_str() {
        "crate" => {
            base.clear();
            path = &path[1..];
        }
        "self" => path = &path[1..],
        "super" => {
            while path.first().is_some_and(|word| word == "super") {
                base.pop()?;
                path = &path[1..];
            }
        }
        _ => {}
    }
    base.extend(path.iter().cloned());
    Some(base)
}

/// Every path of a `use`, and the name it is known by.
fn tree(tokens: &[Token], prefix: &[String], out: &mut Vec<(Vec<String>, String)>) {
    let mut path = prefix.to_vec();
    let mut known_by = None;
    let mut i = 0;
    while let Some(token) = tokens.get(i) {
        match token {
            Token::Sign('{') => {
                let inner = &tokens[i + 1..i + 1 + block(&tokens[i + 1..])];
                let mut depth = 0;
                let mut start = 0;
                for (at, token) in inner.iter().enumerate() {
                    match token {
                        Token::Sign('{') => depth += 1,
                        Token::Sign('}') => depth -= 1,
                        Token::Sign(',') if depth == 0 => {
                            tree(&inner[start..at], &path, out);
                            start = at + 1;
                        }
                        _ => {}
                    }
                }
                if start < inner.len() {
                    tree(&inner[start..], &path, out);
                }
                return;
            }
            Token::Sign('*') => known_by = Some("*".to_owned()),
            Token::Word(word) if word == "as" => {
                known_by = tokens.get(i + 1).and_then(Token::word).map(str::to_owned);
                break;
            }
            Token::Word(word) if word == "self" && !path.is_empty() => {}
            Token::Word(word) => path.push(word.clone()),
            _ => {}
        }
        i += 1;
    }
    if let Some(name) = known_by.or_else(|| path.last().cloned()) {
        out.push((path, name));
    }
}

/// How many tokens there are before the brace that closes a block whose opening one has been read.
fn block(tokens: &[Token]) -> usize {
    let mut depth = 1;
    for (i, token) in tokens.iter().enumerate() {
        match token {
            Token::Sign('{') => depth += 1,
            Token::Sign('}') => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return i;
        }
    }
    tokens.len()
}
