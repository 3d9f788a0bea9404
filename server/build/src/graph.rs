//! Which functions and data of a linked wasm reach which, from what the linker recorded (`--emit-relocs`).
//!
//! Pure: reads one module. Must not know which functions are to be emptied.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use anyhow::{Context, Result, ensure};
use wasmparser::{
    CustomSectionReader, DataKind, ExternalKind, KnownCustom, Linking, Name, Operator, Parser,
    Payload, RelocationEntry, RelocationType, SymbolFlags, SymbolInfo, TypeRef,
};

/// A function by its number, or a piece of data by its number among the symbols.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Node {
    /// A function.
    Function(u32),
    /// A piece of data.
    Data(usize),
}

/// A mention of one thing in another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Edge {
    /// Where it is mentioned; nothing where that belongs to no piece of data known by name.
    pub from: Option<Node>,
    /// What is mentioned.
    pub to: Node,
    /// Whether the address is taken, and not the thing called.
    pub pointer: bool,
}

/// What is reached, with who mentions it.
pub type Reached = BTreeMap<Node, Option<Node>>;

/// What of a module is looked at. Places are counted from the beginning of the file.
#[derive(Debug, Default)]
pub struct Graph {
    imported: u32,
    code: usize,
    bodies: Vec<Range<usize>>,
    sections: Vec<Range<usize>>,
    names: Vec<String>,
    exported: BTreeSet<u32>,
    edges: Vec<Edge>,
    roots: BTreeSet<Node>,
    read_only_end: i32,
}

/// What the linker calls the segment of read-only data.
const READ_ONLY: &str = ".rodata";

/// A piece of data: where it lies in the file.
#[derive(Debug, Clone)]
struct CodePiece {
    symbol: usize,
    place: Range<usize>,
}

/// All of them by their beginnings, and the length of the longest.
#[derive(Debug, Default)]
struct Pieces {
    sorted: Vec<CodePiece>,
    longest: usize,
}

/// What the sections of a module say, before it is put together.
#[derive(Debug, Default)]
struct Sections {
    data: usize,
    segments: Vec<Range<usize>>,
    /// The address of the first byte behind each segment.
    ends: Vec<i32>,
    symbols: Vec<Option<Node>>,
    pieces: Vec<CodePiece>,
    of_code: Vec<RelocationEntry>,
    of_data: Vec<RelocationEntry>,
}

impl Graph {
    /// Reads a linked module.
    ///
    /// # Errors
    /// When it is none, or the linker recorded nothing.
    pub fn read(wasm: &[u8]) -> Result<Self> {
        let mut graph = Self::default();
        let mut sections = Sections::default();
        let mut end = 8;
        for payload in Parser::new(0).parse_all(wasm) {
            let payload = payload?;
            if let Some((_, range)) = payload.as_section() {
                // From the end of the one before, so that the section's own head is in it.
                graph.sections.push(end..usize::try_from(range.end)?);
                end = usize::try_from(range.end)?;
            }
            if let Payload::CustomSection(section) = payload {
                graph.read_custom(&section, &mut sections)?;
            } else {
                graph.read_section(payload, &mut sections)?;
            }
        }
        ensure!(
            !sections.of_code.is_empty() && !sections.symbols.is_empty(),
            "the wasm was linked without --emit-relocs"
        );
        graph.connect(sections)?;
        Ok(graph)
    }

    fn read_section(&mut self, payload: Payload<'_>, sections: &mut Sections) -> Result<()> {
        match payload {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    if matches!(import?.ty, TypeRef::Func(_) | TypeRef::FuncExact(_)) {
                        self.imported += 1;
                    }
                }
            }
            Payload::ExportSection(exports) => {
                for export in exports {
                    let export = export?;
                    if export.kind == ExternalKind::Func {
                        self.exported.insert(export.index);
                    }
                }
            }
            Payload::StartSection { func, .. } => {
                self.exported.insert(func);
            }
            Payload::CodeSectionStart { range, .. } => self.code = usize::try_from(range.start)?,
            Payload::CodeSectionEntry(body) => {
                let range = body.range();
                let body = usize::try_from(range.start)?..usize::try_from(range.end)?;
                self.bodies.push(body);
            }
            Payload::DataSection(section) => {
                sections.data = usize::try_from(section.range().start)?;
                for segment in section {
                    let segment = segment?;
                    let end = usize::try_from(segment.range.end)?;
                    sections.segments.push(end - segment.data.len()..end);
                    if let DataKind::Active { offset_expr, .. } = &segment.kind
                        && let Operator::I32Const { value } =
                            offset_expr.get_operators_reader().read()?
                    {
                        sections
                            .ends
                            .push(value.saturating_add(i32::try_from(segment.data.len())?));
                    }
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn read_custom(
        &mut self,
        section: &CustomSectionReader<'_>,
        sections: &mut Sections,
    ) -> Result<()> {
        match section.as_known() {
            KnownCustom::Name(names) => {
                for name in names {
                    match name? {
                        Name::Function(functions) => {
                            for naming in functions {
                                let naming = naming?;
                                self.set_name(naming.index, naming.name);
                            }
                        }
                        Name::Data(segments) => {
                            for naming in segments {
                                let naming = naming?;
                                if naming.name == READ_ONLY {
                                    let end = sections.ends.get(naming.index as usize);
                                    self.read_only_end = end.copied().unwrap_or_default();
                                }
                            }
                        }
                        _ => {}
                    }
                }
            }
            KnownCustom::Linking(linking) => {
                for part in linking {
                    if let Linking::SymbolTable(table) = part? {
                        for symbol in table {
                            self.read_symbol(&symbol?, sections)?;
                        }
                    }
                }
            }
            KnownCustom::Reloc(records) => {
                let into = match section.name() {
                    "reloc.CODE" => &mut sections.of_code,
                    "reloc.DATA" => &mut sections.of_data,
                    _ => return Ok(()),
                };
                for record in records.entries() {
                    into.push(record?);
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// Puts together who mentions whom.
    fn connect(&mut self, sections: Sections) -> Result<()> {
        let mut sorted = sections.pieces;
        sorted.sort_by_key(|piece| piece.place.start);
        let longest = sorted.iter().map(|piece| piece.place.len()).max();
        let pieces = Pieces {
            sorted,
            longest: longest.unwrap_or_default(),
        };
        for record in &sections.of_code {
            let function = self.function_at(u64::from(record.offset));
            let function = function.context("a record of the linker belongs to no function")?;
            let from = Some(Node::Function(function));
            self.add(from, record, &sections.symbols, &pieces);
        }
        for record in &sections.of_data {
            let place = sections.data + usize::try_from(record.offset)?;
            let around = pieces.at(place..place + 1);
            if around.is_empty() {
                self.add(None, record, &sections.symbols, &pieces);
            }
            for piece in around {
                self.add(Some(Node::Data(piece)), record, &sections.symbols, &pieces);
            }
        }
        // Whoever has a piece has what overlaps it.
        for piece in &pieces.sorted {
            for other in pieces.at(piece.place.clone()) {
                self.edges.push(Edge {
                    from: Some(Node::Data(piece.symbol)),
                    to: Node::Data(other),
                    pointer: true,
                });
            }
        }
        Ok(())
    }

    fn set_name(&mut self, function: u32, name: &str) {
        let index = function as usize;
        if self.names.len() <= index {
            self.names.resize(index + 1, String::new());
        }
        name.clone_into(&mut self.names[index]);
    }

    fn read_symbol(&mut self, symbol: &SymbolInfo<'_>, sections: &mut Sections) -> Result<()> {
        let kept = SymbolFlags::EXPORTED | SymbolFlags::NO_STRIP;
        let number = sections.symbols.len();
        let (node, flags) = match symbol {
            SymbolInfo::Func { flags, index, .. } => (Node::Function(*index), flags),
            SymbolInfo::Data { flags, symbol, .. } => {
                if let Some(defined) = symbol
                    // What begins as zeroes has no place in the file, and mentions nothing.
                    && let Some(segment) = sections.segments.get(defined.index as usize)
                {
                    let start = segment.start + usize::try_from(defined.offset)?;
                    let end = start + usize::try_from(defined.size)?;
                    sections.pieces.push(CodePiece {
                        symbol: number,
                        place: start..end,
                    });
                }
                (Node::Data(number), flags)
            }
            _ => {
                sections.symbols.push(None);
                return Ok(());
            }
        };
        if flags.intersects(kept) {
            self.roots.insert(node);
        }
        sections.symbols.push(Some(node));
        Ok(())
    }

    fn add(
        &mut self,
        from: Option<Node>,
        record: &RelocationEntry,
        symbols: &[Option<Node>],
        pieces: &Pieces,
    ) {
        if record.ty == RelocationType::TypeIndexLeb {
            return;
        }
        let Some(Some(to)) = symbols.get(record.index as usize) else {
            return;
        };
        let mut add = |to| {
            self.edges.push(Edge {
                from,
                to,
                pointer: record.ty != RelocationType::FunctionIndexLeb,
            });
        };
        add(*to);
        // An address with something added may lie in another piece.
        if let Node::Data(symbol) = to
            && record.addend != 0
            && let Some(piece) = pieces.sorted.iter().find(|piece| piece.symbol == *symbol)
            && let Ok(added) = isize::try_from(record.addend)
        {
            let place = piece.place.start.saturating_add_signed(added);
            if !piece.place.contains(&place) {
                pieces
                    .at(place..place + 1)
                    .into_iter()
                    .map(Node::Data)
                    .for_each(add);
            }
        }
    }

    /// The function that a place in the code belongs to; the place is counted as the linker does.
    pub fn function_at(&self, offset: u64) -> Option<u32> {
        let place = self.code + usize::try_from(offset).ok()?;
        let body = self.bodies.partition_point(|body| body.end <= place);
        self.bodies.get(body).filter(|body| body.contains(&place))?;
        Some(self.imported + u32::try_from(body).ok()?)
    }

    /// Where a function's body lies in the file; an imported one has none.
    pub fn body(&self, function: u32) -> Option<Range<usize>> {
        let index = function.checked_sub(self.imported)?;
        self.bodies.get(index as usize).cloned()
    }

    /// A whole section, with its head, by a place within it.
    ///
    /// # Errors
    /// When no section is there.
    pub fn section_around(&self, place: usize) -> Result<Range<usize>> {
        let found = self
            .sections
            .iter()
            .find(|section| section.contains(&place));
        found.cloned().context("there is no such section")
    }

    /// Whether a function is one that the module asks for.
    pub fn is_imported(&self, function: u32) -> bool {
        function < self.imported
    }

    /// The linker's name of a function.
    pub fn name(&self, function: u32) -> &str {
        self.names.get(function as usize).map_or("", String::as_str)
    }

    /// The functions whose names have a word in them. What wasm-bindgen runs itself, and then takes away,
    /// is left out.
    pub fn named<'a>(&'a self, word: &'a str) -> impl Iterator<Item = u32> + 'a {
        (0..).zip(&self.names).filter_map(move |(function, name)| {
            (name.contains(word) && !name.starts_with("__wbindgen_describe")).then_some(function)
        })
    }

    /// The names of the functions whose address is taken somewhere, so that they may be called through it.
    pub fn pointed(&self) -> BTreeSet<String> {
        let functions = self.edges.iter().filter_map(|edge| match edge.to {
            Node::Function(function) if edge.pointer => Some(function),
            _ => None,
        });
        functions
            .map(|function| self.name(function).to_owned())
            .collect()
    }

    /// The address behind the read-only data; 0 where the linker did not say which that is.
    pub fn read_only_end(&self) -> i32 {
        self.read_only_end
    }

    /// The names of the functions on the way to one that is reached, the last one first.
    pub fn way(&self, reached: &Reached, function: u32) -> Vec<&str> {
        let mut names = Vec::new();
        let mut next = Some(Node::Function(function));
        while let Some(node) = next {
            if let Node::Function(function) = node {
                names.push(self.name(function));
            }
            next = reached.get(&node).copied().flatten();
        }
        names
    }

    /// Everything that can be reached from outside, if some mentions and some ways in are not counted; with
    /// each, what mentions it, or nothing where it is reached directly.
    pub fn reached(&self, cut: impl Fn(&Edge) -> bool, closed: &BTreeSet<u32>) -> Reached {
        let mut edges: Vec<&Edge> = self.edges.iter().filter(|edge| !cut(edge)).collect();
        edges.sort_by_key(|edge| edge.from);
        let exported = self.exported.iter().copied().map(Node::Function);
        let roots = self.roots.iter().copied().chain(exported);
        let open = roots.filter(|root| match root {
            Node::Function(function) => !closed.contains(function),
            Node::Data(_) => true,
        });
        let mut reached: Reached = open.map(|root| (root, None)).collect();
        let mut waiting: Vec<Option<Node>> = reached.keys().copied().map(Some).collect();
        waiting.push(None);
        while let Some(from) = waiting.pop() {
            let first = edges.partition_point(|edge| edge.from < from);
            for edge in edges[first..].iter().take_while(|edge| edge.from == from) {
                if let Entry::Vacant(place) = reached.entry(edge.to) {
                    place.insert(from);
                    waiting.push(Some(edge.to));
                }
            }
        }
        reached
    }
}

impl Pieces {
    /// The symbols of the pieces that have a place in common with a range.
    fn at(&self, range: Range<usize>) -> Vec<usize> {
        let begin = |piece: &CodePiece| piece.place.start + self.longest < range.start;
        let first = self.sorted.partition_point(begin);
        self.sorted[first..]
            .iter()
            .take_while(|piece| piece.place.start < range.end)
            .filter(|piece| piece.place.end > range.start)
            .map(|piece| piece.symbol)
            .collect()
    }
}
